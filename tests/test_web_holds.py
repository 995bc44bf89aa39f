"""Held measures over HTTP: addresses, refusals and ways out of them."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest
from flask.testing import FlaskClient

from webapp.web import create_app

HTMX = {"HX-Request": "true"}


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    return create_app().test_client()


def toy(client: FlaskClient, query: str, key: str = "otter") -> dict[str, Any]:
    answer = client.get(f"/toys/{key}/toy.json?{query}")
    assert answer.status_code == 200, answer.text
    data = answer.json
    assert isinstance(data, dict)
    return data


def size(data: dict[str, Any], part: str, what: str) -> float:
    found = next(p for p in data["parts"] if p["name"] == part)
    return float(found["sizes_mm"][what]["stitched"])


def test_a_held_girth_is_met_and_the_height_stays(client: FlaskClient) -> None:
    data = toy(client, "hold.head.girth_cm=30")
    assert data["height_mm"] == pytest.approx(toy(client, "")["height_mm"], abs=8)
    assert size(data, "head", "width") * 3.14159 == pytest.approx(300, abs=2.1)


def test_inches_are_inches(client: FlaskClient) -> None:
    a = toy(client, "hold.ear.width_cm=2.54")
    b = toy(client, "hold.ear.width_in=1")
    assert a["parts"] == b["parts"]


def test_a_slider_that_only_shows_what_follows_is_not_given(client: FlaskClient) -> None:
    answer = client.get(
        "/toys/otter?hold.head.girth_cm=30&head_to_body=0.6262&follows=head_to_body~0.6262",
        headers=HTMX,
    )
    assert answer.status_code == 200
    assert answer.headers["HX-Push-Url"] == "/toys/otter?hold.head.girth_cm=30"
    moved = client.get(
        "/toys/otter?hold.head.girth_cm=30&head_to_body=0.7&follows=head_to_body~0.6262",
        headers=HTMX,
    )
    assert "head_to_body=0.7" in moved.headers["HX-Push-Url"]


def test_a_measure_chosen_in_the_form_becomes_a_hold(client: FlaskClient) -> None:
    answer = client.get("/toys/otter?hold=tail.length&hold_value=12.5", headers=HTMX)
    assert answer.headers["HX-Push-Url"] == "/toys/otter?hold.tail.length_cm=12.5"
    inches = client.get("/toys/otter?units=in&hold=tail.length&hold_value=5", headers=HTMX)
    assert "hold.tail.length_in=5" in inches.headers["HX-Push-Url"]
    assert client.get("/toys/otter?hold=tail.length&hold_value=").status_code == 200


CONFLICT = "hold.head.girth_cm=30&height_cm=20.5&head_to_body=0.9"


@pytest.mark.parametrize("headers", [HTMX, {}], ids=["fragment", "page"])
def test_every_way_out_of_a_conflict_leads_out(
    client: FlaskClient, headers: dict[str, str]
) -> None:
    answer = client.get(f"/toys/otter?{CONFLICT}", headers=headers)
    assert answer.status_code == 422
    said = answer.text.split('class="ways"')[1].split("</span>")[0]
    ways = [unescape(way) for way in re.findall(r'href="([^"]+)"', said)]
    assert len(ways) == 6  # two sliders, a measure, three rules
    for way in ways:
        assert client.get(way).status_code == 200, way
    assert "the rule “head.width = 1.24 * head.height”" in unescape(said)


def test_what_was_held_stays_in_its_box_beside_a_refusal(client: FlaskClient) -> None:
    page = client.get(f"/toys/otter?{CONFLICT}").text
    assert re.search(r'name="hold.head.girth_cm"[^>]*value="30"', page)
    assert re.search(r'name="height_cm"[^>]*value="20.5"', page)
    assert re.search(r'name="head_to_body"[^>]*value="0.9"', page)


def test_a_slider_is_pinned_at_its_default(client: FlaskClient) -> None:
    free = toy(client, "hold.head.girth_cm=30")
    pinned = toy(client, "hold.head.girth_cm=30&pin=head_to_body")
    assert pinned["sliders"]["head_to_body"] == 0.8
    assert free["sliders"]["head_to_body"] < 0.7
    both = "hold.head.girth_cm=30&pin=head_to_body&pin=height"
    assert client.get(f"/toys/otter?{both}").status_code == 422


@pytest.mark.parametrize(
    ("query", "reason"),
    [
        ("hold.head.girth_cm=wide", "not one number"),
        ("hold.head.girth_cm=-3", "not one number"),
        ("hold.head.girth_cm=1e3", "not one number"),
        ("hold.head.girth_cm=0", "It can be"),
        ("hold.head.girth_cm=99999", "It can be"),
        ("hold.head.girth_cm=30&hold.head.girth_cm=31", "not one number"),
        ("hold.head.girth_cm=30&hold.head.girth_in=12", "held twice"),
        ("hold.hat.girth_cm=30", "no such measure"),
        ("hold.head.girth=30", "no such measure"),
        ("hold._cm=30", "no such measure"),
        ("pin=tail_size", "no such slider"),
        ("let_go=99", "no rule of that number"),
        ("let_go=0", "no rule of that number"),
        ("let_go=%C2%B2", "no rule of that number"),
        ("hold.__class___cm=3", "no such measure"),
    ],
)
def test_a_bad_hold_is_refused_and_the_toy_stays(
    client: FlaskClient, query: str, reason: str
) -> None:
    answer = client.get(f"/toys/otter?{query}")
    assert answer.status_code == 400
    assert reason in unescape(answer.text)
    assert "Round by round" in answer.text
    assert client.get(f"/toys/otter/pattern.txt?{query}").status_code == 400


def test_a_rule_let_go_says_what_is_free(client: FlaskClient) -> None:
    page = unescape(client.get("/toys/otter?let_go=19").text)
    assert "Let go: “eye.width = 0.135 * head.width”" in page
    assert "Free, and left as the recipe has it: eye width 1.5 cm" in page
