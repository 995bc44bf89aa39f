"""Reading a recipe file (TOML), checking every key on the way.

A wrong file is refused with the file, the key and the reason; nothing is guessed or left out in
silence. Formulas are parsed by our own grammar, never evaluated as code.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from webapp.errors import RoundlingError
from webapp.formulas import Expression, names_in, parse_equation, parse_expression
from webapp.recipes.model import (
    BulgeSpec,
    Colour,
    EyeSpec,
    Filling,
    Mark,
    PartRecipe,
    Place,
    Recipe,
    Seat,
    SliderRange,
)
from webapp.recipes.sliders import SLIDERS
from webapp.shapes import SHAPES

LEVELS = ("basic", "easy", "intermediate", "complex")
"""Craft Yarn Council project levels of 2018, as quoted by a technical editor that year."""

RATIOS = ("widest", "cap", "flatness")
HEX = re.compile(r"#[0-9a-f]{6}")
NAME = re.compile(r"[a-z][a-z0-9_]*")


class RecipeError(RoundlingError):
    """A recipe file that cannot be used: which file, which key, why."""

    def __init__(self, file: str, key: str, why: str, nearest: str = "") -> None:
        self.file = file
        super().__init__(
            asked=f"{file}: {key}:", why=why, nearest=nearest or "Mend that key.", field=key
        )


def load_recipes(folder: Path) -> dict[str, Recipe]:
    """All recipes of a folder by key, in the order of their file names."""
    return {path.stem: load_recipe(path) for path in sorted(folder.glob("*.toml"))}


def load_recipe(path: Path) -> Recipe:
    """The recipe in one file; raises :class:`RecipeError`."""
    return parse_recipe(path.read_text(encoding="utf-8"), path.name)


def parse_recipe(text: str, file: str) -> Recipe:
    """The recipe in the text of a file named ``file``; raises :class:`RecipeError`."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise RecipeError(file, "the file", f"It is not TOML: {error}.") from error
    return _recipe(_Table(data, file, ""), file.removesuffix(".toml"))


class _Table:
    """A table of the file that knows where it is, and which of its keys nobody asked for."""

    def __init__(self, data: Mapping[str, Any], file: str, where: str) -> None:
        self.data, self.file, self.where = data, file, where
        self.asked: set[str] = set()

    def refuse(self, key: str, why: str, nearest: str = "") -> RecipeError:
        return RecipeError(self.file, f"{self.where}{key}", why, nearest)

    def take(self, key: str, kind: type | tuple[type, ...], default: Any = None) -> Any:
        self.asked.add(key)
        if key not in self.data:
            if default is None:
                raise self.refuse(key, "It is missing.")
            return default
        value = self.data[key]
        if (isinstance(value, bool) and kind is not bool) or not isinstance(value, kind):
            raise self.refuse(key, f"It is {value!r}, which is the wrong kind of value.")
        return value

    def text(self, key: str, default: str | None = None) -> str:
        value = str(self.take(key, str, default))
        if not value.strip() and default is None:
            raise self.refuse(key, "It is empty.")
        return value

    def number(self, key: str, low: float, high: float, default: float | None = None) -> float:
        value = float(self.take(key, (int, float), default))
        if not low <= value <= high:
            raise self.refuse(key, f"It is {value:g}.", f"It can be {low:g} to {high:g}.")
        return value

    def choice(self, key: str, options: tuple[str, ...], default: str | None = None) -> str:
        value = self.text(key, default)
        if value not in options:
            raise self.refuse(key, f"{value!r} is not known.", f"One of: {', '.join(options)}.")
        return value

    def table(self, key: str, default: Mapping[str, Any] | None = None) -> _Table:
        return _Table(self.take(key, dict, default), self.file, f"{self.where}{key}.")

    def tables(self, key: str, default: list[Any] | None = None) -> list[_Table]:
        items = self.take(key, list, default)
        for number, item in enumerate(items):
            if not isinstance(item, dict):
                raise self.refuse(f"{key}[{number}]", "It is not a table.")
        return [
            _Table(item, self.file, f"{self.where}{key}[{number}].")
            for number, item in enumerate(items)
        ]

    def formula(self, key: str) -> Expression:
        value = self.take(key, (str, int, float))
        formula: Expression = self.parsed(key, str(value), parse_expression)
        return formula

    def parsed(self, key: str, text: str, parse: Callable[[str], Any]) -> Any:
        try:
            return parse(text)
        except RoundlingError as error:
            raise self.refuse(key, str(error)) from error

    def done(self) -> None:
        unknown = sorted(set(self.data) - self.asked)
        if unknown:
            known = ", ".join(sorted(self.asked))
            raise self.refuse(unknown[0], "No such key is known here.", f"Known: {known}.")


def _recipe(top: _Table, key: str) -> Recipe:
    colours = _colours(top.table("colours"))
    sliders = _sliders(top.table("sliders"))
    rules = tuple(
        top.parsed(f"rules[{n}]", str(text), parse_equation)
        for n, text in enumerate(top.take("rules", list))
    )
    parts = tuple(_part(table, colours) for table in top.tables("parts"))
    eyes = _eyes(top.table("eyes")) if "eyes" in top.data else None
    top.asked.add("eyes")
    marks = tuple(_mark(table, colours) for table in top.tables("marks", []))
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
        turn=top.number("turn", -180.0, 180.0, 18.0),
    )
    top.done()
    _check_names(top, recipe)
    return recipe


