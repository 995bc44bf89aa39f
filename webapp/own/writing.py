"""A recipe back as plain data with the keys of a recipe file: the inverse of loading.

What has its default value is left out, as a person would leave it out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from enum import Enum
from typing import Any

from webapp.formulas import Expression, Number, format_equation, format_expression
from webapp.recipes import Band, BulgeSpec, EyeSpec, Mark, PartRecipe, Place, Recipe

CHEEKS = "Cheeks"
HEIGHT_WORD = "to the crown"
"""What loading makes of a toy that does not say how its height is measured."""
SIDE = 90.0
"""Where cheeks lie, degrees from the front; other shaping says it."""


def recipe_data(recipe: Recipe) -> dict[str, Any]:
    """Data that reads back to the same recipe; raises ValueError for a number no formula has."""
    data: dict[str, Any] = {"name": recipe.name, "line": recipe.line, "level": recipe.level}
    if recipe.height_word != HEIGHT_WORD:
        data["height_word"] = recipe.height_word
    _add(data, recipe, Recipe, "turn")
    data["rules"] = [rule.text or format_equation(rule) for rule in recipe.rules]
    data["colours"] = {
        key: {"name": colour.name, "hex": colour.hex} for key, colour in recipe.colours.items()
    }
    data["sliders"] = {
        key: {name: plain(getattr(span, name)) for name in ("low", "high", "default")}
        for key, span in recipe.sliders.items()
    }
    if recipe.dimensions:
        data["dimensions"] = {name: plain(value) for name, value in recipe.dimensions.items()}
    data["parts"] = [_part(part) for part in recipe.parts]
    if recipe.eyes is not None:
        data["eyes"] = _eyes(recipe.eyes)
    if recipe.marks:
        data["marks"] = [_mark(mark) for mark in recipe.marks]
    return data


def plain(value: float) -> int | float:
    """A number without a decimal point where it needs none."""
    return int(value) if value == int(value) else value


def formula_data(formula: Expression) -> int | float | str:
    """A number where the formula is one that data can say as such, else its text."""
    text = format_expression(formula)
    if isinstance(formula, Number):
        number = plain(formula.value)
        if "e" not in repr(number) and text == str(number):
            return number
    return text


def _add(data: dict[str, Any], source: object, kind: type, *names: str) -> None:
    """Those of the named fields that differ from their defaults."""
    defaults = {field.name: field.default for field in fields(kind)}
    for name in names:
        value = getattr(source, name)
        if value != defaults[name]:
            data[name] = _value(value)


def _value(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    return plain(value) if isinstance(value, float) else value


def _part(part: PartRecipe) -> dict[str, Any]:
    data: dict[str, Any] = {"name": part.name, "label": part.label, "shape": part.shape}
    data["lengths"] = {name: formula_data(formula) for name, formula in part.lengths.items()}
    if part.points:
        data["points"] = [[formula_data(value) for value in pair] for pair in part.points]
    _add(data, part, PartRecipe, "ring")
    data["colours"] = [_band(band) for band in part.colours]
    data["filling"] = part.filling.value
    bulges = list(part.bulges)
    if bulges and _are_cheeks(bulges[0]):
        data["cheeks"] = _bulge(bulges.pop(0))
    if bulges:
        data["bulges"] = [{"label": bulge.label, **_bulge(bulge)} for bulge in bulges]
        for entry, bulge in zip(data["bulges"], bulges, strict=True):
            _add(entry, bulge, BulgeSpec, "around")
    if part.legs is not None:
        data["legs"] = {"part": part.legs.part, "chain": part.legs.chain}
    data["place"] = _place(part.place)
    return data


def _are_cheeks(bulge: BulgeSpec) -> bool:
    return bulge.label == CHEEKS and bulge.around == SIDE


def _bulge(bulge: BulgeSpec) -> dict[str, Any]:
    data: dict[str, Any] = {
        name: plain(getattr(bulge, name)) for name in ("begin", "end", "arc")
    }
    return {**data, "depth": formula_data(bulge.depth)}


def _band(band: Band) -> dict[str, Any]:
    data: dict[str, Any] = {}
    if band.at_round:
        data["round"] = band.at_round
    elif band.begin:
        data["begin"] = plain(band.begin)
    data["colour"] = band.colour
    if band.others:
        data |= {"with": list(band.others), "every": band.every}
    return data


def _place(place: Place) -> dict[str, Any]:
    data: dict[str, Any] = {"seat": place.seat.value}
    _add(data, place, Place, *(field.name for field in fields(Place) if field.name != "seat"))
    return data


def _eyes(eyes: EyeSpec) -> dict[str, Any]:
    data: dict[str, Any] = {
        "on": eyes.on,
        "along": plain(eyes.along),
        "around": plain(eyes.around),
        "diameter": formula_data(eyes.diameter),
    }
    _add(data, eyes, EyeSpec, "kind")
    return data


def _mark(mark: Mark) -> dict[str, Any]:
    data: dict[str, Any] = {"label": mark.label, "on": mark.on, "along": plain(mark.along)}
    if mark.around:
        data["around"] = plain(mark.around)
    data |= {"width": formula_data(mark.width), "height": formula_data(mark.height)}
    data["colour"] = mark.colour
    _add(data, mark, Mark, "pair", "kind", "slant")
    return data


TOP = (
    *("name", "line", "level", "height_word", "turn", "rules", "colours", "sliders"),
    *("dimensions", "parts", "eyes", "marks"),
)
PART = (
    *("name", "label", "shape", "lengths", "points", "ring", "colours", "filling"),
    *("cheeks", "bulges", "legs", "place"),
)


def ordered(data: Mapping[str, Any]) -> dict[str, Any]:
    """The data with its keys in the order in which :func:`recipe_data` writes them."""
    return _in_order(data, TOP) | (
        {"parts": [_in_order(part, PART) if isinstance(part, dict) else part for part in parts]}
        if isinstance(parts := data.get("parts"), list)
        else {}
    )


def _in_order(data: Mapping[str, Any], order: tuple[str, ...]) -> dict[str, Any]:
    known = {key: data[key] for key in order if key in data}
    return known | {key: data[key] for key in data if key not in known}
