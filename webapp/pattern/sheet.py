"""The written pattern in its sections, before it is put on lines: what all is set from."""

from __future__ import annotations

from dataclasses import dataclass

from webapp.pattern.parts import Line


@dataclass(frozen=True)
class PartSheet:
    """One part: its name in the recipe, its label, copies, the sentence of its colour, whether it
    is worked in rows, and its lines, cautions among them."""

    name: str
    label: str
    copies: int
    colour: str
    in_rows: bool
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Sheet:
    """A whole pattern. ``materials`` are lines, items of a list among them beginning with "- ";
    ``notes`` say nothing of where on a line its count stands; ``sewing`` are the steps in order,
    ``sewn`` what stands after them."""

    name: str
    line: str
    overview: tuple[str, ...]
    materials: tuple[str, ...]
    gauge: tuple[str, ...]
    abbreviations: tuple[str, ...]
    notes: tuple[str, ...]
    safety: tuple[str, ...]
    parts: tuple[PartSheet, ...]
    sewing: tuple[str, ...]
    sewn: tuple[str, ...]
