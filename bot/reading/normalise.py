"""Any text to plain lower-case characters, each with its place in the message as it was typed."""

from __future__ import annotations

import re
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
    _unnumber(out)
    _stopped(out)
    return Plain("".join(out), tuple(origin), cut)


_NUMBERED = re.compile(r"(?:(?<=\s)|^)(\d{1,2})[).](?=\s+[a-z0-9])")


def _unnumber(out: list[str]) -> None:
    """ "1) lamb seared 2) lid on": the numbers of a list say nothing; each begins a clause."""
    found = list(_NUMBERED.finditer("".join(out)))
    if len(found) < 2 or [int(each.group(1)) for each in found] != list(range(1, len(found) + 1)):
        return
    for each in found:
        for at in range(each.start(), each.end()):
            out[at] = " "
        if each.start():
            out[each.end() - 1] = ","


_STOPPED = re.compile(r"(?<![a-z'])(?<!\ba )(?:full )?stop(?![a-z'])")


def _stopped(out: list[str]) -> None:
    """ "oats out 0545 stop floor 84 stop": a telegram's stops, and a dictated "full stop", are stops."""
    text = "".join(out)
    if "stop" not in text:
        return
    found = [each for each in _STOPPED.finditer(text) if not text[: each.start()].isspace() and each.start()]
    ended = text.rstrip(" .\n").endswith("stop")
    telegram = ended and len(found) > 1
    for each in found:
        if telegram or each.group().startswith("full"):
            out[each.start() : each.end()] = [".", *" " * (each.end() - each.start() - 1)]


# "ribs in [picture] barrel's at 178": what follows begins anew.
_NEW_SUBJECT = re.compile(r"\W*\w+(?:['’]s| is| are) ")


def _between_clauses(message: str, index: int) -> bool:
    """Whether a picture stands where a comma could: words before and behind, and none that wants a noun before."""
    before = message[:index].rstrip()
    if not before or not (before[-1].isalnum() or before[-1] in "°º%?"):
        return False
    if before.split()[-1].lower() in _WANT_A_NOUN and not _NEW_SUBJECT.match(message, index + 1):
        return False
    return any(each.isalnum() for each in message[index + 1 :])


_WANT_A_NOUN = frozenset(
    ["the", "a", "an", "of", "in", "on", "to", "for", "with", "at", "my", "our", "some", "more", "and"]
)


def without_pictures(text: str) -> str:
    """A free text as the record keeps it, emoji left out."""
    return "".join(each for each in text if unicodedata.category(each) not in ("So", "Cs", "Cf") and each != "\ufe0f")


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
    if category == "So" and _between_clauses(message, index):
        return " , "
    if category[0] in "CS":
        return " "
    folded = unicodedata.normalize("NFKD", character)
    kept = "".join(each for each in folded if each.isascii() and each >= " ").lower()
    return kept or " "
