"""The skeleton of a toy as data: tables where tables belong, lists where lists do.

An editor keeps wrong values as they were typed, but it never puts a text where a table belongs.
What comes from an address might; it is checked once, and edits then rely on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from webapp.own.errors import EditError

WORDS: Mapping[type, str] = {dict: "table", list: "list", str: "text"}


def check_structure(data: Mapping[str, Any]) -> None:
    """Raises :class:`EditError` naming the first key that is no table or list where one belongs,
    or is one where none does.

    Keys may be missing; a value that is neither may be anything.
    """
    for key in ("colours", "sliders"):
        for entry, table in _table(data, key).items():
            _plain(table, f"{key}.{entry}")
    for key in ("dimensions", "eyes"):
        _plain(_table(data, key), key)
    _no_nesting(_list(data, "rules"), "rules")
    for number, mark in enumerate(_list(data, "marks")):
        _plain(mark, f"marks[{number}]")
    for number, part in enumerate(_list(data, "parts")):
        _check_part(part, f"parts[{number}]")


def _check_part(part: Any, where: str) -> None:
    _is(part, dict, where)
    _is(part.get("name"), str, f"{where}.name")
    _no_nesting((part.get(key) for key in ("label", "shape", "filling", "ring")), where)
    for key in ("lengths", "place", "cheeks", "legs"):
        _plain(_table(part, key, where), f"{where}.{key}")
    for bulge in _list(part, "bulges", where):
        _plain(bulge, f"{where}.bulges")
    for band in _list(part, "colours", where):
        _is(band, dict, f"{where}.colours")
        _no_nesting(_list(band, "with", where), f"{where}.colours")
        _no_nesting((value for key, value in band.items() if key != "with"), f"{where}.colours")
    for point in _list(part, "points", where):
        _is(point, list, f"{where}.points")
        _no_nesting(point, f"{where}.points")


def _plain(table: Any, where: str) -> None:
    """A table without tables or lists in it."""
    _is(table, dict, where)
    _no_nesting(table.values(), where)


def _no_nesting(values: Iterable[Any], where: str) -> None:
    for value in values:
        if isinstance(value, (dict, list)):
            raise _refusal(where, "It holds a table or a list where none belongs.")


def _table(data: Mapping[str, Any], key: str, where: str = "") -> dict[str, Any]:
    return _of_kind(data, key, dict, where) or {}


def _list(data: Mapping[str, Any], key: str, where: str = "") -> list[Any]:
    return _of_kind(data, key, list, where) or []


def _of_kind(data: Mapping[str, Any], key: str, kind: type, where: str) -> Any:
    if key in data:
        _is(data[key], kind, f"{where}.{key}" if where else key)
    return data.get(key)


def _is(value: Any, kind: type, where: str) -> None:
    if not isinstance(value, kind):
        raise _refusal(where, f"It is no {WORDS[kind]}.")


def _refusal(where: str, why: str) -> EditError:
    return EditError(
        asked=f"A toy was to be read, and in it {where}.",
        why=why,
        nearest="Open the toy's file again, or begin a new toy.",
        field=where,
    )
