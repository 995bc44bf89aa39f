"""Rules that are sums of their unknowns: elimination, with names in place of numbers.

Every longer coefficient gets a symbol of its own as soon as it arises. Written out instead, the
answers of five such rules already fill pages, and of eight a book.
"""

from __future__ import annotations

from collections.abc import Sequence

import sympy

from webapp.proportions.algebra import Algebra
from webapp.proportions.order import Block
from webapp.proportions.steps import IMPOSSIBLE, Step, Working, worth

LONGEST_INLINE = 8
VANISHES = 1e-11
CONSTANT = -1
"""The column of what stands without an unknown."""

Row = dict[int, Algebra]


def solve_linear(block: Block, known: dict[Algebra, float]) -> Working | None:
    """The working of a block linear in its unknowns, None if it is not or has no one answer.

    ``known`` are sample values of all that is settled; they tell which coefficients vanish.
    """
    rows = []
    for rule in block.rules:
        row = _row(rule.residual, block.unknowns) or _row(
            cleared(rule.residual, block.unknowns), block.unknowns
        )
        if row is None:
            return None
        rows.append(row)
    try:
        steps = _Elimination(rows, known).run(block.unknowns)
    except IMPOSSIBLE:
        return None
    return None if steps is None else Working(tuple(steps), block.rules)


def cleared(residual: Algebra, unknowns: Sequence[Algebra]) -> Algebra:
    """The residual without unknowns in denominators, multiplied out."""
    return sympy.expand(sympy.fraction(sympy.together(residual))[0])


def _row(residual: Algebra, unknowns: Sequence[Algebra]) -> Row | None:
    row: Row = {}
    for column, unknown in enumerate(unknowns):
        if residual.has(unknown):
            row[column] = residual.diff(unknown)
    if any(entry.has(*unknowns) for entry in row.values()):
        return None
    row[CONSTANT] = residual.xreplace(dict.fromkeys(unknowns, sympy.S.Zero))
    return {column: entry for column, entry in row.items() if entry != 0}


class _Elimination:
    """Rows worked down to a triangle. Pivots are chosen to keep the rows short."""

    def __init__(self, rows: list[Row], known: dict[Algebra, float]) -> None:
        self.rows = rows
        self.known = dict(known)
        self.steps: list[Step] = []

    def run(self, unknowns: Sequence[Algebra]) -> list[Step] | None:
        left = set(range(len(self.rows)))
        triangle: list[tuple[int, int]] = []
        while left:
            pivot = self.pivot(left)
            if pivot is None:
                return None
            left.remove(pivot[0])
            for row in sorted(left):
                self.subtract(row, *pivot)
            triangle.append(pivot)
        for row, column in reversed(triangle):
            self.steps.append(Step(unknowns[column], self.isolated(row, column, unknowns)))
        return self.steps

    def pivot(self, left: set[int]) -> tuple[int, int] | None:
        """Row and column of the entry whose elimination fills in least."""
        crowd: dict[int, int] = {}
        for row in left:
            for column in self.rows[row]:
                crowd[column] = crowd.get(column, 0) + 1
        best = None
        for row in sorted(left):
            columns = [column for column in sorted(self.rows[row]) if column != CONSTANT]
            for column in columns:
                entry = self.rows[row][column]
                # A row with a constant counts as longer: put off, it divides a sum in the end
                # instead of being what a sum is taken from, which would lose digits.
                fill = (len(self.rows[row]) - 1) * (crowd[column] - 1)
                rank = (fill, not entry.is_Rational)
                if best is None or rank < best[0]:
                    best = rank, (row, column)
        return None if best is None else best[1]

    def subtract(self, row: int, pivot: int, column: int) -> None:
        entry = self.rows[row].pop(column, None)
        if entry is None:
            return
        factor = self.named(entry / self.rows[pivot][column])
        for other, part in self.rows[pivot].items():
            if other != column:
                self.put(row, other, self.rows[row].get(other, sympy.S.Zero), factor * part)

    def put(self, row: int, column: int, entry: Algebra, less: Algebra) -> None:
        """An entry less something; where the two cancel, which names may hide, it goes."""
        size = abs(worth(entry, self.known)) + abs(worth(less, self.known))
        if abs(worth(entry - less, self.known)) <= VANISHES * size:
            self.rows[row].pop(column, None)
        else:
            self.rows[row][column] = self.named(entry - less)

    def named(self, expression: Algebra) -> Algebra:
        if expression.count_ops() <= LONGEST_INLINE:
            return expression
        symbol = sympy.Dummy("t", real=True)
        self.known[symbol] = worth(expression, self.known)
        self.steps.append(Step(symbol, expression))
        return symbol

    def isolated(self, row: int, column: int, unknowns: Sequence[Algebra]) -> Algebra:
        entries = self.rows[row]
        rest = [
            part * (1 if other == CONSTANT else unknowns[other])
            for other, part in entries.items()
            if other != column
        ]
        return -sympy.Add(*rest) / entries[column]