def _colours(table: _Table) -> dict[str, Colour]:
    colours = {}
    for key in table.data:
        entry = table.table(key)
        colours[key] = Colour(entry.text("name"), entry.text("hex"))
        if not HEX.fullmatch(colours[key].hex):
            raise entry.refuse("hex", "It is not a colour.", "Write it like #7a5236.")
        entry.done()
    if not colours:
        raise table.refuse("", "It is empty.", "Give at least one colour.")
    return colours


def _sliders(table: _Table) -> dict[str, SliderRange]:
    ranges = {}
    for key in table.data:
        if key not in SLIDERS:
            raise table.refuse(key, "No such slider.", f"One of: {', '.join(SLIDERS)}.")
        entry = table.table(key)
        low = entry.number("low", 0.0, 5000.0)
        high = entry.number("high", low, 5000.0)
        ranges[key] = SliderRange(low, high, entry.number("default", low, high))
        entry.done()
    if "height" not in ranges:
        raise table.refuse("height", "It is missing.")
    return ranges


def _part(table: _Table, colours: Mapping[str, Colour]) -> PartRecipe:
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
        ring=int(table.number("ring", 4, 8, 6)),
        points=_points(table, shape),
        bulge=_bulge(table.table("cheeks")) if "cheeks" in table.data else None,
    )
    table.asked.add("cheeks")
    table.done()
    return part


def _lengths(table: _Table, shape: str) -> dict[str, Expression]:
    kind = SHAPES[shape]
    for key in table.data:
        if key not in kind.needs + kind.allows:
            known = ", ".join(kind.needs + kind.allows)
            raise table.refuse(key, f"A {shape} has no such length.", f"It has: {known}.")
    for key in kind.needs:
        if key not in table.data:
            raise table.refuse(key, f"A {shape} needs it.")
    for key in RATIOS:
        if key in table.data:
            table.number(key, 0.05, 2.0 if key == "cap" else 1.0)
    return {key: table.formula(key) for key in table.data}


def _points(table: _Table, shape: str) -> tuple[tuple[Expression, Expression], ...]:
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
        along, out = (table.parsed(key, str(value), parse_expression) for value in pair)
        points.append((along, out))
    return tuple(points)


def _bulge(table: _Table) -> BulgeSpec:
    begin = table.number("begin", 0.05, 0.9)
    bulge = BulgeSpec(
        begin,
        table.number("end", begin + 0.05, 0.95),
        table.number("arc", 0.05, 0.45),
        table.formula("depth"),
    )
    table.done()
    return bulge


def _bands(table: _Table, colours: Mapping[str, Colour]) -> tuple[tuple[float, str], ...]:
    bands = []
    for entry in table.tables("colours"):
        bands.append((entry.number("begin", 0.0, 1.0, 0.0), entry.choice("colour", (*colours,))))
        entry.done()
    if not bands or bands[0][0] != 0.0 or bands != sorted(bands, key=lambda band: band[0]):
        raise table.refuse("colours", "The first must begin at 0 and the rest rise.")
    return tuple(bands)


def _place(table: _Table) -> Place:
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
    )
    table.done()
    return place


def _eyes(table: _Table) -> EyeSpec:
    eyes = EyeSpec(
        table.text("on"),
        table.number("along", 0.0, 1.0),
        table.number("around", 1.0, 120.0),
        table.formula("diameter"),
    )
    table.done()
    return eyes


def _mark(table: _Table, colours: Mapping[str, Colour]) -> Mark:
    mark = Mark(
        label=table.text("label"),
        on=table.text("on"),
        along=table.number("along", 0.0, 1.0),
        around=table.number("around", -180.0, 180.0, 0.0),
        width=table.formula("width"),
        height=table.formula("height"),
        colour=table.choice("colour", (*colours,)),
        pair=bool(table.take("pair", bool, False)),
    )
    table.done()
    return mark


def _check_names(top: _Table, recipe: Recipe) -> None:
    """Every name used is defined, every host comes before its guest, no part comes twice."""
    known = {name for rule in recipe.rules for name in names_in(rule)} | set(recipe.leads)
    seen: dict[str, PartRecipe] = {}
    for number, part in enumerate(recipe.parts):
        where = f"parts[{number}]"
        if part.name in seen:
            raise top.refuse(f"{where}.name", f"{part.name!r} comes twice.")
        if part.place.seat is not Seat.GROUND and part.place.on not in seen:
            raise top.refuse(f"{where}.place.on", f"No part {part.place.on!r} comes before it.")
        formulas = list(part.lengths.values()) + [f for pair in part.points for f in pair]
        if part.bulge is not None:
            formulas.append(part.bulge.depth)
        for formula in formulas:
            _check_known(top, where, formula, known)
        seen[part.name] = part
    if not seen:
        raise top.refuse("parts", "There are none.")
    if recipe.eyes is not None:
        _check_host(top, "eyes.on", recipe.eyes.on, seen)
        _check_known(top, "eyes.diameter", recipe.eyes.diameter, known)
    for number, mark in enumerate(recipe.marks):
        _check_host(top, f"marks[{number}].on", mark.on, seen)
        _check_known(top, f"marks[{number}].width", mark.width, known)
        _check_known(top, f"marks[{number}].height", mark.height, known)


def _check_host(top: _Table, key: str, name: str, parts: Mapping[str, PartRecipe]) -> None:
    if name not in parts:
        raise top.refuse(key, f"There is no part {name!r}.", f"One of: {', '.join(parts)}.")


def _check_known(top: _Table, key: str, formula: Expression, known: set[str]) -> None:
    unknown = sorted(names_in(formula) - known)
    if unknown:
        raise top.refuse(key, f"No rule defines {unknown[0]!r}.")
