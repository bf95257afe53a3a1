"""The watches over food that is chilled or heated again: behind its curve, past its time, not hot enough, twice."""
from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import datetime, timedelta

from skills import vocabulary as v
from skills.safety import meters, say
from skills.safety.case import HOLD_NOTICE, KIND, TO_LOAD, Case
from skills.safety.spans import Anchor, Span
from skills.skill import Prompt
from skills.wording import clock, number

REHEAT_BACK_S = 7200.0
# A reheat is held against the meal from here on (judgement).
NEAR_MEAL = timedelta(minutes=45)
# A chill is called behind before it was probed if most ways miss the mark; once probed, if more than one in twenty do,
# for as long as the probe tells how it stands (judgement).
MISS_UNSEEN, MISS_PROBED = 0.5, 0.05
PROBE_FRESH_S = 1800.0
# So near its mark a tray is not called behind by the slowest of its ways: how cold the fridge is decides (judgement).
NEAR_K = 2.0
# People see to what is left by themselves within this time (judgement).
SETTLES = timedelta(minutes=25)
# A chill past its first mark is called so long before ice has to go round it (judgement).
WELL_BEFORE = timedelta(hours=1)
JUST_TOLD = timedelta(minutes=10)
# What an answer on leftovers is remembered by.
LEFT = "left:"
# A probe this long before it was called chilled still tells how cold it was (judgement).
LAST_PROBE_S = 600.0
# The least notice that still lets a pot be brought up (judgement).
LAST_CALL = timedelta(minutes=20)
_WHERE = {"fridge": "in the fridge", "ice": "on ice", "room": "in the room"}


def chilling(case: Case) -> Iterable[Prompt]:
    """The chill is behind its curve, with what to change; or past its time by a probe."""
    span, begun_s = case.made.last, case.made.chill_begun_s
    if span is None or begun_s is None or span.where not in ("chill", "cold"):
        return
    probed = [anchor for anchor in case.made.anchors if anchor.measured and anchor.at_s > begun_s]
    if span.where == "cold":
        yield from _called_chilled(case, span, probed)
        return
    stages = meters.chill_stages(case.seen, case.rules, span)
    # Nobody said how deep or in what: a fridge full of shallow trays is no cause to call before it was probed.
    known = span.stated or span.method == "room" or bool(probed)
    # What was probed before it was moved, from ice to the fridge, does not tell how it stands now.
    fresh = bool(probed) and probed[-1].at_s >= span.at_s and case.now.timestamp() - probed[-1].at_s <= PROBE_FRESH_S

    def allowed(to_c: float) -> float:
        near = bool(probed) and probed[-1].celsius <= to_c + NEAR_K
        return MISS_PROBED if fresh and not near else MISS_UNSEEN

    late = next((stage for stage in stages
                 if stage.miss > allowed(stage.mark.to_c) and stage.by_s > case.now.timestamp()), None)
    if late is None and probed:
        yield from _missed(case, stages, probed[-1])
    if late is None or not known:
        yield from _probe_trays(case, stages, bool(probed))
        return
    core = probed[-1].celsius if probed else case.seen.now_c()
    how = f"{number(core)} at {say.at(probed[-1].at_s, case.view)}" if probed else _vessel_words(case)
    fix, ready = say.better_chill(case.made, span, case.seen.now_c(meters.WARM), late.mark.to_c, case.now)
    if ready > case.moment(late.by_s):
        fix += " If it still misses: reheat fully and start again, or discard."
    key = f"chill:{span.at_s:.0f}" + (f":{late.mark.to_c:g}:probed" if probed else "")
    # Hours from its mark nobody has to do anything yet: it is measured again, and ice brings it down in the last hour.
    ice = case.moment(late.by_s) - (ready - case.now) - TO_LOAD
    due = case.now
    if core <= case.rules.chill[0].to_c:
        due = case.view.when_there(max(case.now, ice - WELL_BEFORE))
    elif not probed and _shallow(span):
        # They do as they should, and will probe: the doubt is told while ice still brings it down in time.
        due = case.view.when_there(max(case.now, ice))
        fix, _ = say.better_chill(case.made, span, case.seen.now_c(meters.WARM), late.mark.to_c, due)
    yield case.prompt(key, due,
                      f"{case.made.name} chill is behind: {how}, below {number(late.mark.to_c)} wanted by "
                      f"{say.at(late.by_s, case.view)} ({case.rules.named_chill()}).\n{fix}",
                      case.moment(late.by_s), span.who)


