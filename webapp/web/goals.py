"""Goals as a form and an address say them: which there are, reading one, and what was reached."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from webapp.errors import RoundlingError
from webapp.goals import LIMITS, Goal, GoalKind, Reached, Step, solve_goal
from webapp.goals.refusals import colours_with_yarn, parts_in_rounds
from webapp.goals.words import hours, length, told, yarn_length
from webapp.recipes import EyeKind, Recipe
from webapp.web.fields import HEIGHTS, LONGEST_TEXT, NUMBER, Reading, height_name
from webapp.web.figures import address_of
from webapp.web.holds import hold_field
from webapp.yarns import METRES_PER_YARD, LengthUnit

UNIT_WORDS = {"cm": "centimetres", "in": "inches", "m": "metres", "yd": "yards", "mm": "mm"}


@dataclass(frozen=True)
class GoalChoice:
    """A goal that a toy can have: its word in addresses, its label, and the unit of its value."""

    word: str
    label: str
    unit: str
    kind: GoalKind
    about: str = ""


def goal_choices(recipe: Recipe, unit: LengthUnit) -> tuple[GoalChoice, ...]:
    """Every goal that a toy can have, for a maker who measures in ``unit``."""
    return tuple(_choices(recipe, unit))


def _choices(recipe: Recipe, unit: LengthUnit) -> Iterator[GoalChoice]:
    yarn = "m" if unit is LengthUnit.CM else "yd"
    colours = [(key, recipe.colours[key].name) for key in colours_with_yarn(recipe)]
    for key, name in colours:
        yield _choice(GoalKind.YARN, f"Yarn in {name}, at most", yarn, key)
    for key, name in colours:
        yield _choice(GoalKind.BALLS, f"Balls of {name}, at most", "balls", key)
    yield _choice(GoalKind.STITCHES, "Stitches, at most", "stitches")
    yield _choice(GoalKind.HOURS, "Hours, at most", "hours")
    if parts_in_rounds(recipe):
        yield _choice(GoalKind.ROUND, "Largest round, at most", "stitches")
    for part in parts_in_rounds(recipe):
        yield _choice(GoalKind.GIRTH, f"Girth: {part.label.lower()}", unit.value, part.name)
    if recipe.eyes is not None and recipe.eyes.kind is EyeKind.SAFETY:
        yield _choice(GoalKind.EYES, "Safety eyes that I have", "mm")
    yield _choice(GoalKind.WIDTH, "Finished width", unit.value)


def _choice(kind: GoalKind, label: str, unit: str, about: str = "") -> GoalChoice:
    return GoalChoice(f"{kind.value}.{about}" if about else kind.value, label, unit, kind, about)


def read_goal(recipe: Recipe, unit: LengthUnit, word: str, text: str) -> Goal:
    """The goal in the texts of ``goal`` and ``goal_value``.

    Raises :class:`RoundlingError` with one of these names as its field.
    """
    word, text = word.strip(), text.strip()
    choices = {choice.word: choice for choice in goal_choices(recipe, unit)}
    if word not in choices:
        raise RoundlingError(
            asked=f"“{word[:LONGEST_TEXT]}” was asked for as a goal.",
            why="This toy has no such goal.",
            nearest=f"It has {', '.join(choices)}.",
            field="goal",
        )
    choice = choices[word]
    if not NUMBER.fullmatch(text) or len(text) > LONGEST_TEXT or float(text) <= 0.0:
        given = f"“{text[:LONGEST_TEXT]}” was asked for." if text else "nothing was given."
        raise RoundlingError(
            asked=f"{choice.label}: {given}",
            why="It is not a number above 0 written in figures.",
            nearest=f"Give {UNIT_WORDS.get(choice.unit, choice.unit)}, such as {_example(choice)}.",
            field="goal_value",
        )
    return Goal(choice.kind, _in_core_unit(choice.kind, float(text), unit), choice.about)


def _example(choice: GoalChoice) -> str:
    return {
        GoalKind.YARN: "50",
        GoalKind.BALLS: "2",
        GoalKind.STITCHES: "5000",
        GoalKind.HOURS: "12.5",
        GoalKind.ROUND: "60",
        GoalKind.EYES: "8",
    }.get(choice.kind, "24.5" if choice.unit == LengthUnit.CM.value else "9.5")


def _in_core_unit(kind: GoalKind, value: float, unit: LengthUnit) -> float:
    if kind in (GoalKind.GIRTH, GoalKind.WIDTH):
        return unit.to_mm(value)
    if kind is GoalKind.YARN and unit is LengthUnit.INCH:
        return value * METRES_PER_YARD
    return value


def reached_values(reading: Reading, reached: Reached) -> dict[str, str]:
    """The values of the address of the design reached: those of the page, with its height."""
    unit = reached.design.unit
    kept = {name: text for name, text in reading.accepted.items() if name not in HEIGHTS}
    held = {n: mm for n, mm in reached.design.held.items() if n not in reading.design.held}
    girth = next((name for name in held if name.endswith(".girth")), None)
    if girth is not None:
        # The height follows the girth; all the proportions are held.
        pins = ",".join(n for n in reached.design.sliders if n != "height" and n not in kept)
        pinned = {"pin": pins} if pins else {}
        return {**kept, hold_field(girth, unit): height_text(unit, held[girth]), **pinned}
    return {height_name(unit): height_text(unit, reached.design.sliders["height"]), **kept}


def reached_address(recipe: Recipe, reading: Reading, reached: Reached) -> str:
    """The address of the design reached."""
    return address_of(recipe, reached_values(reading, reached))


def height_text(unit: LengthUnit, mm: float) -> str:
    """A height as exactly as an address needs it: to the seventh decimal."""
    return f"{unit.from_mm(mm):.7f}".rstrip("0").rstrip(".")


def reached_sentence(recipe: Recipe, goal: Goal, reached: Reached) -> str:
    """What was reached, and what the next heights up and down would give."""
    unit = reached.design.unit
    has = told(recipe, unit, replace(goal, value=reached.value))
    said = f"{_tall(unit, reached.design.sliders['height'])} tall it comes to {has}"
    if goal.kind in LIMITS:
        said += f"; asked for: at most {_amount(unit, goal, goal.value)}."
    elif goal.kind is GoalKind.GIRTH:
        stitch = reached.design.gauge.stitch_mm
        said += f", {round(reached.value / stitch)} stitches."
        if not reached.exact:
            wanted = max(1, round(goal.value / stitch))
            said += f" No height looked at has {wanted} stitches; this is the nearest."
    elif goal.kind is GoalKind.WIDTH and not reached.exact:
        said += f"; asked for: {_amount(unit, goal, goal.value)}, and this is the nearest found."
    else:
        said += "."
    beside = [
        f"{_tall(unit, step.height_mm)} tall: {_amount(unit, goal, step.value)}"
        f"{_stitches(goal, reached, step)}"
        for step in (reached.up, reached.down)
        if step is not None
    ]
    if goal.kind in LIMITS and reached.up is None:
        said += " The height slider ends before the limit."
    return f"{said} Next, {'; '.join(beside)}." if beside else said


def _tall(unit: LengthUnit, mm: float) -> str:
    digits = 2 if unit is LengthUnit.CM else 3
    value = f"{unit.from_mm(mm):.{digits}f}".rstrip("0").rstrip(".")
    return f"{value} {unit.value}"


def _amount(unit: LengthUnit, goal: Goal, value: float) -> str:
    """How much, without what of."""
    if goal.kind is GoalKind.YARN:
        return yarn_length(unit, value)
    if goal.kind is GoalKind.GIRTH:
        return length(unit, value)
    if goal.kind is GoalKind.WIDTH:
        return f"{unit.from_mm(value):.2f} {unit.value}"
    if goal.kind is GoalKind.HOURS:
        return f"{hours(value)} hours"
    if goal.kind is GoalKind.EYES:
        return f"eyes of {value:g} mm"
    word = "ball" if goal.kind is GoalKind.BALLS else "stitch"
    plural = {"ball": "balls", "stitch": "stitches"}
    return f"{value:,.0f} {word if value == 1 else plural[word]}"


def _stitches(goal: Goal, reached: Reached, step: Step) -> str:
    """The stitches of a girth beside its length."""
    if goal.kind is not GoalKind.GIRTH:
        return ""
    return f" ({round(step.value / reached.design.gauge.stitch_mm)} stitches)"




@dataclass(frozen=True)
class Answer:
    """What a goal comes to: in a sentence, and the address of the design that meets it; or why
    there is none."""

    sentence: str = ""
    address: str = ""
    problem: RoundlingError | None = None


def goal_answer(recipe: Recipe, reading: Reading, word: str, text: str) -> Answer:
    """The answer to the goal in the texts of the form."""
    try:
        goal = read_goal(recipe, reading.design.unit, word, text)
        reached = solve_goal(recipe, reading.design, goal)
    except RoundlingError as error:
        return Answer(problem=error)
    return Answer(
        reached_sentence(recipe, goal, reached), reached_address(recipe, reading, reached)
    )
