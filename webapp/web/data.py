"""Toys as data for other programs: ``/toys.json`` and ``toy.json``. Lengths are mm."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from webapp.exports import RESULT_SCHEMA_ADDRESS
from webapp.materials import Estimate
from webapp.materials.yarn import bands, colours_worked
from webapp.recipes import Recipe
from webapp.rounds import WorkedStrip
from webapp.way import Toy


def toy_list(recipes: Iterable[Recipe]) -> list[dict[str, Any]]:
    """The toys for ``/toys.json``."""
    return [
        {
            "toy": recipe.key,
            "name": recipe.name,
            "line": recipe.line,
            "level": recipe.level,
            "address": f"/toys/{recipe.key}",
            "sliders": {
                name: {"low": span.low, "high": span.high, "default": span.default}
                for name, span in recipe.sliders.items()
            },
            "parts": [part.name for part in recipe.parts],
        }
        for recipe in recipes
    ]


def toy_data(made: Toy) -> dict[str, Any]:
    """A toy for ``toy.json``: lengths in mm, yarn in m, masses in g."""
    toy, materials = made.worked, made.materials
    return {
        "$schema": RESULT_SCHEMA_ADDRESS,
        "toy": toy.recipe.key,
        "name": toy.recipe.name,
        "height_mm": toy.size.height_mm,
        "size_mm": {
            "asked_height": toy.design.sliders["height"],
            "height": toy.size.height_mm,
            "over_all": toy.size.overall_height_mm,
            "width": toy.size.width_mm,
            "depth": toy.size.depth_mm,
        },
        "sliders": dict(toy.design.sliders),
        "yarn": {
            "category": toy.design.category.number,
            "name": toy.design.category.name,
            "stitches_per_10cm": toy.design.gauge.stitches_per_10cm,
            "rounds_per_10cm": toy.design.gauge.rounds_per_10cm,
            "from_swatch": toy.design.from_swatch,
        },
        "stitches": toy.stitches,
        "parts": [_part_data(made, number) for number in range(len(toy.recipe.parts))],
        "seams": [
            {
                "part": seam.part,
                "on": seam.host,
                "between_rounds": [seam.first_round, seam.last_round],
                "stitches_apart": seam.apart,
                "side": seam.side,
                "stitches": seam.stitches,
                "evenly_round": seam.evenly,
            }
            for seam in toy.seams
        ],
        "eyes": None
        if toy.eyes is None or materials.eyes is None
        else {
            "on": toy.eyes.on,
            "between_rounds": [toy.eyes.below_round, toy.eyes.below_round + 1],
            "stitches_apart": toy.eyes.apart,
            "wanted_mm": materials.eyes.wanted_mm,
            "stock_mm": materials.eyes.stock_mm,
            "kind": materials.eyes.kind.value,
        },
        "marks": [
            {
                "label": place.mark.label,
                "on": place.mark.on,
                "kind": place.mark.kind.value,
                "pair": place.mark.pair,
                "over_rounds": [place.first_round, place.last_round],
                "stitches_wide": place.stitches,
                "colour": toy.recipe.colours[place.mark.colour].name,
            }
            for place in toy.marks
        ],
        "materials": {
            "yarns": [
                {
                    "colour": toy.recipe.colours[need.colour].name,
                    "metres": _estimate(need.metres),
                    "grams": need.grams,
                    "balls": need.balls,
                    "ball_grams": need.ball_grams,
                }
                for need in materials.yarns
            ],
            "threads": [
                {"colour": need.name, "metres": _estimate(need.metres), "skeins": need.skeins}
                for need in materials.threads
            ],
            "hook": {"mm": materials.hook.mm, "us": materials.hook.us},
            "filling_grams": _estimate(materials.filling_grams),
            "hours": _estimate(materials.hours),
        },
        "cautions": [{"about": c.where, "text": c.text} for c in made.cautions],
    }


def _part_data(made: Toy, number: int) -> dict[str, Any]:
    recipe = made.worked.recipe.parts[number]
    part = made.worked.parts[recipe.name]
    data: dict[str, Any] = {
        "name": recipe.name,
        "copies": recipe.copies,
        "colours": [made.worked.recipe.colours[c].name for c in colours_worked(recipe, part)],
        "filling": recipe.filling.value,
        "sizes_mm": {
            size.what: {"asked": size.asked_mm, "stitched": size.stitched_mm}
            for size in made.worked.sizes
            if size.part == recipe.label.lower()
        },
    }
    if isinstance(part, WorkedStrip):
        return data | {"rows": part.rows, "stitches_per_row": part.per_row}
    names = made.worked.recipe.colours
    colours = [
        names[colour].name
        for colour, first, last in bands(recipe, len(part.rounds))
        for _ in range(first, last + 1)
    ]
    return data | {
        "closed": part.closed,
        "chain": part.straight_stitches + 3 if part.straight_stitches else 0,
        "rounds": [
            {
                "round": r.number,
                "count": r.count,
                "colour": colours[r.number - 1],
                "work": [[kind, times] for kind, times in r.work],
            }
            for r in part.rounds
        ],
    }


def _estimate(estimate: Estimate) -> dict[str, Any]:
    return {
        "value": estimate.value,
        "low": estimate.low,
        "high": estimate.high,
        "how_sure": estimate.how_sure,
    }
