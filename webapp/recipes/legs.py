"""Checks of a body that is begun on two legs: both parts must say so, and fit each other."""

from __future__ import annotations

from webapp.recipes.model import PartRecipe, Place, Recipe, Seat
from webapp.recipes.openings import is_open, is_open_at_start
from webapp.recipes.tables import Table


def check_legs(top: Table, recipe: Recipe) -> None:
    """Raises :class:`RecipeError` with the key at fault; ``top`` is the file's outermost table."""
    numbers = {part.name: number for number, part in enumerate(recipe.parts)}
    begun_on = {part.legs.part: part for part in recipe.parts if part.legs is not None}
    for body in recipe.parts:
        if body.legs is None:
            continue
        where = f"parts[{numbers[body.name]}]"
        name = body.legs.part
        if name not in numbers:
            known = ", ".join(p.name for p in recipe.parts if p is not body)
            why = f"There is no part {name!r}."
            raise top.refuse(f"{where}.legs.part", why, f"One of: {known}.")
        legs = recipe.part(name)
        if legs.place.seat is not Seat.JOINED or legs.place.on != body.name:
            why = f"{name!r} is not joined on {body.name!r}."
            nearest = f'Give {name!r} the place {{ seat = "joined", on = "{body.name}" }}.'
            raise top.refuse(f"{where}.legs.part", why, nearest)
        _check_body(top, where, body)
        _check_leg(top, f"parts[{numbers[name]}]", legs)
    for part in recipe.parts:
        if part.place.seat is Seat.JOINED and part.name not in begun_on:
            why = f"{part.place.on!r} is not begun on {part.name!r}."
            nearest = f'Give {part.place.on!r} legs = {{ part = "{part.name}", chain = 2 }}.'
            raise top.refuse(f"parts[{numbers[part.name]}].place.seat", why, nearest)
        if part.place.seat is Seat.OPENING and part.place.on in begun_on:
            why = f"The opening of {part.place.on!r} is joined to its host."
            raise top.refuse(f"parts[{numbers[part.name]}].place.on", why, 'Sew it on a "surface".')


def _check_body(top: Table, where: str, body: PartRecipe) -> None:
    if not is_open_at_start(body):
        why = "What is begun on legs is open at its start."
        nearest = "Give an egg or a pear the length start, or take a sleeve or an outline."
        raise top.refuse(f"{where}.legs", why, nearest)
    if "flatness" in body.lengths:
        raise top.refuse(f"{where}.lengths.flatness", "What is begun on legs is round.")
    if body.place.seat is not Seat.GROUND or body.place.tilt != 90.0 or body.place.roll != 0.0:
        why = "What is begun on legs stands upright and carries the rest."
        raise top.refuse(f"{where}.place", why, 'Write { seat = "ground" }.')


def _check_leg(top: Table, where: str, legs: PartRecipe) -> None:
    if not legs.place.pair:
        raise top.refuse(f"{where}.place.pair", "Two legs are joined.", "Write pair = true.")
    if legs.place != Place(Seat.JOINED, on=legs.place.on, pair=True):
        why = "Joined legs stand straight below their host."
        raise top.refuse(f"{where}.place", why, "Give seat, on and pair only.")
    if not is_open(legs):
        raise top.refuse(f"{where}.lengths", "It has no open edge to be joined by.")
    if "flatness" in legs.lengths or legs.shape == "oval":
        raise top.refuse(f"{where}.shape", "Legs that are joined end in a round opening.")
