"""Where a line from a margin ends: at a spot of a part that it comes to over as little else as can
be, and well inside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from webapp.pictures.depth import NOTHING, Raster

INSET_MM = 3.0
"""How far inside its part a line ends, mm of paper."""

ROWS = 20
"""Levels of a part that are tried."""

NARROW, OFF_MIDDLE = 1.5, 0.25
"""What a millimetre too narrow, and one from the middle of the part, cost against one of other
parts crossed: our own eye."""

EYE_CROSSED = 3.0
"""What a millimetre of an eye crossed costs more than one of anything else."""

LEVELS_MM, TOO_NEAR = 1.6, 3.0
"""Lines that end at levels nearer than this run into each other; what a millimetre less costs."""


@dataclass(frozen=True)
class Reach:
    """A point, mm of the toy, and how much of the picture lies before it, mm of paper."""

    x: float
    y: float
    crossed: float


def reach(
    raster: Raster,
    first: int,
    last: int,
    spots_per_mm: float,
    inset_mm: float = INSET_MM,
    taken: Sequence[float] = (),
    eyes: Sequence[int] = (),
) -> tuple[Reach, Reach]:
    """From the left and from the right, to what is seen of the nets ``first`` to ``last``; some of
    them must be. Other lines end at the levels ``taken``, mm of the toy; ``eyes`` are the numbers
    of nets to be crossed last of all."""
    corner, near = raster.window(first, last)
    rows = corner[1] + np.flatnonzero(((near >= first) & (near <= last)).any(axis=1))
    tried = np.unique(rows[np.linspace(0, len(rows) - 1, ROWS).astype(np.int64)])
    window = raster.nearest[tried]
    own = (window >= first) & (window <= last)
    levels = (np.array(taken, dtype=np.float64) - raster.corner[1]) * raster.per_mm - 0.5
    apart = np.abs(tried[:, None] - levels).min(axis=1, initial=np.inf) / spots_per_mm
    level = OFF_MIDDLE * np.abs(tried - rows.mean()) / spots_per_mm
    level += TOO_NEAR * np.maximum(0.0, LEVELS_MM - apart)
    # From the left, and mirrored, from the right.
    of_eyes = np.zeros(window.shape, dtype=bool)
    for number in eyes:
        of_eyes |= window == number
    mine, drawn, eye = (
        np.stack((seen, seen[:, ::-1])) for seen in (own, window != NOTHING, of_eyes)
    )
    begins = mine.argmax(axis=2)
    # How far its first stretch goes: to the first spot after it that is not its own.
    after = np.arange(mine.shape[2]) > begins[..., None]
    others = ~mine
    gone = others & after
    ends = np.where(gone.any(axis=2), gone.argmax(axis=2), mine.shape[2])
    wide = ends - begins
    crossed = (begins - drawn.argmax(axis=2)) / spots_per_mm
    lacks = np.maximum(0.0, 2.0 * inset_mm - wide / spots_per_mm)
    eyes_crossed = (eye & others & ~after).sum(axis=2) / spots_per_mm
    best = np.argmin(crossed + NARROW * lacks + EYE_CROSSED * eyes_crossed + level, axis=1)
    columns = begins + np.minimum(inset_mm * spots_per_mm, wide / 2.0)
    columns[1] = mine.shape[2] - columns[1]
    x = columns[[0, 1], best] / raster.per_mm + raster.corner[0]
    y = (tried[best] + 0.5) / raster.per_mm + raster.corner[1]
    away = crossed[[0, 1], best]
    left, right = map(Reach, x.tolist(), y.tolist(), away.tolist())
    return left, right
