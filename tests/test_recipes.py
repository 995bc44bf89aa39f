"""Recipe files: the shipped toys load; a wrong file is refused with file, key and reason."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.strategies import TEST_TOYS, TOYS, default_design, recipes
from webapp.errors import RoundlingError
from webapp.formulas import names_in
from webapp.recipes import RecipeError, load_recipe, load_recipes, parse_recipe
from webapp.rounds import WorkedPart
from webapp.shapes import SHAPES
from webapp.way import make_toy, work_toy
from webapp.web.toys import Workshop

VALID = """
name = "Pim"
line = "Has one of everything."
level = "easy"
rules = [
  "body.height = 0.5 * toy.height",
  "head.height = head_to_body * body.height",
  "neck.width = 0.3 * toy.height",
]

[colours]
fur = { name = "oat", hex = "#f0dfc3" }
dark = { name = "peat", hex = "#5a3d30" }

[sliders]
height = { low = 100, high = 500, default = 200 }
head_to_body = { low = 0.5, high = 1.5, default = 1 }

[[parts]]
name = "body"
label = "Body"
shape = "egg"
lengths = { height = "body.height", width = "0.9 * body.height", opening = "neck.width" }
colours = [{ colour = "fur" }, { begin = 0.5, colour = "dark" }]
filling = "firm"
place = { seat = "ground" }

[[parts]]
name = "head"
label = "Head"
shape = "egg"
lengths = { height = "head.height", width = "head.height", widest = 0.55, opening = "neck.width" }
colours = [{ colour = "fur" }]
filling = "firm"
place = { seat = "opening", on = "body" }
cheeks = { begin = 0.4, end = 0.8, arc = 0.2, depth = "0.05 * head.height" }

[[parts]]
name = "ear"
label = "Ears"
shape = "dome"
ring = 5
lengths = { height = "0.3 * head.height", width = "0.4 * head.height", flatness = 0.5 }
colours = [{ colour = "fur" }]
filling = "none"
place = { seat = "surface", on = "head", along = 0.2, around = 70, pair = true }

[[parts]]
name = "horn"
label = "Horn"
shape = "outline"
lengths = { length = "0.3 * head.height", width = "0.3 * head.height" }
points = [[0, 0], ["0.1 * toy.height / body.height", 0.6], [1, 0.9]]
colours = [{ colour = "dark" }]
filling = "light"
place = { seat = "surface", on = "head", along = 0.1 }

[[parts]]
name = "scarf"
label = "Scarf"
shape = "strip"
lengths = { length = "5 * neck.width", width = "0.1 * toy.height" }
colours = [{ colour = "dark" }]
filling = "none"
place = { seat = "neck", on = "body" }

[eyes]
on = "head"
along = 0.5
around = 30
diameter = "0.1 * head.height"

