"""How much embroidery thread the features take: marks, and eyes that are embroidered.

Satin stitch fills a shape with threads side by side, each of which comes back behind the fabric:
twice the area over the width of a thread. Backstitch goes one stitch forward in front and two
behind: three times the line, for each row of it. Felt is sewn down with three times its rim, like
any seam. The diagrams of both stitches are common practice, no source; the factors follow from
them. Thread is taken whole, six strands as it comes off the skein, and lies about 1 mm wide: common
practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from webapp.assembly import WorkedToy
from webapp.formulas import evaluate
from webapp.materials.eyes import EyeNeed
from webapp.recipes import EyeKind, Mark, MarkKind

THREAD_MM = 1.0
"""Width of a thread of six strands as it lies on the fabric."""

SATIN_SIDES, BACKSTITCH_LENGTHS, RIM_LENGTHS = 2.0, 3.0, 3.0
LINE_SHARE = 0.06
"""Thickness of an embroidered line in shares of its width: our own choice, by eye."""

LARGEST_SATIN_MM = 20.0
"""Larger eyes are a disc of fabric rather than stitches: common practice, no source."""

ENDS_MM = 300.0
"""Both ends of the thread of one feature, hidden inside: common practice, no source."""

OVER, SPREAD = 1.10, 0.30
SKEIN_METRES = 8.0
"""A skein of stranded cotton: common practice, from memory."""

EYE_NAME, EYE_HEX = "black", "#1d1a1c"


@dataclass(frozen=True)
class ThreadUse:
    """Embroidery thread of one colour (its words, and #rrggbb), mm."""

    name: str
    hex: str
    length_mm: float


def threads_used(toy: WorkedToy, eyes: EyeNeed | None) -> tuple[ThreadUse, ...]:
    """The thread of each colour, ends and a tenth over included, in the order of use."""
    need: dict[tuple[str, str], float] = {}
    for name, colour, length in _lengths(toy, eyes):
        need[name, colour] = need.get((name, colour), 0.0) + OVER * (length + ENDS_MM)
    return tuple(ThreadUse(name, colour, mm) for (name, colour), mm in need.items())


def _lengths(toy: WorkedToy, eyes: EyeNeed | None) -> Iterator[tuple[str, str, float]]:
    """(words, #rrggbb, mm without ends) of each single feature."""
    if eyes is not None and eyes.kind is EyeKind.EMBROIDERED:
        for _ in range(2):
            yield EYE_NAME, EYE_HEX, eye_thread_mm(eyes.wanted_mm)
    for mark in toy.recipe.marks:
        colour = toy.recipe.colours[mark.colour]
        width, height = (evaluate(f, toy.dimensions) for f in (mark.width, mark.height))
        for _ in range(2 if mark.pair else 1):
            yield colour.name, colour.hex, mark_thread_mm(mark, width, height)


def eye_thread_mm(diameter_mm: float) -> float:
    """Thread to embroider one eye; a large one is felt, and the thread sews it down."""
    if diameter_mm > LARGEST_SATIN_MM:
        return RIM_LENGTHS * math.pi * diameter_mm
    return satin_mm(diameter_mm, diameter_mm)


def mark_thread_mm(mark: Mark, width_mm: float, height_mm: float) -> float:
    """Thread for one copy of a mark of that size."""
    if mark.kind is MarkKind.FILLED:
        return satin_mm(width_mm, height_mm)
    return BACKSTITCH_LENGTHS * line_rows(width_mm) * arc_mm(width_mm, height_mm)


def satin_mm(width_mm: float, height_mm: float) -> float:
    """Thread that fills an ellipse of these two diameters."""
    return SATIN_SIDES * math.pi * width_mm * height_mm / 4.0 / THREAD_MM


def line_rows(width_mm: float) -> int:
    """Rows of backstitch that lie side by side in a line so wide."""
    return max(1, round(LINE_SHARE * width_mm / THREAD_MM))


def arc_mm(width_mm: float, height_mm: float) -> float:
    """Length of a line that wide whose ends lie so far above its middle: a parabola."""
    steep = 4.0 * abs(height_mm) / width_mm
    if steep < 1e-6:
        return width_mm
    return width_mm / 2.0 * (math.hypot(1.0, steep) + math.asinh(steep) / steep)
