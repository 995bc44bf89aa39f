"""Whether rules and leads settle every dimension exactly once, and if not, which are at fault.

The rank of the slopes counts it. Each lead is one more row that pulls on one name alone, so a
conflict is a set of rows, rules and leads alike, of which each follows from the others.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from webapp.formulas import Equation
from webapp.proportions.errors import too_free, too_many
from webapp.proportions.independence import Independent, evened
from webapp.proportions.tangents import Complexes, pulls

SEEDS = (11, 23)
SINGULAR = 1e-7


def check_freedom(
    equations: Sequence[Equation], names: Sequence[str], leads: Sequence[str]
) -> None:
    """Raise a ProportionError unless rules and leads settle each of ``names`` exactly once.

    Too much is said before too little: a lead too many often leaves something else free.
    """
    slopes = _clearest([evened(pulls(equations, names, seed)) for seed in SEEDS], len(leads))
    unknown = slopes[:, len(leads) :]
    rank = _rank(unknown)
    if rank < len(equations):
        rules, given = _conflict(slopes, len(leads))
        raise too_many([equations[i].text for i in rules], [leads[i] for i in given])
    if rank < len(names) - len(leads):
        free = _unsettled(unknown, rank)
        missing = len(names) - len(leads) - rank
        raise too_free(leads, [names[len(leads) + i] for i in free], missing)


def _clearest(tries: Sequence[Complexes], leads: int) -> Complexes:
    return max(tries, key=lambda slopes: _rank(slopes[:, leads:]))


def _conflict(slopes: Complexes, leads: int) -> tuple[list[int], list[int]]:
    """Indices of rules and of leads that cannot all hold, none of which can be left out.

    Names are put first among the columns by the caller, so lead ``i`` is column ``i``.
    """
    kept = Independent(slopes)
    rows = [*range(kept.rules), *(kept.held(lead) for lead in range(leads))]
    # Where the two ways of counting rank differ by rounding, all of them are named.
    found = next((kept.conflict(row) for row in rows if not kept.add(row)), rows)
    return (
        [row for row in found if row < kept.rules],
        [row - kept.rules for row in found if row >= kept.rules],
    )


def _unsettled(slopes: Complexes, rank: int) -> list[int]:
    """Columns that can still move while every rule holds."""
    if not slopes.shape[0]:
        return list(range(slopes.shape[1]))
    even = evened(slopes)
    moves = np.linalg.svd(even)[2][rank:]
    reach = np.abs(moves).max(axis=0)
    return [int(column) for column in np.flatnonzero(reach > 1e-6)]


def _rank(slopes: Complexes) -> int:
    if not slopes.size:
        return 0
    sizes = np.linalg.svd(evened(slopes), compute_uv=False)
    return int((sizes > SINGULAR * max(1.0, float(sizes[0]))).sum())
