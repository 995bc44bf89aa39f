"""What every edit does round its own change.

The toy given stays as it is; the finished height stays tied to the parts; a slider that no longer
moves anything goes; and data that made a recipe before makes one afterwards, or the edit is
refused.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from copy import deepcopy
from functools import wraps
from typing import Any, Concatenate, ParamSpec

from webapp.own.dimensions import free_by
from webapp.own.errors import EditError
from webapp.own.heights import kept_rule, tie, untie
from webapp.own.naming import Data, names_in_parts, names_in_rules, parts_of, rule_of
from webapp.own.structure import check_structure
from webapp.recipes import RecipeError, recipe_from_data

P = ParamSpec("P")


def edit(
    change: Callable[Concatenate[Data, P], None],
) -> Callable[Concatenate[Mapping[str, Any], P], Data]:
    """An edit of a function that changes a copy in place."""

    @wraps(change)
    def edited(data: Mapping[str, Any], /, *args: P.args, **kwargs: P.kwargs) -> Data:
        check_structure(data)
        new = deepcopy(dict(data))
        untie(new)
        change(new, *args, **kwargs)
        tie(new, data)
        _free_what_was_tied(new, data)
        new = without_idle_sliders(new, data)
        if problem_of(data) is None and (problem := problem_of(new)) is not None:
            raise EditError(
                asked=f"{problem.field}: the change would make the toy one that cannot be.",
                why=problem.why,
                nearest=problem.nearest,
                field=problem.field,
            )
        return new

    return edited


def tie_height(data: Mapping[str, Any], was: Mapping[str, Any] | None = None) -> Data:
    """The toy with its finished height tied anew, for when a field was changed by hand.

    ``was`` is the toy before that change, by which the rule that edits keep is known from one
    that somebody wrote.
    """
    check_structure(data)
    new = deepcopy(dict(data))
    if was is not None:
        check_structure(was)
    untie(new, was)
    tie(new, data)
    return new


def without_idle_sliders(data: Mapping[str, Any], was: Mapping[str, Any]) -> Data:
    """The toy without the sliders that moved something in ``was`` and move nothing any more."""
    used, used_before = (names_in_rules(d) | names_in_parts(d) for d in (data, was))
    sliders = data.get("sliders", {})
    idle = {k for k in sliders if k != "height" and k not in used and k in used_before}
    if not idle:
        return dict(data)
    return {**data, "sliders": {k: v for k, v in sliders.items() if k not in idle}}


def problem_of(data: Mapping[str, Any]) -> RecipeError | None:
    """Why the data makes no recipe yet; having no parts yet is no reason."""
    try:
        recipe_from_data(data, "toy")
    except RecipeError as error:
        return None if error.field == "parts" and data.get("parts") == [] else error
    return None


def part_of(data: Mapping[str, Any], key: str) -> Data:
    """The part of that key; raises :class:`EditError`."""
    for part in parts_of(data):
        if part["name"] == key:
            return part
    known = ", ".join(str(part["name"]) for part in parts_of(data))
    raise EditError(
        asked=f"The part {key!r} was to be changed.",
        why="The toy has no such part.",
        nearest=f"It has: {known}." if known else "Add a part first.",
        field=key,
    )


def entry_of(items: list[Any], number: int, what: str) -> Any:
    """An entry of a list by its number from 0; raises :class:`EditError`."""
    if not 0 <= number < len(items):
        raise EditError(
            asked=f"{what} {number + 1} was to be changed.",
            why=f"There are {len(items)}." if items else "There is none.",
            nearest=f"Take 1 to {len(items)}." if items else "Add one first.",
        )
    return items[number]


def label_of(part: Mapping[str, Any]) -> str:
    return str(part.get("label") or part["name"])


def host_of(part: Mapping[str, Any]) -> str:
    """The key of the part it is sewn to; nothing for one on the ground."""
    return str(part.get("place", {}).get("on", ""))


def seat_of(part: Mapping[str, Any]) -> str:
    return str(part.get("place", {}).get("seat", ""))


def guests_of(data: Mapping[str, Any], key: str) -> list[Data]:
    return [part for part in parts_of(data) if host_of(part) == key]


def _free_what_was_tied(data: Data, was: Mapping[str, Any]) -> None:
    """Where the kept rule says something else now, what only it settled keeps its value."""
    kept = kept_rule(was)
    rule = rule_of(kept)
    if rule is not None and data["parts"] and kept not in data.get("rules", []):
        free_by(data, rule, was)
