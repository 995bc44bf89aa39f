"""Setting one value of a toy as data by its path, such as ``parts[2].place.around``.

A length of a part is a named dimension: a plain size makes the dimension free, a formula makes a
rule of it. Nothing is worked out here; whether the toy can be is for its reader to say.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from webapp.formulas import Name, parse_equation, parse_expression
from webapp.own.errors import EditError
from webapp.own.naming import Data, names_in_parts, names_in_rules, parts_of, rule_of
from webapp.shapes import RATIOS

STEP = re.compile(r"\.?([A-Za-z_][A-Za-z0-9_]*|\[[0-9]{1,4}\])")


def steps_of(path: str) -> list[str | int]:
    """The keys and numbers of a path; raises :class:`EditError` for what is none."""
    steps: list[str | int] = []
    at = 0
    while at < len(path):
        found = STEP.match(path, at)
        if found is None:
            raise _no_place(path)
        step = found[1]
        steps.append(int(step[1:-1]) if step[0] == "[" else step)
        at = found.end()
    return steps


def value_at(data: Mapping[str, Any], path: str) -> Any:
    """The value at a path, None where there is none."""
    here: Any = data
    for step in steps_of(path):
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def with_value(data: Mapping[str, Any], path: str, value: Any) -> Data:
    """The data with another value at a path; None takes it out. Tables on the way are made, list
    entries are not. Raises :class:`EditError` where there is no such place."""
    new = deepcopy(dict(data))
    steps = steps_of(path)
    here: Any = new
    for step in steps[:-1]:
        if isinstance(step, int):
            if not isinstance(here, list) or step >= len(here):
                raise _no_place(path)
            here = here[step]
        elif isinstance(here, dict):
            here = here.setdefault(step, {})
        else:
            raise _no_place(path)
    last = steps[-1]
    if isinstance(last, int):
        if not isinstance(here, list) or last >= len(here) or value is None:
            raise _no_place(path)
        here[last] = value
    elif not isinstance(here, dict):
        raise _no_place(path)
    elif value is None:
        here.pop(last, None)
    else:
        here[last] = value
    return new


def dimension_of(data: Mapping[str, Any], part: int, key: str) -> str | None:
    """The dimension that a length of a part is, None where it is a ratio or a formula."""
    formula = parts_of(data)[part].get("lengths", {}).get(key)
    if key in RATIOS or not isinstance(formula, str):
        return None
    tree = parse_expression(formula)
    return tree.name if isinstance(tree, Name) else None


def rule_for(data: Mapping[str, Any], name: str) -> int | None:
    """The number of the rule that says what a dimension is, with it alone on the left."""
    for number, text in enumerate(data.get("rules", [])):
        rule = rule_of(text)
        if rule is not None and rule.left == Name(name):
            return number
    return None


def length_text(data: Mapping[str, Any], part: int, key: str) -> tuple[float | None, str]:
    """A length as it is written: (mm, "") for a plain size, (None, formula) for one that a rule or
    the part itself says, (None, "") where there is none or other rules settle it."""
    formula = parts_of(data)[part].get("lengths", {}).get(key)
    if isinstance(formula, (int, float)):
        return float(formula), ""
    name = dimension_of(data, part, key)
    if name is None:
        return None, str(formula or "")
    number = rule_for(data, name)
    if number is not None:
        return None, str(data["rules"][number]).partition("=")[2].strip()
    size = data.get("dimensions", {}).get(name)
    return (float(size), "") if isinstance(size, (int, float)) else (None, "")


def with_length(data: Mapping[str, Any], part: int, key: str, value: float | str | None) -> Data:
    """The data with a length of a part set: mm, a formula, or None to take it out.

    Raises :class:`EditError` (and what a formula's reader raises) when it cannot be.
    """
    recipe = parts_of(data)[part]
    field = f"parts[{part}].lengths.{key}"
    if key in RATIOS:
        return with_value(data, field, value)
    name = f"{recipe['name']}.{key}"
    known = dimension_of(data, part, key) if key in recipe.get("lengths", {}) else None
    new = deepcopy(dict(data))
    rules, dimensions = new.setdefault("rules", []), new.setdefault("dimensions", {})
    lengths = new["parts"][part].setdefault("lengths", {})
    name = known or name
    number = rule_for(new, name)
    if value is None:
        lengths.pop(key, None)
        if not _used(new, name):
            dimensions.pop(name, None)
            if number is not None:
                del rules[number]
        return new
    if isinstance(value, str):
        rule = parse_equation(f"{name} = {value}")
        if number is None and name in names_in_rules(new) and name not in dimensions:
            raise _settled_already(field, name)
        dimensions.pop(name, None)
        rules[number if number is not None else len(rules) :] = [
            rule.text,
            *(rules[number + 1 :] if number is not None else []),
        ]
    else:
        if number is not None:
            del rules[number]
        elif name not in dimensions and name in names_in_rules(new):
            raise _settled_already(field, name)
        dimensions[name] = value
    lengths[key] = name
    return new


def _used(data: Mapping[str, Any], name: str) -> bool:
    rules = [r for r in data.get("rules", []) if (e := rule_of(r)) is None or e.left != Name(name)]
    return name in names_in_parts(data) | names_in_rules({**data, "rules": rules})


def _settled_already(field: str, name: str) -> EditError:
    return EditError(
        asked=f"{name} was to be given a size.",
        why="Other rules of this toy settle it already.",
        nearest="Change those rules, or hold the measure under “Size and yarn”.",
        field=field,
    )


def _no_place(path: str) -> EditError:
    return EditError(
        asked=f"{path[:60]} was to be changed.",
        why="The toy has nothing there.",
        nearest="Load the page again.",
        field=path[:60],
    )
