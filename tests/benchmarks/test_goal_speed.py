"""What a goal costs, in plain solves of the toy it arrives at."""

from __future__ import annotations

from typing import Any

import pytest

from tests.benchmarks.test_speed import seconds
from tests.strategies import default_design, recipes
from webapp.goals import Goal, GoalKind, solve_goal
from webapp.way import make_toy

GOALS = (
    Goal(GoalKind.YARN, 120.0, "fur"),
    Goal(GoalKind.BALLS, 2.0, "fur"),
    Goal(GoalKind.STITCHES, 5000.0),
    Goal(GoalKind.HOURS, 15.0),
    Goal(GoalKind.ROUND, 66.0),
    Goal(GoalKind.GIRTH, 250.0, "head"),
    Goal(GoalKind.EYES, 14.0),
    Goal(GoalKind.WIDTH, 150.0),
)


@pytest.mark.parametrize("goal", GOALS, ids=lambda goal: goal.kind.value)
def test_a_goal_costs_at_most_forty_plain_solves(goal: Goal, benchmark: Any) -> None:
    recipe = recipes()["otter"]
    design = default_design(recipe)
    reached = solve_goal(recipe, design, goal)
    solve = min(seconds(lambda: make_toy(recipe, reached.design), 1) for _ in range(9))
    goals = min(seconds(lambda: solve_goal(recipe, design, goal), 1) for _ in range(5))
    benchmark.pedantic(lambda: solve_goal(recipe, design, goal), rounds=3)
    print(f"\n{goal.kind.value}: {goals * 1e3:.0f} ms, {goals / solve:.1f} plain solves")
    assert goals <= 40.0 * solve