def _shallow(span: Span) -> bool:
    """In trays no deeper than is advised, on ice or in the fridge."""
    return span.method in ("fridge", "ice") and span.vessel is not None and span.vessel.shallow


def left_standing(case: Case) -> Iterable[Prompt]:
    """What is to be kept stands about off the heat: said while trays and ice still bring it down in time."""
    span = case.made.last
    if span is None or span.where not in ("bench", "open") or case.cooled_unsaid or not case.kept:
        return
    off_s = max([case.out_s, *_kept_hot_s(case)] + [dated.at.timestamp() for dated in case.made.facts
                                                    if isinstance(dated.fact, v.Pot) and dated.fact.act == "out"])
    mark = case.rules.chill[0]
    if "fridge_by_min" in case.rules.figures:
        by_s, rule = off_s + case.rules.value("fridge_by_min") * 60.0, case.rules.named("fridge_by_min")
    else:
        passed = meters.falls_below(case.seen, mark.from_c, meters.MID)
        if passed is None:
            return
        by_s, rule = passed + mark.within_min * 60.0, case.rules.named_chill()
    _, ready = say.better_chill(case.made, span, case.seen.now_c(meters.WARM), mark.to_c, case.now)
    due = max(case.moment(by_s) - (ready - case.now) - TO_LOAD, case.moment(off_s) + SETTLES)
    if (since := _told_of_it(case)) is not None:
        # Who tells of what is left is about to see to it.
        due = max(due, min(since + JUST_TOLD, case.moment(by_s) - LAST_CALL))
    if (told := case.view.told.get(f"{LEFT}{case.made.name}")) is not None:
        # How to chill it was answered just then: they are given the time to do so.
        due = max(due, case.moment(float(told["at"])) + SETTLES)
    if case.moment(by_s) <= case.now:
        return
    left = "what is left of the " if case.made.dish.served else ""
    fix, _ = say.better_chill(case.made, span, case.seen.now_c(meters.WARM), mark.to_c, max(due, case.now))
    done = "in the fridge" if "fridge_by_min" in case.rules.figures else f"below {number(mark.to_c)}"
    yield case.prompt(f"left:{off_s:.0f}", case.view.when_there(due),
                      f"{left}{case.made.name} off the heat since {say.at(off_s, case.view)}: {done} by "
                      f"{say.at(by_s, case.view)} ({rule}).\n{fix}", case.moment(by_s), span.who)


def _told_of_it(case: Case) -> datetime | None:
    """When it was first told after the meal that there is some left."""
    served = case.made.dish.stages.get("served")
    return None if served is None else next((dated.told for dated in case.made.facts if dated.told > served
                                             and isinstance(dated.fact, v.Food | v.Load)), None)


def _kept_hot_s(case: Case) -> list[float]:
    """When it was found hot enough in a hot cupboard, or of what stood in one: it does not cool on the side yet."""
    held = next((span.at_s for span in case.made.spans if span.where == "hot_hold" and span.at_s >= case.out_s), None)
    if held is None:
        return []
    stores = [dated.at.timestamp() for dated in case.made.facts if isinstance(dated.fact, v.StoreHeat)
              and dated.fact.place == "hot_hold" and dated.fact.celsius >= case.rules.hot_hold_c]
    probed = [anchor.at_s for anchor in case.made.anchors
              if anchor.measured and anchor.at_s >= held and anchor.celsius >= case.rules.hot_hold_c]
    return [*stores, *probed]


def _missed(case: Case, stages: list[meters.ChillStage], probe: Anchor) -> Iterable[Prompt]:
    """A probe shows that a mark was not reached in its time."""
    missed = next((stage for stage in stages if stage.by_s <= probe.at_s and probe.celsius > stage.mark.to_c), None)
    if missed is None:
        return
    grown = say.growth_line(meters.grown(case.seen))
    again = "Reheat it fully now and chill it again in shallow trays on ice, or discard it."
    act = grown if "discard" in grown else again
    yield case.prompt(f"late:{case.made.chill_begun_s:.0f}", case.now,
                      f"{case.made.name} {number(probe.celsius)} at {say.at(probe.at_s, case.view)}, below "
                      f"{number(missed.mark.to_c)} was wanted by {say.at(missed.by_s, case.view)} "
                      f"({case.rules.named_chill()}).\n{act}")


