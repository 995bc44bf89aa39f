"""Toys of one's own in files: written and read without loss, refused with line, key and reason."""

from __future__ import annotations

import json
import math
import tomllib
from copy import deepcopy
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from tests.strategies import TEST_TOYS, TOYS
from tests.strategies_own import formulas
from tests.test_recipes import VALID
from webapp.formulas import (
    Number,
    format_equation,
    format_expression,
    number_text,
    parse_equation,
    parse_expression,
    with_names,
)
from webapp.own import schema
from webapp.own.errors import OwnFileError
from webapp.own.files import read_file, write_file
from webapp.own.lines import read_json
from webapp.own.writing import recipe_data
from webapp.recipes import RecipeError, load_recipe, parse_recipe, recipe_from_data

ALL_TOYS = sorted((*TOYS.glob("*.toml"), *TEST_TOYS.glob("*.toml")))
CHOICES = {"yarn": "4", "height_cm": "18"}


# Shortest by the precedence of school algebra: written by hand.
FORMATTED = [
    ("((a.b))+(c*(d))", "a.b + c * d"),
    ("(a.b+c)*d", "(a.b + c) * d"),
    ("a-(b-c)", "a - (b - c)"),
    ("(a-b)-c", "a - b - c"),
    ("a/(b*c)", "a / (b * c)"),
    ("a*(b/c)", "a * (b / c)"),
    ("-(a+b)", "-(a + b)"),
    ("-(a**2)", "-a ** 2"),
    ("(-a)**2", "(-a) ** 2"),
    ("(a*b)**-0.5", "(a * b) ** -0.5"),
    ("sqrt((a+b))", "sqrt(a + b)"),
    ("2*(-(3))", "2 * -3"),
    ("pi*0.50", "pi * 0.5"),
    (".000001", "0.000001"),
]


@pytest.mark.parametrize(("text", "expected"), FORMATTED)
def test_a_formula_is_written_with_the_fewest_parentheses(text: str, expected: str) -> None:
    assert format_expression(parse_expression(text)) == expected


@given(formulas())
def test_a_formula_reads_back_to_the_same_tree(tree: Any) -> None:
    assert parse_expression(format_expression(tree)) == tree


@given(formulas(2), formulas(2))
def test_an_equation_reads_back_to_the_same_trees(left: Any, right: Any) -> None:
    text = f"{format_expression(left)} = {format_expression(right)}"
    read = parse_equation(text)
    assert (read.left, read.right) == (left, right)
    assert format_equation(read) == text


@given(st.decimals(0, 10**9, allow_nan=False))
def test_a_number_is_written_without_loss_or_not_at_all(number: Any) -> None:
    value = float(number)
    try:
        text = number_text(value)
    except ValueError:
        # Only what has more digits than the grammar takes.
        assert len(f"{Decimal(repr(value)):f}".removeprefix("0.").replace(".", "")) > 12
        return
    assert float(text) == value
    assert parse_expression(text) == Number(value)


@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf, 1 / 3, 2e9])
def test_a_number_that_no_formula_has_is_not_written(value: float) -> None:
    with pytest.raises(ValueError, match="formula"):
        format_expression(Number(value))


def test_names_change_where_they_stand_and_nothing_else_does() -> None:
    names = {"a.b": "c.d", "x": "y"}
    assert with_names("a.b*  a.bc - x*(xx+a.b.b)", names) == "c.d*  a.bc - y*(xx+a.b.b)"
    assert with_names("a.b * £", names) == "a.b * £"


@pytest.mark.parametrize("path", ALL_TOYS, ids=lambda path: path.stem)
def test_every_toy_written_as_data_reads_back_the_same(path: Path) -> None:
    recipe = load_recipe(path)
    assert recipe_from_data(recipe_data(recipe), path.stem) == recipe


@pytest.mark.parametrize("path", ALL_TOYS, ids=lambda path: path.stem)
def test_every_toy_goes_through_a_file_and_its_data_fits_the_schema(path: Path) -> None:
    """tomllib's reading of the toy's own file is the outside measure of what the schema takes."""
    by_hand = tomllib.loads(path.read_text(encoding="utf-8"))
    file = {"format": "roundling-toy", "version": 1, "toy": by_hand, "choices": CHOICES}
    assert Draft202012Validator(schema.file_schema()).is_valid(file)
    text = write_file(by_hand, CHOICES)
    assert json.loads(text)["toy"] == by_hand
    read = read_file(text)
    assert (read.data, read.choices) == (by_hand, CHOICES)
    assert recipe_from_data(read.data, path.stem) == load_recipe(path)


