"""Transcripts: what they mean, and that each mistake names its file and line and says what to write."""
from __future__ import annotations

import pytest

from bot.rooms.transcript import TranscriptError, parse, read_transcript

HEAD = "# date: 2026-05-16\n# zone: Europe/London\n"


def told(text):
    return parse("day.txt", text.split("\n"))


def test_headers_and_messages_are_read():
    made = told("# title: Shoulder day\n# region: anz\n# altitude_m: 120.5\n# seed: 7\n" + HEAD
                + "\n# a remark\n09:30 Mara: class: shoulder day, 14 guests\n#> an expected reply\n"
                + "09:31 Idris: 09:30 it was\n")
    assert made.title == "Shoulder day"
    assert (made.school.zone, made.school.region, made.school.altitude_m, made.school.seed) == (
        "Europe/London", "anz", 120.5, 7)
    assert [(each.id, each.sender, each.text) for each in made.messages] == [
        ("m0001", "Mara", "class: shoulder day, 14 guests"), ("m0002", "Idris", "09:30 it was")]
    assert [each.at.isoformat() for each in made.messages] == ["2026-05-16T09:30:00+01:00", "2026-05-16T09:31:00+01:00"]
    assert made.until is None
    assert made.end == made.messages[-1].at


def test_a_clock_time_earlier_than_the_line_before_is_the_next_day():
    made = told(HEAD + "22:10 Mara: off home\n07:30 Idris: morning\n07:30 Bea: tea\n06:00 Bea: again\n# until: 05:00")
    assert [each.at.isoformat() for each in made.messages] == [
        "2026-05-16T22:10:00+01:00", "2026-05-17T07:30:00+01:00", "2026-05-17T07:30:00+01:00",
        "2026-05-18T06:00:00+01:00"]
    assert made.end.isoformat() == "2026-05-19T05:00:00+01:00"


def test_summer_time_ends_within_a_night():
    """EU directive 2000/84/EC: clocks go back at 01:00 UTC on the last Sunday of October."""
    made = told("# date: 2026-10-24\n# zone: Europe/London\n23:30 Mara: night\n02:30 Idris: up")
    first, second = (each.at.timestamp() for each in made.messages)
    assert second - first == 4 * 3600


def test_optional_headers_have_their_defaults():
    made = told("# date: 2026-05-16\n09:30 Mara: hello")
    assert (made.school.region, made.school.seed, made.school.altitude_m) == ("uk", 0, None)


@pytest.mark.parametrize(("text", "line", "says"), [
    (HEAD + "9:30 Mara: floor 180", 3, "no time of day; write it as '09:30 Mara"),
    (HEAD + "09.30 Mara: floor 180", 3, "write it as '09:30 Mara"),
    (HEAD + "24:00 Mara: floor 180", 3, "'24:00' is no time of day"),
    (HEAD + "09:75 Mara: floor 180", 3, "'09:75' is no time of day"),
    (HEAD + "09:30 Mara: hi\nMara: floor 180", 4, "no time at the start"),
    (HEAD + "floor 180", 3, "no time at the start"),
    (HEAD + "09:30 floor 180", 3, "no name and colon"),
    (HEAD + "09:30", 3, "no name and colon"),
    (HEAD + "09:30 : floor 180", 3, "no name"),
    (HEAD + "09:30 " + "M" * 81 + ": floor 180", 3, "no name"),
    (HEAD + "09:30 Mara:", 3, "Mara says nothing"),
    (HEAD, 4, "no message"),
    ("", 2, "no message"),
    ("# zone: Europe/London\n09:30 Mara: hi", 2, "write it above as '# date: 2026-05-16'"),
    ("# date: 16 May\n09:30 Mara: hi", 1, "'16 May' is no date; write it as '# date: 2026-05-16'"),
    ("# date: 2026-02-30\n09:30 Mara: hi", 1, "is no date"),
    ("# date: 0001-01-01\n09:30 Mara: hi", 1, "is no date"),
    ("# date: 2026-05-16\n# date: 2026-05-17\n09:30 Mara: hi", 2, "a second '# date:'"),
    (HEAD + "# region: mars\n09:30 Mara: hi", 3, "is no region (uk, scotland, us, anz, eu)"),
    ("# zone: Europe/Nowhere\n" + "# date: 2026-05-16\n09:30 Mara: hi", 1, "is no time zone"),
    ("# zone: ../etc\n" + "# date: 2026-05-16\n09:30 Mara: hi", 1, "is no time zone"),
    (HEAD + "# altitude_m: high\n09:30 Mara: hi", 3, "is no height in metres"),
    (HEAD + "# altitude_m: 9e9\n09:30 Mara: hi", 3, "is no height in metres"),
    (HEAD + "# altitude_m: nan\n09:30 Mara: hi", 3, "is no height in metres"),
    (HEAD + "# seed: x\n09:30 Mara: hi", 3, "is no seed"),
    (HEAD + "# until: 10:00\n09:30 Mara: hi", 3, "put it in the last line"),
    (HEAD + "09:30 Mara: hi\n# until: 10:00\n10:30 Mara: hi", 5, "in the last line"),
    (HEAD + "09:30 Mara: hi\n# until: ten", 4, "'ten' is no time of day; write it as '# until: 18:00'"),
    ("# date: 2026-03-29\n# zone: Europe/London\n01:30 Mara: hi", 3, "skipped by the clocks"),
])
def test_a_malformed_line_is_named_and_mended_in_words(text, line, says):
    with pytest.raises(TranscriptError) as caught:
        told(text)
    assert str(caught.value).startswith(f"day.txt:{line}: ")
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_file_that_is_not_text_names_the_line(tmp_path):
    (tmp_path / "day.txt").write_bytes(HEAD.encode() + b"09:30 Mara: 180\xb0\n")
    with pytest.raises(TranscriptError, match=r"day\.txt:3: not plain text"):
        read_transcript(tmp_path / "day.txt")


def test_marks_of_other_editors_do_no_harm(tmp_path):
    (tmp_path / "day.txt").write_bytes(b"\xef\xbb\xbf" + (HEAD + "09:30 Mara: hi  \n").replace("\n", "\r\n").encode())
    assert read_transcript(tmp_path / "day.txt").messages[0].text == "hi"


def test_a_missing_file_or_a_folder_is_told_in_one_line(tmp_path):
    for path in (tmp_path / "none.txt", tmp_path):
        with pytest.raises(TranscriptError, match="cannot be read"):
            read_transcript(path)