def _called_chilled(case: Case, span: Span, probed: list[Anchor]) -> Iterable[Prompt]:
    """Called chilled, and a probe says that it is not cold."""
    if not probed or probed[-1].celsius <= case.rules.cold_hold_c:
        return
    last = probed[-1]
    if last.at_s < span.at_s - LAST_PROBE_S:
        return
    yield case.prompt(f"uncold:{span.at_s:.0f}", case.now,
                      f"{case.made.name} called chilled, {number(last.celsius)} at {say.at(last.at_s, case.view)}: "
                      f"{number(case.rules.cold_hold_c)} or less wanted ({case.rules.named('cold_hold_c')}). Shallow "
                      "trays on ice, stir, probe again; do not count it as cold yet.")


def _vessel_words(case: Case) -> str:
    span = case.made.last
    assert span is not None
    vessel = span.vessel
    words = "as it stands" if vessel is None else vessel.words
    return f"{words} {_WHERE[span.method]}"


def _probe_trays(case: Case, stages: list[meters.ChillStage], fresh: bool) -> Iterable[Prompt]:
    """A chill that may be late and was not probed: a reading is asked for while ice can still help."""
    doubtful = next((stage for stage in stages if stage.miss > MISS_PROBED), None)
    span = case.made.last
    if doubtful is None or fresh or span is None:
        return
    due = case.moment(span.at_s + 0.7 * (doubtful.by_s - span.at_s))
    if due < case.now:
        return
    who = span.who or say.owner(case.view, case.made)
    yield Prompt("reading", f"reading:chill:{case.made.name}:{span.at_s:.0f}", due,
                 f"{who}: probe the {case.made.name} trays: below {number(doubtful.mark.to_c)} by "
                 f"{say.at(doubtful.by_s, case.view)} ({case.rules.named_chill()}). If behind, more ice and stir.",
                 None, case.made.name, who, case.moment(doubtful.by_s), urgent=True)


def reheated_again(case: Case) -> Iterable[Prompt]:
    """On the heat a second time after it was reheated and cooled, where the rule allows it once."""
    span = case.made.last
    if span is None or span.where != "reheat" or "reheat_times" not in case.rules.figures:
        return
    spans = case.made.spans
    before = next((index for index in range(len(spans) - 1) if spans[index].where == "reheat"), None)
    if before is None or not any(each.where in ("chill", "cold") for each in spans[before + 1:-1]):
        return
    first = say.at(spans[before].at_s, case.view)
    yield case.prompt(f"twice:{span.at_s:.0f}", case.now,
                      f"{case.made.name} is on to reheat a second time, first at {first}: once only "
                      f"({case.rules.named('reheat_times')}). Discard it, and heat only what is served.")


def _reheat_best(case: Case) -> tuple[float, float | None] | None:
    """Since when it is reheated [epoch s] and the highest probe since; None: it is not."""
    started = case.made.last_of("reheat")
    ended = case.made.fact(v.Reheat, "done")
    if started is None and ended is None:
        return None
    # Called reheated, and nobody said when it went on: what was probed in the hours before counts.
    from_s = started.at_s if started is not None else ended.at.timestamp() - REHEAT_BACK_S if ended else 0.0
    return from_s, max((anchor.celsius for anchor in case.made.anchors
                        if anchor.measured and anchor.at_s >= from_s), default=None)


def on_the_line(case: Case, from_s: float, figure: float) -> datetime | None:
    """When a reheat is there on the line through its last two probes, or from the cold through its only one; None: it
    was not probed or does not rise. It flattens as it comes near the pot's heat, so that the line is the early edge."""
    probed = [(anchor.at_s, anchor.celsius) for anchor in case.made.anchors
              if anchor.measured and anchor.at_s >= from_s][-2:]
    if len(probed) == 1:
        probed.insert(0, (from_s, min(case.rules.cold_hold_c, probed[0][1])))
    if not probed:
        return None
    (begun_s, cold), (last_s, last) = probed
    rate = (last - cold) / max(last_s - begun_s, 60.0)
    return case.moment(last_s + (figure - last) / rate) if rate > 0.0 else None


