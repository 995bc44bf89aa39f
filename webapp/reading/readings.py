"""The ways a body can be read, the plainest first, and which of them fit.

A reading fits where it takes up exactly the stitches there are and makes as many as are written.
Both together vouch for it: a reading that is not the plainest is only taken where the plainest
does not fit, and is said to be a choice where nothing written vouches for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations, islice, product

from webapp.reading.bodies import Body
from webapp.reading.nodes import (
    MOST_STITCHES,
    Act,
    Group,
    Made,
    Node,
    TooManyError,
    flags_of,
    joined,
    make,
    uses,
)

MOST_READINGS = 24

FLAGS = {
    "bare bracket": ("the bracket said once", "the bracket repeated to the end of the round"),
    "repeat": ("so many times in all", "so many times more"),
    "repeat from star": ("so many times more", "so many times in all"),
    "bare number": ("numbers alone are plain stitches", "numbers alone are no stitches"),
    "reach": ("said so often: the last stitches alone", "said so often: all that stands before"),
    "unmarked": ("said once", "repeated to the end of the round"),
}
"""What each doubt can mean where the options themselves do not say, plainest first."""


@dataclass(frozen=True)
class Reading:
    """What the body comes to when read this way; ``taken`` are the doubts not read plainly, as
    (what was taken, what else it could be)."""

    made: Made
    taken: tuple[tuple[str, str], ...]

    def fits(self, room: int | None, stated: int | None) -> bool:
        """Whether it takes up what there is and makes what is written."""
        return (
            self.made.over == 0
            and (room is None or self.made.takes == room)
            and (stated is None or self.made.makes == stated)
        )


def readings(body: Body, room: int | None, stated: int | None) -> Iterator[Reading]:
    """All readings of a body, the plainest first. Raises :class:`TooManyError`."""
    flags = flags_of(body.nodes)
    for taken in islice(_ways(flags), MOST_READINGS):
        made = make(body.nodes, room, stated, taken)
        if made is None or _far_fetched(taken, made):
            continue
        said = tuple(
            _choice(body.nodes, flag, number) for flag, number in taken.items() if number
        )
        yield Reading(made, said)
        wider = _all_so_often(body.nodes)
        if wider is not None:
            whole = make(wider, room, stated, taken)
            if whole is not None:
                yield Reading(whole, (*said, FLAGS["reach"][::-1]))
        elif taken.get("bare number"):
            continue
        elif room and made.takes and room > made.takes and _may_repeat(body):
            times, over = divmod(room, made.takes)
            if not over and room <= MOST_STITCHES:
                again = joined(iter(made.work * times))
                yield Reading(Made(again, *uses(again)), (*said, FLAGS["unmarked"][::-1]))


def _ways(flags: Mapping[str, int]) -> Iterator[dict[str, int]]:
    """Which meaning is taken of each doubt: first the plain ones, then one doubt read otherwise,
    then two, and so on."""
    plain = dict.fromkeys(flags, 0)
    for number in range(len(flags) + 1):
        for changed in combinations(flags, number):
            for meanings in product(*(range(1, flags[flag]) for flag in changed)):
                yield plain | dict(zip(changed, meanings, strict=True))


def _far_fetched(taken: Mapping[str, int], made: Made) -> bool:
    """Whether `2 sc` was taken for an increase in a round that decreases: `(2 sc, dec) around` is
    never a round of as many stitches, though its count may be printed so."""
    doubled = any(number and flag.startswith("2 ") for flag, number in taken.items())
    kinds = {kind for kind, _ in made.work}
    return doubled and not kinds.isdisjoint({"dec", "dec3"})


def _choice(nodes: tuple[Node, ...], flag: str, number: int) -> tuple[str, str]:
    known = FLAGS.get(flag)
    if known is not None:
        return known[min(number, len(known) - 1)], known[0]
    for node in _acts(nodes):
        if node.flag == flag:
            at = min(number, len(node.options) - 1)
            return node.options[at].says, node.options[0].says
    return flag, flag


def _acts(nodes: tuple[Node, ...]) -> Iterator[Act]:
    for node in nodes:
        if isinstance(node, Act):
            yield node
        elif isinstance(node, Group):
            yield from _acts(node.items)


def _may_repeat(body: Body) -> bool:
    """Whether the whole may be meant to be said over and over: nothing in it is, and it does not
    turn back or leave stitches."""
    return _all_acts(body.nodes) and not (body.mark("turn") or body.mark("left"))


def _all_acts(nodes: tuple[Node, ...]) -> bool:
    """Whether nothing is repeated, so that the whole may be meant to be."""
    return all(isinstance(node, Act) for node in nodes)


def _all_so_often(nodes: tuple[Node, ...]) -> tuple[Node, ...] | None:
    """`inc, 3 sc x 6` read as six times both."""
    *first, last = nodes
    if not first or not _all_acts(tuple(first)) or not isinstance(last, Group):
        return None
    if len(last.items) != 1 or not isinstance(last.items[0], Act):
        return None
    return (Group((*first, *last.items), last.times, last.span),)


__all__ = ["Reading", "TooManyError", "readings"]
