"""Where in a round the increases and decreases go.

They are spread as evenly as whole stitches allow. Staggered, a repeat begins half a repeat later,
so that increases of one round do not stand above those of the round before and a ball does not
become a hexagon.
"""

from __future__ import annotations

from functools import lru_cache

from webapp.rounds.repeats import Run, Work, joined


@lru_cache(maxsize=8192)
def spread(before: int, after: int, staggered: bool = False) -> Work:
    """The stitches that turn ``before`` stitches into ``after``, as runs in order.

    Raises ValueError when the round would more than double or more than halve.

    >>> spread(12, 18)
    (('sc', 1), ('inc', 1), ('sc', 1), ('inc', 1), ('sc', 1), ('inc', 1), ('sc', 1), ('inc', 1), \
('sc', 1), ('inc', 1), ('sc', 1), ('inc', 1))
    """
    if after > 2 * before or 2 * after < before:
        raise ValueError(f"{after} stitches cannot be worked into {before}")
    changes = abs(after - before)
    if changes == 0:
        return (("sc", before),)
    kind: Run = ("inc", 1) if after > before else ("dec", 1)
    plain = before - changes * (1 if after > before else 2)
    gaps = [plain * (i + 1) // changes - plain * i // changes for i in range(changes)]
    late = gaps[0] // 2 if staggered and plain % changes == 0 else gaps[0]
    runs: list[Run] = []
    for number, gap in enumerate(gaps):
        runs += [("sc", late if number == 0 else gap), kind]
    return joined([*runs, ("sc", gaps[0] - late)])


def used_up(work: Work) -> int:
    """Stitches of the round before that ``work`` is worked into."""
    return sum(number * (2 if kind == "dec" else 1) for kind, number in work)


def made(work: Work) -> int:
    """Stitches that ``work`` makes."""
    return sum(number * (2 if kind == "inc" else 1) for kind, number in work)
