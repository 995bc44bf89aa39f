"""What held values ask of the parts: which lengths must be met to the stitch, and how.

Imports the worked and placed parts; :mod:`webapp.way` calls it between its steps.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from webapp.assembly import Placed, PlacedPart, WorkedToy, plain_count
from webapp.errors import RoundlingError
from webapp.recipes import EYE_GAP, PartRecipe, Recipe, Seat
from webapp.rounds import WorkedPart, WorkedStrip, WorkOrder

NARROWEST, WIDEST = 1.0, 120.0
"""Degrees from the front at which an eye can sit."""

UPRIGHT = 45.0


def held_lengths(recipe: Recipe, held: Mapping[str, float]) -> dict[str, frozenset[str]]:
    """For each part which of its "width", "height" and "opening" are held."""
    found: dict[str, set[str]] = {part.name: set() for part in recipe.parts}
    for name in held:
        measure = recipe.measures.by_name.get(name)
        for owner, key in measure.of if measure is not None else ():
            found[owner].add(_kind(recipe.part(owner), key))
    if "toy.height" in held:
        for part in _trunk(recipe):
            found[part.name].add("height" if _stands(recipe) else "width")
    return {name: frozenset(kinds) for name, kinds in found.items()}


def _kind(part: PartRecipe, key: str) -> str:
    if key == "opening":
        return key
    across = key in ("width", "girth") or (part.shape == "oval" and key == "length")
    return "width" if across else "height"


def _trunk(recipe: Recipe) -> list[PartRecipe]:
    """The parts whose heights add up to the finished height: what stands on the ground, what stands
    on that, and the legs it is begun on."""
    seats = (Seat.GROUND, Seat.OPENING, Seat.JOINED)
    return [p for p in recipe.parts if p.place.seat in seats]


def _stands(recipe: Recipe) -> bool:
    return not any(p.place.seat is Seat.GROUND and p.place.tilt < UPRIGHT for p in recipe.parts)


def make_up_height(
    recipe: Recipe,
    order: WorkOrder,
    part: PartRecipe,
    worked: Mapping[str, WorkedPart | WorkedStrip],
) -> WorkOrder:
    """The last part of those that stand on each other makes up for what the others miss.

    Each is met within half a round; without this two could miss by a whole one.
    """
    trunk = _trunk(recipe)
    before = [worked[p.name] for p in trunk if p.name in worked]
    if part is not trunk[-1] or len(before) + 1 < len(trunk) or not _stands(recipe):
        return order
    missing = sum(
        p.order.outline.height_mm - p.height_mm for p in before if isinstance(p, WorkedPart)
    )
    own = order.outline.height_mm
    if own <= 0.0 or not 0.5 < (own + missing) / own < 2.0:
        return order
    return replace(order, outline=order.outline.stretched((own + missing) / own))


def with_eye_gap(
    recipe: Recipe, placed: Mapping[str, Placed], gap_mm: float | None
) -> Recipe:
    """The recipe with its eyes so far apart that ``gap_mm`` of fabric lies between their middles.

    Raises :class:`RoundlingError` where the part has no room for that.
    """
    if gap_mm is None or recipe.eyes is None:
        return recipe
    host = placed[recipe.eyes.on]
    assert isinstance(host, PlacedPart)
    girth = eye_girth_mm(recipe, placed)
    around = 180.0 * gap_mm / girth
    if not NARROWEST <= around <= WIDEST:
        low, high = (girth * limit / 180.0 for limit in (NARROWEST, WIDEST))
        raise RoundlingError(
            asked=f"Eyes {gap_mm:.0f} mm apart were asked for.",
            why=f"The {host.recipe.label.lower()} is {girth:.0f} mm round where they sit.",
            nearest=f"They can be {low:.0f} to {high:.0f} mm apart.",
            field=EYE_GAP,
        )
    return replace(recipe, eyes=replace(recipe.eyes, around=around))


def eye_gap_mm(toy: WorkedToy) -> float:
    """How much fabric lies between the middles of the eyes, mm; 0 where there are none."""
    if toy.recipe.eyes is None:
        return 0.0
    return eye_girth_mm(toy.recipe, toy.placed) * toy.recipe.eyes.around / 180.0


def eye_girth_mm(recipe: Recipe, placed: Mapping[str, Placed]) -> float:
    """The girth of the round that the eyes sit on, cheeks left out, mm."""
    assert recipe.eyes is not None
    host = placed[recipe.eyes.on]
    assert isinstance(host, PlacedPart)
    below = min(len(host.part.rounds) - 1, max(1, int(host.edge_at(recipe.eyes.along))))
    return plain_count(host, below) * host.part.gauge.stitch_mm
