"""Whole counts: the search against another solver, and against what the trade does."""

from __future__ import annotations

import math
import random

import pytest
from ortools.sat.python import cp_model

from webapp.rounds.counts import (
    COST_SCALE,
    REACH_SHARE,
    REACH_STITCHES,
    CountProblem,
    awkwardness,
    choose_counts,
    deviation_cost,
)


def reach(ideal: float) -> float:
    return max(REACH_STITCHES, REACH_SHARE * ideal)


def random_problem(seed: int) -> CountProblem:
    """An outline of 4 to 22 rounds that widens and narrows at random."""
    dice = random.Random(seed)
    ideals, n = [], dice.uniform(5, 8)
    for _ in range(dice.randint(4, 22)):
        ideals.append(n)
        n = max(4.5, min(90.0, n + dice.uniform(-7, 9)))
    lows = [max(4, math.ceil(x - reach(x))) for x in ideals]
    highs = [max(4, math.floor(x + reach(x))) for x in ideals]
    even = tuple(dice.random() < 0.2 for _ in ideals) if dice.random() < 0.3 else ()
    return CountProblem(
        tuple(ideals),
        tuple(lows),
        tuple(highs),
        base=dice.choice((4, 5, 6, 7, 8)),
        weight=dice.choice((0, 10, 100, 800, 3000)),
        even=even,
    )


def solved_by_constraints(problem: CountProblem) -> int | None:
    """The least cost of the same problem found by OR-tools CP-SAT, or None.

    Source: OR-tools' CP-SAT, a general constraint solver that proves its optimum. Every pair of
    neighbouring counts that can be worked is a row of a table, with its cost.
    """
    model = cp_model.CpModel()
    counts = [
        model.new_int_var(low, high, f"n{k}")
        for k, (low, high) in enumerate(zip(problem.lowest, problem.highest, strict=True))
    ]
    costs = []
    for k, ideal in enumerate(problem.ideals):
        span = range(problem.lowest[k], problem.highest[k] + 1)
        span = [n for n in span if not (problem.even and problem.even[k] and n % 2)]
        own = {n: deviation_cost(ideal, n) for n in span}
        cost = model.new_int_var(0, 10**9, f"c{k}")
        if k == 0:
            leaving = 3 * problem.weight
            rows = [(n, own[n] + (leaving if n % problem.base else 0)) for n in span]
            model.add_allowed_assignments([counts[0], cost], rows)
        else:
            before = range(problem.lowest[k - 1], problem.highest[k - 1] + 1)
            rows = [
                (a, b, own[b] + problem.weight * awkwardness(a, b, problem.base))
                for a in before
                for b in span
                if b <= 2 * a and a <= 2 * b
            ]
            model.add_allowed_assignments([counts[k - 1], counts[k], cost], rows)
        costs.append(cost)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


@pytest.mark.parametrize("first", range(0, 200, 20))
def test_equal_optimum_to_cp_sat(first: int) -> None:
    """200 random outlines; source: OR-tools CP-SAT on the same cost."""
    for seed in range(first, first + 20):
        problem = random_problem(seed)
        ours = choose_counts(problem)
        theirs = solved_by_constraints(problem)
        assert (ours.cost if ours else None) == theirs, seed


def cost_of(problem: CountProblem, counts: tuple[int, ...]) -> int:
    cost = sum(deviation_cost(i, n) for i, n in zip(problem.ideals, counts, strict=True))
    cost += 3 * problem.weight * (counts[0] % problem.base != 0)
    return cost + problem.weight * sum(
        awkwardness(a, b, problem.base) for a, b in zip(counts, counts[1:], strict=False)
    )


def test_the_cost_said_is_the_cost_of_the_counts() -> None:
    for seed in range(40):
        problem = random_problem(seed)
        chosen = choose_counts(problem)
        if chosen is not None:
            assert chosen.cost == cost_of(problem, chosen.counts)


def test_awkwardness_rises_as_the_trade_finds_it() -> None:
    """Even rounds, then even repeats, then uneven ones, then counts off the base number: common
    practice, no source."""
    even, repeat, uneven = (awkwardness(18, n, 1) for n in (18, 24, 23))
    assert even < repeat < uneven < awkwardness(18, 23, 6)


def test_deviation_is_in_units_of_a_stitch_or_four_percent() -> None:
    assert deviation_cost(20.0, 22) == 4 * COST_SCALE
    assert deviation_cost(100.0, 108) == 4 * COST_SCALE


def test_nothing_workable_gives_none() -> None:
    impossible = CountProblem((6.0, 30.0), (6, 29), (6, 31), 6, 100)
    assert choose_counts(impossible) is None


@pytest.mark.parametrize("radius_mm", [20, 30, 40, 50, 60])
def test_simplest_balls_are_multiples_of_six_all_through(radius_mm: int) -> None:
    """Multiples of six are what makers call a simple ball: common practice, no source. The widest
    rounds may leave it where no multiple of six is within 4 % of the girth."""
    from webapp.rounds import Effort, WorkOrder, work_part
    from webapp.shapes import build_meridian
    from webapp.yarns import Gauge

    ball = build_meridian("ball", {"width": 2.0 * radius_mm})
    part = work_part(WorkOrder("ball", ball), Gauge(4.6, 4.4), Effort(3000))
    ideal = 2 * math.pi * radius_mm / 4.6
    near_six = abs(6 * round(ideal / 6) - ideal) <= max(0.5, 0.04 * ideal)
    off = [n for n in part.counts if n % 6]
    assert not off if near_six else all(n > 0.8 * ideal for n in off)
