"""A flat strip worked in rows: a scarf, a collar, a belt."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Strip:
    """A flat strip: rows of ``width_mm`` piled up to ``length_mm``."""

    length_mm: float
    width_mm: float
