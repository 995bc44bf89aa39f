"""The drawings of the sheet: a chart of each part, and pictures for sewing it together.

They depend on the toy alone, and pictures take longer than all the rest: those of the toys lately
asked for are remembered.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from html import unescape

from webapp.assembly import WorkedToy
from webapp.charts import chart_svg, inked
from webapp.materials import EyeNeed
from webapp.paper import FONTS
from webapp.pictures import View, assembly_svgs
from webapp.preview import still_svg
from webapp.publish.figures import Figure, chart_figures, figure
from webapp.publish.options import Drawings, SheetOptions
from webapp.way import Toy
from webapp.yarns import term_set

REMEMBERED = 4

TALL_MM = 90.0
"""How tall a toy is drawn: two pictures fit on a page of either paper."""

APART_TALL_MM = 150.0
"""Its parts apart need more room."""

TYPE = "Libertinus Serif, Noto Sans JP, DejaVu Sans Mono"
"""The typefaces of words along an arc, the sheet's own first."""

SHOWN_MM = 20.0
"""About how large a part by itself is shown: lines are as fine as in the other pictures."""

_PIECE = re.compile(r'<g class="part" data-part="([^"]*)".*?</g>', re.DOTALL)
_STROKE = re.compile(r'stroke-width="([\d.]+)"')
_PATH = re.compile(r' d="([^"]*)"')
_POINT = re.compile(r"[ML](-?[\d.]+) (-?[\d.]+)")


def drawings_of(made: Toy, options: SheetOptions) -> Drawings:
    """The drawings that the options ask for."""
    toy, low = made.worked, options.ink == "low"
    pictures = _pictures(toy, made.materials.eyes, low)
    return Drawings(
        charts=_charts(toy, low) if options.charts == "yes" else {},
        assembly=_assembly(toy, made.materials.eyes, low),
        parts=alone(pictures[View.APART]),
        cover=close_up(pictures[_best(toy)]) if low else _cover(toy, made.materials.eyes),
    )


@lru_cache(maxsize=REMEMBERED)
def _charts(toy: WorkedToy, low: bool) -> Mapping[str, Sequence[Figure]]:
    words = term_set(toy.design.terms)
    charts = {part.name: chart_svg(toy, part, words, table=False, low=low)
              for part in toy.recipe.parts}  # fmt: skip
    return {name: chart_figures(inked(svg).replace(FONTS, TYPE)) for name, svg in charts.items()}


@lru_cache(maxsize=REMEMBERED)
def _pictures(toy: WorkedToy, eyes: EyeNeed | None, low: bool) -> Mapping[View, str]:
    words = term_set(toy.design.terms)
    tall = {view: APART_TALL_MM if view is View.APART else TALL_MM for view in View}
    return assembly_svgs(toy, eyes, tall, words, low=low)


@lru_cache(maxsize=REMEMBERED)
def _assembly(
    toy: WorkedToy, eyes: EyeNeed | None, low: bool
) -> Sequence[tuple[str, Figure]]:
    return [(said_by(svg), figure(svg)) for svg in _pictures(toy, eyes, low).values()]


@lru_cache(maxsize=REMEMBERED)
def _cover(toy: WorkedToy, eyes: EyeNeed | None) -> str:
    return still_svg(toy, eyes, views=("front",))


def said_by(svg: str) -> str:
    """What a drawing says of itself: its title and description."""
    found = (re.search(rf"<{name}>(.*?)</{name}>", svg, re.DOTALL) for name in ("title", "desc"))
    return unescape(". ".join(one[1].rstrip(".") for one in found if one))


def _best(toy: WorkedToy) -> View:
    """The side from which a toy is best known."""
    return View.SIDE if toy.recipe.lies_down else View.FRONT


def close_up(svg: str) -> str:
    """The pieces of a picture without its words."""
    return _framed([found[0] for found in _PIECE.finditer(svg)])


def alone(svg: str) -> dict[str, str]:
    """The first piece of each part in a picture of parts apart, by the part's name."""
    pieces: dict[str, str] = {}
    for found in _PIECE.finditer(svg):
        pieces.setdefault(unescape(found[1]), found[0])
    framed = ((name, _framed([piece], SHOWN_MM)) for name, piece in pieces.items())
    return {name: svg for name, svg in framed if svg}


def _framed(pieces: Sequence[str], shown_mm: float | None = None) -> str:
    """Pieces close in a frame, empty where nothing is seen of them; with ``shown_mm`` their lines
    fit that size."""
    body = "".join(pieces)
    points = [(float(x), float(y)) for d in _PATH.findall(body) for x, y in _POINT.findall(d)]
    if not points:
        return ""
    left, top = (min(axis) for axis in zip(*points, strict=True))
    right, bottom = (max(axis) for axis in zip(*points, strict=True))
    size = max(right - left, bottom - top)
    if shown_mm is not None:
        body = _STROKE.sub(
            lambda found: f'stroke-width="{float(found[1]) * size / shown_mm:.2g}"', body
        )
    rim = 0.02 * size
    box = f"{left - rim:g} {top - rim:g} {right - left + 2 * rim:g} {bottom - top + 2 * rim:g}"
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">{body}</svg>'
