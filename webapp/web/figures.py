"""The small things a page is made of: controls, key figures, and figures as they are written."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from webapp.errors import RoundlingError
from webapp.materials import Estimate
from webapp.recipes import Recipe
from webapp.yarns import LengthUnit


@dataclass(frozen=True)
class Control:
    """A slider and its number box; ``names`` are words for its whole values, from 0."""

    name: str
    label: str
    hint: str
    text: str
    value: str
    low: str
    high: str
    step: str
    default: str
    unit: str
    reset: str
    problem: RoundlingError | None
    names: tuple[str, ...] = ()

    @property
    def first(self) -> str:
        """Lowest whole step: where the slider starts. The box takes what lies below as well."""
        step = float(self.step)
        return f"{math.ceil(float(self.low) / step - 1e-6) * step:.6g}"

    @property
    def last(self) -> str:
        """Highest whole step: where the slider ends."""
        step = float(self.step)
        return f"{math.floor(float(self.high) / step + 1e-6) * step:.6g}"

    @property
    def changed(self) -> bool:
        return self.text != self.default


@dataclass(frozen=True)
class Figure:
    """A key figure: what, how much, and how sure."""

    label: str
    value: str
    note: str = ""


def address_of(recipe: Recipe, values: Mapping[str, str], file: str = "") -> str:
    path = f"/toys/{recipe.key}" + (f"/{file}" if file else "")
    return f"{path}?{urlencode(values)}" if values else path


def length_text(unit: LengthUnit, mm: float) -> str:
    value = unit.from_mm(mm)
    return f"{value:.1f} {unit.value}" if unit is LengthUnit.CM else f"{value:.2f} {unit.value}"


def range_text(estimate: Estimate, digits: int) -> str:
    return f"{estimate.low:.{digits}f}–{estimate.high:.{digits}f}"


def grams_text(value: float) -> str:
    return f"{value:.0f} g" if value >= 10 else f"{value:.1f} g"


def figure_text(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
