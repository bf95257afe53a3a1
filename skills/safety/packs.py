"""The figures of each region's rules, from its data file, each with its source and how well it is known."""
from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files

REGIONS = ("uk", "scotland", "us", "anz", "eu")
# What may be said as a rule; everything else is guidance to be checked locally.
AS_RULE = ("read", "read via")


@dataclass(frozen=True)
class Figure:
    """One figure. The unit ends its key (_c degC, _min, _s). mark: read, read via, memory, practice."""
    key: str
    value: float
    words: str
    source: str
    mark: str

    @property
    def firm(self) -> bool:
        return self.mark in AS_RULE


@dataclass(frozen=True)
class ChillMark:
    """One stage of a cooling rule: from_c to to_c [degC] within within_min [min].

    starts: "heat", the clock runs from passing from_c; "chill", from when chilling begins (the time before it has its
    own allowance in the hold figures).
    """
    from_c: float
    to_c: float
    within_min: float
    starts: str
    words: str
    source: str
    mark: str

    @property
    def firm(self) -> bool:
        return self.mark in AS_RULE


@dataclass(frozen=True)
class Pack:
    """The rule set of one region. once: a time below the hot-hold figure is allowed one single time."""
    region: str
    title: str
    short: str
    once: bool
    figures: Mapping[str, Figure]
    chill: tuple[ChillMark, ...]
    allergens: tuple[str, ...]
    allergens_source: str
    allergens_mark: str

    def value(self, key: str) -> float:
        return self.figures[key].value

    def get(self, key: str) -> float | None:
        figure = self.figures.get(key)
        return None if figure is None else figure.value

    @property
    def hot_hold_c(self) -> float:
        return self.value("hot_hold_c")

    @property
    def cold_hold_c(self) -> float:
        return self.value("cold_hold_c")

    def named(self, *keys: str) -> str:
        """ "UK rule", or "UK rule, check locally" where a figure was not read in a rule."""
        firm = all(self.figures[key].firm for key in keys if key in self.figures)
        return self.short if firm else f"{self.short}, check locally"

    def on_a_hot_day(self) -> Pack:
        """The same rules with the shorter time that food may stand in hot air."""
        short = self.figures["hot_day_min"]
        cut = [key for key in ("aside_min", "chill_by_min") if key in self.figures and self.value(key) > short.value
               and (key == "aside_min" or short.firm)]
        return replace(self, figures={**self.figures, **{key: replace(short, key=key) for key in cut}})

    def named_chill(self) -> str:
        return self.short if all(mark.firm for mark in self.chill) else f"{self.short}, check locally"


@cache
def pack(region: str) -> Pack:
    """The rule set of a region, one of REGIONS.

    >>> pack("us").hot_hold_c
    57.0
    """
    if region not in REGIONS:
        raise ValueError(f"no rule set for {region!r}; there are {', '.join(REGIONS)}")
    data = tomllib.loads(files("skills.safety").joinpath("packs", f"{region}.toml").read_text(encoding="utf-8"))
    figures = {row["key"]: Figure(**row) for row in data["figures"]}
    return Pack(region, data["title"], data["short"], data["once"], figures,
                tuple(ChillMark(**row) for row in data["chill"]), tuple(data["allergens"]), data["allergens_source"],
                data["allergens_mark"])


def rules_text(region: str) -> str:
    """Every figure of a region with its source, for people to read and check."""
    rules = pack(region)
    lines = [f"{rules.title} ({rules.short})",
             "Guidance, not law: follow your own food-safety plan, your local code and your officer.", ""]
    rows = [(figure.words, figure.source, figure.mark, figure.firm) for figure in rules.figures.values()]
    rows += [(mark.words, mark.source, mark.mark, mark.firm) for mark in rules.chill]
    rows.append((f"{len(rules.allergens)} allergens to tell: {', '.join(rules.allergens)}", rules.allergens_source,
                 rules.allergens_mark, rules.allergens_mark in AS_RULE))
    for words, source, mark, firm in rows:
        how = {"read": "read in the text", "read via": "read in a page that quotes it", "memory": "from memory",
               "practice": "our choice or common practice"}[mark]
        lines.append(f"- {words}")
        lines.append(f"    {source}; {how}{'' if firm else ': CHECK LOCALLY'}")
    return "\n".join(lines)
