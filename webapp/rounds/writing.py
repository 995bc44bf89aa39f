"""From counts to rounds with their work."""

from __future__ import annotations

from webapp.rounds.spread import spread
from webapp.rounds.worked import Effort, Round


def write_rounds(
    counts: tuple[int, ...], cheeks: list[int], zone: slice | None, effort: Effort
) -> tuple[Round, ...]:
    """Rounds with their work; in the zone as cheek, face, cheek, back of equal halves."""
    rounds: list[Round] = []
    before, changed = 0, 0
    for k, count in enumerate(counts):
        sectors: tuple[tuple[int, int], ...]
        if zone is not None and zone.start <= k < zone.stop:
            at = k - zone.start
            cheek = (cheeks[at], cheeks[at + 1])
            rest = counts[zone.start - 1] // 2 - cheeks[0]
            sectors = (cheek, (rest, rest), cheek, (rest, rest))
        else:
            sectors = ((before, count),)
        rounds.append(write_round(k + 1, before, sectors, effort.staggered and changed % 2 == 1))
        if k > 0 and not rounds[-1].is_even:
            changed += 1
        before = rounds[-1].count
    return tuple(rounds)


def write_round(
    number: int, before: int, sectors: tuple[tuple[int, int], ...], staggered: bool
) -> Round:
    count = sum(after for _, after in sectors)
    if before == 0:
        return Round(number, 0, count, sectors, ((("sc", count),),))
    arcs = tuple(spread(a, b, staggered) for a, b in sectors)
    return Round(number, before, count, sectors, arcs)
