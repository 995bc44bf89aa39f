"""Schema of ``toy.json``, pictures and the table of materials, each read by somebody else's reader:
jsonschema, the PNG specification's own layout and xml.etree, the csv module."""

from __future__ import annotations

import csv
import io
import re
import struct
import zlib
from typing import Any
from urllib.parse import quote, urlencode
from xml.etree import ElementTree

import numpy as np
import pytest
from flask.testing import FlaskClient
from hypothesis import given, reject, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from tests.strategies import designs, recipes
from tests.test_copies import arms, made
from tests.test_web import ALIEN, NO_NUMBERS, TOYS, at, reader
from tests.test_web_own import begun
from webapp.errors import RoundlingError
from webapp.exports import materials_csv
from webapp.own.packing import pack, unpack
from webapp.recipes import Design
from webapp.way import make_toy
from webapp.web.data import toy_data

client = pytest.fixture(reader, scope="module", name="client")

FILES = ("preview.svg", "preview.png", "shape.glb", "materials.csv")
DESIGNS: list[dict[str, str]] = [
    {}, {"units": "in", "terms": "uk"}, {"under_three": "yes"}, {"height_cm": "30", "yarn": "5"},
    {"swatch_stitches": "20", "swatch_rounds": "22"},
]  # fmt: skip


# --- the schema of toy.json --------------------------------------------------------------------


def validator(client: FlaskClient) -> Draft202012Validator:
    answer = client.get("/toy-result.schema.json")
    assert answer.mimetype == "application/schema+json"
    schema = answer.get_json()
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


@pytest.mark.parametrize("toy", TOYS)
@pytest.mark.parametrize("values", DESIGNS)
def test_every_toy_is_as_the_schema_says(
    client: FlaskClient, toy: str, values: dict[str, str]
) -> None:
    data = client.get(at(toy, values, "toy.json")).get_json()
    assert client.get(data["$schema"]).status_code == 200
    assert [error.message for error in validator(client).iter_errors(data)] == []


@pytest.mark.parametrize("toy", TOYS)
def test_toys_of_ones_own_are_as_the_schema_says(client: FlaskClient, toy: str) -> None:
    data = client.get(at("own", {"recipe": begun(client, toy)["recipe"]}, "toy.json")).get_json()
    assert [error.message for error in validator(client).iter_errors(data)] == []


def test_copies_round_a_host_are_as_the_schema_says(client: FlaskClient) -> None:
    data = toy_data(made(arms(6)))
    assert [error.message for error in validator(client).iter_errors(data)] == []


def spoiled(data: Any, path: tuple[Any, ...], value: Any) -> None:
    *way, last = path
    for step in way:
        data = data[step]
    data[last] = value


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("parts", 0, "rounds", 0, "count"), 0),
        (("parts", 0, "rounds", 0, "work"), [["treble", 6]]),
        (("parts", 0, "rounds", 0, "work"), [["sc", 6, 1]]),
        (("parts", 0, "filling"), "sand"),
        (("seams", 0, "between_rounds"), [3]),
        (("yarn", "category"), 8),
        (("materials", "hours", "value"), -1),
        (("height_mm",), "20 cm"),
        (("more",), 1),
        (("eyes", "kind"), "beads"),
        (("cautions", 0, "about"), ""),
    ],
)
def test_the_schema_refuses_what_is_wrong(
    client: FlaskClient, path: tuple[Any, ...], value: Any
) -> None:
    data = client.get(at("otter", {}, "toy.json")).get_json()
    assert validator(client).is_valid(data)
    spoiled(data, path, value)
    assert not validator(client).is_valid(data)


# --- pictures ----------------------------------------------------------------------------------


