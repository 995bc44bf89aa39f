"""How much yarn the stitches take.

One single crochet takes 6.5 times its width of yarn (5.5 to 7.5: two makers' published
measurements give 5.5 to 7.0, derived; the range is 15 % each way). An increase is two stitches, a
decrease 1.2, a chain 0.5 (common practice, no source). Tails and 10 % are added per colour.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from webapp.assembly import WorkedToy
from webapp.recipes import PartRecipe, Seat
from webapp.rounds import Round, WorkedPart, WorkedStrip

YARN_PER_WIDTH = 6.5
SPREAD = 0.15
DECREASE_SHARE = 1.2
CHAIN_SHARE = 0.5
END_MM = 150.0
"""A tail at each start and end of a yarn: common practice, no source."""
SEWING_PER_EDGE, SEWING_MM = 3.0, 150.0
"""A seam takes up to three times its length of yarn (1.5 to 3, common practice, no source), and a
hand's breadth to hold it by."""
MARK_MM = 600.0
OVER = 1.10


def bands(recipe: PartRecipe, rounds: int) -> list[tuple[str, int, int]]:
    """(colour, first round, last round) of each colour of a part, in working order.

    A stripe of the colour before it goes on with it.
    """
    found: list[tuple[str, int, int]] = []
    for colour, start, end in _stripes(recipe, rounds):
        if found and found[-1][0] == colour:
            found[-1] = (colour, found[-1][1], end)
        else:
            found.append((colour, start + 1, end))
    return found


def _stripes(recipe: PartRecipe, rounds: int) -> Iterator[tuple[str, int, int]]:
    """(colour, rounds before it, last round) of each stripe."""
    placed = sorted(
        ((b.at_round - 1 if b.at_round else round(b.begin * rounds), b) for b in recipe.colours),
        key=lambda pair: pair[0],
    )
    ends = [min(rounds, start) for start, _ in placed[1:]] + [rounds]
    for (start, band), end in zip(placed, ends, strict=True):
        colours = (band.colour, *band.others)
        every = band.every or rounds
        for number, at in enumerate(range(start, end, every)):
            yield colours[number % len(colours)], at, min(at + every, end)


def sewing_tail_mm(part: WorkedPart | WorkedStrip) -> float:
    """Yarn to sew a part on, to the next 10 cm, mm."""
    if isinstance(part, WorkedStrip):
        edge = part.length_mm
    else:
        edge = part.counts[-1] * part.gauge.stitch_mm
    return 100.0 * math.ceil((SEWING_PER_EDGE * edge + SEWING_MM) / 100.0)


def yarn_by_colour_mm(toy: WorkedToy) -> dict[str, float]:
    """Yarn of each colour in mm, tails and 10 % included, in the order of the recipe."""
    need = dict.fromkeys(toy.recipe.colours, 0.0)
    for recipe in toy.recipe.parts:
        part = toy.parts[recipe.name]
        sewn = recipe.place.seat not in (Seat.GROUND, Seat.JOINED)
        for colour, length in _part_yarn(recipe, part):
            need[colour] += recipe.copies * (length + 2.0 * END_MM)
        if sewn:
            last = last_colour(recipe, part)
            need[last] += recipe.copies * sewing_tail_mm(part)
    for mark in toy.recipe.marks:
        need[mark.colour] += MARK_MM * (2 if mark.pair else 1)
    return {colour: length * OVER for colour, length in need.items() if length > 0.0}


def last_colour(recipe: PartRecipe, part: WorkedPart | WorkedStrip) -> str:
    """The colour a part ends in, and is sewn on with."""
    if isinstance(part, WorkedStrip):
        return recipe.colours[0].colour
    return bands(recipe, len(part.rounds))[-1][0]


def _part_yarn(recipe: PartRecipe, part: WorkedPart | WorkedStrip) -> Iterator[tuple[str, float]]:
    """(colour, mm) of one copy of a part, without tails."""
    unit = YARN_PER_WIDTH * part.gauge.stitch_mm
    if isinstance(part, WorkedStrip):
        chains = part.per_row + part.rows
        yield recipe.colours[0].colour, unit * (part.stitches + CHAIN_SHARE * chains)
        return
    for colour, first, last in bands(recipe, len(part.rounds)):
        shares = sum(_shares(r) for r in part.rounds[first - 1 : last])
        if first == 1:
            shares += CHAIN_SHARE * part.start_chains
        yield colour, unit * shares


def _shares(r: Round) -> float:
    """Yarn of a round in single crochets: an increase makes two of them, a decrease is one and a
    bit more."""
    decreases = sum(before - after for before, after in r.sectors if before > after)
    return r.count + (DECREASE_SHARE - 1.0) * decreases
