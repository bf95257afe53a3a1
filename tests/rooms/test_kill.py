"""A room that is killed at any moment loses nothing and says nothing twice.

The driver hears a transcript in forked children; see kill_driver.py. "The same" is the log of a run that nobody broke.
"""
from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from kill_driver import kept

HERE = Path(__file__).parent
ENV = os.environ | {"PYTHONPATH": str(HERE.parents[1])}
KEPT = ("log", "unanswered", "undelivered", "classes", "learnt")

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")


def drive(mode, folder):
    done = subprocess.run([sys.executable, HERE / "kill_driver.py", mode, folder], env=ENV, check=True,
                          capture_output=True, text=True, timeout=300)
    return json.loads(done.stdout)


def assert_same(broken, whole):
    for part in KEPT:
        assert broken[part] == whole[part], part
    assert len(set(broken["printed"])) == len(broken["printed"]), "said twice"
    # Words are marked before they are said: those of one moment may be missing from the screen, where a restart shows
    # them from the log; those of any other moment may not.
    assert set(broken["printed"]) <= set(whole["printed"])
    return len(whole["printed"]) - len(broken["printed"])


@pytest.mark.slow
def test_killed_at_every_checkpoint_the_log_is_that_of_an_unbroken_run(tmp_path):
    told = drive("points", tmp_path)
    assert len(told["broken"]) >= 100
    assert len(told["whole"]["log"]) == 15
    unseen = [assert_same(each, told["whole"]) for each in told["broken"]]
    assert max(unseen) <= 2


@pytest.mark.slow
def test_killed_on_the_real_engine_the_log_is_that_of_an_unbroken_run(tmp_path):
    told = drive("real", tmp_path)
    assert len(told["broken"]) == 6
    assert any("Prompted" in line for line in told["whole"]["log"]), "a prompt falls into it"
    for each in told["broken"]:
        assert_same(each, told["whole"])


@pytest.mark.slow
def test_killed_again_and_again_the_log_is_that_of_an_unbroken_run(tmp_path):
    told = drive("shaken", tmp_path)
    assert sum(each["kills"] for each in told["broken"]) >= 50
    for each in told["broken"]:
        assert_same(each, told["whole"])


def life(folder, at_most_s=None):
    """One process at work, killed from outside after a time; how long it worked [s], None if it was killed."""
    command = [sys.executable, HERE / "kill_driver.py", "one", folder]
    process = subprocess.Popen(command, env=ENV, stdout=subprocess.PIPE)
    with process:
        assert process.stdout.readline() == b"at work\n"
        begun = time.monotonic()
        try:
            assert process.wait(60 if at_most_s is None else at_most_s) == 0
        except subprocess.TimeoutExpired:
            process.send_signal(signal.SIGKILL)
            return None
    return time.monotonic() - begun


@pytest.mark.slow
def test_a_process_killed_at_random_times_leaves_the_log_of_an_unbroken_run(tmp_path):
    """Not only at the places that we thought of: the kill comes from outside, whenever."""
    work_s = life(tmp_path / "whole")
    whole = kept(tmp_path / "whole")
    chance = random.Random(3)
    kills = 0
    for n in range(5):
        folder = tmp_path / f"random{n}"
        kills += sum(life(folder, chance.uniform(0, 0.6 * work_s)) is None for _ in range(3))
        life(folder)
        assert_same(kept(folder), whole)
    assert kills >= 5
