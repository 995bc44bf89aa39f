"""Pieces of a line: stitches, how often they are said, marks, and whatever else stands there."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.reading.model import Span
from webapp.reading.nodes import Act, Fill, Group, Node
from webapp.reading.signs import Word


@dataclass(frozen=True)
class Times:
    """Said so often: of what stands before it. ``more`` times besides the once that is written;
    ``star`` goes back to a star; ``all`` is of all that stands before. No number: to the end of the
    round."""

    number: int | None
    span: Span
    more: bool = False
    rep: bool = False
    star: bool = False
    all: bool = False


@dataclass(frozen=True)
class Mark:
    """Something that is no stitch: ``what`` is "ring", "into ring", "chain", "into chain", "join",
    "turn", "back", "front", "leg", "left", "even", "bobble", "behind count" (stitches that
    are not read); with a number where one is said."""

    what: str
    number: int
    span: Span


@dataclass(frozen=True)
class Sign:
    """Anything else: a bracket, a star, a comma, an unknown word, a number by itself."""

    sign: str
    value: int
    span: Span


Piece = Node | Times | Mark | Sign


class Match:
    """A phrase found: its groups as numbers, its span."""

    def __init__(self, found: re.Match[str], words: Sequence[Word]) -> None:
        self._found = found
        self._words = words
        first, last = words[found.start()], words[found.end() - 1]
        self.span = Span(first.start, last.end)

    def number(self, *groups: str) -> int | None:
        """The number of the first of these groups that is there."""
        for group in groups:
            at = self._found.start(group) if group in self._found.re.groupindex else -1
            if at >= 0:
                return self._words[at].value
        return None

    def has(self, group: str) -> bool:
        return bool(self.text(group))

    def text(self, group: str) -> str:
        return (self._found[group] or "") if group in self._found.re.groupindex else ""

    def span_of(self, group: str) -> Span:
        start, end = self._found.span(group)
        return Span(self._words[start].start, self._words[end - 1].end)


def span_of(pieces: Sequence[Piece]) -> Span:
    return Span(pieces[0].span.start, pieces[-1].span.end)


def is_sign(piece: Piece | None, signs: str) -> bool:
    """Whether it is one of these signs."""
    return isinstance(piece, Sign) and piece.sign in signs


def is_work(piece: Piece) -> bool:
    """Whether it is stitches, or belongs to them."""
    if isinstance(piece, Mark):
        return piece.what not in ("left", "edge")
    return isinstance(piece, Act | Fill | Group | Times)
