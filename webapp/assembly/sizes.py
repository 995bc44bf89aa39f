"""Sizes of parts: what the outline asks for beside what the stitches make."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from webapp.assembly.toy import PartSize
from webapp.rounds import WorkedPart, WorkedStrip


def part_sizes(parts: Iterable[WorkedPart | WorkedStrip]) -> tuple[PartSize, ...]:
    """Width, length and opening of every part, asked for and as stitched, mm."""
    return tuple(size for part in parts for size in _sizes(part))


def _sizes(part: WorkedPart | WorkedStrip) -> Iterator[PartSize]:
    if isinstance(part, WorkedStrip):
        yield PartSize(part.name, "width", part.strip.width_mm, part.width_mm)
        yield PartSize(part.name, "length", part.strip.length_mm, part.length_mm)
        return
    outline, name = part.order.outline, part.order.name
    if part.straight_stitches:
        yield PartSize(name, "length", outline.widest_mm, part.widest_mm)
        short = outline.widest_mm - outline.straight_mm
        yield PartSize(name, "width", short, part.widest_mm - part.straight_mm)
    else:
        yield PartSize(name, "width", outline.widest_mm, part.widest_mm)
    if outline.height_mm > 0.0:
        what = "depth" if part.straight_stitches else "length"
        yield PartSize(name, what, outline.height_mm, part.height_mm)
    if outline.open_start:
        begun = part.counts[0] * part.gauge.stitch_mm
        yield PartSize(name, "opening at the start", outline.start_girth_mm, begun)
    if not outline.closed:
        sewn = part.counts[-1] * part.gauge.stitch_mm
        yield PartSize(name, "open edge", outline.end_girth_mm, sewn)
