"""Reading a recipe file (TOML), checking every key on the way.

A wrong file is refused with the file, the key and the reason; nothing is guessed or left out in
silence. Formulas are parsed by our own grammar, never evaluated as code.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from webapp.errors import an
from webapp.formulas import Expression, parse_equation, parse_expression
from webapp.recipes.checking import check_recipe
from webapp.recipes.model import (
    Band,
    BulgeSpec,
    Colour,
    EyeKind,
    EyeSpec,
    Filling,
    Legs,
    Mark,
    MarkKind,
    PartRecipe,
    Place,
    Recipe,
    Seat,
    SliderRange,
)
from webapp.recipes.sliders import SLIDERS
from webapp.recipes.tables import RecipeError, Table
from webapp.shapes import RATIOS, SHAPES

LEVELS = ("basic", "easy", "intermediate", "complex")
"""Craft Yarn Council project levels of 2018, as quoted by a technical editor that year."""

HEX = re.compile(r"#[0-9a-f]{6}")
NAME = re.compile(r"[a-z][a-z0-9_]*")
DIMENSION = re.compile(r"[a-z][a-z0-9_]*\.[a-z][a-z0-9_]*")
LEAST_DIMENSION = 0.1
"""mm; a dimension is more than nothing."""


def load_recipes(folder: Path) -> dict[str, Recipe]:
    """All recipes of a folder by key, in the order of their file names."""
    return {path.stem: load_recipe(path) for path in sorted(folder.glob("*.toml"))}


def load_recipe(path: Path) -> Recipe:
    """The recipe in one file; raises :class:`RecipeError`."""
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise RecipeError(path.name, "the file", f"It is not UTF-8: {error}.") from error
    return parse_recipe(text, path.name)


def parse_recipe(text: str, file: str) -> Recipe:
    """The recipe in the text of a file named ``file``; raises :class:`RecipeError`."""
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        # Not only its own error: a number of 5,000 figures and 5,000 brackets have others.
        raise RecipeError(file, "the file", f"It is not TOML: {error}.") from error
    return recipe_from_data(data, file.removesuffix(".toml"), file)


def recipe_from_data(data: Mapping[str, Any], name: str, file: str = "") -> Recipe:
    """The recipe in plain data with the keys of a recipe file; raises :class:`RecipeError`.

    ``name`` is its name in addresses, ``file`` what a refusal calls it (else ``name``).
    """
    return read_recipe(Table(data, file or name, ""), name)


def read_recipe(top: Table, key: str) -> Recipe:
    """The recipe in a file's outermost table; ``key`` is its name in addresses."""
    colours = _colours(top.table("colours"))
    sliders = _sliders(top.table("sliders"))
    rules = tuple(
        top.parsed(f"rules[{n}]", text, parse_equation)
        for n, text in enumerate(top.texts("rules"))
    )
    parts = tuple(_part(table, colours) for table in top.tables("parts"))
    eyes = _eyes(top.table("eyes")) if "eyes" in top.data else None
    top.asked.add("eyes")
    marks = tuple(_mark(table, colours) for table in top.tables("marks", []))
    dimensions = _dimensions(top.table("dimensions", {}))
    recipe = Recipe(
        key=key,
        name=top.text("name"),
        line=top.text("line"),
        level=top.choice("level", LEVELS),
        height_word=top.text("height_word", "to the crown"),
        colours=colours,
        sliders=sliders,
        rules=rules,
        parts=parts,
        eyes=eyes,
        marks=marks,
        dimensions=dimensions,
        turn=top.number("turn", -180.0, 180.0, 18.0),
    )
    top.done()
    check_recipe(top, recipe)
    return recipe


def _colours(table: Table) -> dict[str, Colour]:
    colours = {}
    for key in table.data:
        entry = table.table(key)
        colours[key] = Colour(entry.text("name"), entry.text("hex"))
        if not HEX.fullmatch(colours[key].hex):
            raise entry.refuse("hex", "It is not a colour.", "Write it like #7a5236.")
        entry.done()
    if not colours:
        raise RecipeError(table.file, "colours", "It is empty.", "Give at least one colour.")
    return colours


