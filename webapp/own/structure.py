"""The skeleton of a toy as data: tables where tables belong, lists where lists do.

An editor keeps wrong values as they were typed, but it never puts a text where a table belongs.
What comes from an address might; it is checked once, and edits then rely on it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from webapp.own.errors import EditError

TABLES = ("colours", "sliders", "dimensions", "eyes")
TABLES_OF_PART = ("lengths", "place", "cheeks", "legs")
LISTS_OF_TABLES_OF_PART = ("colours", "bulges")

WORDS: Mapping[type, str] = {dict: "table", list: "list", str: "text"}


def check_structure(data: Mapping[str, Any]) -> None:
    """Raises :class:`EditError` naming the first key that is no table or list where one belongs.

    Keys may be missing; values that are neither may be anything.
    """
    for key in TABLES:
        _table(data, key, key)
    for key in ("colours", "sliders"):
        for entry in data.get(key, {}):
            _table(data[key], entry, f"{key}.{entry}")
    _list(data, "rules", "rules")
    for number, mark in enumerate(_list(data, "marks", "marks")):
        _is(mark, dict, f"marks[{number}]")
    for number, part in enumerate(_list(data, "parts", "parts")):
        where = f"parts[{number}]"
        _is(part, dict, where)
        _is(part.get("name"), str, f"{where}.name")
        for key in TABLES_OF_PART:
            _table(part, key, f"{where}.{key}")
        for key in LISTS_OF_TABLES_OF_PART:
            for entry in _list(part, key, f"{where}.{key}"):
                _is(entry, dict, f"{where}.{key}")
        for point in _list(part, "points", f"{where}.points"):
            _is(point, list, f"{where}.points")


def _table(data: Mapping[str, Any], key: str, where: str) -> None:
    _is(data.get(key, {}), dict, where)


def _list(data: Mapping[str, Any], key: str, where: str) -> list[Any]:
    items: list[Any] = data.get(key, [])
    _is(items, list, where)
    return items


def _is(value: Any, kind: type, where: str) -> None:
    if not isinstance(value, kind):
        word = WORDS[kind]
        raise EditError(
            asked=f"A toy was to be read, and in it {where}.",
            why=f"It is no {word}.",
            nearest="Open the toy's file again, or begin a new toy.",
            field=where,
        )
