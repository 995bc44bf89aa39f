"""Whole counts for a stretch of rounds of a re-worked part, or for an arc of them.

The solver is that of our own toys (:mod:`webapp.rounds.counts`). Simple rounds have a price here
only as far as there is anything to round: where all ideals are whole stitches (the same gauge and
size) the pattern is its maker's, and comes out as it was.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from webapp.rounds.counts import CountProblem, choose_counts

REACH, REACH_OF = 2.0, 0.06
"""A count lies within so many stitches of its ideal, or that share of it, the larger."""

WIDEST_OF = 0.03
"""The widest round within half a stitch, or that share of it."""

HALF = 0.25
"""Ideals are that far from whole stitches on the mean when nothing is known of them."""


@dataclass(frozen=True)
class Fixed:
    """Counts that are given: of the first round and of the last, where they are."""

    first: int | None = None
    last: int | None = None


def base_of(counts: Sequence[int]) -> int:
    """The number that most rounds change by; of several as frequent the first round's if it is
    one of them, else the smallest."""
    steps = [abs(b - a) for a, b in zip(counts, counts[1:], strict=False) if a != b]
    if not steps:
        return max(1, counts[0])
    often = Counter(steps)
    most = max(often.values())
    best = [step for step, times in often.items() if times == most]
    return counts[0] if counts[0] in best else min(best)


def price(weight: int, ideals: Sequence[float]) -> int:
    """What simple rounds are worth where ideals lie so far from whole stitches, in eighths of
    their price (the solver keeps what it has worked out for one)."""
    off = sum(abs(n - round(n)) for n in ideals) / max(1, len(ideals))
    return round(weight * math.ceil(8.0 * min(1.0, off / HALF) - 1e-6) / 8.0)


def choose(
    ideals: Sequence[float],
    *,
    base: int,
    weight: int,
    before: int = 0,
    fewest: int = 4,
    widest: float | None = None,
    fixed: Fixed = Fixed(),
    even: tuple[bool, ...] = (),
) -> tuple[tuple[int, ...], bool] | None:
    """The counts of rounds, and whether all lie near their ideals; None where none can be worked.

    ``widest`` is the ideal of the widest round of the whole part, which no round exceeds.
    """
    lows = [max(fewest, math.ceil(n - _reach(n) - 1e-9)) for n in ideals]
    highs = [max(fewest, math.floor(n + _reach(n) + 1e-9)) for n in ideals]
    if widest is not None:
        slack = max(0.5, WIDEST_OF * widest)
        most = math.floor(widest + slack + 1e-9)
        highs = [max(low, min(high, most)) for low, high in zip(lows, highs, strict=True)]
        lows = [
            max(low, math.ceil(n - slack)) if n >= widest - 1e-9 else low
            for low, n in zip(lows, ideals, strict=True)
        ]
        highs = [max(low, high) for low, high in zip(lows, highs, strict=True)]
    problem = CountProblem(
        tuple(ideals), tuple(lows), tuple(highs), max(1, base), weight, before, even
    )
    problem = _with(problem, fixed)
    chosen = choose_counts(problem)
    if chosen is not None:
        return chosen.counts, True
    freer = _with(
        replace(
            problem,
            lowest=tuple(max(fewest, min(low, low // 2)) for low in lows),
            highest=tuple(high + max(3, high // 4) for high in highs),
        ),
        fixed,
    )
    chosen = choose_counts(freer)
    return None if chosen is None else (chosen.counts, False)


def _reach(ideal: float) -> float:
    return max(REACH, REACH_OF * ideal)


def _with(problem: CountProblem, fixed: Fixed) -> CountProblem:
    """The problem with its given counts."""
    lows, highs = list(problem.lowest), list(problem.highest)
    for at, count in ((0, fixed.first), (-1, fixed.last)):
        if count is not None:
            lows[at] = highs[at] = count
    return replace(problem, lowest=tuple(lows), highest=tuple(highs))
