"""Where the stitches of a round come from: each border between stitches led through the work.

    edge k      | | | | | | |        a border before or after a stitch of the round below
    round k+1   |  \\V/ | \\_/        goes up through increases and decreases
    edge k+1    | | | | | |          to a border of the round's own stitches
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from webapp.reading import USES, ReadRound, Work
from webapp.shapes.meridian import Floats


@dataclass(frozen=True, eq=False)
class StitchMap:
    """A round: ``below`` and ``above`` are the places of the borders of its stitches, in stitches
    of the edge it is worked into and of its own edge; shape (stitches + 1,). ``gains`` are the
    numbers of the stitches that are increases or decreases, in order.
    """

    below: Floats
    above: Floats
    gains: tuple[int, ...]

    @property
    def before(self) -> float:
        return float(self.below[-1])

    @property
    def count(self) -> float:
        return float(self.above[-1])

    def up(self, border: int) -> int:
        """The border above a border below; inside a decrease it goes to the decrease's end."""
        return int(self.above[int(np.searchsorted(self.below, border))])

    def down(self, place: float) -> float:
        """The place below a place above, both counted on past the end of the round."""
        laps, within = divmod(place, self.count)
        return float(np.interp(within, self.above, self.below)) + laps * self.before


def stitch_map(worked: ReadRound, before: int, count: int) -> StitchMap:
    """The map of a round; where its stitches are not understood, or do not come out, it takes
    the round below evenly."""
    if worked.work and not worked.left:
        takes, makes = _expanded(worked.work)
        if sum(takes) == before and sum(makes) == count:
            gains = tuple(
                n for n, (a, b) in enumerate(zip(takes, makes, strict=True)) if a != b
            )
            return StitchMap(_borders(takes), _borders(makes), gains)
    below = np.rint(np.linspace(0.0, before, count + 1))
    return StitchMap(below, np.arange(count + 1.0), ())


def _expanded(work: Work) -> tuple[list[int], list[int]]:
    """Stitches taken up and made by each stitch in turn."""
    takes: list[int] = []
    makes: list[int] = []
    for kind, times in work:
        takes += [USES[kind][0]] * times
        makes += [USES[kind][1]] * times
    return takes, makes


def _borders(stitches: list[int]) -> Floats:
    return np.concatenate(([0.0], np.cumsum(np.array(stitches, dtype=np.float64))))
