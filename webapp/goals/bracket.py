"""Narrowing a stretch of heights down to two neighbouring rungs, by guess and by halving.

What is measured grows with the height, but in jumps and not always: the rung below the jump that is
found is on the near side of what is wanted, the rung above it beyond; there may be more such jumps.
"""

from __future__ import annotations

from webapp.goals.ladder import Amount, Ladder

CLOSE = 8
"""Rungs apart from where on guesses tell nothing: jumps are as large as what is left."""

GUESSES = 8
"""Guesses before it is halved only."""

SMALL = 1.5
"""How much taller is tried where nothing can be made or measured, to the power of what grows."""


def beyond(amount: Amount | None, target: float) -> bool:
    """Whether there is too much. A toy that cannot be made is too small, so not."""
    return amount is not None and amount.flow > target + 1e-9


def bracket(
    ladder: Ladder,
    target: float,
    power: float,
    start: int,
    *,
    above: int | None = None,
    close: float = -1.0,
) -> tuple[int | None, int | None]:
    """(place not beyond, place beyond): neighbouring rungs, or None at an end of the slider.

    ``above`` is a place known to be beyond, if one is; ``flow`` grows with about ``power`` of the
    height. A place within ``close`` of the target ends it and is both. The first may be a place
    where the toy cannot be made.
    """
    below: int | None = None
    place = ladder.on_rung(start)
    while True:
        if ladder.off(place, target) <= close:
            return place, place
        if beyond(ladder.at(place), target):
            above = place
        else:
            below = place
        if below is None and above == ladder.low:
            return None, above
        if above is None and below == ladder.high:
            return below, None
        if below is not None and above is not None and above - below <= ladder.rung:
            return below, above
        place = _next(ladder, target, power, place, below, above)


def _next(
    ladder: Ladder, target: float, power: float, place: int, below: int | None, above: int | None
) -> int:
    """The place to look at next, always between those known."""
    amount = ladder.at(place)
    grown = target / amount.flow if amount is not None and amount.flow > 0.0 else SMALL
    guess = ladder.on_rung(place * grown ** (1.0 / power))
    if below is None or above is None:
        # At least a stride to the other side, wider each time: from a plateau a guess gets nowhere.
        stride = ladder.rung << min(len(ladder.seen), 10)
        if below is None:
            return ladder.on_rung(min(guess, place - stride))
        return ladder.on_rung(max(guess, place + stride))
    wide = (above - below) // ladder.rung
    if wide > CLOSE and len(ladder.seen) <= GUESSES and below < guess < above:
        return guess
    return ladder.on_rung(below + wide // 2 * ladder.rung)
