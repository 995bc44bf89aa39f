"""Eyes of a toy by what a pattern says of them: between which rounds, how many stitches apart."""

from __future__ import annotations

import re
from collections.abc import Sequence

from webapp.own.naming import Data
from webapp.reading import RemarkKind
from webapp.rework.own_places import Seated
from webapp.rework.own_words import plain, rounds_in

EYES_MM = 8.0
SIZES = (3.0, 40.0)
"""mm; eyes there are."""

AROUND = 33.0
"""Degrees from the front, where it is not said how far apart: as on our own toys."""

WIDEST = (1.0, 120.0)
"""Degrees that a recipe allows."""

SIZE = re.compile(r"(\d+(?:[.,]\d+)?)\s*mm")
APART = re.compile(
    r"(\d+) (?:sts?|stitches|sc|dc|maschen|m|mailles|ms|puntos|pt|punti|maglie|pontos|steken) "
    r"(?:\w+ ){0,3}?(?:apart|between|abstand|auseinander|ecart|entre|separacion|distanza|distancia|"
    r"ertussen|tussen)"
    r"|(?:interspace|leave|abstand|ecart|separacion|distancia|distanza) (?:\w+ ){0,2}?(\d+)"
)


def eyes_of(seated: Sequence[Seated]) -> Data | None:
    """The eyes, by the first remark about them that says between which rounds they go."""
    for part in seated:
        for remark in part.read.remarks:
            if remark.kind is not RemarkKind.EYES or not part.shape.counts:
                continue
            rounds = rounds_in(remark.text)
            along = part.along(*rounds) if rounds else None
            if rounds is None or along is None or part.read.copies > 1:
                continue
            size = SIZE.search(remark.text.lower())
            return {
                "on": part.key,
                "along": along,
                "around": _around(remark.text, part.shape.counts[rounds[0] - 1]),
                "diameter": _size(size[1]) if size else EYES_MM,
            }
    return None


def _size(figure: str) -> float:
    low, high = SIZES
    return min(high, max(low, float(figure.replace(",", "."))))


def _around(text: str, count: int) -> float:
    """The angle of each eye from the front, by the stitches between them."""
    found = APART.search(plain(text))
    if not found:
        return AROUND
    apart = int(found[1] or found[2])
    return round(min(WIDEST[1], max(WIDEST[0], 180.0 * apart / count)), 1)
