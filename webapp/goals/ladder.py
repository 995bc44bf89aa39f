"""The finished heights that are looked at, and what is measured at each.

A height is a whole number of ten-thousandths of the maker's unit, so that an address can hold it.
Rungs lie 0.01 cm (0.1 mm) or 0.005 in (0.127 mm) apart; nobody measures a toy more finely.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from webapp.errors import RoundlingError
from webapp.recipes import Design, Recipe
from webapp.way import at_height
from webapp.yarns import LengthUnit

PER_UNIT = 10_000
RUNG = {LengthUnit.CM: 100, LengthUnit.INCH: 50}
WIDEN = 4
"""Strides widen by this while nothing changes."""

LOOKS = 40
"""Heights looked at for a goal; the last halvings for the next change are left out beyond."""


@dataclass(frozen=True)
class Amount:
    """What is measured: ``value`` as it is told, ``flow`` as it grows (balls are told whole)."""

    value: float
    flow: float


@dataclass
class Ladder:
    """Heights of one design by place (ten-thousandths of the unit), each measured once."""

    recipe: Recipe
    design: Design
    measure: Callable[[Recipe, Design], Amount]
    seen: dict[int, Amount | None] = field(default_factory=dict)
    error: RoundlingError | None = None

    @property
    def rung(self) -> int:
        return RUNG[self.design.unit]

    @property
    def low(self) -> int:
        """The lowest whole rung of the slider."""
        least = self.design.unit.from_mm(self.recipe.sliders["height"].low) * PER_UNIT
        return math.ceil(least / self.rung - 1e-9) * self.rung

    @property
    def high(self) -> int:
        """The highest whole rung of the slider."""
        most = self.design.unit.from_mm(self.recipe.sliders["height"].high) * PER_UNIT
        return math.floor(most / self.rung + 1e-9) * self.rung

    @property
    def start(self) -> int:
        """The rung nearest to the height that the design has."""
        return self.on_rung(self.design.unit.from_mm(self.design.sliders["height"]) * PER_UNIT)

    def on_rung(self, place: float) -> int:
        """The rung nearest to a place, on the ladder."""
        return max(self.low, min(self.high, round(place / self.rung) * self.rung))

    def height_mm(self, place: int) -> float:
        return self.design.unit.to_mm(place / PER_UNIT)

    def design_at(self, place: int) -> Design:
        return at_height(self.design, self.height_mm(place))

    def at(self, place: int) -> Amount | None:
        """What the toy gives at a place, or None where it cannot be made: there it is too small
        for the yarn."""
        if place not in self.seen:
            try:
                self.seen[place] = self.measure(self.recipe, self.design_at(place))
            except RoundlingError as error:
                self.seen[place], self.error = None, error
        return self.seen[place]

    def best(self, target: float) -> int:
        """The place looked at that comes nearest to a target, the lowest of equals; raises the
        toy's refusal when it could be made at none."""
        made = [place for place, amount in self.seen.items() if amount is not None]
        if not made and self.error is not None:
            raise self.error
        return min(made, key=lambda place: (self.off(place, target), place))

    def off(self, place: int, target: float) -> float:
        """How far from a target a place is, in what grows."""
        amount = self.at(place)
        return math.inf if amount is None else abs(amount.flow - target)

    def change(self, place: int, way: int, share: float = 0.0) -> int | None:
        """The next place up (``way`` 1) or down (-1) at which the value is another, or None.

        Found by widening strides, the first about a ``share`` of the height, and by halving: it has
        the value of ``place`` on the rung before it.
        """
        here, end = self.at(place), (self.high if way > 0 else self.low)
        known = [p for p in self.seen if way * (p - place) > 0 and self._differs(p, here)]
        other = min(known, key=lambda p: abs(p - place), default=None)
        same, stride = place, max(1, round(place * share / self.rung)) * self.rung
        while len(self.seen) < LOOKS and (other is None or abs(other - same) > self.rung):
            reach = same + way * stride
            if other is not None and (same != place or abs(other - same) <= stride):
                reach = same + way * (abs(other - same) // (2 * self.rung)) * self.rung
            elif way * (reach - end) > 0:
                reach = end
            if reach == same:
                break
            if self._differs(reach, here):
                other = reach
            else:
                same = reach
            stride *= WIDEN
        return other if other is not None and self.at(other) is not None else None

    def _differs(self, place: int, here: Amount | None) -> bool:
        there = self.at(place)
        if there is None or here is None:
            return there is not here
        return abs(there.value - here.value) > 1e-9
