"""A large part cut into stretches: rounds of which one repeat is drawn together, and the others.

Each lane is looked at once. A stretch keeps the number of equal repeats that all of its rounds
have and the room of its widest round: one repeat of that is as wide as the stretch is drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import gcd

from webapp.charts.lanes import Lane
from webapp.charts.wedge import MOST_MM, repeat_mm

FEW = 3
"""A stretch of fewer lanes than these is not worth a drawing of its own."""


@dataclass
class _Stretch:
    """Lanes that follow each other, the repeats they have in common, and the widest whole, mm."""

    turns: int
    widest: float
    lanes: list[Lane] = field(default_factory=list)

    @property
    def fits(self) -> bool:
        return self.widest / self.turns <= MOST_MM

    def with_lane(self, lane: Lane) -> tuple[int, float]:
        return gcd(self.turns, lane.turns), max(self.widest, repeat_mm(lane, 1))


def stretches(lanes: Sequence[Lane]) -> list[tuple[int, list[Lane]]]:
    """The lanes cut into stretches, each with the number of equal repeats that all of it has; 0
    where there is none that fits, or it is too short to be worth it."""
    cut: list[tuple[int, list[Lane]]] = []
    for stretch in _joined(lanes):
        turns = stretch.turns if stretch.fits and len(stretch.lanes) >= FEW else 0
        if cut and cut[-1][0] == turns == 0:
            cut[-1][1].extend(stretch.lanes)
        else:
            cut.append((turns, stretch.lanes))
    return cut


def _joined(lanes: Sequence[Lane]) -> Iterator[_Stretch]:
    """Stretches as long as one repeat of all their lanes fits; those it never fits in one."""
    now = None
    for lane in lanes:
        alone = _Stretch(lane.turns, repeat_mm(lane, 1), [lane])
        if now is None:
            now = alone
            continue
        longer = _Stretch(*now.with_lane(lane), now.lanes)
        if longer.fits or not (now.fits or alone.fits):
            longer.lanes.append(lane)
            now = longer
        else:
            yield now
            now = alone
    if now is not None:
        yield now
