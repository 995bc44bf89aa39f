"""The shortest exact description of a round, with nested repeats: found, not pattern-matched.

A round is a row of stitches. A description is a row of items, each a run (`4 sc`) or a bracketed
group said several times. Its length is the number of items plus one for each pair of brackets,
counted through the nesting. The search looks at every stretch between cut points, shortest
stretches first, and keeps its cheapest description: split in two, or as a repeat when the stretch
is periodic. Cut points are the ends of runs, and inside a long run the places where the length of
another run of the round would end or begin; a test compares with an exhaustive search.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

Run = tuple[str, int]
"""A kind of stitch and how many of it, one after the other."""

Work = tuple[Run, ...]
"""The stitches of a round in order; neighbouring runs are of different kinds."""

LETTERS: dict[str, str] = {
    "sc": "s",
    "inc": "i",
    "dec": "d",
    "inc3": "3",
    "inc4": "4",
    "inc5": "5",
    "inc6": "6",
    "inc7": "7",
    "inc8": "8",
    "dec3": "g",
    "skip": "k",
    "sl st": "l",
    "hdc": "h",
    "hdc inc": "a",
    "hdc dec": "b",
    "dc": "u",
    "dc inc": "v",
    "dc dec": "w",
    "tr": "t",
    "ch": "c",
}
"""A letter for each kind of stitch: our own patterns have the first three, those that are read
(:data:`webapp.reading.USES`) may have all."""

KINDS: dict[str, str] = {letter: kind for kind, letter in LETTERS.items()}


@dataclass(frozen=True)
class Group:
    """Items worked one after the other, ``times`` times over."""

    items: tuple[Item, ...]
    times: int


Item = Run | Group


def joined(runs: Iterable[Run]) -> Work:
    """Runs with empty ones dropped and equal neighbours made one."""
    out: list[Run] = []
    for kind, number in runs:
        if number == 0:
            continue
        if out and out[-1][0] == kind:
            out[-1] = (kind, out[-1][1] + number)
        else:
            out.append((kind, number))
    return tuple(out)


@lru_cache(maxsize=4096)
def shortest(work: Work) -> tuple[Item, ...]:
    """The shortest description of ``work``; of equally short ones the least nested.

    >>> shortest((("sc", 3), ("inc", 1)) * 2)
    (Group(items=(('sc', 3), ('inc', 1)), times=2),)
    """
    row = "".join(LETTERS[kind] * number for kind, number in work)
    period = (row + row).find(row, 1)
    if len(work) > 1 and period < len(row):
        return (Group(_search(row[:period]), len(row) // period),)
    return _search(row)


def description_length(items: Iterable[Item]) -> int:
    """Items, plus one for each pair of brackets, through all the nesting."""
    return sum(
        1 + description_length(item.items) if isinstance(item, Group) else 1 for item in items
    )


def _cut_points(row: str) -> list[int]:
    """Ends of runs, and inside runs the places another run's length away from an end."""
    ends = [0] + [at for at in range(1, len(row)) if row[at] != row[at - 1]] + [len(row)]
    lengths = {end - start for start, end in zip(ends, ends[1:], strict=False)}
    cuts = set(ends)
    for start, end in zip(ends, ends[1:], strict=False):
        for length in lengths:
            if length < end - start:
                cuts.update((start + length, end - length))
    return sorted(cuts)


@lru_cache(maxsize=4096)
def _search(row: str) -> tuple[Item, ...]:
    """The cheapest description of a row of stitch letters."""
    cuts = _cut_points(row)
    best: dict[tuple[int, int], tuple[tuple[int, int], tuple[Item, ...]]] = {}
    for span in range(1, len(cuts)):
        for first in range(len(cuts) - span):
            last = first + span
            stretch = row[cuts[first] : cuts[last]]
            if stretch == stretch[0] * len(stretch):
                best[first, last] = ((1, 0), ((KINDS[stretch[0]], len(stretch)),))
                continue
            found = min(
                (_beside(best[first, middle], best[middle, last]) for middle in
                 range(first + 1, last)),
                key=lambda option: option[0],
            )
            period = (stretch + stretch).find(stretch, 1)
            if period < len(stretch):
                found = min(found, _repeated(stretch, period), key=lambda option: option[0])
            best[first, last] = found
    return best[0, len(cuts) - 1][1]


Option = tuple[tuple[int, int], tuple[Item, ...]]


def _beside(left: Option, right: Option) -> Option:
    """Two descriptions one after the other; a run going on across the middle is one run."""
    (left_cost, left_depth), left_items = left
    (right_cost, right_depth), right_items = right
    cost, depth = left_cost + right_cost, max(left_depth, right_depth)
    tail, head = left_items[-1], right_items[0]
    if not isinstance(tail, Group) and not isinstance(head, Group) and tail[0] == head[0]:
        merged: Run = (tail[0], tail[1] + head[1])
        return (cost - 1, depth), (*left_items[:-1], merged, *right_items[1:])
    return (cost, depth), left_items + right_items


def _repeated(stretch: str, period: int) -> Option:
    """A periodic stretch said once, in brackets."""
    items = _search(stretch[:period])
    return (
        (1 + description_length(items), 1 + _depth(items)),
        (Group(items, len(stretch) // period),),
    )


def _depth(items: Iterable[Item]) -> int:
    return max((1 + _depth(i.items) if isinstance(i, Group) else 0 for i in items), default=0)
