"""Every fault of the file is named with its line, and what is right is taken as written."""
from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.config import ConfigError, lines_of, read_config
from bot.talk import School

WHOLE = """\
# who and where
[matrix]
homeserver = "https://matrix.example.org/"
user = "@yardhand:example.org"
people = [
  "@mara:example.org",   # leads
  "@*:yard.example",
]

[school]
zone = "Europe/London"
altitude_m = 40
lead = "@mara:example.org"

[names]
"@mara:example.org" = "Mara"

[rooms."!abc:example.org"]
name = "second-yard"
zone = "Europe/Dublin"
region = "eu"
"""


def read(tmp_path, text):
    path = tmp_path / "yardhand.toml"
    path.write_text(text)
    return read_config(path)


def test_the_file_is_taken_as_written(tmp_path):
    config = read(tmp_path, WHOLE)
    assert config.matrix.homeserver == "https://matrix.example.org"
    assert config.school_of("!other:example.org") == School("Europe/London", "uk", 40.0, 0, "Mara")
    assert config.school_of("!abc:example.org") == School("Europe/Dublin", "eu", 40.0, 0, "Mara")
    assert [config.hears(user) for user in (
        "@mara:example.org", "@anybody:yard.example", "@idris:example.org", "@yardhand:example.org")] == [
            True, True, False, False]


@pytest.mark.parametrize(("old", "new", "line", "says"), [
    ("user = ", "usr = ", 4, "nothing is called matrix.usr; did you mean 'user'?"),
    ("user = ", "usr = ", 2, "matrix.user is missing"),
    ('"@*:yard.example"', '"yard.example"', 7, "no user"),
    ("altitude_m = 40", "altitude_m = 'high'", 12, "school.altitude_m"),
    ("altitude_m = 40", "altitude_m = 40\naltitude_m = 41", 13, "overwrite"),
    ('zone = "Europe/London"', 'zone = "Europe/Lundon"', 11, "no time zone is called"),
    ('"@mara:example.org" = "Mara"', '"mara" = "Mara"', 16, "no user"),
    ('[rooms."!abc:example.org"]', "[rooms.yard]", 18, "no room id"),
    ('region = "eu"', 'region = "mars"', 21, "uk"),
    ("people = [", "people = ", 5, "invalid"),
])
def test_a_fault_is_named_with_its_line(tmp_path, old, new, line, says):
    with pytest.raises(ConfigError) as caught:
        read(tmp_path, WHOLE.replace(old, new, 1))
    faults = [fault for fault in str(caught.value).split("\n") if f"yardhand.toml:{line}: " in fault]
    assert any(says in fault for fault in faults), str(caught.value)


def test_every_fault_is_told_at_once(tmp_path):
    text = WHOLE.replace("Europe/London", "Mars").replace('"eu"', '"mars"').replace("[names]", "[nams]")
    with pytest.raises(ConfigError) as caught:
        read(tmp_path, text)
    assert [fault.split(":")[1] for fault in str(caught.value).split("\n")] == ["11", "15", "21"]


def test_a_file_that_is_not_there_is_one_line(tmp_path):
    with pytest.raises(ConfigError, match="cannot be read"):
        read_config(tmp_path / "none.toml")


keys = st.sampled_from(["a", "b1", '"c d"', '"!x:y.z"', "e-f"])
plain_values = st.sampled_from(["1", '"x = [1"', "true", "[1, 2]", "[\n 1, # one\n 2]", '"""a\nb"""', "{ k = 1 }"])


@given(st.lists(st.tuples(keys, st.dictionaries(keys, plain_values, max_size=4)), unique_by=lambda pair: pair[0],
                max_size=4))
def test_every_key_of_any_file_has_the_line_on_which_it_stands(tables):
    """tomllib, the standard library's reader, says which keys there are."""
    text, expected = "", {}
    for table, entries in tables:
        text += f"[{table}]\n"
        for key, value in entries.items():
            expected[(table.strip('"'), key.strip('"'))] = text.count("\n") + 1
            text += f"{key} = {value}\n"
    found = lines_of(text)
    data = tomllib.loads(text)
    assert {(table, key) for table in data for key in data[table]} == set(expected)
    assert {path: found.get(path) for path in expected} == expected
