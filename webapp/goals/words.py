"""Goals in the maker's words and units."""

from __future__ import annotations

import math

from webapp.goals.model import Goal, GoalKind
from webapp.recipes import Recipe
from webapp.yarns import METRES_PER_YARD, LengthUnit


def told(recipe: Recipe, unit: LengthUnit, goal: Goal, *, upwards: bool = False) -> str:
    """What a goal is about and how much: "12.5 m of bark brown".

    ``upwards`` rounds up, so that a limit told can be met.
    """
    number = goal.value
    match goal.kind:
        case GoalKind.YARN:
            return f"{yarn_length(unit, number, upwards=upwards)} of {_colour(recipe, goal)}"
        case GoalKind.BALLS:
            return f"{number:g} {'ball' if number == 1 else 'balls'} of {_colour(recipe, goal)}"
        case GoalKind.STITCHES:
            return f"{number:,.0f} stitches"
        case GoalKind.HOURS:
            return f"{hours(number, upwards=upwards)} hours"
        case GoalKind.ROUND:
            return f"a largest round of {number:g} stitches"
        case GoalKind.GIRTH:
            return f"a girth of {length(unit, number)} round the {_part(recipe, goal)}"
        case GoalKind.EYES:
            return f"eyes of {number:.4g} mm"
        case GoalKind.WIDTH:
            return f"a width of {unit.from_mm(number):.2f} {unit.value}"


def length(unit: LengthUnit, mm: float) -> str:
    """A length as finely as a goal is told: a tenth of a centimetre, a hundredth of an inch."""
    return f"{unit.from_mm(mm):.{1 if unit is LengthUnit.CM else 2}f} {unit.value}"


def yarn_length(unit: LengthUnit, metres: float, *, upwards: bool = False) -> str:
    """A length of yarn to the tenth: metres, or yards for those who measure in inches."""
    if unit is LengthUnit.CM:
        return f"{_tenths(metres, upwards)} m"
    return f"{_tenths(metres / METRES_PER_YARD, upwards)} yd"


def hours(number: float, *, upwards: bool = False) -> str:
    """Hours to the hundredth, so that one round more shows."""
    hundredths = math.ceil(number * 100 - 1e-9) if upwards else round(number * 100)
    return f"{hundredths / 100:g}"


def capitalised(words: str) -> str:
    """With a capital, all else as it is."""
    return words[:1].upper() + words[1:]


def _tenths(number: float, upwards: bool) -> str:
    tenths = math.ceil(number * 10 - 1e-9) if upwards else round(number * 10)
    return f"{tenths / 10:g}"


def _colour(recipe: Recipe, goal: Goal) -> str:
    colour = recipe.colours.get(goal.about)
    return colour.name if colour else "yarn"


def _part(recipe: Recipe, goal: Goal) -> str:
    part = next((part for part in recipe.parts if part.name == goal.about), None)
    return part.label.lower() if part else "toy"
