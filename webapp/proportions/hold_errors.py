"""What is said when values that are held cannot all be."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Collection, Mapping, Sequence
from typing import TypeAlias

from webapp.proportions.errors import ProportionError, counted, listed, quoted_rules

Say: TypeAlias = Callable[[float], str]
"""A length (mm) in the maker's words."""

Sentences: TypeAlias = tuple[str, str, str]


def in_mm(mm: float) -> str:
    return f"{mm:.4g} mm"


class HoldError(ProportionError):
    """Values that cannot all be held.

    ``rules`` (texts) and ``holds`` (name to value) conflict, none of them to spare; or, where no
    rules are named, ``reach`` is (name, lowest, highest) of a value that lies too far, if known.
    """

    def __init__(
        self,
        sentences: Callable[[Say], Sentences],
        *,
        rules: Sequence[str] = (),
        holds: Mapping[str, float] | None = None,
        reach: tuple[str, float, float] | None = None,
        say: Say = in_mm,
    ) -> None:
        self.sentences, self.holds, self.reach = sentences, dict(holds or {}), reach
        asked, why, nearest = sentences(say)
        super().__init__(
            asked=asked,
            why=why,
            nearest=nearest,
            names=tuple(self.holds),
            rules=rules,
            leads=tuple(self.holds),
        )

    def said(self, say: Say) -> HoldError:
        """The same with its lengths in other words."""
        return HoldError(
            self.sentences, rules=self.rules, holds=self.holds, reach=self.reach, say=say
        )


def in_words(name: str) -> str:
    """A dimension or ratio as a maker says it: ``head.width`` is the head width."""
    return "finished height" if name == "toy.height" else re.sub(r"[._]", " ", name)


def _value(name: str, value: float, say: Say) -> str:
    """A dimension has a dot in its name and is a length; a ratio is a plain number."""
    return say(value) if "." in name else f"{value:.3g}"


def held_too_much(rules: Sequence[str], holds: Mapping[str, float]) -> HoldError:
    """Rules and held values that conflict, none of them to spare."""

    def sentences(say: Say) -> Sentences:
        if not holds:
            return (
                f"{counted(len(rules), 'rule')} had to hold at once: {quoted_rules(rules)}.",
                "Together they settle one thing twice.",
                "Change or take away one of those rules.",
            )
        what = listed([f"{in_words(n)} at {_value(n, v, say)}" for n, v in holds.items()])
        names = listed([in_words(name) for name in holds], "or")
        those = "that rule" if len(rules) == 1 else "one of those rules"
        settles = "The rule already settles" if len(rules) == 1 else "The rules already settle"
        one = "it" if len(holds) == 1 else "the last of them from the others"
        return (
            f"The {what} {'was' if len(holds) == 1 else 'were'} to be held.",
            f"{settles} {one}: {quoted_rules(rules)}.",
            f"Let go of the {names}, or of {those}.",
        )

    return HoldError(sentences, rules=rules, holds=holds)


def out_of_reach(
    holds: Mapping[str, float],
    reach: tuple[str, float, float] | None,
    outside: tuple[str, float, float, float] | None = None,
) -> HoldError:
    """Held values that no positive dimensions satisfy, or only with an offer ``outside`` its
    range: (name, value, lowest, highest)."""

    def sentences(say: Say) -> Sentences:
        what = listed([f"{in_words(n)} of {_value(n, v, say)}" for n, v in holds.items()])
        why = "Something else would have to be less than nothing."
        if outside is not None:
            name, value, low, high = outside
            why = (
                f"The {in_words(name)} would have to be {_value(name, value, say)}, and for this "
                f"toy it can be {_value(name, low, say)} to {_value(name, high, say)}."
            )
        nearest = f"Let go of the {listed([in_words(name) for name in holds], 'or')}."
        if reach is not None:
            name, low, high = reach
            nearest = (
                f"With what else is held the {in_words(name)} can be {_value(name, low, say)} to "
                f"{_value(name, high, say)}."
            )
        return f"A {what} was to be held.", why, nearest

    return HoldError(sentences, holds=holds, reach=reach)


def unknown(name: str, known: Collection[str]) -> HoldError:
    """A name that no rule has."""
    close = difflib.get_close_matches(name, sorted(known), n=3)
    there_is = f"There is {listed(close or sorted(known))}."
    why = "No rule and no part of this toy has such a dimension."
    return HoldError(lambda _: (f"{name[:60]} was to be held.", why, there_is))