def pixels(png: bytes) -> np.ndarray[Any, Any]:
    """The pixels of a PNG (rows, columns, 4), each chunk's checksum and each line's filter undone
    as the PNG specification (third edition, 5 and 9.2) has them."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    at_byte, data, head = 8, b"", b""
    while at_byte < len(png):
        size, kind = struct.unpack_from(">I4s", png, at_byte)
        body = png[at_byte + 8 : at_byte + 8 + size]
        (checksum,) = struct.unpack_from(">I", png, at_byte + 8 + size)
        assert checksum == zlib.crc32(kind + body)
        data, head = data + body * (kind == b"IDAT"), body if kind == b"IHDR" else head
        at_byte += 12 + size
    width, height, depth, colours, *_, interlaced = struct.unpack(">IIBBBBB", head)
    assert (depth, colours, interlaced) == (8, 6, 0)
    lines = np.frombuffer(zlib.decompress(data), np.uint8).reshape(height, 1 + 4 * width)
    above = np.zeros((width, 4), np.int64)
    found = np.empty((height, width, 4), np.int64)
    for row, line in enumerate(lines):
        found[row] = _unfiltered(int(line[0]), line[1:].reshape(width, 4).astype(np.int64), above)
        above = found[row]
    return found


def _unfiltered(
    kind: int, line: np.ndarray[Any, Any], above: np.ndarray[Any, Any]
) -> np.ndarray[Any, Any]:
    if kind in (0, 2):
        return (line + above * (kind == 2)) % 256
    if kind == 1:
        return line.cumsum(axis=0) % 256
    out, left, corner = np.empty_like(line), np.zeros(4, np.int64), np.zeros(4, np.int64)
    for n, value in enumerate(line):
        guess = (left + above[n]) // 2 if kind == 3 else _paeth(left, above[n], corner)
        out[n] = left = (value + guess) % 256
        corner = above[n]
    return out


def _paeth(a: Any, b: Any, c: Any) -> Any:
    pa, pb, pc = abs(b - c), abs(a - c), abs(a + b - 2 * c)
    return np.where((pa <= pb) & (pa <= pc), a, np.where(pb <= pc, b, c))


@pytest.mark.parametrize("toy", TOYS)
def test_a_picture_is_as_wide_as_asked_and_shows_the_toy(client: FlaskClient, toy: str) -> None:
    """Two square views beside each other: half as tall as wide. Transparent round the toy, and the
    toy's colours (within the shades of its light) in the middle of each view."""
    answer = client.get(at(toy, {"width": "240"}, "preview.png"))
    assert answer.mimetype == "image/png"
    seen = pixels(answer.data)
    assert seen.shape == (120, 240, 4)
    assert seen[0, :, 3].max() == seen[-1, :, 3].max() == 0
    assert seen[60, 60, 3] == seen[60, 180, 3] == 255
    assert 0.2 < (seen[..., 3] > 128).mean() < 0.8
    on_paper = pixels(client.get(at(toy, {"width": "240", "background": "paper"},
                                    "preview.png")).data)  # fmt: skip
    assert on_paper[..., 3].min() == 255
    assert "#" + bytes(on_paper[0, 0, :3].tolist()).hex() == "#fbf5ea"
    inside = seen[..., 3] == 255
    # At seams between facets, drawn over each other, a little of the paper shines through.
    alike = abs(on_paper[inside] - seen[inside]).max(axis=1) <= 2
    assert alike.mean() > 0.95


def test_pictures_have_one_view_if_asked(client: FlaskClient) -> None:
    front, side = (
        pixels(client.get(at("whale", {"width": "100", "view": v}, "preview.png")).data)
        for v in ("front", "side")
    )
    assert front.shape == side.shape == (100, 100, 4)
    assert (front != side).any()


@pytest.mark.parametrize("background", ["transparent", "paper"])
def test_the_svg_says_what_it_shows(client: FlaskClient, background: str) -> None:
    answer = client.get(at("owl", {"width": "500", "background": background}, "preview.svg"))
    assert answer.mimetype == "image/svg+xml"
    root = ElementTree.fromstring(answer.data)
    space = "{http://www.w3.org/2000/svg}"
    assert (root.tag, root.get("width"), root.get("height")) == (f"{space}svg", "500", "250")
    assert root.get("viewBox") == "0 0 2400 1200"
    title, *drawn = root
    assert title.tag == f"{space}title"
    assert "front and side view" in (title.text or "")
    assert (drawn[0].tag == f"{space}rect") == (background == "paper")
    assert len(root.findall(f".//{space}path")) > 50


WRONG = [
    *(("width", text) for text in ("", "0", "63", "4097", "1e3", "12.5", "-200", "٣٠٠", "9" * 400)),
    ("background", "blue"), ("background", ""), ("view", "back"), ("view", ""),
]  # fmt: skip


@pytest.mark.parametrize(("name", "text"), WRONG)
@pytest.mark.parametrize("file", ["preview.svg", "preview.png"])
def test_what_a_picture_cannot_be_is_refused_in_three_sentences(
    client: FlaskClient, file: str, name: str, text: str
) -> None:
    answer = client.get(at("owl", {name: text}, file))
    assert (answer.status_code, answer.mimetype) == (400, "text/plain")
    assert len(re.findall(r"[.]\s", answer.text)) >= 3
    if name == "width":
        assert "64 to 4096" in answer.text


def test_a_value_given_twice_is_refused(client: FlaskClient) -> None:
    for query in ("width=100&width=100", "background=paper&background=paper", "yarn=3&yarn=3"):
        assert client.get(f"/toys/owl/preview.png?{query}").status_code == 400
    assert client.get("/toys/owl/shape.glb?width=100").status_code == 400, "not of a shape"


# --- materials ---------------------------------------------------------------------------------


