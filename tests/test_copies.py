"""Several copies of a part, evenly round the axis of what they are sewn to."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.features import gnome, made, page_of, text_of
from tests.reader import read_parts, unwrapped
from webapp.assembly import PlacedPart
from webapp.materials import inner_volume_mm3, yarn_by_colour_mm
from webapp.preview.figure import figure_of
from webapp.preview.still import still_svg
from webapp.preview.surfaces import surfaces_of
from webapp.recipes import Recipe, RecipeError
from webapp.shapes.meridian import Floats
from webapp.way import Toy
from webapp.web.data import toy_data

ARM_PLACE = "along = 0.3, around = 0, tilt = -10, swing = 0, times = 6"


def arms(times: int, around: float = 0.0, **more: object) -> Recipe:
    """A gnome with so many arms."""
    extra = "".join(f", {key} = {value}" for key, value in more.items())
    place = f"along = 0.3, around = {around}, tilt = -10, swing = {around}, times = {times}{extra}"
    return gnome((ARM_PLACE, place))


def placed_arm(toy: Toy) -> PlacedPart:
    arm = toy.worked.placed["arm"]
    assert isinstance(arm, PlacedPart)
    return arm


def about_z(points: Floats, radians: float) -> Floats:
    c, s = math.cos(radians), math.sin(radians)
    return points @ np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]]).T


@given(times=st.integers(2, 12), around=st.integers(-170, 180), size=st.integers(12, 40))
@settings(max_examples=25, deadline=None)
def test_copies_are_turned_by_equal_angles(times: int, around: int, size: int) -> None:
    """A round body has rotational symmetry: turned by 360 / n degrees about its axis, the points of
    one copy are those of the next (geometry). The body stands on the origin, its axis upright."""
    toy = made(arms(times, around), height_cm=size)
    drawn = [s for s in surfaces_of(toy.worked, None) if s.part == "arm"]
    tips = sorted((s for s in drawn if s.rounds[0] <= 1), key=lambda s: s.copy)
    assert [s.copy for s in tips] == list(range(times))
    # Angles grow from the front (-y) towards the reader's right (+x): anticlockwise from above.
    for one, other in zip(tips, (*tips[1:], tips[0]), strict=True):
        assert about_z(one.points, 2 * math.pi / times) == pytest.approx(other.points, abs=1e-6)
    middle = tips[0].points.reshape(-1, 3).mean(axis=0)
    angle = math.degrees(math.atan2(middle[0], -middle[1]))
    assert (angle - around + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=1.0)


def test_copies_turn_about_a_host_that_lies_down() -> None:
    """Round a body along y they turn about y: all their sewn edges are at one y, at one distance
    from the axis."""
    recipe = gnome(
        ('place = { seat = "ground" }', 'place = { seat = "ground", tilt = 0, swing = 180 }'),
        (ARM_PLACE, "along = 0.3, around = 0, tilt = 80, swing = 0, times = 5"),
    )
    toy = made(recipe)
    arm = placed_arm(toy)
    edges = np.array([c.frame.at(c.part.height_mm) for c in arm.copies])
    assert np.ptp(edges[:, 1]) < 1e-6
    host = toy.worked.placed["body"]
    assert isinstance(host, PlacedPart)
    out = edges - host.frame.start
    assert np.ptp(np.hypot(out[:, 0], out[:, 2])) < 1e-6
    angles = np.sort(np.degrees(np.arctan2(out[:, 0], out[:, 2])) % 360.0)
    assert np.diff(angles) == pytest.approx([72.0] * 4)
    text = " ".join(unwrapped(text_of(toy)))
    assert "one of them at the top" in text


def test_frames_of_all_copies_are_at_right_angles() -> None:
    for copy in placed_arm(made(arms(7))).copies:
        axes = np.array([copy.frame.axis, copy.frame.reference, copy.frame.side])
        assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-12)


def test_a_single_copy_is_what_it_was_without_the_word() -> None:
    one, none = made(arms(1)), made(gnome((f"{ARM_PLACE}", ARM_PLACE.removesuffix(", times = 6"))))
    assert text_of(one) == text_of(none)
    assert placed_arm(one).frame.start == pytest.approx(placed_arm(none).frame.start)


@given(times=st.integers(2, 24), size=st.integers(10, 40))
@settings(max_examples=25, deadline=None)
def test_stitches_from_middle_to_middle_add_up_to_the_round(times: int, size: int) -> None:
    """As the words have it: so many times the lower number is no more than the round's stitches,
    and so many times the higher no fewer."""
    toy = made(arms(times), height_cm=size)
    text = text_of(toy)
    found = re.search(
        r"Arms: sew all (\d+) evenly around the body between Rnds \d+ and \d+, (?:(\d+) or )?(\d+) "
        r"sts? from middle to middle \(counted on Rnd (\d+)\), one of them at the front",
        " ".join(unwrapped(text)),
    )
    assert found
    assert int(found[1]) == times
    count = read_parts(text, "sc")[0].rounds[int(found[4]) - 1][1]
    low, high = int(found[2] or found[3]), int(found[3])
    # The round's counted stitches and its girth in stitches differ by rounding only.
    assert times * low <= count + 1
    assert times * high >= count - 1
    assert high - low == (1 if found[2] else 0)
    assert read_parts(text, "sc")[1].copies == times


def test_where_the_first_copy_goes() -> None:
    """Six arms at 96 stitches are 16 apart: half of that between two at the front, and 5 stitches
    at 20 degrees (20 / 360 of 96)."""
    def where(around: float) -> str:
        return " ".join(unwrapped(text_of(made(arms(6, around)))))

    assert "one of them at the front" in where(0)
    assert "one of them at the front" in where(60)
    assert "the middle of the front between two of them" in where(30)
    assert "the first 5 sts from the middle of the front" in where(20)


def test_yarn_filling_and_stitches_are_those_of_so_many_arms() -> None:
    one, six = made(arms(1)), made(arms(6))
    arm = one.worked.parts["arm"]
    assert six.worked.stitches - one.worked.stitches == 5 * arm.stitches
    alone = {k: yarn_by_colour_mm(made(arms(2)).worked)[k] - mm
             for k, mm in yarn_by_colour_mm(one.worked).items()}
    for key, mm in yarn_by_colour_mm(six.worked).items():
        assert mm - yarn_by_colour_mm(one.worked)[key] == pytest.approx(5 * alone[key])
    more = six.materials.filling_grams.value - one.materials.filling_grams.value
    litres = 5 * inner_volume_mm3(placed_arm(one), one.worked.design.category.diameter_mm) / 1e6
    assert more == pytest.approx(20.0 * litres)  # packed lightly, 20 g a litre
    assert six.materials.hours.value > one.materials.hours.value + 5 * 10 / 60


def test_size_takes_in_every_copy() -> None:
    """Four arms at right angles: the toy is as deep as it is wide."""
    size = made(arms(4)).worked.size
    assert size.width_mm == pytest.approx(size.depth_mm, rel=1e-6)
    front_only = made(arms(1)).worked.size
    assert size.width_mm > front_only.width_mm + 50.0
    assert size.depth_mm > front_only.depth_mm + 50.0


@pytest.mark.parametrize("apart", [0.0, 1.0])
def test_all_copies_are_drawn(apart: float) -> None:
    one, six = (
        figure_of(surfaces_of(made(arms(n)).worked, None, apart=apart)) for n in (1, 6)
    )
    drawn = [[len(m["x"]["bdata"]) for m in f["data"] if m["name"] == "arm"] for f in (one, six)]
    assert len(drawn[0]) == len(drawn[1]) == 2  # a mesh for each of the two colours
    for few, many in zip(*drawn, strict=True):
        assert many == pytest.approx(6 * few, rel=0.02)
    assert still_svg(made(arms(6)).worked, None).count("M") > still_svg(
        made(arms(1)).worked, None
    ).count("M")


def test_apart_each_copy_moves_out_its_own_way() -> None:
    toy = made(arms(5))
    near, far = (
        [s for s in surfaces_of(toy.worked, None, apart=a) if s.part == "arm"] for a in (0.0, 1.0)
    )
    for here, there in zip(near, far, strict=True):
        a, b = (s.points.reshape(-1, 3).mean(axis=0)[:2] for s in (here, there))
        assert np.hypot(*b) > np.hypot(*a) + 10.0
        assert math.atan2(a[0], a[1]) == pytest.approx(math.atan2(b[0], b[1]), abs=0.02)


def test_patches_round_a_body_follow_it() -> None:
    """Flat discs lie on the body: all their points are near its surface of that height."""
    recipe = gnome(
        ('shape = "tube"\nlengths = { length = "arm.length", width = "arm.width" }',
         'shape = "disc"\nlengths = { width = "2 * arm.width" }'),
        ('"arm.length = 0.4 * body.height",', ""),
        (ARM_PLACE, "along = 0.4, around = 0, tilt = 0, swing = 0, lies_flat = true, times = 5"),
    )
    toy = made(recipe)
    drawn = [s for s in surfaces_of(toy.worked, None) if s.part == "arm"]
    assert {s.copy for s in drawn} == set(range(5))
    host = toy.worked.placed["body"]
    assert isinstance(host, PlacedPart)
    heights, radii = host.part.rings.axial_mm, host.part.rings.smooth_mm
    for surface in drawn:
        points = surface.points.reshape(-1, 3)
        off = np.hypot(points[:, 0], points[:, 1]) - np.interp(points[:, 2], heights, radii)
        assert off.min() > -1.0
        assert off.max() < 1.5 * host.part.gauge.stitch_mm


TUBE = 'shape = "tube"\nlengths = { length = "arm.length", width = "arm.width" }'


@pytest.mark.parametrize(
    ("roll", "said"), [(0, "long sides going around it"), (90, "long side up and down")]
)
def test_how_the_long_sides_of_copies_lie(roll: int, said: str) -> None:
    """An oval whose axis points outwards has its long side level, and turned by a right angle it is
    upright (geometry); what is level goes round a standing body."""
    oval = 'shape = "oval"\nlengths = { length = "arm.length", width = "arm.width" }'
    recipe = gnome(
        (TUBE, oval),
        (ARM_PLACE, f"along = 0.4, around = 0, tilt = 0, swing = 0, times = 3, roll = {roll}"),
    )
    words = " ".join(unwrapped(text_of(made(recipe))))
    assert f"sew, {said}, all 3 evenly around the body" in words


def test_folded_copies_say_from_where_to_where_each_goes() -> None:
    flat = TUBE.replace(" }", ", flatness = 0.3 }")
    words = " ".join(unwrapped(text_of(made(gnome((TUBE, flat))))))
    along = r"sew, folded flat, all 6 evenly around the body along Rnd \d+, 1\d sts"
    assert re.search(along, words)
    turned = (ARM_PLACE, ARM_PLACE + ", roll = 90")
    words = " ".join(unwrapped(text_of(made(gnome((TUBE, flat), turned)))))
    found = re.search(r"folded flat, all 6 evenly around the body each from Rnd (\d+) to Rnd (\d+)",
                      words)
    assert found
    assert int(found[1]) < int(found[2])


def test_copies_in_the_data() -> None:
    data = toy_data(made(gnome()))
    assert next(p for p in data["parts"] if p["name"] == "arm")["copies"] == 6
    assert next(s for s in data["seams"] if s["part"] == "arm")["evenly_round"] == 6


def test_copies_without_room_are_told() -> None:
    """24 arms 18 mm thick do not fit round a body of 13 cm: 24 x 18 mm is more than its girth of
    42 cm or less."""
    crowded = [w for w in page_of(arms(24)).warnings if "run into each other" in w]
    assert len(crowded) == 1
    assert crowded[0].startswith("Arms: 24 of them have ")
    assert not [w for w in page_of(arms(6)).warnings if "run into each other" in w]


EXTRA_PART = '''
[[parts]]
name = "claw"
label = "Claws"
shape = "cone"
lengths = { height = "0.5 * arm.width", width = "0.5 * arm.width" }
colours = [{ colour = "bark" }]
filling = "none"
place = { seat = "surface", on = "arm", along = 0.1 }

[eyes]
'''


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (("\n[eyes]\n", EXTRA_PART), "parts[2].place.on"),
        (('[eyes]\non = "body"', '[eyes]\non = "arm"'), "eyes.on"),
        (('label = "Mouth"\non = "body"', 'label = "Mouth"\non = "arm"'), "marks[0].on"),
    ],
)
def test_nothing_is_put_on_one_of_several(change: tuple[str, str], key: str) -> None:
    with pytest.raises(RecipeError, match="There are several of 'arm'") as caught:
        gnome(change)
    assert caught.value.field == key
