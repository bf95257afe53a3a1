"""Moving, copying, saving and forgetting what is kept."""
from __future__ import annotations

import json
import sqlite3
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import sqlite_utils

from bot import backup, forget
from bot.cli import main
from bot.commands import keep
from bot.export import RefusedError, export_class, import_class
from bot.store import FILE_NAME, Store, StoreError
from bot.talk import Action, Answer, Message, Prompted, School
from skills.vocabulary import Eta, Heard, Note, Reading, Task

NOON = datetime(2026, 5, 16, 11, tzinfo=UTC)
DATA = Path(__file__).parents[2] / "DATA.md"


def fill(folder, day=0, many=3, room="yard"):
    """A class with words that have to come back as they were."""
    store = Store.open(folder)
    if store.school(room) is None:
        store.set_school(room, School("Europe/Dublin", "uk", 120.5, 7, "Mara"))
    start = NOON + timedelta(days=day)
    for n in range(many):
        at = start + timedelta(minutes=n)
        message = Message(f"d{day}m{n}", at, "Bea" if n % 2 else "Tomos", f"Mara, floor {180 + n} é\U0001f525 bea's")
        facts = (Reading(place="floor", celsius=180.5 + n, oven="dome"), Note(text="ask Tomos"),
                 Task(act="claim", what="barrel", who="Idris"))
        store.take(room, message, at)
        store.answer(room, Answer(message, f"c{day}", Heard(facts=facts, questions=(Eta(),)), (
            Action(f"c{day}/{n}", "reply", at, f"c{day}", f"Tomos: floor {0.1 + 0.2}", to=message.id, who="Tomos",
                   data={"told": {"lamb": {"mid": 0.1 + 0.2}}}),), None,
            {"prior": {"ovens": {"dome": {"loss": 1e-7}}}}), title="Day",
            learnt={"ovens": {"dome": {"loss": 0.1 * n}}, "cuts": {}})
        store.prompt(room, Prompted(at, (Action(f"c{day}/p{n}", "prompt", at, f"c{day}", "Bea: wood", prompt="refuel",
                                                oven="dome", who="Bea"),)))
    store.close()


@pytest.fixture
def folder(tmp_path):
    fill(tmp_path / "data")
    fill(tmp_path / "data", day=400)
    return tmp_path / "data"


def opened(folder, **more):
    return Store.open(folder, **more)


# One class as a file

@pytest.mark.parametrize("class_id", ["c0", "c400"])
def test_a_class_goes_out_and_in_and_out_again_byte_for_byte(folder, tmp_path, class_id):
    store, other = opened(folder), opened(tmp_path / "other")
    out = export_class(store, class_id)
    assert import_class(other, out) == class_id
    assert export_class(other, class_id) == out
    (row,) = other.classes()
    assert other.log(row.room, class_id) == store.log("yard", class_id)
    assert other.school(row.room) == store.school("yard")
    assert other.learnt()["ovens"]["dome"] == json.loads(out)["learnt"][-1]["profile"]
    store.close()
    other.close()


def test_an_imported_class_has_a_room_of_its_own_and_teaches_nothing_newer(folder, tmp_path):
    """A live room must not take another school's class for its own past."""
    fill(tmp_path / "other", day=9)
    store, other = opened(folder), opened(tmp_path / "other")
    before = store.learnt()
    import_class(store, export_class(other, "c9"))
    assert {each.id: each.room for each in store.classes()} == {"c0": "yard", "c400": "yard", "c9": "yard.2"}
    assert store.learnt() == before
    with pytest.raises(RefusedError, match="kept here already"):
        import_class(store, export_class(other, "c9"))
    store.close()
    other.close()


@pytest.mark.parametrize("source", [b"", b"{}", b"[1]", b"\xff", b'{"yardhand": 1}'])
def test_a_file_that_is_no_class_is_refused_and_nothing_of_it_kept(folder, source):
    store = opened(folder)
    with pytest.raises(RefusedError, match="export it again"):
        import_class(store, source)
    assert len(store.classes()) == 2
    store.close()


def test_a_class_with_one_spoilt_row_is_refused_whole(folder, tmp_path):
    store, other = opened(folder), opened(tmp_path / "other")
    data = json.loads(export_class(store, "c0"))
    data["messages"][-1]["heard"]["facts"][0]["celsius"] = "hot"
    with pytest.raises(RefusedError):
        import_class(other, json.dumps(data).encode())
    data = json.loads(export_class(store, "c0"))
    data["said"].append(data["said"][0])
    with pytest.raises(sqlite3.IntegrityError):
        import_class(other, json.dumps(data).encode())
    assert other.classes() == []
    store.close()
    other.close()


# Copies

