"""Whole stitch counts for all rounds of a part together: the exactly optimal choice.

For every round there is an ideal count, seldom whole. Counts are chosen for all rounds at once so
that the sum of two costs is least:

* shape: the square of (count - ideal), in units of the larger of 1 stitch and 4 % of the ideal;
* work: how awkward the step from the round before is (see :func:`awkwardness`), times a weight.

Rounds may at most double and at least halve the round before. The search is dynamic programming
over the rounds, one vector step each; costs are whole numbers, so that "optimal" is exact and can
be compared with another solver's optimum. Assumption, part of the statement of the problem: a
count lies within 3 stitches or 10 % of its ideal, whichever is larger.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

COST_SCALE = 1000
"""One squared unit of deviation, in the whole numbers the search adds up."""

FORBIDDEN = 10**12
REACH_STITCHES, REACH_SHARE = 3.0, 0.1
"""How far a count may lie from its ideal: so many stitches or that share of it, the larger."""

FEWEST = 4
"""Fewest stitches a round can have and still be worked in the round."""


@dataclass(frozen=True)
class CountProblem:
    """What is asked of the counts of one part (or one sector).

    ``lowest`` and ``highest`` (inclusive) bound each round's count; ``ideals`` are the counts
    wanted; all have one entry a round. ``before`` is the count the first round is worked into, 0
    when the first round is a start. ``base`` is the part's base number. ``even`` marks rounds
    whose count must be even. ``weight`` is the cost of one step of awkwardness (0 or more, in
    thousandths of a squared unit).
    """

    ideals: tuple[float, ...]
    lowest: tuple[int, ...]
    highest: tuple[int, ...]
    base: int
    weight: int
    before: int = 0
    even: tuple[bool, ...] = ()


@dataclass(frozen=True)
class Counts:
    """The chosen counts, one a round, and what they cost together."""

    counts: tuple[int, ...]
    cost: int


def awkwardness(before: int, after: int, base: int) -> int:
    """How awkward a round of ``after`` stitches is to work into ``before``.

    0 when worked even; 1 when a repeat divides evenly; 1 more when none does; 3 more when the
    count leaves the part's base number.

    >>> [awkwardness(18, n, 6) for n in (18, 24, 20, 22)]
    [0, 1, 4, 5]
    """
    if before == after:
        return 0
    steps = abs(after - before)
    return 1 + (before % steps != 0) + 3 * (after % base != 0)


def deviation_cost(ideal: float, count: int) -> int:
    """Cost of giving a round ``count`` stitches where ``ideal`` are wanted."""
    return int(_deviations(ideal, np.array([count]))[0])


def _deviations(ideal: float, counts: Ints) -> Ints:
    unit = max(1.0, 0.04 * ideal)
    costs: Ints = np.rint(COST_SCALE * ((counts - ideal) / unit) ** 2).astype(np.int64)
    return costs


def _all_deviations(problem: CountProblem) -> list[Ints]:
    """Each round's own costs, for all counts from its lowest to its highest.

    One array for all rounds together: a round at a time costs as much as the search itself.
    """
    lows = np.array(problem.lowest)
    widths = np.array(problem.highest) - lows + 1
    counts = lows[:, None] + np.arange(int(widths.max()))
    ideals = np.array(problem.ideals)[:, None]
    units = np.maximum(1.0, 0.04 * ideals)
    costs = np.rint(COST_SCALE * ((counts - ideals) / units) ** 2).astype(np.int64)
    if problem.even:
        costs += FORBIDDEN * (counts % 2) * np.array(problem.even)[:, None]
    return [row[:width] for row, width in zip(costs, widths.tolist(), strict=True)]


@lru_cache(maxsize=16)
def _work_costs(size: int, base: int, weight: int) -> NDArray[np.int32]:
    """:func:`awkwardness` times ``weight`` for all pairs below ``size``, [before, after]."""
    before = np.arange(size)[:, None]
    after = np.arange(size)[None, :]
    steps = np.abs(after - before)
    divides = before % np.maximum(steps, 1) == 0
    table = 1 + (~divides).astype(np.int64) + 3 * (after % base != 0)
    table[np.diag_indices(size)] = 0
    costs: NDArray[np.int32] = (weight * table).astype(np.int32)
    return costs


@lru_cache(maxsize=16)
def _too_steep(size: int) -> NDArray[np.bool_]:
    """Where a round more than doubles or more than halves, for all pairs below ``size``, [before,
    after]."""
    before = np.arange(size)[:, None]
    after = np.arange(size)[None, :]
    steep: NDArray[np.bool_] = (after > 2 * before) | (2 * after < before)
    return steep


def choose_counts(problem: CountProblem) -> Counts | None:
    """The cheapest counts, or None when no counts within the bounds can be worked.

    Ties go to the smaller count of the last round where they differ, so that equal input always
    gives equal output.
    """
    lows, highs = problem.lowest, problem.highest
    size = 1 << max(5, (max(max(highs), problem.before) + 1).bit_length())
    weight = problem.weight
    work, steep = _work_costs(size, problem.base, weight), _too_steep(size)
    before_low, before_high = problem.before, problem.before
    totals = np.zeros(1, dtype=np.int64)
    back: list[Ints] = []
    if any(high < low for low, high in zip(lows, highs, strict=True)):
        return None
    owns = _all_deviations(problem)
    columns = np.arange(max(high - low for low, high in zip(lows, highs, strict=True)) + 1)
    for number, (own, low, high) in enumerate(zip(owns, lows, highs, strict=True)):
        if number == 0 and problem.before == 0:
            after = np.arange(low, high + 1)
            totals = own + weight * 3 * (after % problem.base != 0)
            back.append(np.zeros(len(own), dtype=np.int64))
        else:
            steps = totals[:, None] + work[before_low : before_high + 1, low : high + 1]
            if high > 2 * before_low or 2 * low < before_high:
                steps[steep[before_low : before_high + 1, low : high + 1]] += FORBIDDEN
            best = steps.argmin(axis=0)
            back.append(best)
            totals = steps[best, columns[: high - low + 1]] + own
        before_low, before_high = low, high
    return _trace(totals, back, lows)


def _trace(totals: Ints, back: list[Ints], lows: tuple[int, ...]) -> Counts | None:
    """Follow the choices from the last round to the first."""
    last = int(totals.argmin())
    cost = int(totals[last])
    if cost >= FORBIDDEN:
        return None
    counts = []
    for low, choice in zip(reversed(lows), reversed(back), strict=True):
        counts.append(low + last)
        last = int(choice[last])
    return Counts(tuple(reversed(counts)), cost)
