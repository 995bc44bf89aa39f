"""Held measures in an address: ``hold.head.girth_cm=30``, ``pin=height,ear_size``, ``let_go=19``.

A slider that an address gives a value is held at it as well; ``pin`` holds sliders at what they
are by default. A form also says what its sliders showed only because they follow something held
(``follows=ear_size~1.0612``): a slider left at that is not given.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from webapp.errors import RoundlingError
from webapp.recipes import Recipe
from webapp.yarns import LengthUnit

PREFIX = "hold."
NEW, NEW_VALUE = "hold", "hold_value"
MANY = ("pin", "let_go", "follows")
"""Parameters that may come more than once; their values are lists."""

NUMBER = re.compile(r"([0-9]{1,6}(\.[0-9]{0,6})?|\.[0-9]{1,6})")
SHORTEST_MM, LONGEST_MM = 1.0, 5000.0


@dataclass
class Holds:
    """What an address holds: mm by dimension, sliders pinned, rules let go (from 0); the texts it
    was read from, and what could not be read, by parameter."""

    held: dict[str, float] = field(default_factory=dict)
    pinned: list[str] = field(default_factory=list)
    let_go: list[int] = field(default_factory=list)
    accepted: dict[str, str] = field(default_factory=dict)
    problems: dict[str, RoundlingError] = field(default_factory=dict)


def hold_field(name: str, unit: LengthUnit) -> str:
    """The parameter that holds a dimension in a unit."""
    return f"{PREFIX}{name}_{unit.value}"


def is_hold(parameter: str) -> bool:
    return parameter.startswith(PREFIX) or parameter in (*MANY, NEW, NEW_VALUE)


def without_following(values: Mapping[str, Sequence[str]]) -> dict[str, Sequence[str]]:
    """The values without those of sliders that only show what follows."""
    shown = dict(
        item.split("~", 1) for item in _items(values.get("follows", ())) if item.count("~") == 1
    )
    return {
        name: given
        for name, given in values.items()
        if name != "follows" and list(given) != [shown.get(name)]
    }


def with_new_hold(
    values: Mapping[str, Sequence[str]], unit: LengthUnit
) -> dict[str, Sequence[str]]:
    """The values with the measure chosen in the form, if one was, as a hold of its own."""
    rest = {n: v for n, v in values.items() if n not in (NEW, NEW_VALUE)}
    name = "".join(values.get(NEW, ("",))[:1]).strip()
    value = "".join(values.get(NEW_VALUE, ("",))[:1]).strip()
    if name and value:
        rest[hold_field(name, unit)] = (value,)
    return rest


def read_holds(recipe: Recipe, values: Mapping[str, Sequence[str]]) -> Holds:
    """What ``values`` hold. A value that cannot be read is a problem, and holds nothing."""
    holds = Holds()
    for parameter, given in values.items():
        if parameter.startswith(PREFIX):
            _read_hold(holds, recipe, parameter, given)
    for name in _items(values.get("pin", ())):
        if name not in recipe.sliders:
            _refuse(holds, "pin", name, "This toy has no such slider.", recipe.sliders)
        elif name not in holds.pinned:
            holds.pinned.append(name)
    for item in _items(values.get("let_go", ())):
        number = int(item) if item.isascii() and item.isdigit() and len(item) < 5 else 0
        if not 1 <= number <= len(recipe.rules):
            rules = [f"1 to {len(recipe.rules)}"]
            _refuse(holds, "let_go", item, "This toy has no rule of that number.", rules)
        elif number - 1 not in holds.let_go:
            holds.let_go.append(number - 1)
    if holds.pinned:
        holds.accepted["pin"] = ",".join(holds.pinned)
    if holds.let_go:
        holds.accepted["let_go"] = ",".join(str(n + 1) for n in holds.let_go)
    return holds


def _read_hold(holds: Holds, recipe: Recipe, parameter: str, given: Sequence[str]) -> None:
    name, _, unit_name = parameter.removeprefix(PREFIX).rpartition("_")
    if unit_name not in [u.value for u in LengthUnit] or name not in recipe.measures.by_name:
        _refuse(holds, parameter, parameter, "This toy has no such measure.", _known(recipe))
        return
    text = given[0].strip() if len(given) == 1 else ""
    if not text and len(given) == 1:
        return  # an emptied box lets go
    unit = LengthUnit(unit_name)
    label = recipe.measures.by_name[name].label
    low, high = (round(unit.from_mm(mm), 2) for mm in (SHORTEST_MM, LONGEST_MM))
    if not NUMBER.fullmatch(text):
        holds.problems[parameter] = RoundlingError(
            asked=f"{label}: “{_brief(', '.join(given))}” was to be held.",
            why="It is not one number written in figures.",
            nearest="Write one such as 9.5, or empty the box to let go of it.",
            field=parameter,
        )
        return
    mm = unit.to_mm(float(text))
    if not SHORTEST_MM <= mm <= LONGEST_MM or not math.isfinite(mm):
        holds.problems[parameter] = RoundlingError(
            asked=f"{label}: {text} {unit.value} was to be held.",
            why=f"It can be {low:g} to {high:g} {unit.value}.",
            nearest=f"The nearest is {low if mm < SHORTEST_MM else high:g} {unit.value}.",
            field=parameter,
        )
        return
    if name in holds.held:
        _refuse(holds, parameter, label, "It is held twice.", ["one of the two"])
        return
    holds.held[name] = mm
    holds.accepted[parameter] = text


def _known(recipe: Recipe) -> list[str]:
    return list(recipe.measures.by_name)


def _refuse(
    holds: Holds, parameter: str, given: str, why: str, known: Iterable[str]
) -> None:
    holds.problems.setdefault(
        parameter,
        RoundlingError(
            asked=f"“{_brief(given)}” was to be held.",
            why=why,
            nearest=f"There is: {', '.join(known)}.",
            field=parameter,
        ),
    )


def _items(given: Sequence[str]) -> list[str]:
    """The entries of a list given once or more, separated by commas."""
    return [item.strip() for text in given for item in text.split(",") if item.strip()]


def _brief(text: str) -> str:
    return text if len(text) <= 40 else text[:40] + "…"


@dataclass(frozen=True)
class HeldBox:
    """A held measure on the page: its parameter, label, text and unit, the address without it."""

    name: str
    label: str
    text: str
    unit: str
    without: str
