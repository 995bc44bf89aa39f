"""What is said when a formula cannot be read or worked out."""

from __future__ import annotations

import unicodedata

from webapp.errors import RoundlingError

LONGEST_QUOTE = 60


class FormulaError(RoundlingError):
    """A formula that cannot be used.

    ``position`` is the character it went wrong at, counted from 1, or None when the formula was
    read but has no value; ``expected`` says what could have stood there.
    """

    def __init__(
        self, *, asked: str, why: str, nearest: str, position: int | None = None, expected: str = ""
    ) -> None:
        self.position = position
        self.expected = expected
        super().__init__(asked=asked, why=why, nearest=nearest)


def refusal(text: str, at: int, found: str, expected: str, nearest: str = "") -> FormulaError:
    """The error for ``text`` going wrong at index ``at``: what is there, what was expected."""
    return FormulaError(
        asked=f"The formula “{quoted(text)}” was to be read.",
        why=f"At character {at + 1} there is {found}, where {expected} was expected.",
        nearest=nearest or f"Put {expected} there.",
        position=at + 1,
        expected=expected,
    )


def quoted(text: str) -> str:
    """The text, short enough for a sentence and without characters that draw over others."""
    short = text if len(text) <= LONGEST_QUOTE else text[: LONGEST_QUOTE - 1] + "…"
    return "".join(char if char.isprintable() else "·" for char in short)


def character(char: str) -> str:
    """A single character in words; a look-alike is told from the real one by its name."""
    if char.isascii() and char.isprintable():
        return f"“{char}”"
    return f"the character U+{ord(char):04X} ({unicodedata.name(char, 'unnamed').lower()})"
