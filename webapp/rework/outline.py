"""The outline of a read part, asked for anew: which ideal counts its rounds have in other stitches.

    read      edge e lies at s = e h along the fabric, its lap is n w long
    wanted    the same laps, so many times as long, at the distances s' of the stretched fabric
    new       edge k lies at k h', and has (girth there) / w' stitches

Between two edges of what was read, girths go straight. Fabric that is made longer than wide, or
wider than long, is stretched as it lies: a piece that rises by z and widens by r becomes one that
rises and widens by as much more each.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from webapp.rounds import Rings
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge


@dataclass(frozen=True)
class Factors:
    """How many times as wide and as long a part is to be, and the gauges it goes from and to."""

    wide: float
    long: float
    was: Gauge
    new: Gauge

    @property
    def stitches(self) -> float:
        """Stitches in a lap for each that was read."""
        return self.wide * self.was.stitch_mm / self.new.stitch_mm


@dataclass(frozen=True, eq=False)
class WantedOutline:
    """The edges of a read part in rounds of the new gauge: ``places`` (edges,), from 0 on."""

    places: Floats
    closed: bool

    @property
    def rounds(self) -> float:
        """How many rounds it is long, not whole; those of a closed part without the gathering."""
        return float(self.places[-1]) - (1.0 if self.closed else 0.0)

    def in_rounds(self, number: int) -> Floats:
        """The places of the read edges if it is worked in so many rounds."""
        last = number + (1 if self.closed else 0)
        placed: Floats = self.places * (last / float(self.places[-1]))
        return placed


def wanted_outline(rings: Rings, factors: Factors, *, closed: bool) -> WantedOutline:
    """The outline of a part in rounds, from the rings that its stitches make."""
    height = factors.was.round_mm
    widens = np.clip(np.diff(rings.smooth_mm) / height, -1.0, 1.0)
    rises = np.sqrt(1.0 - widens * widens)
    longer = np.hypot(factors.long * rises, factors.wide * widens)
    steps = longer * height / factors.new.round_mm
    return WantedOutline(np.concatenate(([0.0], np.cumsum(steps))), closed)


def wanted_rows(rows: int, factors: Factors) -> WantedOutline:
    """The outline of a flat piece of so many rows."""
    step = factors.long * factors.was.round_mm / factors.new.round_mm
    return WantedOutline(step * np.arange(rows + 1.0), closed=False)


def ideals_at(places: Floats, counts: Floats, number: int) -> Floats:
    """Counts at the edges 1 to ``number``, from those at the places of the read edges."""
    at: Floats = np.interp(np.arange(1.0, number + 1.0), places, counts)
    # What is whole but for the rounding of the arithmetic is whole.
    near = np.rint(at)
    return np.where(np.abs(at - near) < 1e-6, near, at)
