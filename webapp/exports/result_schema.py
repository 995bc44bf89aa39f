"""The published schema of ``toy.json`` (JSON Schema, draft 2020-12), with what each value means.

Kinds are taken from the enumerations that toys are made of; keys are fixed and no other may come,
so that a program that reads the file can rely on it.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import Any

from webapp.recipes import SLIDERS, EyeKind, Filling, MarkKind
from webapp.yarns import CATEGORIES

RESULT_SCHEMA_ADDRESS = "/toy-result.schema.json"
"""Where it is published, and what the file says of itself."""

WORK = ("sc", "inc", "dec", "ch")
CAUTIONS = ("eyes", "cords", "filling", "sewing", "selling")

Schema = dict[str, Any]


def result_schema() -> Schema:
    """The schema of the whole file."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Roundling toy, worked out",
        "description": "A crochet toy in whole stitches: parts, rounds, seams, sizes, materials. "
        "Lengths are mm, yarn is in metres, masses in grams.",
        **_table(
            {
                "$schema": {"const": RESULT_SCHEMA_ADDRESS},
                "toy": _text("The toy's key, as in its address."),
                "name": _text("What the toy is called."),
                "height_mm": _amount("Finished height, as stitched."),
                "size_mm": _size(),
                "sliders": {
                    "description": "What the toy was asked to be: the height in mm, the rest as "
                    "multiples.",
                    "type": "object",
                    "propertyNames": {"enum": list(SLIDERS)},
                    "additionalProperties": {"type": "number"},
                    "required": ["height"],
                },
                "yarn": _yarn(),
                "stitches": _count("Stitches of all parts, copies counted.", 1),
                "parts": _list({"oneOf": [{"$ref": "#/$defs/rounds"}, {"$ref": "#/$defs/rows"}]}),
                "seams": _list({"$ref": "#/$defs/seam"}),
                "eyes": {"oneOf": [{"type": "null"}, {"$ref": "#/$defs/eyes"}]},
                "marks": _list({"$ref": "#/$defs/mark"}),
                "materials": _materials(),
                "cautions": _list(
                    _table({"about": {"enum": list(CAUTIONS)}, "text": _text("The caution.")})
                ),
            }
        ),
        "$defs": {
            "estimate": _table(
                {
                    "value": _amount("The figure."),
                    "low": _amount("The least it is likely to be."),
                    "high": _amount("The most it is likely to be."),
                    "how_sure": _text("How sure it is, in words."),
                }
            ),
            "rounds": _part_in_rounds(),
            "rows": _part_in_rows(),
            "seam": _seam(),
            "eyes": _eyes(),
            "mark": _mark(),
        },
    }


def _size() -> Schema:
    return _table(
        {
            "asked_height": _amount("The height asked for."),
            "height": _amount("From the ground to the crown, as stitched."),
            "over_all": _amount("With all that stands above the crown."),
            "width": _amount("From side to side."),
            "depth": _amount("From front to back."),
        }
    )


def _yarn() -> Schema:
    return _table(
        {
            "category": {
                "description": "Yarn weight category, 0 lace to 7 jumbo.",
                "enum": [category.number for category in CATEGORIES],
            },
            "name": {"enum": [category.name for category in CATEGORIES]},
            "stitches_per_10cm": _more("Gauge across."),
            "rounds_per_10cm": _more("Gauge upwards."),
            "from_swatch": _yes("Whether the gauge is somebody's own."),
        }
    )


def _common() -> Schema:
    return {
        "name": _text("The part's key; no two are equal."),
        "copies": _count("How many are made.", 1),
        "colours": _list(_text("A colour, by its words."), least=1),
        "filling": _one_of(Filling),
        "sizes_mm": {
            "description": "Each dimension, as asked for and as stitched.",
            "type": "object",
            "additionalProperties": _table(
                {"asked": _amount("Asked for."), "stitched": _amount("As stitched.")}
            ),
        },
    }


