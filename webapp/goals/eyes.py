"""The height at which the eyes wanted are of just the size that the maker has."""

from __future__ import annotations

from webapp.errors import RoundlingError
from webapp.formulas import evaluate
from webapp.goals.model import Goal, Reached, Step
from webapp.materials.eyes import STOCK_EYES_MM
from webapp.recipes import Design, EyeKind, EyeSpec, Recipe
from webapp.sizing import size_design
from webapp.way import at_height, make_toy, work_toy

HALVINGS = 60
"""Enough for the last figure of a height in double precision."""


def solve_eyes(recipe: Recipe, design: Design, goal: Goal) -> Reached:
    """The design whose eyes are of ``goal.value`` mm; the next sizes in shops beside it.

    Raises :class:`RoundlingError` for a toy without safety eyes, a size that shops have not, and a
    size that no height of the slider asks for.
    """
    eyes = _safety_eyes(recipe, design, goal)
    size = round(goal.value)
    if size != goal.value or size not in STOCK_EYES_MM:
        known = ", ".join(map(str, STOCK_EYES_MM))
        raise _refused(recipe, design, eyes, goal, f"In shops they are {known} mm.")
    height = _height_for(recipe, design, eyes, size)
    if height is None:
        span, unit = recipe.sliders["height"], design.unit
        low, high = (_wanted(recipe, design, eyes, mm) for mm in (span.low, span.high))
        why = f"From {unit.format(span.low)} to {unit.format(span.high)} tall the eyes of this toy "
        raise _refused(recipe, design, eyes, goal, f"{why}are {low:.1f} to {high:.1f} mm.")
    found = at_height(design, height)
    try:
        toy = make_toy(recipe, found)
    except RoundlingError as error:
        why = f"They go with a toy {design.unit.format(height)} tall. {error.asked} {error.why}"
        raise _refused(recipe, design, eyes, goal, why) from error
    need = toy.materials.eyes
    assert need is not None
    at = STOCK_EYES_MM.index(size)
    return Reached(
        found,
        need.wanted_mm,
        _step(recipe, design, eyes, STOCK_EYES_MM[at + 1 : at + 2]),
        _step(recipe, design, eyes, STOCK_EYES_MM[max(0, at - 1) : at]),
    )


def _safety_eyes(recipe: Recipe, design: Design, goal: Goal) -> EyeSpec:
    asked = f"Safety eyes of {goal.value:g} mm were asked for."
    nearest = "Set a goal for something else."
    if recipe.eyes is None:
        why = f"{recipe.name} has no eyes."
    elif recipe.eyes.kind is not EyeKind.SAFETY:
        why = f"The eyes of {recipe.name} are of another kind: {recipe.eyes.kind.value}."
    elif design.under_three:
        why = "The eyes are embroidered for a child under three."
        nearest = "Choose that it is not for a child under three, or another goal."
    else:
        return recipe.eyes
    raise RoundlingError(asked=asked, why=why, nearest=nearest, field="goal")


def _wanted(recipe: Recipe, design: Design, eyes: EyeSpec, height_mm: float) -> float:
    return evaluate(eyes.diameter, size_design(recipe, at_height(design, height_mm)).dimensions)


def _height_for(recipe: Recipe, design: Design, eyes: EyeSpec, size: float) -> float | None:
    """The height (mm) at which eyes of ``size`` are wanted; None outside the slider."""
    span = recipe.sliders["height"]
    low, high = span.low, span.high
    if not _wanted(recipe, design, eyes, low) <= size <= _wanted(recipe, design, eyes, high):
        return None
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        if _wanted(recipe, design, eyes, middle) < size:
            low = middle
        else:
            high = middle
    return high


def _step(
    recipe: Recipe, design: Design, eyes: EyeSpec, sizes: tuple[int, ...]
) -> Step | None:
    for size in sizes:
        height = _height_for(recipe, design, eyes, size)
        if height is not None:
            return Step(height, size)
    return None


def _refused(
    recipe: Recipe, design: Design, eyes: EyeSpec, goal: Goal, why: str
) -> RoundlingError:
    """The refusal of a size, with the nearest in shops at whose height the toy can be made."""
    nearest = "No size in shops goes with it in this yarn."
    for size in sorted(STOCK_EYES_MM, key=lambda stock: abs(stock - goal.value)):
        height = _height_for(recipe, design, eyes, size)
        if height is not None and _can_be_made(recipe, at_height(design, height)):
            tall = design.unit.format(height)
            nearest = f"The nearest is {size} mm, with a toy {tall} tall."
            break
    return RoundlingError(
        asked=f"Safety eyes of {goal.value:g} mm were asked for.",
        why=why,
        nearest=nearest,
        field="goal_value",
    )


def _can_be_made(recipe: Recipe, design: Design) -> bool:
    try:
        work_toy(recipe, design)
    except RoundlingError:
        return False
    return True
