"""A real Synapse on loopback for the tests, run as a process of its own (nothing of it is imported)."""
from __future__ import annotations

import hashlib
import hmac
import json
import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

NAME = "kitchen.test"
SECRET = "test-only"
OPEN = {"per_second": 10000, "burst_count": 10000}


def configuration(port: int, limited: bool) -> str:
    """The smallest file that boots, with every limit lifted (or the server's own limit of messages kept)."""
    limits = {
        "rc_room_creation": OPEN, "rc_login": {"address": OPEN, "account": OPEN, "failed_attempts": OPEN},
        "rc_joins": {"local": OPEN, "remote": OPEN},
        "rc_invites": {"per_room": OPEN, "per_user": OPEN, "per_issuer": OPEN}, "rc_media_create": OPEN,
        **({} if limited else {"rc_message": OPEN})}
    whole = {
        "server_name": NAME, "public_baseurl": f"http://127.0.0.1:{port}/", "report_stats": False,
        "signing_key_path": "signing.key", "media_store_path": "media",
        "listeners": [{"port": port, "type": "http", "bind_addresses": ["127.0.0.1"],
                       "resources": [{"names": ["client"], "compress": False}]}],
        "database": {"name": "sqlite3", "args": {"database": "hs.db"}},
        "registration_shared_secret": SECRET, "macaroon_secret_key": SECRET, "form_secret": SECRET,
        "trusted_key_servers": [], "federation_domain_whitelist": [], "presence": {"enabled": False},
        "bcrypt_rounds": 4, "caches": {"sync_response_cache_duration": 0}, **limits}
    # YAML 1.2 holds all of JSON.
    return json.dumps(whole, indent=1)


class Synapse:
    """Started once; may be stopped and started again on the same folder."""

    def __init__(self, folder: Path, *, limited: bool = False) -> None:
        self.folder = folder
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.url = f"http://127.0.0.1:{self.port}"
        (folder / "homeserver.yaml").write_text(configuration(self.port, limited))
        self._process: subprocess.Popen[bytes] | None = None
        self._run("--generate-keys").wait(60)

    def _run(self, *more: str) -> subprocess.Popen[bytes]:
        with (self.folder / "output.txt").open("ab") as out:
            return subprocess.Popen([sys.executable, "-m", "synapse.app.homeserver", "-c", "homeserver.yaml", *more],
                                    cwd=self.folder, stdout=out, stderr=out, env={**os.environ, "PYTHONPATH": ""})

    def start(self) -> None:
        self._process = self._run()
        until = time.monotonic() + 30
        while time.monotonic() < until:
            if self._process.poll() is not None:
                break
            try:
                with urllib.request.urlopen(f"{self.url}/health", timeout=5):
                    return
            except OSError:
                time.sleep(0.05)
        raise AssertionError("Synapse did not start:\n" + (self.folder / "output.txt").read_text()[-3000:])

    def stop(self) -> None:
        if self._process is not None:
            self._process.terminate()
            self._process.wait(20)
            self._process = None

    def user(self, name: str, *, admin: bool = False) -> str:
        """Register; the user's id. The password is the name."""
        path = "/_synapse/admin/v1/register"
        nonce = self.call("GET", path)["nonce"]
        parts = (nonce, name, name, "admin" if admin else "notadmin")
        mac = hmac.new(SECRET.encode(), b"\x00".join(part.encode() for part in parts), hashlib.sha1).hexdigest()
        made = self.call("POST", path, {"nonce": nonce, "username": name, "password": name, "admin": admin, "mac": mac,
                                        "inhibit_login": True})
        return str(made["user_id"])

    def call(self, method: str, path: str, body: object = None, token: str | None = None) -> dict:
        request = urllib.request.Request(self.url + path, method=method,
                                         data=None if body is None else json.dumps(body).encode())
        request.add_header("Content-Type", "application/json")
        if token is not None:
            request.add_header("Authorization", f"Bearer {token}")
        try:
            with urllib.request.urlopen(request, timeout=30) as answer:
                return json.loads(answer.read())
        except urllib.error.HTTPError as error:
            return json.loads(error.read())
