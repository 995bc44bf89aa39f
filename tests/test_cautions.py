"""Safety cautions: each on the page and in the pattern, at the point where it matters."""

from __future__ import annotations

import html
import re
from typing import Any

import pytest
from flask.testing import FlaskClient

from tests.reader import TITLE
from tests.strategies import recipes
from webapp.web import create_app

TOYS = ("otter", "owl", "rabbit", "whale")
CORD_MM, LOOP_MM = 220, 360
"""A cord or free end, and the way round a loop: EN 71-1 and ASTM F963, from memory."""
TUBE_MM = (31.7, 57.1)
"""Small-parts cylinder, width and depth: 16 CFR 1501, figure 1."""
PULL_KG = 90 / 9.81
"""90 N: EN 71-1, 8.4.2.1, as laboratories quote it."""


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    app = create_app()
    app.config["PROPAGATE_EXCEPTIONS"] = True
    return app.test_client()


def plain(text: str) -> str:
    """On one line: patterns are folded and pages indented."""
    return " ".join(text.split())


def get(client: FlaskClient, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200, answer.get_data(as_text=True)
    return answer.get_data(as_text=True)


def page_of(client: FlaskClient, toy: str, query: str = "") -> str:
    """The page's text without its tags."""
    shown = re.sub(r"<[^>]*>", " ", get(client, f"/toys/{toy}?{query}"))
    return plain(html.unescape(shown))


def pattern_of(client: FlaskClient, toy: str, query: str = "") -> str:
    return get(client, f"/toys/{toy}/pattern.txt?{query}")


def data_of(client: FlaskClient, toy: str, query: str = "") -> dict[str, Any]:
    answer = client.get(f"/toys/{toy}/toy.json?{query}")
    assert answer.status_code == 200
    data = answer.get_json()
    assert isinstance(data, dict)
    return data


def blocks(pattern: str) -> dict[str, str]:
    """The pattern's sections, each on one line, by title (parts without their number)."""
    found = {}
    for block in pattern.split("\n\n"):
        title, _, body = block.partition("\n")
        part = TITLE.match(title)
        found[part[1] if part else title] = plain(body)
    return found


QUERIES = ("", "under_three=yes", "units=in&terms=uk", "yarn=5&height_cm=40")


@pytest.mark.parametrize("toy", TOYS)
@pytest.mark.parametrize("query", QUERIES)
def test_every_caution_is_on_the_page_and_in_the_pattern(
    client: FlaskClient, toy: str, query: str
) -> None:
    page = page_of(client, toy, query)
    pattern = plain(pattern_of(client, toy, query))
    cautions = data_of(client, toy, query)["cautions"]
    assert len(cautions) >= 4
    for caution in cautions:
        assert caution["text"] in page
        assert caution["text"] in pattern, caution


@pytest.mark.parametrize("toy", TOYS)
def test_small_parts_are_named_before_the_first_part(client: FlaskClient, toy: str) -> None:
    """A maker chooses eyes before the first stitch. The tube's two measures are those of 16 CFR
    1501, figure 1 (31.7 by 57.1 mm), in whole millimetres."""
    pattern = pattern_of(client, toy)
    safety = blocks(pattern)["SAFETY"]
    width, depth = (f"{mm:.0f} mm" for mm in TUBE_MM)
    assert f"{width} wide and {depth} deep" in safety
    assert "under three, embroider" in safety
    first = recipes()[toy].parts[0].label.upper()
    assert pattern.index("SAFETY") < pattern.index(f"{first} (make")


@pytest.mark.parametrize("toy", TOYS)
def test_stuffing_cautions_stand_where_stuffing_begins(client: FlaskClient, toy: str) -> None:
    """New washable filling that does not show: needed before the first part is full, so in the
    first block that says to stuff. Common practice, no source."""
    found = blocks(pattern_of(client, toy))
    titles = [part.label.upper() for part in recipes()[toy].parts]
    first = next(found[t] for t in titles if re.search("[Ss]tuff (firmly|lightly)|Start", found[t]))
    assert "washable" in first


@pytest.mark.parametrize("toy", TOYS)
def test_sewing_says_to_pull_and_that_it_is_no_test(client: FlaskClient, toy: str) -> None:
    """90 N (EN 71-1, 8.4.2.1) is the weight of 9.2 kg."""
    sewing = blocks(pattern_of(client, toy))["SEWING TOGETHER"]
    assert f"about {PULL_KG:.0f} kg" in sewing
    assert "not a test certificate" in sewing
    assert "Count pins and needles" in sewing


def test_the_start_page_says_that_toys_for_small_children_need_care(client: FlaskClient) -> None:
    page = plain(get(client, "/"))
    assert "no small hard parts" in page
    assert "no long cords" in page


@pytest.mark.parametrize("toy", TOYS)
@pytest.mark.parametrize("query", ["", "&height_cm=14", "&height_cm=60", "&units=in&terms=uk"])
def test_under_three_gives_embroidered_eyes_and_no_safety_eye_anywhere(
    client: FlaskClient, toy: str, query: str
) -> None:
    query = f"under_three=yes{query}"
    data = data_of(client, toy, query)
    assert data["eyes"]["stock_mm"] is None
    pattern, page = plain(pattern_of(client, toy, query)), page_of(client, toy, query)
    for text in (pattern, page):
        assert not re.search(r"(?i)safety[- ]eyes?", text)
        assert not re.search(r"\d+ mm eyes?\b", text)
        assert "washer" not in text
        assert "Embroider the eyes" in text
        assert "Add nothing hard" in text
    assert "Embroider the eyes" in blocks(pattern_of(client, toy, query))["SEWING TOGETHER"]


@pytest.mark.parametrize("toy", TOYS)
def test_else_a_safety_eye_has_one_size_everywhere(client: FlaskClient, toy: str) -> None:
    stock = data_of(client, toy)["eyes"]["stock_mm"]
    pattern = plain(pattern_of(client, toy))
    assert f"one pair of safety eyes, {stock} mm" in pattern
    assert re.search(f"(Place the|Push each) {stock} mm eyes?", pattern)
    assert f"Safety eyes of {stock} mm are small parts" in pattern
    assert f"{stock} mm" in page_of(client, toy)


def scarf_mm(client: FlaskClient, query: str) -> float:
    """Length of the scarf as stitched."""
    parts = data_of(client, "rabbit", query)["parts"]
    scarf = next(part for part in parts if part["name"] == "scarf")
    return float(scarf["sizes_mm"]["length"]["stitched"])


def scarf_texts(client: FlaskClient, query: str) -> tuple[str, str]:
    """The scarf's caution as its block of the pattern has it, and the page."""
    return blocks(pattern_of(client, "rabbit", query))["SCARF"], page_of(client, "rabbit", query)


@pytest.mark.parametrize("height", [11, 12, 14, 15, 16, 17, 18, 20, 22, 40, 100])
def test_a_scarf_longer_than_a_cord_may_be_gets_the_stronger_caution(
    client: FlaskClient, height: int
) -> None:
    """220 mm: EN 71-1 and ASTM F963, from memory. Either way both limits are told."""
    query = f"height_cm={height}&yarn=2"
    long = scarf_mm(client, query) > CORD_MM
    for text in scarf_texts(client, query):
        assert ("could strangle a small child" in text) == long
        assert ("Leave it off" in text) == long
        assert ("is a cord to a small child" in text) != long
        assert f"longer than {CORD_MM // 10} cm" in text
        assert f"more than {LOOP_MM // 10} cm around" in text


def test_scarves_of_the_test_above_lie_on_both_sides_of_the_limit(client: FlaskClient) -> None:
    assert scarf_mm(client, "height_cm=11&yarn=2") < CORD_MM < scarf_mm(client, "height_cm=22")


def test_limits_in_inches_are_no_longer_than_the_limits(client: FlaskClient) -> None:
    """To the eighth of an inch of 25.4 mm (by definition), never above 220 and 360 mm."""
    for text in scarf_texts(client, "units=in"):
        found = re.search(r"no longer than (\d+) (\d)/8 in .*? more than (\d+) (\d)/8 in", text)
        assert found
        cord, loop = (
            25.4 * (int(found[n]) + int(found[n + 1]) / 8.0) for n in (1, 3)
        )
        assert CORD_MM - 25.4 / 8.0 < cord <= CORD_MM
        assert LOOP_MM - 25.4 / 8.0 < loop <= LOOP_MM


def test_a_scarf_said_to_be_too_long_is_written_as_longer_than_the_limit(
    client: FlaskClient,
) -> None:
    """'22 cm long ... may be no longer than 22 cm' tells a maker nothing."""
    tried = 0
    for tenth in range(140, 200, 2):
        query = f"height_cm={tenth / 10}&yarn=1"
        if not CORD_MM < scarf_mm(client, query) < CORD_MM + 5:
            continue
        tried += 1
        text = scarf_texts(client, query)[0]
        found = re.search(r"is ([\d.]+) cm long .*no longer than ([\d.]+) cm", text)
        assert found, text
        assert float(found[1]) > float(found[2]), text
    assert tried


def test_long_soft_ears_are_a_cord_and_short_ones_are_not(client: FlaskClient) -> None:
    """A soft strip longer than 220 mm (EN 71-1 and ASTM F963, from memory)."""
    for query, long in (("", False), ("height_cm=60&ear_size=1.8", True)):
        ears = next(p for p in data_of(client, "rabbit", query)["parts"] if p["name"] == "ear")
        assert (ears["sizes_mm"]["length"]["stitched"] > CORD_MM) == long
        block = blocks(pattern_of(client, "rabbit", query))["EARS"]
        assert ("can be judged a cord" in block) == long
        assert ("can be judged a cord" in page_of(client, "rabbit", query)) == long


@pytest.mark.parametrize("toy", ["otter", "owl"])
def test_a_toy_without_cords_has_no_caution_about_cords(client: FlaskClient, toy: str) -> None:
    assert [c for c in data_of(client, toy)["cautions"] if c["about"] == "cords"] == []
    assert "strangle" not in pattern_of(client, toy)


@pytest.mark.parametrize("toy", TOYS)
def test_selling_is_said_to_be_regulated_without_promising_anything(
    client: FlaskClient, toy: str
) -> None:
    """No pattern may call a toy safe or tested: common practice, no source."""
    pattern = plain(pattern_of(client, toy))
    assert "selling toys is regulated" in pattern
    for promise in ("is safe", "are safe", "child-safe", "complies", "certified", "CE mark"):
        assert promise not in pattern
