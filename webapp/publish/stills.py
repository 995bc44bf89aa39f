"""Small pictures in colour: the toy on the cover, and each part by itself."""

from __future__ import annotations

import re
from collections.abc import Sequence

from webapp.preview import Surface, still_svg, surfaces_of
from webapp.preview.still import still_of
from webapp.way import Toy

SEGMENTS = 16
"""Facets round a lap in the pictures smaller than that of the cover."""


def cover_of(made: Toy) -> str:
    """The toy from the front."""
    return still_svg(made.worked, made.materials.eyes, views=("front",))


def parts_of(made: Toy, low: bool) -> dict[str, str]:
    """One copy of each part as it sits on the toy; of a pair the first."""
    toy = made.worked
    surfaces = surfaces_of(toy, made.materials.eyes, segments=SEGMENTS, ridged=False)
    return {
        part.name: in_lines(_part(surfaces, part.name, part.label, toy.recipe.turn), low)
        for part in toy.recipe.parts
    }


def _part(surfaces: Sequence[Surface], name: str, label: str, turn: float) -> str:
    found = [s for s in surfaces if s.part == name and s.rounds and s.copy == 0]
    kept: dict[tuple[int, ...], Surface] = {}
    for surface in found:
        kept.setdefault(surface.rounds, surface)
    return still_of(list(kept.values()), set(), label, {"front": turn})


def in_lines(svg: str, low: bool) -> str:
    """The picture as it is, or drawn in lines without fills to save ink."""
    if not low:
        return svg
    svg = re.sub(r'fill="#\w+" stroke="#\w+"', 'fill="#ffffff" stroke="#999999"', svg)
    return svg.replace('stroke-width="4"', 'stroke-width="0.6"')
