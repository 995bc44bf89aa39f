"""Embroidered lines and patches, their thread, and the kinds of eyes."""

from __future__ import annotations

import math
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.spatial import cKDTree

from tests.features import gnome, made, page_of, rabbit, text_of
from tests.reader import unwrapped
from tests.strategies import TEST_TOYS, TOYS
from webapp.assembly import FabricLine, MarkPlace, PlacedPart
from webapp.errors import RoundlingError
from webapp.materials import yarn_by_colour_mm
from webapp.materials.eyes import STOCK_BUTTONS_MM
from webapp.materials.thread import (
    THREAD_MM,
    arc_mm,
    eye_thread_mm,
    line_rows,
    mark_thread_mm,
    satin_mm,
)
from webapp.preview.figure import figure_of
from webapp.preview.surfaces import Surface, surfaces_of
from webapp.recipes import EyeKind, Recipe, parse_recipe
from webapp.way import Toy
from webapp.web import create_app
from webapp.web.data import toy_data
from webapp.web.toys import Workshop

MOUTH = """
[[marks]]
label = "Mouth"
on = "{on}"
along = {along}
around = {around}
width = "{width}"
height = {height}
colour = "{colour}"
kind = "line"
"""

# --- thread ------------------------------------------------------------------------------------


@given(across=st.floats(4.0, 80.0), flat=st.floats(0.3, 1.0))
def test_satin_stitch_against_threads_laid_one_by_one(across: float, flat: float) -> None:
    """Threads 1 mm apart over an ellipse are its chords (geometry), and each comes back behind the
    fabric: the sum of the chords twice."""
    a, b = across / 2.0, flat * across / 2.0
    places = np.arange(-a + THREAD_MM / 2.0, a, THREAD_MM)
    chords = 2.0 * b * np.sqrt(np.maximum(0.0, 1.0 - (places / a) ** 2))
    assert satin_mm(2 * a, 2 * b) == pytest.approx(2.0 * chords.sum(), rel=0.12)


@given(width=st.floats(5.0, 100.0), height=st.floats(-40.0, 40.0))
def test_the_length_of_a_line_is_that_of_its_parabola(width: float, height: float) -> None:
    """Arc length by scipy's quadrature of sqrt(1 + y'^2)."""
    length, _ = quad(lambda x: math.hypot(1.0, 8.0 * height * x / width**2), -width / 2, width / 2)
    assert arc_mm(width, height) == pytest.approx(length, rel=1e-6)


def test_backstitch_takes_three_times_its_line() -> None:
    """The needle's way: from one hole behind the fabric two stitches on, up, and in front one
    stitch back, until the line is full (common practice, no source)."""
    stitch, holes = 2.0, 40
    way, needle = 0.0, 0.0
    for n in range(holes):
        up = (n + 1) * stitch
        way += abs(up - needle)
        down = n * stitch
        way += abs(up - down)
        needle = down
    line = holes * stitch
    recipe = gnome(('height = "0.07 * body.height"', "height = 0"))
    mouth = recipe.marks[0]
    assert mark_thread_mm(mouth, line, 0.0) / line_rows(line) == pytest.approx(way, rel=0.02)


def test_thread_of_the_gnome_by_hand() -> None:
    """Mouth and two brows, 30 cm of ends for each and a tenth over, from the sizes asked for."""
    toy = made(gnome())
    wide = toy.worked.dimensions["body.width"]
    tall = toy.worked.dimensions["body.height"]
    total = 0.0
    for width, height, copies in ((0.3 * wide, 0.07 * tall, 1), (0.16 * wide, -0.02 * tall, 2)):
        length, _ = quad(
            lambda x, w=width, h=height: math.hypot(1.0, 8.0 * h * x / w**2), -width / 2, width / 2
        )
        total += copies * (3.0 * max(1, round(0.06 * width)) * length + 300.0)
    threads = toy.materials.threads
    assert [need.name for need in threads] == ["bark brown"]
    assert threads[0].metres.value == pytest.approx(1.1 * total / 1000.0, rel=1e-6)
    assert threads[0].metres.low < threads[0].metres.value < threads[0].metres.high
    assert threads[0].skeins == 1


