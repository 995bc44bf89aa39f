"""A line of work with its body read: the rounds it covers, the counts that are written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from webapp.reading.bodies import Body
from webapp.reading.nodes import TooManyError, made_plainly, make
from webapp.reading.sheet import RoundLine


@dataclass
class WorkLine:
    """A line of work with its body and what it is checked for."""

    line: RoundLine
    text: str
    body: Body
    number: int
    """How many rounds it covers."""
    stated: tuple[int | None, ...]
    copied: bool = False
    """Its words stand in another line: nothing of it is mended here."""


def not_worked_out(line: RoundLine, why: str) -> WorkLine:
    """A round of a line that is not understood, and why; no change to its words is tried."""
    return WorkLine(line, "", Body((), trouble=why), 1, (None,), True)


def alone(body: Body) -> Body:
    """A body without what is said only where it stands."""
    return replace(body, remarks=(), counts=())


def counts_of(entries: Sequence[WorkLine]) -> list[int | None]:
    """The counts that lines end with, as written, else as their stitches make them."""
    counts: list[int | None] = []
    for entry in entries:
        stated, last = entry.stated[-1], counts[-1] if counts else None
        if stated is None and entry.body.nodes and len(entry.stated) == 1:
            try:
                made = make(entry.body.nodes, last, None, {})
            except TooManyError:
                made = None
            stated = made.makes if made is not None and not made.over else None
        counts.append(stated)
    return counts


def stated_in(body: Body, number: int) -> tuple[int | None, ...]:
    """The count written for each of the rounds a line covers."""
    counts = [count for count, _ in body.counts]
    if not counts:
        return (None,) * number
    if len(counts) == number:
        return tuple(counts)
    made = made_plainly(body.nodes, counts[-1])
    plain = made is not None and made.takes == made.makes
    if number == 1 or plain or not body.nodes:
        return (counts[-1],) * number
    # Rounds of a range that are not alike: the count is that of the last.
    return (*(None,) * (number - 1), counts[-1])
