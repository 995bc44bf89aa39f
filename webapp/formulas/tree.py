"""The tree a formula is read into: five kinds of node, and the equation of two trees."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class Number:
    """A plain number; mm where it is a length, degrees where it is an angle."""

    value: float


@dataclass(frozen=True, slots=True)
class Name:
    """A dimension or a ratio, such as ``head.height`` (mm) or ``limb_length`` (no unit)."""

    name: str


@dataclass(frozen=True, slots=True)
class Negative:
    """Minus something."""

    operand: Expression


@dataclass(frozen=True, slots=True)
class Binary:
    """``left operator right``; the operator is one of + - * / **.

    The right side of ** is always a :class:`Number` between -4 and 4.
    """

    operator: str
    left: Expression
    right: Expression


@dataclass(frozen=True, slots=True)
class Call:
    """A function (sqrt, sin, cos, tan) of one argument; angles are in degrees."""

    function: str
    argument: Expression


Expression: TypeAlias = Number | Name | Negative | Binary | Call


@dataclass(frozen=True, slots=True)
class Equation:
    """``left = right``, with the text it was read from.

    The hash is that of the text alone: it is cached by Python, and equations are looked up in
    caches each time a slider moves.
    """

    left: Expression = field(hash=False)
    right: Expression = field(hash=False)
    text: str


def names_in(formula: Expression | Equation) -> frozenset[str]:
    """Every name that occurs in an expression or an equation (pi is a number, not a name)."""
    if isinstance(formula, Equation):
        return _names_in_equation(formula)
    return frozenset(node.name for node in _nodes(formula) if isinstance(node, Name))


@lru_cache(maxsize=4096)
def _names_in_equation(equation: Equation) -> frozenset[str]:
    return names_in(equation.left) | names_in(equation.right)


def _nodes(formula: Expression) -> Iterator[Expression]:
    """All nodes, by a list rather than by recursion: a long sum is a deep tree."""
    waiting = [formula]
    while waiting:
        node = waiting.pop()
        yield node
        match node:
            case Negative(operand):
                waiting.append(operand)
            case Binary(_, left, right):
                waiting += (left, right)
            case Call(_, argument):
                waiting.append(argument)