def _sliders(table: Table) -> dict[str, SliderRange]:
    ranges = {}
    for key in table.data:
        if key not in SLIDERS:
            raise table.refuse(key, "No such slider.", f"One of: {', '.join(SLIDERS)}.")
        entry = table.table(key)
        low = entry.number("low", 1.0 if key == "height" else 0.0, 5000.0)
        high = entry.number("high", low, 5000.0)
        ranges[key] = SliderRange(low, high, entry.number("default", low, high))
        entry.done()
    if "height" not in ranges:
        raise table.refuse("height", "It is missing.")
    return ranges


def _dimensions(table: Table) -> dict[str, float]:
    for key in table.data:
        if not DIMENSION.fullmatch(key):
            why = f"{key!r} is no name of a dimension."
            raise table.refuse(key, why, "Write it like head.width.")
    return {key: table.number(key, LEAST_DIMENSION, 5000.0) for key in table.data}


def _part(table: Table, colours: Mapping[str, Colour]) -> PartRecipe:
    name = table.text("name")
    if not NAME.fullmatch(name):
        raise table.refuse("name", f"{name!r} is not a plain small-letter name.")
    shape = table.choice("shape", tuple(SHAPES))
    part = PartRecipe(
        name=name,
        label=table.text("label"),
        shape=shape,
        lengths=_lengths(table.table("lengths"), shape),
        place=_place(table.table("place")),
        colours=_bands(table, colours),
        filling=Filling(table.choice("filling", tuple(f.value for f in Filling))),
        ring=table.whole("ring", 4, 8, 6),
        points=_points(table, shape),
        bulges=_bulges(table),
        legs=_legs(table.table("legs")) if "legs" in table.data else None,
    )
    table.asked.add("legs")
    if SHAPES[shape].in_rows:
        if "ring" in table.data:
            raise table.refuse("ring", "A strip is not begun on a ring.")
        if len(part.colours) > 1:
            raise table.refuse("colours", "A strip has one colour.")
    table.done()
    return part


def _lengths(table: Table, shape: str) -> dict[str, Expression]:
    kind = SHAPES[shape]
    for key in table.data:
        if key not in kind.needs + kind.allows:
            known = ", ".join(kind.needs + kind.allows)
            raise table.refuse(key, f"There is no such length in {an(shape)}.", f"It has: {known}.")
    for key in kind.needs:
        if key not in table.data:
            raise table.refuse(key, f"Without it there is no {shape}.")
    for key in RATIOS:
        if key in table.data:
            table.number(key, 0.05, 2.0 if key == "cap" else 1.0)
    return {key: table.formula(key) for key in table.data}


def _points(table: Table, shape: str) -> tuple[tuple[Expression, Expression], ...]:
    pairs = table.take("points", list, [])
    if SHAPES[shape].has_points != bool(pairs):
        raise table.refuse("points", "An outline, and nothing else, is drawn through points.")
    if pairs and len(pairs) < 3:
        raise table.refuse("points", f"There are {len(pairs)}.", "Give 3 or more.")
    points = []
    for number, pair in enumerate(pairs):
        key = f"points[{number}]"
        if not isinstance(pair, list) or len(pair) != 2:
            raise table.refuse(key, "It is not a pair [along, out].")
        for value in pair:
            if isinstance(value, bool) or not isinstance(value, (str, int, float)):
                raise table.refuse(key, f"{value!r} is the wrong kind of value.")
        along, out = (table.parsed(key, str(value), parse_expression) for value in pair)
        points.append((along, out))
    return tuple(points)


def _bulges(table: Table) -> tuple[BulgeSpec, ...]:
    """Cheeks, the shaping that most toys have, are a key of their own."""
    cheeks = [_bulge(table.table("cheeks"), "Cheeks")] if "cheeks" in table.data else []
    table.asked.add("cheeks")
    return (*cheeks, *(_bulge(entry) for entry in table.tables("bulges", [])))


