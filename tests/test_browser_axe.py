"""Every page against the rules of WCAG and good practice that a program can check: axe-core, an
independent checker, finds nothing, in light and dark, on a desk and on a phone.

A page is opened once. All rules are met in the light on a desk; after that only what can differ is
looked at again: colours in the dark, sizes and colours on a phone, and all rules where a width
shows what the other hides.
"""

from __future__ import annotations

import re
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from webapp.web.read_example import EXAMPLE

DESK, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}
EVERYTHING: dict[str, Any] = {"resultTypes": ["violations"]}
RULES_OF_COLOUR = ["color-contrast", "link-in-text-block"]


def only(*rules: str) -> dict[str, Any]:
    return {**EVERYTHING, "runOnly": {"type": "rule", "values": list(rules)}}


COLOURS = only(*RULES_OF_COLOUR)
SIZES = only(*RULES_OF_COLOUR, "target-size", "scrollable-region-focusable", "meta-viewport")

PAGES = (
    "/", "/toys/otter", "/toys/owl?height_cm=30&height_cm=31", "/toys/otter?height_cm=8&yarn=7",
    "/own", "/own/empty",
    "/compare?v=/toys/otter&v=/toys/owl?yarn%3D5", "/compare?v=nothing", "/toys/owl/grading",
    "/toys/otter/goal", "/toys/otter/goal?goal=hours&goal_value=9",
    "/toys/otter/goal?goal=hours&goal_value=x", "/toys/whale/film?terms=de&faster=0&len.body.2=x",
    "/toys/whale/along?terms=de", "/along",
    "/toys/otter/checks?terms=de", "/toys/own/checks?recipe=zzz", "/read", "re-work the example",
)  # fmt: skip
DRAWN = ("/toys/otter",)
"""The page that is looked at with its 3D view, charts and pictures; the others go without."""

RESULTS = "#changes"
"""The figures, rounds and sewing of a toy: long, and looked at on one page only."""

DRAWINGS = re.compile(r"/library/plotly\.js|/(chart|assembly)/.+\.svg")

PANELS = ("body", "toy", "colours", "face", "rules", "ear", "scarf")
"""Kinds of panels of the editor: of a part on the ground, of the toy, its colours, face and rules,
of a part in a pair, and of one worked flat."""

PANELS_IN_THE_DARK = ("body", "colours", "rules")
"""Those that have all kinds of boxes and buttons between them."""


def opens(page: Page, address: str, what: str) -> None:
    page.unroute_all()
    if what not in DRAWN:
        page.route(DRAWINGS, lambda route: route.abort())
    if what == "/along":
        page.goto(f"{address}/toys/whale/along?height_cm=20")
        page.get_by_role("button", name="Whole round").click()
    if what.startswith("/"):
        page.goto(address + what)
    else:
        page.goto(f"{address}/read")
        page.get_by_role("textbox", name="The written pattern").fill(EXAMPLE)
        page.get_by_role("button", name="Read it").click()
        page.get_by_role("button", name="Work it anew").click()
        expect(page.get_by_role("heading", name="The new pattern")).to_be_visible()
    if what not in DRAWN:
        without(page, RESULTS)
    opens_what_is_folded(page)


def without(page: Page, *places: str) -> None:
    """Empties places of the page that are looked at elsewhere."""
    page.evaluate(
        "places => { for (const e of document.querySelectorAll(places)) e.replaceChildren() }",
        ", ".join(places),
    )


def opens_what_is_folded(page: Page) -> None:
    page.evaluate("for (const d of document.querySelectorAll('details')) d.open = true")


def found(
    axe: Axe, page: Page, options: dict[str, Any], within: str | None = None
) -> list[str]:
    return [
        f"{broken['id']} ({broken['impact']}): {node['target']} {node['html'][:120]}"
        for broken in axe.run(page, context=within, options=options).response["violations"]
        for node in broken["nodes"][:3]
    ]


def shown(page: Page) -> set[int]:
    """The elements that have a place on the page, by their number in it."""
    return set(
        page.evaluate(
            "[...document.body.querySelectorAll('*')].flatMap("
            "(e, n) => e.getClientRects().length ? [n] : [])"
        )
    )


@pytest.fixture(scope="module")
def page(browser: Browser) -> Any:
    context = browser.new_context(color_scheme="light", reduced_motion="reduce")
    context.set_default_timeout(30_000)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("what", PAGES)
def test_a_page_breaks_no_rule_that_can_be_checked(page: Page, address: str, what: str) -> None:
    axe = Axe()
    page.emulate_media(color_scheme="light")
    page.set_viewport_size(DESK)  # type: ignore[arg-type]
    opens(page, address, what)
    on_desk = shown(page)
    said = [f"light, desk: {words}" for words in found(axe, page, EVERYTHING)]
    page.emulate_media(color_scheme="dark")
    said += [f"dark, desk: {words}" for words in found(axe, page, COLOURS)]
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    more = shown(page) - on_desk
    said += [f"dark, phone: {words}" for words in found(axe, page, EVERYTHING if more else SIZES)]
    page.emulate_media(color_scheme="light")
    if more:
        said += [f"light, phone: {words}" for words in found(axe, page, COLOURS)]
    assert said == []


def test_all_kinds_of_panels_of_the_editor(page: Page, address: str) -> None:
    axe, said = Axe(), []
    page.emulate_media(color_scheme="light")
    page.set_viewport_size(DESK)  # type: ignore[arg-type]
    opens(page, address, "/own/from/rabbit")
    said += [f"desk: {words}" for words in found(axe, page, EVERYTHING)]
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    for panel in PANELS:
        page.emulate_media(color_scheme="light")
        page.locator(f"#chip-{panel}").click()
        expect(page.locator(f"#chip-{panel}")).to_have_attribute("aria-current", "true")
        opens_what_is_folded(page)
        without(page, RESULTS, "#design")
        said += [f"{panel}: {words}" for words in found(axe, page, EVERYTHING, ".editor")]
        if panel in PANELS_IN_THE_DARK:
            page.emulate_media(color_scheme="dark")
            said += [f"{panel}, dark: {words}" for words in found(axe, page, COLOURS, ".editor")]
    assert said == []


def test_the_checker_sees_what_is_wrong(page: Page, address: str) -> None:
    """A box without a name, and grey on grey (2.3 to 1; WCAG 2.2, 1.4.3 asks for 4.5)."""
    page.emulate_media(color_scheme="light")
    opens(page, address, "/own")
    page.evaluate(
        "document.querySelector('main').insertAdjacentHTML('beforeend', '<input type=\"text\">"
        "<p id=\"grey\">Hardly to be read</p>');"
        "document.querySelector('#grey').style.cssText = 'color: #aaa; background: #fff'"
    )
    assert {line.split()[0] for line in found(Axe(), page, EVERYTHING)} == {
        "label", "color-contrast"
    }  # fmt: skip
