"""Everything about a toy that can be measured and held, by name.

A length of a part that is a formula of its own has no name yet: it gets one, and a rule that says
what it is. Round parts get a girth. A toy drawn with sizes (``dimensions``) gets one more rule for
each: its size as drawn times the scale of the toy, so that it grows with the finished height
wherever no other rule says what it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from webapp.formulas import Binary, Equation, Expression, Name, Number, names_in
from webapp.shapes import RATIOS, SHAPES, width_per_girth

if TYPE_CHECKING:
    from webapp.recipes.model import EyeSpec, Mark, PartRecipe

SCALE = "toy.scale"
EYE_GAP = "eyes.gap"
"""Distance between the middles of the eyes along the fabric; it places the eyes and moves nothing
else."""


@dataclass(frozen=True)
class Measure:
    """A dimension: its name in rules, its words, and the lengths of parts that it is, as (part,
    key of the length; ``girth`` for the girth)."""

    name: str
    label: str
    of: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Measures:
    """All measures of a toy by name, and the rules for those that its recipe gives none."""

    by_name: Mapping[str, Measure]
    rules: tuple[Equation, ...]


def drawn(name: str) -> str:
    """The name of the size that a dimension was drawn with, before it is scaled."""
    return f"drawn.{name}"


def measures_of(
    parts: Sequence[PartRecipe],
    eyes: EyeSpec | None,
    marks: Sequence[Mark],
    dimensions: Mapping[str, float],
    known: frozenset[str],
) -> Measures:
    """The measures of a toy; ``known`` are the names that its own rules use."""
    found: dict[str, list[tuple[str, str]]] = {"toy.height": []}
    more: list[Equation] = []
    for name, part, key, formula in _lengths(parts):
        if isinstance(formula, Name):
            found.setdefault(formula.name, []).append((part, key))
        elif name not in known:
            found.setdefault(name, []).append((part, key))
            more.append(_equals(name, formula))
    for part_recipe in parts:
        name = f"{part_recipe.name}.girth"
        girth = None if name in known else _girth(part_recipe)
        if girth is not None:
            found[name] = [(part_recipe.name, "girth")]
            more.append(_equals(name, girth))
    for formula in _features(eyes, marks):
        if isinstance(formula, Name):
            found.setdefault(formula.name, [])
    more += [_equals(n, Binary("*", Name(drawn(n)), Name(SCALE))) for n in dimensions]
    labels = {part.name: part.label for part in parts}
    by_name = {n: Measure(n, _label(n, labels), tuple(of)) for n, of in found.items()}
    if eyes is not None:
        by_name[EYE_GAP] = Measure(EYE_GAP, "Eyes: gap")
    return Measures(by_name, tuple(more))


def _lengths(parts: Sequence[PartRecipe]) -> Iterator[tuple[str, str, str, Expression]]:
    """(name it would have, part, key, formula) of every length that is no ratio."""
    for part in parts:
        for key, formula in part.lengths.items():
            if key not in RATIOS:
                yield f"{part.name}.{key}", part.name, key, formula


def _features(eyes: EyeSpec | None, marks: Sequence[Mark]) -> Iterator[Expression]:
    if eyes is not None:
        yield eyes.diameter
    for mark in marks:
        yield from (mark.width, mark.height)


def _girth(part: PartRecipe) -> Expression | None:
    """The girth at the widest lap; None for what is worked flat, and for an oval, whose girth
    can only change by two stitches."""
    width = part.lengths.get("width")
    if width is None or SHAPES[part.shape].in_rows or part.shape == "oval":
        return None
    flatness = part.lengths.get("flatness", Number(1.0))
    assert isinstance(flatness, Number)
    factor = math.pi / width_per_girth(flatness.value) if flatness.value < 1.0 else math.pi
    return Binary("*", Number(factor), width)


def _equals(name: str, formula: Expression) -> Equation:
    follows = " and ".join(sorted(names_in(formula)))
    return Equation(Name(name), formula, f"{name} follows from {follows}")


def _label(name: str, labels: Mapping[str, str]) -> str:
    """``head.width`` is "Head: width", with the part's own label where there is such a part."""
    if name == "toy.height":
        return "Finished height"
    first, _, rest = name.partition(".")
    owner = labels.get(first, first.replace("_", " ").capitalize())
    return f"{owner}: {rest.replace('_', ' ')}" if rest else owner
