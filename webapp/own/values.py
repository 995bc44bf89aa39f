"""What the dimensions of a toy as data come to at its default sliders.

For usual values of what is added, and for what a dimension keeps when it loses its rule. Rules
with one unknown alone on a side are worked out one by one; what then hangs together is found by
Newton's method on the logarithms, all lengths being positive. Rules that leave something free get
some answer; the stages after this one say what is wrong with such rules.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from webapp.formulas import Equation, FormulaError, Name, evaluate, names_in, parse_expression
from webapp.own.naming import HEIGHT, rules_of

GUESS = 50.0
"""mm; where the search begins for a length."""
ROUNDS = 60
LONGEST_STEP = 0.7
CLOSE = 1e-6
NUDGE = 1e-6
SINGULAR = 1e-5

Floats: TypeAlias = NDArray[np.float64]


def known_values(data: Mapping[str, Any]) -> dict[str, float]:
    """Values by name (mm, or no unit) as far as they can be found."""
    values = _worked_out(data, _given(data))
    rules = [rule for rule in rules_of(data) if names_in(rule) - set(values)]
    return values | (_found(rules, values) if rules else {})


def values_without_height(data: Mapping[str, Any]) -> dict[str, float]:
    """Values by name (mm, or no unit) that follow from the dimensions' own, whatever the height."""
    given = _given(data)
    given.pop(HEIGHT, None)
    return _worked_out(data, given)


def names_by_height(data: Mapping[str, Any]) -> set[str]:
    """Names that rules alone settle one by one from the sliders, whatever dimensions' values."""
    return set(_worked_out(data, _given({"sliders": data.get("sliders", {})})))


def free_names(
    rules: Sequence[Equation], fixed: Collection[str], values: Mapping[str, float]
) -> set[str] | None:
    """Names that can move while all rules hold and those ``fixed`` stay.

    Told by the slopes of the rules at ``values``; None where a value is not known.
    """
    names = sorted({name for rule in rules for name in names_in(rule)} - set(fixed))
    try:
        logs = np.array([math.log(values[name]) for name in names])
        miss = _misses(rules, names, values, logs)
        slopes = _slopes(rules, names, values, logs, miss)
        _, sizes, moves = np.linalg.svd(slopes)
    except (ArithmeticError, ValueError, KeyError, np.linalg.LinAlgError):
        return None
    rank = int((sizes > SINGULAR * sizes.max(initial=0.0)).sum())
    reach = np.abs(moves[rank:]).max(axis=0, initial=0.0)
    return {name for name, far in zip(names, reach, strict=True) if far > SINGULAR}


def value_of(formula: object, values: Mapping[str, float]) -> float | None:
    """What a formula as data comes to; None where a name has no value or it cannot be read."""
    try:
        return evaluate(parse_expression(str(formula)), values)
    except FormulaError:
        return None


def is_number(value: object) -> bool:
    """Whether it is a number that can be reckoned with: no truth value, nothing endless."""
    return isinstance(value, (int, float)) and not isinstance(value, bool) and abs(value) < 1e9


def rounded(value: float, least: float = 0.1, most: float = 5000.0) -> int | float:
    """A length as somebody would write it, to a tenth of a mm, as large as a dimension can be."""
    value = round(min(max(value, least), most), 1)
    return int(value) if value == int(value) else value


def _given(data: Mapping[str, Any]) -> dict[str, float]:
    """Sliders at their defaults, and dimensions with a value."""
    values = {}
    for key, span in data.get("sliders", {}).items():
        if is_number(span.get("default")):
            values[HEIGHT if key == "height" else key] = float(span["default"])
    for name, value in data.get("dimensions", {}).items():
        if is_number(value):
            values[name] = float(value)
    return values


def _worked_out(data: Mapping[str, Any], values: dict[str, float]) -> dict[str, float]:
    """The values with all that rules give one by one."""
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


def _found(rules: Sequence[Equation], known: Mapping[str, float]) -> dict[str, float]:
    """The unknowns of rules that hang together; nothing if the search does not end."""
    names = sorted({name for rule in rules for name in names_in(rule)} - set(known))

    logs = np.array([math.log(GUESS) if "." in name else 0.0 for name in names])
    try:
        for _ in range(ROUNDS):
            miss = _misses(rules, names, known, logs)
            if np.abs(miss).max() < CLOSE:
                return {n: math.exp(log) for n, log in zip(names, logs, strict=True)}
            slopes = _slopes(rules, names, known, logs, miss)
            step = np.linalg.lstsq(slopes, -miss, rcond=1e-9)[0]
            logs = logs + np.clip(step, -LONGEST_STEP, LONGEST_STEP)
    except (ArithmeticError, ValueError, np.linalg.LinAlgError):
        # A formula without a value on the way (FormulaError is a ValueError), or an overflow.
        return {}
    return {}


def _misses(
    rules: Sequence[Equation], names: Sequence[str], known: Mapping[str, float], logs: Floats
) -> Floats:
    """By how much each rule misses, as a part of its larger side; shape (rules,)."""
    values = {**known, **{n: math.exp(log) for n, log in zip(names, logs, strict=True)}}
    pairs = ((evaluate(rule.left, values), evaluate(rule.right, values)) for rule in rules)
    return np.array([(a - b) / max(abs(a), abs(b), 1e-9) for a, b in pairs])


def _slopes(
    rules: Sequence[Equation],
    names: Sequence[str],
    known: Mapping[str, float],
    logs: Floats,
    miss: Floats,
) -> Floats:
    """How the misses change with each name's logarithm; shape (rules, names)."""
    moved = [_misses(rules, names, known, logs + NUDGE * one) for one in np.eye(len(names))]
    return np.array(moved).reshape(len(names), len(rules)).T / NUDGE - miss[:, None] / NUDGE
