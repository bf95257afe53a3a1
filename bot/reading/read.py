"""The reader: one message and what the room knows, to facts, questions, one question back at most, and the reasons."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

from pydantic import ValidationError

from bot.reading import (
    phrases,
    put_apart,
    rules_checks,
    rules_chilling,
    rules_class,
    rules_contents,
    rules_doors,
    rules_fire,
    rules_guests,
    rules_heats,
    rules_incidents,
    rules_loads,
    rules_ovens,
    rules_pots,
    rules_questions,
    rules_replace,
    rules_stages,
    rules_team,
    rules_undo,
)
from bot.reading.acts_composed import composed_acts
from bot.reading.answers import answer_first, answer_of, asked_again, names_of_the_answer
from bot.reading.asked_alike import asked_alike
from bot.reading.asking import ask_of
from bot.reading.begun_before import begun_before, fuller, hanging, what_it_wanted
from bot.reading.boils import boils
from bot.reading.both import tell_of_both
from bot.reading.carry import carry
from bot.reading.carrying_on import carry_on
from bot.reading.contents_beside import contents_beside
from bot.reading.contents_listed import listed_contents
from bot.reading.contents_told import contents_told, dish_of_contents
from bot.reading.context import Context
from bot.reading.counts import composed_counts, counts
from bot.reading.counts_listed import listed_counts
from bot.reading.eaten_up import eaten_up
from bot.reading.follow_ups import follow_up
from bot.reading.habits import number_as_before, spot_as_before, unit_as_before
from bot.reading.hand_outs import hand_outs
from bot.reading.heats_alone import of_the_looked_at, up_there
from bot.reading.heats_composed import composed_heats
from bot.reading.items import Item, Row
from bot.reading.lexicon import bag
from bot.reading.loads_listed import listed_loads
from bot.reading.mended_last import mend_last
from bot.reading.moods import set_moods
from bot.reading.new_names import renames
from bot.reading.normalise import MOST_CHARACTERS, plain
from bot.reading.ovens_and_ceilings import settle_domes
from bot.reading.over_fire import over_fires
from bot.reading.questions_what_if import as_it_is
from bot.reading.raw_inside import raw_inside
from bot.reading.result import Ask, Reading, Span, explain
from bot.reading.rings import rings
from bot.reading.rules_new_guests import new_guests
from bot.reading.scene import Draft, Scene
from bot.reading.short_words import bare_act, lone_word, names_completed, taken_as_said, yes_to
from bot.reading.telegrams import telegrams
from bot.reading.tokens import row_of
from bot.reading.unread import unread_of
from bot.reading.weather import weather
from bot.reading.what_is_left import what_is_left
from skills.vocabulary import Fact, Heard, Question, fact, question

__all__ = ["Ask", "Context", "Reading", "Span", "explain", "read"]


def read(text: str, context: Context) -> Reading:
    """What a message means, as far as its words and the room's names say; never raises, whatever the text."""
    alone = _read(text, context)
    answers = any(span.rule == "answer to the question" for span in alone.spans)
    before = begun_before(text, context) if context.last and not answers else None
    if before is None and not answers and context.last and (begun := hanging(text, context)) is not None:
        last = next(said for said in reversed(context.last) if said.who == context.sender)
        earlier = replace(context, last=tuple(said for said in context.last if said is not last))
        return what_it_wanted(alone, _read(f"{begun} {text}", earlier), last.heard.facts, len(begun) + 1)
    if before is None:
        asked = yes_to(text, context) if not alone.heard.said()["facts"] and alone.ask is None else None
        return alone if asked is None else taken_as_said(text, alone, _read(*asked))
    earlier = replace(context, last=context.last[:-1])
    if before[-1].isdigit():
        return fuller(alone, _read(f"{text} {before}", earlier), 0)
    return fuller(alone, _read(f"{before} {text}", earlier), len(before) + 1)