def test_a_copy_made_while_a_room_writes_is_whole_and_sound(folder, tmp_path):
    room = opened(folder)
    room.take("yard", Message("new", NOON, "Mara", "just said"), NOON)
    made = backup.copy(folder, tmp_path / "copy.sqlite", NOON)
    assert stat.S_IMODE(made.stat().st_mode) == 0o600
    backup.restore(made, tmp_path / "again", replace=False)
    again = opened(tmp_path / "again")
    assert [each.text for each in again.unanswered("yard")] == ["just said"]
    assert again.log("yard") == room.log("yard")
    assert again.learnt() == room.learnt()
    room.close()
    again.close()


def test_copies_are_named_by_their_time_and_only_the_newest_stay(folder):
    for minute in range(4):
        backup.copy(folder, None, NOON + timedelta(minutes=minute), keep=2)
    assert sorted(path.name for path in (folder / "backups").iterdir()) == [
        "yardhand-20260516-110200.sqlite", "yardhand-20260516-110300.sqlite"]


def test_a_restore_never_overwrites_unasked_and_sets_aside_what_stood_there(folder, tmp_path):
    made = backup.copy(folder, tmp_path / "copy.sqlite", NOON)
    fill(folder, day=500)
    with pytest.raises(StoreError, match="--replace"):
        backup.restore(made, folder, replace=False)
    held = opened(folder)
    with pytest.raises(StoreError, match="another Yardhand room is open"):
        backup.restore(made, folder, replace=True)
    held.close()
    aside = backup.restore(made, folder, replace=True)
    now = opened(folder)
    assert [each.id for each in now.classes()] == ["c0", "c400"]
    now.close()
    old = sqlite3.connect(aside)
    assert old.execute("SELECT count(*) FROM class").fetchone()[0] == 3
    old.close()


