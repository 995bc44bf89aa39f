"""From a design's sliders and held values to every dimension of the toy.

Most designs move sliders only: their rules are compiled and looked up. Where something else is
held, sliders at their defaults give way to it. Imports ``recipes`` and ``proportions``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from webapp.formulas import evaluate, names_in
from webapp.proportions import HoldError, Offer, settle, solve_rules, unknown
from webapp.recipes import EYE_GAP, SCALE, SLIDERS, Design, Recipe, drawn

LEAST = 1e-9
"""A ratio of 0 (no cheeks) in logarithms."""
SCALES = (0.02, 50.0)


@dataclass(frozen=True)
class Sizing:
    """``design`` with the sliders as they come out, all ``dimensions`` by name (mm, ratios without
    unit), the sliders that follow what is held, and what rules let go have left free."""

    design: Design
    dimensions: Mapping[str, float]
    following: tuple[str, ...] = ()
    free: tuple[str, ...] = ()


def size_design(recipe: Recipe, design: Design) -> Sizing:
    """All dimensions of a design; raises :class:`ProportionError` with what conflicts."""
    leads = dict(zip(recipe.leads, recipe.sliders, strict=True))
    held = {n: max(value, LEAST) for n, value in design.held.items() if n != EYE_GAP}
    if set(held) <= set(leads) and not design.let_go and not recipe.dimensions:
        values = {lead: max(design.sliders[name], LEAST) for lead, name in leads.items()}
        values.update(held)
        return Sizing(design, solve_rules(recipe.rules, recipe.leads).evaluate(values))
    known = {*leads, *recipe.measures.by_name, *(n for r in recipe.rules for n in names_in(r))}
    for name in held:
        if name not in known:
            raise unknown(name, known)
    rules = tuple(
        rule for number, rule in enumerate(recipe.rules) if number not in design.let_go
    )
    offers = _offers(recipe, design)
    freed = _freed(recipe, design, offers) if design.let_go else []
    try:
        settled = settle((*rules, *recipe.measures.rules), held, [*offers, *freed])
    except HoldError as error:
        raise error.said(design.unit.format) from error
    sliders = {
        name: settled.values.get(lead, design.sliders[name]) for lead, name in leads.items()
    }
    following = tuple(
        leads[lead]
        for lead in settled.following
        if lead in leads and not _as_drawn(recipe, design, lead, settled.values)
    )
    at_default = {offer.name for offer in freed}
    return Sizing(
        replace(design, sliders=sliders),
        settled.values,
        following,
        tuple(name for name in settled.taken if name in at_default),
    )


def _as_drawn(
    recipe: Recipe, design: Design, lead: str, values: Mapping[str, float]
) -> bool:
    """Whether a height that follows from the sizes a toy was drawn with is just that."""
    drawn_at = design.sliders["height"]
    return (
        lead == "toy.height"
        and bool(recipe.dimensions)
        and abs(values[lead] - drawn_at) < 1e-3 * drawn_at
    )


def _offers(recipe: Recipe, design: Design) -> list[Offer]:
    """What gives way to what is held, the last first: sliders as they follow each other in every
    toy, from what moves the whole toy to what moves one part."""
    sliders = []
    for name in SLIDERS:
        span = recipe.sliders.get(name)
        lead = "toy.height" if name == "height" else name
        if span is not None:
            value = max(design.sliders[name], LEAST)
            sliders.append(Offer(lead, value, span.low, span.high))
    if not recipe.dimensions:
        return sliders
    sizes = [Offer(drawn(name), value) for name, value in recipe.dimensions.items()]
    scale = Offer(SCALE, 1.0, *SCALES)
    # A toy drawn with sizes is as tall as they make it; asked for a height, it is scaled to it.
    if "toy.height" in design.held:
        return [*sliders, *sizes, scale]
    ratios = [offer for offer in sliders if offer.name != "toy.height"]
    return [scale, *ratios, *sizes, *(o for o in sliders if o.name == "toy.height")]


def _freed(recipe: Recipe, design: Design, offers: list[Offer]) -> list[Offer]:
    """The recipe's own value of every dimension, for those that rules let go leave free."""
    whole = settle((*recipe.rules, *recipe.measures.rules), {}, _all_offers(recipe, design))
    offered = {offer.name for offer in offers}
    return [Offer(n, value) for n, value in whole.values.items() if n not in offered]


def _all_offers(recipe: Recipe, design: Design) -> list[Offer]:
    return _offers(recipe, replace(design, held={}))


def measure_values(recipe: Recipe, dimensions: Mapping[str, float]) -> dict[str, float]:
    """Every measure of a toy that is a dimension, mm."""
    values = dict(dimensions)
    for rule in recipe.measures.rules:
        name = rule.text.split(" ", 1)[0]
        if name in recipe.measures.by_name and name not in values:
            values[name] = evaluate(rule.right, values)
    return {name: values[name] for name in recipe.measures.by_name if name in values}
