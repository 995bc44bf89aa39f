"""Seams, eyes and marks in the words a maker counts in: rounds and stitches of the host.

A place under a sewn edge is found along the fabric: from the middle of the edge so many round
heights along the host's outline, and so far round it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from webapp.assembly.frames import FRONT, RIGHT, UP, cross
from webapp.assembly.lines import FabricLine, line_on
from webapp.assembly.place import Placed, PlacedPart
from webapp.errors import RoundlingError
from webapp.formulas import evaluate
from webapp.recipes import EyeSpec, Mark, MarkKind, Seat
from webapp.shapes.meridian import Floats

ROUND_RIM = np.linspace(0.0, 2.0 * math.pi, 24, endpoint=False)[:, None]
FLAT_RIM = np.array([-math.pi / 2.0, math.pi / 2.0])[:, None]
"""Where on a sewn edge, radians from the part's reference: all round, or the ends of a fold."""


@dataclass(frozen=True)
class Seam:
    """What is sewn where.

    ``first_round`` and ``last_round`` bound the sewn edge on the host (the edge of a round has the
    round's number; 0 is the start). ``side`` says where on the host it is (front, back, side; top
    or underside of a host lying down). A pair is ``apart`` stitches of round ``counted_on``,
    counted over the side named ``over``. ``inner_round`` and ``outer_round`` are where the two ends
    of an edge folded flat lie, the former nearer to the twin. ``long_way`` is how a long edge lies:
    across, upright or forward; of copies also round, lengthwise or outwards. ``stitches`` are those
    of the sewn edge. Several copies that go evenly round the host are ``evenly`` many, ``apart`` to
    ``apart_most`` stitches from middle to middle, the first of them ``first_at`` stitches from the
    middle of the front (or top).
    """

    part: str
    host: str
    seat: Seat
    first_round: int
    last_round: int
    stitches: int
    side: str = ""
    apart: int = 0
    counted_on: int = 0
    over: str = ""
    inner_round: int = 0
    outer_round: int = 0
    long_way: str = ""
    evenly: int = 1
    apart_most: int = 0
    first_at: int = 0


@dataclass(frozen=True)
class EyePlace:
    """Between which rounds of which part, how many stitches apart."""

    on: str
    below_round: int
    apart: int


@dataclass(frozen=True)
class MarkPlace:
    """An embroidered mark: over which rounds of its part, how many stitches wide; a line also has
    its way over the fabric."""

    mark: Mark
    first_round: int
    last_round: int
    stitches: int
    line: FabricLine | None = field(default=None, compare=False)


def seam_of(placed: Mapping[str, Placed], name: str) -> Seam | None:
    """The seam by which a part is sewn on; None for what nothing carries, and for joined legs."""
    guest = placed[name]
    host = placed.get(guest.recipe.place.on)
    seat = guest.recipe.place.seat
    if seat is Seat.JOINED or host is None or not isinstance(host, PlacedPart):
        return None
    rounds = len(host.part.rounds)
    if not isinstance(guest, PlacedPart) or seat is not Seat.SURFACE:
        return Seam(name, host.recipe.name, seat, rounds, rounds, host.part.counts[-1])
    flat = guest.part.order.outline.flatness < 1.0
    edges, angles = _under_edge(guest, host, FLAT_RIM if flat else ROUND_RIM)
    first = max(0, math.floor(min(edges)))
    last = max(first + 1, min(rounds, math.ceil(max(edges))))
    side = _side(host, abs(math.radians(guest.recipe.place.around)))
    apart, counted_on, over = 0, 0, ""
    in_front = min(angles) <= math.pi - max(angles)
    nearest = angles.index(min(angles) if in_front else max(angles))
    if guest.recipe.place.pair:
        gap = angles[nearest] if in_front else math.pi - angles[nearest]
        counted_on = min(rounds, max(1, round(edges[nearest])))
        more = bulging_count(host, counted_on, gap, behind=not in_front)
        apart = max(0, round(gap / math.pi * plain_count(host, counted_on) + more))
        over = _side(host, 0.0 if in_front else math.pi)
    most = first_at = 0
    times = guest.recipe.place.times
    if times > 1:
        at = host.edge_at(guest.recipe.place.along)
        counted_on = min(rounds, max(1, round(at)))
        girth = plain_count(host, counted_on)
        apart, most = girth // times, -(-girth // times)
        first_at = round(_first_copy(guest) / 360.0 * girth)
        over = _side(host, 0.0)
    inner = outer = 0
    if flat:
        # The two ends of the fold; the one nearer to the twin is the inner.
        inner, outer = (
            min(rounds, max(1, round(edges[n]))) for n in (nearest, 1 - nearest)
        )
    return Seam(
        name,
        host.recipe.name,
        seat,
        first,
        last,
        guest.part.counts[-1],
        side,
        apart,
        counted_on,
        over,
        inner,
        outer,
        _long_way(guest, host),
        times,
        most,
        first_at,
    )


def _first_copy(guest: PlacedPart) -> float:
    """Degrees from the front (or top) to the copy nearest to it, on the reader's right or in the
    middle."""
    return min((copy.recipe.place.around + 1e-6) % 360.0 for copy in guest.copies)


def plain_count(host: PlacedPart, number: int) -> int:
    """Stitches of a round without those that its bulges have more."""
    part = host.part
    girth = 2.0 * math.pi * float(part.rings.radius_mm[number])
    return round(girth / part.gauge.stitch_mm) + 2 * part.straight_stitches


