"""The still picture: what hides what where parts are set into each other.

Two balls that cut through each other meet in a circle, and seen along the line through their
middles the smaller shows inside that circle alone: closed geometry of spheres.
"""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from tests.strategies import design_of, recipes
from webapp.preview.still import SIZE, still_of
from webapp.preview.surfaces import GLINT_COLOUR, Surface, surfaces_of
from webapp.shapes.meridian import Floats
from webapp.way import make_toy

RADIUS = 50.0
NOD = math.radians(8.0)
"""The picture is seen from so much above, towards +y: as the module has it."""

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

GREEN = re.compile(r"#00[0-9a-f]{2}00")


def ball(name: str, colour: str, radius: float, middle: Floats) -> Surface:
    rows, segments = 25, 32
    down = np.linspace(0.0, math.pi, rows)[:, None]
    around = np.linspace(0.0, 2.0 * math.pi, segments, endpoint=False)[None, :]
    x, y = np.sin(down) * np.cos(around), np.sin(down) * np.sin(around)
    points = np.stack(np.broadcast_arrays(x, y, np.cos(down)), axis=-1) * radius + middle
    numbers = tuple(range(rows))
    return Surface(name, name, colour, points, np.zeros(rows), numbers, numbers)


STEP = 12
SPOTS = np.stack(np.meshgrid(*[np.arange(6.0, SIZE, STEP)] * 2), axis=-1).reshape(-1, 2)
STROKE = 2.0
"""Facets reach so much beyond their corners: half the width of their strokes."""


def green(svg: str) -> Flags:
    """Which of the spots are green in the end, when all facets are painted in order."""
    shown = np.zeros(len(SPOTS), dtype=np.bool_)
    for fill, path in re.findall(r'<path fill="(#\w+)"[^>]* d="([^"]+)"', svg):
        numbers = np.array(re.findall(r"-?\d+", path), dtype=np.float64)
        for quad in numbers.reshape(-1, 4, 2):
            reach = np.abs(SPOTS - quad.mean(axis=0)) <= np.ptp(quad, axis=0) + STROKE
            near = np.flatnonzero(reach.all(axis=1))
            side = np.roll(quad, -1, axis=0) - quad
            away = SPOTS[near, None] - quad
            beside = side[:, 0] * away[..., 1] - side[:, 1] * away[..., 0]
            beside /= np.maximum(np.hypot(*side.T), 1.0)
            inside = (beside >= -STROKE).all(axis=1) | (beside <= STROKE).all(axis=1)
            shown[near[inside]] = bool(GREEN.fullmatch(fill))
    return shown


@pytest.mark.parametrize(("radius", "away"), [(30.0, 30.0), (30.0, 25.0), (20.0, 35.0)])
def test_balls_set_into_each_other_show_the_circle_they_meet_in(
    radius: float, away: float
) -> None:
    towards = np.array([0.0, -math.cos(NOD), math.sin(NOD)])
    large = ball("large", "#ff0000", RADIUS, np.zeros(3))
    small = ball("small", "#00ff00", radius, towards * away)
    svg = still_of([large, small], set(), "balls", {"front": 0.0})
    # Where the plane of the circle lies on the line of middles; it hides the equator of the small.
    plane = (away**2 + RADIUS**2 - radius**2) / (2.0 * away)
    assert plane > away
    meets = math.sqrt(RADIUS**2 - plane**2) * (SIZE - 80) / (2.0 * RADIUS)
    shown, from_middle = green(svg), np.hypot(*(SPOTS - SIZE / 2).T)
    # No teeth: the edge is that circle to the size of a few cells and the coarseness of the nets.
    assert shown[from_middle < meets - 14.0].all()
    assert not shown[from_middle > meets + 14.0].any()


def test_what_is_behind_is_not_drawn_at_all() -> None:
    """A small ball within a large one: none of its facets is in the file."""
    large = ball("large", "#ff0000", RADIUS, np.zeros(3))
    small = ball("small", "#00ff00", 20.0, np.zeros(3))
    assert not GREEN.search(still_of([large, small], set(), "balls", {"front": 0.0}))
    assert GREEN.search(still_of([small], set(), "ball", {"front": 0.0}))


def test_a_net_wound_the_other_way_is_drawn_the_same() -> None:
    """A mirrored twin has its facets wound the other way round: outwards is found, not taken."""
    one = ball("one", "#00ff00", RADIUS, np.zeros(3))
    back = Surface(
        one.part, one.label, one.colour, one.points[:, ::-1], one.raised, one.rounds, one.counts
    )
    spots = [int(green(still_of([s], set(), "ball", {"front": 0.0})).sum()) for s in (one, back)]
    whole = math.pi * ((SIZE - 80) / 2.0) ** 2 / STEP**2
    assert spots == [pytest.approx(whole, rel=0.03)] * 2


def test_a_flat_disc_is_seen_from_above() -> None:
    """It has two outsides; seen from 8 degrees above it is an ellipse, 1 to sin 8 degrees (geometry
    of a circle seen aslant)."""
    rows, segments = 6, 48
    around = np.linspace(0.0, 2.0 * math.pi, segments, endpoint=False)[None, :]
    out = np.linspace(0.0, RADIUS, rows)[:, None]
    level = np.zeros((rows, segments))
    points = np.stack((out * np.cos(around), out * np.sin(around), level), axis=-1)
    numbers = tuple(range(rows))
    disc = Surface("disc", "disc", "#00ff00", points, np.zeros(rows), numbers, numbers)
    paths = re.findall(r' d="([^"]+)"', still_of([disc], set(), "Disc", {"front": 0.0}))
    corners = np.array(re.findall(r"(\d+) (\d+)", " ".join(paths)), dtype=np.float64)
    wide, tall = np.ptp(corners, axis=0)
    assert tall / wide == pytest.approx(math.sin(NOD), abs=0.01)


@pytest.mark.parametrize("name", ["otter", "owl", "rabbit", "whale"])
def test_the_light_on_an_eye_lies_on_it_whichever_way_it_looks(name: str) -> None:
    """An eye is an ellipsoid: by the extents along its three axes, what lies on it is about 1 from
    its middle. The light comes from the upper left of whoever faces either eye."""
    toy = make_toy(recipes()[name], design_of(recipes()[name]))
    drawn = [s for s in surfaces_of(toy.worked, toy.materials.eyes) if s.label == "Eyes"]
    eyes = [s.points.reshape(-1, 3) for s in drawn if s.colour != GLINT_COLOUR]
    lights = [s.points.reshape(-1, 3) for s in drawn if s.colour == GLINT_COLOUR]
    assert len(eyes) == len(lights) == 2
    for eye in eyes:
        middle = eye.mean(axis=0)
        (light,) = (some for some in lights if some[:, 0].mean() * middle[0] > 0.0)
        axes = np.linalg.svd(eye - middle)[2]
        shares = (light - middle) @ axes.T / np.abs((eye - middle) @ axes.T).max(axis=0)
        assert np.linalg.norm(shares, axis=1).max() < 1.3
        aside = light.mean(axis=0) - middle
        facing = axes[2] * np.sign(axes[2] @ aside)
        left = np.cross(facing, (0.0, 0.0, 1.0))
        assert aside[2] > 0.0
        assert aside @ left > 0.0
