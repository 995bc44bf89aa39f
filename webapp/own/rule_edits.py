"""Edits of the rules between dimensions."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from webapp.formulas import names_in, parse_equation, parse_expression
from webapp.own.dimensions import free_by, settle
from webapp.own.editing import edit, entry_of
from webapp.own.errors import EditError
from webapp.own.heights import TIED
from webapp.own.naming import (
    HEIGHT,
    Data,
    all_names,
    defined_by,
    known_names,
    rule_of,
    rules_of,
)
from webapp.recipes import SLIDERS


def check_names(data: Mapping[str, Any], text: str, field: str) -> None:
    """Refuse a formula, or a rule, with a name that nothing in the toy has: a typing slip would
    else become a dimension of its own. A rule may define one new name."""
    own: set[str | None] = {HEIGHT}
    if "=" in text:
        rule = parse_equation(text)
        names, own = names_in(rule), {HEIGHT, defined_by(rule)}
    else:
        names = names_in(parse_expression(text))
    known = all_names(data)
    unknown = sorted(name for name in names if name not in known and name not in own)
    if unknown:
        close = difflib.get_close_matches(unknown[0], known, n=3)
        raise EditError(
            asked=f"The formula “{text.strip()[:80]}” was given.",
            why=f"Nothing is called “{unknown[0][:60]}” in this toy.",
            nearest=f"Did you mean {' or '.join(close)}?" if close else "Use its lengths' names.",
            field=field,
        )


@edit
def add_rule(data: Data, text: str) -> None:
    """A rule; what it defines gives up its value, and one for the finished height replaces the
    one that edits keep. Raises FormulaError for a text that is no equation."""
    rule = parse_equation(text)
    name = defined_by(rule)
    own = (defined_by(other) for other in rules_of(data))
    if name is not None and name in own:
        first = next(r.text for r in rules_of(data) if defined_by(r) == name)
        raise EditError(
            asked=f"The rule “{rule.text}” was to be added.",
            why=f"{name} has one already: “{first}”.",
            nearest="Change that one, or remove it first.",
            field="rules",
        )
    unknown = sorted(names_in(rule) - known_names(data) - {name, HEIGHT})
    if unknown:
        is_slider = unknown[0] in SLIDERS
        raise EditError(
            asked=f"The rule “{rule.text}” was to be added.",
            why=f"The toy has no slider for {unknown[0]}." if is_slider
            else f"Nothing is called {unknown[0]!r}.",
            nearest="Use names of the toy's lengths, or give that name a rule first.",
            field="rules",
        )  # fmt: skip
    rules = data.setdefault("rules", [])
    if name == HEIGHT and TIED in rules:
        rules.remove(TIED)
    if name is not None:
        data.get("dimensions", {}).pop(name, None)
    rules.append(rule.text)


@edit
def remove_rule(
    data: Data, number: int, values: Mapping[str, float] | None = None
) -> None:
    """Take a rule away, by its number from 0; what it defined keeps its value as a dimension.

    ``values`` are the dimensions as they were worked out, where somebody has them; else what can
    be reckoned from the toy alone is taken.
    """
    rules = data.get("rules", [])
    if entry_of(rules, number, "Rule") is TIED:
        raise EditError(
            asked=f"Rule {number + 1} was to be removed.",
            why="It ties the finished height to the parts, without which no height can be met.",
            nearest="Add a rule of your own for toy.height, which takes its place.",
            field="rules",
        )
    was = deepcopy(data)
    rule = rule_of(rules.pop(number))
    if rule is not None:
        free_by(data, rule, was, values)
    settle(data, was, values)
