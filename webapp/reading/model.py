"""What has been read of a written pattern: parts, rounds, remarks, and how sure each round is.

Places are spans of the text as it was handed in, so that a page can mark them in the original.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from webapp.terms import Language

USES: Mapping[str, tuple[int, int]] = MappingProxyType(
    {
        "sc": (1, 1),
        "inc": (1, 2),
        "inc3": (1, 3),
        "inc4": (1, 4),
        "inc5": (1, 5),
        "inc6": (1, 6),
        "inc7": (1, 7),
        "inc8": (1, 8),
        "dec": (2, 1),
        "dec3": (3, 1),
        "skip": (1, 0),
        "sl st": (1, 1),
        "hdc": (1, 1),
        "hdc inc": (1, 2),
        "hdc dec": (2, 1),
        "dc": (1, 1),
        "dc inc": (1, 2),
        "dc dec": (2, 1),
        "tr": (1, 1),
        "ch": (0, 1),
    }
)
"""Kinds of stitch: how many stitches of the round before each takes up, and how many it makes.
Named as US patterns name them, whatever the words of the text."""

Run = tuple[str, int]
"""A kind of stitch and how many of it, one after the other."""

Work = tuple[Run, ...]
"""The stitches of a round in order; neighbouring runs are of different kinds."""


@dataclass(frozen=True, order=True)
class Span:
    """Characters ``start`` up to, not including, ``end`` of the text."""

    start: int
    end: int


class Verdict(Enum):
    """How sure a round is: its stitches and its count agree; they do not; it could be read in two
    ways and one was chosen; it could not be read."""

    AGREES = "agrees"
    DISAGREES = "disagrees"
    CHOICE = "choice"
    UNREAD = "unread"


class Begin(Enum):
    """What the first round of a part is worked into."""

    RING = "ring"  # a magic ring, or 2 chains and into the first of them: closed at the start
    CHAIN_RING = "chain ring"  # chains joined into a ring: open at the start
    OVAL = "oval"  # along both sides of a chain
    LEGS = "legs"  # round two (or more) pieces joined, with or without chains between them
    FLAT = "flat"  # a chain, worked in rows
    EDGE = "edge"  # the edge of another piece, or stitches left earlier
    UNKNOWN = "unknown"


class RemarkKind(Enum):
    """What a remark between rounds is about."""

    STUFF = "stuff"
    EYES = "eyes"
    COLOUR = "colour"
    END = "end"
    SEW = "sew"
    OTHER = "other"


@dataclass(frozen=True)
class Remark:
    """Words that are no stitches: after which round of its part they stand (0: before the first),
    what they are about, and where they stand."""

    after: int
    kind: RemarkKind
    text: str
    span: Span


@dataclass(frozen=True)
class Choice:
    """A reading that needed a choice: what was taken, what else it could be (and the stitches the
    round would have then, if it works out)."""

    taken: str
    other: str
    other_count: int | None


@dataclass(frozen=True)
class Mend:
    """The smallest change that makes a round right: in words, and as a replacement in the text."""

    says: str
    span: Span
    replacement: str


@dataclass(frozen=True)
class ReadRound:
    """One round as read.

    ``number`` counts within the part, whatever ``label`` (as written) says; the rounds of a range
    share a span. ``before`` is how many stitches it is worked into (None if that is not known),
    ``gives`` what its stitches make, ``stated`` the count that is written (None: none is), and
    ``count`` the stitches it has as far as can be told: what rounds after it are checked against.
    ``work`` is empty where it is not understood. ``left`` stitches of the round before are left
    unworked on purpose. ``loops`` is "back", "front" or "". ``findings`` are sentences for people:
    why it does not agree or is not understood. ``other`` is the change to the text that settles a
    choice the other way.
    """

    number: int
    label: str
    span: Span
    line: int
    column: int
    verdict: Verdict
    before: int | None
    gives: int | None
    stated: int | None
    count: int | None
    work: Work = ()
    left: int = 0
    loops: str = ""
    joined: bool = False
    turned: bool = False
    findings: tuple[str, ...] = ()
    choices: tuple[Choice, ...] = ()
    mend: Mend | None = None
    next_needs: int | None = None
    other: Mend | None = None


@dataclass(frozen=True)
class ReadPart:
    """One part: its name as written, how many times it is made, how it is begun, its rounds.

    ``chain`` are the chains it is begun with (0 for a magic ring), ``per_leg`` the stitches of each
    piece that are joined (legs). ``rows`` tells a flat piece. ``closed`` tells whether its last
    round is gathered to a point. ``remarks`` are in the order of the text. ``heading`` is where its
    name stands; ``again`` tells that its words say to repeat rounds.
    """

    title: str
    copies: int
    span: Span
    begin: Begin
    rounds: tuple[ReadRound, ...]
    remarks: tuple[Remark, ...] = ()
    chain: int = 0
    per_leg: tuple[int, ...] = ()
    rows: bool = False
    closed: bool = False
    heading: Span | None = None
    again: bool = False

    @property
    def counts(self) -> tuple[int | None, ...]:
        return tuple(r.count for r in self.rounds)


@dataclass(frozen=True)
class ReadGauge:
    """A gauge the text states: stitches and rounds in 10 cm (rounds None if not said)."""

    stitches: float
    rounds: float | None
    span: Span


@dataclass(frozen=True)
class ReadPattern:
    """A whole text as read.

    ``language`` are the words it was read by, ``why`` the sentence that says how that was told;
    ``slips`` are sentences about characters that were read as others (look-alike letters, dashes,
    scanning slips). ``remarks`` stand before the first part, or after the last, in no part.
    """

    text: str
    title: str
    language: Language
    why: str
    gauge: ReadGauge | None
    parts: tuple[ReadPart, ...]
    remarks: tuple[Remark, ...] = ()
    slips: tuple[str, ...] = ()