def test_marks_take_no_yarn() -> None:
    """With and without its marks a toy takes the same yarn, and a colour that is only embroidered
    is not bought as yarn."""
    plain = rabbit()
    bare = Recipe(**{**vars(plain), "marks": ()})
    assert yarn_by_colour_mm(made(plain).worked) == yarn_by_colour_mm(made(bare).worked)
    assert "rose" not in yarn_by_colour_mm(made(plain).worked)
    assert made(bare).materials.threads == ()


def test_thread_is_in_the_pattern_the_data_and_the_page() -> None:
    toy = made(rabbit())
    text = text_of(toy)
    assert re.search(r"^Embroidery thread of six strands, 8 m a skein", text, re.MULTILINE)
    listed = dict(re.findall(r"^- ([a-z ]+): ([\d.]+ m) \([\d.]+ yd\), 1 skein$", text, re.M))
    data = toy_data(toy)["materials"]["threads"]
    page = page_of(rabbit()).threads
    assert [*listed] == [row["colour"] for row in data] == [row["name"] for row in page]
    assert [*listed] == ["dusty rose", "bark brown"]
    assert [f"{row['metres']['value']:.1f} m" for row in data] == [*listed.values()]
    assert [row["length"] for row in page] == [*listed.values()]
    yarns = [row["colour"] for row in toy_data(toy)["materials"]["yarns"]]
    assert not set(yarns) & set(listed)


def test_large_embroidered_eyes_are_felt_sewn_down() -> None:
    """Three times the rim, as for any seam; felt needs less thread than filling a large disc."""
    assert eye_thread_mm(40.0) == pytest.approx(3.0 * math.pi * 40.0)
    assert eye_thread_mm(40.0) < satin_mm(40.0, 40.0)
    assert eye_thread_mm(10.0) == satin_mm(10.0, 10.0)


# --- eyes --------------------------------------------------------------------------------------


def with_eyes(kind: str) -> Recipe:
    return gnome(('kind = "buttons"', f'kind = "{kind}"'))


def test_button_sizes_are_whole_lines() -> None:
    """Buttons are measured in lines, 40 to the inch, and the usual ones have an even number of
    them: common practice, from memory."""
    for size in STOCK_BUTTONS_MM:
        lines = 2 * round(size / 25.4 * 40 / 2)
        assert round(lines * 25.4 / 40) == size


def test_buttons_are_sewn_on_and_never_for_a_small_child() -> None:
    toy = made(gnome())
    eyes = toy.materials.eyes
    assert eyes is not None
    assert eyes.kind is EyeKind.BUTTONS
    assert eyes.stock_mm in STOCK_BUTTONS_MM
    text = " ".join(text_of(toy).split())
    assert f"Eyes: two buttons, {eyes.stock_mm} mm, and strong sewing thread" in text
    assert f"Eyes: sew the two {eyes.stock_mm} mm buttons on with strong thread" in text
    assert "never for a child under three" in text
    assert "washer" not in text
    assert "safety eye" not in text.lower()
    # Nothing is put in while the part is open: a button is sewn to the finished part.
    assert text.index("sew the two") > text.index("SEWING TOGETHER")
    data = toy_data(toy)
    assert data["eyes"]["kind"] == "buttons"
    caution = next(c["text"] for c in data["cautions"] if c["about"] == "eyes")
    assert "32 mm wide and 57 mm deep" in caution
    figure = next(f for f in page_of(gnome()).figures if f.label == "Eyes")
    assert figure.value == f"{eyes.stock_mm} mm buttons"


@pytest.mark.parametrize("kind", ["safety", "buttons"])
def test_under_three_embroiders_whatever_was_asked_for(kind: str) -> None:
    """Nothing hard for a child under three (16 CFR 1501 forbids small parts there)."""
    toy = made(with_eyes(kind), under_three="yes")
    assert toy.materials.eyes is not None
    assert toy.materials.eyes.kind is EyeKind.EMBROIDERED
    assert toy.materials.eyes.stock_mm is None
    text = " ".join(text_of(toy).split())
    assert "Embroider the eyes in black" in text
    assert "for a child under three nothing hard is used" in text
    assert not re.search(r"\d+ mm buttons", text)
    assert [need.name for need in toy.materials.threads] == ["black", "bark brown"]
    assert toy_data(toy)["eyes"]["kind"] == "embroidered"


