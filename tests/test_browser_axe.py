"""Every page against the rules of WCAG and good practice that a program can check: axe-core, an
independent checker, finds nothing, in light and dark, on a desk and on a phone."""

from __future__ import annotations

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from webapp.web.read_example import EXAMPLE

WIDTHS = (1280, 390)
EVERYTHING: dict[str, Any] = {"resultTypes": ["violations"]}
RULES_OF_COLOUR = ["color-contrast", "link-in-text-block"]
COLOURS = {**EVERYTHING, "runOnly": {"type": "rule", "values": RULES_OF_COLOUR}}
"""In the dark only colours are different: all other rules have been met in the light."""

TOYS = tuple(f"/toys/{toy}" for toy in ("otter", "owl", "rabbit", "whale"))
PAGES = (
    "/", *TOYS, "/toys/owl?height_cm=30&height_cm=31", "/toys/otter?height_cm=8&yarn=7",
    "/own", "/own/empty", "/own/from/whale", "/own/from/whale?open=part.body",
    "/compare", "/compare?v=/toys/otter&v=/toys/owl?yarn%3D5", "/compare?v=nothing",
    "/toys/owl/grading", "/toys/otter/goal", "/toys/otter/goal?goal=hours&goal_value=9",
    "/toys/otter/goal?goal=hours&goal_value=x", "/read", "read the example",
)  # fmt: skip


def opens(page: Page, address: str, what: str) -> None:
    if what.startswith("/"):
        page.goto(address + what)
    else:
        page.goto(f"{address}/read")
        page.get_by_role("textbox", name="The written pattern").fill(EXAMPLE)
        page.get_by_role("button", name="Read it").click()
        expect(page.get_by_role("heading", name="Line by line")).to_be_visible()
    # What is folded away is to be read as well, once it is opened.
    page.evaluate("for (const d of document.querySelectorAll('details')) d.open = true")


def found(axe: Axe, page: Page, options: dict[str, Any]) -> list[str]:
    return [
        f"{broken['id']} ({broken['impact']}): {node['target']} {node['html'][:120]}"
        for broken in axe.run(page, options=options).response["violations"]
        for node in broken["nodes"][:3]
    ]


@pytest.fixture(scope="module")
def page(browser: Browser) -> Any:
    context = browser.new_context(color_scheme="light", reduced_motion="reduce")
    context.set_default_timeout(30_000)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("what", PAGES)
def test_a_page_breaks_no_rule_that_can_be_checked(page: Page, address: str, what: str) -> None:
    axe, said = Axe(), []
    page.emulate_media(color_scheme="light")
    page.set_viewport_size({"width": WIDTHS[0], "height": 800})
    opens(page, address, what)
    for scheme, options in (("light", EVERYTHING), ("dark", COLOURS)):
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 800})
            said += [f"{scheme}, {width}: {words}" for words in found(axe, page, options)]
    assert said == []


def test_the_checker_sees_what_is_wrong(page: Page, address: str) -> None:
    """A box without a name, and grey on grey (2.3 to 1; WCAG 2.2, 1.4.3 asks for 4.5)."""
    opens(page, address, "/own")
    page.evaluate(
        "document.querySelector('main').insertAdjacentHTML('beforeend', '<input type=\"text\">"
        "<p id=\"grey\">Hardly to be read</p>');"
        "document.querySelector('#grey').style.cssText = 'color: #aaa; background: #fff'"
    )
    assert {line.split()[0] for line in found(Axe(), page, EVERYTHING)} == {
        "label", "color-contrast"
    }  # fmt: skip
