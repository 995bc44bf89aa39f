"""Written patterns with the counts they should have, and a reading held against them.

The texts and counts stand in ``tests/corpus`` (its README tells the format). A round of a text is
classed by :func:`compare`; what is printed of many of them is in :mod:`tests.corpus_report`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any

from webapp.reading import Begin, ReadPattern, ReadRound, Span, Verdict, read_pattern
from webapp.terms import Language

CORPUS = Path(__file__).parent / "corpus"
FOLDERS = ("english", "others", "more", "fresh")

FAULTS = frozenset(
    {
        "wrong printed count",
        "dropped number",
        "dropped bracket",
        "wrong multiplier",
        "stitches that do not divide",
        "words against numbers",
        "range against the number of rounds said",
    }
)
"""What can be planted in a text."""


class Class(Enum):
    """How a round was read, against what its writer meant."""

    RIGHT = "right"
    DOUBT = "in doubt"  # a choice was made, and the count is the one meant
    UNREAD = "not understood"
    ALARM = "false alarm"  # said to disagree, and no fault is planted
    WRONG = "wrong"  # passed with another count than the one meant
    MISSING = "missing"
    EXTRA = "extra"  # a round that the text does not have
    FOUND = "fault found"
    MISSED = "fault missed"


@dataclass(frozen=True)
class Fault:
    """A planted fault: the first of ``rounds`` rounds (counted within the part) of its line, what
    the stitches as printed give, what is printed, and a text that a mended line contains."""

    round: int
    kind: str
    mend: str
    rounds: int = 1
    gives: int | None = None
    stated: int | None = None


@dataclass(frozen=True)
class Part:
    """A part as its writer meant it; ``counts`` has one entry a round."""

    title: str
    copies: int
    begin: Begin
    counts: tuple[int, ...]
    faults: tuple[Fault, ...]
    doubts: frozenset[int]


@dataclass(frozen=True)
class Expected:
    """A text and what it should be read as."""

    name: str
    text: str
    language: Language
    common: bool
    shows: tuple[str, ...]
    parts: tuple[Part, ...]


@dataclass(frozen=True)
class Row:
    """A round: which it is, the count meant (None: an extra one), its class, how it was read.
    ``mended`` is told of planted faults only."""

    part: str
    round: int
    meant: int | None
    klass: Class
    read: ReadRound | None
    mended: bool | None = None


def _part(table: dict[str, Any]) -> Part:
    return Part(
        table["title"],
        table["copies"],
        Begin(table["begin"]),
        tuple(table["counts"]),
        tuple(Fault(**fault) for fault in table.get("fault", ())),
        frozenset(doubt["round"] for doubt in table.get("doubt", ())),
    )


def load(path: Path) -> Expected:
    """The text beside, and the expectation in, the toml file ``path``."""
    table = tomllib.loads(path.read_text(encoding="utf-8"))
    return Expected(
        f"{path.parent.name}/{path.stem}",
        path.with_suffix(".txt").read_text(encoding="utf-8"),
        Language(table["language"]),
        {"common": True, "uncommon": False}[table["kind"]],
        tuple(table["shows"]),
        tuple(_part(part) for part in table["part"]),
    )


@cache
def all_expected() -> tuple[Expected, ...]:
    return tuple(load(p) for f in FOLDERS for p in sorted((CORPUS / f).glob("*.toml")))


@cache
def read_of(expected: Expected) -> ReadPattern:
    """The text as it is read, once for all that is asked of it."""
    return read_pattern(expected.text)


def lined_up(meant: Sequence[int], read: Sequence[int | None]) -> list[tuple[int | None, ...]]:
    """Pairs of places in both, None where one has nothing to match: as few as possible unmatched.

    Two rounds of different counts may stand beside each other; that costs less than leaving both
    out, so a wrong count is seen as one.

    >>> lined_up([6, 12, 18], [6, 18])
    [(0, 0), (1, None), (2, 1)]
    """
    cost = [[float(i + j) for j in range(len(read) + 1)] for i in range(len(meant) + 1)]
    for i, count in enumerate(meant, 1):
        for j, other in enumerate(read, 1):
            beside = cost[i - 1][j - 1] + (0 if count == other else 1.5)
            cost[i][j] = min(beside, cost[i - 1][j] + 1, cost[i][j - 1] + 1)
    pairs: list[tuple[int | None, ...]] = []
    i, j = len(meant), len(read)
    while i or j:
        if i and j:
            beside = cost[i - 1][j - 1] + (0 if meant[i - 1] == read[j - 1] else 1.5)
            if cost[i][j] == beside:
                i, j = i - 1, j - 1
                pairs.append((i, j))
                continue
        if i and cost[i][j] == cost[i - 1][j] + 1:
            i -= 1
            pairs.append((i, None))
        else:
            j -= 1
            pairs.append((None, j))
    return pairs[::-1]


def classed(meant: int, doubtful: bool, read: ReadRound | None) -> Class:
    """The class of a round with no planted fault."""
    if read is None:
        return Class.MISSING
    if read.verdict is Verdict.DISAGREES:
        return Class.ALARM
    if read.verdict is Verdict.UNREAD:
        return Class.RIGHT if doubtful else Class.UNREAD
    if read.count != meant:
        return Class.WRONG
    return Class.RIGHT if doubtful or read.verdict is Verdict.AGREES else Class.DOUBT


_NUMBERS = {
    "two": "2",
    "three": "3",
    "four": "4",
    "five": "5",
    "six": "6",
    "seven": "7",
    "eight": "8",
}


def _plain(text: str) -> str:
    """Without spaces and capitals, English numbers as figures: "six times" is "6times"."""
    text = text.casefold().replace("×", "x")
    text = re.sub(rf"\b({'|'.join(_NUMBERS)})\b", lambda found: _NUMBERS[found[0]], text)
    return "".join(text.split())


def is_mended(text: str, read: ReadRound, fault: Fault) -> bool:
    """Whether the change that is offered brings what the fault's ``mend`` says into the line."""
    if read.mend is None:
        return False
    span, new = read.mend.span, read.mend.replacement
    start = text.rfind("\n", 0, span.start) + 1
    end = text.find("\n", span.end)
    end = len(text) if end < 0 else end
    old = text[start:end]
    line = text[start : span.start] + new + text[span.end : end]
    want = _plain(fault.mend)
    return _plain(line).count(want) > _plain(old).count(want)


