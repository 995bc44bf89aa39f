"""From a goal to the design that meets it: what moves is the finished height, and nothing else."""

from __future__ import annotations

import math

from webapp.goals.eyes import solve_eyes
from webapp.goals.girths import held_girth
from webapp.goals.ladder import Ladder
from webapp.goals.limits import Met, within_limit
from webapp.goals.measuring import POWER, measure_for
from webapp.goals.model import LIMITS, Goal, GoalKind, Reached, Step
from webapp.goals.nearest import nearest_to
from webapp.goals.refusals import beyond_end, check_goal, too_little
from webapp.recipes import Design, Recipe

WIDTH_CLOSE_MM = 0.2
"""A width this near to what was asked for is met: less than the thinnest yarn is thick."""


def solve_goal(recipe: Recipe, design: Design, goal: Goal) -> Reached:
    """The design at the finished height that meets ``goal``, within the slider's range.

    A limit is met from below: at 1 % more height it is broken, or the slider ends. Raises
    :class:`RoundlingError` for a goal that no height meets, a colour or part that is not known,
    and a toy that can be made at no height (its own refusal). At most 40 toys are made for it.
    """
    check_goal(recipe, goal)
    if goal.kind is GoalKind.EYES:
        return solve_eyes(recipe, design, goal)
    ladder = Ladder(recipe, design, measure_for(goal))
    if goal.kind in LIMITS:
        return _limit(ladder, goal)
    reached = _near(ladder, goal)
    if goal.kind is GoalKind.GIRTH and not reached.exact:
        return held_girth(recipe, design, goal) or reached
    return reached


def _limit(ladder: Ladder, goal: Goal) -> Reached:
    whole = goal.kind in (GoalKind.BALLS, GoalKind.STITCHES, GoalKind.ROUND)
    target = math.floor(goal.value + 1e-9) if whole else goal.value
    met = within_limit(ladder, target, POWER.get(goal.kind, 2.0))
    if met is None:
        least = _least(ladder)
        raise too_little(ladder, goal, least)
    return _reached(ladder, met)


def _near(ladder: Ladder, goal: Goal) -> Reached:
    stitch = ladder.design.gauge.stitch_mm
    girth = goal.kind is GoalKind.GIRTH
    target = max(1.0, math.floor(goal.value / stitch + 0.5)) if girth else goal.value
    met, at_end = nearest_to(ladder, target, 1e-6 if girth else WIDTH_CLOSE_MM)
    off = ladder.off(met.place, target)
    slack = 0.5 if girth else max(stitch, 0.04 * target)
    if at_end and off > slack:
        raise beyond_end(ladder, goal, met.place)
    return _reached(ladder, met, exact=off <= (0.5 if girth else 0.5 * stitch))


def _least(ladder: Ladder) -> int:
    """The lowest place looked at where the toy can be made; raises the toy's own refusal."""
    made = [place for place, amount in ladder.seen.items() if amount is not None]
    if not made:
        assert ladder.error is not None
        raise ladder.error
    return min(made)


def _reached(ladder: Ladder, met: Met, exact: bool = True) -> Reached:
    amount = ladder.at(met.place)
    assert amount is not None
    return Reached(
        ladder.design_at(met.place),
        amount.value,
        _step(ladder, met.up),
        _step(ladder, met.down),
        exact,
    )


def _step(ladder: Ladder, place: int | None) -> Step | None:
    amount = None if place is None else ladder.at(place)
    if place is None or amount is None:
        return None
    return Step(ladder.height_mm(place), amount.value)

