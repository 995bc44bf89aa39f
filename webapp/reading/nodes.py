"""What a line of work says, as a small tree, and the stitches it comes to.

An :class:`Act` is some stitches, a :class:`Fill` one kind of stitch to the end of the round, a
:class:`Group` items said several times, or to the end of the round. Where words can mean two
things, an act has several options, the plain meaning first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from webapp.reading.model import USES, Span, Work

MOST_STITCHES = 5000
"""More stitches than any round of a toy has; what comes to more is not worked out."""


@dataclass(frozen=True)
class Option:
    """One meaning: the stitches, and what it is called in a choice."""

    work: Work
    says: str


@dataclass(frozen=True)
class Act:
    """Stitches. ``flag`` names the doubt its options share ("" where there is one meaning)."""

    options: tuple[Option, ...]
    span: Span
    flag: str = ""


@dataclass(frozen=True)
class Fill:
    """The same stitch into each stitch that is left."""

    unit: Work
    span: Span


@dataclass(frozen=True)
class Group:
    """Items said so often: the first of ``times``; others are other meanings; 0: to the end."""

    items: tuple[Node, ...]
    times: tuple[int, ...]
    span: Span
    flag: str = ""


Node = Act | Fill | Group


@dataclass(frozen=True)
class Made:
    """What a row of nodes comes to: the stitches, how many of the round before they take and how
    many they make; ``over`` stitches were left when a repeat to the end did not come out even."""

    work: Work
    takes: int
    makes: int
    over: int = 0


class TooManyError(Exception):
    """The work comes to more stitches than a round can have."""


def uses(work: Work) -> tuple[int, int]:
    """How many stitches the work takes and makes."""
    takes = makes = 0
    for kind, number in work:
        take, make = USES[kind]
        takes += take * number
        makes += make * number
    return takes, makes


def joined(runs: Iterator[tuple[str, int]]) -> Work:
    """Runs with empty ones dropped and equal neighbours made one."""
    out: list[tuple[str, int]] = []
    for kind, number in runs:
        if number and out and out[-1][0] == kind:
            out[-1] = (kind, out[-1][1] + number)
        elif number:
            out.append((kind, number))
    return tuple(out)


def flags_of(nodes: tuple[Node, ...]) -> dict[str, int]:
    """The doubts of a row of nodes, and how many meanings each has."""
    found: dict[str, int] = {}
    for node in nodes:
        if isinstance(node, Act) and node.flag:
            found[node.flag] = max(found.get(node.flag, 0), len(node.options))
        elif isinstance(node, Group):
            if node.flag:
                found[node.flag] = max(found.get(node.flag, 0), len(node.times))
            for flag, number in flags_of(node.items).items():
                found[flag] = max(found.get(flag, 0), number)
    return found


def make(
    nodes: tuple[Node, ...], room: int | None, wanted: int | None, taken: Mapping[str, int]
) -> Made | None:
    """The stitches of a round worked into ``room`` stitches (None: not known; then ``wanted``
    stitches are to be made). ``taken`` says which meaning is taken of each doubt.

    None: it has two repeats to the end, or one whose length cannot be told. Raises
    :class:`TooManyError`.
    """
    runs: list[tuple[str, int]] = []
    takes = makes = 0
    filler: tuple[int, Work] | None = None
    twice = False
    for node in nodes:
        if isinstance(node, Act):
            work = node.options[min(taken.get(node.flag, 0), len(node.options) - 1)].work
        elif (times := _times_of(node, taken)) == 0:
            unit = _unit(node, taken)
            if filler is not None and unit == filler[1] and not twice:
                twice = True  # `sc around, no increases` says one thing two ways
                continue
            if filler is not None or unit is None:
                return None
            filler = (len(runs), unit)
            continue
        else:
            assert isinstance(node, Group)
            inner = _once(node, taken)
            if inner is None:
                return None
            if max(inner.makes, inner.takes) * times > MOST_STITCHES:
                raise TooManyError
            work = inner.work * times
        take, made = uses(work)
        takes, makes = takes + take, makes + made
        if max(takes, makes) > MOST_STITCHES:
            raise TooManyError
        runs += work
    if filler is None:
        return Made(joined(iter(runs)), takes, makes)
    at, unit = filler
    take, made = uses(unit)
    if room is not None and take:
        times, over = divmod(max(0, room - takes), take)
    elif wanted is not None and made:
        times, over = divmod(max(0, wanted - makes), made)
    else:
        return None
    if max(take, made) * times > MOST_STITCHES:
        raise TooManyError
    runs[at:at] = unit * times
    return Made(joined(iter(runs)), takes + take * times, makes + made * times, over)


def made_plainly(nodes: tuple[Node, ...], wanted: int | None = None) -> Made | None:
    """What nodes come to with every doubt taken plainly, in a round of which ``wanted`` stitches
    are to be made; None where there are none, that cannot be told, or they are too many."""
    try:
        return make(nodes, None, wanted, {}) if nodes else None
    except TooManyError:
        return None


def _once(node: Group, taken: Mapping[str, int]) -> Made | None:
    """The items of a group once: `(2 sc in each) x 4` goes into one stitch each time."""
    if len(node.items) == 1 and isinstance(node.items[0], Fill):
        return Made(node.items[0].unit, *uses(node.items[0].unit))
    return make(node.items, None, None, taken)


def _times_of(node: Fill | Group, taken: Mapping[str, int]) -> int:
    """How often it is said; 0 for to the end of the round."""
    if isinstance(node, Fill):
        return 0
    return node.times[min(taken.get(node.flag, 0), len(node.times) - 1)]


def _unit(node: Fill | Group, taken: Mapping[str, int]) -> Work | None:
    """What is said over and over to the end of the round."""
    if isinstance(node, Fill):
        return node.unit
    inner = make(node.items, None, None, taken)
    return None if inner is None else inner.work
