"""At most so much: the greatest height at which it is still met."""

from __future__ import annotations

from dataclasses import dataclass

from webapp.goals.bracket import beyond, bracket
from webapp.goals.ladder import Ladder

ONE_MORE = 1.01
"""A limit is tight when it is broken at a height of 1 % more."""


@dataclass(frozen=True)
class Met:
    """The place found, and the places of the next changes; None where the slider ends."""

    place: int
    up: int | None
    down: int | None


def within_limit(ladder: Ladder, target: float, power: float) -> Met | None:
    """The greatest place at which there is not too much, tight; None where there is none.

    Growth is uneven: where the limit is met again at 1 % more, the search goes on from there.
    """
    below, above = bracket(ladder, target, power, ladder.start)
    while below is not None and above is not None:
        further = _met_again(ladder, target, below)
        if further is None:
            break
        below, above = _from(ladder, target, power, further)
    if below is None or ladder.at(below) is None:
        made = [p for p, amount in ladder.seen.items() if amount and not beyond(amount, target)]
        if not made:
            return None
        below = max(made)
    return Met(below, above, ladder.change(below, -1))


def _met_again(ladder: Ladder, target: float, below: int) -> int | None:
    """A place at 1 % more where the limit is met after all: a rung beside it, or itself."""
    more = round(below * ONE_MORE)
    if more > ladder.high or ladder.at(below) is None or beyond(ladder.at(more), target):
        return None
    rung = more // ladder.rung * ladder.rung
    beside = (min(rung + ladder.rung, ladder.high), rung)
    fits = (p for p in beside if p > below and not beyond(ladder.at(p), target))
    return next(fits, more)


def _from(
    ladder: Ladder, target: float, power: float, further: int
) -> tuple[int, int | None]:
    """Neighbouring places from one on where the limit is met."""
    following = (further // ladder.rung + 1) * ladder.rung
    if following > ladder.high:
        return further, None
    if beyond(ladder.at(following), target):
        return further, following
    beyonds = [p for p in ladder.seen if p > following and beyond(ladder.at(p), target)]
    below, above_now = bracket(
        ladder, target, power, following, above=min(beyonds, default=None)
    )
    assert below is not None
    return below, above_now

