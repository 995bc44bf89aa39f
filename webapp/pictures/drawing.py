"""Pieces as line drawings: what is seen of each, outlined, lightly filled, with fine lines along
some of its rounds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from html import escape

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from webapp.assembly import PlacedStrip, WorkedToy
from webapp.paper import path_through
from webapp.pictures.depth import Raster, look
from webapp.pictures.outlines import regions, rings, round_lines, silhouettes
from webapp.pictures.views import Piece
from webapp.shapes.meridian import Floats

SPOTS_PER_MM = 3.5
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
    outlines of each of them, lines of rounds, and the area seen of all of it, mm2."""

    piece: Piece
    numbers: tuple[int, ...]
    fills: tuple[tuple[str, float, list[Floats]], ...]
    lines: list[Floats]
    area_mm2: float


def drawn_together(
    pieces: Sequence[Piece], scale: float, every: int, toy: WorkedToy
) -> tuple[list[Drawn], Raster]:
    """Pieces that hide each other; ``scale`` is mm of paper to a mm of the toy."""
    nets = [net for piece in pieces for net in piece.nets]
    raster = look(nets, SPOTS_PER_MM * scale)
    areas = np.bincount(raster.nearest.ravel() + 1, minlength=len(nets) + 1)[1:] / raster.per_mm**2
    lines = _lines(pieces, raster, every, toy)
    outlines = rings(regions(raster, [(n, n) for n in range(len(nets))]), raster)
    drawn, first = [], 0
    for piece in pieces:
        numbers = tuple(range(first, first + len(piece.nets)))
        first += len(piece.nets)
        fills = tuple(
            (net.colour, LIGHT if net.rounds else SOLID, outlines[n])
            for n, net in zip(numbers, piece.nets, strict=True)
        )
        own = [line for n in numbers for line in lines.get(n, ())]
        drawn.append(Drawn(piece, numbers, fills, own, float(areas[list(numbers)].sum())))
    return drawn, raster


def _lines(
    pieces: Sequence[Piece], raster: Raster, every: int, toy: WorkedToy
) -> Mapping[int, list[Floats]]:
    """Lines along rounds, by the number of the net; a strip, and what is not yarn, has none."""
    nets = [(piece.part, net) for piece in pieces for net in piece.nets]
    numbers = [
        n for n, (part, net) in enumerate(nets)
        if net.rounds and not isinstance(toy.placed[part], PlacedStrip)
    ]  # fmt: skip
    slack = SLACK * toy.size.overall_height_mm
    lines = round_lines([nets[n][1] for n in numbers], numbers, raster, every, slack)
    return dict(zip(numbers, lines, strict=True))


def drawn_alone(
    pieces: Sequence[Piece], scale: float, every: int, toy: WorkedToy
) -> tuple[list[Drawn], list[BaseGeometry]]:
    """Pieces each as if there were no other, and their silhouettes, mm of the toy: looked at side
    by side, all at once."""
    moved, shifts, right = [], [], 0.0
    for piece in pieces:
        x = np.concatenate([net.points[..., 0].ravel() for net in piece.nets])
        shift = np.array([right - float(x.min()), 0.0])
        right += float(np.ptp(x)) + CLEAR_SPOTS / (SPOTS_PER_MM * scale)
        nets = (replace(net, points=net.points + np.append(shift, 0.0)) for net in piece.nets)
        moved.append(replace(piece, nets=tuple(nets)))
        shifts.append(shift)
    drawn, raster = drawn_together(moved, scale, every, toy)
    whole = regions(raster, [(d.numbers[0], d.numbers[-1]) for d in drawn])
    shapes = [
        shapely.transform(shape, lambda points, by=shift: points - by)
        for shape, shift in zip(silhouettes(whole, raster), shifts, strict=True)
    ]
    return [_back(*one) for one in zip(drawn, pieces, shifts, strict=True)], shapes


def _back(drawn: Drawn, piece: Piece, shift: Floats) -> Drawn:
    """A piece moved back to where it was before it was shifted."""
    fills = tuple(
        (colour, strength, [ring - shift for ring in found])
        for colour, strength, found in drawn.fills
    )
    lines = [line - shift for line in drawn.lines]
    return replace(drawn, piece=piece, fills=fills, lines=lines)


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
                'stroke="currentColor" stroke-width=".35" stroke-linejoin="bevel"/>'
            )
    lines = "".join(path_through(line * scale + offset) for line in drawn.lines)
    if lines:
        out.append(
            f'<path class="rounds" d="{lines}" fill="none" stroke="currentColor" '
            'stroke-width=".13"/>'
        )
    return f'<g class="part" data-part="{escape(drawn.piece.part)}">{"".join(out)}</g>'
