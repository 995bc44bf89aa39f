"""From counts to rounds with their work."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

from webapp.rounds.repeats import Work, joined
from webapp.rounds.spread import spread

Sectors = tuple[tuple[int, int], ...]
"""Stitches before and after of each arc of a round, in order."""


@dataclass(frozen=True)
class Round:
    """A round: its number, the stitches it is worked into, those it makes, and the work.

    ``sectors`` are (before, after) counts of the arcs of the round in order, one if it is even all
    round; ``arcs`` the work of each, and ``work`` all of it.
    """

    number: int
    before: int
    count: int
    sectors: Sectors
    arcs: tuple[Work, ...]

    @cached_property
    def work(self) -> Work:
        return self.arcs[0] if len(self.arcs) == 1 else joined(r for arc in self.arcs for r in arc)

    @cached_property
    def is_even(self) -> bool:
        if len(self.arcs) == 1:
            return len(self.arcs[0]) == 1 and self.arcs[0][0][0] == "sc"
        return all(len(arc) == 1 and arc[0][0] == "sc" for arc in self.arcs)


def write_rounds(sectors: tuple[Sectors, ...], staggered: bool) -> tuple[Round, ...]:
    """The rounds of a part from the sectors of each; every other round that changes is staggered,
    if any is."""
    rounds: list[Round] = []
    before, changed = 0, 0
    for number, arcs in enumerate(sectors, 1):
        rounds.append(_write_round(number, before, arcs, staggered and changed % 2 == 1))
        if number > 1 and not rounds[-1].is_even:
            changed += 1
        before = rounds[-1].count
    return tuple(rounds)


@lru_cache(maxsize=16384)
def _write_round(number: int, before: int, sectors: Sectors, staggered: bool) -> Round:
    if len(sectors) == 1:
        count = sectors[0][1]
        arc = spread(before, count, staggered) if before else (("sc", count),)
        return Round(number, before, count, sectors, (arc,))
    arcs = tuple(spread(a, b, staggered) for a, b in sectors)
    return Round(number, before, sum(after for _, after in sectors), sectors, arcs)
