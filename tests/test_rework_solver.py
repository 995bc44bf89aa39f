"""Re-worked counts: the same again, other gauges against closed forms, twice the size, and edges
that meet."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.readings import NOWHERE, pattern_of, read_part, worked_part
from webapp.errors import RoundlingError
from webapp.reading import USES, Begin, ReadPart, Remark, RemarkKind, Verdict
from webapp.rework.model import PlainPart
from webapp.rework.reworking import Change, Reworked, rework_pattern
from webapp.rework.shape import ReadShape, shape_of
from webapp.rounds import Bulge, Effort, WorkOrder, work_part
from webapp.shapes import build_meridian
from webapp.yarns import Gauge

GAUGE = Gauge(3.1, 3.0)
SQUARE = Gauge(5.0, 5.0)
SIMPLE = Effort(1080)
NEW_GAUGES = [Gauge(2.4, 2.3), Gauge(4.6, 4.4), Gauge(3.1, 2.8)]
"""Finer, coarser, and flatter stitches of the same width."""


def reworked(
    *parts: ReadPart, was: Gauge = GAUGE, new: Gauge = GAUGE, effort: Effort = SIMPLE, **more: Any
) -> Reworked:
    return rework_pattern(pattern_of(*parts), Change(was, new, effort, **more))


def counts(part: PlainPart) -> list[int]:
    return [r.count for r in part.rounds]


def check_workable(part: PlainPart) -> None:
    """The stitches of every round take up the round before and make what is said."""
    for before, after in zip(part.rounds, part.rounds[1:], strict=False):
        work = [run for arc in after.arcs for run in arc]
        assert after.before == before.count
        assert sum(USES[kind][0] * n for kind, n in work) == before.count - after.left
        assert sum(USES[kind][1] * n for kind, n in work) == after.count


def shape_anew(part: PlainPart, gauge: Gauge) -> ReadShape:
    """The shape of a part written anew, read again from its stitches."""
    works = [tuple(run for arc in r.arcs for run in arc) for r in part.rounds]
    return shape_of(worked_part(works, closed=part.closed, begin=part.begin), gauge)


# (a) its own gauge and size


@st.composite
def irregular_counts(draw: st.DrawFn) -> list[int]:
    """Counts of a part that can be worked: rings of 3 to 12, doubled rounds, +1 to +5, stairs."""
    found = [draw(st.integers(3, 12))]
    step = st.one_of(
        st.integers(-5, 5), st.just(0), st.just(found[0]), st.just(-found[0]), st.just(1000)
    )
    for more in draw(st.lists(step, min_size=2, max_size=35)):
        low, high = max(3, -(-found[-1] // 2)), min(2 * found[-1], 140)
        found.append(max(low, min(high, found[-1] + more)))
    return found


@settings(max_examples=120, deadline=None)
@given(
    irregular_counts(),
    st.sampled_from([Begin.RING, Begin.CHAIN_RING, Begin.EDGE]),
    st.booleans(),
    st.floats(2.0, 8.0),
    st.floats(0.85, 1.1),
    st.sampled_from([0, 1080, 5000]),
)
def test_its_own_gauge_and_size_give_the_same_counts(
    rounds: list[int], begin: Begin, closed: bool, wide: float, tall: float, weight: int
) -> None:
    gauge = Gauge(wide, wide * tall)
    part = read_part(rounds, begin=begin, closed=closed)
    made = reworked(part, was=gauge, new=gauge, effort=Effort(weight))
    (plain,), (became,) = made.pattern.parts, made.parts
    assert counts(plain) == rounds
    assert became.rounds == tuple(range(1, len(rounds) + 1))
    assert became.stitched_mm == pytest.approx(became.read_mm)
    check_workable(plain)


@pytest.mark.parametrize(
    "part",
    [
        read_part([16, 22, 28, 28, 24, 20], begin=Begin.OVAL, chain=7),
        read_part([13, 19, 25, 25, 20], begin=Begin.OVAL, chain=6),
        read_part([34, 34, 36, 36, 30, 24], begin=Begin.LEGS, chain=2, per_leg=(15, 15)),
        read_part([46, 46, 40, 34], begin=Begin.LEGS, per_leg=(24, 24)),
        read_part([10, 10, 9, 8, 7, 4], begin=Begin.FLAT, rows=True, chain=11),
    ],
    ids=["oval", "odd oval", "legs", "legs that overlap", "rows"],
)
def test_other_starts_come_out_the_same(part: ReadPart) -> None:
    made = reworked(part)
    (plain,) = made.pattern.parts
    assert counts(plain) == list(part.counts)
    assert (plain.chain, plain.per_leg) == (part.chain, part.per_leg)


def head_with_cheeks() -> ReadPart:
    bulge = Bulge(0.25, 0.6, 0.15, 6.0)
    order = WorkOrder("head", build_meridian("ball", {"width": 80.0}), bulges=(bulge,))
    own = work_part(order, GAUGE, SIMPLE)
    return worked_part([r.work for r in own.rounds], closed=True)


def test_arcs_come_out_the_same() -> None:
    head = head_with_cheeks()
    (plain,) = reworked(head).pattern.parts
    assert counts(plain) == list(head.counts)
    assert max(len(r.arcs) for r in plain.rounds) >= 4
    check_workable(plain)


# (b) other gauges keep the size


def ball(half_width: float, half_height: float) -> list[int]:
    """Counts of an ellipsoid's rounds: 2 pi r(s) / w at s = k h along its outline, summed finely.
    r and z of an ellipse are a sin t and c cos t (a handbook of mensuration)."""
    turn = np.linspace(0.0, math.pi, 20001)
    r, z = half_width * np.sin(turn), -half_height * np.cos(turn)
    along = np.concatenate(([0.0], np.cumsum(np.hypot(np.diff(r), np.diff(z)))))
    rounds = round(along[-1] / GAUGE.round_mm) - 1
    at = along[-1] / (rounds + 1) * np.arange(1, rounds + 1)
    return [round(2.0 * math.pi * n / GAUGE.stitch_mm) for n in np.interp(at, along, r)]


def girths_at_quarters(shape: ReadShape) -> list[float]:
    """Girths at a quarter, half and three quarters of the height, mm."""
    assert shape.part is not None
    rings = shape.part.rings
    edges = [0, *shape.counts, 0]
    heights = np.array([0.25, 0.5, 0.75]) * rings.height_mm
    return (np.interp(heights, rings.axial_mm, edges) * shape.gauge.stitch_mm).tolist()


@pytest.mark.parametrize("new", NEW_GAUGES, ids=["finer", "coarser", "flatter"])
@pytest.mark.parametrize(("half_width", "half_height"), [(40.0, 40.0), (30.0, 50.0), (45.0, 40.0)])
def test_ellipsoids_keep_their_measures_at_other_gauges(
    half_width: float, half_height: float, new: Gauge
) -> None:
    # Outside: the ellipsoid itself, 2 a wide and 2 c high; its girth at a quarter and three
    # quarters of its height is 2 pi a sqrt(3) / 2, half way 2 pi a. The pattern itself may be off
    # by the rounding of its own stitches, so both are allowed for.
    part = read_part(ball(half_width, half_height), closed=True)
    made = reworked(part, new=new)
    (plain,) = made.pattern.parts
    check_workable(plain)
    shape = shape_anew(plain, new)
    half = 0.5 * (new.stitch_mm + new.round_mm)
    own = 0.5 * (GAUGE.stitch_mm + GAUGE.round_mm)
    for is_, wanted in ((shape.width_mm, 2 * half_width), (shape.height_mm, 2 * half_height)):
        assert abs(is_ - wanted) <= max(0.03 * wanted, half) + own
    round_the = 2.0 * math.pi * half_width
    wanted_girths = [round_the * math.sqrt(3) / 2, round_the, round_the * math.sqrt(3) / 2]
    for girth, wanted in zip(girths_at_quarters(shape), wanted_girths, strict=True):
        # Half a round further, on fabric that lies flat, a girth is pi h longer.
        least = 0.5 * new.stitch_mm + math.pi * new.round_mm
        assert abs(girth - wanted) <= max(0.03 * wanted, least) + own


@pytest.mark.parametrize("new", NEW_GAUGES, ids=["finer", "coarser", "flatter"])
def test_a_head_with_cheeks_keeps_its_measures_at_other_gauges(new: Gauge) -> None:
    head = head_with_cheeks()
    made = reworked(head, new=new)
    (plain,), (became,) = made.pattern.parts, made.parts
    check_workable(plain)
    # Half a stitch in each of the two cheeks stands out as far, on either side.
    half = 0.5 * (new.stitch_mm + new.round_mm) + 0.5 * new.stitch_mm
    for is_, wanted in zip(became.stitched_mm, became.read_mm, strict=True):
        assert abs(is_ - wanted) <= max(0.03 * wanted, half)
    # Mirror images: the two cheeks have the same stitches in every round.
    # Rounds of the cheeks that are worked even are one arc.
    arced = [r for r in plain.rounds if len(r.arcs) > 1]
    assert len(arced) >= 3
    for r in arced:
        made_by = [sum(USES[kind][1] * n for kind, n in arc) for arc in r.arcs]
        assert made_by[1] == made_by[3]
    before = girths_at_quarters(shape_of(head, GAUGE))
    for girth, wanted in zip(girths_at_quarters(shape_anew(plain, new)), before, strict=True):
        # Half a stitch in each of four arcs; half a round further, a girth is pi h longer.
        least = 4 * 0.5 * new.stitch_mm + math.pi * new.round_mm
        assert abs(girth - wanted) <= max(0.03 * wanted, least)


@pytest.mark.parametrize("new", NEW_GAUGES, ids=["finer", "coarser", "flatter"])
def test_an_oval_keeps_its_length_and_its_straight_sides(new: Gauge) -> None:
    # An oval is two half discs and what lies between: as long as its straight side and 2 r, with
    # r = (n - 2 straight sides) w / 2 pi. 5 stitches straight, 30 round the ends at last.
    sole = read_part([16, 22, 28, 34, 40], begin=Begin.OVAL, chain=7)
    made = reworked(sole, new=new)
    (plain,), (became,) = made.pattern.parts, made.parts
    check_workable(plain)
    straight = plain.chain - 2
    assert straight == round(5 * GAUGE.stitch_mm / new.stitch_mm)
    long = 5 * GAUGE.stitch_mm + 30 * GAUGE.stitch_mm / math.pi
    assert became.read_mm[0] == pytest.approx(long)
    half = 0.5 * (new.stitch_mm + new.round_mm)
    assert abs(became.stitched_mm[0] - long) <= max(0.03 * long, half)
    # Its ends grow alike, three stitches each a round, and its sides do not.
    for r in plain.rounds[1:]:
        ends = [len([kind for kind, _ in arc if kind == "inc"]) for arc in r.arcs]
        assert len(r.arcs) == 4
        assert ends[1] == ends[3] == 0


# (c) scale


def test_twice_as_large_is_twice_as_long_and_four_times_the_stitches() -> None:
    # Lengths go with the scale, areas and so stitches with its square.
    part = read_part(ball(40.0, 40.0), closed=True)
    made = reworked(part, scale=2.0)
    (plain,), (became,) = made.pattern.parts, made.parts
    for is_, was in zip(became.stitched_mm, became.read_mm, strict=True):
        assert is_ == pytest.approx(2.0 * was, rel=0.03)
    fabric = sum(n or 0 for n in part.counts)
    assert sum(counts(plain)) == pytest.approx(4.0 * fabric, rel=0.03)


def test_a_part_may_be_longer_or_wider_than_the_rest() -> None:
    arm = read_part([6, 12, *[15] * 20], title="Arm")
    made = reworked(arm, arm, longer={0: 1.5}, wider={1: 1.4})
    longer, wider = made.parts
    assert longer.stitched_mm[1] == pytest.approx(1.5 * longer.read_mm[1], rel=0.05)
    assert longer.stitched_mm[0] == pytest.approx(longer.read_mm[0], rel=0.03)
    assert wider.stitched_mm[0] == pytest.approx(1.4 * wider.read_mm[0], rel=0.03)
    assert wider.stitched_mm[1] == pytest.approx(wider.read_mm[1], rel=0.06)


# Parts that meet


@settings(max_examples=40, deadline=None)
@given(st.floats(1.5, 9.0), st.floats(0.85, 1.1), st.floats(0.6, 2.5))
def test_legs_still_go_into_their_body(wide: float, tall: float, scale: float) -> None:
    leg = read_part([6, 12, 18, 18, 18, 15, 15, 15, 15, 15], title="Leg", copies=2)
    body = read_part(
        [34, 34, 34, 36, 36, 36, 30, 24, 18],
        title="Body",
        begin=Begin.LEGS,
        chain=2,
        per_leg=(15, 15),
    )
    made = reworked(leg, body, new=Gauge(wide, wide * tall), scale=scale)
    legs, trunk = made.pattern.parts
    assert trunk.per_leg == (counts(legs)[-1],) * 2
    # The first round goes along both sides of the chain. Common practice, no source.
    assert counts(trunk)[0] == sum(trunk.per_leg) + 2 * trunk.chain
    check_workable(trunk)


def test_a_neck_that_is_sewn_stays_as_wide_on_both_sides() -> None:
    sew = Remark(5, RemarkKind.SEW, "Sew the head to the body.", NOWHERE)
    head = read_part([6, 12, 18, 24, 30, 30, 24, 18], title="Head", remarks=(sew,))
    body = read_part([6, 12, 18, 24, 24, 24, 18], title="Body")
    made = reworked(head, body, new=Gauge(4.3, 4.1), wider={1: 1.2})
    one, other = made.pattern.parts
    assert counts(one)[-1] == counts(other)[-1]


# What is not single crochet, not known, or cannot be


def test_other_stitches_become_single_crochet_and_it_is_said() -> None:
    part = worked_part(
        [(("sc", 6),), (("hdc inc", 6),), (("dc", 6), ("sl st", 6)), (("hdc", 6), ("dec3", 2))]
    )
    made = reworked(part)
    (plain,), (became,) = made.pattern.parts, made.parts
    assert counts(plain) == [6, 12, 12, 8]
    assert {kind for r in plain.rounds for arc in r.arcs for kind, _ in arc} <= {"sc", "inc", "dec"}
    assert "Rounds 2, 3 and 4 have other stitches" in became.notes[0]


def test_a_part_of_unknown_counts_stays_as_it_was() -> None:
    sure = read_part([6, 12, 18, 18], title="Ear")
    doubtful = read_part([6, 12, None, 18], title="Tail")
    made = reworked(sure, doubtful, longer={0: 2.0})
    assert len(counts(made.pattern.parts[0])) > 4
    assert counts(made.pattern.parts[1]) == [6, 12, 0, 18]
    assert made.parts[1].kept
    assert made.parts[1].notes == ("The Tail stays as it was: round 3 is not known.",)
    # In another yarn its edge no longer has the stitches of what it is sewn to.
    finer = reworked(sure, doubtful, new=Gauge(2.0, 2.0))
    assert "has other counts now" in finer.parts[1].notes[0]


def test_loops_joined_and_turned_rounds_go_along() -> None:
    part = read_part([6, 12, 18, 24, 24, 24, 24, 18, 12, 6], closed=True)
    rounds = [
        replace(r, joined=True, loops="back" if r.number == 5 else "") for r in part.rounds
    ]
    made = reworked(replace(part, rounds=tuple(rounds)), new=Gauge(1.5, 1.45))
    (plain,), (became,) = made.pattern.parts, made.parts
    looped = [r.number for r in plain.rounds if r.loops == "back"]
    assert looped == [became.rounds[4]]
    assert all(r.joined for r in plain.rounds)


@pytest.mark.parametrize(
    ("change", "match"),
    [
        ({"scale": 100.0}, "The size is to be 100 times.*between 0.05 and 20"),
        ({"longer": {0: 0.001}}, "The length of the Body is to be 0.001 times"),
        ({"wider": {4: 1.0}}, "Part 5 .*has 1 parts"),
        ({"new": Gauge(40.0, 40.0)}, "The Body would be"),
        ({"scale": 0.1}, "Body would be .*use a finer yarn"),
    ],
)
def test_what_cannot_be_is_refused(change: dict[str, Any], match: str) -> None:
    with pytest.raises(RoundlingError, match=match):
        reworked(read_part([6, 12, 18, 18, 12, 6], closed=True), **change)


def test_a_disagreeing_round_of_known_count_is_worked() -> None:
    part = read_part([6, 12, 18, 18])
    doubtful = replace(part.rounds[2], verdict=Verdict.DISAGREES, work=())
    made = reworked(replace(part, rounds=(*part.rounds[:2], doubtful, part.rounds[3])))
    assert counts(made.pattern.parts[0]) == [6, 12, 18, 18]
    assert made.parts[0].notes[0].startswith("Round 3 does not agree")
