"""The data file: what it refuses, who may read it, and that what is kept comes back as it was."""
from __future__ import annotations

import os
import sqlite3
import stat
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from sqlite_utils import Database

from bot.migrations import STEPS
from bot.store import APPLICATION_ID, FILE_NAME, Store, StoreError
from bot.talk import Action, Answer, Message, Prompted, School
from skills.vocabulary import Eta, Heard, Reading

LONDON = ZoneInfo("Europe/London")
NOON = datetime(2026, 5, 16, 12, tzinfo=LONDON)


@pytest.fixture
def store(tmp_path):
    opened = Store.open(tmp_path / "data")
    yield opened
    opened.close()


def message(n, text="floor 180", **more):
    return Message(f"m{n}", NOON + timedelta(minutes=n), "Mara", text, **more)


def action(n, kind="reply", **more):
    return Action(f"c/{n}", kind, NOON + timedelta(minutes=n), "c", f"words {n}", **more)


def answered(store, n, *actions, room="yard", class_id="c", **more):
    store.take(room, message(n), NOON)
    answer = Answer(message(n), class_id, Heard(facts=(Reading(place="floor", celsius=180.5),), questions=(Eta(),)),
                    actions, None, {"prior": {"ovens": {"dome": {"loss": 0.1}}}})
    store.answer(room, answer, **more)
    return answer


def test_folder_and_file_are_the_owners_alone(tmp_path):
    Store.open(tmp_path / "new" / "data").close()
    assert stat.S_IMODE((tmp_path / "new" / "data").stat().st_mode) == 0o700
    assert stat.S_IMODE((tmp_path / "new" / "data" / FILE_NAME).stat().st_mode) == 0o600


def test_every_file_beside_the_data_file_is_the_owners_alone(store):
    answered(store, 1)
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in store.path.parent.iterdir()}
    assert f"{FILE_NAME}-wal" in modes
    assert set(modes.values()) == {0o600}


def test_a_data_file_that_others_may_read_is_closed_to_them_when_opened(tmp_path):
    Store.open(tmp_path).close()
    (tmp_path / FILE_NAME).chmod(0o644)
    Store.open(tmp_path).close()
    assert stat.S_IMODE((tmp_path / FILE_NAME).stat().st_mode) == 0o600


def test_writes_wait_for_the_disk(store):
    """SQLite documentation, PRAGMA synchronous: 2 is FULL; journal_mode: wal."""
    assert store._db.execute("PRAGMA synchronous").fetchone()[0] == 2
    assert store._db.execute("PRAGMA journal_mode").fetchone()[0] == "wal"


def test_the_file_says_in_its_header_that_it_is_ours(tmp_path):
    """SQLite documentation, database file format: the application id is the big-endian number at offset 68."""
    Store.open(tmp_path).close()
    header = (tmp_path / FILE_NAME).read_bytes()[:100]
    assert header[68:72] == b"YDHD" == APPLICATION_ID.to_bytes(4, "big")


def test_a_database_of_another_program_is_refused_and_left_as_it_was(tmp_path):
    connection = sqlite3.connect(tmp_path / FILE_NAME)
    connection.execute("CREATE TABLE guests (name TEXT)")
    connection.commit()
    connection.close()
    before = (tmp_path / FILE_NAME).read_bytes()
    with pytest.raises(StoreError, match=r"belongs to another program.*--data"):
        Store.open(tmp_path)
    assert (tmp_path / FILE_NAME).read_bytes() == before


def test_a_database_with_another_programs_mark_is_refused(tmp_path):
    connection = sqlite3.connect(tmp_path / FILE_NAME)
    connection.execute("PRAGMA application_id = 252006673")
    connection.close()
    with pytest.raises(StoreError, match="belongs to another program"):
        Store.open(tmp_path)


@pytest.mark.parametrize("content", [b"not a database at all, only some words " * 40, b"\0" * 4096])
def test_a_file_that_is_no_database_is_refused_and_left_as_it_was(tmp_path, content):
    (tmp_path / FILE_NAME).write_bytes(content)
    with pytest.raises(StoreError, match=r"not a Yardhand data file.*--data"):
        Store.open(tmp_path)
    assert (tmp_path / FILE_NAME).read_bytes() == content


def test_a_file_of_a_newer_version_is_refused_and_left_as_it_was(tmp_path):
    Store.open(tmp_path).close()
    connection = sqlite3.connect(tmp_path / FILE_NAME)
    connection.execute("INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES "
                       "('yardhand', '99 from tomorrow', '2030-01-01')")
    connection.commit()
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    before = (tmp_path / FILE_NAME).read_bytes()
    with pytest.raises(StoreError, match=r"newer Yardhand.*99 from tomorrow.*update"):
        Store.open(tmp_path)
    assert (tmp_path / FILE_NAME).read_bytes() == before


def test_the_steps_that_made_the_file_are_written_in_it(store):
    assert [step.name for step in STEPS.applied(store._db)] == [
        step.name for step in STEPS.pending(Database(memory=True))]


def test_a_step_that_fails_leaves_nothing_of_itself(tmp_path, monkeypatch):
    """The half-made tables and the record of the step go together."""
    def fail(db):
        tried.append(1)
        db.execute("CREATE TABLE half (x)")
        raise sqlite3.OperationalError("disk full")

    tried = []
    step = STEPS._Migration("1 first tables", fail)
    with monkeypatch.context() as patch:
        patch.setattr(STEPS, "_migrations", [step])
        with pytest.raises(StoreError, match="disk full"):
            Store.open(tmp_path)
    assert tried
    raw = Database(str(tmp_path / FILE_NAME))
    assert "half" not in raw.table_names()
    assert STEPS.applied(raw) == []
    raw.close()
    with_all = Store.open(tmp_path)
    assert with_all.classes() == []
    with_all.close()


