"""Cutting a formula into numbers, names and signs."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum

from webapp.formulas.errors import FormulaError, character, quoted, refusal

LONGEST_TEXT = 500
MOST_DIGITS = 12
LARGEST_NUMBER = 1e9

# [0-9] and [A-Za-z] rather than \d and \w, which also take digits and letters of other scripts
# that look like these.
PIECE = re.compile(
    r"(?P<number>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
    r"|(?P<name>[A-Za-z][A-Za-z0-9_]*(?:\.[A-Za-z][A-Za-z0-9_]*)*)"
    r"|(?P<sign>\*\*|[-+*/()=])"
)
SPACE = re.compile(r"[ \t]*")
HINTS = {
    "^": "Write ** for a power.",
    ",": "Write a decimal point as a dot; functions take one value.",
    "×": "Write * for times.",
    "÷": "Write / for divided by.",
    "−": "Write - for minus.",
    "_": "A word of a name begins with a letter.",
}


class Kind(Enum):
    """The four kinds of piece."""

    NUMBER = "number"
    NAME = "name"
    SIGN = "sign"
    END = "end"


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of a formula: its kind, its text and the index of its first character."""

    kind: Kind
    text: str
    at: int

    @property
    def words(self) -> str:
        """How the piece is called in an error."""
        return "the end" if self.kind is Kind.END else f"“{quoted(self.text)}”"


def tokens_of(text: str) -> list[Token]:
    """The pieces of a formula, an END last; raises :class:`FormulaError`."""
    if len(text) > LONGEST_TEXT:
        raise FormulaError(
            asked=f"The formula “{quoted(text)}” was to be read.",
            why=f"It has {len(text)} characters, and a formula can have {LONGEST_TEXT}.",
            nearest="Name a piece of it and give that a rule of its own.",
            position=LONGEST_TEXT + 1,
            expected="the end",
        )
    tokens = []
    at = _after_space(text, 0)
    while at < len(text):
        found = PIECE.match(text, at)
        if found is None:
            hint = HINTS.get(text[at], "")
            expected = "a number, a name or one of + - * / ** ( ) ="
            raise refusal(text, at, character(text[at]), expected, hint)
        token = Token(Kind(found.lastgroup), found.group(), at)
        if token.kind is Kind.NUMBER:
            _check_number(text, token)
        tokens.append(token)
        at = _after_space(text, found.end())
    return [*tokens, Token(Kind.END, "", len(text))]


def _after_space(text: str, at: int) -> int:
    found = SPACE.match(text, at)
    return found.end() if found else at


def _check_number(text: str, token: Token) -> None:
    """Digits are counted before the number is made, so that no long one is ever converted."""
    if len(token.text.replace(".", "")) > MOST_DIGITS:
        expected = f"a number of at most {MOST_DIGITS} digits"
        raise refusal(text, token.at, token.words, expected, "Round it.")
    if float(token.text) > LARGEST_NUMBER:
        raise refusal(text, token.at, token.words, "a number of at most 1000000000")
