"""Lengths of parts as named dimensions, ``<part>.<length>``: given, tied, let go."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from webapp.formulas import names_in
from webapp.own.heights import TIED
from webapp.own.naming import (
    HEIGHT,
    Data,
    defined_by,
    known_names,
    names_in_parts,
    names_of,
    rule_of,
)
from webapp.own.values import known_values, rounded
from webapp.shapes import RATIOS

UNKNOWN = 20.0
"""mm; the value of a dimension of which nothing else is known."""


def give_dimensions(data: Data, part: Data, lengths: Mapping[str, int | float]) -> None:
    """Give a part lengths: each in mm becomes a dimension with a value, a ratio stays one."""
    table = part.setdefault("lengths", {})
    for key, value in lengths.items():
        if key in RATIOS:
            table[key] = value
            continue
        name = free_name(data, f"{part['name']}.{key}")
        data.setdefault("dimensions", {})[name] = value
        table[key] = name


def tie_dimension(data: Data, name: str, formula: str) -> None:
    """A rule for a dimension, instead of its value."""
    data.get("dimensions", {}).pop(name, None)
    data.setdefault("rules", []).append(f"{name} = {formula}")


def free_name(data: Mapping[str, Any], wanted: str) -> str:
    known = known_names(data)
    name, number = wanted, 2
    while name in known:
        name, number = f"{wanted}_{number}", number + 1
    return name


def let_go(data: Data, names: Collection[str], was: Mapping[str, Any]) -> None:
    """Take away names, their dimensions and their rules, but for what others still need.

    ``was`` is the toy before, by which a dimension that loses its rule gets its value.
    """
    going = set(names)
    needed = names_in_parts(data)
    rules = [(text, rule_of(text)) for text in data.get("rules", [])]
    for _, rule in rules:
        if rule is not None and defined_by(rule) not in {*going, None, HEIGHT}:
            needed |= names_in(rule)
    for _ in rules:
        for _, rule in rules:
            if rule is not None and defined_by(rule) in needed & going:
                needed |= names_in(rule)
    kept = []
    for text, rule in rules:
        used = names_in(rule) if rule is not None else frozenset()
        defined = defined_by(rule) if rule is not None else None
        if defined in going:
            stays = defined in needed
        else:
            stays = defined not in (None, HEIGHT) or not used & going or bool(used & needed & going)
        if stays or text is TIED:
            kept.append(text)
    data["rules"] = kept
    left = {name for text in kept if (rule := rule_of(text)) for name in names_in(rule)}
    for name in going - needed - left:
        data.get("dimensions", {}).pop(name, None)
    settle(data, was)


def settle(
    data: Data, was: Mapping[str, Any], values: Mapping[str, float] | None = None
) -> None:
    """Give every name in a formula that nothing defines any more a value, the one it had."""
    lost = names_in_parts(data) - known_names(data)
    had = {**known_values(was), **(values or {})} if lost else {}
    for name in sorted(lost):
        if "." in name and name != HEIGHT:
            data.setdefault("dimensions", {})[name] = rounded(had.get(name, UNKNOWN))


def width_of(part: Mapping[str, Any]) -> str:
    """The width of a part as a factor in a formula."""
    text = str(part.get("lengths", {}).get("width", UNKNOWN))
    simple = names_of(text) == {text} or text.replace(".", "", 1).isdigit()
    return text if simple else f"({text})"
