"""The checks before publishing: all hold for the toys, and each fails when it is broken."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from flask.testing import FlaskClient
from hypothesis import HealthCheck, assume, given, settings
from werkzeug.test import TestResponse

from tests.strategies import TEST_TOYS, recipes
from tests.strategies_own import own_toys
from tests.test_publish import TOYS, toy_of
from webapp.checks import publishing_checks
from webapp.own.beginnings import from_recipe
from webapp.own.packing import pack
from webapp.pattern import Sheet, pattern_sheet, pattern_text
from webapp.recipes import load_recipe
from webapp.way import Toy
from webapp.web import checking, create_app
from webapp.yarns import Terms


def failed(
    toy: Toy, *, sheet: Sheet | None = None, text: str | None = None, cautions: bool = True
) -> list[str]:
    said = toy.cautions if cautions else ()
    sheet = sheet or pattern_sheet(toy.worked, toy.materials, said)
    text = text or pattern_text(toy.worked, toy.materials, said)
    checks = publishing_checks(toy.worked, toy.materials, said, sheet, text)
    return [check.what for check in checks if not check.holds]


@pytest.mark.parametrize("name", TOYS)
def test_all_hold(name: str) -> None:
    assert failed(toy_of(name)) == []


def test_each_fails_when_broken() -> None:
    toy = toy_of("otter")
    sheet = pattern_sheet(toy.worked, toy.materials, toy.cautions)
    text = pattern_text(toy.worked, toy.materials, toy.cautions)
    assert failed(toy, text=text.replace("[12]", "[13]", 1)) == ["The written rounds say the same"]
    assert "Every part is made" in failed(toy, sheet=replace(sheet, parts=sheet.parts[1:]))[-1]
    assert "sewn on" in failed(toy, sheet=replace(sheet, sewing=()))[0]
    assert "abbreviation" in failed(toy, sheet=replace(sheet, abbreviations=()))[0]
    assert len(failed(toy, sheet=replace(sheet, overview=()))) == 2
    assert failed(toy, cautions=False) == ["Cautions stand where they are called for"]
    gauge = " ".join(sheet.gauge)
    figure = gauge.split()[0]
    other = text.replace(f"\n{figure} sc and", f"\n{float(figure) + 3:g} sc and", 1)
    assert "The gauge is stated" in failed(toy, text=other)
    little = tuple(
        replace(need, metres=replace(need.metres, value=need.metres.value / 2))
        for need in toy.materials.yarns
    )
    poor = replace(toy, materials=replace(toy.materials, yarns=little))
    assert failed(poor, sheet=sheet, text=text) == ["Yarn has a tenth over"]
    levelled = replace(toy.worked, recipe=replace(toy.worked.recipe, level="hard"))
    assert "The level is stated" in failed(replace(toy, worked=levelled), sheet=sheet, text=text)
    seamless = replace(toy.worked, seams=toy.worked.seams[1:])
    assert "two ends" in failed(replace(toy, worked=seamless), sheet=sheet, text=text)[0]
    body = toy.worked.parts["body"]
    rounds = (replace(body.rounds[0], count=7), *body.rounds[1:])  # type: ignore[union-attr]
    other_body = replace(body)
    other_body.__dict__["rounds"] = rounds
    wrong = replace(toy.worked, parts={**toy.worked.parts, "body": other_body})
    assert failed(replace(toy, worked=wrong), sheet=sheet, text=text) == [
        "Every round has the stitches it says"
    ]


def holding(page: str) -> tuple[int, int]:
    """How many checks hold on a page, and how many do not."""
    return page.count("<strong>Holds:</strong>"), page.count("<strong>Does not hold:</strong>")


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    return create_app().test_client()


@pytest.mark.parametrize("toy", TOYS)
def test_the_page_of_checks_has_each_of_them(client: FlaskClient, toy: str) -> None:
    answer = client.get(f"/toys/{toy}/checks?height_cm=18")
    assert answer.status_code == 200
    assert holding(answer.text) == (10, 0)
    assert "All 10 checks hold" in answer.text
    designer = client.get(f"/toys/{toy}?height_cm=18").text
    assert f'href="/toys/{toy}/checks?height_cm=18"' in designer


@pytest.mark.parametrize("terms", [t.value for t in Terms if t is not Terms.US])
def test_they_hold_in_every_language(client: FlaskClient, terms: str) -> None:
    for toy in ("rabbit", "whale"):
        assert holding(client.get(f"/toys/{toy}/checks?terms={terms}").text) == (10, 0)


@pytest.mark.parametrize("terms", [t.value for t in Terms])
def test_they_hold_for_joined_legs_in_every_language(client: FlaskClient, terms: str) -> None:
    """The longest first round that is written: two legs, and the chain between them twice."""
    packed = pack(from_recipe(load_recipe(TEST_TOYS / "wader.toml")))
    answer = client.get("/toys/own/checks", query_string={"recipe": packed, "terms": terms})
    assert holding(answer.text) == (10, 0), answer.text


def own_checks(client: FlaskClient, data: dict[str, Any]) -> TestResponse:
    return client.get("/toys/own/checks", query_string={"recipe": pack(data)})


def test_toys_of_one_s_own_are_checked(client: FlaskClient) -> None:
    """A part that is placed nowhere, or on what is not there, makes no toy to check."""
    data = from_recipe(recipes()["owl"])
    assert holding(own_checks(client, data).text) == (10, 0)
    for place in ({"seat": "ground"}, {"seat": "surface", "on": "fin"}, {"seat": "opening"}, {}):
        parts = [{**p, "place": place} if p["name"] == "beak" else p for p in data["parts"]]
        lost = own_checks(client, {**data, "parts": parts})
        assert lost.status_code in (400, 422)
        assert "There is nothing to check" in lost.text
        assert holding(lost.text) == (0, 0)
        assert re.search(r'"alert"><span>.+</span> <span>.+</span> <strong>.+</strong>', lost.text)


def test_what_does_not_hold_comes_first(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second round's count is spoiled, and the first step of sewing lost, as they are written
    down."""
    monkeypatch.setattr(
        checking, "pattern_text", lambda *toy: pattern_text(*toy).replace("[12]", "[13]", 1)
    )
    page = client.get("/toys/otter/checks").text
    assert holding(page) == (9, 1)
    assert "1 of 10 checks does not hold" in page
    assert page.index("Does not hold") < page.index("Holds")
    monkeypatch.setattr(
        checking, "pattern_sheet", lambda *toy: replace(pattern_sheet(*toy), sewing=())
    )
    assert "2 of 10 checks do not hold" in client.get("/toys/otter/checks").text


@given(own_toys(most_parts=4))
@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
def test_they_hold_for_toys_of_one_s_own(client: FlaskClient, data: dict[str, Any]) -> None:
    answer = own_checks(client, data)
    assume(answer.status_code == 200)
    assert holding(answer.text) == (10, 0)


def test_what_only_the_sewing_uses_is_explained(client: FlaskClient) -> None:
    """A ball and a cone of five rounds that all differ: `Rnds` stands in the sewing alone."""
    data = from_recipe(recipes()["owl"])
    body, beak = data["parts"][0], next(p for p in data["parts"] if p["name"] == "beak")
    data = {**data, "parts": [body, {**beak, "place": {**beak["place"], "on": "body"}}]}
    for name in ("eyes", "marks"):
        data.pop(name, None)
    answer = own_checks(client, data)
    assert holding(answer.text) == (10, 0), answer.text
