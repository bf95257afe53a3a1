"""The yard's weather as the brick feels it: colder or warmer air, wind and rain on the shell, from when they are told.

An unknown of the oven (its outer film, its leaks, the air of the yard as first told) stays what it is; the weather of
the hour comes on top and goes again.
"""
from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from skills.oven.parameters import OvenNumbers

# How much better the outside takes heat, film and radiation together: in wind of 3 to 5 m/s between the sheltered and
# the windward side of a rough wall (the DOE-2 model for outside surfaces); a wet shell evaporates as well (judgement).
WINDY_FILM, RAIN_FILM = 1.7, 2.5
# Air passes a shut door and the joints with the square root of the pressure on them (judgement).
WINDY_LEAK = 1.5


@dataclass(frozen=True)
class Yard:
    """warmer_k: yard air less the first told [K]; blowing, raining: as last told."""
    warmer_k: float = 0.0
    blowing: bool = False
    raining: bool = False

    def told(self, warmer_k: float | None, sky: Literal["dry", "rain"] | None,
             wind: Literal["calm", "windy"] | None) -> Yard:
        """The weather after somebody has spoken of it; what he does not speak of stays."""
        return replace(self, warmer_k=self.warmer_k if warmer_k is None else warmer_k,
                       blowing=self.blowing if wind is None else wind == "windy",
                       raining=self.raining if sky is None else sky == "rain")

    def over(self, numbers: OvenNumbers) -> OvenNumbers:
        """The oven's numbers under this weather."""
        if self == FAIR:
            return numbers
        film = (WINDY_FILM if self.blowing else 1.0) * (RAIN_FILM if self.raining else 1.0)
        return numbers.but({"ambient_k": numbers["ambient_k"] + self.warmer_k,
                            "outer_w_m2k": numbers["outer_w_m2k"] * film,
                            "leak_w_k": numbers["leak_w_k"] * (WINDY_LEAK if self.blowing else 1.0)})


# As when nobody has spoken of it.
FAIR = Yard()