def test_a_file_is_stable_and_a_person_can_read_it() -> None:
    data = tomllib.loads(VALID)
    text = write_file(data, CHOICES)
    turned = {key: data[key] for key in reversed(data)}
    assert write_file(turned, dict(reversed(CHOICES.items()))) == text
    assert text.endswith("}\n")
    assert max(map(len, text.splitlines())) < 130
    assert '        "place": {"seat": "ground"}\n' in text
    with pytest.raises(ValueError, match="JSON"):
        write_file({**data, "turn": math.nan}, {})


def test_the_schema_is_a_schema_and_the_published_file_is_it() -> None:
    """jsonschema's own copy of the 2020-12 meta-schema is the judge."""
    built = schema.file_schema()
    Draft202012Validator.check_schema(built)
    published = Path(schema.__file__).with_name("toy.schema.json")
    text = json.dumps(built, indent=2, ensure_ascii=False) + "\n"
    assert published.read_text(encoding="utf-8") == text


HERE = "@@HERE@@"


def spread(file: Any) -> str:
    """JSON with every key on a line of its own."""
    return json.dumps(file, indent=1)


def at(file: Any, path: tuple[Any, ...]) -> Any:
    for step in path:
        file = file[step]
    return file


def line_in(file: Any, path: tuple[Any, ...]) -> int:
    """The line of a key: where a mark put in its place stands in the spread file."""
    if not path:
        return 1
    marked = deepcopy(file)
    at(marked, path[:-1])[path[-1]] = HERE
    lines = spread(marked).splitlines()
    return next(n for n, line in enumerate(lines, 1) if HERE in line)


def valid_file() -> dict[str, Any]:
    recipe = parse_recipe(VALID, "pim.toml")
    data = recipe_data(recipe)
    data["dimensions"] = {"hat.width": 30}
    data["parts"][2]["bulges"] = [{"label": "Puff", "begin": 0.2, "end": 0.6, "arc": 0.2,
                                   "depth": 3, "around": 0}]  # fmt: skip
    data["parts"][0]["colours"][1] |= {"with": ["fur"], "every": 3}
    data["eyes"]["kind"] = "buttons"
    data["marks"][0] |= {"kind": "line", "slant": 5}
    return {"format": "roundling-toy", "version": 1, "toy": data, "choices": dict(CHOICES)}


GONE = object()
T = ("toy",)
BODY, HEAD, EAR = ((*T, "parts", n) for n in (0, 1, 2))
HORN, SCARF = ((*T, "parts", n) for n in (3, 4))

# What is put where (or taken away); the refusal names that place, or where something is missing
# the place around it.
BROKEN: list[tuple[tuple[Any, ...], Any]] = [
    (("format",), "other"),
    (("format",), GONE),
    (("version",), 2),
    (("version",), True),
    (("version",), -1),
    (("version",), "1"),
    (("version",), GONE),
    (T, GONE),
    (T, []),
    (("choices", "yarn"), 4),
    (("choices",), ["yarn"]),
    (("extra",), 1),
    ((*T, "name"), GONE),
    ((*T, "name"), " "),
    ((*T, "name"), 5),
    ((*T, "line"), "two\nlines"),
    ((*T, "level"), "simple"),
    ((*T, "age"), 3),
    ((*T, "turn"), 181),
    ((*T, "rules"), "a = b"),
    ((*T, "rules", 1), 5),
    ((*T, "rules", 1), "a.b = "),
    ((*T, "rules", 2), "9 ** 9 ** 9 = toy.height"),
    ((*T, "colours"), {}),
    ((*T, "colours", "fur", "hex"), "#F0DFC3"),
    ((*T, "colours", "fur", "dye"), 1),
    ((*T, "colours", "dark"), "peat"),
    ((*T, "sliders", "tail_size"), {"low": 1, "high": 2, "default": 1}),
    ((*T, "sliders", "height", "low"), 0),
    ((*T, "sliders", "height", "default"), 501),
    ((*T, "sliders", "height", "high"), 50),
    ((*T, "sliders", "height"), GONE),
    ((*T, "dimensions", "hat"), 3),
    ((*T, "dimensions", "hat.width"), 0),
    ((*T, "dimensions", "hat.width"), "30"),
    ((*T, "parts"), []),
    ((*T, "parts"), GONE),
    ((*T, "parts", 1), "head"),
    ((*BODY, "name"), "Body"),
    ((*HEAD, "name"), "body"),
    ((*HEAD, "label"), "body"),
    ((*EAR, "shape"), "cube"),
    ((*EAR, "shape"), GONE),
    ((*EAR, "lengths", "brim"), 1),
    ((*EAR, "lengths", "height"), GONE),
    ((*EAR, "lengths", "flatness"), "0.5"),
    ((*EAR, "lengths", "flatness"), 1.5),
    ((*EAR, "lengths", "width"), "0.4 * haed.height"),
    ((*EAR, "lengths", "width"), None),
    ((*EAR, "ring"), 9),
    ((*EAR, "ring"), 5.5),
    ((*EAR, "points"), [[0, 0], [0.5, 1], [1, 0]]),
    ((*EAR, "bulges", 0, "around"), 181),
    ((*EAR, "bulges", 0, "arc"), 0.5),
    ((*HORN, "points"), GONE),
    ((*HORN, "points", 1), [0.5]),
    ((*HORN, "points", 1, 0), True),
    ((*HORN, "points", 0), [0.1, 0]),
    ((*HORN, "filling"), "sand"),
    ((*SCARF, "ring"), 6),
    ((*SCARF, "place", "seat"), "lap"),
    ((*SCARF, "place", "on"), GONE),
    ((*BODY, "place", "on"), "head"),
    ((*BODY, "colours", 1, "every"), 0),
    ((*BODY, "colours", 1, "with"), ["red"]),
    ((*BODY, "colours", 1, "colour"), "red"),
    ((*EAR, "place", "on"), "hed"),
    ((*EAR, "place", "tilt"), 91),
    ((*EAR, "place", "pair"), 1),
    ((*EAR, "place", "times"), 3),
    ((*HEAD, "cheeks", "end"), 0.3),
    ((*HEAD, "cheeks", "depth"), GONE),
    ((*T, "eyes", "on"), "tail"),
    ((*T, "eyes", "around"), 0),
    ((*T, "eyes", "kind"), "beads"),
    ((*T, "marks", 0, "colour"), "red"),
    ((*T, "marks", 0, "slant"), -61),
    ((*T, "marks", 0, "width"), "0.1 * hat.height"),
]  # fmt: skip