Meant = tuple[int, int, int]
"""A round meant: the place of its part, its number within the part, its count."""


def _pieces(expected: Expected, read: ReadPattern) -> Iterator[tuple[list[Meant], list[ReadRound]]]:
    """Rounds meant and rounds read, part by part; all in one where the text was cut into another
    number of parts."""
    meant = [
        [(k, n, c) for n, c in enumerate(part.counts, 1)] for k, part in enumerate(expected.parts)
    ]
    parts = [list(p.rounds) for p in read.parts if p.rounds]
    if len(parts) == len(meant):
        yield from zip(meant, parts, strict=True)
    else:
        yield [m for piece in meant for m in piece], [r for p in parts for r in p]


def compare(expected: Expected, read: ReadPattern) -> list[Row]:
    """Every round of the text, classed, in the order of the text.

    The rounds of a range share a line: where one of them holds a planted fault, the others are
    passed over, whichever way they were read.
    """
    faulty = {
        (k, fault.round + more): fault
        for k, part in enumerate(expected.parts)
        for fault in part.faults
        for more in range(fault.rounds)
    }
    rows: list[Row] = []
    for meant, rounds in _pieces(expected, read):
        pairs = lined_up([c for _, _, c in meant], [r.count for r in rounds])
        at = {meant[i][:2]: rounds[j] for i, j in pairs if i is not None and j is not None}
        spans = {at[key].span for key in faulty if key in at}
        for i, j in pairs:
            got = None if j is None else rounds[j]
            if i is not None:
                rows += _rows(expected, meant[i], faulty, at, spans)
            elif got is not None and got.span not in spans:
                rows.append(Row("", got.number, None, Class.EXTRA, got))
    return rows


def _rows(
    expected: Expected,
    meant: Meant,
    faulty: Mapping[tuple[int, int], Fault],
    at: Mapping[tuple[int, int], ReadRound],
    spans: Set[Span],
) -> Iterator[Row]:
    """The row of one round meant, or none where another round of its line stands for it."""
    place, number, count = meant
    part, fault, got = expected.parts[place], faulty.get((place, number)), at.get((place, number))
    if fault is None:
        if got is None or got.span not in spans:
            klass = classed(count, number in part.doubts, got)
            yield Row(part.title, number, count, klass, got)
    elif fault.round == number:
        line = [at[key] for k in range(fault.rounds) if (key := (place, number + k)) in at]
        noted = [r for r in line if r.verdict is Verdict.DISAGREES]
        mended = any(is_mended(expected.text, r, fault) for r in noted)
        klass = Class.FOUND if noted else Class.MISSED
        first = next(iter(noted or line), None)
        yield Row(part.title, number, count, klass, first, mended)


def unread(expected: Expected) -> list[Row]:
    """The rows of a text whose reading broke off: all of its rounds are missing."""
    return [
        Row(part.title, number, count, Class.MISSING, None)
        for part in expected.parts
        for number, count in enumerate(part.counts, 1)
    ]


def right_share(rows: Sequence[Row]) -> float:
    """Of the rounds meant that hold no planted fault, those that are right; 1 if there are none."""
    plain = [r for r in rows if r.klass not in (Class.FOUND, Class.MISSED, Class.EXTRA)]
    return sum(r.klass is Class.RIGHT for r in plain) / len(plain) if plain else 1.0


def told(row: Row) -> str:
    """A row as one line for people."""
    read = row.read
    if read is None:
        return f"{row.klass.value}: {row.part or '(no title)'}, round {row.round}, {row.meant} sts"
    seen = f"{read.verdict.value}, before {read.before}, gives {read.gives}, stated {read.stated}"
    return (
        f"{row.klass.value}: {row.part or '(no title)'}, round {row.round} ({read.label!r}, line "
        f"{read.line}): meant {row.meant}, read {read.count} ({seen})"
    )
