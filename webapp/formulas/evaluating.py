"""The value of a formula, by walking its tree."""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Mapping

from webapp.formulas.errors import FormulaError
from webapp.formulas.tree import Binary, Call, Expression, Name, Negative, Number

BINARIES: Mapping[str, Callable[[float, float], float]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    # math.pow, because ** makes a complex number of a negative base where this refuses.
    "**": math.pow,
}
CALLS: Mapping[str, Callable[[float], float]] = {
    "sqrt": math.sqrt,
    "sin": lambda degrees: math.sin(math.radians(degrees)),
    "cos": lambda degrees: math.cos(math.radians(degrees)),
    "tan": lambda degrees: math.tan(math.radians(degrees)),
}


def evaluate(formula: Expression, values: Mapping[str, float]) -> float:
    """The value of a formula where its names have ``values`` (mm, degrees, or no unit).

    Raises :class:`FormulaError` when a name has no value or the formula has no finite real one.
    """
    result = _value(formula, values)
    if not math.isfinite(result):
        raise _without_value(f"It comes to {result:g}.")
    return result


def _value(node: Expression, values: Mapping[str, float]) -> float:
    match node:
        case Number(value):
            return value
        case Name(name):
            return _look_up(name, values)
        case Negative(operand):
            return -_value(operand, values)
        case Binary(sign, left, right):
            return _apply(sign, _value(left, values), _value(right, values))
        case Call(function, argument):
            return _call(function, _value(argument, values))


def _look_up(name: str, values: Mapping[str, float]) -> float:
    if name not in values:
        raise FormulaError(
            asked=f"A formula uses “{name}”.",
            why="No value of that name is known.",
            nearest="Use a name that a rule or a slider gives a value.",
        )
    return float(values[name])


def _apply(sign: str, left: float, right: float) -> float:
    try:
        return BINARIES[sign](left, right)
    except (ArithmeticError, ValueError) as error:
        raise _without_value(f"{left:g} {sign} {right:g} has no real value.") from error


def _call(function: str, argument: float) -> float:
    try:
        return CALLS[function](argument)
    except (ArithmeticError, ValueError) as error:
        raise _without_value(f"{function}({argument:g}) has no real value.") from error


def _without_value(why: str) -> FormulaError:
    return FormulaError(
        asked="A formula was to be worked out.",
        why=why,
        nearest="Change the formula, or the values that go into it.",
    )
