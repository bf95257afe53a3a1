"""First care when somebody is hurt, said at once to whoever told of it, once an incident.

First-aid teaching, from memory where no source is named: a first-aider, the emergency number and local advice go first;
nothing here is a diagnosis.
"""
from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import datetime, timedelta

from skills import vocabulary as v
from skills.skill import Prompt
from skills.view import View
from skills.wording import clock, in_lines

# Cool running water on a burn (UK cool, call, cover page; an NHS burns unit says 10 to 30).
BURN_WATER_MIN = 20
# For so long it is one incident, whoever tells of it again, and its first care is worth saying (judgement).
ONE_INCIDENT = timedelta(minutes=30)


def burn_advice(at: datetime) -> str:
    """First care for a burn; a first-aider and local advice go first."""
    until = clock(at + timedelta(minutes=BURN_WATER_MIN))
    return (f"burn: {BURN_WATER_MIN} min of cool running water, at once, till {until}; rings and cloth off unless "
            "stuck; no ice, no butter or cream. First-aider; medical help if in doubt.")


_EYE = ("eye: rinse it with clean cool water, 20 min if it was hot or lime, lens out, no rubbing. First-aider; medical "
        "help if it still hurts or the sight is odd.")
# In the order in which they are tried: what cannot wait first.
_CARE = (
    ("choking", r"chok\w+",
     "choking: let them cough; if they cannot, five blows between the shoulders, then five pulls in under the ribs. "
     "The emergency number if it does not clear."),
    ("reaction", r"allergic|reaction|anaphyla\w+|stung|sting|throat (?:is )?(?:swell|clos|tight)\w*",
     "a reaction or a sting can turn bad fast: the emergency number at swelling, wheeze or faintness; their own pen "
     "now if they have one. Lying down, feet up. Keep what they ate."),
    ("collapse", r"faint\w*|passed out|collapsed|keeled over|unconscious|out cold|fitting|seizure",
     "lay them down in the open air. The emergency number if they do not come round at once or do not breathe well; "
     "somebody stays with them."),
    ("eye", r"(?:in|into) (?:\w+ ){0,3}eyes?|eye", _EYE),
    ("burn", r"burn\w*|scald\w*|singe\w*|blister\w*|scorch\w*|(?:touched|grabbed|leant|leaned|brushed) .*|splash\w*|"
             r"spil\w+|(?:red|sore|stinging)", ""),
    ("alight", r"fire|alight|caught(?: light)?|flames?",
     "alight: people back first. Water on cloth or wood, never on fat or oil: cover that, heat off. Not out at once: "
     "everybody out and the fire service."),
    ("cut", r"cut|gash\w*|slic\w+|stab\w*|nick\w*|bleed\w*|nosebleed|graz\w+|scrap\w+|splinter",
     "press on it with a clean cloth and keep it up, 10 min without looking. First-aider; the emergency number if it "
     "does not stop. Food it touched goes."),
    ("head", r"head|neck|face|chin|nose",
     "a knock: sit them still, cold pack in a cloth, somebody stays with them. Sick, drowsy or muddled, or a sore "
     "neck: the emergency number."),
    ("fall", r"slipped|tripped|fell|fallen|fall|twist\w*|sprain\w*|ankle|wrist|broke\w*|crush\w*|trapped|jammed",
     "do not move it if it may be broken; cold pack in a cloth, up and still. First-aider; medical help if it swells "
     "fast or will not bear weight."),
)


def hurts(view: View) -> Iterable[Prompt]:
    """The first care that goes with each incident just told, at the moment it is told."""
    begun: dict[str, datetime] = {}
    for dated in view.record.facts:
        fact = dated.fact
        if not isinstance(fact, v.Incident) or fact.follow_up:
            continue
        kind, care = care_for(fact.what, dated.at)
        if not care:
            continue
        if kind in begun and dated.told - begun[kind] <= ONE_INCIDENT:
            continue
        begun[kind] = dated.told
        if view.now - dated.told <= ONE_INCIDENT:
            said = in_lines(f"{dated.who}: {care}")
            yield Prompt("safety", f"caution:hurt:{kind}:{dated.told:%d%H%M}", view.now, said, None,
                         None, dated.who, dated.told + ONE_INCIDENT, urgent=True)


def care_for(what: str, at: datetime) -> tuple[str, str]:
    """Which kind of harm the words tell of, and its first care; empty where there is none to give."""
    for kind, words, care in _CARE:
        if re.search(rf"\b(?:{words})\b", what.lower()):
            return kind, burn_advice(at) if kind == "burn" else care
    return "", ""
