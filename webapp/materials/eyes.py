"""What the eyes are made of, and which size in shops comes nearest to the one wanted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from webapp.assembly import WorkedToy
from webapp.formulas import evaluate
from webapp.recipes import EyeKind
from webapp.words import noted

STOCK_EYES_MM = (3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 15, 16, 18, 20, 22, 24, 28, 30)
"""Safety-eye diameters in shops, 3 to 30; the usual ones are 6, 8, 9, 10, 12, 15, 18, 20, 24."""

STOCK_BUTTONS_MM = (9, 10, 11, 13, 15, 18, 20, 23, 25, 28)
"""Diameters of the usual buttons: 14, 16, 18, 20, 24, 28, 32, 36, 40 and 44 lines, 40 to the inch,
in whole mm. Common practice, from memory."""

IN_SHOPS: Mapping[EyeKind, tuple[int, ...]] = MappingProxyType(
    {EyeKind.SAFETY: STOCK_EYES_MM, EyeKind.BUTTONS: STOCK_BUTTONS_MM}
)
TOO_LARGE: Mapping[EyeKind, str] = MappingProxyType(
    {
        EyeKind.SAFETY: noted("larger than the usual safety eyes"),
        EyeKind.BUTTONS: noted("larger than the usual buttons"),
    }
)
TOO_SMALL: Mapping[EyeKind, str] = MappingProxyType(
    {
        EyeKind.SAFETY: noted("smaller than the usual safety eyes"),
        EyeKind.BUTTONS: noted("smaller than the usual buttons"),
    }
)


@dataclass(frozen=True)
class EyeNeed:
    """The eyes: the diameter wanted (mm), the nearest in shops, or None to embroider them; and what
    they come out as, which is not always what the recipe asks for."""

    wanted_mm: float
    stock_mm: int | None
    why: str
    kind: EyeKind


def eyes_for(toy: WorkedToy) -> EyeNeed | None:
    """The eyes of a toy; None where it has none.

    Hard eyes give way to embroidered ones for a child under three, and where none of the size is
    sold: ``why`` says so.
    """
    spec = toy.recipe.eyes
    if spec is None:
        return None
    wanted = evaluate(spec.diameter, toy.dimensions)
    if spec.kind is EyeKind.EMBROIDERED:
        return EyeNeed(wanted, None, noted("soft, as this toy has them"), EyeKind.EMBROIDERED)
    sizes = IN_SHOPS[spec.kind]
    why = ""
    if toy.design.under_three:
        why = noted("for a child under three nothing hard is used")
    elif wanted > sizes[-1] * 1.15:
        why = TOO_LARGE[spec.kind]
    elif wanted < sizes[0] * 0.85:
        why = TOO_SMALL[spec.kind]
    if why:
        return EyeNeed(wanted, None, why, EyeKind.EMBROIDERED)
    stock = min(sizes, key=lambda size: abs(size - wanted))
    return EyeNeed(wanted, stock, "the nearest size in shops", spec.kind)
