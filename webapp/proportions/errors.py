"""What is said when rules and leads do not give every dimension one positive value."""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Mapping, Sequence

from webapp.errors import RoundlingError

MOST_LISTED = 6


class ProportionError(RoundlingError):
    """Rules that cannot be solved, or a dimension that comes out impossible.

    ``names`` are the dimensions it is about: those still free, or the one without a good value.
    ``rules`` are the texts of the rules at fault, ``leads`` the leads that could be let go or
    moved. ``value`` is the bad value of ``names[0]`` (mm, or no unit), None when it has none.
    """

    def __init__(
        self,
        *,
        asked: str,
        why: str,
        nearest: str,
        names: Sequence[str] = (),
        rules: Sequence[str] = (),
        leads: Sequence[str] = (),
        value: float | None = None,
    ) -> None:
        self.names = tuple(names)
        self.rules = tuple(rules)
        self.leads = tuple(leads)
        self.value = value
        field = next(iter((*names, *leads)), "")
        super().__init__(asked=asked, why=why, nearest=nearest, field=field)


def listed(items: Sequence[str], last: str = "and") -> str:
    """``a, b and c``; a long list is cut short and says by how many."""
    if len(items) > MOST_LISTED:
        rest = len(items) - MOST_LISTED + 1
        items = (*items[: MOST_LISTED - 1], f"{rest} more")
        last = "and"
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def quoted_rules(rules: Sequence[str]) -> str:
    """The rules' own texts in quotation marks, as a list."""
    return listed([f"“{rule}”" for rule in rules])


def counted(number: int, thing: str) -> str:
    """``1 rule``, ``2 rules``."""
    return f"{number} {thing}{'' if number == 1 else 's'}"


def too_free(leads: Sequence[str], free: Sequence[str], missing: int) -> ProportionError:
    """Too few rules or leads: ``missing`` more would settle the names in ``free``."""
    given = listed(leads) or "no leads"
    return ProportionError(
        asked=f"The rules were to give every dimension from {given}.",
        why=f"That leaves {listed(free)} free, and {counted(missing, 'more value')} must be known.",
        nearest=f"Lead with {missing} of them as well, or add {counted(missing, 'rule')}.",
        names=free,
    )


def too_many(rules: Sequence[str], leads: Sequence[str]) -> ProportionError:
    """Rules and leads that settle the same dimensions more than once, none of them to spare."""
    sizes = [counted(len(rules), "rule")]
    what, nearest = quoted_rules(rules), "Change or take away one of those rules."
    if leads:
        sizes.append(counted(len(leads), "lead"))
        what += f" with {listed(leads)}"
        nearest = f"Let go the lead {listed(leads, 'or')}, or change one of those rules."
    alone = len(rules) + len(leads) == 1
    return ProportionError(
        asked=f"{' and '.join(sizes)} had to hold at once: {what}.",
        why="It settles no dimension." if alone else "Together they settle one thing twice.",
        nearest=nearest,
        rules=rules,
        leads=leads,
    )


def no_answer(names: Sequence[str], rules: Sequence[str], why: str) -> ProportionError:
    """Rules that hang together and have not exactly one positive answer."""
    return ProportionError(
        asked=f"{listed(names)} had to be worked out from {quoted_rules(rules)}.",
        why=why,
        nearest=f"Lead with {listed(names, 'or')} instead, or change one of those rules.",
        names=names,
        rules=rules,
    )


class HoldError(ProportionError):
    """Values that cannot all be held.

    ``rules`` (texts) and ``holds`` (name to value) conflict, none of them to spare; or, where
    there is no conflict, ``reach`` is (name, lowest, highest) of a value that lies too far, or
    ``outside`` is (name, value, lowest, highest) of an offer that would have to leave its range.
    """

    def __init__(
        self,
        *,
        asked: str,
        why: str,
        nearest: str,
        rules: Sequence[str] = (),
        holds: Mapping[str, float] | None = None,
        reach: tuple[str, float, float] | None = None,
        outside: tuple[str, float, float, float] | None = None,
    ) -> None:
        self.holds = dict(holds or {})
        self.reach, self.outside = reach, outside
        super().__init__(
            asked=asked,
            why=why,
            nearest=nearest,
            names=tuple(self.holds),
            rules=rules,
            leads=tuple(self.holds),
        )


