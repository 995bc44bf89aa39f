"""The tree of a round as it is worked: runs of stitches, each with where they go, and repeats.

Rounds after the first are the shortest wording of the pattern (:func:`webapp.rounds.shortest`),
so a card, a counter and the written line break the round up alike. First rounds have their chains
and places as leaves of their own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum

from webapp.pattern.wording import PLAIN, run_text
from webapp.reading import USES
from webapp.rounds import Group, Round, Run, Start, WorkedPart, WorkedStrip, shortest
from webapp.words import noted
from webapp.yarns import TermSet


class Place(Enum):
    """What stitches go into."""

    NEXT = "the next stitches"
    AROUND = "each stitch around"
    ACROSS = "each stitch across"
    RING = "a ring"
    FIRST_CHAIN = "the first chain, which makes a ring of it"
    CHAINS_AROUND = "each chain of a ring"
    SECOND_CHAIN = "the second chain from the hook"
    CHAINS = "one in each of the chains"
    CHAINS_ACROSS = "from the second chain on"
    LAST_CHAIN = "the last chain"
    OTHER_SIDE = "the other side of the chains"
    FIRST_LEG = "round the first leg"
    SECOND_LEG = "round the second leg"
    TURNED = "a turn of the work"


ONE_IN_EACH = (Place.AROUND, Place.ACROSS, Place.CHAINS_AROUND, Place.CHAINS_ACROSS)


@dataclass(frozen=True)
class Leaf:
    """So many of one kind of stitch, one after the other."""

    kind: str
    number: int
    place: Place = Place.NEXT

    @property
    def made_each(self) -> int:
        """Stitches of the new round that one of them makes; a chain is none of them."""
        return 0 if self.kind in ("ch", "sl st") else USES[self.kind][1]


@dataclass(frozen=True)
class Repeat:
    """Steps worked one after the other, ``times`` times over."""

    steps: tuple[Step, ...]
    times: int


Step = Leaf | Repeat


def made_by(steps: Iterable[Step]) -> int:
    """Stitches that steps make."""
    return sum(
        made_by(step.steps) * step.times
        if isinstance(step, Repeat)
        else step.number * step.made_each
        for step in steps
    )


def round_steps(r: Round) -> tuple[Step, ...]:
    """The steps of a round after the first: arc by arc, two equal halves as one said twice."""
    kinds = {kind for arc in r.arcs for kind, _ in arc}
    if len(kinds) == 1 and kinds <= set(PLAIN):
        return (Leaf(kinds.pop(), r.count, Place.AROUND),)
    half = len(r.arcs) // 2
    if half and r.arcs[:half] == r.arcs[half:]:
        items = tuple(item for arc in r.arcs[:half] for item in shortest(arc))
        return (_step(Group(items, 2)),)
    return tuple(_step(item) for arc in r.arcs for item in shortest(arc))


def _step(item: Run | Group) -> Step:
    if not isinstance(item, Group):
        return Leaf(*item)
    if len(item.items) == 1 and not isinstance(item.items[0], Group):
        kind, number = item.items[0]
        return Leaf(kind, number * item.times)
    return Repeat(tuple(_step(inner) for inner in item.items), item.times)


def first_steps(part: WorkedPart) -> tuple[Step, ...]:
    """The steps of a part's first round, by what it is begun on."""
    count = part.rounds[0].count
    if part.order.start is Start.OPEN:
        return (
            Leaf("ch", count),
            Leaf("sl st", 1, Place.FIRST_CHAIN),
            Leaf("sc", count, Place.CHAINS_AROUND),
        )
    if part.order.start is Start.LEGS:
        chain, leg = part.order.chain, part.per_leg
        steps = (
            Leaf("ch", chain),
            Leaf("sc", leg, Place.FIRST_LEG),
            Leaf("sc", chain, Place.CHAINS),
            Leaf("sc", leg, Place.SECOND_LEG),
            Leaf("sc", chain, Place.OTHER_SIDE),
        )
        return tuple(step for step in steps if step.number)
    if part.straight_stitches:
        side = part.straight_stitches
        return (
            Leaf("ch", side + 3),
            Leaf("sc", 3, Place.SECOND_CHAIN),
            Leaf("sc", side, Place.CHAINS),
            Leaf("sc", 3, Place.LAST_CHAIN),
            Leaf("sc", side, Place.OTHER_SIDE),
        )
    return (Leaf("sc", count, Place.RING),)


def row_steps(strip: WorkedStrip, number: int) -> tuple[Step, ...]:
    """The steps of a row of a part worked flat."""
    if number == 1:
        return (Leaf("ch", strip.per_row + 1), Leaf("sc", strip.per_row, Place.CHAINS_ACROSS))
    return (Leaf("ch", 1, Place.TURNED), Leaf("sc", strip.per_row, Place.ACROSS))


def stitch_words(leaf: Leaf, words: TermSet) -> str:
    """One stitch of a leaf, and where it goes if that is not the next: `sc`, `sc in the last ch`.
    """
    place = Place.NEXT if leaf.place in ONE_IN_EACH else leaf.place
    return leaf_words(Leaf(leaf.kind, 1, place), words)


def leaf_words(leaf: Leaf, words: TermSet) -> str:
    """A leaf as it stands on a card: `4 sc`, `3 sc in the 2nd ch from the hook`. In a language that
    has no words for where it goes, the stitches alone."""
    said = run_text((leaf.kind, leaf.number), words)
    if leaf.place is Place.NEXT or not words.catalogue.has(WRITTEN[leaf.place]):
        return said
    if leaf.place is Place.CHAINS:
        return words.many(
            "{stitches} in the next {ch}",
            "{stitches}, one in each {ch}",
            leaf.number,
            stitches=said,
        )
    return words.say(WRITTEN[leaf.place], stitches=said)


WRITTEN: Mapping[Place, str] = {
    Place.AROUND: noted("{stitches}, one in each {st} around"),
    Place.ACROSS: noted("{stitches}, one in each {st} across"),
    Place.RING: noted("{stitches} in a {magic_ring}"),
    Place.FIRST_CHAIN: noted("{stitches} in the first {ch} to form a ring"),
    Place.CHAINS_AROUND: noted("{stitches}, one in each {ch} around"),
    Place.SECOND_CHAIN: noted("{stitches} in the 2nd {ch} from the hook"),
    Place.CHAINS: "{stitches} in the next {ch}",
    Place.CHAINS_ACROSS: noted("{stitches}, one in each {ch} from the 2nd from the hook"),
    Place.LAST_CHAIN: noted("{stitches} in the last {ch}"),
    Place.OTHER_SIDE: noted("{stitches} along the other side of the {ch}"),
    Place.FIRST_LEG: noted("{stitches} round the first leg"),
    Place.SECOND_LEG: noted("{stitches} round the second leg"),
    Place.TURNED: noted("{stitches}, turn"),
}
"""Leaves that go elsewhere than into the next stitches, as sentences."""
