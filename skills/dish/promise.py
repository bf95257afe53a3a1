"""The whole promise of a dish: tender, liquor left, rested and on the table by the time people eat."""
from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from skills.dish.carry import carry
from skills.dish.cuts import cut_of, taken_for
from skills.dish.finishes import Finish
from skills.instants import Instant
from skills.kitchen import Forecast
from skills.record import DishRecord
from skills.view import REST, View
from skills.wording import Floats, capital, clock, day_clock, is_plural, odds, quantile, time_range, to_five, was

# Less liquor than this is as good as dry: the bottom of a 25 cm pot no longer covered (common practice, no source).
DRY_L = 0.05
# Who looks in sees a pot that is low and fills it: about once an hour, under so much liquor for each kg of food, up to
# so much (common practice, no source). Only what dries out between two looks is lost.
LOOKS_S = 5400.0
LOW_L_KG, GOOD_L_KG, LEAST_L = 0.10, 0.17, 0.2
USUAL_KG = 2.0                       # weight of food if none was said


@dataclass(frozen=True)
class Promise:
    """What the models believe of one dish at one time."""
    dish: DishRecord
    now: datetime
    tender_s: Floats
    kept: Floats
    serve: datetime | None

    @property
    def share(self) -> float:
        """The share of the ensemble that has it tender, not dry before help, rested and served in time [-]."""
        return float(np.mean(self.kept))

    def eta_line(self) -> str:
        """When it is done; a dish that the table does not know says what it was taken for."""
        guess = taken_for(self.dish)
        name = capital(self.dish.name) + (f" (taken for {guess})" if guess else "")
        if self.called or not self.by_now:
            return f"{name} {self.when()}."
        return f"{name} {self.when()}: {odds(float(np.mean(self.tender_s <= self.now.timestamp())))}. " \
               f"{capital(self.finish.trial)} {'them' if is_plural(self.dish.name) else 'it'}."

    def when(self) -> str:
        """ "tender about 12:50 (12:15 to 13:25)", "should be set by now", "was called tender at 12:40" """
        if self.called and self.dish.tender_at is not None:
            return f"{was(self.dish.name)} called {self._word} at {clock(self.dish.tender_at)}"
        if self.by_now:
            return f"should be {self.finish.done} by now"
        return f"{self.finish.done} {time_range(self.tender_s, self.now)}"

    @property
    def called(self) -> bool:
        """Whether somebody has found it done."""
        return self.dish.tender in ("tender", "falling") and self.dish.tender_at is not None

    @property
    def by_now(self) -> bool:
        return float(np.median(self.tender_s)) <= self.now.timestamp()

    @property
    def _word(self) -> str:
        """As it is called: its own word for done, or falling apart."""
        return "falling apart" if self.dish.tender == "falling" else self.finish.done

    @property
    def finish(self) -> Finish:
        """How this dish comes to be done."""
        return cut_of(self.dish)[0].finish

    def odds_line(self) -> str:
        if self.serve is None:
            return ""
        return f"On the table at {day_clock(self.serve, self.now)}: {odds(self.share)}."


def promise(dish: DishRecord, view: View, by: datetime | None = None,
            forecast: Forecast | None = None) -> Promise | None:
    """The promise of a dish, or None if the models hold nothing of it, or it bakes while somebody stands by.

    `forecast`: another than today's.
    """
    if cut_of(dish)[0].finish.brief:
        return None
    forecast = forecast or view.forecast()
    if forecast is None or dish.served or dish.name not in forecast.dishes:
        return None
    believed = forecast.dishes[dish.name]
    serve = by or view.serve
    if by is None and serve is not None and serve < view.now:
        serve = None                        # that meal is over: what cooks on is for another
    tender_s = np.asarray(believed.tender_s, dtype=np.float64)
    if dish.tender in ("tender", "falling") and dish.tender_at is not None:
        tender_s = np.minimum(tender_s, dish.tender_at.timestamp())
    kept = np.ones_like(tender_s)
    if serve is not None:
        out_s = serve.timestamp() - REST.total_seconds()
        kept = (tender_s - _rests_s(dish, view, tender_s) <= out_s).astype(np.float64)
        litres = believed.liquid_l
        if len(litres) and (dish.liquid_l or 0) > DRY_L:
            last = int(np.clip(np.searchsorted(forecast.at_s, out_s), 0, len(forecast.at_s) - 1))
            kept = kept * ~dries_out(litres[: last + 1], forecast.at_s[: last + 1], tender_s, dish.meat_kg or USUAL_KG)
    return Promise(dish, view.now, tender_s, kept, serve)


def _rests_s(dish: DishRecord, view: View, tender_s: Floats) -> float:
    """How long before it is done it may come out, since its rest brings it there [s]; 0 for what does not rest."""
    found = carry(dish, view)
    if found is None:
        return 0.0
    early_s = quantile(tender_s, 0.5) - quantile(found.at_s, 0.5)
    return float(np.clip(early_s, 0.0, REST.total_seconds())) if np.isfinite(early_s) else 0.0


def dries_out(litres: Floats, at_s: Floats, tender_s: Floats, kg: float) -> NDArray[np.bool_]:
    """Whether the liquor (times, members) [l] is ever gone before it is tender or somebody looks in (members,)."""
    left, low_l = litres[0].copy(), max(LEAST_L, LOW_L_KG * kg)
    gone, looked_s = left < DRY_L, at_s[0]
    for mark in range(1, len(at_s)):
        left += litres[mark] - litres[mark - 1]
        gone |= (left < DRY_L) & (at_s[mark] <= tender_s)
        if at_s[mark] - looked_s >= LOOKS_S:
            left, looked_s = np.where(left < low_l, max(GOOD_L_KG * kg, low_l), left), at_s[mark]
    found: NDArray[np.bool_] = gone
    return found


def first_look(dish: DishRecord, tender_mid_s: float, now: datetime) -> datetime:
    """A first look at six tenths of the forecast time; before that it tells nothing (common practice, no source)."""
    start = (dish.in_at or now).timestamp()
    return to_five(Instant.fromtimestamp(start + 0.6 * (tender_mid_s - start), now.tzinfo))
