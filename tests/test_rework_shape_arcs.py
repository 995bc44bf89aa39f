"""Gathered shaping found in the stitches, and rounds that ruffle or pucker."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.readings import read_part, worked_part
from webapp.reading import Begin
from webapp.rework.shape import read_zones, shape_of
from webapp.rounds import Bulge, Effort, WorkedPart, WorkOrder, work_part
from webapp.shapes import build_meridian
from webapp.yarns import Gauge

SQUARE = Gauge(5.0, 5.0)
FINE = Gauge(3.1, 3.0)


def head_with(bulge: Bulge) -> WorkedPart:
    order = WorkOrder("head", build_meridian("ball", {"width": 80.0}), bulges=(bulge,))
    return work_part(order, FINE, Effort(1080))


def test_increases_between_plain_stitches_are_an_arc() -> None:
    # Counted by hand: 36 stitches, 6 increases between 15 plain ones on either side, 4 rounds on
    # which the six grow to 12 and 18, and back. Common practice for a snout, no source.
    even = ("sc", 36)
    part = worked_part(
        [
            (("sc", 36),),
            (even,),
            (("sc", 15), ("inc", 6), ("sc", 15)),
            (("sc", 15), *((("sc", 1), ("inc", 1)) * 6), ("sc", 15)),
            (("sc", 48),),
            (("sc", 15), *((("sc", 1), ("dec", 1)) * 6), ("sc", 15)),
            (("sc", 15), ("dec", 6), ("sc", 15)),
            (even,),
        ]
    )
    (zone,) = read_zones(part)
    assert (zone.start, zone.stop) == (2, 7)
    assert [arc.counts for arc in zone.arcs] == [
        (15,) * 6,
        (6, 12, 18, 18, 12, 6),
        (15,) * 6,
    ]
    (group,) = zone.groups
    assert group.around == pytest.approx(0.0)
    # Between their share below (6 of 36) and at the most (18 of 48).
    assert 6 / 36 < group.arc < 18 / 48


def test_two_groups_on_opposite_sides_bulge_to_the_sides() -> None:
    cheeks = (("sc", 6), ("inc", 4), ("sc", 10), ("inc", 4), ("sc", 4))
    back = (("sc", 6), ("dec", 4), ("sc", 10), ("dec", 4), ("sc", 4))
    rows = [(("sc", 28),), cheeks, (("sc", 36),), (("sc", 36),), back, (("sc", 28),)]
    shape = shape_of(worked_part(rows), SQUARE)
    assert shape.part is not None
    first, second = (group.bulge for group in shape.part.shaped)
    # Their middles, counted by hand: stitches 8 and 22 of 28, the start being at the back.
    assert {round(first.around), round(second.around)} == {77, -103}
    assert [len(s) for s in shape.part.sectors] == [1, 5, 5, 5, 5, 1]
    assert shape.width_mm > 28 * 5.0 / math.pi


@pytest.mark.parametrize(
    "bulge",
    [
        Bulge(0.3, 0.7, 0.2, 14.0, "snout", 0.0, False),
        Bulge(0.3, 0.7, 0.2, 14.0, "heel", 180.0, False),
    ],
    ids=["snout", "heel"],
)
def test_our_own_groups_are_found_where_they_were_worked(bulge: Bulge) -> None:
    # Against the working of our own parts, which test_shaping.py compares with quadrature.
    made = head_with(bulge)
    shape = shape_of(worked_part([r.work for r in made.rounds], closed=True), FINE)
    assert shape.part is not None
    (found,), (own,) = shape.part.shaped, made.shaped
    off = (found.bulge.around - bulge.around + 180.0) % 360.0 - 180.0
    assert abs(off) < 6.0
    assert found.bump_mm.max() == pytest.approx(own.bump_mm.max(), rel=0.25)
    assert abs(int(found.bump_mm.argmax()) - int(own.bump_mm.argmax())) <= 4


@settings(max_examples=60, deadline=None)
@given(
    st.integers(3, 12),
    st.lists(st.integers(-6, 12), min_size=3, max_size=25),
    st.booleans(),
)
def test_evenly_spread_rounds_have_no_arcs(ring: int, steps: list[int], closed: bool) -> None:
    counts = [ring]
    for step in steps:
        counts.append(max(-(-counts[-1] // 2), 3, min(2 * counts[-1], counts[-1] + step)))
    assert read_zones(read_part(counts, closed=closed)) == ()


def findings(counts: list[int], gauge: Gauge) -> list[tuple[int, int]]:
    return [(f.first, f.last) for f in shape_of(read_part(counts), gauge).findings]


@pytest.mark.parametrize("height", [4.375, 4.5, 4.775, 5.0, 5.5])
def test_six_more_a_round_lies_flat_at_every_usual_gauge(height: float) -> None:
    # Published gauges have a stitch 0.875 to 1 times as high as wide (manufacturers' leaflets).
    gauge = Gauge(5.0, height)
    assert findings([6, 12, 18, 24, 30, 36, 42, 48], gauge) == []
    assert findings([6, 12, 24, 24, 36, 36, 48, 48], gauge) == []
    assert findings([5, 10, 15, 20, 25, 30, 30, 30], gauge) == []


def test_more_stitches_than_a_flat_disc_has_ruffle() -> None:
    # Girth at the distance s: flat 2 pi s; one increase every second stitch makes the annular
    # hyperbolic plane, whose girth grows by half every round (Henderson and Taimina's model).
    assert findings([6, 12, 18, 24, 36, 54, 81], SQUARE) == [(5, 7)]
    (found,) = shape_of(read_part([6, 12, 18, 24, 36, 54, 81]), SQUARE).findings
    # 57 stitches in 3 rounds; 2 pi h / w = 6.28 for h = w.
    assert "gain 57 stitches, 19.0 a round" in found.says
    assert "room for 6.3 a round" in found.says
    assert "wave" in found.says
    assert "6 more a round, 19 in all" in found.says


def test_fewer_stitches_than_a_flat_disc_has_pucker() -> None:
    part = read_part([60] * 5 + [40, 20, 20, 20], begin=Begin.CHAIN_RING)
    (found,) = shape_of(part, SQUARE).findings
    assert (found.first, found.last) == (6, 7)
    assert "lose 40 stitches" in found.says
    assert "folds" in found.says


def test_a_round_worked_in_part_is_said() -> None:
    part = read_part([30] * 6)
    rounds = tuple(replace(r, left=8) if r.number == 4 else r for r in part.rounds)
    (found,) = shape_of(replace(part, rounds=rounds), SQUARE).findings
    assert "Round 4 leaves 8 stitches unworked" in found.says
