"""From our own trees to sympy's, node by node: sympy never sees a word the user wrote.

Every name becomes a numbered positive symbol, every number an exact fraction.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeAlias

import sympy

from webapp.formulas import (
    Binary,
    Call,
    Equation,
    Expression,
    FormulaError,
    Name,
    Negative,
    Number,
    evaluate,
    names_in,
)
from webapp.proportions.errors import ProportionError

Algebra: TypeAlias = Any
"""A sympy expression or symbol; sympy publishes no types."""

CALLS = {"sqrt": sympy.sqrt, "sin": sympy.sin, "cos": sympy.cos, "tan": sympy.tan}
NO_VALUE = (sympy.zoo, sympy.nan, sympy.oo, -sympy.oo)


@dataclass(frozen=True, eq=False)
class Rule:
    """An equation in sympy's terms; ``residual`` is left minus right, zero where it holds."""

    text: str
    left: Algebra
    right: Algebra
    residual: Algebra


def symbols_for(names: Sequence[str]) -> dict[str, Algebra]:
    """A positive symbol for each name; their own names are numbers, so any word will do."""
    return {name: sympy.Symbol(f"v{number}", positive=True) for number, name in enumerate(names)}


def translate(equation: Equation, symbols: Mapping[str, Algebra]) -> Rule:
    """The equation with ``symbols`` for its names; raises :class:`ProportionError`."""
    try:
        left = _algebra(equation.left, symbols)
        right = _algebra(equation.right, symbols)
    except FormulaError as error:
        raise _meaningless(equation, error.why) from error
    residual = left - right
    if any(side.has(*NO_VALUE) for side in (left, right, residual)):
        raise _meaningless(equation, "Something in it is divided by nothing.")
    return Rule(equation.text, left, right, residual)


def fraction_of(value: float) -> Algebra:
    """The number as it is written in decimals, exactly: 0.1 is one tenth."""
    exact = Fraction(repr(value))
    return sympy.Rational(exact.numerator, exact.denominator)


def _algebra(node: Expression, symbols: Mapping[str, Algebra]) -> Algebra:
    # What holds no name is worked out in floats: exact roots of long fractions cost sympy
    # seconds and give nothing.
    if not names_in(node):
        return fraction_of(evaluate(node, {}))
    match node:
        case Number(value):
            return fraction_of(value)
        case Name(name):
            return symbols[name]
        case Negative(operand):
            return -_algebra(operand, symbols)
        case Binary(sign, left, right):
            return _binary(sign, _algebra(left, symbols), _algebra(right, symbols))
        case Call(function, argument):
            inner = _algebra(argument, symbols)
            return CALLS[function](inner if function == "sqrt" else inner * sympy.pi / 180)


def _binary(sign: str, left: Algebra, right: Algebra) -> Algebra:
    if sign == "+":
        return left + right
    if sign == "-":
        return left - right
    if sign == "*":
        return left * right
    return left / right if sign == "/" else left**right


def _meaningless(equation: Equation, why: str) -> ProportionError:
    return ProportionError(
        asked=f"The rule “{equation.text}” was to hold.",
        why=why,
        nearest="Change that rule.",
        rules=(equation.text,),
    )
