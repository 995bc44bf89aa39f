"""Numbers with a decimal comma, as they are written in most of Europe (ISO 80000-1, 7.3.2, from
memory, allows comma and point)."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import expect

from tests.conftest import Designer

Sit = Callable[..., Designer]


def test_a_decimal_comma_is_taken(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/whale")
    page = me.page
    me.types("Finished height", "12,5")
    me.comes_to(lambda m: "height_cm=12.5" in m.page.url, True)
    expect(me.box("Finished height")).to_have_value("12.5")
    assert float(me.slider("Finished height").input_value()) == 12.5
    # A comma between thousands is none: what it means is asked for.
    with me.expecting(422):
        me.types("Finished height", "1,250")
        expect(page.locator("#problem-height_cm")).to_contain_text("1,250")
    me.opens("/own/from/whale")
    page.get_by_role("button", name="Fins").click()
    me.comes_to(lambda m: "open=fin" in m.page.url, True)
    opened = page.url
    size = page.get_by_role("textbox", name="Width", exact=True)
    size.fill("3,5")
    size.press("Tab")
    expect(size).to_have_value("3.5")
    me.comes_to(lambda m: m.page.url != opened, True)
    page.reload()
    expect(size).to_have_value("3.5")
