"""Where a line from a margin ends: at a spot of a part that it comes to over as little else as can
be, and well inside it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from webapp.pictures.depth import NOTHING, Raster

INSET_MM = 3.0
"""How far inside its part a line ends, mm of paper."""

ROWS = 24
"""Levels of a part that are tried."""

NARROW, OFF_MIDDLE = 1.5, 0.25
"""What a millimetre too narrow, and one from the middle of the part, cost against one of other
parts crossed: our own eye."""


@dataclass(frozen=True)
class Reach:
    """A point, mm of the toy, and how much of the picture lies before it, mm of paper."""

    x: float
    y: float
    crossed: float


def reach(
    raster: Raster, first: int, last: int, spots_per_mm: float, inset_mm: float = INSET_MM
) -> tuple[Reach, Reach]:
    """From the left and from the right, to what is seen of the nets ``first`` to ``last``; some of
    them must be."""
    boxes = raster.boxes[first : last + 1]
    top, bottom = max(int(boxes[:, 1].min()) - 1, 0), int(boxes[:, 3].max()) + 2
    window = raster.nearest[top:bottom]
    own = (window >= first) & (window <= last)
    rows = np.flatnonzero(own.any(axis=1))
    tried = np.unique(rows[np.linspace(0, len(rows) - 1, ROWS).astype(np.int64)])
    middle = float(rows.mean())
    found = []
    for step in (1, -1):
        best: tuple[float, Reach] | None = None
        for row in tried.tolist():
            mine, drawn = own[row, ::step], window[row, ::step] != NOTHING
            begins = int(np.argmax(mine))
            wide = int(np.argmin(np.append(mine[begins:], False)))
            crossed = (begins - int(np.argmax(drawn))) / spots_per_mm
            lacks = max(0.0, 2.0 * inset_mm - wide / spots_per_mm)
            cost = crossed + NARROW * lacks + OFF_MIDDLE * abs(row - middle) / spots_per_mm
            if best is None or cost < best[0]:
                column = begins + min(inset_mm * spots_per_mm, wide / 2.0)
                x = column if step > 0 else own.shape[1] - column
                best = cost, Reach(
                    x / raster.per_mm + raster.corner[0],
                    (top + row + 0.5) / raster.per_mm + raster.corner[1],
                    crossed,
                )
        assert best is not None
        found.append(best[1])
    return found[0], found[1]
