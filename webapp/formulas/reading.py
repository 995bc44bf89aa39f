"""The parser: one short method for each line of the grammar.

    equation    sum "=" sum
    sum         product  { ("+" | "-") product }
    product     signed   { ("*" | "/") signed }
    signed      "-" signed  |  power
    power       single [ "**" exponent ]
    exponent    [ "+" | "-" ] number                     from -4 to 4
    single      number | "pi" | name | function "(" sum ")" | "(" sum ")"
    function    "sqrt" | "sin" | "cos" | "tan"           angles in degrees

As on paper, ``-a ** 2`` is minus the square of a. A power may not stand anywhere inside the base
of another: towers of powers are how a short text makes a number that fills the memory.
"""

from __future__ import annotations

import math

from webapp.formulas.errors import FormulaError, quoted, refusal
from webapp.formulas.tokens import Kind, Token, tokens_of
from webapp.formulas.tree import Binary, Call, Equation, Expression, Name, Negative, Number

DEEPEST = 30
STEEPEST = 4.0
FUNCTIONS = ("sqrt", "sin", "cos", "tan")
PI = "pi"
NOT_NAMES = frozenset({"nan", "inf", "infinity"})
"""Words other programs print for what is not a number; as names they could only mislead."""


def parse_expression(text: str) -> Expression:
    """The tree of an expression such as ``0.62 * ear.width``; raises :class:`FormulaError`."""
    reader = _Reader(text)
    tree = reader.sum()
    reader.end("an operator or the end")
    return tree


def parse_equation(text: str) -> Equation:
    """The two trees of ``left = right``; raises :class:`FormulaError`."""
    reader = _Reader(text)
    left = reader.sum()
    if not reader.take("="):
        raise reader.refuse("an operator or “=”")
    right = reader.sum()
    reader.end("an operator or the end")
    return Equation(left, right, text.strip())


class _Reader:
    """The pieces of one formula and how far they have been read."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = tokens_of(text)
        self.next = 0
        self.depth = 0
        self.powers = 0

    @property
    def token(self) -> Token:
        return self.tokens[self.next]

    def refuse(self, expected: str, nearest: str = "", at: Token | None = None) -> FormulaError:
        token = at or self.token
        return refusal(self.text, token.at, token.words, expected, nearest)

    def take(self, *signs: str) -> str:
        """The next piece if it is one of the signs, else nothing."""
        token = self.token
        if token.kind is not Kind.SIGN or token.text not in signs:
            return ""
        self.next += 1
        return token.text

    def end(self, expected: str) -> None:
        if self.token.kind is not Kind.END:
            raise self.refuse(expected)

    def sum(self) -> Expression:
        tree = self.product()
        while sign := self.take("+", "-"):
            tree = Binary(sign, tree, self.product())
        return tree

    def product(self) -> Expression:
        tree = self.signed()
        while sign := self.take("*", "/"):
            tree = Binary(sign, tree, self.signed())
        return tree

    def signed(self) -> Expression:
        start = self.token
        if not self.take("-"):
            return self.power()
        self.deeper(start)
        tree = Negative(self.signed())
        self.depth -= 1
        return tree

    def power(self) -> Expression:
        powers = self.powers
        base = self.single()
        start = self.token
        if not self.take("**"):
            return base
        if self.powers > powers:
            nearest = "Name the inner power and give that a rule of its own."
            raise self.refuse("no power of something that holds a power", nearest, start)
        self.powers += 1
        tree = Binary("**", base, Number(self.exponent()))
        if self.token.text == "**":
            raise self.refuse("no power of a power", "Multiply the exponents yourself.")
        return tree

    def exponent(self) -> float:
        sign = self.take("+", "-")
        token = self.token
        expected = "a plain number from -4 to 4 as exponent"
        if token.kind is not Kind.NUMBER or float(token.text) > STEEPEST:
            raise self.refuse(expected, "Write the exponent as a number, such as 0.5 or -2.")
        self.next += 1
        return -float(token.text) if sign == "-" else float(token.text)

    def single(self) -> Expression:
        token = self.token
        if token.kind is Kind.NUMBER:
            self.next += 1
            return Number(float(token.text))
        if token.kind is Kind.NAME:
            self.next += 1
            return self.named(token)
        if token.text == "(":
            return self.inside()
        raise self.refuse("a number, a name or “(”")

    def named(self, token: Token) -> Expression:
        """What a word means: a function before "(", the constant, or a name."""
        called = self.token.text == "("
        if token.text in FUNCTIONS:
            if not called:
                raise self.refuse(f"“(” after {token.text}")
            return Call(token.text, self.inside())
        if called or token.text.lower() in NOT_NAMES:
            expected = f"a name, or one of the functions {', '.join(FUNCTIONS)}"
            nearest = f"There is no “{quoted(token.text)}” here; use {expected}."
            raise self.refuse(expected, nearest, token)
        return Number(math.pi) if token.text == PI else Name(token.text)

    def inside(self) -> Expression:
        """A sum between parentheses, the next piece being "("."""
        self.deeper(self.token)
        self.next += 1
        tree = self.sum()
        if not self.take(")"):
            raise self.refuse("an operator or “)”")
        self.depth -= 1
        return tree

    def deeper(self, start: Token) -> None:
        self.depth += 1
        if self.depth > DEEPEST:
            nearest = "Name a piece of it and give that a rule of its own."
            raise self.refuse(f"no nesting deeper than {DEEPEST}", nearest, start)