def spoil(path, part):
    """Overwrite the pages of a table's leaves, as a bad disk would."""
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    size = connection.execute("PRAGMA page_size").fetchone()[0]
    pages = [row[0] for row in connection.execute(
        "SELECT pageno FROM dbstat WHERE name = 'message' AND pagetype = 'leaf' ORDER BY pageno")]
    connection.close()
    with path.open("r+b") as file:
        for page in pages[:max(1, len(pages) // part)]:
            file.seek((page - 1) * size)
            file.write(b"\x55" * size)


def dbstat():
    try:
        connection = sqlite3.connect(":memory:")
        connection.execute("SELECT count(*) FROM dbstat")
    except sqlite3.OperationalError:
        return False
    return True


@pytest.mark.skipif(not dbstat(), reason="this SQLite cannot tell which page belongs to which table (no dbstat)")
def test_of_a_damaged_file_what_can_be_read_is_saved(tmp_path, capsys):
    fill(tmp_path / "data", many=60)
    path = tmp_path / "data" / FILE_NAME
    good = sqlite3.connect(path)
    said = good.execute("SELECT count(*) FROM said").fetchone()[0]
    good.close()
    spoil(path, part=3)
    with pytest.raises(StoreError, match="damaged"):
        backup.check(path)
    damaged = path.read_bytes()
    assert main(["log", "last", "--data", str(tmp_path / "data")]) == 2
    told = capsys.readouterr().err
    assert "damaged" in told
    assert "yardhand rescue" in told
    done = {each.table: each for each in backup.rescue(tmp_path / "data", tmp_path / "saved")}
    assert path.read_bytes() == damaged, "the damaged file is left as it was"
    assert done["said"].rows == said
    assert done["message"].lost
    assert 0 < done["message"].rows < 60
    saved = opened(tmp_path / "saved")
    lines = [line for line in saved.log("yard") if isinstance(line, Answer)]
    assert len(lines) == done["message"].rows
    saved.close()
    backup.check(tmp_path / "saved" / FILE_NAME)


def test_a_file_without_its_first_page_is_told_plainly(folder, capsys):
    with (folder / FILE_NAME).open("r+b") as file:
        file.seek(100)
        file.write(b"\x55" * 3000)
    assert main(["classes", "--data", str(folder)]) == 2
    assert "is damaged" in capsys.readouterr().err
    with pytest.raises(StoreError, match="restore a backup"):
        backup.rescue(folder, folder / "saved")


# Forgetting

def in_file(folder, word):
    return sum(path.read_bytes().lower().count(word.lower().encode()) for path in folder.glob(FILE_NAME + "*"))


def test_a_dry_run_changes_nothing_and_says_who_would_be_forgotten(folder, capsys):
    before = in_file(folder, "Tomos")
    assert main(["forget", "--everyone", "--dry-run", "--data", str(folder)]) == 0
    said = capsys.readouterr().out
    for name in ("Mara", "Tomos", "Bea", "Idris"):
        assert f"{name} would be Hand " in said
    assert "Backups" in said
    assert in_file(folder, "Tomos") == before > 0


def test_forgotten_names_are_nowhere_in_the_file_and_all_else_stays(folder):
    store = opened(folder)
    before = store.log("yard")
    done = forget.forget(store, forget.people(store), dry=False)
    after = store.log("yard")
    assert set(done.names) == {"Mara", "Tomos", "Bea", "Idris"}
    assert len(set(done.names.values())) == 4
    assert forget.people(store) == []
    facts = [[fact.said() for fact in line.heard.facts if fact.is_ == "reading"] for line in before
             if isinstance(line, Answer)]
    assert facts == [[fact.said() for fact in line.heard.facts if fact.is_ == "reading"] for line in after
                     if isinstance(line, Answer)]
    new = done.names
    assert after[0].message.text == f"{new['Mara']}, floor 180 é\U0001f525 {new['Bea']}'s"
    assert after[0].heard.facts[2].who == new["Idris"]
    assert after[0].actions[0].text.startswith(f"{new['Tomos']}: floor")
    assert store.school("yard").lead == new["Mara"]
    store.close()
    for name in ("Mara", "Tomos", "Idris"):
        assert in_file(folder, name) == 0


def test_one_name_can_be_forgotten_and_the_next_gets_another_number(folder, capsys):
    assert main(["forget", "bea", "--yes", "--data", str(folder)]) == 0
    assert main(["forget", "Tomos", "--yes", "--data", str(folder)]) == 0
    store = opened(folder)
    assert {line.message.sender for line in store.log("yard") if isinstance(line, Answer)} == {"Hand 1", "Hand 2"}
    store.close()
    assert main(["forget", "Zoe", "--yes", "--data", str(folder)]) == 2
    assert "nobody is called Zoe" in capsys.readouterr().err


def test_classes_go_by_age_and_a_dry_run_shows_which(folder, monkeypatch, capsys):
    monkeypatch.setattr(keep, "_now", lambda: NOON + timedelta(days=410))
    command = ["forget", "--older-than", "1y", "--data", str(folder)]
    assert main([*command, "--dry-run"]) == 0
    assert "would be taken out: c0, 2026-05-16, 3 messages" in capsys.readouterr().out
    learnt = opened(folder)
    known = learnt.learnt()
    learnt.close()
    assert main([*command, "--yes"]) == 0
    store = opened(folder)
    assert [each.id for each in store.classes()] == ["c400"]
    assert {line.class_id for line in store.log("yard") if isinstance(line, Answer)} == {"c400"}
    assert store.learnt() == known, "what was learnt of ovens stays"
    store.close()


@pytest.mark.parametrize(("arguments", "says"), [
    (["forget", "--yes"], "--everyone"), (["forget", "Bea"], "--dry-run"),
    (["forget", "--older-than", "soon", "--yes"], "write 90d"), (["restore", "none"], "not there"),
    (["import", "none"], "cannot be read"), (["export", "zz"], "no class is called"),
    (["backup", "--keep", "0"], "at least 1"),
])
def test_a_mistake_is_one_line_that_says_what_to_do(folder, capsys, arguments, says):
    assert main([*arguments, "--data", str(folder)]) == 2
    said = capsys.readouterr().err
    assert says in said
    assert said.count("\n") == 1


# The file in other tools

def test_the_library_reads_the_views_with_plain_names(folder):
    db = sqlite_utils.Database(folder / FILE_NAME)
    first = next(iter(db.query("SELECT * FROM readings_as_heard ORDER BY told_at")))
    assert (first["class"], first["who"], first["oven"], first["place"], first["celsius"]) == (
        "c0", "Tomos", "dome", "floor", 180.5)
    assert [row["class"] for row in db["classes"].rows] == ["c0", "c400"]
    assert {row["about"] for row in db["prompts"].rows} == {"refuel"}
    assert [row["name"] for row in db["profiles"].rows] == ["dome"]
    db.close()


def test_every_table_column_and_view_is_documented(folder):
    db = sqlite_utils.Database(folder / FILE_NAME)
    text = DATA.read_text(encoding="utf-8")
    for name in (*db.table_names(), *db.view_names()):
        if name.startswith("sqlite_"):
            continue
        rows = [line for line in text.splitlines() if line.startswith("|")]
        line = next((row for row in rows if f"`{name}`" in row.split("|")[1]), None)
        assert line is not None, name
        if not name.startswith(("post_", "_")):
            for column in db[name].columns_dict:
                assert f"`{column}`" in line, f"{name}.{column}"
    db.close()


@pytest.mark.filterwarnings("ignore")      # of the tool's own libraries
def test_datasette_opens_the_file_as_it_is(folder):
    import asyncio

    from datasette.app import Datasette

    async def ask():
        opened_by_it = Datasette([str(folder / FILE_NAME)])
        await opened_by_it.invoke_startup()
        found = await opened_by_it.client.get("/yardhand/readings_as_heard.json?_shape=array")
        table = await opened_by_it.client.get("/yardhand/message")
        return found, table

    found, table = asyncio.run(ask())
    assert found.status_code == table.status_code == 200
    assert [row["celsius"] for row in found.json()] == [180.5, 181.5, 182.5] * 2
