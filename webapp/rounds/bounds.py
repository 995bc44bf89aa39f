"""Bounds on the counts of a part, and what gives way when they leave nothing that can be worked."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from webapp.rounds.counts import FEWEST, REACH_SHARE, REACH_STITCHES, CountProblem
from webapp.shapes.meridian import Floats

RING_COUNTS = range(4, 9)
"""Stitches that a start ring can have: common practice, no source."""

TOLERANCE = 0.04
"""A width may be out by half a stitch or by this part of itself, whichever is larger."""


def width_slack(widest: float, held: bool, even: bool = False) -> float:
    """How far the widest round may be from its ideal of ``widest`` stitches; where the width is
    held, half a stitch, or one where its count must be even."""
    least = 1.0 if even else 0.5
    return least if held else max(least, TOLERANCE * widest)


def bound_by_widest(
    ideals: Floats, widest: float, fewest: int, held: bool, even: tuple[bool, ...] = ()
) -> tuple[Floats, list[int], list[int]]:
    """Ideals, and the lowest and highest count of each round, with the widest round met.

    The widest lap seldom falls on the edge of a round; the widest round stands for it, and no
    round may be wider.
    """
    peak = int(ideals.argmax())
    slack = width_slack(widest, held, bool(even) and even[peak])
    ideals = np.where(np.arange(len(ideals)) == peak, widest, ideals)
    lows, highs = _reachable(ideals, fewest, math.floor(widest + slack))
    lows[peak] = max(lows[peak], math.ceil(widest - slack))
    return ideals, lows, highs


def _reachable(ideals: Floats, fewest: int, most: int) -> tuple[list[int], list[int]]:
    """Lowest and highest count of each round: within reach of its ideal, and within bounds."""
    span = np.maximum(REACH_STITCHES, REACH_SHARE * ideals)
    lows = np.maximum(fewest, np.ceil(ideals - span)).astype(np.int64)
    highs = np.maximum(fewest, np.minimum(most, np.floor(ideals + span))).astype(np.int64)
    return lows.tolist(), highs.tolist()


def any_ring(problem: CountProblem, ceiling: int) -> CountProblem:
    """The same problem begun on whichever ring it can be worked from."""
    most = max(FEWEST, min(RING_COUNTS[-1], ceiling))
    return replace(
        problem,
        lowest=(RING_COUNTS[0], *problem.lowest[1:]),
        highest=(most, *problem.highest[1:]),
    )


def relaxed(problem: CountProblem) -> CountProblem:
    """The same problem with room for outlines that widen faster than a round can double."""
    inner = slice(1, len(problem.ideals) - 1)
    lows, highs = list(problem.lowest), list(problem.highest)
    for k in range(*inner.indices(len(lows))):
        lows[k] = max(FEWEST, lows[k] - max(6, lows[k] // 2))
        highs[k] = highs[k] + 2
    return replace(problem, lowest=tuple(lows), highest=tuple(highs))
