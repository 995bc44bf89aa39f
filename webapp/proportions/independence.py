"""Which rows of slopes say something new, and what a row that does not follows from.

Rules pull on several names, a held name is a row of its own. A row that depends on those kept
before it follows from exactly one set of them: together they are a conflict of which none can be
left out (the fundamental circuit of a matroid), read off the weights with which they add up to it.
"""

from __future__ import annotations

import numpy as np

from webapp.proportions.tangents import Complexes

NOTHING = 1e-13
"""Slopes below this are rounding: in logarithms a slope is about 1, or exactly nothing."""
EVENINGS = 3
DEPENDENT = 1e-7
NO_PART = 1e-6


def evened(slopes: Complexes) -> Complexes:
    """Rows and columns scaled to like size: a dimension of small influence still counts."""
    even = np.where(np.abs(slopes) < NOTHING, 0.0, slopes)
    for _ in range(EVENINGS):
        for axis in (0, 1):
            size = np.linalg.norm(even, axis=axis, keepdims=True)
            even = even / np.where(size > 0.0, size, 1.0)
    return even


class Independent:
    """Rows kept so far, none of which follows from the others.

    ``slopes`` have shape (rules, names); row number ``rules + n`` is name ``n`` held by itself.
    """

    def __init__(self, slopes: Complexes) -> None:
        rules, names = slopes.shape
        self.rows: Complexes = np.vstack([evened(slopes), np.eye(names)]).astype(np.complex128)
        self.rules: int = rules
        self.kept: list[int] = []
        self._frame = np.zeros((names, names), dtype=np.complex128)

    def held(self, name: int) -> int:
        """The row of a name that is held."""
        return self.rules + name

    @property
    def full(self) -> bool:
        """Whether every name is settled."""
        return bool(len(self.kept) == self.rows.shape[1])

    def add(self, row: int) -> bool:
        """Keeps the row if it says something new."""
        rest = self._rest(row)
        size = float(np.linalg.norm(rest))
        if size <= DEPENDENT:
            return False
        self._frame[len(self.kept)] = rest / size
        self.kept.append(row)
        return True

    def follows(self, row: int) -> bool:
        """Whether the row follows from those kept."""
        return float(np.linalg.norm(self._rest(row))) <= DEPENDENT

    def conflict(self, row: int) -> list[int]:
        """The kept rows that ``row`` follows from, and itself; none of them can be left out."""
        kept = self.rows[self.kept]
        weights = np.linalg.lstsq(kept.T, self.rows[row], rcond=None)[0]
        sizes = np.abs(weights) * np.linalg.norm(kept, axis=1)
        part = sizes > NO_PART * max(1.0, float(sizes.max(initial=0.0)))
        return [kept_row for kept_row, is_part in zip(self.kept, part, strict=True) if is_part] + [
            row
        ]

    def _rest(self, row: int) -> Complexes:
        """What of a row, made one long, lies across all that is kept."""
        rest: Complexes = self.rows[row]
        size = float(np.linalg.norm(rest))
        if size == 0.0:
            return rest
        rest = rest / size
        frame = self._frame[: len(self.kept)]
        for _ in range(2):  # once more: rounding of the first time is as large as what is sought
            rest = rest - (frame.conj() @ rest) @ frame
        return rest