@pytest.mark.parametrize("height", [8, 15, 50])
def test_embroidered_eyes_are_so_at_any_size(height: int) -> None:
    page = page_of(with_eyes("embroidered"), height_cm=height)
    eyes = page.toy.materials.eyes
    assert eyes is not None
    assert (eyes.kind, eyes.stock_mm) == (EyeKind.EMBROIDERED, None)
    # It is what the toy asks for, so there is nothing to warn of.
    assert not [w for w in page.warnings if "embroidered" in w]
    assert next(f for f in page.figures if f.label == "Eyes").value == "embroidered"


def test_buttons_of_no_size_in_shops_are_embroidered_and_that_is_told() -> None:
    page = page_of(gnome(), height_cm=50)
    assert page.toy.materials.eyes is not None
    assert page.toy.materials.eyes.kind is EyeKind.EMBROIDERED
    assert "The eyes are embroidered: larger than the usual buttons." in page.warnings


def eye_surfaces(kind: str) -> list[Surface]:
    toy = made(with_eyes(kind))
    return [s for s in surfaces_of(toy.worked, toy.materials.eyes) if s.label == "Eyes"]


def test_embroidered_eyes_are_drawn_flat_and_matt() -> None:
    embroidered, safety = eye_surfaces("embroidered"), eye_surfaces("safety")
    assert not any(s.glossy for s in embroidered)
    assert all(s.glossy for s in safety)
    assert len(embroidered) == 2
    assert thickness(embroidered[0]) < 0.25 * thickness(safety[0])
    assert thickness(eye_surfaces("buttons")[0]) < 0.6 * thickness(safety[0])


def thickness(surface: Surface) -> float:
    """The least extent of a body: its smallest singular value."""
    points = surface.points.reshape(-1, 3)
    return float(np.linalg.svd(points - points.mean(axis=0), compute_uv=False)[2])


# --- lines on the fabric -----------------------------------------------------------------------


def place_of(toy: Toy, label: str) -> tuple[MarkPlace, FabricLine, PlacedPart]:
    place = next(p for p in toy.worked.marks if p.mark.label == label)
    host = toy.worked.placed[place.mark.on]
    assert place.line is not None
    assert isinstance(host, PlacedPart)
    return place, place.line, host


def mouth(height: str = "0", **more: str) -> Recipe:
    """A gnome whose mouth has this height, and these other values."""
    extra = "".join(f"\n{key} = {value}" for key, value in more.items())
    return gnome(('height = "0.07 * body.height"', f'height = "{height}"{extra}'))


BALL = ('shape = "egg"\nlengths = { height = "body.height", width = "body.width", widest = 0.45 }',
        'shape = "ball"\nlengths = { width = "body.height" }')


def test_a_level_line_on_a_ball_is_an_arc_of_its_lap() -> None:
    """On a ball of radius R at latitude angle p a lap has the radius R cos p, and a line W long on
    it spans W / (R cos p) of angle (geometry). The ball has 30 rounds and more, so that its
    stitched radius is within 3 %."""
    recipe = gnome(BALL, ('height = "0.07 * body.height"', "height = 0"))
    toy = made(recipe, height_cm=20)
    place, line, host = place_of(toy, "Mouth")
    assert place.first_round == place.last_round
    out = line.points - host.frame.at(host.part.height_mm / 2.0)
    assert np.linalg.norm(out, axis=1) == pytest.approx(100.0, rel=0.03)
    latitude = math.asin(float(out[12, 2]) / float(np.linalg.norm(out[12])))
    wide = 0.3 * toy.worked.dimensions["body.width"]
    spans = math.atan2(out[-1, 0], -out[-1, 1]) - math.atan2(out[0, 0], -out[0, 1])
    assert spans == pytest.approx(wide / (100.0 * math.cos(latitude)), rel=0.04)
    # Outward normals of a ball point away from its middle.
    away = out / np.linalg.norm(out, axis=1, keepdims=True)
    assert (away * line.normals).sum(axis=1).min() > 0.97


