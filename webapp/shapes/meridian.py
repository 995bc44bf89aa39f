"""A part's outline as radius against distance along the fabric.

            end (pole, or an opening)
             _
           .   .      r(s): radius of the lap of fabric at the distance s,
          (     )     measured ALONG the outline from the start, not along the axis
           `   '
             start (pole, or an opening)

All lengths are mm. A meridian may carry a straight length: an oval begun on a chain is two half
turns of radius ``r`` joined by two straight sides. A flattened part keeps the girth of its
ellipse, so its ``r`` is that girth over two pi.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Meridian:
    """An outline as a fine polyline.

    ``radius_mm``, ``axial_mm`` and ``along_mm`` have shape (points,); ``along_mm`` starts at 0 and
    grows. ``closed`` says whether the far end is a pole (gathered) rather than an opening.
    ``straight_mm`` is the length of one straight side. ``flatness`` is thickness over width of a
    lap lying flat, 1 where it is round.
    """

    radius_mm: Floats
    axial_mm: Floats
    along_mm: Floats
    closed: bool
    straight_mm: float = 0.0
    flatness: float = 1.0

    @property
    def length_mm(self) -> float:
        """Length of the outline along the fabric, mm."""
        return float(self.along_mm[-1])

    @cached_property
    def height_mm(self) -> float:
        """Extent along the axis, mm."""
        return float(self.axial_mm.max() - self.axial_mm.min())

    @cached_property
    def widest_mm(self) -> float:
        """Largest width of a lap, mm; of a flattened part the width lying flat."""
        return float(self.radius_mm.max()) * 2.0 * width_per_girth(self.flatness) + self.straight_mm

    @cached_property
    def widest_girth_mm(self) -> float:
        """Girth of the widest lap, mm."""
        return 2.0 * math.pi * float(self.radius_mm.max()) + 2.0 * self.straight_mm

    def girth_at(self, along_mm: Floats) -> Floats:
        """Girths (mm) of the laps at the given distances along the fabric; same shape as given."""
        radius = np.interp(along_mm, self.along_mm, self.radius_mm)
        return 2.0 * math.pi * radius + 2.0 * self.straight_mm

    def stretched(self, factor: float) -> Meridian:
        """The same outline ``factor`` times as long along its axis."""
        return meridian_through(
            self.radius_mm,
            self.axial_mm * factor,
            closed=self.closed,
            straight_mm=self.straight_mm,
            flatness=self.flatness,
        )

    @property
    def open_start(self) -> bool:
        """Whether it begins at an opening rather than at a pole."""
        return float(self.radius_mm[0]) > 0.0

    @property
    def start_girth_mm(self) -> float:
        """Girth of the first lap, mm; 0 at a pole."""
        return 2.0 * math.pi * float(self.radius_mm[0])

    @property
    def end_girth_mm(self) -> float:
        """Girth of the last lap, mm; 0 at a pole."""
        return 2.0 * math.pi * float(self.radius_mm[-1]) + 2.0 * self.straight_mm


def meridian_through(
    radius_mm: Floats,
    axial_mm: Floats,
    *,
    closed: bool,
    straight_mm: float = 0.0,
    flatness: float = 1.0,
) -> Meridian:
    """A meridian through the given points, shape (points,) each, from start to end."""
    steps = np.hypot(np.diff(radius_mm), np.diff(axial_mm))
    along = np.concatenate(([0.0], np.cumsum(steps)))
    return Meridian(radius_mm, axial_mm, along, closed, straight_mm, flatness)


def ellipse_girth(flatness: float) -> float:
    """Girth of an ellipse with half axes 1 and ``flatness``.

    Ramanujan's second approximation, relative error below 1e-4 for flatness of 0.1 and more.
    """
    ratio = ((1.0 - flatness) / (1.0 + flatness)) ** 2
    series = 1.0 + 3.0 * ratio / (10.0 + math.sqrt(4.0 - 3.0 * ratio))
    return math.pi * (1.0 + flatness) * series


def width_per_girth(flatness: float) -> float:
    """Half the width of a flattened lap over the radius of the round lap of the same girth."""
    return 2.0 * math.pi / ellipse_girth(flatness)
