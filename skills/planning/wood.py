"""Wood for a firing: kilograms and splits at the moisture that it has, a pin meter's dry basis told apart."""
from __future__ import annotations

from dataclasses import dataclass

from skills.kitchen.ensemble import USUAL_MOISTURE_PCT
from skills.physics.combustion import heating_value_mj_kg, wet_basis_pct
from skills.record import ClassRecord
from skills.vocabulary import Wood

# Above this the fire smokes and stalls more than it heats: ovens want 20 % or less (council advice on solid fuels).
DAMP_PCT, USELESS_PCT = 22.0, 35.0


@dataclass(frozen=True)
class Stack:
    """The wood at hand. wet_pct [%]: water by total weight; told_pct, basis: as it was said, None: nothing was."""
    wet_pct: float = USUAL_MOISTURE_PCT
    told_pct: float | None = None
    basis: str | None = None

    @property
    def burns(self) -> bool:
        """Whether a firing can be carried on it at all."""
        return self.wet_pct <= USELESS_PCT

    @property
    def reckoned_pct(self) -> float:
        """The moisture that the plan reckons with: wood that will not burn is to be replaced by dry."""
        return self.wet_pct if self.burns else USUAL_MOISTURE_PCT

    def kg(self, usual_kg: float) -> float:
        """The weight that gives the heat of usual_kg at the usual moisture [kg]."""
        return usual_kg * float(heating_value_mj_kg(USUAL_MOISTURE_PCT)) / float(heating_value_mj_kg(self.reckoned_pct))

    def splits(self, usual_kg: float, piece_kg: float) -> int:
        """So many splits, each of which weighs piece_kg [kg] at the usual moisture."""
        dry_kg = piece_kg * (1.0 - USUAL_MOISTURE_PCT / 100.0)
        return max(1, round(self.kg(usual_kg) * (1.0 - self.reckoned_pct / 100.0) / dry_kg))

    def remark(self) -> str:
        """What to say of this wood, if anything."""
        if self.told_pct is None:
            return ""
        if not self.burns:
            return f"wood at {self.told_pct:.0f} % will not carry a firing: bring some at 20 % or less"
        on = "" if self.basis == "wet" else f" ({self.told_pct:.0f} on a pin meter, dry basis)"
        return f"at {self.wet_pct:.0f} % water{on}" + ("; drier burns better" if self.wet_pct > DAMP_PCT else "")


def stack(moisture_pct: float | None, basis: str | None = None) -> Stack:
    """The wood from a reading. Without a basis it is a pin meter's: most read on dry weight.

    >>> round(stack(25.0).wet_pct), round(stack(25.0, "wet").wet_pct)
    (20, 25)
    """
    if moisture_pct is None:
        return Stack()
    wet = moisture_pct if basis == "wet" else wet_basis_pct(moisture_pct)
    return Stack(min(wet, 95.0), moisture_pct, basis or "dry")


def wood_told(record: ClassRecord) -> Stack:
    """The wood as it was last read in this class."""
    told = [dated.fact for dated in record.facts if isinstance(dated.fact, Wood)]
    return stack(told[-1].moisture_pct, told[-1].basis) if told else Stack()