def _read(text: str, context: Context) -> Reading:
    folded = plain(text)
    row = row_of(text, folded, context)
    scene, reading = _read_row(row, folded.cut, context)
    if folded.cut:
        return reading
    best = put_apart.Heard((*reading.heard.facts, *reading.heard.questions), put_apart.over(scene, _SMALL))
    for at in put_apart.places(scene, _SMALL):
        other, again = _read_row(Row(text, put_apart.with_stop(scene, row.items, at)), False, context)
        heard = put_apart.Heard((*again.heard.facts, *again.heard.questions), put_apart.over(other, _SMALL))
        if put_apart.better(best, heard):
            best, reading = heard, again
    return reading


def _read_row(row: Row, cut: bool, context: Context) -> tuple[Scene, Reading]:
    scene = Scene(row, context)
    settle_domes(scene)
    if cut:
        scene.trouble = f"Only the first {MOST_CHARACTERS} letters were read. Send shorter messages, one thing a line."
    answered = answer_of(scene)
    if answered is None:
        first = answer_first(scene)
        scene.phrases = phrases.find_phrases(scene)
        set_moods(scene)
        _read_all(scene, first)
    else:
        scene.drafts.extend(answered)
    ask = (asked_again(scene) or ask_of(scene)) if answered is None else None
    facts, questions, spans = _checked(scene)
    if scene.trouble is None:
        scene.trouble = _impossible_time(scene)
    if scene.trouble is None and ask is None and answered is None and not first:
        scene.trouble = unread_of(scene)
    return scene, Reading(
        Heard(facts=tuple(facts), questions=tuple(questions)), ask, tuple(spans), _leftover(scene), scene.trouble
    )


def _read_all(scene: Scene, answered: list[Draft]) -> None:
    rules_team.notes(scene)
    _log_of_facts(scene)
    rules_team.hushes(scene)
    rules_undo.undos(scene)
    rules_class.classes(scene)
    mend_last(scene)
    rules_replace.replaces(scene, told)
    phrases.asked(scene)
    rules_questions.questions(scene, told)
    told(scene)
    rings(scene)
    over_fires(scene)
    what_is_left(scene)
    eaten_up(scene)
    as_it_is(scene)
    scene.drafts.extend(answered)
    rules_questions.meals_of_plans(scene)
    carry(scene)
    names_of_the_answer(scene, answered)
    tell_of_both(scene)
    carry_on(scene)
    follow_up(scene)
    dish_of_contents(scene)
    rules_guests.seats_in_brackets(scene)
    names_completed(scene)
    bare_act(scene)
    lone_word(scene)
    number_as_before(scene)
    unit_as_before(scene)
    spot_as_before(scene)
    if asked_alike(scene):
        carry(scene)


_TOLD_FOR_THE_LOG = bag("pot fire reading food door load chill store")


def _log_of_facts(scene: Scene) -> None:
    """ "for the log: at half eleven I turned the brisket": facts, told for the log, if nothing else is left of it."""
    noted = [draft for draft in scene.drafts if draft.rule == "note"]
    if not noted or noted[0].first or scene.row.words(0, 1) != ("for",):
        return
    trial = Scene(scene.row, scene.context, list(scene.moods), sentences=scene.sentences, phrases=scene.phrases)
    told(trial)
    acts = [draft for draft in trial.drafts if draft.kind in _TOLD_FOR_THE_LOG]
    words = [word for piece in _leftover(trial) for word in piece.lower().split()]
    certain = any(draft.fields.keys() & {"act", "celsius"} for draft in acts)
    if certain and len(words) <= 1 + len(acts):
        scene.drafts.remove(noted[0])
        scene.used[:] = [None] * len(scene.used)


