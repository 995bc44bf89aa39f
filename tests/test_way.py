"""Laws that hold for every toy anywhere in its slider ranges."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.strategies import default_design, designs, recipes, with_height
from webapp.assembly import WorkedToy
from webapp.errors import RoundlingError
from webapp.recipes import Design, Seat
from webapp.rounds import WorkedPart, WorkedStrip
from webapp.rounds.spread import made, used_up
from webapp.way import make_toy, nearest_that_works, work_toy
from webapp.yarns import CATEGORIES

TOYS = ("otter", "owl", "rabbit", "whale")
SLOW = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))


def worked(design: Design) -> WorkedToy:
    """The toy, or no example when a part is too small for the yarn; any other refusal fails."""
    try:
        return work_toy(recipes()[design.toy], design)
    except RoundlingError as error:
        assert "it needs at least" in error.why, error
        assume(False)
        raise AssertionError from error


def round_parts(toy: WorkedToy) -> list[WorkedPart]:
    return [part for part in toy.parts.values() if isinstance(part, WorkedPart)]


@pytest.mark.parametrize("name", TOYS)
@given(data=st.data())
@SLOW
def test_every_round_can_be_worked(name: str, data: st.DataObject) -> None:
    """A round uses up exactly the round before, at most doubles and at least halves it: what two
    stitches in one and two stitches together allow. Common practice, no source."""
    toy = worked(data.draw(designs(name)))
    for part in round_parts(toy):
        before = 0
        for number, r in enumerate(part.rounds, 1):
            assert (r.number, r.before) == (number, before)
            if number > 1:
                assert (used_up(r.work), made(r.work)) == (before, r.count)
                assert before <= 2 * r.count
                assert r.count <= 2 * before
            assert r.count >= 4
            before = r.count
        if part.closed:
            assert 4 <= part.counts[-1] <= 8


@pytest.mark.parametrize("name", TOYS)
@given(data=st.data())
@SLOW
def test_stitched_sizes_are_those_asked_for(name: str, data: st.DataObject) -> None:
    """Within half a round and half a stitch, or 4 %: half a stitch of girth in a width, half a
    round and half a stitch in a length. The bounds are those the makers of this program set."""
    toy = worked(data.draw(designs(name)))
    gauge = toy.design.gauge
    for size in toy.sizes:
        part = next(p for p in toy.parts.values() if part_name(p) == size.part)
        half = 0.5 * gauge.stitch_mm
        if size.what in ("length", "depth"):
            half += 0.5 * gauge.round_mm
        elif size.what == "open edge":
            half = neck_slack(toy, part, size.asked_mm)
        off = abs(size.stitched_mm - size.asked_mm)
        assert off <= max(half, 0.04 * size.asked_mm) + 1e-6, size


def part_name(part: WorkedPart | WorkedStrip) -> str:
    return part.name if isinstance(part, WorkedStrip) else part.order.name


def neck_slack(toy: WorkedToy, part: WorkedPart | WorkedStrip, girth_mm: float) -> float:
    """An open edge that is sewn onto fabric may be out by what the search may (3 stitches or
    10 %); one that is sewn to an equal edge by one stitch."""
    assert isinstance(part, WorkedPart)
    partners = {p.name for p in toy.recipe.parts if p.place.seat is Seat.OPENING}
    partners |= {p.place.on for p in toy.recipe.parts if p.place.seat is Seat.OPENING}
    name = next(n for n, p in toy.parts.items() if p is part)
    w = toy.design.gauge.stitch_mm
    return 1.0 * w if name in partners else max(7.0 * w, 0.1 * girth_mm)


@pytest.mark.parametrize("name", ["otter", "owl", "rabbit"])
@given(data=st.data())
@SLOW
def test_edges_sewn_to_each_other_have_equal_counts(name: str, data: st.DataObject) -> None:
    """An opening is sewn to an opening stitch to stitch: common practice, no source."""
    toy = worked(data.draw(designs(name)))
    pairs = [(p.name, p.place.on) for p in toy.recipe.parts if p.place.seat is Seat.OPENING]
    assert pairs
    for guest, host in pairs:
        a, b = toy.parts[guest], toy.parts[host]
        assert isinstance(a, WorkedPart)
        assert isinstance(b, WorkedPart)
        assert a.counts[-1] == b.counts[-1]


@pytest.mark.parametrize("name", TOYS)
@given(data=st.data())
@SLOW
def test_doubling_the_height_makes_about_four_times_the_stitches(
    name: str, data: st.DataObject
) -> None:
    """Area grows with the square of the height (geometry): 3.6 to 4.4 times the stitches. A toy of
    fewer than 1,500 stitches is left out: whole rounds are too large a part of it."""
    small = data.draw(designs(name, tallest_mm=300.0))
    toy = worked(small)
    assume(toy.stitches > 1500)
    twice = worked(with_height(small, 2.0 * small.sliders["height"]))
    assert 3.6 <= twice.stitches / toy.stitches <= 4.4


@pytest.mark.parametrize("name", TOYS)
@given(data=st.data())
@SLOW
def test_head_to_body_keeps_the_finished_height(name: str, data: st.DataObject) -> None:
    toy = worked(data.draw(designs(name)))
    asked = toy.design.sliders["height"]
    gauge = toy.design.gauge
    pieces = 2  # head and body, each within half a round and half a stitch
    slack = max(0.04 * asked, pieces * 0.5 * (gauge.round_mm + gauge.stitch_mm))
    assert abs(toy.size.height_mm - asked) <= slack


def test_ears_muzzle_and_eyes_follow_the_head_limbs_and_tail_the_body() -> None:
    recipe = recipes()["otter"]
    design = default_design(recipe)
    big = replace(design, sliders={**design.sliders, "head_to_body": 1.5})
    a, b = work_toy(recipe, design).dimensions, work_toy(recipe, big).dimensions
    head = b["head.width"] / a["head.width"]
    body = b["body.height"] / a["body.height"]
    assert head > 1.1 > 0.9 > body
    for name in ("ear.width", "muzzle.length", "eye.width", "nose.width"):
        assert b[name] / a[name] == pytest.approx(head)
    for name in ("arm.length", "leg.length", "tail.length"):
        assert b[name] / a[name] == pytest.approx(body)


def test_an_impossible_part_is_named_and_what_would_help_does_help() -> None:
    recipe = recipes()["otter"]
    tiny = with_height(default_design(recipe), 80.0)
    thick = replace(tiny, category=CATEGORIES[7], gauge=CATEGORIES[7].toy_gauge)
    with pytest.raises(RoundlingError, match="it needs at least") as caught:
        make_toy(recipe, thick)
    assert caught.value.field in {part.label.lower() for part in recipe.parts}
    height, finer = nearest_that_works(recipe, thick)
    assert height is not None
    assert finer is not None
    make_toy(recipe, with_height(thick, height))
    make_toy(recipe, replace(thick, category=CATEGORIES[finer], gauge=CATEGORIES[finer].toy_gauge))


def test_a_metre_tall_in_the_finest_yarn_works() -> None:
    recipe = recipes()["otter"]
    tall = with_height(default_design(recipe), 1000.0)
    fine = replace(tall, category=CATEGORIES[1], gauge=CATEGORIES[1].toy_gauge)
    assert work_toy(recipe, fine).stitches > 200_000
