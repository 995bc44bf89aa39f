"""What is measured for each kind of goal, on the stitches, as cheaply as it can be."""

from __future__ import annotations

from collections.abc import Callable

from webapp.goals.ladder import Amount
from webapp.goals.model import Goal, GoalKind
from webapp.materials import YarnNeed
from webapp.recipes import Design, Recipe
from webapp.rounds import WorkedPart
from webapp.way import make_toy, work_parts, work_toy

POWER = {GoalKind.ROUND: 1.0, GoalKind.GIRTH: 1.0, GoalKind.WIDTH: 1.0}
"""Lengths grow with the height, all else about with its square: so the next guess is near."""

NOTHING = Amount(0.0, 0.0)


def measure_for(goal: Goal) -> Callable[[Recipe, Design], Amount]:
    """How to measure what a goal is about; eyes are not measured but solved."""
    about = goal.about

    def yarn(recipe: Recipe, design: Design) -> Amount:
        need = _need(recipe, design, about)
        return Amount(need.metres.value, need.metres.value) if need else NOTHING

    def balls(recipe: Recipe, design: Design) -> Amount:
        need = _need(recipe, design, about)
        return Amount(need.balls, need.grams / need.ball_grams) if need else NOTHING

    def stitches(recipe: Recipe, design: Design) -> Amount:
        _, parts = work_parts(recipe, design)
        count = sum(parts[part.name].stitches * part.copies for part in recipe.parts)
        return Amount(count, count)

    def hours(recipe: Recipe, design: Design) -> Amount:
        middle = make_toy(recipe, design).materials.hours.value
        return Amount(middle, middle)

    def largest(recipe: Recipe, design: Design) -> Amount:
        _, parts = work_parts(recipe, design)
        count = max(max(p.counts) for p in parts.values() if isinstance(p, WorkedPart))
        return Amount(count, count)

    def girth(recipe: Recipe, design: Design) -> Amount:
        part = work_parts(recipe, design)[1][about]
        assert isinstance(part, WorkedPart)
        return Amount(max(part.counts) * design.gauge.stitch_mm, float(max(part.counts)))

    def width(recipe: Recipe, design: Design) -> Amount:
        wide = work_toy(recipe, design).size.width_mm
        return Amount(wide, wide)

    return {
        GoalKind.YARN: yarn,
        GoalKind.BALLS: balls,
        GoalKind.STITCHES: stitches,
        GoalKind.HOURS: hours,
        GoalKind.ROUND: largest,
        GoalKind.GIRTH: girth,
        GoalKind.WIDTH: width,
    }[goal.kind]


def _need(recipe: Recipe, design: Design, colour: str) -> YarnNeed | None:
    """The yarn of a colour; None where a toy so small has no round of it."""
    needs = make_toy(recipe, design).materials.yarns
    return next((need for need in needs if need.colour == colour), None)