@given(height=st.floats(-0.12, 0.12), size=st.floats(10.0, 40.0))
@settings(max_examples=30, deadline=None)
def test_a_smile_goes_up_and_a_frown_down(height: float, size: float) -> None:
    """The ends of a line lie as far above its middle, along the fabric, as asked for."""
    recipe = mouth(f"{height:.3f} * body.height")
    toy = made(recipe, height_cm=round(size, 1))
    _, line, host = place_of(toy, "Mouth")
    asked = float(f"{height:.3f}") * toy.worked.dimensions["body.height"]
    rounds = (line.edges[[0, -1]] - line.edges[12]) * line.upwards
    assert rounds * host.part.gauge.round_mm == pytest.approx([asked, asked], abs=1e-6)
    risen = line.points[[0, -1], 2] - line.points[12, 2]
    assert (risen * math.copysign(1.0, asked) >= -1e-9).all()
    # It is as long as the parabola that it is, within what the round body bends.
    length = float(np.linalg.norm(np.diff(line.points, axis=0), axis=1).sum())
    wide = 0.3 * toy.worked.dimensions["body.width"]
    assert length == pytest.approx(arc_mm(wide, asked), rel=0.06)


def test_a_slanting_brow_has_its_outer_end_up_on_both_sides() -> None:
    """Its ends differ by the width times the sine of the slant."""
    toy = made(gnome(('height = "-0.02 * body.height"', "height = 0")))
    _, line, host = place_of(toy, "Brows")
    outer = int(np.argmax(np.abs(line.points[:, 0])))
    assert outer in (0, len(line.points) - 1)
    rise = (line.edges[outer] - line.edges[len(line.edges) - 1 - outer]) * line.upwards
    wide = 0.16 * toy.worked.dimensions["body.width"]
    asked = wide * math.sin(math.radians(12.0)) / host.part.gauge.round_mm
    assert rise == pytest.approx(asked, abs=1e-6)
    drawn = [s for s in surfaces_of(toy.worked, None) if s.label == "Brows"]
    assert len(drawn) == 2
    for surface in drawn:
        middles = surface.points.mean(axis=1)
        far, near = np.abs(middles[:, 0]).argmax(), np.abs(middles[:, 0]).argmin()
        assert middles[far, 2] > middles[near, 2]
    assert np.sort(drawn[0].points[..., 0].ravel()) == pytest.approx(
        np.sort(-drawn[1].points[..., 0].ravel())
    )


@pytest.mark.parametrize("recipe", [gnome(), rabbit()], ids=["gnome", "rabbit"])
def test_lines_are_drawn_on_their_host(recipe: Recipe) -> None:
    """Every point of the tube lies within a round's height of the host's drawn points, and outside
    of it as seen along the normal: neither sunk in nor floating."""
    toy = made(recipe)
    for label in [m.label for m in recipe.marks if m.kind.value == "line"]:
        check_on_its_host(toy, label)


def check_on_its_host(toy: Toy, label: str) -> None:
    shown = surfaces_of(toy.worked, toy.materials.eyes, segments=160)
    _, line, host = place_of(toy, label)
    # Between the points of a row lie straight facets, long ones on the sides of an oval.
    rows = [s.points for s in shown if s.label == host.recipe.label]
    fabric = cKDTree(np.concatenate([
        (row + share * (np.roll(row, -1, axis=1) - row)).reshape(-1, 3)
        for row in rows for share in np.linspace(0.0, 1.0, 16, endpoint=False)
    ]))
    tube = next(s for s in shown if s.label == label).points.reshape(-1, 3)
    gap, _ = fabric.query(tube)
    assert gap.max() < 1.2 * host.part.gauge.round_mm
    step = 0.5 * host.part.gauge.round_mm
    outside, _ = fabric.query(line.points + 2.0 * step * line.normals)
    assert outside.min() > step


def test_a_toy_with_every_feature_is_served() -> None:
    """Page, fragment, files and pictures of the gnome answer, and say the same."""
    client = create_app(Workshop(TEST_TOYS)).test_client()
    for file in ("", "/pattern.txt", "/toy.json", "/views.svg", "/preview.json"):
        for query in ("", "?under_three=yes", "?height_cm=7&yarn=2", "?height_cm=60&yarn=6"):
            answer = client.get(f"/toys/gnome{file}{query}")
            assert answer.status_code == 200, (file, query)
    page = client.get("/toys/gnome").get_data(as_text=True)
    assert "Embroidery thread, six strands" in page
    assert "18 mm buttons" in page
    data = client.get("/toys/gnome/toy.json").get_json()
    assert [(m["label"], m["kind"], m["pair"]) for m in data["marks"]] == [
        ("Mouth", "line", False), ("Brows", "line", True)
    ]
    assert f"over Rnds {' to '.join(map(str, data['marks'][0]['over_rounds']))}" in page


