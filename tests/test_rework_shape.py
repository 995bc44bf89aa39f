"""The shape of what was read: closed forms, openings, flat pieces, and what is not known."""

from __future__ import annotations

import base64
import math

import numpy as np
import pytest

from tests.readings import pattern_of, read_part
from webapp.reading import Begin
from webapp.rework.figure import figure_of, still_svg_of
from webapp.rework.shape import shape_of
from webapp.rounds import Start
from webapp.yarns import Gauge

SQUARE = Gauge(5.0, 5.0)


def sphere_counts(radius_mm: float, gauge: Gauge) -> list[int]:
    """Whole stitches of a ball: N(s) = (2 pi R / w) sin(s / R), the sine law of a sphere's laps,
    at s = k h, for all rounds but the gathered pole."""
    rounds = round(math.pi * radius_mm / gauge.round_mm) - 1
    step = math.pi / (rounds + 1)
    most = 2.0 * math.pi * radius_mm / gauge.stitch_mm
    return [round(most * math.sin(step * k)) for k in range(1, rounds + 1)]


@pytest.mark.parametrize(
    "gauge",
    [
        Gauge(3.1, math.pi * 40.0 / 42),
        Gauge(2.6, math.pi * 40.0 / 46),
        Gauge(4.0, math.pi * 40.0 / 35),
    ],
)
def test_a_ball_by_the_sine_law_is_as_high_as_wide(gauge: Gauge) -> None:
    # Rounds so high that they go whole times into half the girth.
    # Closed form: a ball of radius 40 mm is 80 mm high, 80 mm wide, and holds 4/3 pi R^3.
    shape = shape_of(read_part(sphere_counts(40.0, gauge), closed=True), gauge)
    assert shape.height_mm == pytest.approx(80.0, rel=0.03)
    assert shape.width_mm == pytest.approx(80.0, rel=0.03)
    assert shape.part is not None
    assert shape.part.rings.volume_mm3 == pytest.approx(268082.573, rel=0.05)


def test_a_tube_is_as_high_as_its_rounds() -> None:
    # A cylinder of n stitches and k rounds: girth n w, height k h.
    shape = shape_of(read_part([30] * 20, begin=Begin.CHAIN_RING), SQUARE)
    assert shape.part is not None
    assert shape.part.order.start is Start.OPEN
    assert shape.height_mm == pytest.approx(20 * 5.0)
    assert shape.width_mm == pytest.approx(30 * 5.0 / math.pi)


def test_a_disc_of_the_flat_increase_lies_flat() -> None:
    # 2 pi h / w more stitches a round is flat: a disc's girth grows by 2 pi h a round.
    shape = shape_of(read_part([6, 13, 19, 25, 31, 38, 44, 50]), SQUARE)
    assert shape.width_mm == pytest.approx(50 * 5.0 / math.pi)
    assert shape.height_mm < 10.0


def test_an_oval_keeps_its_straight_sides() -> None:
    # Chain of 7: 5 stitches on each side and 3 round each end, then 6 more a round: at h = w the
    # ends are flat half discs, so the width is 2 r + the straight side. Common practice, no source.
    shape = shape_of(read_part([16, 22, 28], begin=Begin.OVAL, chain=7), SQUARE)
    assert shape.part is not None
    assert shape.part.straight_stitches == 5
    assert shape.width_mm == pytest.approx((28 - 10) * 5.0 / math.pi + 25.0)


def test_legs_lie_as_an_eight() -> None:
    part = read_part([34, 34, 34, 34, 34, 34], begin=Begin.LEGS, chain=2, per_leg=(15, 15))
    shape = shape_of(part, SQUARE)
    assert shape.part is not None
    assert shape.part.order.start is Start.LEGS
    assert shape.part.per_leg == 15
    figure = figure_of(pattern_of(part), SQUARE)
    assert len(figure["data"]) == 1


def test_rows_are_a_flat_piece() -> None:
    part = read_part([10] * 8, begin=Begin.FLAT, rows=True, chain=11)
    shape = shape_of(part, SQUARE)
    assert shape.part is None
    assert (shape.width_mm, shape.height_mm) == (50.0, 40.0)
    xyz = corners(figure_of(pattern_of(part), SQUARE)["data"][0])
    assert np.ptp(xyz[0]) == pytest.approx(50.0, rel=1e-6)
    assert np.ptp(xyz[2]) == pytest.approx(40.0, rel=1e-6)


def test_what_is_not_known_is_not_drawn_and_said() -> None:
    shape = shape_of(read_part([6, 12, 18, None, 24, 24]), SQUARE)
    assert shape.counts == (6, 12, 18)
    assert shape.unknown_from == 4
    assert [(f.first, f.last) for f in shape.findings][:1] == [(4, 6)]
    assert "without rounds 4 to 6" in shape.findings[0].says
    nothing = shape_of(read_part([None, 12]), SQUARE)
    assert nothing.counts == ()
    assert figure_of(pattern_of(read_part([None, 12])), SQUARE)["data"] == []
    assert still_svg_of(pattern_of(read_part([])), SQUARE) == ""


def corners(mesh: dict[str, object]) -> np.ndarray:
    """The corners of a packed mesh, shape (3, corners)."""
    packed = [mesh[axis]["bdata"] for axis in "xyz"]  # type: ignore[index]
    return np.array([np.frombuffer(base64.b64decode(p), "<f4") for p in packed])


def test_parts_stand_side_by_side_on_the_floor_by_their_names() -> None:
    ball = read_part([6, 12, 18, 18, 18, 12, 6], closed=True, title="Head")
    tube = read_part([12] * 9, begin=Begin.CHAIN_RING, title="Arm")
    figure = figure_of(pattern_of(ball, tube, tube), SQUARE)
    assert [h["part"] for h in figure["hover"]] == ["Head", "Arm", "Arm (2)"]
    meshes = [corners(mesh) for mesh in figure["data"]]
    for xyz in meshes:
        assert xyz[2].min() == pytest.approx(0.0, abs=1e-3)
    for left, right in zip(meshes, meshes[1:], strict=False):
        assert left[0].max() < right[0].min()
    assert still_svg_of(pattern_of(ball, tube), SQUARE).startswith("<svg")
