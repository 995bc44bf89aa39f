"""Goals that cannot be, in three sentences."""

from __future__ import annotations

import math
from dataclasses import replace

from webapp.errors import RoundlingError
from webapp.goals.ladder import Ladder
from webapp.goals.model import Goal, GoalKind
from webapp.goals.words import capitalised, told
from webapp.recipes import PartRecipe, Recipe
from webapp.shapes import SHAPES


def colours_with_yarn(recipe: Recipe) -> tuple[str, ...]:
    """The keys of the colours that something is worked in, in the recipe's order.

    What is only embroidered takes thread and no yarn.
    """
    used = {c for part in recipe.parts for c in part.colours_used}
    return tuple(colour for colour in recipe.colours if colour in used)


def parts_in_rounds(recipe: Recipe) -> tuple[PartRecipe, ...]:
    """The parts that have a girth."""
    return tuple(part for part in recipe.parts if not SHAPES[part.shape].in_rows)


def check_goal(recipe: Recipe, goal: Goal) -> None:
    """Raises :class:`RoundlingError` for a value that is none, an unknown colour or part."""
    if not math.isfinite(goal.value) or goal.value <= 0.0:
        raise RoundlingError(
            asked=f"A goal of {goal.value:g} was given.",
            why="A goal is more than nothing.",
            nearest="Give a number above 0.",
            field="goal_value",
        )
    if goal.kind in (GoalKind.YARN, GoalKind.BALLS):
        known = colours_with_yarn(recipe)
        _check_known(goal, "colour", {c: recipe.colours[c].name for c in known})
    elif goal.kind is GoalKind.GIRTH:
        known_parts = parts_in_rounds(recipe)
        if any(p.name == goal.about for p in recipe.parts if p not in known_parts):
            raise RoundlingError(
                asked=f"A girth of {recipe.part(goal.about).label.lower()} was asked for.",
                why="It is worked in rows and has none.",
                nearest=f"Parts in rounds are {', '.join(p.name for p in known_parts)}.",
                field="goal",
            )
        _check_known(goal, "part", {p.name: p.label.lower() for p in known_parts})
    elif goal.kind is GoalKind.ROUND and not parts_in_rounds(recipe):
        raise RoundlingError(
            asked="A largest round was asked for.",
            why="No part of this toy is worked in rounds.",
            nearest="Set a goal for something else.",
            field="goal",
        )


def _check_known(goal: Goal, what: str, known: dict[str, str]) -> None:
    if goal.about in known:
        return
    asked = f"“{goal.about[:24]}”" if goal.about else "None"
    raise RoundlingError(
        asked=f"{asked} was asked for as {what} of a goal.",
        why=f"This toy has no such {what}.",
        nearest=f"It has {', '.join(known)}.",
        field="goal",
    )


def too_little(ladder: Ladder, goal: Goal, place: int) -> RoundlingError:
    """A limit that even the smallest toy breaks; ``place`` is about the lowest that can be made."""
    amount = ladder.at(place)
    assert amount is not None
    recipe, unit = ladder.recipe, ladder.design.unit
    tall = unit.format(ladder.height_mm(place))
    least = told(recipe, unit, replace(goal, value=amount.value), upwards=True)
    end = "where its slider ends" if place == ladder.low else "about the least for this yarn"
    return RoundlingError(
        asked=f"At most {told(recipe, unit, goal)} was asked for.",
        why=f"Even {tall} tall, {end}, it comes to {least}.",
        nearest=f"The nearest is {least}.",
        field="goal_value",
    )


def beyond_end(ladder: Ladder, goal: Goal, place: int) -> RoundlingError:
    """Something narrower than any toy of the slider, or wider; ``place`` is the nearest."""
    amount = ladder.at(place)
    assert amount is not None
    recipe, unit = ladder.recipe, ladder.design.unit
    tall = unit.format(ladder.height_mm(place))
    has = told(recipe, unit, replace(goal, value=amount.value))
    return RoundlingError(
        asked=f"{capitalised(told(recipe, unit, goal))} was asked for.",
        why=f"In this yarn no height within the slider comes nearer than {tall}.",
        nearest=f"The nearest is {has}, at that height.",
        field="goal_value",
    )
