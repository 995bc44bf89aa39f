"""Edges that meet: open edges of equal counts still have equal counts when they are re-worked.

    leg        ends open with n stitches                 n' is chosen once, for all of them
    body       begun on two legs of n, or on an edge     from whoever is read first
    neck       a head and a body open with n, sewn together
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.reading import Begin, ReadPart, RemarkKind
from webapp.rework.choosing import base_of
from webapp.rework.outline import Factors
from webapp.rounds import FEWEST

NEAR_OF = 0.04
"""An opening may be a stitch or that share of itself from its ideal, to be on the base number."""


@dataclass(frozen=True)
class Meeting:
    """Open edges of the same count: the parts they belong to, and the stitches they get."""

    was: int
    parts: tuple[int, ...]
    stitches: int


def open_end(part: ReadPart) -> int | None:
    """Stitches of the last round of a part that ends open; None where there is no such edge."""
    if part.closed or part.rows or not part.rounds:
        return None
    return part.counts[-1]


def meetings(
    parts: Sequence[ReadPart], factors: Sequence[Factors], sure: Sequence[bool]
) -> tuple[Meeting, ...]:
    """The open ends of the parts that are ``sure`` and that meet something. Ends of the same count
    meet if a remark says that they are sewn, or if they are made as wide; and a part may be begun
    on one. Other ends are free."""
    found: list[Meeting] = []
    for number, part in enumerate(parts):
        count = open_end(part)
        if count is None or not sure[number] or any(number in m.parts for m in found):
            continue
        same = [
            other
            for other, candidate in enumerate(parts)
            if other >= number
            and sure[other]
            and open_end(candidate) == count
            and (
                factors[other].stitches == factors[number].stitches
                or _sewn_together(part, candidate)
            )
        ]
        if len(same) == 1 and not any(_begun_on(each, count) for each in parts):
            continue
        bases = {base_of([n for n in parts[other].counts if n]) for other in same}
        base = bases.pop() if len(bases) == 1 else 1
        stitches = opening(count * factors[number].stitches, base, min(FEWEST, count))
        found.append(Meeting(count, tuple(same), stitches))
    return tuple(found)


def _begun_on(part: ReadPart, count: int) -> bool:
    """Whether a part may be begun on an edge of so many stitches."""
    if part.begin is Begin.LEGS:
        return count in part.per_leg or part.counts[:1] == (count,)
    return part.begin in (Begin.EDGE, Begin.CHAIN_RING) and part.counts[:1] == (count,)


def met(meetings: Sequence[Meeting], count: int, ideal: float, base: int) -> int:
    """The stitches anew of an edge of so many that a part is begun on."""
    for meeting in meetings:
        if meeting.was == count:
            return meeting.stitches
    return opening(ideal, base, min(FEWEST, count))


def opening(ideal: float, base: int, fewest: int) -> int:
    """Whole stitches of an opening, a multiple of its base number where one is near."""
    whole, neat = round(ideal), base * round(ideal / base)
    to_round = abs(ideal - whole) >= 1e-6
    if to_round and abs(neat - ideal) <= max(1.0, NEAR_OF * ideal):
        whole = neat
    return max(fewest, whole)


def _sewn_together(one: ReadPart, other: ReadPart) -> bool:
    """Whether a remark of one of them about sewing or ending names the other."""
    return one is other or _names(one, other) or _names(other, one)


def _names(part: ReadPart, other: ReadPart) -> bool:
    title = other.title.casefold()
    return bool(title) and any(
        title in remark.text.casefold()
        for remark in part.remarks
        if remark.kind in (RemarkKind.SEW, RemarkKind.END)
    )
