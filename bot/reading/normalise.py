"""Any text to plain lower-case characters, each with its place in the message as it was typed."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

# Longer than any kitchen message; what lies beyond is not read, so that no message can hold the room up.
MOST_CHARACTERS = 2_000

_QUOTES = dict.fromkeys("’‘ʼ´`′‛＇", "'") | dict.fromkeys("“”„«»″", '"')
_DASHES = dict.fromkeys("‐‑", "-") | dict.fromkeys("–—―−", " - ")
_DEGREES = dict.fromkeys("º°˚", " ° ") | {"℃": " °c ", "℉": " °f "}
_FRACTIONS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3"}
_SIGNS = {"≈": " about ", "~": " about ", "…": " . ", "•": " , ", "→": " to ", "×": " x ", "ß": "ss", "\r": " "}
_FOLDED = {**_QUOTES, **_DASHES, **_DEGREES, **_FRACTIONS, **_SIGNS}


@dataclass(frozen=True)
class Plain:
    """`text` is what the rules see; character i of it stood at `origin[i]` in the message."""

    text: str
    origin: tuple[int, ...]
    cut: bool = False


def plain(message: str) -> Plain:
    """Fold letters, quotes, dashes and signs; pictures and control characters become gaps."""
    out: list[str] = []
    origin: list[int] = []
    cut = len(message) > MOST_CHARACTERS
    for index, character in enumerate(message[:MOST_CHARACTERS]):
        for folded in _fold(character, message, index):
            out.append(folded)
            origin.append(index)
    origin.append(min(len(message), MOST_CHARACTERS))
    return Plain("".join(out), tuple(origin), cut)


def _fold(character: str, message: str, index: int) -> str:
    if "a" <= character <= "z" or "0" <= character <= "9" or character == " ":
        return character
    if "A" <= character <= "Z":
        return character.lower()
    if character == "\n":
        return "\n"
    if (
        character in "–—−"
        and index + 1 < len(message)
        and message[index + 1].isdigit()
        and (index == 0 or not message[index - 1].isalnum())
    ):
        return "-"
    if character in _FOLDED:
        return _FOLDED[character]
    if character < "\x7f":
        return character if character >= " " else " "
    category = unicodedata.category(character)
    if category in ("Mn", "Me", "Cf"):
        return ""
    if category[0] in "CS":
        return " "
    folded = unicodedata.normalize("NFKD", character)
    kept = "".join(each for each in folded if each.isascii() and each >= " ").lower()
    return kept or " "
