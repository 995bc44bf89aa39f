"""Parts begun at an opening, and bodies begun on two legs."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.strategies import TEST_TOYS, default_design
from webapp.assembly import part_sizes
from webapp.errors import RoundlingError
from webapp.materials import yarn_by_colour_mm
from webapp.recipes import load_recipe
from webapp.rounds import Effort, Start, WorkOrder, work_part, work_strip
from webapp.shapes import Strip, build_meridian
from webapp.way import work_toy
from webapp.yarns import CATEGORIES, Gauge

FINE = Gauge.per_10cm(32, 33.5)


def sleeve(length: float, width: float, opening: float) -> WorkOrder:
    outline = build_meridian("sleeve", {"length": length, "width": width, "opening": opening})
    return WorkOrder("sleeve", outline, Start.OPEN)


@given(
    st.sampled_from(CATEGORIES),
    st.floats(6, 40),
    st.floats(0.7, 1.5),
    st.floats(5, 40),
    st.sampled_from((0, 400, 1080, 3000)),
)
def test_a_sleeve_is_as_long_and_as_wide_as_asked(
    category, around: float, flare: float, rounds: float, weight: int
) -> None:
    """A straight side: the slant of a frustum is sqrt(l^2 + (R - r)^2) (mensuration), so a sleeve
    has that many rounds, within one. Its opening is within 1 stitch or 4 %: our own bound."""
    gauge = category.toy_gauge
    width = around * gauge.stitch_mm / math.pi
    length = rounds * gauge.round_mm
    part = work_part(sleeve(length, width, flare * width), gauge, Effort(weight))
    slant = math.hypot(length, (flare - 1.0) * width / 2.0)
    assert abs(len(part.counts) - slant / gauge.round_mm) <= 1.0
    assert abs(part.counts[0] - around) <= max(1.0, 0.04 * around) + 1e-9
    sizes = {size.what: size for size in part_sizes([part])}
    begun = sizes["opening at the start"]
    assert begun.asked_mm == pytest.approx(math.pi * width)
    assert begun.stitched_mm == part.counts[0] * gauge.stitch_mm


def test_a_straight_sleeve_is_a_cylinder() -> None:
    """Area pi d l and volume pi d^2 l / 4: the cylinder's closed forms."""
    part = work_part(sleeve(60, 50, 50), FINE, Effort(0))
    assert set(part.counts) == {50}  # pi 50 mm / 3.125 mm = 50.3
    area = sum(part.counts) * FINE.stitch_mm * FINE.round_mm
    assert area == pytest.approx(math.pi * 50 * 60, rel=0.03)
    assert part.rings.volume_mm3 == pytest.approx(math.pi * 50**2 / 4 * 60, rel=0.03)
    assert part.rings.radius_mm[0] == pytest.approx(25, rel=0.01)
    assert part.start_chains == 50


@pytest.mark.parametrize(
    ("shape", "lengths", "area"),
    [
        # The zone of a sphere has the area 2 pi R h, h its height (Archimedes): R 40, cut where it
        # is 48 mm wide, h = 40 + 32; of the pear only its start is looked at.
        ("egg", {"height": 72, "width": 80, "start": 48, "widest": 32 / 72}, 2 * math.pi * 40 * 72),
        ("pear", {"height": 90, "width": 66, "top": 40, "start": 30}, None),
    ],
)
def test_eggs_and_pears_can_begin_at_an_opening(shape, lengths, area) -> None:
    outline = build_meridian(shape, lengths)
    assert outline.start_girth_mm == pytest.approx(math.pi * lengths["start"])
    assert outline.height_mm == pytest.approx(lengths["height"])
    part = work_part(WorkOrder(shape, outline, Start.OPEN), FINE, Effort(0))
    assert part.counts[0] == pytest.approx(math.pi * lengths["start"] / FINE.stitch_mm, abs=1.5)
    if area:
        counts = np.array((part.counts[0], *part.counts, 0))
        fabric = ((counts[1:] + counts[:-1]) / 2).sum() * FINE.stitch_mm * FINE.round_mm
        assert fabric == pytest.approx(area, rel=0.03)


def test_an_outline_can_begin_off_its_axis() -> None:
    points = [(0, 0.5), (0.5, 1.0), (1, 0.6)]
    outline = build_meridian("outline", {"length": 60, "width": 50}, points)
    assert outline.start_girth_mm == pytest.approx(math.pi * 25)
    assert outline.radius_mm.max() == pytest.approx(25, rel=0.02)
    part = work_part(WorkOrder("skirt", outline, Start.OPEN), FINE, Effort(0))
    assert part.counts[0] == pytest.approx(math.pi * 25 / FINE.stitch_mm, abs=1)


