"""Comparing and grading as their user has them: in a real browser, by role and label."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest
from playwright.sync_api import expect

from tests.conftest import Designer

Sit = Callable[..., Designer]
THREE = ("/toys/otter", "/toys/otter?head_to_body=1.1", "/toys/owl?height_cm=30&yarn=5")


def comparing(*addresses: str) -> str:
    return "/compare?" + urlencode([("v", address) for address in addresses])


def compared(me: Designer) -> list[str]:
    """The designs in the address of the page."""
    return [value for name, value in parse_qsl(urlsplit(me.page.url).query) if name == "v"]


def test_from_the_designer_to_a_comparison_and_back(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/otter")
    me.types("Head to body", "1.1")
    expect(me.page).to_have_url(re.compile(r"head_to_body=1\.1"))
    stitches = me.figure("Stitches")
    me.page.get_by_role("link", name="Compare", exact=True).click()
    expect(me.page.get_by_role("heading", name="Compare")).to_be_visible()
    assert compared(me) == ["/toys/otter?head_to_body=1.1"]
    row = me.page.get_by_role("row", name=re.compile("^Stitches"))
    expect(row.get_by_role("cell")).to_have_text(stitches)
    me.page.get_by_role("link", name="Change design 1").click()
    expect(me.page).to_have_url(re.compile(r"/toys/otter\?head_to_body=1\.1$"))


@pytest.mark.parametrize("script", [True, False])
def test_a_variant_is_added_and_removed_with_forms_and_links(
    designer: Sit, script: bool
) -> None:
    me = designer(script=script)
    me.opens(comparing("/toys/otter"))
    me.page.get_by_label("Change", exact=True).select_option("Finished height")
    me.box("To").fill("30")
    me.page.get_by_role("button", name="Add variant").click()
    expect(me.page.get_by_role("img", name=re.compile("design 2"))).to_be_visible()
    assert compared(me) == ["/toys/otter", "/toys/otter?height_cm=30"]
    expect(me.page.get_by_role("row", name=re.compile("^Stitches"))).to_contain_text("+")
    me.box("Address of a toy").fill("/toys/whale")
    me.page.get_by_role("button", name="Add design").click()
    expect(me.page.get_by_role("columnheader")).to_have_count(3)
    me.page.get_by_role("link", name="Remove design 1").click()
    expect(me.page.get_by_role("columnheader")).to_have_count(2)
    assert compared(me) == ["/toys/otter?height_cm=30", "/toys/whale"]


def test_what_cannot_be_is_said_and_the_rest_stays(designer: Sit) -> None:
    me = designer()
    with me.expecting(400):
        me.opens(comparing("/toys/otter", "/toys/otter?height_cm=abc"))
        expect(me.page.get_by_role("alert")).to_contain_text("“abc” was asked for")
        expect(me.page.get_by_role("img", name=re.compile("design 1"))).to_be_visible()
        me.page.get_by_label("Change", exact=True).select_option("Head to body")
        me.box("To").fill("9")
        me.page.get_by_role("button", name="Add variant").click()
        expect(me.page.locator("#problem-compare")).to_contain_text("The nearest is 1.8")
    expect(me.box("To")).to_have_value("9")
    expect(me.page.get_by_label("Change", exact=True)).to_have_value("head_to_body")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_on_a_phone_the_sheets_scroll_and_the_page_does_not(designer: Sit, scheme: str) -> None:
    me = designer(390, 844, scheme)
    grading = "/toys/otter/grading?yarns=3,4,7&sizes=10,20"
    for path in (comparing(*THREE), comparing(), grading):
        me.opens(path)
        assert me.page.evaluate("document.documentElement.scrollWidth") <= 390
    sheet = me.page.get_by_role("region", name="Grading sheet")
    sheet.focus()
    me.page.keyboard.press("ArrowRight")
    me.comes_to(lambda d: sheet.evaluate("e => e.scrollLeft > 0"), True)
    first = sheet.get_by_role("rowheader").first
    assert (first.bounding_box() or {})["x"] >= 0


def test_a_grading_sheet_and_its_archive(designer: Sit) -> None:
    me = designer(script=False)
    me.opens("/toys/otter?head_to_body=1.1")
    me.page.get_by_role("link", name="Other yarns and sizes").click()
    expect(me.page.get_by_label("3 Light")).to_be_checked()
    me.page.get_by_label("5 Bulky").check()
    me.box("Finished heights in cm, with commas between").fill("20, 30")
    me.page.get_by_role("button", name="Show the sheet").click()
    rows = me.page.get_by_role("table").get_by_role("row")
    expect(rows).to_have_count(5)
    with me.page.expect_download() as download:
        me.page.get_by_role("link", name="All patterns (zip)").click()
    assert download.value.suggested_filename == "otter-grading.zip"
    names = zipfile.ZipFile(download.value.path()).namelist()
    assert len(names) == 5
    me.page.get_by_role("link", name="Open Bulky (5), 30 cm").click()
    expect(me.page).to_have_url(
        re.compile(r"/toys/otter\?height_cm=30&head_to_body=1\.1&yarn=5$")
    )


def test_printed_there_is_no_form_and_every_column(designer: Sit) -> None:
    me = designer()
    me.opens(comparing(*THREE))
    me.page.emulate_media(media="print")
    expect(me.page.get_by_role("button", name="Add variant")).to_be_hidden()
    expect(me.page.get_by_role("link", name="Remove design 1")).to_be_hidden()
    # An A4 page less the browser's usual margins is about 718 px wide at 96 px an inch.
    me.page.set_viewport_size({"width": 718, "height": 1000})
    table = me.page.get_by_role("table")
    assert (table.bounding_box() or {})["width"] <= 718
    assert len(me.page.pdf()) > 10_000
