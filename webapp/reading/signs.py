"""Signs: one letter for each kind of word, and a word of a line with its sign.

``s`` is a single crochet, ``n`` a number, ``I`` into, ``E`` each: what comes after can look at a
line as a short string of signs, whatever the language.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

SIGNS: Mapping[str, str] = MappingProxyType(
    {
        "sc": "s",
        "hdc": "h",
        "dc": "d",
        "tr": "t",
        "slst": "l",
        "inc": "i",
        "dec": "e",
        "tog": "g",
        "bobble": "y",
        "ch": "c",
        "st": "p",
        "ring": "R",
        "round": "D",
        "row": "W",
        "in": "I",
        "each": "E",
        "next": "N",
        "same": "A",
        "first": "F",
        "last": "L",
        "around": "O",
        "even": "V",
        "times": "x",
        "twice": "w",
        "rep": "r",
        "from": "f",
        "more": "m",
        "skip": "k",
        "turn": "T",
        "join": "J",
        "back_loops": "B",
        "front_loops": "b",
        "and": "&",
        "hook": "H",
        "other_side": "Z",
        "remaining": "M",
        "total": "Q",
        "leg": "G",
        "unworked": "U",
        "form": "Y",
        "or": "~",
        "the": "",
        "work": "",
    }
)
"""One letter for each concept of a term table; nothing for words that carry no meaning here."""

STITCH_SIGNS = "shdtlieg"

LETTERS = {"x": "s", "v": "i", "∨": "i", "λ": "e", "ʌ": "e", "∧": "e", "^": "e", "a": "e"}
"""Letters that charts of the East use for single crochet, increase and decrease: common practice,
no source."""
Key = tuple[tuple[str, str, int], ...]
"""Words of a text's own: each with its sign and its number (:mod:`webapp.reading.keys`)."""
BOBBLE = -1
"""The number of a stitch that is a bobble, a popcorn or another of many loops."""
LARGEST = 100_000
"""No number of a pattern is larger; one that is has the sign ``!``."""


@dataclass(frozen=True, slots=True)
class Word:
    """A word of a line: its sign, its number (of a number, an ordinal, a decrease), its place."""

    sign: str
    value: int
    start: int
    end: int


def mark(piece: str, start: int, end: int) -> Word:
    """A bracket, a star, a comma; else a word that is not known."""
    if piece.startswith("**"):
        return Word("*", 0, start, end)
    if piece == "->":
        return Word("=", 0, start, end)
    sign = piece if len(piece) == 1 and piece in "()[]{}<>|*,;.:=-+/" else "?"
    return Word("&" if sign == "+" else sign, 0, start, end)
