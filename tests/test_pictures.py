"""Pictures for sewing together: what hides what, what stands beside it, what lies apart."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from tests.strategies import TEST_TOYS, design_of, recipes
from webapp.pattern import sewing_lines
from webapp.pictures import View, assembly_svg
from webapp.pictures.depth import look
from webapp.pictures.outlines import regions, rings, round_lines
from webapp.pictures.outlines import silhouettes as shapes_of
from webapp.pictures.views import Net
from webapp.preview.surfaces import Surface
from webapp.recipes import Seat, load_recipes
from webapp.rounds import WorkedPart
from webapp.shapes.meridian import Floats
from webapp.way import Toy, make_toy
from webapp.yarns import Terms, term_set

SVG = "{http://www.w3.org/2000/svg}"
WORDS = term_set(Terms.US)
ALL = {**recipes(), **load_recipes(TEST_TOYS)}
PER_MM = 20.0
SIDES = (View.FRONT, View.SIDE, View.BACK)


def ball(radius: float, middle: tuple[float, float, float], rounds: int = 40) -> Net:
    """A ball whose axis points up, as a net seen from the side."""
    lift = np.linspace(0.0, math.pi, rounds + 1)[:, None]
    turn = np.linspace(0.0, 2.0 * math.pi, 96, endpoint=False)[None, :]
    points = radius * np.stack(
        (np.sin(lift) * np.cos(turn), -np.cos(lift) + 0.0 * turn, np.sin(lift) * np.sin(turn)),
        axis=-1,
    )
    outwards = Surface("", "", "", points, np.zeros(rounds + 1)).outwards
    return Net("#000000", points + np.array(middle), tuple(range(rounds + 1)), outwards)


def areas(*nets: Net) -> list[float]:
    """Of what is seen of each net, mm2."""
    raster = look(nets, PER_MM)
    spans = [(n, n) for n in range(len(nets))]
    return [float(shape.area) for shape in shapes_of(regions(raster, spans), raster)]


def lens(r: float, d: float) -> float:
    """The area that two discs of radius r share, d apart: two segments of a circle."""
    return 2.0 * (r * r * math.acos(d / (2.0 * r)) - d / 2.0 * math.sqrt(r * r - d * d / 4.0))


def test_a_ball_is_seen_as_a_disc() -> None:
    """Of area pi r^2; its outline 2 pi r long."""
    net = ball(10.0, (3.0, -2.0, 0.0))
    assert areas(net)[0] == pytest.approx(math.pi * 100.0, rel=0.01)
    raster = look([net], PER_MM)
    ((outline,),) = rings(regions(raster, [(0, 0)]), raster)
    along = np.hypot(*np.diff(np.vstack((outline, outline[:1])), axis=0).T).sum()
    assert along == pytest.approx(20.0 * math.pi, rel=0.01)


def test_a_ball_in_front_hides_what_lies_behind_it() -> None:
    """The lens of two discs is taken from the further one alone."""
    near, far = areas(ball(10.0, (0.0, 0.0, -50.0)), ball(10.0, (9.0, 0.0, 50.0)))
    assert near == pytest.approx(math.pi * 100.0, rel=0.01)
    assert far == pytest.approx(math.pi * 100.0 - lens(10.0, 9.0), rel=0.02)


def test_balls_that_cut_through_each_other_meet_in_the_plane_between_them() -> None:
    """Equal balls side by side, equally far away: each is seen up to the plane midway between their
    middles (their radical plane), so each lacks half of the lens."""
    one, other = areas(ball(10.0, (0.0, 0.0, 0.0)), ball(10.0, (12.0, 0.0, 0.0)))
    wanted = math.pi * 100.0 - lens(10.0, 12.0) / 2.0
    assert one == pytest.approx(wanted, rel=0.015)
    assert other == pytest.approx(wanted, rel=0.015)


def test_of_a_round_only_its_near_half_is_drawn() -> None:
    """Of a ball tipped by t, the widest round is half of an ellipse with axes r and r sin t: of
    length half of 4 r E(cos t) (E by the series of its perimeter, Ramanujan's second)."""
    tip = math.radians(25.0)
    net = ball(10.0, (0.0, 0.0, 0.0))
    c, s = math.cos(tip), math.sin(tip)
    x, down, away = np.moveaxis(net.points, -1, 0)
    tipped = np.stack((x, c * down - s * away, s * down + c * away), axis=-1)
    net = Net("#000000", tipped, net.rounds, net.outwards)
    raster = look([net], PER_MM)
    (lines,) = round_lines([net], [0], raster, 20, 0.012 * 20.0)
    assert len(lines) == 1
    along = float(np.hypot(*np.diff(lines[0], axis=0).T).sum())
    a, b = 10.0, 10.0 * s
    h = ((a - b) / (a + b)) ** 2
    perimeter = math.pi * (a + b) * (1.0 + 3.0 * h / (10.0 + math.sqrt(4.0 - 3.0 * h)))
    assert along == pytest.approx(perimeter / 2.0, rel=0.04)


# --- whole toys --------------------------------------------------------------------------------


def toy_of(name: str) -> Toy:
    return make_toy(ALL[name], design_of(ALL[name]))


def picture(toy: Toy, view: View) -> ElementTree.Element:
    return ElementTree.fromstring(assembly_svg(toy.worked, toy.materials.eyes, view, WORDS))


def labels(svg: ElementTree.Element) -> dict[str, str]:
    """What stands beside a picture: the lines of each label by its first."""
    found = {}
    for group in svg.iter(f"{SVG}g"):
        if group.get("class") == "label":
            lines = ["".join(text.itertext()) for text in group.iter(f"{SVG}text")]
            found[lines[0]] = " ".join(lines[1:])
    return found


@pytest.mark.parametrize("name", sorted(ALL))
def test_numbers_beside_a_part_are_those_of_its_sewing(name: str) -> None:
    """Each number of a label stands in the sewing line of the same part, and every part that is
    sewn to the outside of another is told of in some view, its lowest and highest round with it."""
    toy = toy_of(name)
    said: dict[str, str] = {}
    for view in SIDES:
        said |= {key.partition(" (")[0]: v for key, v in labels(picture(toy, view)).items()}
    lines = {
        line.partition(":")[0].partition(" (")[0]: line
        for line in sewing_lines(toy.worked, toy.materials, WORDS)
    }
    for seam in toy.worked.seams:
        label = toy.worked.recipe.part(seam.part).label
        assert label in said, label
        numbers = re.findall(r"\d+", said[label])
        assert set(numbers) <= set(re.findall(r"\d+", lines[label])), (said[label], lines[label])
        if seam.seat is Seat.SURFACE:
            assert len(numbers) >= 1 + toy.worked.recipe.part(seam.part).place.pair


@pytest.mark.parametrize("limbs", ["0.7", "1", "1.6"])
@pytest.mark.parametrize("head", ["0.6", "1", "1.6"])
def test_a_label_of_what_lies_at_one_end_does_not_stand_at_the_other(head: str, limbs: str) -> None:
    """The flukes of a whale seen from the side are its end: the line to them goes over less than
    half the picture, though from the other side it might pass just above the back."""
    lengths = {"head_to_body": head, "limb_length": limbs, "limb_thickness": "1.4"}
    design = design_of(ALL["whale"], **lengths)
    toy = make_toy(ALL["whale"], design)
    for group in picture(toy, View.SIDE).iter(f"{SVG}g"):
        if "".join(group.itertext()).startswith("Flukes"):
            (path,) = group.iter(f"{SVG}path")
            from_x, _, to_x, _ = map(float, re.findall(r"[\d.]+", path.get("d") or ""))
            assert abs(to_x - from_x) < 45.0


@pytest.mark.parametrize("name", sorted(ALL))
def test_what_a_picture_shows_is_said_in_its_description(name: str) -> None:
    """Title and description, as SVG has them for those who do not see it."""
    toy = toy_of(name)
    for view in View:
        svg = picture(toy, view)
        assert svg.get("role") == "img"
        assert toy.worked.recipe.name in (next(svg.iter(f"{SVG}title")).text or "")
        described = next(svg.iter(f"{SVG}desc")).text or ""
        for label, lines in labels(svg).items():
            assert label in described
            assert all(word in described for word in lines.split())


def silhouettes(svg: ElementTree.Element) -> list[tuple[str, BaseGeometry]]:
    """Each piece's part and all that it covers, read back from its paths."""
    found = []
    for group in svg.iter(f"{SVG}g"):
        if group.get("class") != "part":
            continue
        polygons = []
        for path in group.iter(f"{SVG}path"):
            if path.get("class") == "rounds":
                continue
            for ring in re.findall(r"M([^Mz]+)z", path.get("d", "")):
                points: Floats = np.array([p.split() for p in ring.split("L")], dtype=np.float64)
                polygons.append(shapely.Polygon(points).buffer(0.0))
        found.append((group.get("data-part", ""), shapely.union_all(polygons)))
    return found


@pytest.mark.parametrize("name", sorted(ALL))
def test_parts_apart_lie_clear_of_each_other_and_all_are_there(name: str) -> None:
    """Every copy once, none touching another (all pairs tried), each part named with how many to
    make of it, by its recipe."""
    toy = toy_of(name)
    svg = picture(toy, View.APART)
    pieces = silhouettes(svg)
    parts = toy.worked.recipe.parts
    assert sorted(part for part, _ in pieces) == sorted(p.name for p in parts for _ in
                                                        range(p.copies))  # fmt: skip
    for n, (_, one) in enumerate(pieces):
        assert one.area > 1.0
        assert all(one.distance(other) > 0.5 for _, other in pieces[:n])
    assert labels(svg) == {p.label: f"make {p.copies}" for p in parts}


@pytest.mark.parametrize("name", sorted(ALL))
def test_a_long_part_apart_is_not_seen_end_on(name: str) -> None:
    """A drawn part is at least half as long for its width (the sides of the smallest rectangle
    round it) as it is stitched, unless others are sewn to it: common practice in drawings of parts,
    no source."""
    toy = toy_of(name).worked
    hosts = {part.place.on for part in toy.recipe.parts}
    for part, drawn in silhouettes(picture(toy_of(name), View.APART)):
        worked = toy.parts[part]
        if part in hosts or not isinstance(worked, WorkedPart):
            continue
        corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(drawn))
        sides = sorted(np.hypot(*np.diff(corners[:3], axis=0).T).tolist())
        wanted = worked.height_mm / worked.widest_mm
        if toy.recipe.part(part).place.seat is Seat.SURFACE and wanted > 1.0:
            assert sides[1] / sides[0] >= 0.5 * wanted, part


