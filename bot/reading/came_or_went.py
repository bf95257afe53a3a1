"""Who came or went, as a reason for a bare head count: "22 now, two off sick"."""

from __future__ import annotations

from bot.reading.scene import Scene, compiled, is_stop

_CAME_OR_WENT = compiled(
    r"(?:<N>|someone|somebody|one|couple|few|some|they|he|she|all|family|kids?|lads?|girls?|boys?|teachers?|parents?)"
    r"(?: (?:'s|has|have|are|is|just|of (?:them|us)|more|kids|people|guests|off|also|now|had to))*"
    r" (?:sick|ill|poorly|brought (?:<DW> ){1,3}?along|brought (?:her|his|their|a|an|two|some|along) ?(?:<DW>)?"
    r"|turned up|showed up|dropped out|cancelled|cried off|pulled out|gone home|went home|left early|not coming"
    r"|not here|not turned up|can't come|can't make it|walked in|joined(?: us)?|arrived|late additions?)(?: <W>){0,2}"
)


def came_or_went(scene: Scene, first: int, last: int) -> bool:
    """ "22 now, two off sick": the clause behind a bare number says who came or went."""
    begin = last + 1
    if first or last >= len(scene.items) or not is_stop(scene.items[last]) or begin >= len(scene.items):
        return False
    _, end = scene.segment(begin)
    start = scene.row.offset(begin)
    clause = scene.row.canon[start : scene.row.offset(end)] if end < len(scene.items) else scene.row.canon[start:]
    return _CAME_OR_WENT.fullmatch(clause.strip()) is not None
