"""Formulas written back as text: the inverse of the parser, and names changed in a text.

A tree that was read comes back as the same tree, with the fewest parentheses:
``parse_expression(format_expression(tree)) == tree``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal

from webapp.formulas.errors import FormulaError
from webapp.formulas.reading import PI
from webapp.formulas.tokens import LARGEST_NUMBER, LONGEST_TEXT, MOST_DIGITS, Kind, tokens_of
from webapp.formulas.tree import Binary, Call, Equation, Expression, Name, Negative, Number

SUM, PRODUCT, SIGNED, SINGLE = range(4)
"""How firmly a piece holds together, in the order of the grammar's lines."""

LEVELS = {"+": SUM, "-": SUM, "*": PRODUCT, "/": PRODUCT}


def format_equation(equation: Equation) -> str:
    """``left = right``; raises like :func:`format_expression`."""
    return f"{format_expression(equation.left)} = {format_expression(equation.right)}"


def format_expression(tree: Expression) -> str:
    """The text of a tree.

    Raises ValueError for a number that no text of the grammar has, which none that was read is:
    one below 0, not finite, or of more than 12 digits.

    >>> from webapp.formulas import parse_expression
    >>> format_expression(parse_expression("((2*a.b) - (3 - (c)))"))
    '2 * a.b - (3 - c)'
    """
    text = _text(tree)[0]
    return text if len(text) <= LONGEST_TEXT else text.replace(" ", "")


def _text(tree: Expression) -> tuple[str, int]:
    """The text of a tree and how firmly it holds together."""
    match tree:
        case Number(value):
            return number_text(value), SINGLE
        case Name(name):
            return name, SINGLE
        case Negative(operand):
            return f"-{_inside(operand, SIGNED)}", SIGNED
        case Call(function, argument):
            return f"{function}({_text(argument)[0]})", SINGLE
        case Binary("**", base, Number(exponent)):
            sign = "-" if math.copysign(1.0, exponent) < 0.0 else ""
            return f"{_inside(base, SINGLE)} ** {sign}{number_text(abs(exponent))}", SIGNED
        case Binary():
            return _chain(tree)
    raise ValueError(f"{tree!r} is no tree of a formula")


def _chain(tree: Binary) -> tuple[str, int]:
    """A sum or a product, from its last piece back to its first: a long one is a deep tree."""
    level = LEVELS[tree.operator]
    pieces: list[str] = []
    node: Expression = tree
    while isinstance(node, Binary) and LEVELS.get(node.operator) == level:
        pieces.append(f"{node.operator} {_inside(node.right, level + 1)}")
        node = node.left
    return " ".join((_inside(node, level), *reversed(pieces))), level


def _inside(tree: Expression, least: int) -> str:
    text, level = _text(tree)
    return text if level >= least else f"({text})"


def number_text(value: float) -> str:
    """A number as the grammar writes it; raises ValueError where it cannot.

    >>> number_text(1e-05), number_text(3.0)
    ('0.00001', '3')
    """
    if value == math.pi:
        return PI
    if not 0.0 <= value <= LARGEST_NUMBER:
        raise ValueError(f"{value!r} is no number of a formula")
    text = f"{Decimal(repr(float(value))):f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    if len(text.replace(".", "")) > MOST_DIGITS and text.startswith("0."):
        text = text[1:]
    if len(text.replace(".", "")) > MOST_DIGITS:
        raise ValueError(f"{value!r} has more digits than a formula's number can have")
    return text


def with_names(text: str, names: Mapping[str, str]) -> str:
    """The formula with other names, otherwise as it was typed.

    A text that cannot be cut into pieces comes back as it is.

    >>> with_names("head.width*2", {"head.width": "skull.width"})
    'skull.width*2'
    """
    try:
        tokens = tokens_of(text)
    except FormulaError:
        return text
    for token in reversed(tokens):
        if token.kind is Kind.NAME and token.text in names:
            end = token.at + len(token.text)
            text = text[: token.at] + names[token.text] + text[end:]
    return text
