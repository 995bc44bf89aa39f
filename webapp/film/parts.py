"""Every part of a toy as it is filmed: the pattern's own lines, each with its tree of steps.

Lines, wording, counts and notes are those of :func:`webapp.pattern.part_lines`; a note belongs to
the line that it follows, or comes before the first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from webapp.assembly import WorkedToy
from webapp.film.steps import Step, first_steps, round_steps, row_steps
from webapp.materials import Materials
from webapp.materials.yarn import colours_worked
from webapp.pattern import Line, LineKind, part_lines, round_words, working_order
from webapp.pattern.colours import change_text, colour_changes
from webapp.recipes import PartRecipe
from webapp.rounds import WorkedPart, WorkedStrip
from webapp.yarns import TermSet


@dataclass(frozen=True)
class FilmLine:
    """Rounds ``first`` to ``last`` of a part, worked alike, of ``count`` stitches each.

    ``steps`` are those of one round. ``colour`` is the name of the one that comes in with the last
    stitch of round ``last``, or empty. ``before`` and ``after`` are the notes around the line.
    """

    first: int
    last: int
    count: int
    label: str
    text: str
    steps: tuple[Step, ...]
    colour: str = ""
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()

    @property
    def stitches(self) -> int:
        return self.count * (self.last - self.first + 1)


@dataclass(frozen=True)
class FilmPart:
    """A part: made ``copies`` times; ``begin`` says with which colour. ``label`` is its name in the
    pattern's language."""

    name: str
    label: str
    copies: int
    in_rows: bool
    begin: str
    lines: tuple[FilmLine, ...]

    @property
    def stitches(self) -> int:
        """Stitches of one copy."""
        return sum(line.stitches for line in self.lines)

    @property
    def last(self) -> int:
        """The number of its last round."""
        return self.lines[-1].last


def film_parts(
    toy: WorkedToy, materials: Materials, words: TermSet, *, each_round: bool = False
) -> tuple[FilmPart, ...]:
    """The parts in working order; with ``each_round`` equal rounds are lines of their own."""
    return tuple(
        _film_part(toy, materials, recipe, words, each_round)
        for recipe in working_order(toy.recipe)
    )


def _film_part(
    toy: WorkedToy, materials: Materials, recipe: PartRecipe, words: TermSet, each_round: bool
) -> FilmPart:
    part = toy.parts[recipe.name]
    in_rows = isinstance(part, WorkedStrip)
    lines: list[FilmLine] = []
    before: tuple[str, ...] = ()
    for line in part_lines(toy, materials, recipe, words):
        if line.kind is LineKind.ROUND:
            new = _film_line(toy, recipe, part, line, words)
            lines += _one_by_one(new, words, in_rows) if each_round else [new]
        elif lines:
            lines[-1] = replace(lines[-1], after=(*lines[-1].after, line.text))
        else:
            before += (line.text,)
    lines[0] = replace(lines[0], before=before)
    label = words.name(recipe.label)
    begin = _begin(toy, recipe, part, words)
    return FilmPart(recipe.name, label, recipe.copies, in_rows, begin, tuple(lines))


def _begin(
    toy: WorkedToy, recipe: PartRecipe, part: WorkedPart | WorkedStrip, words: TermSet
) -> str:
    first, *others = colours_worked(recipe, part)
    colour = words.name(toy.recipe.colours[first].name)
    if others:
        return words.say("Start with {colour}.", colour=colour)
    return words.say("In {colour}.", colour=colour)


def _film_line(
    toy: WorkedToy,
    recipe: PartRecipe,
    part: WorkedPart | WorkedStrip,
    line: Line,
    words: TermSet,
) -> FilmLine:
    label = round_words(line.first, line.last, words, isinstance(part, WorkedStrip))
    if isinstance(part, WorkedStrip):
        steps = row_steps(part, line.first)
        return FilmLine(line.first, line.last, line.count, label, line.text, steps)
    steps = first_steps(part) if line.first == 1 else round_steps(part.rounds[line.first - 1])
    colour = words.name(colour_changes(toy, recipe, part).into.get(line.last, ""))
    return FilmLine(line.first, line.last, line.count, label, line.text, steps, colour)


def _one_by_one(line: FilmLine, words: TermSet, in_rows: bool) -> Iterator[FilmLine]:
    """The rounds of a line, each a line of its own; only the last changes colour."""
    # The line says of which round the last stitch changes colour; a round alone need not.
    plain = line.text.removesuffix(change_text(line.colour, line.first, line.last, words))
    for number in range(line.first, line.last + 1):
        colour = line.colour if number == line.last else ""
        yield replace(
            line,
            first=number,
            last=number,
            label=round_words(number, number, words, in_rows),
            text=plain + change_text(colour, number, number, words),
            colour=colour,
        )
