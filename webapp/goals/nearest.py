"""As near as can be: the height at which what is measured comes nearest to what is wanted."""

from __future__ import annotations

from webapp.goals.bracket import bracket
from webapp.goals.ladder import LOOKS, Ladder
from webapp.goals.limits import Met

STRIDE, AROUND = 0.004, 0.05
"""Where no rung of a jump has what is wanted, heights around are tried: every 0.8 %, 5 % each
way, then between them. A widest round strays 4 % from its outline for the sake of simple rounds,
and no more."""

MOST = 22
"""Heights tried; what is left of 40 finds the next changes."""


def nearest_to(ladder: Ladder, target: float, close: float) -> tuple[Met, bool]:
    """The place that comes nearest to ``target``, or within ``close`` of it, with the next changes,
    and whether the target lies about an end of the heights that can be made, or beyond.

    Of a stretch of heights that give the same it is the middle. Raises the refusal of the toy
    itself when no height looked at can be made.
    """
    below, above = bracket(ladder, target, 1.0, ladder.start, close=close)
    at_end = below is None or above is None or ladder.at(below) is None
    jump = below if below is not None else above
    assert jump is not None
    for place in _around(ladder, jump):
        if len(ladder.seen) >= MOST or ladder.off(ladder.best(target), target) <= close:
            break
        ladder.at(place)
    found = ladder.best(target)
    up, down = (ladder.change(found, way, 0.5 / target) for way in (1, -1))
    middle = _middle(ladder, found, up, down)
    return Met(middle, up, down), at_end


def _around(ladder: Ladder, jump: int) -> list[int]:
    """Rungs either side of a jump, the nearest first: every other, then those between."""
    last = round(AROUND / STRIDE)
    steps = (*range(2, last + 1, 2), *range(1, last + 1, 2))
    places = (ladder.on_rung(jump * (1.0 + way * STRIDE * n)) for n in steps for way in (1, -1))
    return list(dict.fromkeys(places))


def _middle(ladder: Ladder, found: int, up: int | None, down: int | None) -> int:
    """The middle of the heights that give the same, if it gives the same itself."""
    first = ladder.low if down is None else down + ladder.rung
    last = ladder.high if up is None else up - ladder.rung
    middle = ladder.on_rung((first + last) / 2.0)
    if len(ladder.seen) >= LOOKS and middle not in ladder.seen:
        return found
    return middle if ladder.at(middle) == ladder.at(found) else found
