"""Front and side view as SVG, drawn by the server from the same rings as the 3D view.

Of facets that face the viewer what is seen (:mod:`webapp.preview.seen`) is painted, body by body,
in one of a few shades of its colour by how it faces a soft light from the upper left.
"""

from __future__ import annotations

import math
from functools import lru_cache
from html import escape
from itertools import groupby
from operator import itemgetter

import numpy as np

from webapp.assembly import WorkedToy
from webapp.materials import EyeNeed
from webapp.preview.seen import Ints, Pieces, pieces
from webapp.preview.surfaces import Surface, surfaces_of
from webapp.recipes import Seat
from webapp.shapes.meridian import Floats

SHADES = 22
ROUND_TINT = 0.07
"""How much darker every other round is drawn, where it has no ridge to be seen by."""

LIGHT: Floats = np.array([-0.45, -0.62, 0.64])
SIDE_TURN = 58.0
"""Degrees that the side view is turned further than the front view, which is the recipe's own."""

INSIDE = 0.2
"""How much of the light reaches the inside of an open part."""

SIZE = 1200
NEARER_MM = 2.5
CELL = 6
"""What hides what is found to so many units of the picture."""


def still_svg(
    toy: WorkedToy, eyes: EyeNeed | None, *, views: tuple[str, ...] = ("front", "side")
) -> str:
    """An SVG picture of the toy, the views side by side; it says what it shows."""
    surfaces = surfaces_of(toy, eyes, segments=32)
    # A toy shown from the side to begin with is turned back for its other view.
    further = -SIDE_TURN if toy.recipe.lies_down else SIDE_TURN
    turns = {"front": toy.recipe.turn, "side": toy.recipe.turn + further}
    sewn_on = {p.name for p in toy.recipe.parts if p.place.seat in (Seat.SURFACE, Seat.NECK)}
    return still_of(surfaces, sewn_on, toy.recipe.name, {view: turns[view] for view in views})


def still_of(
    surfaces: list[Surface], sewn_on: set[str], title: str, turns: dict[str, float]
) -> str:
    """The same for any surfaces: each view by its name and the degrees it is turned by;
    ``sewn_on`` are the parts that are sewn onto others."""
    drawn = [
        _view(surfaces, sewn_on, math.radians(turn), SIZE * n)
        for n, turn in enumerate(turns.values())
    ]
    name, words = escape(title), " and ".join(turns)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIZE * len(turns)} {SIZE}" '
        f'role="img" aria-label="{name}, {words} view">'
        f"<title>{name}, {words} view</title>{''.join(drawn)}</svg>"
    )


def _view(surfaces: list[Surface], sewn_on: set[str], turn: float, left: int) -> str:
    """One view: all facets of all surfaces, sorted and painted.

    What is sewn or stuck on is painted as if a little nearer, so that its host does not show
    through where their facets meet.
    """
    c, s, tip = math.cos(turn), math.sin(turn), math.radians(8.0)
    spin = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
    nod = np.array(
        [
            [1.0, 0.0, 0.0],
            [0.0, math.cos(tip), -math.sin(tip)],
            [0.0, math.sin(tip), math.cos(tip)],
        ]
    )
    view = spin.T @ nod.T
    corners, lit, fills, nearer = [], [], [], []
    for surface in surfaces:
        points = surface.points @ view
        quads = _quads(points)
        normal = np.cross(quads[:, 2] - quads[:, 0], quads[:, 3] - quads[:, 1])
        length = np.linalg.norm(normal, axis=1)
        outwards = surface.outwards or np.where(normal[:, 1] > 0.0, -1.0, 1.0)
        normal = normal * (outwards / np.maximum(length, 1e-12))[:, None]
        if surface.hollow:
            # The inside is in the shade.
            away = normal[:, 1] >= 0.02
            normal = np.where(away[:, None], -normal * INSIDE, normal)
        faces = (normal[:, 1] < 0.02) & (length > 1e-9)
        corners.append(quads[faces])
        rows = np.arange(len(quads)) // surface.points.shape[1]
        tint = ROUND_TINT * (rows % 2) * _even(surface)
        lit.append((normal @ LIGHT - tint)[faces])
        fills += [surface.colour] * int(faces.sum())
        nudge = NEARER_MM * ((surface.part in sewn_on) + 2.0 * (not surface.rounds))
        nearer.append(np.full(int(faces.sum()), nudge))
    if not fills:
        return ""  # a table without a part
    quads, nudges = np.concatenate(corners), np.concatenate(nearer)
    steps = np.round((np.concatenate(lit) * 0.5 + 0.5) * (SHADES - 1))
    shades = np.clip(steps, 0, SHADES - 1).astype(int)
    bodies = np.repeat(_bodies(surfaces), [len(some) for some in corners])
    seen = pieces(quads, bodies, nudges, CELL / _scale(quads))
    colours = [fills[n] for n in seen.of.tolist()]
    order = _order(seen, bodies[seen.of], nudges[seen.of], colours, shades[seen.of])
    return _painted(seen.quads, order, shades[seen.of], colours, left)


