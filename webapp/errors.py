"""The one kind of error a user ever sees: three sentences about one value.

An error says what was asked, why it cannot be, and the nearest that can. The web face puts it
beside the control named by ``field``; the core raises it and knows nothing of pages.
"""

from __future__ import annotations


def an(word: str) -> str:
    """A word of ours with its article: a ball, an egg."""
    return f"{'an' if word[:1].lower() in 'aeiou' else 'a'} {word}"


class RoundlingError(ValueError):
    """Something asked for cannot be done.

    ``asked``, ``why`` and ``nearest`` are whole sentences in the user's words. ``field`` names the
    value they are about (an address parameter, a recipe key), or is empty when no single value is.
    """

    def __init__(self, *, asked: str, why: str, nearest: str, field: str = "") -> None:
        self.asked = asked
        self.why = why
        self.nearest = nearest
        self.field = field
        super().__init__(" ".join(part for part in (asked, why, nearest) if part))
