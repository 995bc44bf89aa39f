"""The checks before publishing: all hold for the toys, and each fails when it is broken."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.test_publish import TOYS, toy_of
from webapp.checks import publishing_checks
from webapp.pattern import Sheet, pattern_sheet, pattern_text
from webapp.way import Toy
from webapp.web import create_app


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


@pytest.mark.parametrize("toy", TOYS)
def test_the_page_of_checks_has_each_of_them(toy: str) -> None:
    answer = create_app().test_client().get(f"/toys/{toy}/checks?height_cm=18")
    assert answer.status_code == 200
    assert answer.text.count("<strong>Holds:</strong>") == 10
    assert "Does not hold" not in answer.text
