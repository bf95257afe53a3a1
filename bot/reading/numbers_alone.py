""" "68" after "hot cupboard 61", "221/208" after "floor 244 air 229": numbers alone that go on with their teller's."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from bot.reading.context import Said
from bot.reading.habits import HOTTEST_FOOD_C
from bot.reading.scene import Scene, compiled
from bot.reading.units import fahrenheit
from skills.vocabulary import Fact

# So long the same person reads on at the same thing, and so far it moves meanwhile [K]; common practice, no source.
STILL_AT_IT = {"food": timedelta(minutes=40), "store": timedelta(minutes=25), "reading": timedelta(minutes=90)}
MOVED_K = {"food": 40.0, "store": 15.0, "reading": 50.0}
# Of a floor and an air told with a stroke between them the two lie this near to those told before [K].
PAIR_K = 45.0
_KEPT = ("is", "oven", "place", "tool", "dish", "part")
_ALONE = compiled(r"(?:(?:now|it|it 's|'s|they 're|is|are|only|still|up|down|back|to|at|and|,|bit|a bit|rather|"
                  r"(?P<felt>cool|hot|warm|low|high|cold)) )*(?P<value><V>)"
                  r"(?: (?:now|degrees|and falling|and rising|already|again))*(?: [.!])*")
_PAIR = compiled(
    r"(?:(?:now|it 's|still|down to) )*(?P<one><N>) (?:/|-|and) (?P<other><N>)(?: (?:now|again))*(?: [.!])*")


def number_alone(scene: Scene) -> None:
    """A sentence that is a number and no more, where this person told of one heat lately and of none since."""
    if not scene.context.last or any(draft.fields.get("act") != "fridge" for draft in scene.drafts):
        return
    if scene.drafts:
        _of_what_chills(scene)
        return
    said = _own_heats(scene)
    if _of_what_chills(scene) or said is None:
        return
    heats = [fact.said() for fact in said.heard.facts if "celsius" in fact.said()]
    for first, last in scene.sentences:
        text = scene.row.canon[scene.row.offset(first):scene.row.offset(last)].strip()
        pair = _PAIR.fullmatch(text)
        if pair is not None:
            _as_pair(scene, said, heats, (pair["one"], pair["other"]), (first, last))
            return
        alone = _ALONE.fullmatch(text)
        if alone is not None and len(heats) == 1:
            _as_before(scene, said, heats[0], alone["value"], (first, last), bool(alone["felt"]))
            return


# So long a chill is probed by the person who began it, and hotter than this nothing is that chills [degC].
CHILLS_FOR, CHILLING_C = timedelta(minutes=130), 60.0


def chill_told(scene: Scene) -> Fact | None:
    """The one chill that this person began or saw last, if of nothing but its heat was told by them since."""
    own = [said for said in scene.context.last if said.who == scene.context.sender and said.heard.facts]
    while len(own) > 1 and all(fact.is_ == "food" for fact in own[-1].heard.facts):
        own.pop()
    if not own or scene.context.now - own[-1].at > CHILLS_FOR:
        return None
    chills = [fact for fact in own[-1].heard.facts if fact.is_ == "chill" and fact.said()["act"] != "done"]
    return chills[0] if len(chills) == 1 else None


def _of_what_chills(scene: Scene) -> bool:
    """ "leftovers on ice", and later from the same person "16 deg", or "9. into the fridge": of what chills."""
    chill = chill_told(scene)
    first, last = scene.segment(0)
    alone = _ALONE.fullmatch(scene.row.canon[scene.row.offset(first):scene.row.offset(last)].strip())
    value = scene.number(alone["value"]) if alone is not None else None
    rest = not scene.drafts and any(item.kind != "." for item in scene.items[last:])
    if chill is None or value is None or rest or not -5.0 <= value < CHILLING_C:
        return False
    scene.add({"is": "food", "dish": chill.dish, "celsius": value}, first, last, "heat of what chills")
    return True


def _meant(scene: Scene, value: float) -> float:
    return fahrenheit(value) if scene.context.sender in scene.context.fahrenheit else value


def _own_heats(scene: Scene) -> Said | None:
    alone = _ALONE.fullmatch(scene.row.canon)
    value = scene.number(alone["value"]) if alone is not None else None
    hot = value is not None and _meant(scene, value) > HOTTEST_FOOD_C       # no core is so hot
    own = [said for said in scene.context.last if said.who == scene.context.sender]
    told = [said for said in own if any("celsius" in fact.said() and (fact.is_ == "reading" or not hot)
                                        for fact in said.heard.facts)]
    return told[-1] if told else None


def _as_before(scene: Scene, said: Said, heat: dict[str, Any], token: str, span: tuple[int, int],
               felt: bool) -> None:
    value, kind = scene.number(token), str(heat["is"])
    if value is None or scene.context.now - said.at > STILL_AT_IT.get(kind, timedelta()):
        return
    item = scene.item(token)
    # "one fifty" may be the time, and so may "155" about five to two, "201" is none; an open spot stays open.
    clock = item.kind == "N" and item.value.clock is not None and item.value.clock[1] and (
        item.value.words or not item.word.isdigit() or (not value % 5 and _near(scene, *item.value.clock)))
    if kind == "reading" and ("place" not in heat or (clock and not felt)):
        return
    if abs(_meant(scene, value) - float(heat["celsius"])) <= MOVED_K[kind]:
        scene.add({**{key: heat[key] for key in _KEPT if key in heat}, "celsius": value}, *span, "goes on with a heat")


# What is told of by its time alone is this near [min]; common practice, no source.
NEAR_MIN = 90


def _near(scene: Scene, hour: int, minute: int) -> bool:
    """Whether a time of the clock's face lies near now."""
    away = (hour * 60 + minute - scene.context.now.hour * 60 - scene.context.now.minute) % 720
    return min(away, 720 - away) <= NEAR_MIN


def _as_pair(scene: Scene, said: Said, heats: list[dict[str, Any]], tokens: tuple[str, str],
             span: tuple[int, int]) -> None:
    values = [scene.number(token) for token in tokens]
    places = [heat.get("place") for heat in heats[:2]]
    fresh = scene.context.now - said.at <= STILL_AT_IT["reading"]
    if not fresh or len(heats) < 2 or set(places) != {"floor", "air"} or None in values:
        return
    if all(abs(float(value or 0) - float(heat["celsius"])) <= PAIR_K
           for value, heat in zip(values, heats[:2], strict=True)):
        for value, heat in zip(values, heats[:2], strict=True):
            fields = {key: heat[key] for key in _KEPT if key in heat}
            scene.add({**fields, "celsius": value}, *span, "goes on with a heat", keep=True)