def broken_file(path: tuple[Any, ...], value: Any) -> Any:
    file = valid_file()
    if value is GONE:
        del at(file, path[:-1])[path[-1]]
    else:
        at(file, path[:-1])[path[-1]] = value
    return file


def test_the_file_that_is_broken_below_is_whole() -> None:
    assert len(BROKEN) > 60
    read = read_file(spread(valid_file()))
    assert read.data == valid_file()["toy"]


@pytest.mark.parametrize(
    ("path", "value"), BROKEN, ids=lambda v: ".".join(map(str, v)) if isinstance(v, tuple) else ""
)
def test_a_broken_file_is_refused_on_its_line(path: tuple[Any, ...], value: Any) -> None:
    file = broken_file(path, value)
    with pytest.raises(OwnFileError) as caught:
        read_file(spread(file))
    error = caught.value
    assert error.why
    assert error.nearest
    expected = line_in(file, path[:-1] if value is GONE else path)
    # A colour that stripes take turns with is named by the whole key, not by its place in it.
    assert error.line == expected, error
    assert f"ine {expected} " in error.asked
    assert str(path[-1]) in error.field or path[-1] in (0, 1, 2) or path == T, error.field


@pytest.mark.parametrize(
    ("path", "value"), BROKEN, ids=lambda v: ".".join(map(str, v)) if isinstance(v, tuple) else ""
)
def test_what_the_schema_refuses_loading_refuses_too(path: tuple[Any, ...], value: Any) -> None:
    """Both are made from the same tables; the schema must not be the stricter one."""
    file = broken_file(path, value)
    toy = file.get("toy")
    if path[0] != "toy" or not isinstance(toy, dict):
        return
    with pytest.raises(RecipeError):
        recipe_from_data(toy, "pim")


