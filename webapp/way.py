"""The whole way, from a design to a toy in whole stitches with its materials.

    recipe + sliders -> dimensions -> outlines -> rounds -> places and seams -> materials
                       proportions    shapes      rounds    assembly            materials

:mod:`webapp.pattern` and :mod:`webapp.preview` read the result. Everything here is pure.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from webapp.assembly import (
    WorkedToy,
    eye_place,
    mark_place,
    part_sizes,
    place_parts,
    seam_of,
    size_of,
)
from webapp.errors import RoundlingError
from webapp.formulas import evaluate
from webapp.holding import held_lengths, make_up_height, with_eye_gap
from webapp.materials import Caution, Materials, cautions_for, materials_for
from webapp.recipes import EYE_GAP, Design, PartRecipe, Recipe, Seat
from webapp.rounds import (
    FEWEST,
    REACH_SHARE,
    REACH_STITCHES,
    Bulge,
    Effort,
    Start,
    WorkedPart,
    WorkedStrip,
    WorkOrder,
    opening_count,
    work_part,
    work_strip,
)
from webapp.shapes import SHAPES, Meridian, Strip, build_meridian
from webapp.sizing import Sizing, size_design
from webapp.yarns import CATEGORIES, LengthUnit

SIMPLEST_WEIGHT = 3000
"""Weight of one step of awkwardness at 'simplest to stitch', thousandths of a squared unit: there
balls of 20 to 60 mm radius at 4.6 mm a stitch come out in multiples of 6 all through."""

HEIGHT_STEPS = {LengthUnit.CM: 5.0, LengthUnit.INCH: 25.4 / 4}
"""Steps of a height that is offered, mm: half centimetres, quarter inches."""


@dataclass(frozen=True, eq=False)
class Toy:
    """A design all the way worked out."""

    worked: WorkedToy
    materials: Materials
    cautions: tuple[Caution, ...]


def make_toy(recipe: Recipe, design: Design) -> Toy:
    """The toy that ``design`` makes of ``recipe``.

    Raises :class:`RoundlingError` naming the part that cannot be made, why, and what would help.
    """
    worked = work_toy(recipe, design)
    materials = materials_for(worked)
    return Toy(worked, materials, cautions_for(worked, materials))


def work_parts(
    recipe: Recipe, design: Design
) -> tuple[Sizing, dict[str, WorkedPart | WorkedStrip]]:
    """Dimensions, and every part in rounds but in no place; raises like :func:`make_toy`."""
    sizing = size_design(recipe, design)
    design, dimensions = sizing.design, sizing.dimensions
    orders = {part.name: _order(part, dimensions) for part in recipe.parts}
    held = held_lengths(recipe, design.held)
    effort = Effort(round(SIMPLEST_WEIGHT * (design.simplicity / 100.0) ** 2), design.staggered)
    parts: dict[str, WorkedPart | WorkedStrip] = {}
    shared = _shared_openings(recipe, orders, design, held)
    per_leg = _joined_legs(recipe, orders, design)
    for part in recipe.parts:
        order = orders[part.name]
        if isinstance(order, Strip):
            parts[part.name] = work_strip(part.label.lower(), order, design.gauge)
        else:
            end_count = shared.get(part.name) or per_leg.get(part.name)
            order = replace(order, end_count=end_count, held=held[part.name])
            if part.legs is not None:
                count = 2 * (per_leg[part.legs.part] + part.legs.chain)
                order = replace(order, start_count=count, chain=part.legs.chain)
            if "toy.height" in design.held:
                order = make_up_height(recipe, order, part, parts)
            parts[part.name] = work_part(order, design.gauge, effort)
    return sizing, parts


def work_toy(recipe: Recipe, design: Design) -> WorkedToy:
    """Dimensions, rounds and places; raises like :func:`make_toy`."""
    sizing, parts = work_parts(recipe, design)
    design, dimensions = sizing.design, sizing.dimensions
    placed = place_parts(recipe.parts, parts)
    recipe = with_eye_gap(recipe, placed, design.held.get(EYE_GAP))
    seams = tuple(s for part in recipe.parts if (s := seam_of(placed, part.name)) is not None)
    eyes = eye_place(recipe.eyes, placed) if recipe.eyes is not None else None
    return WorkedToy(
        recipe,
        design,
        dimensions,
        parts,
        placed,
        seams,
        eyes,
        tuple(mark_place(mark, placed, dimensions) for mark in recipe.marks),
        size_of(placed),
        part_sizes(parts.values()),
        sizing.following,
        sizing.free,
    )


def _order(part: PartRecipe, dimensions: Mapping[str, float]) -> WorkOrder | Strip:
    """What is to be worked for one part."""
    lengths = {name: evaluate(formula, dimensions) for name, formula in part.lengths.items()}
    for name, length in lengths.items():
        if length <= 0.0:
            raise RoundlingError(
                asked=f"{part.label}: a {name} of {length:.1f} mm was asked for.",
                why="A length is more than 0.",
                nearest=f"Mend the part's {name} in its recipe.",
                field=part.label.lower(),
            )
    if SHAPES[part.shape].in_rows:
        return Strip(lengths["length"], lengths["width"])
    points = [(evaluate(a, dimensions), evaluate(b, dimensions)) for a, b in part.points]
    bulges = tuple(
        Bulge(
            spec.begin,
            spec.end,
            spec.arc,
            evaluate(spec.depth, dimensions),
            spec.label.lower(),
            spec.around,
            spec.pair,
        )
        for spec in part.bulges
    )
    outline = _outline(part, lengths, points)
    start = Start.CHAIN if part.shape == "oval" else Start.RING
    if outline.open_start:
        start = Start.OPEN if part.legs is None else Start.LEGS
    return WorkOrder(part.label.lower(), outline, start, part.ring, bulges=bulges)


def _outline(
    part: PartRecipe, lengths: Mapping[str, float], points: list[tuple[float, float]]
) -> Meridian:
    try:
        return build_meridian(part.shape, lengths, points)
    except RoundlingError as error:
        raise RoundlingError(
            asked=f"{part.label}: {error.asked}",
            why=error.why,
            nearest=error.nearest,
            field=part.label.lower(),
        ) from error


def _shared_openings(
    recipe: Recipe,
    orders: Mapping[str, WorkOrder | Strip],
    design: Design,
    held: Mapping[str, frozenset[str]],
) -> dict[str, int]:
    """The stitches of openings that are settled beforehand, by part: those that are held, and
    those sewn to each other, equal on both sides."""
    shared: dict[str, int] = {}
    for name, order in orders.items():
        if isinstance(order, WorkOrder) and "opening" in held[name]:
            shared[name] = opening_count(order.outline.end_girth_mm, design.gauge, 1)
    for part in recipe.parts:
        if part.place.seat is not Seat.OPENING:
            continue
        guest, host = orders[part.name], orders[part.place.on]
        if not isinstance(guest, WorkOrder) or not isinstance(host, WorkOrder):
            continue
        girth = (guest.outline.end_girth_mm + host.outline.end_girth_mm) / 2.0
        names = {part.name, part.place.on}
        exact = any("opening" in held[name] for name in names)
        count = opening_count(girth, design.gauge, 1 if exact else part.ring)
        shared[part.name] = shared[part.place.on] = count
    return shared


def _joined_legs(
    recipe: Recipe, orders: Mapping[str, WorkOrder | Strip], design: Design
) -> dict[str, int]:
    """The stitches at which legs are joined, by the legs' part.

    Between what the legs and the opening of their host ask for, but near to the legs.
    """
    found: dict[str, int] = {}
    width = design.gauge.stitch_mm
    for part in recipe.parts:
        body = orders[part.name]
        if part.legs is None or not isinstance(body, WorkOrder):
            continue
        leg = orders[part.legs.part]
        assert isinstance(leg, WorkOrder)
        own = leg.outline.end_girth_mm / width
        theirs = body.outline.start_girth_mm / width / 2.0 - part.legs.chain
        most = max(REACH_STITCHES, REACH_SHARE * own)
        between = (own + min(own + most, max(own - most, theirs))) / 2.0
        found[part.legs.part] = max(FEWEST, opening_count(between * width, design.gauge, leg.ring))
    return found


def nearest_that_works(recipe: Recipe, design: Design) -> tuple[float | None, int | None]:
    """What would help a design that cannot be worked.

    A larger height (mm, a whole step of the maker's unit) within its slider at which it can, and
    the next finer yarn category at which it can; None where there is none. The height is the
    least that bisection finds: between sizes that work there may be one that does not.
    """
    limits = recipe.sliders["height"]
    step = HEIGHT_STEPS[design.unit]
    height: float | None = None
    low, high = design.sliders["height"] // step, limits.high // step
    if _works(recipe, at_height(design, high * step)):
        while high - low > 1:
            middle = (low + high) // 2
            if _works(recipe, at_height(design, middle * step)):
                high = middle
            else:
                low = middle
        height = high * step
    finer: int | None = None
    if not design.from_swatch:
        finer = next(
            (
                number
                for number in range(design.category.number - 1, -1, -1)
                if _works(recipe, _in_category(design, number))
            ),
            None,
        )
    return height, finer


def at_height(design: Design, height: float) -> Design:
    """The design held at another finished height, mm."""
    return replace(
        design,
        sliders={**design.sliders, "height": height},
        held={**design.held, "toy.height": height},
    )


def _in_category(design: Design, number: int) -> Design:
    return replace(design, category=CATEGORIES[number], gauge=CATEGORIES[number].toy_gauge)


def _works(recipe: Recipe, design: Design) -> bool:
    try:
        work_toy(recipe, design)
    except RoundlingError:
        return False
    return True
