"""Our own toys as if they had been read: what an exact reader makes of their patterns."""

from __future__ import annotations

from tests.strategies import default_design, recipes
from webapp.pattern import working_order
from webapp.reading import (
    Begin,
    ReadPart,
    ReadPattern,
    ReadRound,
    Remark,
    RemarkKind,
    Span,
    Verdict,
)
from webapp.recipes import Design, Filling, PartRecipe
from webapp.rounds import Start, WorkedPart, WorkedStrip
from webapp.terms import Language
from webapp.way import Toy, make_toy

BEGINS = {
    Start.RING: Begin.RING,
    Start.CHAIN: Begin.OVAL,
    Start.OPEN: Begin.CHAIN_RING,
    Start.LEGS: Begin.LEGS,
}
NOWHERE = Span(0, 0)
STUFF = {
    Filling.FIRM: "Start stuffing firmly.",
    Filling.LIGHT: "Start stuffing lightly.",
    Filling.NONE: "Do not stuff.",
}


def read_round(
    number: int, before: int, count: int, work: tuple[tuple[str, int], ...] = ()
) -> ReadRound:
    work = work or (("sc", count),)
    return ReadRound(
        number, "", Span(number, number + 1), number, 1, Verdict.AGREES, before, count, count,
        count, work,
    )  # fmt: skip


def read_part(recipe: PartRecipe, part: WorkedPart | WorkedStrip) -> ReadPart:
    label, copies = recipe.label, recipe.copies
    if isinstance(part, WorkedStrip):
        n = part.per_row
        rows = tuple(read_round(k + 1, n if k else 0, n) for k in range(part.rows))
        return ReadPart(label, copies, NOWHERE, Begin.FLAT, rows, chain=n + 1, rows=True)
    rounds = tuple(read_round(r.number, r.before, r.count, r.work) for r in part.rounds)
    stuff = Remark(len(rounds), RemarkKind.STUFF, STUFF[recipe.filling], NOWHERE)
    start = part.order.start
    per_leg = (part.per_leg, part.per_leg) if start is Start.LEGS else ()
    return ReadPart(
        label, copies, NOWHERE, BEGINS[start], rounds, (stuff,), part.start_chains, per_leg,
        closed=part.closed,
    )  # fmt: skip


def read_toy(toy: Toy) -> ReadPattern:
    parts = tuple(
        read_part(recipe, toy.worked.parts[recipe.name])
        for recipe in working_order(toy.worked.recipe)
    )
    return ReadPattern("", toy.worked.recipe.name, Language.US, "", None, parts)


def toy_of(name: str, design: Design | None = None) -> Toy:
    return make_toy(recipes()[name], design or default_design(recipes()[name]))
