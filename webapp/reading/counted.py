"""The number that pieces of a line give as a count: `(18)`, `18 sts`, `(4 rounds)`."""

from __future__ import annotations

from collections.abc import Sequence

from webapp.reading.nodes import Act
from webapp.reading.pieces import Piece, Sign, Times, is_sign

COUNTED = ("sc", "hdc", "dc", "tr")
"""Kinds of stitch that a count may name: `(18 sc)`."""


def number_of(piece: Piece | None) -> int | None:
    """The number of a bare number, or of so many plain stitches."""
    if isinstance(piece, Sign):
        return piece.value if piece.sign == "n" else None
    if isinstance(piece, Act) and len(piece.options[0].work) == 1:
        kind, value = piece.options[0].work[0]
        return value if kind in COUNTED and value > 1 else None
    return None


def count_in(inside: Sequence[Piece], after: Piece | None) -> int | None:
    """The number of `(18)`, `[18 sts]`, `(18 sc)`, `(= 18)`, `(18 stitches in total)`; none where
    it is said how often (``after`` is what stands behind the bracket)."""
    if isinstance(after, Times) or is_sign(after, "*Ox"):
        return None
    number: int | None = None
    words = 0
    for piece in inside:
        if is_sign(piece, "pQ=.-:MI"):
            continue
        if is_sign(piece, "?"):
            words += 1
            continue
        value = number_of(piece)
        if value is None or number is not None:
            return None
        number = value
    return number if words < 4 else None


def rounds_said(inside: Sequence[Piece]) -> int | None:
    """The number of `(4 rounds)`."""
    if len(inside) != 2 or not is_sign(inside[1], "DW"):
        return None
    return number_of(inside[0]) if is_sign(inside[0], "n") else None
