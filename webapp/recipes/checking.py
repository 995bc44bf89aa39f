"""Checks across a recipe: names that are used are defined, and parts can be sewn as they say."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from webapp.errors import an
from webapp.formulas import Expression, Number, names_in
from webapp.recipes.legs import check_legs
from webapp.recipes.model import Filling, PartRecipe, Recipe, Seat
from webapp.recipes.openings import is_open, is_open_at_start
from webapp.recipes.tables import Table
from webapp.shapes import SHAPES


def check_recipe(top: Table, recipe: Recipe) -> None:
    """Raises :class:`RecipeError` with the key at fault; ``top`` is the file's outermost table."""
    if not recipe.parts:
        raise top.refuse("parts", "There are no parts.", "Add one.")
    in_rules = {name for rule in recipe.rules for name in names_in(rule)}
    known = in_rules | set(recipe.leads) | set(recipe.dimensions)
    _check_sliders(top, recipe, in_rules)
    seen: dict[str, PartRecipe] = {}
    for number, part in enumerate(recipe.parts):
        where = f"parts[{number}]"
        if part.name in seen:
            raise top.refuse(f"{where}.name", f"{part.name!r} comes twice.")
        if any(part.label.lower() == other.label.lower() for other in seen.values()):
            raise top.refuse(f"{where}.label", f"{part.label!r} comes twice.")
        for key, formula in _formulas(part):
            _check_known(top, f"{where}.{key}", formula, known)
        _check_points(top, where, part)
        _check_place(top, where, part, seen)
        _check_bulges(top, where, part)
        _check_filling(top, where, part)
        seen[part.name] = part
    check_legs(top, recipe)
    _check_face(top, recipe, seen, known)


def _check_sliders(top: Table, recipe: Recipe, in_rules: set[str]) -> None:
    """Every slider moves something: a rule, or a length of a part."""
    in_parts = {n for part in recipe.parts for _, f in _formulas(part) for n in names_in(f)}
    for slider, lead in zip(recipe.sliders, recipe.leads, strict=True):
        if lead not in in_rules | in_parts:
            raise top.refuse(f"sliders.{slider}", "No rule and no part uses it.")


def _formulas(part: PartRecipe) -> Iterator[tuple[str, Expression]]:
    for name, formula in part.lengths.items():
        yield f"lengths.{name}", formula
    for number, pair in enumerate(part.points):
        for formula in pair:
            yield f"points[{number}]", formula
    for number, bulge in enumerate(part.bulges):
        yield f"{bulge_key(part, number)}.depth", bulge.depth


def bulge_key(part: PartRecipe, number: int) -> str:
    """The key of a part's bulge: cheeks stand before the list of the others."""
    cheeks = any(bulge.label == "Cheeks" for bulge in part.bulges[:1])
    if not cheeks:
        return f"bulges[{number}]"
    return "cheeks" if number == 0 else f"bulges[{number - 1}]"


def _check_bulges(top: Table, where: str, part: PartRecipe) -> None:
    if part.bulges and (SHAPES[part.shape].in_rows or part.shape == "oval"):
        raise top.refuse(f"{where}.{bulge_key(part, 0)}", f"There is none in {an(part.shape)}.")
    for number, bulge in enumerate(part.bulges):
        least, most = 180.0 * bulge.arc, 180.0 * (1.0 - bulge.arc)
        if bulge.pair and not least < bulge.around < most:
            why = "With so wide an arc the two run into each other."
            nearest = f"It can be more than {least:g} and less than {most:g}, or 0 or 180."
            raise top.refuse(f"{where}.{bulge_key(part, number)}.around", why, nearest)
        for other in part.bulges[:number]:
            if bulge.begin < other.end and other.begin < bulge.end:
                why = f"It shares rounds with {other.label!r}; shaping goes one above the other."
                raise top.refuse(f"{where}.{bulge_key(part, number)}", why)


def _check_points(top: Table, where: str, part: PartRecipe) -> None:
    """An outline goes from nothing to its whole length."""
    if not part.points:
        return
    if part.points[0][0] != Number(0.0):
        why = "An outline begins where its length does."
        raise top.refuse(f"{where}.points[0]", why, "Write [0, ...].")
    if part.points[-1][0] != Number(1.0):
        why = "An outline ends at the whole length."
        raise top.refuse(f"{where}.points[{len(part.points) - 1}]", why, "Write [1, ...].")


def _check_filling(top: Table, where: str, part: PartRecipe) -> None:
    """Only legs close the end at which a part is begun: what stays open holds no filling."""
    if part.filling is not Filling.NONE and is_open_at_start(part) and part.legs is None:
        why = "The opening it is begun at stays open and cannot hold any."
        raise top.refuse(f"{where}.filling", why, "Write none.")


def _check_place(
    top: Table, where: str, part: PartRecipe, seen: Mapping[str, PartRecipe]
) -> None:
    place = part.place
    in_rows = SHAPES[part.shape].in_rows
    if in_rows != (place.seat is Seat.NECK):
        raise top.refuse(f"{where}.place.seat", "A strip, and nothing else, is laid round a neck.")
    if place.seat is Seat.GROUND:
        if any(other.place.seat is Seat.GROUND for other in seen.values()):
            raise top.refuse(f"{where}.place.seat", "Another part stands on the ground already.")
        if place.pair:
            raise top.refuse(f"{where}.place.pair", "One part only stands on the ground.")
        return
    host = seen.get(place.on)
    if host is None:
        raise top.refuse(f"{where}.place.on", f"No part {place.on!r} comes before it.")
    if host.place.times > 1:
        why = f"There are several of {place.on!r}, and nothing is sewn to one of them."
        raise top.refuse(f"{where}.place.on", why)
    if SHAPES[host.shape].in_rows:
        raise top.refuse(f"{where}.place.on", f"Nothing is sewn to a strip such as {place.on!r}.")
    if place.seat is Seat.OPENING:
        at_openings = [p.place.on for p in seen.values() if p.place.seat is Seat.OPENING]
        taken = place.on in at_openings
        if not is_open(host) or taken or place.pair:
            raise top.refuse(f"{where}.place.on", f"{place.on!r} has no opening left for it.")
    if place.seat in (Seat.OPENING, Seat.SURFACE) and not is_open(part):
        raise top.refuse(f"{where}.lengths", "It has no open edge to be sewn by.")


def _check_face(
    top: Table, recipe: Recipe, parts: Mapping[str, PartRecipe], known: set[str]
) -> None:
    if recipe.eyes is not None:
        _check_host(top, "eyes.on", recipe.eyes.on, parts)
        _check_known(top, "eyes.diameter", recipe.eyes.diameter, known)
    for number, mark in enumerate(recipe.marks):
        _check_host(top, f"marks[{number}].on", mark.on, parts)
        _check_known(top, f"marks[{number}].width", mark.width, known)
        _check_known(top, f"marks[{number}].height", mark.height, known)


def _check_host(top: Table, key: str, name: str, parts: Mapping[str, PartRecipe]) -> None:
    if name not in parts:
        raise top.refuse(key, f"There is no part {name!r}.", f"One of: {', '.join(parts)}.")
    if SHAPES[parts[name].shape].in_rows:
        raise top.refuse(key, f"{name!r} is a strip, which has no face.")
    if parts[name].place.times > 1:
        raise top.refuse(key, f"There are several of {name!r}, so none of them has the face.")


def _check_known(top: Table, key: str, formula: Expression, known: set[str]) -> None:
    unknown = sorted(names_in(formula) - known)
    if unknown:
        raise top.refuse(key, f"No rule defines {unknown[0]!r}.")
