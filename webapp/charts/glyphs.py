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
from dataclasses import dataclass

from webapp.yarns import TermSet

WIDE_MM = 2.6
"""The room of one stitch along a round: a symbol and a gap."""

MADE = {"sc": 1, "inc": 2, "dec": 1}
"""Stitches that each symbol makes: what counting them gives."""

_HALF = 1.1


Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Strokes:
    """Lines of one width, each through its points."""

    lines: tuple[Points, ...]
    width: float


def _bar(x1: float, y1: float, x2: float, y2: float, at: float, half: float) -> Points:
    """A short stroke across the middle of a line, at a share of its length."""
    long = math.hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / long, (y2 - y1) / long
    x, y = x1 + at * (x2 - x1), y1 + at * (y2 - y1)
    a = (round(x - uy * half, 2), round(y + ux * half, 2))
    b = (round(x + uy * half, 2), round(y - ux * half, 2))
    return a, b


def _arc(left: float, right: float) -> Points:
    """A small arc that hangs from its ends."""
    shares = (n / 4.0 for n in range(5))
    return tuple(
        (round(left + t * (right - left), 2), round(1.0 + 1.2 * t * (1.0 - t), 2)) for t in shares
    )


STROKES = {
    "sc": Strokes((((-_HALF, -_HALF), (_HALF, _HALF)), ((_HALF, -_HALF), (-_HALF, _HALF))), 0.3),
    "inc": Strokes(
        (
            ((-1.6, -_HALF), (0.0, 1.3), (1.6, -_HALF)),
            _bar(0.0, 1.3, -1.6, -_HALF, 0.64, 0.5),
            _bar(0.0, 1.3, 1.6, -_HALF, 0.64, 0.5),
        ),
        0.36,
    ),
    "dec": Strokes(
        (
            ((-1.5, 0.85), (0.0, -1.3), (1.5, 0.85)),
            _bar(0.0, -1.3, -1.5, 0.85, 0.58, 0.5),
            _bar(0.0, -1.3, 1.5, 0.85, 0.58, 0.5),
            _arc(-1.85, -1.15),
            _arc(1.15, 1.85),
        ),
        0.36,
    ),
}
"""The symbols of stitches, of which a chart has most."""


def _stroked(path: str, width: float) -> str:
    return f'<path d="{path}" fill="none" stroke="currentColor" stroke-width="{width:g}"/>'


def _drawn(name: str) -> str:
    strokes = STROKES[name]
    lines = ("M" + "L".join(f"{x:g} {y:g}" for x, y in line) for line in strokes.lines)
    return _stroked("".join(lines), strokes.width)


DRAWN = {
    **{name: _drawn(name) for name in STROKES},
    "ch": '<ellipse rx="1.2" ry=".6" fill="none" stroke="currentColor" stroke-width=".3"/>',
    "sl-st": '<ellipse rx=".75" ry=".45" fill="currentColor"/>',
    "ring": _stroked("M.7 1.1A1.3 1.3 0 1 1 1.27 .3Q1.2 1.2 2 1.6", 0.3),
    "start": _stroked("M-1.1 0L.8 0M.1 -.7L.9 0L.1 .7", 0.35),
    "cut": '<path d="M-.9 .8L0 -.9L.9 .8z" fill="currentColor"/>',
}
"""What is drawn for each symbol, by its name."""

ORDER = tuple(DRAWN)


def symbols(used: Iterable[str]) -> str:
    """Definitions of the symbols that a chart uses."""
    wanted = set(used)
    return "".join(
        DRAWN[name].replace(" ", f' id="st-{name}" ', 1) for name in ORDER if name in wanted
    )


def meanings(words: TermSet, in_rows: bool) -> dict[str, str]:
    """What each symbol means, in the words of the pattern."""
    begins = words.say("a round begins, with its number")
    if in_rows:
        begins = words.say("a row begins, with its number")
    return {
        "sc": f"{words.sc}{words.manner.colon}{words.sc_name}",
        "inc": words.say("{name}: 2 {sc} in the same {st}", name=words.inc),
        "dec": words.say(
            "{name}: the next 2 {sts} together, by their front loops (the arcs)", name=words.dec
        ),
        "ch": _named(words.ch, words),
        "sl-st": _named(words.sl_st, words),
        "ring": words.magic_ring,
        "start": begins,
        "cut": words.fasten_off,
    }


def _named(short: str, words: TermSet) -> str:
    """A short word with the whole one, where there is another."""
    name = dict(words.abbreviations).get(short)
    return f"{short}{words.manner.colon}{name}" if name else short
