"""The published schema of a design file (JSON Schema, draft 2020-12), built from the tables that
reading a recipe checks by: shapes and their lengths, sliders, levels, kinds.

``toy.schema.json`` beside this file is :func:`file_schema` written out; a test keeps them equal:
``python -m webapp.own.schema > webapp/own/toy.schema.json`` writes it anew.
What a schema cannot say (hosts before guests, names that a rule defines) only loading checks.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from enum import Enum
from typing import Any

from webapp.recipes import SLIDERS, EyeKind, Filling, MarkKind, Seat
from webapp.recipes.loading import DIMENSION, HEX, LEAST_DIMENSION, LEVELS, NAME
from webapp.shapes import RATIOS, SHAPES

FORMAT = "roundling-toy"
VERSION = 1

Schema = dict[str, Any]


def file_schema() -> Schema:
    """The schema of a whole design file."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Roundling toy",
        "description": "A crochet toy of one's own, and the choices made for it.",
        **_table(
            {
                "format": {"const": FORMAT, "description": "What kind of file this is."},
                "version": {"const": VERSION, "description": "Of the file's format."},
                "toy": {"$ref": "#/$defs/toy"},
                "choices": {
                    "title": "Choices",
                    "description": "Height, yarn and the rest, as an address has them.",
                    "type": "object",
                    "additionalProperties": {"type": "string"},
                },
            },
            "format version toy",
        ),
        "$defs": {
            "formula": {
                "title": "Formula",
                "description": "A number, or a formula of dimensions; mm where it is a length.",
                "type": ["string", "number"],
            },
            "toy": _toy(),
            "part": _part(),
            "place": _place(),
            "bulge": _bulge(),
        },
    }


NEVER: Schema = {"not": {}}
FORMULA: Schema = {"$ref": "#/$defs/formula"}


def _table(properties: Schema, required: str = "", **more: Any) -> Schema:
    """A table with these keys and no others."""
    return {
        "type": "object",
        "properties": properties,
        "required": required.split(),
        "additionalProperties": False,
        **more,
    }


def _list(items: Schema, **more: Any) -> Schema:
    return {"type": "array", "items": items, **more}


def _text(description: str) -> Schema:
    return {"type": "string", "pattern": r"\S", "description": description}


def _number(low: float, high: float, description: str = "", kind: str = "number") -> Schema:
    said = {"description": description} if description else {}
    return {"type": kind, "minimum": low, "maximum": high, **said}


def _one_of(options: Iterable[str], description: str) -> Schema:
    return {"enum": [*options], "description": description}


def _values(kind: type[Enum]) -> list[str]:
    return [member.value for member in kind]


def _yes_or_no(description: str) -> Schema:
    return {"type": "boolean", "description": description}


def _toy() -> Schema:
    return _table(
        {
            "name": _text("What the toy is called."),
            "line": _text("A sentence about it."),
            "level": _one_of(LEVELS, "How hard it is to make."),
            "height_word": {"type": "string", "description": "How its height is measured."},
            "turn": _number(-180, 180, "How far it is turned in pictures, degrees."),
            "rules": _list(
                {"type": "string"},
                description="Equations between dimensions, such as head.width = 0.9 * body.width.",
            ),
            "colours": {
                "type": "object",
                "description": "Yarn colours by key.",
                "minProperties": 1,
                "additionalProperties": _table(
                    {
                        "name": _text("Its words in the pattern."),
                        "hex": {"type": "string", "pattern": f"^{HEX.pattern}$"},
                    },
                    "name hex",
                ),
            },
            "sliders": _sliders(),
            "dimensions": {
                "type": "object",
                "description": "Dimensions that the rules leave free, mm at the default height.",
                "propertyNames": {"pattern": f"^{DIMENSION.pattern}$"},
                "additionalProperties": _number(LEAST_DIMENSION, 5000),
            },
            "parts": _list(
                {"$ref": "#/$defs/part"},
                minItems=1,
                description="In working order, hosts before what is sewn to them.",
            ),
            "eyes": _eyes(),
            "marks": _list(_mark(), description="Small embroidered features."),
        },
        "name line level rules colours sliders parts",
        title="Toy",
    )


def _sliders() -> Schema:
    def span(low: float, description: str) -> Schema:
        ends = {"low": low, "high": low, "default": low}
        keys = {key: _number(least, 5000) for key, least in ends.items()}
        return _table(keys, "low high default", description=description)

    return _table(
        {
            key: span(1 if key == "height" else 0, f"{kind.label}: {kind.hint.lower()}.")
            for key, kind in SLIDERS.items()
        },
        "height",
        description="Lowest, highest and default value of each slider; mm for the height.",
    )