def test_the_figure_and_the_still_picture_have_the_line() -> None:
    toy = made(gnome())
    figure = figure_of(surfaces_of(toy.worked, toy.materials.eyes))
    labels = [row["label"] for row in figure["hover"]]
    assert labels.count("Mouth") == 1
    assert labels.count("Brows") == 1


# --- lines in words ----------------------------------------------------------------------------

COURSE = re.compile(
    r"(?P<label>\w+): with (?P<colour>[a-z ]+) embroidery thread, backstitch (?P<what>a line|two "
    r"lines, mirror images of each other,) on the (?P<host>\w+) over (?:Rnd|Rnds) (?P<first>\d+)"
    r"(?: (?:to|and) (?P<last>\d+))?, (?:each )?(?P<wide>\d+) sts? wide, (?P<course>[^;]+); "
    r"(?P<where>.+)\."
)


def read_line(toy: Toy, label: str) -> dict[str, Any]:
    lines = " ".join(unwrapped(text_of(toy))).split(f" {label}: ")
    found = COURSE.match(f"{label}: " + lines[1])
    assert found, lines[1][:300]
    return found.groupdict()


@given(height=st.floats(-0.12, 0.12), size=st.floats(8.0, 60.0))
@settings(max_examples=30, deadline=None)
def test_the_words_of_a_mouth_are_its_geometry(height: float, size: float) -> None:
    """Read back, the rounds, the width and the rise agree with where the points lie: a round is a
    round's height of fabric, a stitch a stitch's width (the gauge)."""
    toy = made(mouth(f"{height:.3f} * body.height"), height_cm=round(size, 1))
    gauge = toy.worked.design.gauge
    words = read_line(toy, "Mouth")
    dimensions = toy.worked.dimensions
    asked_rounds = float(f"{height:.3f}") * dimensions["body.height"] / gauge.round_mm
    wide = 0.3 * dimensions["body.width"] / gauge.stitch_mm
    assert int(words["wide"]) == pytest.approx(wide, abs=0.5)
    first, last = int(words["first"]), int(words["last"] or words["first"])
    assert last - first == pytest.approx(abs(asked_rounds), abs=1.0)
    rise = re.match(r"its ends (\d+) rnds? (higher|lower) than its middle", words["course"])
    if rise:
        assert int(rise[1]) == last - first
        assert (rise[2] == "higher") == (asked_rounds > 0)
    else:
        assert first == last
        assert abs(asked_rounds) < 1.0


def test_where_the_words_say_a_mouth_is() -> None:
    assert read_line(made(gnome()), "Mouth")["where"].startswith("centered below the eyes")
    assert read_line(made(mouth(around="20")), "Mouth")["where"].startswith(
        "its middle 6 sts to your right of the center below the eyes"
    )
    assert read_line(made(mouth(around="-20")), "Mouth")["where"].startswith(
        "its middle 6 sts to your left of the center"
    )
    assert read_line(made(mouth(around="180")), "Mouth")["where"].startswith("centered at the back")
    assert read_line(made(mouth()), "Mouth")["course"] == "straight"


def test_the_words_of_a_pair_of_brows() -> None:
    """The stitches between the inner ends are those of the angle between them: at 102 stitches a
    round 3.5 degrees each."""
    toy = made(gnome())
    words = read_line(toy, "Brows")
    assert words["course"] == "its outer end 1 rnd higher than its inner end"
    found = re.match(r"(\d+) sts apart above the eyes \(counted on Rnd (\d+)\)", words["where"])
    assert found
    drawn = next(s for s in surfaces_of(toy.worked, None) if s.label == "Brows")
    middles = drawn.points.mean(axis=1)
    inner = middles[np.abs(middles[:, 0]).argmin()]
    angle = abs(math.atan2(inner[0], -inner[1]))
    count = toy.worked.parts["body"].counts[int(found[2]) - 1]
    assert int(found[1]) == pytest.approx(2 * angle / (2 * math.pi) * count, abs=1.0)


