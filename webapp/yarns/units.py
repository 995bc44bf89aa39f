"""Units: the three constants of definition, and lengths in cm or inches as patterns write them."""

from __future__ import annotations

from enum import Enum

MM_PER_INCH = 25.4
METRES_PER_YARD = 0.9144
GRAMS_PER_OUNCE = 28.349523125
"""Exact by definition: the international yard and pound agreement of 1959."""

MM_PER_CM = 10.0
EIGHTHS = 8


class LengthUnit(Enum):
    """The unit in which lengths are shown and asked for; inside, all lengths are mm."""

    CM = "cm"
    INCH = "in"

    @property
    def mm(self) -> float:
        """Length of one unit, mm."""
        return MM_PER_CM if self is LengthUnit.CM else MM_PER_INCH

    def to_mm(self, value: float) -> float:
        """``value`` of this unit in mm."""
        return value * self.mm

    def from_mm(self, mm: float) -> float:
        """``mm`` in this unit."""
        return mm / self.mm

    def format(self, mm: float) -> str:
        """A length of ``mm`` (0 or more): "18 cm" or "18.3 cm", or "7 1/8 in" to the eighth."""
        value = self.from_mm(mm)
        if self is LengthUnit.CM:
            return f"{value:.1f}".removesuffix(".0") + " cm"
        return f"{_in_eighths(value)} in"


def _in_eighths(value: float) -> str:
    """A number to the nearest eighth, its fraction in lowest terms."""
    whole, part = divmod(round(value * EIGHTHS), EIGHTHS)
    if part == 0:
        return str(whole)
    below = EIGHTHS
    while part % 2 == 0:
        part, below = part // 2, below // 2
    fraction = f"{part}/{below}"
    return f"{whole} {fraction}" if whole else fraction