def test_a_file_whose_making_was_cut_short_is_still_ours(tmp_path):
    connection = sqlite3.connect(tmp_path / FILE_NAME)
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.close()
    Store.open(tmp_path).close()


def test_a_second_room_on_one_folder_is_refused_while_the_first_is_open(store):
    with pytest.raises(StoreError, match="another Yardhand room is open"):
        Store.open(store.path.parent)
    beside = Store.open(store.path.parent, shared=True)
    assert beside.classes() == []
    beside.close()


def test_looking_at_a_folder_without_data_makes_nothing(tmp_path):
    with pytest.raises(StoreError, match="no class is kept"):
        Store.open(tmp_path / "none", shared=True)
    assert not (tmp_path / "none").exists()


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_cannot_be_written_is_refused_in_one_line(tmp_path):
    tmp_path.chmod(0o500)
    with pytest.raises(StoreError, match="Permission denied"):
        Store.open(tmp_path / "data")


def test_a_message_is_taken_once(store):
    assert store.take("yard", message(1), NOON)
    assert not store.take("yard", message(1, "other words"), NOON)
    assert store.take("shed", message(1), NOON), "ids belong to a room"
    assert store.unanswered("yard") == [message(1)]


def test_the_log_comes_back_as_it_was_kept(store):
    first = answered(store, 1, action(1, to="m1", data={"told": {"lamb": {"mid": 0.1 + 0.2}}, "key": "é"}),
                     action(2, "tick", to="m1"))
    prompted = Prompted(NOON + timedelta(minutes=3), (action(3, "prompt", prompt="refuel", oven="barrel", who="Tomos"),
                                                     action(4, "prompt", prompt="liquid", dish="lamb")))
    store.prompt("yard", prompted)
    edit = message(5, "floor 210", replaces="m1", reply_to="m1")
    store.take("yard", edit, NOON)
    store.answer("yard", Answer(edit, "c", Heard()))
    assert store.log("yard") == [first, prompted, Answer(edit, "c", Heard())]


def test_the_log_is_in_the_order_of_hearing_not_of_arrival(store):
    store.take("yard", message(1), NOON)
    store.take("yard", message(2), NOON)
    store.answer("yard", Answer(message(2), "c", Heard()))
    store.answer("yard", Answer(message(1), "c", Heard()))
    assert [line.message.id for line in store.log("yard")] == ["m2", "m1"]


def test_times_come_back_in_the_rooms_zone(store):
    store.set_school("yard", School(zone="Australia/Hobart"))
    sent = Message("m1", datetime(2026, 5, 16, 2, tzinfo=UTC), "Mara", "hello")
    store.take("yard", sent, NOON)
    (back,) = store.unanswered("yard")
    assert back.at == sent.at
    assert back.at.isoformat() == "2026-05-16T12:00:00+10:00"


def test_words_are_undelivered_till_they_are_marked(store):
    answered(store, 1, action(1), action(2))
    assert [each.id for each in store.undelivered("yard")] == ["c/1", "c/2"]
    store.delivered("yard", ["c/1"])
    assert [each.id for each in store.undelivered("yard")] == ["c/2"]


def test_two_rooms_may_give_a_class_the_same_name(store):
    answered(store, 1, room="yard", title="One")
    answered(store, 1, room="shed", title="Other")
    classes = store.classes()
    assert len({each.id for each in classes}) == 2
    assert {(each.room, each.given, each.title, each.messages) for each in classes} == {
        ("yard", "c", "One", 1), ("shed", "c", "Other", 1)}
    assert [line.class_id for each in classes for line in store.log(each.room, each.id)] == ["c", "c"]


def test_the_log_of_a_class_leaves_other_classes_out(store):
    answered(store, 1, class_id="c")
    other = answered(store, 2, class_id="d")
    assert store.log("yard", "d") == [other]


def test_a_failure_inside_a_write_leaves_nothing_of_it(store):
    answered(store, 1, action(1))
    store.take("yard", message(2), NOON)
    with pytest.raises(ValueError, match="c/1 of room yard are kept already"):
        store.answer("yard", Answer(message(2), "e", Heard(), (action(2), action(1))), title="new")
    assert [each.id for each in store.unanswered("yard")] == ["m2"]
    assert [each.given for each in store.classes()] == ["c"]
    assert [each.id for each in store.undelivered("yard")] == ["c/1"]


def test_the_newest_of_what_was_learnt_counts_and_the_older_stays_in_the_file(store):
    store.save_learnt("yard", "c", {"ovens": {"dome": {"loss": 0.1}}, "cuts": {"shin": {"rate": 1}}}, NOON)
    store.save_learnt("yard", "c", {"ovens": {"dome": {"loss": 0.2}}, "cuts": {"shin": {"rate": 1}}}, NOON)
    assert store.learnt() == {"ovens": {"dome": {"loss": 0.2}}, "cuts": {"shin": {"rate": 1}}}
    assert store._db.execute("SELECT count(*) FROM learnt").fetchone()[0] == 3


def test_a_school_is_remembered(store):
    assert store.school("yard") is None
    school = School("Europe/Dublin", "scotland", 120.0, 7, "Mara")
    store.set_school("yard", school)
    assert store.school("yard") == school