@pytest.mark.parametrize("base", [4, 6, 8])
def test_an_opening_keeps_the_base_number_where_it_is_near(base: int) -> None:
    """Multiples of the base number divide evenly: common practice, no source."""
    width = (5 * base + 0.7) * FINE.stitch_mm / math.pi
    outline = build_meridian("sleeve", {"length": 40, "width": width})
    order = WorkOrder("sleeve", outline, Start.OPEN, ring=base)
    assert set(work_part(order, FINE, Effort(3000)).counts) == {5 * base}


@pytest.mark.parametrize(
    ("lengths", "why"),
    [
        ({"height": 60, "width": 40, "start": 50}, "only 40 mm wide"),
        ({"height": 60, "width": 40, "start": 20, "opening": 60}, "only 40 mm wide"),
    ],
)
def test_an_opening_wider_than_its_part_is_refused(lengths, why: str) -> None:
    with pytest.raises(RoundlingError, match=why):
        build_meridian("egg", lengths)


def test_a_sleeve_of_three_stitches_is_refused() -> None:
    with pytest.raises(RoundlingError, match="needs at least 4"):
        work_part(sleeve(30, 2.5, 2.5), FINE, Effort(0))


def test_a_tube_as_wide_as_a_house_is_refused() -> None:
    """5 m across at 3.1 mm a stitch is 5,027 stitches: pi times the width."""
    wide = sleeve(100, 5000, 5000)
    assert math.pi * 5000 / FINE.stitch_mm > 3000
    with pytest.raises(RoundlingError, match="No round may have more than 3000"):
        work_part(wide, FINE, Effort(0))


@pytest.mark.parametrize(
    ("length", "width", "said"),
    [
        (4.0, 20.0, ("4 mm long", "1.3 rows", "6 mm long or more")),
        (60.0, 4.0, ("4 mm wide", "1.2 stitches", "mm wide or more")),
        (60.0, 9000.0, ("2880 stitches in a row", "No row may have more than 2000")),
        (9000.0, 60.0, ("3015 rows", "more than 2000")),
    ],
)
def test_a_strip_is_refused_for_what_is_wrong_with_it(
    length: float, width: float, said: tuple[str, ...]
) -> None:
    """At 32 stitches and 33.5 rows in 10 cm 4 mm are 1.3 of each: the sentences are of the length
    where that is too short, of the width where that is too wide."""
    with pytest.raises(RoundlingError) as refused:
        work_strip("scarf", Strip(length, width), FINE)
    for words in said:
        assert words in str(refused.value)


def test_a_crown_sits_on_the_very_top() -> None:
    """A ring of radius a on a ball of radius R lies R - sqrt(R^2 - a^2) below its pole (closed
    geometry), here as far as the fabric gives: the crown rises by most of its own length."""
    recipe = load_recipe(TEST_TOYS / "wader.toml")
    toy = work_toy(recipe, default_design(recipe))
    head, crown = toy.placed["head"], toy.placed["crown"]
    ring, ball = float(crown.edge_side_mm[-1]), float(head.edge_side_mm.max())
    below = ball - math.sqrt(ball**2 - ring**2)
    sunk = crown.part.height_mm - (toy.size.overall_height_mm - toy.size.height_mm)
    assert 0.0 < sunk <= below
    assert crown.recipe.filling.value == "none"


def test_the_chain_of_an_opening_is_in_the_yarn() -> None:
    """A chain takes half the yarn of a single crochet, a decrease 1.2 times as much (common
    practice, no source), a single crochet 6.5 widths (two makers' measurements); with a tail of
    150 mm at each end, one to sew by, and a tenth over."""
    recipe = load_recipe(TEST_TOYS / "wader.toml")
    toy = work_toy(recipe, default_design(recipe))
    crown = toy.parts["crown"]
    decreases = sum(a - b for r in crown.sectors[1:] for a, b in r if a > b)
    shares = crown.stitches + 0.2 * decreases + 0.5 * crown.counts[0]
    edge = crown.counts[-1] * crown.gauge.stitch_mm
    tail = 100 * math.ceil((3 * edge + 150) / 100)
    wanted = 1.1 * (6.5 * crown.gauge.stitch_mm * shares + 300 + tail)
    assert yarn_by_colour_mm(toy)["knit"] == pytest.approx(wanted)
