"""Design files: a toy of one's own and the choices made for it, as JSON.

    {"format": "roundling-toy", "version": 1, "toy": {recipe data}, "choices": {"yarn": "4"}}

A wrong file is refused with its line, its key and the reason, the first in the file first.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator, ValidationError

from webapp.own.errors import OwnFileError
from webapp.own.lines import Located, Path, key_of, path_of, read_json
from webapp.own.migrating import migrated
from webapp.own.schema import FORMAT, VERSION, file_schema
from webapp.own.writing import ordered
from webapp.recipes import RecipeError, recipe_from_data

LARGEST = 200_000
"""Bytes of a file; the largest shipped toy has 4,000."""

WIDEST_LINE = 96
KINDS = {
    "string": "a text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "array": "a list",
    "object": "a table",
}


@dataclass(frozen=True)
class OwnFile:
    """What a design file holds: a toy as data, and choices as an address has them."""

    data: dict[str, Any]
    choices: dict[str, str]


def write_file(data: Mapping[str, Any], choices: Mapping[str, str]) -> str:
    """The text of a design file; raises ValueError for what JSON cannot say (NaN)."""
    file = {
        "format": FORMAT,
        "version": VERSION,
        "toy": ordered(data),
        "choices": dict(sorted(choices.items())),
    }
    return _written(file, "") + "\n"


def read_file(text: str) -> OwnFile:
    """What the text of a design file holds; raises :class:`OwnFileError`."""
    if len(text.encode(errors="replace")) > LARGEST:
        why = f"It is larger than {LARGEST // 1000} kB."
        raise OwnFileError(1, "", why, "A toy needs a hundredth of that: choose another file.")
    # Some editors put this mark at the beginning; the standard lets readers pass over it.
    located = read_json(text.removeprefix("\ufeff"))
    _check_kind(located)
    file, old_names = migrated(located.value)
    for error in sorted(_violations(file), key=lambda e: _line(located, old_names, _place(e))):
        path = _place(error)
        line = _line(located, old_names, path)
        raise OwnFileError(line, key_of(path).removeprefix("toy."), *_sentences(error))
    toy = file["toy"]
    try:
        recipe_from_data(toy, "toy")
    except RecipeError as error:
        path = ("toy", *path_of(error.field, toy))
        line = _line(located, old_names, path)
        raise OwnFileError(line, error.field, error.why, error.nearest) from error
    return OwnFile(toy, file.get("choices", {}))


def _written(value: Any, indent: str) -> str:
    """JSON with what fits on a line on one, and the rest indented by two."""
    short = json.dumps(value, ensure_ascii=False, allow_nan=False)
    if not isinstance(value, (dict, list)) or not value:
        return short
    nested = value.values() if isinstance(value, dict) else value
    flat = not any(isinstance(v, dict) or (v and isinstance(v, list)) for v in nested)
    if indent and flat and len(indent) + len(short) <= WIDEST_LINE:
        return short
    deeper = indent + "  "
    if isinstance(value, dict):
        keys = (json.dumps(str(key), ensure_ascii=False) for key in value)
        lines = [f"{k}: {_written(v, deeper)}" for k, v in zip(keys, nested, strict=True)]
        return "{\n" + ",\n".join(deeper + line for line in lines) + f"\n{indent}}}"
    lines = [_written(item, deeper) for item in value]
    return "[\n" + ",\n".join(deeper + line for line in lines) + f"\n{indent}]"


def _check_kind(located: Located) -> None:
    """Format and version come first: a file of another kind is not blamed for its details."""
    file, lines = located.value, located.lines
    form = file.get("format") if isinstance(file, dict) else None
    if form != FORMAT:
        why = f"It is no file of a toy: its “format” is not “{FORMAT}”."
        raise OwnFileError(lines.get(("format",), 1), "format", why, "Choose a toy's file.")
    version = file.get("version")
    line = lines.get(("version",), 1)
    if isinstance(version, bool) or not isinstance(version, int) or version < 0:
        why = f"It is {version!r}, which is no version." if "version" in file else "It is missing."
        raise OwnFileError(line, "version", why, f"Write 0 to {VERSION}.")
    if version > VERSION:
        why = f"The file is of version {version}, and this is known up to {VERSION}."
        raise OwnFileError(line, "version", why, "Use the Roundling that wrote it, or a newer one.")


@cache
def _validator() -> Draft202012Validator:
    return Draft202012Validator(file_schema())


def _violations(file: Mapping[str, Any]) -> Iterator[ValidationError]:
    yield from _validator().iter_errors(file)


def _place(error: ValidationError) -> Path:
    """The path of the key at fault: a key that should not be there is one step further in."""
    path: Path = tuple(error.absolute_path)
    if error.validator == "additionalProperties":
        known = error.schema.get("properties", {})
        path = (*path, next(key for key in error.instance if key not in known))
    elif error.validator == "required":
        path = (*path, next(k for k in error.validator_value if k not in error.instance))
    elif "propertyNames" in error.absolute_schema_path:
        path = (*path, error.instance)
    return path


def _line(located: Located, old_names: Mapping[str, str], path: Path) -> int:
    """The line of a path, or of the innermost table of it that is in the file."""
    known: Path = ()
    for step in path:
        old = old_names.get(step, step) if isinstance(step, str) else step
        found = next((s for s in (step, old) if (*known, s) in located.lines), None)
        if found is None:
            break
        known = (*known, found)
    return located.lines.get(known, 1)


def _sentences(error: ValidationError) -> tuple[str, str]:
    """Why it cannot be and the nearest that can, of a violation of the schema."""
    rule, wanted, given = error.validator, error.validator_value, error.instance
    shown = repr(given) if isinstance(given, (str, int, float)) else "of another kind"
    shown = shown if len(shown) < 60 else f"{shown[:57]}..."
    match rule:
        case "required":
            return "It is missing.", "Add that key."
        case "additionalProperties":
            known = ", ".join(error.schema.get("properties", {}))
            return "No such key is known here.", f"Known: {known}."
        case "not":
            return "It does not belong here.", "Take that key out."
        case "type":
            kinds = [wanted] if isinstance(wanted, str) else wanted
            words = " or ".join(KINDS[kind] for kind in kinds)
            return f"It is {shown}, which is the wrong kind of value.", f"Write {words}."
        case "enum" | "const":
            options = wanted if isinstance(wanted, list) else [wanted]
            return f"{shown} is not known.", f"One of: {', '.join(map(str, options))}."
        case "minimum" | "maximum":
            low, high = error.schema.get("minimum"), error.schema.get("maximum")
            return f"It is {shown}.", f"It can be {low} to {high}."
        case "minItems" | "maxItems" | "minProperties":
            most = rule == "maxItems"
            why = f"There are {len(given)} entries."
            return why, f"There can be {wanted} at most." if most else f"Give {wanted} or more."
        case "dependentRequired":
            return "“every” is for stripes, which “with” names.", "Add “with”, or take it out."
    return f"It is {shown}, which is not how it is written.", f"Write it like {wanted}."
