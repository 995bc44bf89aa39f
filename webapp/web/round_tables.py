"""The tables of rounds: each part's lines as the page shows them."""

from __future__ import annotations

from typing import Any

from webapp.materials.yarn import colours_worked
from webapp.pattern import LineKind, part_lines, round_words, working_order
from webapp.rounds import WorkedStrip
from webapp.way import Toy
from webapp.yarns import TermSet


def part_tables(made: Toy, words: TermSet) -> list[dict[str, Any]]:
    """Every part in working order, with its lines."""
    toy = made.worked
    shown = []
    for recipe in working_order(toy.recipe):
        part = toy.parts[recipe.name]
        in_rows = isinstance(part, WorkedStrip)
        lines = [
            {
                "label": round_words(line.first, line.last, words, in_rows),
                "text": line.text,
                "count": line.count,
            }
            if line.kind is LineKind.ROUND
            else {"note": line.text}
            for line in part_lines(toy, made.materials, recipe, words)
        ]
        shown.append(
            {
                "name": recipe.name,
                "label": recipe.label,
                "copies": recipe.copies,
                "colours": list(colours_worked(recipe, part)),
                "stitches": part.stitches,
                "lines": lines,
            }
        )
    return shown