def _part() -> Schema:
    band = _table(
        {
            "colour": _text("Key of a colour."),
            "begin": _number(0, 1, "Share of the rounds at which it begins."),
            "round": _number(0, 2000, "Round at which it begins, instead.", "integer"),
            "with": _list({"type": "string"}, description="Colours it takes turns with."),
            "every": _number(1, 200, "Rounds of each stripe.", "integer"),
        },
        "colour",
        dependentRequired={"every": ["with"]},
    )
    band["if"] = {"required": ["round"], "properties": {"round": {"minimum": 1}}}
    band["then"] = {"properties": {"begin": NEVER}}
    legs = _table(
        {"part": _text("Key of the leg."), "chain": _number(0, 12, "Stitches.", "integer")},
        "part",
        description="The two legs it is begun on, and the chain between them.",
    )
    return _table(
        {
            "name": {
                "type": "string",
                "pattern": f"^{NAME.pattern}$",
                "description": "Its key, which names of dimensions begin with.",
            },
            "label": _text("Its words in the pattern."),
            "shape": _one_of(SHAPES, "Which solid it is."),
            "lengths": {"type": "object", "description": "The shape's lengths and ratios."},
            "points": _list(
                _list(FORMULA, minItems=2, maxItems=2),
                description="Of an outline: part of the length, part of the half width.",
            ),
            "ring": _number(4, 8, "Stitches of the ring it is begun on.", "integer"),
            "colours": _list(band, minItems=1, description="Colours in the order of working."),
            "filling": _one_of(_values(Filling), "How it is stuffed."),
            "cheeks": {"$ref": "#/$defs/bulge"},
            "bulges": _list(
                _table(
                    {
                        "label": _text("Its word in the pattern."),
                        **_bulge()["properties"],
                        "around": _number(0, 180, "Its middle, degrees from the front."),
                    },
                    "label begin end arc depth",
                ),
                description="Increases gathered in an arc.",
            ),
            "legs": legs,
            "place": {"$ref": "#/$defs/place"},
        },
        "name label shape lengths colours filling place",
        title="Part",
        allOf=[_of_shape(shape) for shape in SHAPES],
    )


def _of_shape(shape: str) -> Schema:
    """What a part of one shape has: its lengths, points if it is an outline."""
    kind = SHAPES[shape]
    lengths: Schema = {
        name: _number(0.05, 2 if name == "cap" else 1) if name in RATIOS else FORMULA
        for name in (*kind.needs, *kind.allows)
    }
    then: Schema = {
        "lengths": _table(lengths, " ".join(kind.needs)),
        "points": {"minItems": 3} if kind.has_points else {"maxItems": 0},
    }
    if kind.in_rows:
        then |= {"ring": NEVER, "colours": {"maxItems": 1}}
    required = {"required": ["points"]} if kind.has_points else {}
    asked = {"required": ["shape"], "properties": {"shape": {"const": shape}}}
    return {"if": asked, "then": {"properties": then, **required}}


def _place() -> Schema:
    place = _table(
        {
            "seat": _one_of(_values(Seat), "How it meets the toy."),
            "on": _text("Key of its host; what stands on the ground has none."),
            "along": _number(0, 1, "From where the host is begun (0) to its end (1)."),
            "around": _number(-180, 180, "Degrees from the front of the host."),
            "tilt": _number(-90, 90, "How far its axis rises, degrees."),
            "swing": _number(-180, 180, "Where its axis heads, degrees from the front."),
            "roll": _number(-180, 180, "Its turn about its own axis, degrees."),
            "sink": _number(-1, 2, "How deep its edge is set in, as a part of its width."),
            "pair": _yes_or_no("Whether there is a mirror image."),
            "lies_flat": _yes_or_no("Whether it is a patch that follows its host."),
            "times": _number(1, 24, "So many evenly round the host.", "integer"),
        },
        "seat",
        title="Place",
        description="Where a part goes.",
    )
    place["if"] = {"required": ["seat"], "properties": {"seat": {"const": Seat.GROUND.value}}}
    place["then"] = {"properties": {"on": NEVER}}
    place["else"] = {"required": ["on"]}
    return place


def _bulge() -> Schema:
    return _table(
        {
            "begin": _number(0.05, 0.9, "Part of the outline at which it begins."),
            "end": _number(0.05, 0.95, "Part of the outline at which it ends."),
            "arc": _number(0.05, 0.45, "Part of the round that it takes."),
            "depth": FORMULA,
        },
        "begin end arc depth",
        title="Bulge",
        description="Increases gathered in an arc at each side.",
    )


def _eyes() -> Schema:
    return _table(
        {
            "on": _text("Key of the part that has them."),
            "along": _number(0, 1, "From where that part is begun (0) to its end (1)."),
            "around": _number(1, 120, "Degrees of each from the front."),
            "diameter": FORMULA,
            "kind": _one_of(_values(EyeKind), "What they are made of."),
        },
        "on along around diameter",
        description="A pair of eyes.",
    )


def _mark() -> Schema:
    return _table(
        {
            "label": _text("Its word in the pattern."),
            "on": _text("Key of the part that has it."),
            "along": _number(0, 1, "From where that part is begun (0) to its end (1)."),
            "around": _number(-180, 180, "Degrees from the front."),
            "width": FORMULA,
            "height": FORMULA,
            "colour": _text("Key of a colour."),
            "pair": _yes_or_no("Whether there is a mirror image."),
            "kind": _one_of(_values(MarkKind), "Filled, or a line."),
            "slant": _number(-60, 60, "Degrees, outer end up."),
        },
        "label on along width height colour",
    )


if __name__ == "__main__":
    print(json.dumps(file_schema(), indent=2, ensure_ascii=False))