def _bulge(table: Table, label: str = "") -> BulgeSpec:
    begin = table.number("begin", 0.05, 0.9)
    around = 90.0 if label else table.number("around", 0.0, 180.0, 90.0)
    bulge = BulgeSpec(
        label or table.text("label"),
        begin,
        table.number("end", begin + 0.05, 0.95),
        table.number("arc", 0.05, 0.45),
        table.formula("depth"),
        around,
        # In front, underneath or behind there is one; at a side there are two.
        pair=around not in (0.0, 180.0),
    )
    table.done()
    return bulge


def _legs(table: Table) -> Legs:
    legs = Legs(table.text("part"), table.whole("chain", 0, 12, 2))
    table.done()
    return legs


def _bands(table: Table, colours: Mapping[str, Colour]) -> tuple[Band, ...]:
    bands = []
    for entry in table.tables("colours"):
        at_round = entry.whole("round", 0, 2000, 0)
        others = tuple(entry.take("with", list, []))
        for other in others:
            if not isinstance(other, str) or other not in colours:
                raise entry.refuse("with", f"{other!r} is not known.")
        bands.append(
            Band(
                entry.choice("colour", (*colours,)),
                0.0 if at_round else entry.number("begin", 0.0, 1.0, 0.0),
                at_round,
                others,
                entry.whole("every", 1, 200, 2) if others else 0,
            )
        )
        entry.done()
    by_share = [band.begin for band in bands if not band.at_round]
    by_round = [band.at_round for band in bands if band.at_round]
    rising = all(
        a < b for begins in (by_share, by_round) for a, b in zip(begins, begins[1:], strict=False)
    )
    starts = bands and bands[0].begin == 0.0 and bands[0].at_round <= 1
    if not starts or not rising or by_share[-1:] >= [1.0]:
        raise table.refuse("colours", "The first must begin at 0 and the rest rise, below 1.")
    return tuple(bands)


def _place(table: Table) -> Place:
    seat = Seat(table.choice("seat", tuple(s.value for s in Seat)))
    place = Place(
        seat,
        on="" if seat is Seat.GROUND else table.text("on"),
        along=table.number("along", 0.0, 1.0, 0.0),
        around=table.number("around", -180.0, 180.0, 0.0),
        tilt=table.number("tilt", -90.0, 90.0, 90.0),
        swing=table.number("swing", -180.0, 180.0, 0.0),
        roll=table.number("roll", -180.0, 180.0, 0.0),
        sink=table.number("sink", -1.0, 2.0, 0.0),
        pair=bool(table.take("pair", bool, False)),
        lies_flat=bool(table.take("lies_flat", bool, False)),
        times=table.whole("times", 1, 24, 1),
    )
    if place.times > 1 and (place.pair or seat is not Seat.SURFACE):
        why = "Several go evenly round a host, sewn onto it, unpaired."
        raise table.refuse("times", why, "Leave it at 1, or make it no mirrored pair first.")
    table.done()
    return place


def _eyes(table: Table) -> EyeSpec:
    eyes = EyeSpec(
        table.text("on"),
        table.number("along", 0.0, 1.0),
        table.number("around", 1.0, 120.0),
        table.formula("diameter"),
        EyeKind(table.choice("kind", tuple(k.value for k in EyeKind), EyeKind.SAFETY.value)),
    )
    table.done()
    return eyes


def _mark(table: Table, colours: Mapping[str, Colour]) -> Mark:
    mark = Mark(
        label=table.text("label"),
        on=table.text("on"),
        along=table.number("along", 0.0, 1.0),
        around=table.number("around", -180.0, 180.0, 0.0),
        width=table.formula("width"),
        height=table.formula("height"),
        colour=table.choice("colour", (*colours,)),
        pair=bool(table.take("pair", bool, False)),
        kind=MarkKind(table.choice("kind", tuple(k.value for k in MarkKind), "filled")),
        slant=table.number("slant", -60.0, 60.0, 0.0),
    )
    table.done()
    return mark
