"""What stands in for what: "cornflour today" takes the place of the flour that was logged."""
from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files

# Words that say that a thing was used in place of another, not beside it.
_INSTEAD = re.compile(r"\b(?:today|instead|this time|rather than|in place of|swapped|actually|only)\b", re.I)


@cache
def _table() -> dict[str, tuple[str, ...]]:
    data = tomllib.loads(files("skills").joinpath("stand_ins.toml").read_text(encoding="utf-8"))
    return {name: tuple(words) for name, words in data.items()}


def replaced_by(item: str, text: str) -> str | None:
    """The plain thing that `item` stands in for, if the message says so.

    >>> replaced_by("cornflour", "cornflour today"), replaced_by("cornflour", "cornflour in the gravy")
    ('flour', None)
    """
    if _INSTEAD.search(text) is None:
        return None
    return next((name for name, words in _table().items() if item.lower() in words), None)


def is_plain(item: str, name: str) -> bool:
    """Whether a logged item is the plain thing of that name: "flour", "plain flour", not "rice flour"."""
    words = item.lower()
    return words.split()[-1:] == [name] and words not in {each for kinds in _table().values() for each in kinds}
