"""Parts and patterns as reading gives them, built by hand: from counts, or from stitches."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from webapp.reading import (
    USES,
    Begin,
    ReadPart,
    ReadPattern,
    ReadRound,
    Remark,
    Span,
    Verdict,
    Work,
)
from webapp.rounds.spread import spread
from webapp.terms import Language

NOWHERE = Span(0, 0)


def read_round(number: int, before: int | None, work: Work, count: int | None) -> ReadRound:
    """A round of which that is known."""
    return ReadRound(
        number=number,
        label=f"Rnd {number}",
        span=NOWHERE,
        line=number,
        column=1,
        verdict=Verdict.UNREAD if count is None else Verdict.AGREES,
        before=before,
        gives=count,
        stated=count,
        count=count,
        work=work,
    )


def read_part(
    counts: Sequence[int | None],
    *,
    title: str = "Body",
    begin: Begin = Begin.RING,
    remarks: tuple[Remark, ...] = (),
    copies: int = 1,
    **more: Any,
) -> ReadPart:
    """A part of so many stitches a round, increases and decreases spread evenly."""
    rounds, before = [], None
    for number, count in enumerate(counts, 1):
        rounds.append(read_round(number, before, _even(before, count), count))
        before = count
    return ReadPart(title, copies, NOWHERE, begin, tuple(rounds), remarks, **more)


def _even(before: int | None, count: int | None) -> Work:
    if count is None:
        return ()
    if before is None:
        return (("sc", count),)
    return spread(before, count) if before <= 2 * count and count <= 2 * before else ()


def worked_part(works: Sequence[Work], *, title: str = "Head", **more: Any) -> ReadPart:
    """A part of which the stitches of each round are given, the first into a ring."""
    rounds: list[ReadRound] = []
    before = None
    for number, work in enumerate(works, 1):
        takes = sum(USES[kind][0] * times for kind, times in work)
        makes = sum(USES[kind][1] * times for kind, times in work)
        assert before is None or takes == before, f"round {number} takes {takes} of {before}"
        rounds.append(read_round(number, before, work, makes))
        before = makes
    begin = more.pop("begin", Begin.RING)
    return ReadPart(title, 1, NOWHERE, begin, tuple(rounds), **more)


def pattern_of(*parts: ReadPart, title: str = "Bo the bee", **more: Any) -> ReadPattern:
    return ReadPattern("", title, Language.US, "", None, parts, **more)
