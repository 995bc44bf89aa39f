"""What is said when rules and leads do not give every dimension one positive value."""

from __future__ import annotations

from collections.abc import Sequence

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