@pytest.mark.parametrize("head", ["0.5", "0.85", "1.5"])
def test_what_lies_on_a_face_goes_beside_the_head_not_past_the_body(head: str) -> None:
    """Both eye patches of the owl stay at the height of its head: common practice, no source."""
    toy = make_toy(ALL["owl"], design_of(ALL["owl"], head_to_body=head))
    pieces = silhouettes(picture(toy, View.APART))
    ((_, top, _, bottom),) = (shape.bounds for part, shape in pieces if part == "head")
    patches = [shape for part, shape in pieces if part == "patch"]
    assert len(patches) == 2
    assert all(top < shape.centroid.y < bottom for shape in patches)


def test_same_design_same_pictures() -> None:
    """Drawn twice, byte for byte."""
    for view in View:
        one, other = (
            assembly_svg(t.worked, t.materials.eyes, view, WORDS)
            for t in (toy_of("owl"), toy_of("owl"))
        )
        assert one == other


def test_what_does_not_show_is_not_spoken_of() -> None:
    """The otter's tail is behind, its eyes in front: from the back no eyes, and no muzzle."""
    toy = toy_of("otter")
    behind = labels(picture(toy, View.BACK))
    assert "Tail" in behind
    assert "Eyes" not in behind
    assert "Muzzle" not in behind
    assert "Eyes" in labels(picture(toy, View.FRONT))


def test_low_ink_is_black_lines_and_says_as_much() -> None:
    """No fill but that of words and of the dots of leader lines; the outlines are the same."""
    toy = toy_of("otter")
    for view in View:
        usual, low = (
            ElementTree.fromstring(
                assembly_svg(toy.worked, toy.materials.eyes, view, WORDS, low=low)
            )
            for low in (False, True)
        )
        assert {path.get("fill") for path in low.iter(f"{SVG}path")} == {"none"}
        assert [path.get("d") for path in low.iter(f"{SVG}path")] == [
            path.get("d") for path in usual.iter(f"{SVG}path")
        ]
        assert labels(low) == labels(usual)
