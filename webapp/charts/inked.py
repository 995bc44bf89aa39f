"""A chart for paper: the symbols of its stitches as filled outlines, a row of them in one path.

It looks the same. A program that sets a sheet takes a symbol used a thousand times for a thousand
small drawings, and is slow; on the screen, where each is to be found and counted, they stay so.
"""

from __future__ import annotations

import cmath
import math
import re
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from webapp.charts.glyphs import STROKES
from webapp.paper import number

Complex = np.ndarray[tuple[int], np.dtype[np.complex128]]

MITRE = 4.0
"""How far a corner may stand out: what SVG has where nothing is said."""

EVERY = 3
"""Symbols are turned by whole multiples of so many degrees: their ends are off by no more than
0.05 mm."""

_ONE = (
    rf'<use class="(?:{"|".join(STROKES)})" href="#st-\w+" '
    r'transform="translate\([-.\d]+ [-.\d]+\)(?:rotate\([-.\d]+\))?"/>'
)
_ROW = re.compile(rf"(?:{_ONE})+")
_SYMBOL = re.compile(r'"(\w+)" href="[^"]*" transform="translate\(([^)]+)\)(?:rotate\(([^)]+)\))?')


def inked(svg: str) -> str:
    """The same chart with the symbols of its stitches in ink."""
    return _ROW.sub(_row, svg)


def _row(found: re.Match[str]) -> str:
    symbols = _SYMBOL.findall(found[0])
    path = "".join([f"M{place}{_outline(name, turn)}" for name, place, turn in symbols])
    return f'<path d="{path}" fill="currentColor"/>'


def _outline(name: str, turn: str) -> str:
    return _turned(name, EVERY * round(float(turn) / EVERY) % 360 if turn else 0)


@lru_cache(maxsize=len(STROKES) * 360 // EVERY)
def _turned(name: str, degrees: int) -> str:
    """The outlines of a symbol, as a path from its middle on, each ending where it begins."""
    out: list[str] = []
    at = 0.0j
    for outline in _outlines(name):
        turned = np.round(outline * cmath.rect(1.0, math.radians(degrees)), 2)
        steps = np.diff(turned, prepend=at).tolist()
        out += [f"l{number(step.real)} {number(step.imag)}" for step in steps]
        out[-len(steps)] = f"m{out[-len(steps)][1:]}"
        out.append("z")
        at = turned[0]
    return "".join(out)


@lru_cache(maxsize=len(STROKES))
def _outlines(name: str) -> list[Complex]:
    """The outline of each line of a symbol, right + down i, all the same way round: where two
    cross, both are ink."""
    strokes = STROKES[name]
    half = strokes.width / 2.0
    outlines = (
        shapely.LineString(line).buffer(
            half, cap_style="flat", join_style="mitre", mitre_limit=MITRE
        )
        for line in strokes.lines
    )
    corners = (np.array(orient(outline).exterior.coords[:-1]) for outline in outlines)
    return [points @ np.array([1.0, 1.0j]) for points in corners]
