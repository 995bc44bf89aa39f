"""Toys of one's own go all the way: from data to rounds, to the written pattern, and back."""

from __future__ import annotations

from typing import Any

from hypothesis import HealthCheck, assume, given, settings

from tests.reader import read_parts
from tests.strategies import default_design
from tests.strategies_own import own_toys
from webapp.errors import RoundlingError
from webapp.own.files import read_file, write_file
from webapp.own.packing import pack, unpack
from webapp.pattern import pattern_text, working_order
from webapp.recipes import recipe_from_data
from webapp.rounds import WorkedPart
from webapp.way import make_toy


@given(own_toys())
@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_three_hundred_toys_go_to_text_and_back(data: dict[str, Any]) -> None:
    """The pattern, read by a reader that shares no code with its writer, has every part with its
    copies and every round with its count; each round is worked into the one before and makes what
    it says. What cannot be made (shaping over too few rounds, say) is refused in three
    sentences."""
    recipe = recipe_from_data(data, "own")
    design = default_design(recipe)
    try:
        toy = make_toy(recipe, design)
    except RoundlingError as error:
        assert error.asked
        assert error.why
        assert error.nearest
        assume(False)
    text = pattern_text(toy.worked, toy.materials, toy.cautions)
    read = read_parts(text, "sc")
    made = working_order(toy.worked.recipe)
    assert [(p.title, p.copies) for p in read] == [(p.label.upper(), p.copies) for p in made]
    for part, recipe_part in zip(read, made, strict=True):
        worked = toy.worked.parts[recipe_part.name]
        if isinstance(worked, WorkedPart):
            assert [count for _, count in part.rounds] == list(worked.counts)
        for (_, before), (stitches, count) in zip(part.rounds, part.rounds[1:], strict=False):
            incs, decs = stitches.count("inc"), stitches.count("dec")
            assert len(stitches) + incs == count
            assert len(stitches) + decs == before
    assert unpack(pack(data)) == data
    assert read_file(write_file(data, {})).data == data