def in_words(name: str) -> str:
    """A dimension or ratio as a maker says it: ``head.width`` is the head width."""
    return "finished height" if name == "toy.height" else re.sub(r"[._]", " ", name)


def value_in_words(name: str, value: float) -> str:
    """``95 mm`` for a dimension, ``0.8`` for a ratio, whose name has no dot."""
    return f"{value:.4g} mm" if "." in name else f"{value:.3g}"


def held_too_much(rules: Sequence[str], holds: Mapping[str, float]) -> HoldError:
    """Rules and held values that conflict, none of them to spare."""
    what = listed([f"{in_words(n)} at {value_in_words(n, v)}" for n, v in holds.items()])
    if not holds:
        asked = f"{counted(len(rules), 'rule')} had to hold at once: {quoted_rules(rules)}."
        why = "Together they settle one thing twice."
        nearest = "Change or take away one of those rules."
    elif not rules:
        asked = f"{_capital(what)} was held."
        why = "It is held twice."
        nearest = "Hold it once."
    else:
        asked = f"Held were the {what}, with {_rules_in_words(rules)}."
        why = "They cannot all be: each settles what the others settle already."
        names = listed([in_words(name) for name in holds], "or")
        which = "that rule" if len(rules) == 1 else "one of those rules"
        nearest = f"Let go of the {names}, or of {which}."
    return HoldError(asked=asked, why=why, nearest=nearest, rules=rules, holds=holds)


def out_of_reach(
    holds: Mapping[str, float], reach: tuple[str, float, float] | None
) -> HoldError:
    """Held values that no positive dimensions satisfy."""
    what = listed([f"{in_words(n)} of {value_in_words(n, v)}" for n, v in holds.items()])
    nearest = f"Let go of the {listed([in_words(name) for name in holds], 'or')}."
    if reach is not None:
        name, low, high = reach
        nearest = (
            f"With what else is held it can be {value_in_words(name, low)} to "
            f"{value_in_words(name, high)}."
        )
    return HoldError(
        asked=f"A {what} was to be held.",
        why="Something else would have to be less than nothing, or leave its range.",
        nearest=nearest,
        holds=holds,
        reach=reach,
    )


def out_of_range(
    holds: Mapping[str, float],
    outside: tuple[str, float, float, float],
    reach: tuple[str, float, float] | None,
) -> HoldError:
    """Held values for which an offer that follows would have to leave its range."""
    name, value, low, high = outside
    what = listed([f"{in_words(n)} of {value_in_words(n, v)}" for n, v in holds.items()])
    limits = f"{value_in_words(name, low)} to {value_in_words(name, high)}"
    nearest = f"Let go of the {listed([in_words(n) for n in holds], 'or')}."
    if reach is not None:
        held, least, most = reach
        nearest = (
            f"With what else is held the {in_words(held)} can be {value_in_words(held, least)} to "
            f"{value_in_words(held, most)}."
        )
    return HoldError(
        asked=f"A {what} was to be held.",
        why=(
            f"The {in_words(name)} would have to be {value_in_words(name, value)}, and for this "
            f"toy it can be {limits}."
        ),
        nearest=nearest,
        holds=holds,
        reach=reach,
        outside=outside,
    )


def unknown(name: str, known: Collection[str]) -> HoldError:
    """A name that no rule has."""
    close = difflib.get_close_matches(name, sorted(known), n=3)
    return HoldError(
        asked=f"{name[:60]} was to be held.",
        why="No rule and no part of this toy has such a dimension.",
        nearest=f"There is {listed(close)}." if close else f"There is {listed(sorted(known))}.",
    )


def _rules_in_words(rules: Sequence[str]) -> str:
    return f"the rule{'' if len(rules) == 1 else 's'} {quoted_rules(rules)}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
