"""Reading a pattern as its owner does it: in a real browser, by role and label."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.conftest import Designer
from tests.test_web_read import BALL, DOUBT, WRONG
from webapp.web.read_example import EXAMPLE

Sit = Callable[..., Designer]
TEXT = "The written pattern"


def pastes(me: Designer, text: str) -> None:
    me.opens("/read")
    me.box(TEXT).fill(text)
    me.page.get_by_role("button", name="Read it").click()
    expect(me.page.get_by_role("heading", name="Line by line")).to_be_visible()


def shares(me: Designer) -> list[str]:
    return (
        me.page.get_by_role("list", name="Rounds by how they read").locator("li").all_inner_texts()
    )


def sees_the_shape(me: Designer) -> None:
    expect(me.page.locator("#figure canvas").first).to_be_visible(timeout=20_000)


@pytest.mark.parametrize("script", [True, False])
def test_a_mistake_is_found_mended_and_the_text_downloaded(designer: Sit, script: bool) -> None:
    me = designer(script=script, draws=script)
    pastes(me, WRONG)
    if script:
        sees_the_shape(me)
        expect(me.page.get_by_role("status").first).to_contain_text("1 does not agree")
    else:
        expect(me.page.get_by_role("img", name="The parts of")).to_be_visible()
    me.page.get_by_role("button", name="Change line 7: x 6 instead of x 7").click()
    expect(me.page.get_by_text("Every round agrees.")).to_be_visible()
    if script:
        expect(me.page.locator("#line-7")).to_be_focused()
        expect(me.page.get_by_role("status").first).to_contain_text("8 agree")
    me.page.get_by_text("The text, to change it by hand").click()
    expect(me.box(TEXT)).to_have_value(BALL)
    with me.page.expect_download() as started:
        me.page.get_by_role("button", name="Download the text").click()
    assert started.value.suggested_filename == "pip-the-ball-mended.txt"
    assert "Rnd 3: (sc, inc) x 6 [18]" in Path(started.value.path()).read_text(encoding="utf-8")


@pytest.mark.parametrize("script", [True, False])
def test_the_other_reading_is_taken_and_the_text_stays(designer: Sit, script: bool) -> None:
    me = designer(script=script)
    pastes(me, DOUBT)
    doubtful = me.page.locator("#line-8")
    expect(doubtful).to_contain_text("needed a choice")
    me.page.get_by_role("button", name="Take the other reading of line 8").click()
    expect(me.page.get_by_text("Changed. Line 8: the count 21 is written.")).to_be_visible()
    expect(doubtful).to_contain_text("agrees")
    if script:
        expect(doubtful).to_be_focused()
    me.page.get_by_text("The text, to change it by hand").click()
    expect(me.box(TEXT)).to_have_value(DOUBT.replace("around. Stuff", "around (21). Stuff"))


@pytest.mark.parametrize("script", [True, False])
def test_what_was_changed_by_hand_outlives_another_button(designer: Sit, script: bool) -> None:
    """The yarn is asked for beside the shape while the text is being changed further down."""
    me = designer(script=script)
    bare = BALL.replace("Gauge: 20 sc and 20 rnds = 10 cm\n", "")
    pastes(me, bare)
    me.page.get_by_text("The text, to change it by hand").click()
    changed = f"{bare}Stuff it well.\n"
    me.box(TEXT).fill(changed)
    me.page.get_by_label("Yarn of this pattern").select_option("2")
    me.page.get_by_role("button", name="Use this yarn").click()
    expect(me.page.get_by_role("button", name="Use this yarn")).to_have_count(0)
    me.page.get_by_text("The text, to change it by hand").click()
    expect(me.box(TEXT)).to_have_value(changed)
    expect(me.page.get_by_label("Yarn", exact=True)).to_have_value("2")


def test_from_place_to_place_by_keyboard_and_only_those(designer: Sit) -> None:
    me = designer()
    me.opens("/read")
    me.page.get_by_role("button", name="Try an example").click()
    expect(me.page.get_by_role("heading", name="Line by line")).to_be_visible()
    expect(me.page.get_by_role("heading", level=1)).to_be_focused()
    for wanted in ("look-1", "look-2", "look-3", "look-1"):
        me.page.keyboard.press("Alt+ArrowDown")
        expect(me.page.locator(f"#{wanted}")).to_be_focused()
    me.page.keyboard.press("Alt+ArrowUp")
    expect(me.page.locator("#look-3")).to_be_focused()
    expect(me.page.locator("#look-3")).to_be_in_viewport()
    me.page.get_by_role("link", name="Next").click()
    expect(me.page.locator("#look-1")).to_be_focused()
    calm = me.page.locator("#line-7").get_by_text("Rnd 2: inc x 6 (12)")
    expect(calm).to_be_visible()
    me.page.get_by_label("Only what needs a look").check()
    expect(calm).to_be_hidden()
    # The filter stays while mends are made.
    me.page.get_by_role("button", name="Change line 9").click()
    expect(me.page.get_by_text("Changed. Line 9")).to_be_visible()
    expect(me.page.get_by_label("Only what needs a look")).to_be_checked()
    assert shares(me)[1].split() == ["≠", "1", "does", "not", "agree"]


def test_reload_and_back_lose_nothing_and_it_can_be_forgotten(designer: Sit) -> None:
    me = designer()
    pastes(me, BALL)
    me.page.reload()
    expect(me.page.get_by_text("Every round agrees.")).to_be_visible()
    me.opens("/")
    me.page.go_back()
    expect(me.page.get_by_text("Every round agrees.")).to_be_visible()
    me.page.get_by_text("The text, to change it by hand").click()
    me.page.get_by_role("button", name="Forget the text").click()
    expect(me.page.get_by_role("button", name="Read it")).to_be_visible()
    expect(me.box(TEXT)).to_have_value("")
    me.page.reload()
    expect(me.box(TEXT)).to_have_value("")


def test_what_is_only_typed_is_there_after_a_reload(designer: Sit) -> None:
    me = designer()
    me.opens("/read")
    me.box(TEXT).fill("Rnd 1: 6 sc")
    me.page.get_by_label("Words").select_option("uk")
    me.page.reload()
    expect(me.box(TEXT)).to_have_value("Rnd 1: 6 sc")
    expect(me.page.get_by_label("Words")).to_have_value("uk")
    expect(me.page.get_by_role("button", name="Read it")).to_be_visible()


def test_a_file_is_read_as_soon_as_it_is_chosen(designer: Sit, tmp_path: Path) -> None:
    file = tmp_path / "pip.txt"
    file.write_bytes(BALL.replace("Pip", "Pip –").encode("windows-1252"))
    me = designer()
    me.opens("/read")
    me.page.get_by_label("Or a text file").set_input_files(file)
    expect(me.page.locator("#line-1")).to_contain_text("Pip – the ball")
    with me.expecting(422):
        me.opens("/read")
        # The text of before comes back first.
        expect(me.page.locator("#line-1")).to_contain_text("Pip – the ball")
        file.write_bytes(bytes(range(256)) * 9)
        me.page.get_by_label("Or a text file").set_input_files(file)
        expect(me.page.get_by_role("alert")).to_contain_text("no text")


def test_a_file_that_is_too_large_is_refused_and_the_text_stays(designer: Sit) -> None:
    me = designer()
    pastes(me, BALL)
    expect(me.page).to_have_title("Pip the ball, read · Roundling")
    me.page.get_by_text("The text, to change it by hand").click()
    large = {"name": "large.txt", "mimeType": "text/plain", "buffer": b"a" * 4_100_000}
    with me.expecting(413):
        me.page.get_by_label("Or a text file").set_input_files(large)  # type: ignore[arg-type]
        expect(me.page.get_by_role("alert")).to_contain_text("More than 4 MB is not taken.")
    expect(me.box(TEXT)).to_have_value(BALL)


def test_what_is_no_pattern_is_said_beside_the_box(designer: Sit) -> None:
    me = designer()
    me.opens("/read")
    me.box(TEXT).fill("Leek soup\nBoil 3 leeks.")
    with me.expecting(422):
        me.page.get_by_role("button", name="Read it").click()
        expect(me.page.get_by_role("alert")).to_contain_text("No rounds")
    expect(me.box(TEXT)).to_have_value("Leek soup\nBoil 3 leeks.")
    expect(me.box(TEXT)).to_have_attribute("aria-invalid", "true")


@pytest.mark.parametrize("script", [True, False])
def test_worked_anew_in_another_size_and_on_to_a_toy_of_ones_own(
    designer: Sit, script: bool
) -> None:
    me = designer(script=script, draws=script)
    pastes(me, EXAMPLE)
    me.box("Size").fill("9999")
    with me.expecting(422):
        me.page.get_by_role("button", name="Work it anew").click()
        expect(me.page.locator("#problem-size")).to_contain_text("The nearest is 600 %")
    me.box("Size").fill("150")
    me.box("BODY longer, per cent").fill("120")
    me.page.get_by_role("button", name="Work it anew").click()
    expect(me.page.get_by_role("heading", name="The new pattern")).to_be_visible()
    if script:
        expect(me.page.locator("#reworked canvas").first).to_be_visible(timeout=20_000)
    shown = me.page.locator(".new-text").inner_text()
    with me.page.expect_download() as started:
        me.page.get_by_role("button", name="Download the new pattern").click()
    assert Path(started.value.path()).read_text(encoding="utf-8").strip() == shown.strip()
    me.page.get_by_role("button", name="Make it my own").click()
    expect(me.page).to_have_url(re.compile("/toys/own"))
    expect(me.page.get_by_role("button", name="BODY")).to_be_visible()


@pytest.mark.parametrize("script", [True, False])
def test_what_was_asked_of_working_anew_outlives_a_mend(designer: Sit, script: bool) -> None:
    """The panel says which round to look at first; when that is mended, its boxes are as they
    were. In another pattern they would say nothing."""
    me = designer(script=script)
    pastes(me, WRONG)
    me.box("Size").fill("150")
    me.box("BALL wider, per cent").fill("120")
    me.page.get_by_label("New yarn").select_option("5")
    me.page.get_by_role("button", name="Work it anew").click()
    expect(me.page.get_by_text("Look at that first").first).to_be_visible()
    if script:
        me.box("Size").fill("160")
    me.page.get_by_role("button", name="Change line").first.click()
    expect(me.page.get_by_text("Changed. Line")).to_be_visible()
    expect(me.box("Size")).to_have_value("160" if script else "150")
    expect(me.box("BALL wider, per cent")).to_have_value("120")
    expect(me.page.get_by_label("New yarn")).to_have_value("5")
    me.page.get_by_text("The text, to change it by hand").click()
    me.box(TEXT).fill(EXAMPLE)
    me.page.get_by_role("button", name="Read again").click()
    expect(me.box("HORNS wider, per cent")).to_have_value("100")
    expect(me.box("Size")).to_have_value("100")


def test_on_a_phone_the_reading_is_below_the_text_and_nothing_runs_over(designer: Sit) -> None:
    me = designer(390, 844, draws=True)
    pastes(me, EXAMPLE)
    sees_the_shape(me)
    me.page.get_by_role("button", name="Work it anew").click()
    expect(me.page.get_by_role("heading", name="The new pattern")).to_be_visible()
    for scheme in ("light", "dark"):
        me.page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        assert me.page.evaluate("document.documentElement.scrollWidth") == 390
        written = me.page.locator("#line-9 .as-written").bounding_box()
        reading = me.page.locator("#line-9 .as-read").bounding_box()
        assert written
        assert reading
        assert reading["y"] >= written["y"] + written["height"] - 1
