"""The form of the PDF at the page: what is written in it stays, and the sheet is made ahead."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import expect

from tests.conftest import Designer

Sit = Callable[..., Designer]
PDF = re.compile(r"/pattern\.pdf")


def test_what_a_sheet_is_to_say_stays_when_a_slider_moves(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/otter")
    page = me.page
    page.get_by_text("PDF to print or sell").click()
    page.get_by_label("Your name").fill("Ann of the mill")
    page.get_by_label("Introduction").fill("An otter for rainy days.")
    page.get_by_label("Paper").select_option("letter")
    page.get_by_label("How much").fill("30")
    stitches = me.figure("Stitches")
    me.types("Finished height", "26")
    me.comes_to(lambda m: m.figure("Stitches") != stitches, True)
    expect(page.get_by_label("Your name")).to_be_visible()
    expect(page.get_by_label("Your name")).to_have_value("Ann of the mill")
    expect(page.get_by_label("Introduction")).to_have_value("An otter for rainy days.")
    expect(page.get_by_label("Paper")).to_have_value("letter")
    expect(page.get_by_label("How much")).to_have_value("30")
    # The name is the same for the next toy.
    me.opens("/toys/owl")
    expect(page.locator("#pdf-by")).to_have_value("Ann of the mill")
    expect(page.locator("#pdf-intro")).to_have_value("")


def test_a_sheet_that_cannot_be_is_refused_beside_its_form(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/whale")
    page = me.page
    page.get_by_text("PDF to print or sell").click()
    name = page.get_by_label("Your name")
    name.fill("Ann \U0001f9f6")
    with me.expecting(400):
        page.get_by_role("button", name="Make the PDF").click()
        expect(page.locator("#publish .problem")).to_contain_text("no such character")
    expect(name).to_have_value("Ann \U0001f9f6")
    name.fill("Ann")
    # A page that is a PDF has no icon of its own: the browser asks for one.
    with me.expecting(404), page.expect_response(lambda r: r.request.is_navigation_request()) as r:
        page.get_by_role("button", name="Make the PDF").click()
    assert "by=Ann&" in r.value.url
    assert (r.value.status, r.value.headers["content-type"]) == (200, "application/pdf")


def test_a_sheet_is_made_when_a_hand_comes_near(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/whale?height_cm=17")
    with me.page.expect_request(PDF) as asked:
        me.page.get_by_role("link", name="PDF", exact=True).hover()
    assert asked.value.method == "HEAD"
    assert "height_cm=17" in asked.value.url
