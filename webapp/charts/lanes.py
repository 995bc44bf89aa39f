"""What stands in the rounds of a chart: single rounds, and bands of equal ones."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from webapp.assembly import WorkedToy
from webapp.charts.glyphs import MADE
from webapp.materials.yarn import bands
from webapp.pattern.starts import first_round_text
from webapp.pattern.wording import round_text
from webapp.pattern.words import round_words
from webapp.recipes import PartRecipe
from webapp.rounds import Round, Work, WorkedPart
from webapp.yarns import TermSet

YARN_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True)
class Lane:
    """Rounds ``first`` to ``last``, all worked alike, ``count`` stitches each.

    ``change`` is against the round before, ``arcs`` are the work of one of them arc by arc,
    ``colour`` is the key of their yarn and ``letter`` its letter in this chart; ``words`` say them
    in full.
    """

    first: int
    last: int
    count: int
    change: int
    arcs: tuple[Work, ...]
    colour: str
    letter: str
    words: str

    @property
    def times(self) -> int:
        return self.last - self.first + 1

    @property
    def is_band(self) -> bool:
        return self.times > 1

    @property
    def label(self) -> str:
        """`7`, or `15–25`."""
        return str(self.first) if self.times == 1 else f"{self.first}–{self.last}"

    @cached_property
    def stitches(self) -> list[str]:
        """The kinds of all its stitches in order, one entry for each symbol."""
        return [kind for arc in self.arcs for kind, number in arc for _ in range(number)]

    @cached_property
    def turns(self) -> int:
        """Into how many equal repeats, one after the other, its stitches fall: the most."""
        row = "".join(kind[0] for kind in self.stitches)
        period = (row + row).find(row, 1)
        return len(row) // period

    def room(self, of: Mapping[str, float]) -> float:
        """The room of all its symbols, given that of each kind."""
        return sum(of[kind] * number for arc in self.arcs for kind, number in arc)

    def repeat(self, turns: int) -> list[str]:
        """The stitches of one of ``turns`` equal repeats."""
        row = self.stitches
        return row[: len(row) // turns]


def rounds_text(number: int, words: TermSet) -> str:
    """`11 rnds`."""
    return words.many("{number} {rnd_small}", "{number} {rnds_small}", number)


def made_by(kinds: list[str]) -> int:
    """How many stitches these make."""
    return sum(MADE[kind] for kind in kinds)


def lanes_of(
    toy: WorkedToy, recipe: PartRecipe, part: WorkedPart, words: TermSet, *, gathered: bool
) -> list[Lane]:
    """The lanes of a part, from its first round; equal rounds in one lane where ``gathered``."""
    spans = bands(recipe, len(part.rounds))
    letters = letters_of([colour for colour, _, _ in spans])
    colours = [c for c, first, last in spans for _ in range(first, last + 1)]
    return list(_lanes(part, colours, letters, words, gathered))


def letters_of(colours: list[str]) -> dict[str, str]:
    """A letter for each yarn of a part, in the order in which they come in."""
    different = dict.fromkeys(colours)
    return {c: YARN_LETTERS[n % len(YARN_LETTERS)] for n, c in enumerate(different)}


def _lanes(
    part: WorkedPart, colours: list[str], letters: dict[str, str], words: TermSet, gathered: bool
) -> Iterator[Lane]:
    rounds, first = part.rounds, 0
    while first < len(rounds):
        last = first
        while (
            gathered
            and last + 1 < len(rounds)
            and colours[last + 1] == colours[first]
            and _equal(rounds[first], rounds[last + 1])
        ):
            last += 1
        r = rounds[first]
        said = first_round_text(part, words) if r.number == 1 else round_text(r, words)
        label = round_words(r.number, last + 1, words, False)
        change = r.count - r.before if r.number > 1 else 0
        yield Lane(
            r.number, last + 1, r.count, change, r.arcs, colours[first], letters[colours[first]],
            f"{label}{words.manner.colon}{said} [{r.count}]",
        )  # fmt: skip
        first = last + 1


def _equal(a: Round, b: Round) -> bool:
    return a.number > 1 and a.is_even and b.is_even
