"""A pattern as it is written out again: mended, or re-worked for another yarn or size.

What was read (:mod:`webapp.reading.model`) with its doubts settled; the writer knows only this.
"""

from __future__ import annotations

from dataclasses import dataclass

from webapp.reading import Begin, Work
from webapp.yarns import Gauge


@dataclass(frozen=True)
class PlainRound:
    """A round: the stitches it is worked into, those it makes, and the work of each of its arcs
    in order (one arc where it is even all round).

    ``loops`` is "back", "front" or "". ``left`` stitches of the round before are left unworked.
    ``unread`` is a line kept as it stood because it could not be read, or does not agree;
    ``check`` says then what is to be checked, if that is known.
    """

    number: int
    before: int
    count: int
    arcs: tuple[Work, ...]
    loops: str = ""
    left: int = 0
    joined: bool = False
    turned: bool = False
    unread: str = ""
    check: str = ""


@dataclass(frozen=True)
class PlainRemark:
    """Words between rounds: after which round (0: before the first), and the words."""

    after: int
    text: str


@dataclass(frozen=True)
class PlainPart:
    """A part in working order."""

    title: str
    copies: int
    begin: Begin
    rounds: tuple[PlainRound, ...]
    remarks: tuple[PlainRemark, ...] = ()
    chain: int = 0
    per_leg: tuple[int, ...] = ()
    rows: bool = False
    closed: bool = False


@dataclass(frozen=True)
class PlainPattern:
    """A whole pattern; ``before`` and ``after`` are paragraphs that stand in no part."""

    title: str
    gauge: Gauge | None
    parts: tuple[PlainPart, ...]
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
