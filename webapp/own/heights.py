"""The rule for the finished height that edits keep: the sum of what stands on the ground.

    toy.height = body.height + head.height

It counts the part on the ground, the legs it is begun on and what is sewn on it opening to opening;
of a part that lies down, its width. Somebody's own rule for the finished height is left alone.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import Enum
from typing import Any

from webapp.formulas import (
    Binary,
    Expression,
    FormulaError,
    Name,
    format_expression,
    names_in,
    parse_expression,
)
from webapp.own.naming import HEIGHT, Data, names_in_parts, names_in_rules, parts_of, rule_of
from webapp.own.values import (
    is_number,
    known_values,
    names_by_height,
    rounded,
    value_of,
    values_without_height,
)

LIES_DOWN = 45.0
"""Degrees of tilt under which a part on the ground lies rather than stands."""



class _Kept(Enum):
    """One thing that stays itself when it is copied."""

    RULE = "kept"


TIED: Any = _Kept.RULE
"""Stands in the list of rules for the kept one while an edit is at work."""


def untie(data: Data, was: Mapping[str, Any] | None = None) -> None:
    """Put ``TIED`` in the place of the kept rule, if there is one.

    ``was`` is the toy for which it was written, where a field has been changed since.
    """
    kept = kept_rule(data, was)
    if kept is not None:
        data["rules"][data["rules"].index(kept)] = TIED


def kept_rule(data: Mapping[str, Any], was: Mapping[str, Any] | None = None) -> str | None:
    """The text of the rule that edits keep, as it stands among the rules, if it does."""
    wanted = _sum(height_rule(data if was is None else was))
    same = (rule for rule in data.get("rules", []) if wanted is not None and _sum(rule) == wanted)
    return next(same, None)


def tie(data: Data, was: Mapping[str, Any]) -> None:
    """Put the kept rule in the place of ``TIED``, or add one where nothing settles the height.

    ``was`` is the toy before: a rule that still says the same keeps its words. The height
    slider's default follows, where every length that it is the sum of has a value.
    """
    rules = data.setdefault("rules", [])
    if TIED not in rules:
        if HEIGHT in names_in_rules(data) | names_in_parts(data):
            return
        rules.append(TIED)
    number = rules.index(TIED)
    wanted = height_rule(data)
    if wanted is None or summands(data) <= names_by_height(data):
        # Else the height would be settled twice: by its parts, and they by it.
        del rules[number]
        return
    same = (rule for rule in was.get("rules", []) if _sum(rule) == _sum(wanted))
    rules[number] = next(same, wanted)
    _set_default(data, wanted)


def height_rule(data: Mapping[str, Any]) -> str | None:
    """The rule for the finished height; None while no part stands on the ground."""
    stack = _stack(data)
    if not stack:
        return None
    ground = stack[0]
    tilt = ground.get("place", {}).get("tilt", 90)
    if is_number(tilt) and abs(tilt) < LIES_DOWN:
        heights = [_length(ground, "width")]
    else:
        heights = [text for part in stack if (text := _height(part))] or [_length(ground, "width")]
    heights = [text for text in heights if text]
    return f"{HEIGHT} = {' + '.join(heights)}" if heights else None


def worked_out(data: Mapping[str, Any]) -> dict[str, float]:
    """The values of a toy's dimensions, the kept rule counted while an edit is at work."""
    kept = height_rule(data) if TIED in data.get("rules", []) else None
    rules = [kept if rule is TIED else rule for rule in data.get("rules", [])]
    return known_values({**data, "rules": rules})


def summands(data: Mapping[str, Any]) -> frozenset[str]:
    """The names that the finished height is the sum of."""
    rule = rule_of(height_rule(data))
    return frozenset() if rule is None else names_in(rule) - {HEIGHT}


def _stack(data: Mapping[str, Any]) -> list[Data]:
    """The part on the ground and those on it, opening to opening; then the legs under it."""
    seats = [(part, part.get("place", {})) for part in parts_of(data)]
    stack = [part for part, place in seats if place.get("seat") == "ground"][:1]
    ground = stack[0]["name"] if stack else None
    for part, place in seats:
        if stack and place.get("seat") == "opening" and place.get("on") == stack[-1]["name"]:
            stack.append(part)
    joined = ((part, place) for part, place in seats if place.get("seat") == "joined")
    return stack + [part for part, place in joined if place.get("on") == ground][:1]


def _height(part: Data) -> str:
    """How tall a standing part is, as a formula; nothing for a flat one."""
    shape, lengths = part.get("shape"), part.get("lengths", {})
    if shape == "ball":
        width, opening = _length(part, "width"), _length(part, "opening")
        if not width or not opening:
            return width
        # A sphere cut off level where it has narrowed to its opening.
        tall = f"0.5 * {width} + 0.5 * sqrt({width} ** 2 - {opening} ** 2)"
        return tall if _readable(tall) else width
    if shape == "oval":
        return " + ".join(text for key in ("height", "brim") if (text := _length(part, key)))
    if shape == "disc":
        return ""
    return _length(part, "height" if "height" in lengths else "length")


def _length(part: Data, key: str) -> str:
    """A length as a piece of a sum; nothing where there is none that can be read."""
    text = str(part.get("lengths", {}).get(key, ""))
    if not _readable(text):
        return ""
    tree = parse_expression(text)
    return f"({text})" if isinstance(tree, Binary) else format_expression(tree)


def _readable(text: str) -> bool:
    try:
        parse_expression(text)
    except FormulaError:
        return False
    return True


def _sum(text: object) -> frozenset[Expression] | None:
    """What is added up to the finished height by a rule; None for any other rule."""
    rule = rule_of(text)
    if rule is None:
        return None
    for side, other in ((rule.left, rule.right), (rule.right, rule.left)):
        if side == Name(HEIGHT):
            pieces: list[Expression] = []
            while isinstance(other, Binary) and other.operator == "+":
                pieces.append(other.right)
                other = other.left
            return frozenset((other, *pieces))
    return None


def _set_default(data: Data, rule: str) -> None:
    """The height slider's default, and its ends where they have to give way, mm."""
    span = data.get("sliders", {}).get("height")
    if span is None or not all(is_number(span.get(key)) for key in ("low", "high", "default")):
        return
    total = value_of(rule.partition("=")[2], values_without_height(data))
    if total is None or not 0.0 < total <= 5000.0:
        return
    height = rounded(total, 1.0)
    span["default"] = height
    span["low"] = min(span["low"], max(1, math.floor(height / 2.0)))
    span["high"] = max(span["high"], min(5000, math.ceil(height * 2.0)))