def numbers_of(part: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The paths of all plain numbers of a file."""
    if isinstance(part, dict):
        return [p for key, value in part.items() for p in numbers_of(value, (*path, key))]
    if isinstance(part, list):
        return [p for key, value in enumerate(part) for p in numbers_of(value, (*path, key))]
    return [path] if isinstance(part, (int, float)) and not isinstance(part, bool) else []


@pytest.mark.parametrize("value", [-181, -91, -61, -2, -1.01, -0.01, 0, 0.04, 0.96, 1.01, 2.01, 3.5,
                                   9, 13, 25, 61, 91, 121, 181, 201, 2001, 5001])  # fmt: skip
def test_schema_and_loading_have_the_same_bounds(value: float) -> None:
    """Each number of a file in turn is put beyond some bound: both refuse it or neither does.

    Where only loading refuses, the reason lies in another value, of which a schema knows nothing.
    """
    validator = Draft202012Validator(schema.file_schema())
    for path in numbers_of(valid_file()):
        if path[0] != "toy":
            continue
        file = broken_file(path, value)
        by_schema = validator.is_valid(file)
        try:
            recipe_from_data(file["toy"], "pim")
        except RecipeError as error:
            other = ("default", "high", "low", "begin", "end", "colours", "points", "bulges",
                     "lengths", "filling")  # fmt: skip
            assert not by_schema or any(word in error.field for word in other), error
        else:
            assert by_schema, path


# RFC 8259: an outermost value of any kind, no comma at the end, no comments, no single quotes, no
# leading zeros, no control characters in strings, no NaN. Nothing of that is a toy.
NOT_JSON = ["", "{", '{"a": 1,}', "[1,]", "{'a': 1}", '{"a" 1}', "[01]", "[1.]", "[.5]", "[+1]",
            "[NaN]", "[-Infinity]", '["\t"]', '["\\x"]', "// a\n{}", "[1 2]", "nul", "{} {}",
            "{1: 2}", '["\\ud800"]', "[1e999]", "[" + "9" * 5000 + "]"]  # fmt: skip


@pytest.mark.parametrize("text", NOT_JSON, ids=lambda text: text[:8].replace("\n", " "))
def test_what_is_no_json_is_refused_with_its_line(text: str) -> None:
    with pytest.raises(OwnFileError) as caught:
        read_file("\n\n" + text)
    assert caught.value.line == (4 if "//" in text and "\n{}" in text else 3) or "//" in text
    assert caught.value.nearest


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(exclude_categories=["Cs"])),
    lambda inner: st.lists(inner, max_size=4)
    | st.dictionaries(st.text(st.characters(exclude_categories=["Cs"]), max_size=4), inner,
                      max_size=4),
    max_leaves=12,
)  # fmt: skip


@given(JSON, st.sampled_from((None, 0, 3)), st.booleans())
def test_json_is_read_as_the_standard_library_reads_it(
    value: Any, indent: int | None, ascii_only: bool
) -> None:
    text = json.dumps(value, indent=indent, ensure_ascii=ascii_only)
    assert read_json(text).value == json.loads(text)


@given(st.text('{}[]",:0-1. \n\\ue"ntrufalse', max_size=12))
@settings(max_examples=300)
def test_json_is_refused_where_the_standard_library_refuses_it(text: str) -> None:
    def twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        if len(dict(pairs)) < len(pairs):
            raise ValueError("a key comes twice")
        return dict(pairs)

    try:
        expected = json.loads(text, object_pairs_hook=twice)
    except ValueError:
        with pytest.raises(OwnFileError):
            read_json(text)
    else:
        assert read_json(text).value == expected


def test_too_big_and_too_deep_are_refused_in_no_time() -> None:
    with pytest.raises(OwnFileError, match="200 kB"):
        read_file('"' + "é" * 100_001)
    with pytest.raises(OwnFileError, match="deeper than 16"):
        read_file("[\n" * 60_000)
    with pytest.raises(OwnFileError, match=r"Line 2 .*twice"):
        read_file('{"format": 1,\n"format": 2}')


def test_a_mark_at_the_beginning_is_passed_over() -> None:
    """RFC 8259, section 8.1: a reader may ignore a byte order mark."""
    assert read_file("\ufeff" + spread(valid_file())).choices == CHOICES


def test_a_file_of_the_draft_version_still_reads() -> None:
    file = valid_file()
    file["version"] = 0
    body, head, ear = (at(file, path) for path in (BODY, HEAD, EAR))
    head["bulge"] = head.pop("cheeks")
    body["colours"], ear["colours"] = ["fur", "dark"], ["fur"]
    for number in (1, 3, 4):
        part = file["toy"]["parts"][number]
        part["colours"] = [band["colour"] for band in part["colours"]]
    read = read_file(spread(file))
    new = deepcopy(file["toy"])
    assert read.data["parts"][0]["colours"] == [
        {"colour": "fur"},
        {"colour": "dark", "begin": 0.5},
    ]
    assert read.data["parts"][1]["cheeks"] == new["parts"][1]["bulge"]
    written = json.loads(write_file(read.data, read.choices))
    assert written["version"] == 1
    assert read_file(spread(written)) == read
    head["bulge"]["depth"] = "0.1 * hat.height"
    with pytest.raises(OwnFileError) as caught:
        read_file(spread(file))
    assert caught.value.line == line_in(file, (*HEAD, "bulge", "depth"))


@given(JSON)
@settings(max_examples=30, deadline=None)
def test_no_json_makes_a_crash(value: Any) -> None:
    """Whatever stands in place of a toy, or of any of its keys, is refused in sentences."""
    for path in (T, *((*T, key) for key in valid_file()["toy"]), BODY, (*EAR, "place")):
        try:
            read_file(json.dumps(broken_file(path, value)))
        except OwnFileError as error:
            assert error.line == 1
