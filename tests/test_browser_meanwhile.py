"""What a designer writes or presses while an answer is under way is neither lost nor done twice.

Answers are held back until the test lets them go, as a slow machine would.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Page, Route, expect

from tests.conftest import Designer

Sit = Callable[..., Designer]
EDIT, DESIGN, READ = "**/toys/own/edit", re.compile(r"/toys/\w+\?"), "**/read"


class Slow:
    """Requests to one address, each of which waits until it is let go."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.waiting: list[Route] = []

    def hold(self, route: Route) -> None:
        self.waiting.append(route)

    def sent(self, many: int = 1) -> None:
        """Waits until so many are under way."""
        for _ in range(100):
            if len(self.waiting) >= many:
                return
            self.page.wait_for_timeout(50)
        raise AssertionError(f"{len(self.waiting)} of {many} requests came")

    def let_go(self) -> None:
        """The first one that waits goes through, and its answer arrives."""
        self.sent()
        route = self.waiting.pop(0)
        with self.page.expect_response(lambda r: r.request == route.request):
            route.continue_()
        self.page.wait_for_timeout(100)


@contextmanager
def slow(page: Page, address: str | re.Pattern[str]) -> Iterator[Slow]:
    """Within, requests to an address wait; what still waits at the end is let go."""
    held = Slow(page)
    page.route(address, held.hold)
    yield held
    while held.waiting:
        held.let_go()
    page.unroute(address, held.hold)


def box(page: Page, name: str, form: str = "#editor"):  # type: ignore[no-untyped-def]
    return page.locator(form).get_by_label(name, exact=True)


def writes(page: Page, name: str, words: str, form: str = "#editor") -> None:
    box(page, name, form).fill(words)
    page.keyboard.press("Tab")


def own_otter(designer: Sit, panel: str = "head") -> Designer:
    me = designer()
    me.opens(f"/own/from/otter?open={panel}")
    me.has_the_toy()
    me.page.get_by_role("button", name=re.compile(f"^{panel.capitalize()}")).first.click()
    expect(me.page.locator("button.chip.on")).to_have_text(re.compile(f"^{panel.capitalize()}"))
    me.page.wait_for_timeout(300)
    return me


def test_a_box_changed_while_an_answer_is_under_way_is_taken_too(designer: Sit) -> None:
    me = own_otter(designer)
    page = me.page
    with slow(page, EDIT) as answers:
        writes(page, "Width", "1.3 * head.height")
        answers.sent()
        writes(page, "Opening", "0.61 * head.width")
        answers.let_go()
        expect(box(page, "Opening")).to_have_value("0.61 * head.width")
        answers.let_go()
    page.wait_for_timeout(300)
    page.reload()
    expect(box(page, "Width")).to_have_value("1.3 * head.height")
    expect(box(page, "Opening")).to_have_value("0.61 * head.width")


def test_words_half_written_are_neither_taken_nor_lost(designer: Sit) -> None:
    me = own_otter(designer)
    page = me.page
    with slow(page, EDIT) as answers:
        box(page, "Width").fill("1.3 * head.height")
        box(page, "Opening").click()
        page.keyboard.press("ControlOrMeta+A")
        page.keyboard.type("0.61 * head.wi")
        answers.sent()
        page.keyboard.type("dth")
        page.keyboard.press("ArrowLeft")
        assert "0.61" not in str(answers.waiting[0].request.post_data)
        answers.let_go()
        expect(box(page, "Opening")).to_have_value("0.61 * head.width")
        expect(box(page, "Opening")).to_be_focused()
        assert box(page, "Opening").evaluate("e => e.selectionStart") == len("0.61 * head.wigh")
        page.keyboard.press("Tab")
        answers.let_go()
        assert not answers.waiting
    page.wait_for_timeout(300)
    page.reload()
    expect(box(page, "Opening")).to_have_value("0.61 * head.width")


def test_a_button_pressed_while_an_answer_is_under_way_is_obeyed(designer: Sit) -> None:
    me = own_otter(designer)
    page = me.page
    with slow(page, EDIT) as answers:
        writes(page, "Width", "1.3 * head.height")
        answers.sent()
        page.get_by_role("button", name="Colours", exact=True).click()
        answers.let_go()
        answers.let_go()
    expect(page.locator("button.chip.on")).to_have_text("Colours")
    page.get_by_role("button", name=re.compile("^Head")).click()
    expect(box(page, "Width")).to_have_value("1.3 * head.height")