def _order(
    seen: Pieces, body: Ints, nearer_mm: Floats, colours: list[str], shades: Ints
) -> Ints:
    """In what order pieces are painted: what goes under the others, then body by body from the
    farthest, each shade of a body at once, the dark ones first. What hides what is found already;
    this only settles whose edge lies over whose, and few paths are quick to draw."""
    deep = seen.quads[:, :, 1].mean(axis=1) - nearer_mm
    many = np.maximum(np.bincount(body), 1)
    middle = np.bincount(body, deep) / many
    _, hue = np.unique(np.array(colours), return_inverse=True)
    return np.lexsort((hue, shades, body, -middle[body], ~seen.under))


def _bodies(surfaces: list[Surface]) -> list[int]:
    """Which surfaces are one body: the colours of a part, but not its twin nor what is on it."""
    keys = [
        (s.part, s.copy, bool(s.points[..., 0].mean() > 0.0), () if s.rounds else n)
        for n, s in enumerate(surfaces)
    ]
    return [keys.index(key) for key in keys]


def _scale(quads: Floats) -> float:
    """Units of the picture a millimetre, for all facets to find room."""
    flat = quads[:, :, (0, 2)].reshape(-1, 2)
    return (SIZE - 80) / float((flat.max(axis=0) - flat.min(axis=0)).max())


def _quads(points: Floats) -> Floats:
    """Facets between neighbouring rows; shape (facets, 4, 3)."""
    across = np.roll(points, -1, axis=1)
    quads = np.stack((points[:-1], across[:-1], across[1:], points[1:]), axis=2)
    return quads.reshape(-1, 4, 3)


def _even(surface: Surface) -> bool:
    """Whether its rounds are drawn without ridges: one row each."""
    return 0 < len(surface.rounds) < 1.5 * len(set(surface.rounds))


def _painted(
    quads: Floats,
    order: Ints,
    shades: Ints,
    fills: list[str],
    left: int,
) -> str:
    flat = quads[:, :, (0, 2)]
    low, high = flat.reshape(-1, 2).min(axis=0), flat.reshape(-1, 2).max(axis=0)
    scale = _scale(quads)
    middle = (low + high) / 2.0
    xs = np.rint(left + SIZE / 2 + (flat[:, :, 0] - middle[0]) * scale).astype(int)
    ys = np.rint(SIZE / 2 - (flat[:, :, 1] - middle[1]) * scale).astype(int)
    # One flat list of numbers is made far quicker than one for each facet.
    corners = iter(np.stack((xs, ys), axis=2)[order].ravel().tolist())
    paths = [
        f"M{a} {b}L{c} {d}L{e} {f}L{g} {h}z"
        for a, b, c, d, e, f, g, h in zip(*[corners] * 8, strict=True)
    ]
    steps = shades[order].tolist()
    painted = [_fill(fills[n], step) for n, step in zip(order.tolist(), steps, strict=True)]
    out = []
    for fill, own in groupby(zip(painted, paths, strict=True), key=itemgetter(0)):
        out.append(f'<path fill="{fill}" stroke="{fill}" d="{"".join(d for _, d in own)}"/>')
    return f'<g stroke-width="4" stroke-linejoin="bevel">{"".join(out)}</g>'


@lru_cache(maxsize=256)
def _fill(colour: str, step: int) -> str:
    """A shade of a colour, 0 darkest: shadows go warm and never black."""
    factor = 0.52 + 0.58 * step / (SHADES - 1)
    warm = (1.0, 0.97, 0.93) if factor < 0.8 else (1.0, 1.0, 1.0)
    channels = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    parts = (min(255, round(c * factor * w)) for c, w in zip(channels, warm, strict=True))
    return "#" + "".join(f"{p:02x}" for p in parts)
