"""Our own written patterns come apart exactly: parts, copies, labels, bodies."""

from __future__ import annotations

import pytest

from tests.strategies import design_of, recipes
from tests.test_pattern import TOYS, text_of
from webapp.pattern import LineKind, part_lines, working_order
from webapp.reading.sheet import RoundLine, Sheet
from webapp.reading.splitting import read_sheet
from webapp.terms import Language
from webapp.way import make_toy
from webapp.yarns import term_set


def rounds_of(sheet: Sheet) -> list[list[tuple[str, int | None, int | None, str]]]:
    """For each part the label, its numbers and the body (lines joined) of each round."""
    text = sheet.clean.text
    return [
        [
            (
                line.label,
                line.first,
                line.last,
                " ".join(text[line.body.start : line.body.end].split()),
            )
            for line in part.lines
            if isinstance(line, RoundLine)
        ]
        for part in sheet.parts
    ]


@pytest.mark.parametrize("terms", ["us", "uk"])
@pytest.mark.parametrize("name", TOYS)
def test_our_own_pattern_comes_apart_as_it_was_put_together(name: str, terms: str) -> None:
    # The writer's own lines (webapp.pattern) are the source.
    recipe = recipes()[name]
    toy = make_toy(recipe, design_of(recipe, terms=terms))
    words = term_set(toy.worked.design.terms)
    sheet = read_sheet(text_of(toy))
    asked = working_order(recipe)
    assert [(p.title, p.copies) for p in sheet.parts] == [
        (part.label.upper(), part.copies) for part in asked
    ]
    for part, got in zip(asked, rounds_of(sheet), strict=True):
        lines = [
            line
            for line in part_lines(toy.worked, toy.materials, part, words)
            if line.kind is LineKind.ROUND
        ]
        assert [(first, last) for _, first, last, _ in got] == [(r.first, r.last) for r in lines]
        for (label, _, _, body), line in zip(got, lines, strict=True):
            assert body == f"{line.text} [{line.count}]"
            assert label.startswith(("Rnd", "Row"))
            assert label.endswith(":")
    assert sheet.language is (Language.US if terms == "us" else Language.UK)
    assert sheet.title == recipe.name.upper()
    assert sheet.gauge is not None
    assert (sheet.gauge.stitches, sheet.gauge.rounds) == (24.0, 25.0)  # US and UK: category 3


@pytest.mark.parametrize("name", TOYS)
def test_rows_are_told_from_rounds(name: str) -> None:
    recipe = recipes()[name]
    sheet = read_sheet(text_of(make_toy(recipe, design_of(recipe))))
    for part in sheet.parts:
        for line in part.lines:
            if isinstance(line, RoundLine):
                assert line.says_row == line.label.startswith("Row")