def bulging_count(host: PlacedPart, number: int, angle: float, *, behind: bool = False) -> float:
    """Stitches more, by a bulge, that lie within ``angle`` (radians) of the front, or of the back.

    Cheeks have none: what is counted beside them is counted over the face, which is plain.
    """
    part = host.part
    groups = [g for g in part.shaped if g.first_round <= number <= g.last_round]
    if part.order.side_start or not groups:
        return 0.0
    bulge, half = groups[0].bulge, math.pi * groups[0].bulge.arc
    extra = part.counts[number - 1] - plain_count(host, number)
    middle = math.pi - abs(bulge.middles[0]) if behind else abs(bulge.middles[0])
    low, high = max(0.0, middle - half), middle + half
    inside = min(1.0, max(0.0, (min(angle, high) - low) / (high - low)))
    return extra * inside


def _under_edge(
    guest: PlacedPart, host: PlacedPart, turn: Floats
) -> tuple[list[float], list[float]]:
    """Host edge numbers and angles (0 to pi from the reference) under points of the sewn edge."""
    place, frame = guest.recipe.place, guest.frame
    around, edge = math.radians(place.around), host.edge_at(place.along)
    rim = np.cos(turn) * (float(guest.edge_ref_mm[-1]) * frame.reference) + np.sin(turn) * (
        float(guest.edge_side_mm[-1]) * frame.side
    )
    way, turn_round = host.tangents(edge, around)
    last = float(len(host.part.rounds))
    smooth = host.part.rings.smooth_mm
    edges = np.minimum(last, np.maximum(0.0, edge + (rim @ way) / host.part.gauge.round_mm))
    radii = np.maximum(np.interp(edges, np.arange(len(smooth)), smooth), host.part.gauge.stitch_mm)
    angles = np.minimum(math.pi, np.abs(around + (rim @ turn_round) / radii))
    return edges.tolist(), angles.tolist()


def _long_way(guest: PlacedPart, host: PlacedPart) -> str:
    """How the long side of an oval lies on the toy; of copies that go round their host, on that."""
    if not guest.part.straight_stitches:
        return ""
    side = guest.frame.side
    ways = {"across": RIGHT, "upright": UP, "forward": FRONT}
    if guest.others:
        angle = math.radians(guest.recipe.place.around)
        out = math.cos(angle) * host.frame.reference + math.sin(angle) * host.frame.side
        lengthwise = "lengthwise" if _lies(host) else "upright"
        ways = {lengthwise: host.frame.axis, "outwards": out, "round": cross(host.frame.axis, out)}
    return max(ways, key=lambda way: abs(float(side @ ways[way])))


def _side(host: PlacedPart, angle: float) -> str:
    lying = _lies(host)
    if angle < math.pi / 3.2:
        return "top" if lying else "front"
    if angle > 2 * math.pi / 3:
        return "underside" if lying else "back"
    return "side"


def _lies(host: PlacedPart) -> bool:
    return abs(float(host.frame.axis[2])) < 0.5


def eye_place(spec: EyeSpec, placed: Mapping[str, Placed]) -> EyePlace:
    """Where the eyes go, in rounds and stitches of the part that carries them."""
    host = placed[spec.on]
    assert isinstance(host, PlacedPart)
    rounds = len(host.part.rounds)
    below = min(rounds - 1, max(1, math.floor(host.edge_at(spec.along))))
    more = bulging_count(host, below, math.radians(spec.around))
    apart = max(1, round(plain_count(host, below) * 2.0 * spec.around / 360.0 + more))
    return EyePlace(spec.on, below, apart)


def mark_place(
    mark: Mark, placed: Mapping[str, Placed], dimensions: Mapping[str, float]
) -> MarkPlace:
    """Where a mark goes and how large it is, in rounds and stitches of its part.

    Raises :class:`RoundlingError` where its width or height is no length.
    """
    host = placed[mark.on]
    assert isinstance(host, PlacedPart)
    width, height = evaluate(mark.width, dimensions), evaluate(mark.height, dimensions)
    line = mark.kind is MarkKind.LINE
    for what, length in (("width", width), ("height", 1.0 if line else height)):
        if length <= 0.0:
            raise RoundlingError(
                asked=f"{mark.label}: a {what} of {length:.1f} mm was asked for.",
                why="A length is more than 0.",
                nearest=f"Mend the mark's {what} in its recipe.",
                field=mark.label.lower(),
            )
    gauge, rounds = host.part.gauge, len(host.part.rounds)
    stitches = max(1, round(width / gauge.stitch_mm))
    if line:
        drawn = line_on(host, mark, width, height)
        lowest, highest = float(drawn.edges.min()), float(drawn.edges.max())
        return MarkPlace(
            mark, round_at(host, lowest), round_at(host, highest), stitches, drawn
        )
    middle = host.edge_at(mark.along)
    half = height / gauge.round_mm / 2.0
    first = min(rounds, max(1, round(middle - half + 0.5)))
    last = min(rounds, max(first, round(middle + half + 0.5)))
    return MarkPlace(mark, first, last, stitches)


def round_at(host: PlacedPart, edge: float) -> int:
    """The round on which an edge number that need not be whole lies."""
    return min(len(host.part.rounds), max(1, math.floor(edge) + 1))
