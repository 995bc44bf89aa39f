"""The symbols, drawn as geometry from the descriptions of the public standard.

Source: JIS L 0201 (letter symbols for knitting stitches; a cross for the single crochet, an open
ellipse for the chain, a filled one for the slip stitch, two crosses on one foot for an increase,
two feet under one top for a decrease, a filled triangle where the yarn is cut) and the Craft Yarn
Council's list, which agrees; both as descriptions of them have it, the triangle from memory.
Makers vary, so every chart has a legend. The small arc at each foot of the decrease is our own: no
standard has a sign for the front loops.

Each symbol lies round the origin, its foot below: mm on paper, y downwards.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from webapp.yarns import TermSet

LEAST_MM = 2.2
"""The least width of a stitch's symbol on paper."""

WIDE_MM = 2.6
"""The room of one stitch along a round: a symbol and a gap."""

MADE = {"sc": 1, "inc": 2, "dec": 1}
"""Stitches that each symbol makes: what counting them gives."""

TAKEN = {"sc": 1, "inc": 1, "dec": 2}
"""Stitches of the round before that each symbol is worked into."""

_HALF = 1.1


def _line(*points: tuple[float, float]) -> str:
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in points)


def _bar(x1: float, y1: float, x2: float, y2: float, at: float, half: float) -> str:
    """A short stroke across the middle of a line, at a share of its length."""
    long = math.hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / long, (y2 - y1) / long
    x, y = x1 + at * (x2 - x1), y1 + at * (y2 - y1)
    a = (round(x - uy * half, 2), round(y + ux * half, 2))
    b = (round(x + uy * half, 2), round(y - ux * half, 2))
    return _line(a, b)


def _stroked(path: str, width: float = 0.3) -> str:
    return f'<path d="{path}" fill="none" stroke="currentColor" stroke-width="{width:g}"/>'


_V = (
    _line((-1.35, -_HALF), (0.0, 1.25), (1.35, -_HALF))
    + _bar(0.0, 1.25, -1.35, -_HALF, 0.68, 0.62)
    + _bar(0.0, 1.25, 1.35, -_HALF, 0.68, 0.62)
)
_CARET = (
    _line((-1.2, 0.9), (0.0, -1.25), (1.2, 0.9))
    + _bar(0.0, -1.25, -1.2, 0.9, 0.6, 0.58)
    + _bar(0.0, -1.25, 1.2, 0.9, 0.6, 0.58)
    + "M-1.65 1.05Q-1.2 1.6 -.75 1.05M.75 1.05Q1.2 1.6 1.65 1.05"
)

DRAWN = {
    "sc": _stroked(
        _line((-_HALF, -_HALF), (_HALF, _HALF)) + _line((_HALF, -_HALF), (-_HALF, _HALF))
    ),
    "inc": _stroked(_V, 0.4),
    "dec": _stroked(_CARET, 0.4),
    "ch": '<ellipse rx="1.2" ry=".6" fill="none" stroke="currentColor" stroke-width=".3"/>',
    "sl-st": '<ellipse rx=".75" ry=".45" fill="currentColor"/>',
    "ring": _stroked("M.9 1.5A1.6 1.6 0 1 1 1.55 .4Q1.5 1.6 2.6 2.1"),
    "start": _stroked("M-1.1 0L.8 0M.1 -.7L.9 0L.1 .7", 0.35),
    "cut": '<path d="M-.9 .8L0 -.9L.9 .8z" fill="currentColor"/>',
}
"""What is drawn for each symbol, by its name."""

ORDER = tuple(DRAWN)


def symbols(used: Iterable[str]) -> str:
    """Definitions of the symbols that a chart uses."""
    wanted = set(used)
    return "".join(
        f'<symbol id="st-{name}" overflow="visible">{DRAWN[name]}</symbol>'
        for name in ORDER
        if name in wanted
    )


def meanings(words: TermSet, in_rows: bool) -> dict[str, str]:
    """What each symbol means, in the words of the pattern."""
    rnd = (words.row if in_rows else words.rnd).lower()
    return {
        "sc": words.sc,
        "inc": f"{words.inc}: 2 {words.sc} in one {words.st}",
        "dec": f"{words.dec}: 2 {words.sts} together by their front loops (the arcs)",
        "ch": words.ch,
        "sl-st": words.sl_st,
        "ring": words.magic_ring,
        "start": f"a {rnd} begins, with its number",
        "cut": words.fasten_off,
    }
