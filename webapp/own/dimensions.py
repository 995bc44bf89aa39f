"""Lengths of parts as named dimensions, ``<part>.<length>``: given, tied, let go."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from webapp.formulas import Equation, names_in
from webapp.own.heights import TIED, height_rule, worked_out
from webapp.own.naming import (
    HEIGHT,
    Data,
    defined_by,
    known_names,
    leads_of,
    names_in_parts,
    names_of,
    rule_of,
    rules_of,
)
from webapp.own.values import free_names, rounded
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
    kept, dropped = [], []
    for text, rule in rules:
        used = names_in(rule) if rule is not None else frozenset()
        defined = defined_by(rule) if rule is not None else None
        if defined in going:
            stays = defined in needed
        else:
            stays = defined not in (None, HEIGHT) or not used & going or bool(used & needed & going)
        if stays or text is TIED:
            kept.append(text)
        elif rule is not None and used - going:
            dropped.append(rule)
    data["rules"] = kept
    left = {name for text in kept if (rule := rule_of(text)) for name in names_in(rule)}
    for name in going - needed - left:
        data.get("dimensions", {}).pop(name, None)
    for rule in dropped:
        free_by(data, rule, was)
    settle(data, was)


def free_by(
    data: Data,
    rule: Equation,
    was: Mapping[str, Any],
    values: Mapping[str, float] | None = None,
) -> None:
    """Give the one name that a rule settled, now that it is gone, the value it had.

    That is the name it defined, if nothing else settles that.
    """
    had = {**worked_out(was), **(values or {})}
    kept = rule_of(height_rule(data)) if TIED in data.get("rules", []) else None
    rules = [*rules_of(data), *([kept] if kept is not None else [])]
    free = free_names(rules, leads_of(data) | set(data.get("dimensions", {})), had)
    if free is None:
        free = {defined_by(rule) or ""} - {defined_by(other) for other in rules}
        free -= set(data.get("dimensions", {}))
    alone = names_in_parts(data) - known_names(data)
    first = defined_by(rule)
    candidates = sorted(name for name in names_in(rule) & (free | alone) if "." in name)
    if candidates:
        name = first if first in candidates else candidates[0]
        data.setdefault("dimensions", {})[name] = rounded(had.get(name, UNKNOWN))


def settle(
    data: Data, was: Mapping[str, Any], values: Mapping[str, float] | None = None
) -> None:
    """Give every name in a formula that nothing defines any more a value, the one it had."""
    lost = names_in_parts(data) - known_names(data)
    had = {**worked_out(was), **(values or {})} if lost else {}
    for name in sorted(lost):
        if "." in name and name != HEIGHT:
            data.setdefault("dimensions", {})[name] = rounded(had.get(name, UNKNOWN))


def width_of(part: Mapping[str, Any]) -> str:
    """The width of a part as a factor in a formula."""
    text = str(part.get("lengths", {}).get("width", UNKNOWN))
    simple = names_of(text) == {text} or text.replace(".", "", 1).isdigit()
    return text if simple else f"({text})"
