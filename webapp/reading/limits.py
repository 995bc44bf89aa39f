"""What is too much to read, or no text at all."""

from __future__ import annotations

import re

from webapp.errors import RoundlingError

MOST_CHARACTERS = 120_000
MOST_LINES = 5_000
MOST_PARTS = 200

_LETTER = re.compile(r"[^\W\d_]")
_CONTROL = re.compile(r"[\x01-\x08\x0e-\x1f\x7f-\x84\x86-\x9f\ufffd]")


def check_text(text: str) -> None:
    """Refuse what is too long, or no text. Raises :class:`RoundlingError`."""
    if len(text) > MOST_CHARACTERS:
        raise RoundlingError(
            asked=f"The text has {len(text)} characters.",
            why=f"At most {MOST_CHARACTERS} are read.",
            nearest="Paste the pattern alone, or one part after the other.",
            field="text",
        )
    lines = text.count("\n") + 1
    if lines > MOST_LINES:
        raise RoundlingError(
            asked=f"The text has {lines} lines.",
            why=f"At most {MOST_LINES} are read.",
            nearest="Paste the pattern alone, or one part after the other.",
            field="text",
        )
    if not text.strip():
        raise RoundlingError(
            asked="The text is empty.",
            why="There is nothing to read.",
            nearest="Paste the rounds of a written pattern.",
            field="text",
        )
    if "\0" in text or len(_CONTROL.findall(text)) * 10 > len(text):
        raise RoundlingError(
            asked="What was handed in is not text.",
            why="It holds characters that no written pattern has; it may be a picture or a file.",
            nearest="Open the document, copy its text, and paste that.",
            field="text",
        )
    if not _LETTER.search(text) or len(_LETTER.findall(text)) * 50 < len(text.replace(" ", "")):
        raise RoundlingError(
            asked="What was handed in has hardly a letter.",
            why="A pattern says its stitches in words.",
            nearest="Paste the rounds of a written pattern.",
            field="text",
        )


def check_parts(number: int) -> None:
    """Refuse too many parts. Raises :class:`RoundlingError`."""
    if number > MOST_PARTS:
        raise RoundlingError(
            asked=f"The text has more than {MOST_PARTS} parts.",
            why=f"At most {MOST_PARTS} are read.",
            nearest="Paste one toy alone.",
            field="text",
        )