def test_clementine_smiles_in_every_size() -> None:
    """Her mouth is two lines that meet below the nose, whatever the sliders say."""
    for texts in ({}, {"height_cm": 10, "yarn": 1}, {"height_cm": 100}, {"head_to_body": 1.6},
                  {"cheek_fullness": 2}, {"yarn": 6, "height_cm": 40}, {"simplicity": 0}):
        toy = made(rabbit(), **texts)
        words = read_line(toy, "Mouth")
        assert words["where"].startswith("they meet in the middle below the eyes"), texts
        assert words["what"].startswith("two lines")
        nose, smile = toy.worked.marks
        assert smile.last_round > nose.last_round
        assert not any("cut short" in w for w in page_of(rabbit(), **texts).warnings)


def test_a_lying_host_is_counted_the_other_way() -> None:
    """On the side of a body that lies down rounds go from front to back: a mouth there is some
    rounds wide, and its ends are stitches higher than its middle."""
    recipe = gnome(
        ('place = { seat = "ground" }', 'place = { seat = "ground", tilt = 0, swing = 180 }'),
        ('height = "0.07 * body.height"', 'height = "0.07 * body.height"\naround = 90'),
    )
    toy = made(recipe)
    place, line, host = place_of(toy, "Mouth")
    assert line.along
    wide = 0.3 * toy.worked.dimensions["body.width"] / host.part.gauge.round_mm
    assert place.last_round - place.first_round == pytest.approx(wide, abs=1.0)
    text = " ".join(unwrapped(text_of(toy)))
    rise = re.search(r"Mouth: [^.;]+ its ends (\d+) sts? higher than its middle", text)
    assert rise
    asked = 0.07 * toy.worked.dimensions["body.height"] / host.part.gauge.stitch_mm
    assert int(rise[1]) == pytest.approx(asked, abs=1.0)
    assert line.points[0, 2] > line.points[12, 2]


def test_on_a_tapering_body_a_rise_is_counted_from_the_level() -> None:
    """A level line keeps its angle from the top, so on the narrowing front of a whale the stitches
    from the top change along it, and the rise does not: 8 mm at 4.2 mm a stitch are 2."""
    text = (TOYS / "whale.toml").read_text(encoding="utf-8") + MOUTH.format(
        on="body", along=0.12, around=112, width="0.34 * body.width", height=8, colour="deep"
    )
    whale = parse_recipe(text + "pair = true\n", "whale.toml")
    text = " ".join(unwrapped(text_of(made(whale))))
    assert re.search(r"Mouth: [^.;]+ its ends 2 sts higher than its middle", text)
    assert re.search(r"sts apart underneath below the eyes \(counted on Rnd \d+\)", text)


def test_a_line_on_an_oval_muzzle() -> None:
    """Its straight sides are straight, and the line stays on them as drawn: the same bound as on a
    round part. Half way round from the top is underneath, whatever the lap's shape."""
    text = (TOYS / "otter.toml").read_text(encoding="utf-8") + MOUTH.format(
        on="muzzle", along=0.2, around=180, width="1.6 * nose.width", height=3, colour="dark"
    )
    otter = parse_recipe(text, "otter.toml")
    for height in (12, 20, 50):
        toy = made(otter, height_cm=height)
        check_on_its_host(toy, "Mouth")
        assert read_line(toy, "Mouth")["where"].startswith("centered underneath")
        assert read_line(toy, "Mouth")["course"].endswith("higher than its middle")


def test_a_line_that_runs_off_its_part_is_told() -> None:
    warnings = page_of(mouth("0.9 * body.height")).warnings
    assert "Mouth: the body ends before it does, so it is cut short." in warnings
    assert not any("cut short" in w for w in page_of(gnome()).warnings)


@pytest.mark.parametrize("change", [
    ('width = "0.3 * body.width"', 'width = "0 * body.width"'),
    ('width = "0.3 * body.width"', 'width = "-0.3 * body.width"'),
])
def test_a_mark_without_a_width_is_refused(change: tuple[str, str]) -> None:
    with pytest.raises(RoundlingError, match="Mouth: a width of"):
        made(gnome(change))


def test_a_patch_without_a_height_is_refused() -> None:
    filled = gnome(
        ('height = "0.07 * body.height"\ncolour = "bark"\nkind = "line"',
         'height = "-0.07 * body.height"\ncolour = "bark"')
    )
    with pytest.raises(RoundlingError, match="Mouth: a height of"):
        made(filled)
