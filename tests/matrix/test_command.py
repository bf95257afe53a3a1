"""`yardhand matrix` as its user starts and stops it."""
from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.matrix.looks import answers

ROOT = str(Path(__file__).parents[2])
FILE = """\
[matrix]
homeserver = "{url}"
user = "@{name}:kitchen.test"
people = ["@mara:kitchen.test"]
data = "kept"

[school]
zone = "Europe/London"
"""


def start(folder, **environment):
    command = [sys.executable, "-m", "bot.cli", "matrix", "--config", folder / "yardhand.toml", "--verbose"]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                            env={**os.environ, "PYTHONPATH": ROOT, **environment})


@pytest.mark.slow
def test_it_logs_in_once_stops_within_five_seconds_and_tells_no_secret(synapse, account, mara, tmp_path):
    """The real engine, the real command: password at the first start, the kept login at the second."""
    (tmp_path / "yardhand.toml").write_text(FILE.format(url=synapse.url, name=account))
    room = mara.room(f"@{account}:kitchen.test")
    told = []
    for environment in ({"YARDHAND_PASSWORD": account}, {}):
        process = start(tmp_path, **environment)
        mara.joined(room, f"@{account}:kitchen.test", 60)
        asked = mara.say(room, "what can I say?")
        assert "floor 180 air 170" in mara.until(room, answers(asked), 60).body
        begun = time.monotonic()
        process.send_signal(signal.SIGTERM)
        told.append(process.communicate(timeout=20)[0])
        assert time.monotonic() - begun < 5.0
        assert process.returncode == 0, told
    login = json.loads((tmp_path / "kept" / "matrix-login.json").read_text())
    for text in told:
        assert "yardhand has stopped" in text
        assert login["access_token"] not in text
        assert login["pickle_key"] not in text
        assert "Traceback" not in text
    for path in [tmp_path / "kept", *(tmp_path / "kept").rglob("*")]:
        assert path.stat().st_mode & 0o077 == 0, path
    devices = synapse.call("GET", f"/_synapse/admin/v2/users/@{account}:kitchen.test/devices", token=_admin(synapse))
    assert [each["device_id"] for each in devices["devices"]] == [login["device_id"]]
    for path in (tmp_path / "kept" / "keys").iterdir():
        path.unlink()
    process = start(tmp_path, YARDHAND_PASSWORD="")
    assert "start again as a new device" in process.communicate(timeout=60)[0]
    assert process.returncode == 2


def _admin(synapse):
    return synapse.call("POST", "/_matrix/client/v3/login", {
        "type": "m.login.password", "identifier": {"type": "m.id.user", "user": "head"}, "password": "head"})[
            "access_token"]


@pytest.mark.parametrize(("change", "says"), [
    (("{name}", "{name}!"), "password"),
    (("people = ", "poeple = "), "yardhand.toml:4: nothing is called matrix.poeple; did you mean 'people'?"),
    (("Europe/London", "Europe/Lundon"), "yardhand.toml:8: school.zone: no time zone is called 'Europe/Lundon'"),
])
def test_what_cannot_be_used_is_one_line_that_says_what_to_do(synapse, account, tmp_path, change, says):
    text = FILE.replace(*change).format(url=synapse.url, name=account)
    (tmp_path / "yardhand.toml").write_text(text)
    process = start(tmp_path, YARDHAND_PASSWORD="wrong")
    told = process.communicate(timeout=60)[0]
    assert process.returncode == 2
    assert says in told
    assert "Traceback" not in told


def test_without_a_login_and_without_a_password_it_asks_for_one(synapse, account, tmp_path):
    (tmp_path / "yardhand.toml").write_text(FILE.format(url=synapse.url, name=account))
    process = start(tmp_path, YARDHAND_PASSWORD="")
    told = process.communicate(timeout=60)[0]
    assert process.returncode == 2
    assert "set YARDHAND_PASSWORD for the first start" in told