def told(scene: Scene) -> None:
    """The facts of a scene, the surest rules first."""
    rules_team.mine(scene)
    phrases.told(scene)
    renames(scene)
    rules_ovens.ovens(scene)
    rules_class.serves(scene)
    rules_guests.guests(scene)
    rules_incidents.incidents(scene)
    rules_doors.doors(scene)
    rules_fire.fires(scene)
    rules_chilling.reheats(scene)
    rules_pots.pots(scene)
    composed_acts(scene)
    listed_counts(scene)
    counts(scene)
    rules_heats.heats(scene)
    composed_heats(scene)
    composed_counts(scene)
    up_there(scene)
    rules_heats.use_tool_of_list(scene)
    rules_heats.use_unit_of_message(scene)
    rules_stages.stages(scene)
    rules_checks.checks(scene)
    boils(scene)
    of_the_looked_at(scene)
    rules_chilling.chills(scene)
    listed_loads(scene)
    rules_loads.loads(scene)
    rules_contents.contents(scene)
    contents_told(scene)
    listed_contents(scene)
    contents_beside(scene)
    weather(scene)
    rules_incidents.where_fire_is_wrong(scene)
    rules_incidents.cared_for(scene)
    new_guests(scene)
    raw_inside(scene)
    rules_team.tasks(scene)
    hand_outs(scene)
    telegrams(scene)


def _checked(scene: Scene) -> tuple[list[Fact], list[Question], list[Span]]:
    facts: list[Fact] = []
    questions: list[Question] = []
    spans: list[Span] = []
    before: set[str] = set()
    for draft in sorted(scene.drafts, key=lambda each: (each.first, each.last)):
        made = _made(draft)
        if made is None:
            continue
        said = json.dumps(made.said(), sort_keys=True, default=str)
        if said in before and (isinstance(made, Question) or draft.fields.get("act") != "undo"):
            continue
        before.add(said)
        if isinstance(made, Question):
            questions.append(made)
        else:
            facts.append(made)
        spans.append(_span(scene, draft, made))
    return facts, questions, spans


def _made(draft: Draft) -> Fact | Question | None:
    data = {key: _tidy(value) for key, value in draft.fields.items() if key[0] != "_"}
    try:
        if draft.question:
            return question(data)
        return fact(data)
    except ValidationError:
        return None


def _tidy(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, 3)
    if isinstance(value, list):
        return [{key: _tidy(entry) for key, entry in each.items()} for each in value]
    return value


def _span(scene: Scene, draft: Draft, made: Fact | Question) -> Span:
    items = scene.items
    last = max(draft.first + 1, draft.last)
    if not items:
        return Span(0, 0, "", draft.rule, str(made.said()))
    start, end = items[min(draft.first, len(items) - 1)].start, items[min(last, len(items)) - 1].end
    meaning = ", ".join(f"{key} {value}" for key, value in made.said().items() if key != "is")
    return Span(start, end, scene.row.message[start:end], draft.rule, f"{made.is_}{': ' if meaning else ''}{meaning}")


_SMALL = bag(
    "the a an and it is 's was at on in of to for with now just so ok right we i all that this please by "
    "from are got has have been be yes"
)


def _leftover(scene: Scene) -> tuple[str, ...]:
    """Stretches that nothing was read from, small words apart; for the log and for "why"."""
    taken = scene.taken()
    pieces: list[tuple[int, int]] = []
    for at, item in enumerate(scene.items):
        if (
            taken[at]
            or item.kind == "."
            or (item.kind == "" and item.word in _SMALL)
            or item.kind in ("T", "A")
        ):
            continue
        if pieces and pieces[-1][1] == at:
            pieces[-1] = (pieces[-1][0], at + 1)
        else:
            pieces.append((at, at + 1))
    return tuple(scene.row.text(a, b) for a, b in pieces)


def _impossible_time(scene: Scene) -> str | None:
    for at, item in enumerate(scene.items):
        if _bad_clock(item) and scene.moods[at] in ("fact", "question"):
            return (
                f"{scene.message_of(item)} is no time of day: left out. Write it again, such as '9:20' or "
                f"'ten past nine'."
            )
    return None


def _bad_clock(item: Item) -> bool:
    return item.kind == "N" and item.value.colon and item.value.clock is None
