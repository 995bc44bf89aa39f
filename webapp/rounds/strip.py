"""A strip worked flat in rows."""

from __future__ import annotations

from webapp.rounds.refusals import too_big, too_short, too_small, too_wide
from webapp.rounds.worked import WorkedStrip
from webapp.shapes import Strip
from webapp.yarns import Gauge

MOST_ROWS = 2000


def work_strip(name: str, strip: Strip, gauge: Gauge) -> WorkedStrip:
    """The rows of a strip; at least 2 stitches wide and 2 rows long."""
    per_row = round(strip.width_mm / gauge.stitch_mm)
    rows = round(strip.length_mm / gauge.round_mm)
    if per_row < 2:
        raise too_small(name, strip.width_mm, strip.width_mm / gauge.stitch_mm, 2)
    if rows < 2:
        raise too_short(name, strip.length_mm, gauge.round_mm, 2, "rows")
    if rows > MOST_ROWS:
        raise too_big(name, rows, "rows")
    if per_row > MOST_ROWS:
        raise too_wide(name, per_row, MOST_ROWS, "row")
    return WorkedStrip(name, strip, gauge, per_row, rows)