def _too_slow(case: Case, from_s: float, figure: float) -> datetime | None:
    """When a reheat that was probed twice is there, if that is after the meal it is near to.

    The straight line is the early edge; what flattens towards the heat of the pot is looked at where that is close.
    """
    probed = [anchor for anchor in case.made.anchors if anchor.measured and anchor.at_s >= from_s]
    serve, at = case.view.record.serve, on_the_line(case, from_s, figure)
    if len(probed) < 2 or at is None or serve is None or not timedelta(0) <= serve - case.now <= NEAR_MEAL:
        return None
    if at > serve:
        return at
    flat = _flattening(probed[-2], probed[-1], figure)
    later = case.moment(flat) if flat is not None else at
    return later if later > serve and at > serve - CLOSE else None


# The pot's wall and what boils in it keep a soup near this while it warms up [degC]; so close to the meal the straight
# line is no comfort (judgement).
POT_C, CLOSE = 110.0, timedelta(minutes=10)


def _flattening(before: Anchor, last: Anchor, figure: float) -> float | None:
    """When the figure is reached if the gap to the pot's heat closes by the same share a minute [epoch s]."""
    if not before.celsius < last.celsius < figure < POT_C or last.at_s <= before.at_s:
        return None
    rate = math.log((POT_C - before.celsius) / (POT_C - last.celsius)) / (last.at_s - before.at_s)
    return last.at_s + math.log((POT_C - last.celsius) / (POT_C - figure)) / rate


def reheat_short(case: Case) -> bool:
    """Whether the last probe of a reheat says that it is not there: that is spoken of, not the clock of a hold."""
    found = _reheat_best(case)
    return found is not None and found[1] is not None and found[1] < case.rules.value("reheat_c")


def reheating(case: Case) -> Iterable[Prompt]:
    """A reheat that is called done, or is about to be served, below the figure; or that runs out of time."""
    found = _reheat_best(case)
    figure = case.rules.value("reheat_c")
    if found is None or (found[1] is not None and found[1] >= figure):
        return
    from_s, best = found
    started = case.made.last_of("reheat")
    rule = case.rules.named("reheat_c")
    after = started is None or case.made.last is not started
    serve = case.view.record.serve
    soon = serve is not None and timedelta(0) <= serve - case.now <= TO_LOAD and best is not None
    hold_s = case.rules.get("reheat_hold_s")
    late = _too_slow(case, from_s, figure)
    wants = f"{number(figure)}" + (f" for {number(hold_s / 60)} min" if hold_s and hold_s >= 60 else
                                   f" for {number(hold_s)} s" if hold_s else "")
    if after or soon:
        known = f"core {number(best)}" if best is not None else "no core reading"
        # Said just before the meal, and nothing probed since: it stands, and is not said again.
        soon_at = case.view.said.get(f"{KIND}:reheat:{from_s:.0f}:soon:{case.made.name}")
        stands = soon_at is not None and not any(
            anchor.measured and anchor.at_s > soon_at.timestamp() for anchor in case.made.anchors)
        yield case.prompt(f"reheat:{from_s:.0f}:{'done' if after and not stands else 'soon'}", case.now,
                          f"{case.made.name} reheat not there yet: {known}, {wants} wanted in all parts ({rule}). Back "
                          "on the heat and probe before it is served.")
        return
    if late is not None and serve is not None:
        yield case.prompt(f"reheat:{from_s:.0f}:slow", case.now,
                          f"{case.made.name} reheat is slow: core {number(best or 0.0)}, at this rate {number(figure)} "
                          f"about {clock(late)}, later than {clock(serve)} ({rule}). More heat, smaller pots, or serve "
                          "later.", serve)
        return
    limit = case.rules.get("reheat_by_min")
    if limit is not None and started is not None:
        by = case.moment(started.at_s) + timedelta(minutes=limit)
        # One that was probed and is well on its way is asked for later.
        at, surely = on_the_line(case, from_s, figure), meters.reaches(case.seen, figure)
        on_its_way = at is not None and at <= by and surely is not None and case.moment(surely) <= by
        yield case.prompt(f"reheat:{started.at_s:.0f}", by - (LAST_CALL if on_its_way else HOLD_NOTICE),
                          f"{case.made.name} on to reheat since {say.at(started.at_s, case.view)}: {wants} by "
                          f"{clock(by)} ({case.rules.named('reheat_c', 'reheat_by_min')}). Core now?")
