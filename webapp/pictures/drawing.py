"""Pieces as line drawings: what is seen of each, outlined, lightly filled, with fine lines along
some of its rounds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from html import escape

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from webapp.assembly import PlacedStrip, WorkedToy
from webapp.paper import path_through
from webapp.pictures.depth import Raster, look
from webapp.pictures.outlines import region, rings, round_lines
from webapp.pictures.views import Piece
from webapp.shapes.meridian import Floats

SPOTS_PER_MM = 5.0
"""The raster's spots on a millimetre of paper."""

CLEAR_SPOTS = 4.0
"""Between pieces that are looked at side by side."""

LEAST_LINES_MM = 2.4
"""Rounds are drawn no nearer to each other than this on paper."""

EVERY = (5, 10, 20, 50, 100)

SLACK = 0.012
"""How far behind what is nearest a round's line may lie, in heights of the toy."""

NO_FILL = 'fill="none"'
LIGHT, SOLID = 0.3, 0.9
"""How strongly yarn is filled, and what is not yarn: little ink, but eyes that look at you."""


@dataclass(frozen=True, eq=False)
class Drawn:
    """A piece as seen, mm of the toy: the numbers of its nets on the raster; colour, strength and
    outlines of each of them, lines of rounds, and all of it together."""

    piece: Piece
    numbers: tuple[int, ...]
    fills: tuple[tuple[str, float, list[Floats]], ...]
    lines: list[Floats]
    seen: BaseGeometry


def drawn_together(
    pieces: Sequence[Piece], scale: float, every: int, toy: WorkedToy
) -> tuple[list[Drawn], Raster]:
    """Pieces that hide each other; ``scale`` is mm of paper to a mm of the toy."""
    nets = [net for piece in pieces for net in piece.nets]
    raster = look(nets, SPOTS_PER_MM * scale)
    slack = SLACK * toy.size.overall_height_mm
    corner = np.array(raster.corner)
    drawn, first = [], 0
    for piece in pieces:
        numbers = tuple(range(first, first + len(piece.nets)))
        first += len(piece.nets)
        found = [region(raster, n, n) for n in numbers]
        fills = tuple(
            (nets[n].colour, LIGHT if nets[n].rounds else SOLID, rings(seen, raster))
            for n, seen in zip(numbers, found, strict=True)
        )
        lines = [
            line
            for n in numbers
            if nets[n].rounds and not isinstance(toy.placed[piece.part], PlacedStrip)
            for line in round_lines(nets[n], n, raster, every, slack)
        ]
        whole = found[0] if len(found) == 1 else region(raster, numbers[0], numbers[-1])
        seen = shapely.transform(whole, lambda points: points / raster.per_mm + corner)
        drawn.append(Drawn(piece, numbers, fills, lines, seen))
    return drawn, raster


def drawn_alone(pieces: Sequence[Piece], scale: float, every: int, toy: WorkedToy) -> list[Drawn]:
    """Pieces each as if there were no other: looked at side by side, all at once."""
    moved, shifts, right = [], [], 0.0
    for piece in pieces:
        x = np.concatenate([net.points[..., 0].ravel() for net in piece.nets])
        shift = np.array([right - float(x.min()), 0.0])
        right += float(np.ptp(x)) + CLEAR_SPOTS / (SPOTS_PER_MM * scale)
        nets = (replace(net, points=net.points + np.append(shift, 0.0)) for net in piece.nets)
        moved.append(replace(piece, nets=tuple(nets)))
        shifts.append(shift)
    drawn, _ = drawn_together(moved, scale, every, toy)
    return [_back(d, piece, shift) for d, piece, shift in zip(drawn, pieces, shifts, strict=True)]


def _back(drawn: Drawn, piece: Piece, shift: Floats) -> Drawn:
    """A piece moved back to where it was before it was shifted."""
    fills = tuple(
        (colour, strength, [ring - shift for ring in found])
        for colour, strength, found in drawn.fills
    )
    seen = shapely.transform(drawn.seen, lambda points: points - shift)
    return Drawn(piece, drawn.numbers, fills, [line - shift for line in drawn.lines], seen)


def every_so_many(toy: WorkedToy, scale: float) -> int:
    """Every how manieth round has a line."""
    apart = toy.design.gauge.round_mm * scale
    return next((n for n in EVERY if n * apart >= LEAST_LINES_MM), EVERY[-1])


def piece_svg(drawn: Drawn, scale: float, offset: Floats, low: bool) -> str:
    """A piece on paper; with ``low`` ink its outlines alone."""
    out = []
    for colour, strength, found in drawn.fills:
        path = "".join(path_through(ring * scale + offset) + "z" for ring in found)
        if path:
            fill = f'fill="{colour}" fill-opacity="{strength}" fill-rule="evenodd"'
            out.append(
                f'<path d="{path}" {NO_FILL if low else fill} '
                'stroke="currentColor" stroke-width=".35" stroke-linejoin="round"/>'
            )
    lines = "".join(path_through(line * scale + offset) for line in drawn.lines)
    if lines:
        out.append(
            f'<path class="rounds" d="{lines}" fill="none" stroke="currentColor" '
            'stroke-width=".13"/>'
        )
    return f'<g class="part" data-part="{escape(drawn.piece.part)}">{"".join(out)}</g>'
