"""Holding measures at the page, as its user does."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import expect

from tests.conftest import Designer

Sit = Callable[..., Designer]


def test_a_hat_fits_the_head_and_what_gives_way_is_shown(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/otter")
    me.has_the_toy()
    me.page.get_by_label("Hold a measure").select_option("head.girth")
    box = me.box("Head: girth")
    expect(box).to_be_focused()
    box.fill("30")
    box.press("Tab")
    expect(me.page).to_have_url(re.compile(r"hold\.head\.girth_cm=30$"))
    expect(me.box("Head to body")).to_have_value("0.63")
    expect(me.page.locator("#holds")).to_contain_text("Head to body follows.")
    # A slider that follows and is moved leads; another gives way.
    me.types("Head to body", "0.9")
    expect(me.box("Finished height")).to_have_value("16.26")
    expect(me.page.locator("#holds")).to_contain_text("Finished height follows.")
    me.page.reload()
    expect(me.box("Finished height")).to_have_value("16.26")
    expect(me.box("Head: girth")).to_have_value("30")


def test_one_hold_too_many_is_told_and_one_is_let_go(designer: Sit) -> None:
    me = designer(width=390, height=844)
    me.opens("/toys/otter?hold.head.girth_cm=30")
    me.has_the_toy()
    me.types("Head to body", "0.9")
    expect(me.page.locator("#holds")).to_contain_text("Finished height follows.")
    with me.expecting(422):
        me.types("Finished height", "21")
        expect(me.page.locator("#problem-part")).to_contain_text("were to be held")
    me.page.get_by_role("link", name="the head to body", exact=True).click()
    expect(me.page).to_have_url(re.compile("height_cm=21"))
    expect(me.box("Finished height")).to_have_value("21")
    expect(me.page.locator("#holds")).to_contain_text("Head to body follows.")


def test_holding_works_without_script(designer: Sit) -> None:
    me = designer(script=False)
    me.opens("/toys/owl")
    me.page.get_by_label("Hold a measure").select_option("wing.length")
    me.box("Hold it at").fill("9")
    me.page.get_by_role("button", name="Work it out").click()
    expect(me.box("Wings: length")).to_have_value("9")
    expect(me.box("Limb length")).not_to_have_value("1")
    me.page.get_by_role("button", name="Work it out").click()
    expect(me.box("Wings: length")).to_have_value("9")
    me.page.get_by_role("link", name="Let go of wings: length").click()
    expect(me.box("Limb length")).to_have_value("1")
