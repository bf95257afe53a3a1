"""Stages of a dish: browned, assembled, set aside, resting, served."""

from __future__ import annotations

from typing import Any

from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene
from bot.reading.subjects import subject_of

_STAGES: tuple[tuple[str, str], ...] = (
    (
        "seared",
        r"(?:meat|<D>|it|they|joint)(?: (?:'s|is|are|now|all|nice|nicely|and|well|already))* brown(?: (?:now|nicely))* "
        r"(?:from|on|all over|over)(?: (?:all|both|every))* ?(?:sides?|over)?|"
        r"(?:(?:all|well|nicely|now|just|meat|both|is|'s|are|been|fully|both sides|lovely and) )*(?:browned"
        r"|seared|caramelised|caramelized|coloured up|coloured|charred)(?: (?:off|up|all over|all sides"
        r"|well|nicely|and|both sides|on all sides|meat|it|<D>|in the pan|over flames|all|by fire|now"
        r"|hard))*|got colour on (?:it|<D>|meat|them)|(?:searing|browning) (?:is |all |'s )?(?:done"
        r"|finished|complete)|(?:done|finished) (?:searing|browning)|got a good (?:sear|crust) on(?: it"
        r"| <D>)?|good (?:crust|colour) on (?:it|<D>|meat)",
    ),
    (
        "assembled",
        r"(?:assembled|put together|all together|built|layered|made up|constructed|all made up|pot packed"
        r"|pot 's packed|packed into pot|assembly done|all in pot|together in pot)(?: (?:in pot|in tin"
        r"|and ready|now|all))*|(?:done|finished) assembling|assembling done",
    ),
    (
        "aside",
        r"(?:left|sat|sitting|waiting|kept|parked) on side(?= (?:till|until) )"
        r"|(?:set|put|left|kept|sat|sitting|standing|stood|parked|waiting|is|are|'s)(?: it| them| <D>"
        r"| pot)?(?: (?:all|well|now))* (?:aside|to <N> side|off to side|to side)(?: (?:for now|off))*"
        r"|aside(?= ?(?:$|[.,;!|]|till|until|for|while))|parked(?= ?(?:$|[.,;!|]|till|until|for|while|on))",
    ),
    (
        "resting",
        r"resting(?! (?:at|place))(?: (?:under foil|<D>|it|them|meat|on board|in tin|off heat|now|covered"
        r"|on side|in pan|out of oven))*|(?:left|put|set|out|off) to rest|having a rest|at rest|(?:on"
        r"|under) foil(?: to rest)?|rested|(?:its|'s) resting|to rest under foil|rests"
        r"|to rest(?= ?(?:$|[.,;!|]|now|under ))",
    ),
    (
        "served",
        r"(?:all |now |just |been |we have |have |food |lunch |dinner |mains? |plates? )*(?:served"
        r"|dished up|plated|plated up|dished out|all dished up)(?: (?:up|it|<D>|everyone|out|all|now"
        r"|to guests|guests|at <T>))*|plates(?: (?:'s|are|is|have|has|all|just|now))* (?:gone out|out|away"
        r"|gone|up|down|on table|on tables)|food(?: (?:'s|is|has|all|now|just))* (?:gone out|out|on table"
        r"|on tables|served|on plates|on the table)|everyone(?: (?:'s|is|has|are|now|been))* (?:eating"
        r"|served|got food|fed|tucking in|been fed|got a plate)|they(?: 're| are) eating|we are eating"
        r"|(?:guests|people|everybody)(?: (?:are|is|has|have|now|all))* (?:food|eating|served|fed|tucking in)"
        r"|(?:<D>)(?: (?:'s|is|are|has|now|all|both"
        r"|on|gone))* (?:on table|on tables|gone out to guests|on plates|gone to table|at table|plated)"
        r"|on (?:the )?plates|mains(?: (?:are|have|all|gone))* out|sent out|taken to table"
        r"|went out to guests|on tables now|lunch is (?:served|out|up)"
        r"|(?:carved|sliced|cut up|portioned) and (?:now )?"
        r"(?:served|out|on (?:the )?tables?|on (?:the )?plates)",
    ),
)


def stages(scene: Scene) -> None:
    """Browned, assembled, set aside, resting, served."""
    for stage, pattern in _STAGES:
        for found in scene.find(pattern):
            if not _stage_fits(scene, stage, found.first, found.match.group()):
                continue
            fields: dict[str, Any] = {"is": "stage", "stage": stage}
            inside = [item for item in scene.items[found.first : found.last] if item.kind == "D"]
            if inside:
                fields["dish"] = str(inside[0].value)
            if (before := _same_act(scene, stage, found.first)) is not None:
                before.fields.update(fields)  # "plated and served the ribs"
                before.last = found.last
                scene.use(found.first, found.last, f"stage {stage}")
                continue
            scene.add(fields, found.first, found.last, f"stage {stage}")


def _same_act(scene: Scene, stage: str, first: int) -> Draft | None:
    """The stage that the words right before the "and" told already, of no dish yet."""
    for draft in scene.drafts:
        gap = scene.items[draft.last : first]
        same = draft.kind == "stage" and draft.fields.get("stage") == stage and "dish" not in draft.fields
        if same and draft.last <= first and all(item.word in ("and", "then") for item in gap):
            return draft
    return None


def _stage_fits(scene: Scene, stage: str, first: int, text: str) -> bool:
    a, b = scene.segment(first)
    words = set(scene.row.words(a, b))
    dish = subject_of(scene, first) is not None
    plain = text.split()
    if text.startswith("to rest") and not any(draft.fields.get("act") == "out" for draft in scene.drafts):
        return False  # "ribs out, lid off to rest", and not "I'm off to rest"
    if stage == "resting":
        if any(
            draft.kind == "stage" and draft.fields.get("stage") == "seared" and draft.last <= first and "pan" in words
            for draft in scene.drafts
        ):
            return False
        if "foil" in plain and not (set(plain) & {"rest", "resting"}) and not dish:
            return False
        return not words & bag("dough legs feet arm her him hand peel")
    if (
        stage == "served"
        and words & bag("drinks tea coffee cake starter starters purpose bread salad wine water canapes")
        and not dish
    ):
        return False
    if stage == "served" and {"years", "months", "time", "army"} & words:
        return False
    if stage == "served" and text in ("on plates", "on the plates", "sent out"):
        return dish or (len(scene.items) <= 4 and bool(scene.context.out or scene.context.dishes))
    if stage == "assembled":
        return (dish or bool(words & bag("pot pots dish everything all"))) and not words & bag(
            "table tables fire tent chairs gazebo team everyone kindling marquee list"
        )
    if stage == "aside":
        return not words & bag("time money chairs wood logs embers lid day ashes") and (
            dish or bool(words & bag("pot it meat dish them pots")) or len(words) <= 4
        )
    if stage == "seared":
        if words & bag("butter onions crust flour garlic bones") and not dish:
            return False
        return not words & bag("dome hand arm lawn grass fingers door sleeve beer") or dish
    return True