@pytest.mark.parametrize("toy", TOYS)
@pytest.mark.parametrize("values", DESIGNS)
def test_materials_say_what_the_data_say(
    client: FlaskClient, toy: str, values: dict[str, str]
) -> None:
    """Rows against toy.json; the layout is that of RFC 4180: CR LF, as many cells in every row."""
    answer = client.get(at(toy, values, "materials.csv"))
    assert answer.content_type == "text/csv; charset=utf-8; header=present"
    text = answer.data.decode("utf-8")
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    rows = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    assert all(None not in row and None not in row.values() for row in rows)
    data = client.get(at(toy, values, "toy.json")).get_json()["materials"]
    coloured = [row for row in rows if row["colour"]]
    wanted = [*data["yarns"], *data["threads"]]
    assert [row["colour"] for row in coloured] == [need["colour"] for need in wanted]
    for row, need in zip(coloured, wanted, strict=True):
        found = [float(row[name]) for name in ("quantity", "least", "most")]
        amounts = [need["metres"][name] for name in ("value", "low", "high")]
        assert found == pytest.approx(amounts, abs=0.051)
        assert row["unit"] == "m"
        assert row["buy"].startswith(f"{need.get('balls') or need['skeins']} ")
        assert re.fullmatch("#[0-9a-f]{6}", row["colour_code"])
    filling = next(row for row in rows if "filling" in row["item"])
    assert float(filling["quantity"]) == pytest.approx(data["filling_grams"]["value"], abs=0.51)
    assert filling["unit"] == "g"
    hooks = [row for row in rows if row["item"].startswith("Crochet hook")]
    assert [f"{data['hook']['mm']:g} mm" in row["item"] for row in hooks] == [True]
    eyes = [row for row in rows if "eyes" in row["item"].lower()]
    assert [row["quantity"] for row in eyes] == ([] if "under_three" in values else ["2"])


@pytest.mark.parametrize(
    "name",
    ["=1+1", "+1", "-2", "@SUM(A1)", "＝1", "\t=1", " =1", '=LINK("x","y")', 'a "b", c', "ü\n=1"],
)
def test_no_cell_is_taken_for_a_formula(client: FlaskClient, name: str) -> None:
    """A cell that begins with one of = + - @ is one (common practice, no source)."""
    data = unpack(begun(client)["recipe"])
    key = next(iter(data["colours"]))
    data["colours"][key]["name"] = name
    answer = client.get(at("own", {"recipe": pack(data)}, "materials.csv"))
    if answer.status_code == 400:
        assert "name" in answer.text
        return
    cells = [c for row in csv.reader(io.StringIO(answer.text, newline="")) for c in row]
    assert all(cell[:1] not in tuple("=+-@＝＋－＠\t\r\n") for cell in cells if cell)
    wanted = " ".join(name.split())
    assert wanted in cells or f"'{wanted}" in cells


@given(design=designs("rabbit", 400.0))
@settings(max_examples=20, deadline=None)
def test_any_design_has_materials_that_can_be_read(design: Design) -> None:
    try:
        toy = make_toy(recipes()["rabbit"], design)
    except RoundlingError:
        reject()
    rows = list(csv.reader(io.StringIO(materials_csv(toy.worked, toy.materials), newline="")))
    assert {len(row) for row in rows} == {9}


# --- all of them -------------------------------------------------------------------------------


@pytest.mark.parametrize("file", FILES)
def test_files_are_linked_from_the_page_with_its_design(client: FlaskClient, file: str) -> None:
    page = client.get(at("otter", {"yarn": "4"})).text
    assert f'href="/toys/otter/{file}?yarn=4"' in page
    own = begun(client, "whale")["recipe"]
    assert f'href="/toys/own/{file}?recipe=' in client.get(at("own", {"recipe": own})).text


@pytest.mark.parametrize("file", FILES)
def test_files_that_cannot_be_are_refused(client: FlaskClient, file: str) -> None:
    assert client.get(f"/toys/bear/{file}").status_code == 404
    assert client.get(f"/toys/own/{file}").status_code == 400
    assert client.get(at("own", {"recipe": "nonsense"}, file)).status_code == 400
    wrong = client.get(at("owl", {"yarn": "9"}, file))
    assert (wrong.status_code, wrong.mimetype) == (400, "text/plain")
    tiny = client.get(at("otter", {"height_cm": "8", "yarn": "7"}, file))
    assert (tiny.status_code, tiny.mimetype) == (422, "text/plain")
    assert tiny.text == client.get(at("otter", {"height_cm": "8", "yarn": "7"}, "toy.json")).text


@given(
    st.lists(
        st.tuples(
            st.sampled_from(("width", "background", "view", "yarn", *ALIEN[:-1])),
            st.sampled_from(("100", "paper", "front", "4", *NO_NUMBERS[:-1])) | st.text(max_size=9),
        ),
        max_size=4,
    )
    | st.binary(max_size=40),
    st.sampled_from(FILES),
)
@settings(max_examples=60, deadline=None)
def test_anything_at_all_is_answered(
    client: FlaskClient, values: list[tuple[str, str]] | bytes, file: str
) -> None:
    query = quote(values, safe="=&;+%") if isinstance(values, bytes) else urlencode(values)
    assert client.get(f"/toys/owl/{file}?{query}").status_code in (200, 400, 422)