[[marks]]
label = "Nose"
on = "head"
along = 0.6
width = "0.1 * head.height"
height = 8
colour = "dark"
"""
EAR_PLACE = 'seat = "surface", on = "head", along = 0.2'
BOOM = """__import__('os').system('touch boom')"""

# What is replaced, by what, the key that must be named (a star: anything under it), and a word or
# two of the reason.
REFUSED = {
    "no name": ('name = "Pim"', "", "name", "missing"),
    "empty name": ('name = "Pim"', 'name = " "', "name", "empty"),
    "name a number": ('name = "Pim"', "name = 5", "name", "wrong kind"),
    "name a truth": ('name = "Pim"', "name = true", "name", "wrong kind"),
    "unknown key": ('level = "easy"', 'level = "easy"\nage = 3', "age", "No such key"),
    "unknown level": ('level = "easy"', 'level = "simple"', "level", "'simple'"),
    "no rules": ("rules = [", "rulez = [", "rules", "missing"),
    "rules a number": ("rules = [", "rules = 5\nrest = [", "rules", "wrong kind"),
    "rule without =": ('"body.height = 0.5', '"body.height 0.5', "rules[0]", "character 13"),
    "rule that runs code": ("0.5 * toy.height", BOOM, "rules[0]", "character 15"),
    "rule of powers of powers": ("0.5 * toy", "9 ** 9 ** 9 * toy", "rules[0]", "exponent"),
    "rule of 600 marks": ("0.5 * toy", "1 +" * 200 + " toy", "rules[0]", "500"),
    "no hex": (', hex = "#f0dfc3"', "", "colours.fur.hex", "missing"),
    "bad hex": ("#f0dfc3", "#f0dfc", "colours.fur.hex", "not a colour"),
    "hex a word": ("#f0dfc3", "oat", "colours.fur.hex", "not a colour"),
    "unknown key in a colour": ('hex = "#f0', 'dye = 1, hex = "#f0', "colours.fur.dye", "No such"),
    "colour a text": ('fur = { name = "oat", hex = "#f0dfc3" }', 'fur = "oat"', "colours.fur", ""),
    "no such slider": ("head_to_body = {", "tail_size = {", "sliders.tail_size", "No such"),
    "no height": ("height = { low = 100", "ear_size = { low = 100", "sliders.height", "missing"),
    "default below": ("default = 200", "default = 99", "sliders.height.default", "99"),
    "default above": ("default = 200", "default = 501", "sliders.height.default", "501"),
    "default not a number": ("default = 200", "default = nan", "sliders.height.default", "nan"),
    "high below low": ("high = 500", "high = 50", "sliders.height.high", "50"),
    "high without end": ("high = 500", "high = inf", "sliders.height.high", "inf"),
    "part without name": ('name = "ear"', "", "parts[2].name", "missing"),
    "part name with a space": ('name = "ear"', 'name = "left ear"', "parts[2].name", "left ear"),
    "part twice": ('name = "ear"', 'name = "head"', "parts[2].name", "twice"),
    "label twice": ('label = "Ears"', 'label = "Head"', "parts[2].label", ""),
    "unknown shape": ('shape = "dome"', 'shape = "cube"', "parts[2].shape", "'cube'"),
    "length it has not": ("flatness = 0.5", "brim = 1", "parts[2].lengths.brim", "no such length"),
    "length it needs": ('height = "0.3 * head.height", ', "", "parts[2].lengths.height", "Without"),
    "length a date": ('"0.3 * head.height", width = "0.4', '2020-01-01, width = "0.4',
                      "parts[2].lengths.height", "wrong kind"),
    "length that runs code": ("0.4 * head.height", BOOM, "parts[2].lengths.width", "character 1"),
    "length of an unknown name": ("0.4 * head.height", "0.4 * haed.height",
                                  "parts[2].lengths.width", "'haed.height'"),
    "too flat": ("flatness = 0.5", "flatness = 0.01", "parts[2].lengths.flatness", "0.01"),
    "ratio a formula": ("flatness = 0.5", 'flatness = "0.5"', "parts[2].lengths.flatness", "kind"),
    "ring of 9": ("ring = 5", "ring = 9", "parts[2].ring", "9"),
    "ring of 5.5": ("ring = 5", "ring = 5.5", "parts[2].ring", "5.5"),
    "ring a text": ("ring = 5", 'ring = "5"', "parts[2].ring", "wrong kind"),
    "points on a dome": ("ring = 5", "points = [[0, 0], [0.5, 1], [1, 0]]", "parts[2].points", ""),
    "outline without points": ("points = [[0", "paints = [[0", "parts[3].points", ""),
    "two points": (', ["0.1 * toy.height / body.height", 0.6]', "", "parts[3].points", "2"),
    "point of three": ("0.6],", "0.6, 3],", "parts[3].points[1]", "pair"),
    "point a date": ("0.6],", "2020-01-01],", "parts[3].points[1]", ""),
    "point of an unknown name": ("toy.height / body", "tow.height / body", "parts[3].points[1]",
                                 "'tow.height'"),
    "points that go back": ("[[0, 0]", "[[0.9, 0]", "parts[3].points*", ""),
    "filling in a part open at both ends": ("[[0, 0]", "[[0, 0.5]", "parts[3].filling", "opening"),
    "no filling": ('filling = "light"', "", "parts[3].filling", "missing"),
    "unknown filling": ('filling = "light"', 'filling = "sand"', "parts[3].filling", "'sand'"),
    "unknown colour": ('colours = [{ colour = "dark" }]\nfilling = "light"',
                       'colours = [{ colour = "red" }]\nfilling = "light"',
                       "parts[3].colours[0].colour", "'red'"),
    "first colour not at 0": ('[{ colour = "fur" }, {', '[{ begin = 0.1, colour = "fur" }, {',
                              "parts[0].colours", "0"),
    "no seat": ('seat = "neck", ', "", "parts[4].place.seat", "missing"),
    "unknown seat": ('seat = "neck"', 'seat = "lap"', "parts[4].place.seat", "'lap'"),
    "host after guest": ('seat = "opening", on = "body"', 'seat = "opening", on = "ear"',
                         "parts[1].place.on", "'ear'"),
    "host unknown": (EAR_PLACE, EAR_PLACE.replace("head", "hed"), "parts[2].place.on", "'hed'"),
    "on the ground and on a part": ('seat = "ground"', 'seat = "ground", on = "x"',
                                    "parts[0].place.on", "No such key"),
    "along past the end": ("along = 0.2", "along = 1.2", "parts[2].place.along", "1.2"),
    "tilt not a number": ("around = 70", "tilt = nan", "parts[2].place.tilt", "nan"),
    "pair a number": ("pair = true", "pair = 1", "parts[2].place.pair", "wrong kind"),
    "neck of what is no strip": (EAR_PLACE, 'seat = "neck", on = "head"', "parts[2].*", ""),
    "strip that is no neck": ('seat = "neck", on = "body"', 'seat = "ground"', "parts[4].*", ""),
    "eyes on a strip": ('on = "head"\nalong = 0.5', 'on = "scarf"\nalong = 0.5', "eyes.on", ""),
    "mark on a strip": ('on = "head"\nalong = 0.6', 'on = "scarf"\nalong = 0.6',
                        "marks[0].on", ""),
    "opening onto no opening": ('"0.9 * body.height", opening = "neck.width"',
                                '"0.9 * body.height"', "parts[*", ""),
    "two parts on the ground": ('seat = "opening", on = "body"', 'seat = "ground"',
                                "parts[1].place*", ""),
    "a pair on one opening": ('seat = "opening", on = "body"', 'seat = "opening", on = "body", '
                              "pair = true", "parts[1].place*", ""),
    "two parts on one opening": ('"surface", on = "head", along = 0.1', '"opening", on = "body"',
                                 "parts[3].place*", ""),
    "colour that is never worked": ("{ begin = 0.5, col", '{ begin = 0.5, colour = "fur" }, '
                                    "{ begin = 0.5, col", "parts[0].colours*", ""),
    "two colours of a strip": ('[{ colour = "dark" }]\nfilling = "none"', '[{ colour = "dark" }, '
                               '{ begin = 0.5, colour = "fur" }]\nfilling = "none"',
                               "parts[4].colours*", ""),
    "ring of a strip": ('shape = "strip"', 'shape = "strip"\nring = 5', "parts[4].ring", ""),
    "label of two lines": ('label = "Ears"', 'label = "Ears\\nand"', "parts[2].label", ""),
    "slider that moves nothing": ("[sliders]", "[sliders]\near_size = { low = 0.5, high = 2, "
                                  "default = 1 }", "sliders.ear_size", ""),
    "height of nothing": ("low = 100", "low = 0", "sliders.height.low", ""),
    "cheeks out of order": ("end = 0.8", "end = 0.3", "parts[1].cheeks.end", "0.3"),
    "cheeks without depth": (', depth = "0.05 * head.height"', "", "parts[1].cheeks.depth",
                             "missing"),
    "cheeks on a strip": ('place = { seat = "neck"', 'cheeks = { begin = 0.4, end = 0.8, arc = 0.2,'
                          ' depth = 3 }\nplace = { seat = "neck"', "parts[4].cheeks", ""),
    "eyes on no part": ('on = "head"\nalong = 0.5', 'on = "tail"\nalong = 0.5', "eyes.on", "tail"),
    "eyes of an unknown size": ('diameter = "0.1 * head', 'diameter = "0.1 * hat',
                                "eyes.diameter", "'hat.height'"),
    "mark of an unknown colour": ('height = 8\ncolour = "dark"', 'height = 8\ncolour = "red"',
                                  "marks[0].colour", "'red'"),
    "no parts": ("[[parts]]", "[[pieces]]", "parts", "missing"),
}  # fmt: skip


def test_the_toy_that_is_broken_below_is_whole() -> None:
    """Else a refusal below might be for another reason."""
    recipe = parse_recipe(VALID, "pim.toml")
    assert {part.name for part in recipe.parts} == {"body", "head", "ear", "horn", "scarf"}
    assert make_toy(recipe, default_design(recipe)).worked.stitches > 1000


@pytest.mark.parametrize("case", REFUSED, ids=lambda case: case.replace(" ", "-"))
def test_a_wrong_file_is_refused_with_file_key_and_reason(case: str) -> None:
    old, new, key, reason = REFUSED[case]
    assert old in VALID
    with pytest.raises(RecipeError) as caught:
        parse_recipe(VALID.replace(old, new) if case == "no parts" else VALID.replace(old, new, 1),
                     "pim.toml")  # fmt: skip
    error = caught.value
    assert error.file == "pim.toml"
    if key.endswith("*"):
        assert error.field.startswith(key[:-1]), error
    else:
        assert error.field == key, error
    assert error.why
    assert reason in error.why
    assert "pim.toml" in str(error)
    assert error.nearest


def test_colours_that_are_none_are_refused_by_their_key() -> None:
    lines = [line for line in VALID.splitlines() if ", hex = " not in line]
    with pytest.raises(RecipeError) as caught:
        parse_recipe("\n".join(lines), "pim.toml")
    assert caught.value.field == "colours"


@pytest.mark.parametrize(
    "text",
    [
        b"name = ",
        b"name = 'a'\nname = 'b'",
        b"\xef\xbb\xbfname = 'a'",
        b"name = 'caf\xe9'",
        b"name = 'a\x00'",
        b"ring = " + b"9" * 5000,
        b"ring = " + b"[" * 5000,
        b"",
    ],
    ids=["cut", "twice", "bom", "latin", "nul", "long-number", "deep", "empty"],
)
def test_a_file_that_is_not_toml_is_refused_by_name(tmp_path: Path, text: bytes) -> None:
    """TOML 1.0: UTF-8, no key twice; a number or a nesting past what can be read is no crash."""
    (tmp_path / "pim.toml").write_bytes(text)
    with pytest.raises(RecipeError, match=r"pim\.toml"):
        load_recipe(tmp_path / "pim.toml")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("0.5 * toy.height", "0.5 * tow.height"),
        ('  "head.height = head_to_body * body.height",\n', '"head.height = 0 * head.width",'),
        ('"neck.width = 0.3 * toy.height"', '"neck.width = 2 * toy.height", "neck.width = 9"'),
        ('"neck.width = 0.3 * toy.height"', '"neck.width = neck.width"'),
        ('"neck.width = 0.3 * toy.height"', '"neck.width = 3 * toy.height", "toy.height = 50"'),
    ],
    ids=["typing-slip", "too-few", "too-many", "itself", "a-lead-settled"],
)
def test_rules_that_do_not_settle_the_toy_are_refused_with_their_file(
    tmp_path: Path, old: str, new: str
) -> None:
    """Found when the toys are made ready, before any request: the maker of the file is told."""
    assert old in VALID
    (tmp_path / "pim.toml").write_text(VALID.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(RoundlingError) as caught:
        Workshop(tmp_path)
    assert "pim.toml" in str(caught.value)


def test_a_length_that_comes_out_negative_is_refused_by_its_part() -> None:
    text = VALID.replace('height = "0.3 * head', 'height = "-0.3 * head')
    recipe = parse_recipe(text, "pim.toml")
    with pytest.raises(RoundlingError, match=r"(?i)ears"):
        work_toy(recipe, default_design(recipe))


def test_nothing_in_a_file_is_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for place in ("0.5 * toy.height", "0.4 * head.height", "0.1 * toy.height / body.height"):
        with pytest.raises(RecipeError):
            parse_recipe(VALID.replace(place, BOOM, 1), "pim.toml")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("path", sorted(TOYS.glob("*.toml")), ids=lambda path: path.stem)
def test_each_shipped_toy_loads_and_can_be_made(path: Path) -> None:
    recipe = load_recipe(path)
    assert recipe.key == path.stem
    assert make_toy(recipe, default_design(recipe)).worked.stitches > 1000


@pytest.mark.parametrize("path", sorted(TOYS.glob("*.toml")), ids=lambda path: path.stem)
def test_each_slider_of_a_shipped_toy_moves_something(path: Path) -> None:
    recipe = load_recipe(path)
    used = {name for rule in recipe.rules for name in names_in(rule)}
    assert set(recipe.leads) <= used


def test_the_toys_use_every_shape_of_the_catalogue_and_sectors() -> None:
    shapes, sectors = set(), False
    for recipe in (*recipes().values(), *load_recipes(TEST_TOYS).values()):
        toy = work_toy(recipe, default_design(recipe))
        for part in recipe.parts:
            shapes.add(part.shape)
            worked = toy.parts[part.name]
            if isinstance(worked, WorkedPart) and not worked.straight_stitches:
                sectors = sectors or any(len(r.sectors) > 1 for r in worked.rounds)
    assert shapes == set(SHAPES)
    assert sectors