def test_a_button_is_obeyed_once_though_it_keeps_the_focus(designer: Sit) -> None:
    me = designer()
    me.opens("/own/empty")
    page = me.page
    page.get_by_label("New part", exact=True).select_option("outline")
    page.get_by_role("button", name="Add", exact=True).click()
    page.get_by_role("button", name="Add a point").first.click()
    knots = page.locator("circle.knot")
    page.wait_for_timeout(500)
    many = knots.count()
    knots.nth(1).scroll_into_view_if_needed()
    place = knots.nth(1).bounding_box()
    assert place is not None
    x, y = place["x"] + place["width"] / 2, place["y"] + place["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 20, steps=4)
    with page.expect_response(EDIT):
        page.mouse.up()
    page.wait_for_timeout(300)
    assert knots.count() == many


def test_a_slider_moved_while_the_editor_works_counts(designer: Sit) -> None:
    me = own_otter(designer)
    page = me.page
    with slow(page, EDIT) as edits:
        writes(page, "Width", "1.3 * head.height")
        edits.sent()
        writes(page, "Finished height", "26", "#design")
        edits.let_go()
    me.comes_to(lambda m: m.figure("Finished height")[:2], "25")
    page.reload()
    expect(box(page, "Width")).to_have_value("1.3 * head.height")


def test_a_part_changed_while_a_slider_works_counts(designer: Sit) -> None:
    me = own_otter(designer)
    page = me.page
    with slow(page, DESIGN) as sliders:
        writes(page, "Finished height", "26", "#design")
        sliders.sent()
        writes(page, "Width", "1.3 * head.height")
        page.wait_for_timeout(400)
        sliders.let_go()
    me.comes_to(lambda m: m.figure("Finished height")[:2], "25")
    page.wait_for_timeout(500)
    page.reload()
    expect(box(page, "Width")).to_have_value("1.3 * head.height")
    assert me.figure("Finished height")[:2] == "25"


def test_undo_right_after_writing_takes_back_what_was_written(designer: Sit) -> None:
    me = own_otter(designer)
    page = me.page
    writes(page, "Width", "1.2 * head.height")
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    box(page, "Width").fill("1.3 * head.height")
    page.get_by_role("button", name="Undo").click()
    expect(box(page, "Width")).to_have_value("1.2 * head.height")
    page.wait_for_timeout(500)
    expect(box(page, "Width")).to_have_value("1.2 * head.height")
    page.get_by_role("button", name="Redo").click()
    expect(box(page, "Width")).to_have_value("1.3 * head.height")


def test_a_pattern_written_on_while_it_is_read_is_not_lost(designer: Sit) -> None:
    me = designer()
    me.opens("/read")
    page = me.page
    text = page.get_by_label("The written pattern")
    text.fill("BALL\nRound 1: 6 sc in a ring (6)\nRound 2: inc around (12)")
    with slow(page, READ) as answers:
        page.get_by_role("button", name="Read it").click()
        answers.sent()
        text.press("End")
        page.keyboard.type("\nRound 3: sc around (12)")
        answers.let_go()
    expect(page.get_by_text("1 part, 2 rounds: 2 agree.")).to_be_attached()
    expect(text).to_be_visible()
    expect(text).to_have_value(re.compile(r"Round 3: sc around \(12\)$"))


@pytest.mark.parametrize("late", ["plotly.js", "htmx.js"])
def test_what_is_written_while_the_page_comes_is_taken(designer: Sit, late: str) -> None:
    """On a slow machine the page is there before its scripts: before all, or but for the view."""
    for path, form, name, words in (
        ("/toys/whale", "#design", "Finished height", "26"),
        ("/own/from/whale", "#editor", "Length", "14"),
    ):
        me = designer()
        page = me.page
        with slow(page, re.compile(rf"/library/{re.escape(late)}")) as scripts:
            page.goto(me.address + path, wait_until="commit")
            scripts.sent()
            writes(page, name, words, form)
            page.wait_for_timeout(200)
            opened = page.url
        me.comes_to(lambda m, was=opened: m.page.url != was, True)
        expect(box(page, name, form)).to_have_value(words)
        page.reload()
        expect(box(page, name, form)).to_have_value(words)
