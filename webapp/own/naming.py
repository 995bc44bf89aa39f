"""Names in a toy as data: which formulas there are, which names they use, and new ones."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator, Mapping
from functools import lru_cache
from typing import Any

from webapp.formulas import (
    Equation,
    FormulaError,
    Name,
    names_in,
    parse_equation,
    parse_expression,
    with_names,
)
from webapp.recipes import SLIDERS

Data = dict[str, Any]
HEIGHT = "toy.height"
LONGEST_KEY = 20
"""Keys stay short: names are made of them, and a formula has 500 characters."""


def parts_of(data: Mapping[str, Any]) -> list[Data]:
    parts: list[Data] = data.get("parts", [])
    return parts


def slots(data: Mapping[str, Any]) -> Iterator[tuple[Any, Any]]:
    """The table or list, and the key, of every formula of a toy but its rules."""
    for part in parts_of(data):
        yield from slots_of_part(part)
    if "diameter" in data.get("eyes", {}):
        yield data["eyes"], "diameter"
    for mark in data.get("marks", []):
        yield from ((mark, key) for key in ("width", "height") if key in mark)


def slots_of_part(part: Data) -> Iterator[tuple[Any, Any]]:
    lengths = part.get("lengths", {})
    yield from ((lengths, key) for key in lengths)
    for point in part.get("points", []):
        yield from ((point, number) for number in range(len(point)))
    for bulge in (part.get("cheeks", {}), *part.get("bulges", [])):
        if "depth" in bulge:
            yield bulge, "depth"


def rule_of(text: object) -> Equation | None:
    """The equation of a rule, None for one that cannot be read."""
    return _rule_of(text) if isinstance(text, str) else None


@lru_cache(maxsize=1024)
def _rule_of(text: str) -> Equation | None:
    """An edit asks for the same few rules some hundred times."""
    try:
        return parse_equation(text)
    except FormulaError:
        return None


def rules_of(data: Mapping[str, Any]) -> list[Equation]:
    return [rule for text in data.get("rules", []) if (rule := rule_of(text)) is not None]


def names_of(value: object) -> frozenset[str]:
    """The names in a formula as data; none where it cannot be read."""
    try:
        return names_in(parse_expression(value)) if isinstance(value, str) else frozenset()
    except FormulaError:
        return frozenset()


def names_in_parts(data: Mapping[str, Any]) -> set[str]:
    """Names that the formulas of parts, eyes and marks use."""
    return {name for table, key in slots(data) for name in names_of(table[key])}


def names_in_rules(data: Mapping[str, Any]) -> set[str]:
    return {name for rule in rules_of(data) for name in names_in(rule)}


def leads_of(data: Mapping[str, Any]) -> set[str]:
    return {HEIGHT if key == "height" else key for key in data.get("sliders", {})}


def known_names(data: Mapping[str, Any]) -> set[str]:
    """Names that have a value: from a rule, a slider or a dimension of their own."""
    return names_in_rules(data) | leads_of(data) | set(data.get("dimensions", {}))


def all_names(data: Mapping[str, Any]) -> set[str]:
    return known_names(data) | names_in_parts(data)


def defined_by(rule: Equation) -> str | None:
    """The one name that a rule defines: the one that stands alone on a side, left before right."""
    for side, other in ((rule.left, rule.right), (rule.right, rule.left)):
        if isinstance(side, Name) and side.name not in names_in(other) and side.name not in SLIDERS:
            return side.name
    return None


def rename(data: Data, names: Mapping[str, str]) -> None:
    """Give names everywhere in formulas, rules and dimensions their new ones."""
    for table, key in slots(data):
        if isinstance(table[key], str):
            table[key] = with_names(table[key], names)
    data["rules"] = [
        with_names(rule, names) if isinstance(rule, str) else rule
        for rule in data.get("rules", [])
    ]
    if "dimensions" in data:
        data["dimensions"] = {names.get(k, k): v for k, v in data["dimensions"].items()}


def names_under(data: Mapping[str, Any], key: str) -> set[str]:
    """The names that begin with a part's key and a dot."""
    return {name for name in all_names(data) if name.startswith(f"{key}.")}


def new_key(text: str, taken: Collection[str], otherwise: str = "part") -> str:
    """A key in plain small letters made of somebody's words, unlike those taken.

    >>> new_key("Été hat", ["ete_hat"])
    'ete_hat2'
    """
    letters = unicodedata.normalize("NFKD", text.lower()).encode("ascii", "ignore").decode()
    key = re.sub(r"[^a-z0-9]+", "_", letters).strip("_")[:LONGEST_KEY].strip("_")
    if not re.match(r"[a-z]", key):
        key = otherwise
    taken = {*taken, "toy"}
    new, number = key, 2
    while new in taken:
        new, number = f"{key}{number}", number + 1
    return new


def new_part_key(data: Mapping[str, Any], text: str, own: str = "") -> str:
    """A key for a part: neither another part's nor what names of dimensions begin with."""
    taken = {str(part["name"]) for part in parts_of(data)}
    taken |= {name.split(".")[0] for name in all_names(data)}
    return new_key(text, taken - {own})


def new_label(data: Mapping[str, Any], label: str) -> str:
    """A label unlike those of all parts: with a number where it has to be."""
    taken = {str(part.get("label", "")).lower() for part in parts_of(data)}
    number = 2
    new = label
    while new.lower() in taken:
        new, number = f"{label} {number}", number + 1
    return new

