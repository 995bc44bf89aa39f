"""What the dimensions of a toy as data come to at its default sliders, as far as that is plain.

No solving: a rule counts where all but the one name alone on a side is known. The stages after
this one solve the rest.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from webapp.formulas import FormulaError, Name, evaluate, parse_expression
from webapp.own.naming import HEIGHT, rules_of


def known_values(data: Mapping[str, Any], height: bool = True) -> dict[str, float]:
    """Values by name (mm, or no unit); without the finished height if ``height`` is False."""
    values = {}
    for key, span in data.get("sliders", {}).items():
        if is_number(span.get("default")) and (height or key != "height"):
            values[HEIGHT if key == "height" else key] = float(span["default"])
    for name, value in data.get("dimensions", {}).items():
        if is_number(value):
            values[name] = float(value)
    rules = rules_of(data)
    grown = True
    while grown:
        grown = False
        for rule in rules:
            for side, other in ((rule.left, rule.right), (rule.right, rule.left)):
                if not isinstance(side, Name) or side.name in values or side.name == HEIGHT:
                    continue
                try:
                    values[side.name] = evaluate(other, values)
                    grown = True
                except FormulaError:
                    continue
    return values


def value_of(formula: object, values: Mapping[str, float]) -> float | None:
    """What a formula as data comes to; None where a name has no value or it cannot be read."""
    try:
        return evaluate(parse_expression(str(formula)), values)
    except FormulaError:
        return None


def is_number(value: object) -> bool:
    """Whether it is a number that can be reckoned with: no truth value, nothing endless."""
    return (
        isinstance(value, (int, float)) and not isinstance(value, bool) and abs(value) < 1e9
    )


def rounded(value: float, least: float = 0.1, most: float = 5000.0) -> int | float:
    """A length as somebody would write it, to a tenth of a mm, as large as a dimension can be."""
    value = round(min(max(value, least), most), 1)
    return int(value) if value == int(value) else value
