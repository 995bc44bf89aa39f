"""One part's chart: the form that suits it, with its legend and a table of its rounds.

A part is drawn whole where that fits a page. A larger one has its equal rounds gathered in bands;
one larger still is cut into stretches of which one repeat is drawn, and what has no repeats is
written in symbols with numbers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from webapp.assembly import WorkedToy
from webapp.charts.drawing import Drawing, ending
from webapp.charts.flat import DRAWN_ROWS, flat
from webapp.charts.glyphs import meanings
from webapp.charts.lanes import Lane, lanes_of, letters_of
from webapp.charts.laps import is_sparse, spiral_width
from webapp.charts.page import TALL, YarnKey, page
from webapp.charts.runs import runs
from webapp.charts.spiral import spiral
from webapp.charts.stretches import stretches
from webapp.charts.table import TableRow
from webapp.charts.wedge import wedge
from webapp.materials.yarn import colours_worked
from webapp.pattern.words import stitches_text
from webapp.recipes import PartRecipe
from webapp.rounds import Start, WorkedPart, WorkedStrip
from webapp.yarns import TermSet

WHOLE_MM = 112.0
"""Up to this width every round is drawn, equal or not."""

WIDEST_MM = 182.0
"""The width of an A4 page within its margins."""

MOST_ROWS = 62
MOST_LINES = 24
"""So many lanes of a drawing of rows, and of one of lines that may be long, fit on a page."""


def chart_svg(
    toy: WorkedToy, recipe: PartRecipe, words: TermSet, *, table: bool = True, low: bool = False
) -> str:
    """The chart of one part as SVG, mm on paper; ``table`` adds the list of its rounds and the
    name of the toy, for a chart that stands alone. With ``low`` ink it is drawn in black lines,
    its yarns told apart by their letters alone.

    Every round is a group with ``data-round``, its number, and ``data-times``, how often what is
    drawn there stands; its symbols have the class of their kind.
    """
    part = toy.parts[recipe.name]
    yarns = yarn_keys(toy, recipe, words)
    coloured = {key.colour: "" if low else key.hex for key in yarns}
    if isinstance(part, WorkedStrip):
        drawings = [flat(part, words)]
        rows = list(_strip_rows(part, yarns[0].letter))
    else:
        drawings = _drawn(toy, recipe, part, words, coloured)
        gathered = lanes_of(toy, recipe, part, words, gathered=True)
        rows = [TableRow(lane.label, lane.count, lane.change, lane.letter) for lane in gathered]
    return page(
        title=_title(recipe, words, toy.recipe.name if table else ""),
        description=_described(recipe, part, words, rows),
        drawings=drawings,
        meanings=meanings(words, isinstance(part, WorkedStrip)),
        yarns=yarns,
        rows=rows if table else [],
        in_rows=isinstance(part, WorkedStrip),
        words=words,
        low=low,
    )


def yarn_keys(toy: WorkedToy, recipe: PartRecipe, words: TermSet) -> list[YarnKey]:
    """The yarns of a part with their letters, in the order in which they come in."""
    worked = colours_worked(recipe, toy.parts[recipe.name])
    letters = letters_of(list(worked))
    colours = toy.recipe.colours
    return [YarnKey(c, letters[c], words.name(colours[c].name), colours[c].hex) for c in worked]


def _drawn(
    toy: WorkedToy,
    recipe: PartRecipe,
    part: WorkedPart,
    words: TermSet,
    coloured: dict[str, str],
) -> list[Drawing]:
    """The drawings of a part worked in rounds: one, or one for each stretch."""
    for gathered, most in ((False, WHOLE_MM), (True, WIDEST_MM)):
        lanes = lanes_of(toy, recipe, part, words, gathered=gathered)
        if spiral_width(part, lanes) <= most and not is_sparse(part, lanes):
            return [spiral(part, lanes, recipe.name, coloured, words)]
    return [
        _stretch(part, stretch[at : at + most], turns, coloured, words)
        for turns, stretch in stretches(lanes)
        for most in (MOST_ROWS if turns else MOST_LINES,)
        for at in range(0, len(stretch), most)
    ]


def chart_pages(svg: str) -> list[str]:
    """A chart as one SVG for each page of A4 that it takes, for printing."""
    size = re.search(r'viewBox="-1 -1 (\S+) (\S+)" width="\S+" height="\S+"', svg)
    assert size
    wide, tall = size[1], float(size[2])
    many = max(1, round(tall / TALL)) if tall > TALL else 1
    if many == 1:
        return [svg]
    return [
        svg.replace(
            size[0],
            f'viewBox="-1 {TALL * n - 1:g} {wide} {TALL:g}" width="{wide}mm" height="{TALL:g}mm"',
            1,
        )
        for n in range(many)
    ]


def _stretch(
    part: WorkedPart, lanes: list[Lane], turns: int, coloured: dict[str, str], words: TermSet
) -> Drawing:
    ends = ending(part) if lanes[-1].last == len(part.counts) else ()
    if not turns:
        return runs(lanes, coloured, words, ends)
    start = part.order.start
    first = lanes[0].first == 1
    ring = first and start is Start.RING
    base = "ch" if first and start is Start.OPEN else ""
    return wedge(lanes, coloured, words, ring=ring, base=base, ends=ends)


def _strip_rows(part: WorkedStrip, letter: str) -> Iterator[TableRow]:
    for n in range(1, min(DRAWN_ROWS, part.rows) + 1):
        yield TableRow(str(n), part.per_row, 0, letter)
    first = DRAWN_ROWS + 1
    if part.rows >= first:
        label = f"{first}–{part.rows}" if part.rows > first else str(first)
        yield TableRow(label, part.per_row, 0, letter)


def _title(recipe: PartRecipe, words: TermSet, toy: str) -> str:
    """Whose chart it is; beside the part's table that it is a chart, else of which toy."""
    part = words.say(
        "{part} (make {number})", part=words.name(recipe.label), number=recipe.copies
    )
    return f"{words.name(toy)}{words.manner.colon}{part}" if toy else words.say(
        "Chart: {part}", part=part
    )


def _described(
    recipe: PartRecipe, part: WorkedPart | WorkedStrip, words: TermSet, rows: list[TableRow]
) -> str:
    """What a chart shows for those who do not see it, the stitches of every round among it."""
    name = words.name(recipe.label)
    if isinstance(part, WorkedStrip):
        return words.say(
            "{part}: {number} rows of {stitches} each, worked to and fro.",
            part=name,
            number=part.rows,
            stitches=stitches_text(part.per_row, words),
        )
    counts = ", ".join(f"{row.label}{words.manner.colon}{row.count}" for row in rows)
    said = words.say(
        "{part}: {number} rounds, read anticlockwise from the centre, as the right-handed work "
        "them.",
        part=name,
        number=len(part.counts),
    )
    every = words.say("Stitches of each round: {counts}.", counts=counts)
    return f"{said} {every}"