def _part_in_rounds() -> Schema:
    work = {
        "description": "Stitches in order: a kind, and how many of it.",
        "type": "array",
        "minItems": 1,
        "items": {
            "type": "array",
            "prefixItems": [{"enum": list(WORK)}, {"type": "integer", "minimum": 1}],
            "minItems": 2,
            "items": False,
        },
    }
    one = _table(
        {
            "round": _count("Its number, from 1.", 1),
            "count": _count("Stitches at its end.", 1),
            "colour": _text("Its colour, by its words."),
            "work": work,
        }
    )
    return _table(
        {
            **_common(),
            "closed": _yes("Whether its last round is gathered; else its edge stays open."),
            "chain": _count("Chain stitches an oval is begun with, else 0.", 0),
            "rounds": _list(one, least=1),
        }
    )


def _part_in_rows() -> Schema:
    return _table(
        {
            **_common(),
            "rows": _count("Rows of the strip.", 1),
            "stitches_per_row": _count("Stitches of each row.", 1),
        }
    )


def _seam() -> Schema:
    return _table(
        {
            "part": _text("What is sewn on."),
            "on": _text("What it is sewn to."),
            "between_rounds": _two("Rounds of the host between which it lies."),
            "stitches_apart": _count("Between the two of a pair; else 0.", 0),
            "side": {
                "description": "Where on the host; empty where it goes all round.",
                "enum": ["", "front", "back", "side", "top", "underside"],
            },
            "stitches": _count("Of the sewn edge.", 0),
            "evenly_round": _count("How many go evenly round the host.", 1),
        }
    )


def _eyes() -> Schema:
    return _table(
        {
            "on": _text("The part they are on."),
            "between_rounds": _two("The rounds between which they lie."),
            "stitches_apart": _count("Between their middles.", 0),
            "wanted_mm": _more("The diameter the face asks for."),
            "stock_mm": {
                "description": "The nearest diameter in shops; null where embroidered.",
                "type": ["integer", "null"],
                "minimum": 1,
            },
            "kind": _one_of(EyeKind),
        }
    )


def _mark() -> Schema:
    return _table(
        {
            "label": _text("What it is."),
            "on": _text("The part it is on."),
            "kind": _one_of(MarkKind),
            "pair": _yes("Whether it has a twin on the other side."),
            "over_rounds": _two("First and last round it covers."),
            "stitches_wide": _count("How wide it is.", 0),
            "colour": _text("Its colour, by its words."),
        }
    )


def _materials() -> Schema:
    estimate = {"$ref": "#/$defs/estimate"}
    yarn = _table(
        {
            "colour": _text("By its words."),
            "metres": estimate,
            "grams": _amount("Its mass."),
            "balls": _count("Balls to buy.", 1),
            "ball_grams": _count("The mass of a ball.", 1),
        }
    )
    thread = _table(
        {
            "colour": _text("By its words."),
            "metres": estimate,
            "skeins": _count("Skeins to buy.", 1),
        }
    )
    hook = _table(
        {"mm": _more("Its diameter."), "us": {"description": "US size.", "type": "string"}}
    )
    return _table(
        {
            "yarns": _list(yarn, least=1),
            "threads": _list(thread),
            "hook": hook,
            "filling_grams": estimate,
            "hours": estimate,
        }
    )


# --- words of a schema -------------------------------------------------------------------------


def _table(properties: Schema) -> Schema:
    """A table with exactly these keys."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _list(items: Schema, least: int = 0) -> Schema:
    return {"type": "array", "items": items, "minItems": least}


def _text(words: str) -> Schema:
    return {"description": words, "type": "string", "minLength": 1}


def _amount(words: str) -> Schema:
    return {"description": words, "type": "number", "minimum": 0}


def _more(words: str) -> Schema:
    return {"description": words, "type": "number", "exclusiveMinimum": 0}


def _count(words: str, least: int) -> Schema:
    return {"description": words, "type": "integer", "minimum": least}


def _yes(words: str) -> Schema:
    return {"description": words, "type": "boolean"}


def _two(words: str) -> Schema:
    numbers = {"type": "integer", "minimum": 0}
    return {"description": words, "type": "array", "items": numbers, "minItems": 2, "maxItems": 2}


def _one_of(kinds: Iterable[Enum]) -> Schema:
    return {"enum": [kind.value for kind in kinds]}
