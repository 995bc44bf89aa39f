"""How much yarn the stitches take.

One single crochet takes 6.5 times its width of yarn (5.5 to 7.5: two makers' published
measurements give 5.5 to 7.0, derived; the range is 15 % each way). An increase is two stitches, a
decrease 1.2, a chain 0.5 (common practice, no source). Tails and 10 % are added per colour. A
colour that comes back after a few rounds is not cut but carried up inside.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from webapp.assembly import WorkedToy
from webapp.recipes import Band, PartRecipe, Seat
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
OVER = 1.10

CARRIED_ROUNDS = 4
"""A colour that rests for no more rounds than this is carried up inside, not cut: common practice,
no source."""
CARRY_SLACK = 1.2
"""It is carried loosely: our own guess."""


def bands(recipe: PartRecipe, rounds: int) -> list[tuple[str, int, int]]:
    """(colour, first round, last round) of each colour of a part, in working order.

    A stripe of the colour before it goes on with it.
    """
    return list(_runs(recipe.colours, rounds))


@lru_cache(maxsize=1024)
def _runs(colours: tuple[Band, ...], rounds: int) -> tuple[tuple[str, int, int], ...]:
    found: list[tuple[str, int, int]] = []
    for colour, start, end in _stripes(colours, rounds):
        if found and found[-1][0] == colour:
            found[-1] = (colour, found[-1][1], end)
        else:
            found.append((colour, start + 1, end))
    return tuple(found)


def bands_without_a_round(recipe: PartRecipe, rounds: int) -> list[Band]:
    """The bands of a part for which it is too short, in working order."""
    return [band for band, start, end in _stretches(recipe.colours, rounds) if start >= end]


def striped_stretches(recipe: PartRecipe, rounds: int) -> list[tuple[Band, int, int]]:
    """(band, first round, last round) of every band that comes out striped."""
    return [
        (band, start + 1, end)
        for band, start, end in _stretches(recipe.colours, rounds)
        if band.others and end - start > band.every
    ]


def colours_worked(recipe: PartRecipe, part: WorkedPart | WorkedStrip) -> tuple[str, ...]:
    """The colours that a part has rounds in, each once, in the order in which they come."""
    if isinstance(part, WorkedStrip):
        return (recipe.colours[0].colour,)
    return tuple(dict.fromkeys(colour for colour, _, _ in bands(recipe, len(part.rounds))))


@dataclass(frozen=True)
class Rest:
    """A colour that is carried up inside, from after one round until another."""

    colour: str
    after: int
    until: int


def carried(spans: list[tuple[str, int, int]]) -> list[Rest]:
    """Where a colour of the runs of a part (:func:`bands`) rests for a few rounds only."""
    ended: dict[str, int] = {}
    found = []
    for colour, first, last in spans:
        if colour in ended and first - 1 - ended[colour] <= CARRIED_ROUNDS:
            found.append(Rest(colour, ended[colour], first))
        ended[colour] = last
    return found


def _stretches(colours: tuple[Band, ...], rounds: int) -> Iterator[tuple[Band, int, int]]:
    """(band, rounds before it, last round) of each band, in working order."""
    placed = [
        (b.at_round - 1 if b.at_round else round(b.begin * rounds), b) for b in colours
    ]
    placed.sort(key=lambda pair: pair[0])
    ends = [min(rounds, start) for start, _ in placed[1:]] + [rounds]
    for (start, band), end in zip(placed, ends, strict=True):
        yield band, start, end


def _stripes(colours: tuple[Band, ...], rounds: int) -> Iterator[tuple[str, int, int]]:
    """(colour, rounds before it, last round) of each stripe."""
    for band, start, end in _stretches(colours, rounds):
        if not band.every:
            if start < end:
                yield band.colour, start, end
            continue
        turns, every = (band.colour, *band.others), band.every
        for number, at in enumerate(range(start, end, every)):
            yield turns[number % len(turns)], at, min(at + every, end)


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
            need[colour] += recipe.copies * length
        for colour, length in _ends(recipe, part):
            need[colour] += recipe.copies * length
        if sewn:
            last = last_colour(recipe, part)
            need[last] += recipe.copies * sewing_tail_mm(part)
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


def _ends(
    recipe: PartRecipe, part: WorkedPart | WorkedStrip
) -> Iterator[tuple[str, float]]:
    """(colour, mm) for the two tails of each length of yarn in one copy of a part, and for what is
    carried up inside instead of being cut."""
    if isinstance(part, WorkedStrip):
        yield recipe.colours[0].colour, 2.0 * END_MM
        return
    spans = bands(recipe, len(part.rounds))
    for colour, _, _ in spans:
        yield colour, 2.0 * END_MM
    for rest in carried(spans):
        rests_mm = (rest.until - 1 - rest.after) * part.gauge.round_mm
        yield rest.colour, CARRY_SLACK * rests_mm - 2.0 * END_MM


def _shares(r: Round) -> float:
    """Yarn of a round in single crochets: an increase makes two of them, a decrease is one and a
    bit more."""
    if r.count >= r.before and len(r.sectors) == 1:
        return r.count
    decreases = sum(before - after for before, after in r.sectors if before > after)
    return r.count + (DECREASE_SHARE - 1.0) * decreases
