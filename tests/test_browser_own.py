"""A toy of one's own at the page, as its maker builds it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

from playwright.sync_api import Page, expect

from tests.conftest import Designer
from tests.reader import read_parts
from tests.strategies import recipes
from webapp.own.packing import pack
from webapp.own.writing import recipe_data

Sit = Callable[..., Designer]

AT_REST = """() => new Promise((done, give_up) => {
  const busy = ".htmx-request, .htmx-swapping, .htmx-settling";
  const look = () => document.querySelector(busy) ? requestAnimationFrame(look) : done();
  setTimeout(() => give_up(new Error("The page is still busy after 10 s.")), 10_000);
  look();
})"""
"""Looks at every frame, as each of a hundred steps waits for it."""


class Keyboard:
    """Hands that never touch the mouse: everything is reached with Tab and worked with keys."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def reach(self, role: str, name: str | re.Pattern[str]) -> None:
        """Tabs on until the control with this role and name has the focus."""
        wanted = self.page.get_by_role(role, name=name, exact=True).first  # type: ignore[arg-type]
        expect(wanted).to_be_attached()
        for _ in range(400):
            # 0 there, 2 before the focus, 4 behind it (DOM, compareDocumentPosition).
            place = wanted.evaluate("e => document.activeElement.compareDocumentPosition(e)")
            if place == 0:
                return
            self.page.keyboard.press("Shift+Tab" if place & 2 else "Tab")
        raise AssertionError(f"Tab never reaches {role} {name}")

    def press(self, name: str | re.Pattern[str]) -> None:
        self.reach("button", name)
        self.settled(lambda: self.page.keyboard.press("Enter"))

    def type(self, name: str, text: str, take: bool = True) -> None:
        self.reach("textbox", name)
        self.page.keyboard.press("ControlOrMeta+A")
        self.page.keyboard.type(text)
        if take:
            self.settled(lambda: self.page.keyboard.press("Tab"))

    def choose(self, name: str, text: str, take: bool = True) -> None:
        """Picks from a list by typing the beginning of a word, as a browser's lists allow."""
        self.reach("combobox", name)
        here = self.page.locator(":focus")
        if take:
            self.settled(lambda: self.page.keyboard.type(text))
        else:
            self.page.keyboard.type(text)
        chosen = here.evaluate("e => e.selectedOptions ? e.selectedOptions[0].text : ''")
        assert not chosen or chosen.startswith(text), chosen

    def settled(self, act: Callable[[], None]) -> None:
        """Does something and waits for the answer of the editor."""
        with self.page.expect_response(
            lambda r: "/toys/own/edit" in r.url and r.status < 500
        ) as answer:
            act()
        if elsewhere := answer.value.headers.get("hx-redirect"):
            self.page.wait_for_url(lambda address: address.endswith(elsewhere))
        self.page.evaluate(AT_REST)


def add(hands: Keyboard, shape: str, name: str) -> None:
    hands.choose("New part", shape, take=False)
    hands.type("Name of the new part", name, take=False)
    hands.press("Add")
    expect(hands.page.get_by_role("button", name=re.compile(f"^{name}")).first).to_be_visible()


def without_3d(me: Designer) -> None:
    """As on a machine that draws no 3D, where the still picture follows each step."""
    me.page.add_init_script("HTMLCanvasElement.prototype.getContext = () => null")


def test_a_two_colour_cat_by_keyboard_alone(designer: Sit, tmp_path: Path) -> None:
    """From an empty table: six parts and a tail, cheeks, stripes, a face; saved, opened again, in
    another yarn, and its pattern downloaded."""
    me = designer()
    page, hands = me.page, Keyboard(me.page)
    me.opens("/own")
    hands.reach("link", "Begin with an empty table")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="An empty table")).to_be_visible()
    for shape, name in (
        ("egg", "Body"), ("ball", "Head"), ("cone", "Ears"), ("tube", "Arms"), ("tube", "Legs"),
        ("tube", "Tail"),
    ):  # fmt: skip
        add(hands, shape, name)
    me.has_the_toy()
    # Two colours, stripes round the tail.
    hands.press("Colours")
    hands.type("Name", "ginger")
    hands.press(re.compile("^Tail"))
    hands.choose("Striped with", "dark")
    expect(page.get_by_role("textbox", name="Rounds a stripe")).to_have_value("2")
    hands.type("Length", "9")
    # A seventh part: a muzzle. Cheeks and a face.
    add(hands, "oval", "Muzzle")
    hands.press(re.compile("^Head"))
    hands.press("Add cheeks")
    expect(page.get_by_text("Shaping: Cheeks")).to_be_visible()
    hands.press("Face")
    hands.press("Add eyes")
    hands.press("Add nose")
    hands.press("Add mouth")
    hands.press("The toy")
    hands.type("Name", "Pepper the Cat")
    expect(page.get_by_role("heading", name="Pepper the Cat")).to_be_visible()
    me.comes_to(lambda m: m.figure("Eyes").endswith("mm"), True)

    # Saved, and opened again.
    hands.reach("link", "Save as a file")
    with page.expect_download() as saved:
        page.keyboard.press("Enter")
    kept = tmp_path / "pepper.json"
    saved.value.save_as(kept)
    assert json.loads(kept.read_text(encoding="utf-8"))["toy"]["name"] == "Pepper the Cat"
    address = page.url
    me.opens("/own")
    page.get_by_label("Open a saved toy").set_input_files(kept)
    hands.reach("button", "Open")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Pepper the Cat")).to_be_visible()
    assert page.url.split("recipe=")[1].split("&")[0] == address.split("recipe=")[1].split("&")[0]
    page.reload()
    me.has_the_toy()

    # Another yarn, and the pattern.
    stitches = me.figure("Stitches")
    hands.reach("textbox", "Yarn weight")
    page.keyboard.press("ControlOrMeta+A")
    page.keyboard.type("4")
    page.keyboard.press("Tab")
    expect(page).to_have_url(re.compile("yarn=4"))
    me.comes_to(lambda m: m.figure("Stitches") != stitches, True)
    hands.reach("link", "Pattern")
    with page.expect_download() as pattern:
        page.keyboard.press("Enter")
    text = pattern.value.path().read_text(encoding="utf-8")
    assert text.startswith("PEPPER THE CAT\n")
    parts = read_parts(text, "sc")
    assert {p.title for p in parts} == {"BODY", "HEAD", "EARS", "ARMS", "LEGS", "TAIL", "MUZZLE"}
    assert {p.title: p.copies for p in parts}["EARS"] == 2
    assert "ginger" in text
    assert "dark brown" in text
    assert re.search(r"(?i)the cheeks begin", text)
    assert re.search(r"Mouth: ", text)


def test_fifty_steps_back_and_forth(designer: Sit) -> None:
    me = designer()
    me.opens("/own/empty")
    page, hands = me.page, Keyboard(me.page)
    add(hands, "disc", "Coaster")
    hands.settled(lambda: page.get_by_role("button", name="The toy", exact=True).click())
    for number in range(52):
        box = page.get_by_role("textbox", name="Name", exact=True)
        box.fill(f"Owl {number}")
        hands.settled(lambda box=box: box.press("Tab"))
    expect(page.get_by_role("heading", name="Owl 51")).to_be_visible()
    for _ in range(51):
        hands.settled(lambda: page.get_by_role("button", name="Undo").click())
    expect(page.get_by_role("heading", name="Owl 0")).to_be_visible()
    hands.settled(lambda: page.get_by_role("button", name="Redo").click())
    expect(page.get_by_role("heading", name="Owl 1", exact=True)).to_be_visible()
    page.reload()
    expect(page.get_by_role("heading", name="Owl 1", exact=True)).to_be_visible()
    expect(page.get_by_role("button", name="Redo")).to_be_enabled()


def test_a_bad_value_keeps_the_toy_and_what_was_typed(designer: Sit) -> None:
    me = designer(width=390, height=844)
    me.opens("/own/from/otter?open=head")
    me.has_the_toy()
    page, hands = me.page, Keyboard(me.page)
    hands.settled(lambda: page.get_by_role("button", name=re.compile("^Head")).click())
    width = page.get_by_role("textbox", name="Width", exact=True)
    expect(width).to_be_visible()
    before = me.figure("Stitches")
    with me.expecting(422):
        width.fill("1.2 * haed.height")
        hands.settled(lambda: width.press("Tab"))
    width = page.get_by_role("textbox", name="Width", exact=True)
    expect(width).to_have_value("1.2 * haed.height")
    expect(page.locator("#editor")).to_contain_text("haed.height")
    assert me.figure("Stitches") == before
    width.fill("1.3 * head.height")
    hands.settled(lambda: width.press("Tab"))
    assert me.figure("Stitches") != before
    page.go_back()
    expect(page.get_by_role("textbox", name="Width", exact=True)).to_have_value(
        "1.24 * head.height"
    )


def test_names_are_offered_while_a_rule_is_written(designer: Sit) -> None:
    me = designer()
    me.opens("/own/from/otter")
    me.has_the_toy()
    page, hands = me.page, Keyboard(me.page)
    page.get_by_role("button", name="Rules", exact=True).click()
    rule = page.get_by_label("Rule", exact=True)
    rule.click()
    page.keyboard.type("nose.width = 0.2 * head.wi")
    expect(page.get_by_role("option", name="head.width")).to_be_visible()
    page.keyboard.press("Enter")
    expect(rule).to_have_value("nose.width = 0.2 * head.width")
    with me.expecting(422):
        hands.settled(lambda: page.get_by_role("button", name="Add this rule").click())
    expect(page.locator("#editor")).to_contain_text("nose.width = 0.17 * head.width")
    expect(page.get_by_label("Rule", exact=True)).to_have_value("nose.width = 0.2 * head.width")


def test_an_outline_is_dragged_and_its_boxes_follow(designer: Sit) -> None:
    me = designer()
    without_3d(me)
    me.opens("/own/empty")
    page, hands = me.page, Keyboard(me.page)
    add(hands, "outline", "Body")
    still = page.locator("#still")
    expect(still).to_be_visible()
    before, seen = me.figure("Stitches"), still.get_attribute("src")
    knot = page.locator("circle.knot").nth(1)
    place = knot.bounding_box()
    assert place is not None
    x, y = place["x"] + place["width"] / 2, place["y"] + place["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 10, y - 40, steps=4)
    hands.settled(lambda: page.mouse.up())
    assert float(page.get_by_role("textbox", name="Point 2 out").input_value()) < 50
    me.comes_to(lambda m: m.figure("Stitches") != before, True)
    me.comes_to(lambda _: still.get_attribute("src") != seen, True)


def test_a_long_name_is_not_wider_than_the_page_and_hides_no_round(designer: Sit) -> None:
    data = recipe_data(recipes()["owl"])
    for name in ("Wolfgang the teal night bird of the old mill, " * 3, "Donaudampfschiff" * 8):
        recipe = quote(pack({**data, "name": name.strip(", ")}))
        for wide in (1280, 390):
            me = designer(wide, 844)
            for page in ("", "/film", "/along", "/checks"):
                me.opens(f"/toys/own{page}?recipe={recipe}")
                assert me.page.evaluate("document.documentElement.scrollWidth") <= wide, page
                if page == "/along":
                    words = me.page.locator("#round-text").bounding_box()
                    pad = me.page.locator(".hand").bounding_box()
                    assert words
                    assert pad
                    assert words["y"] + words["height"] <= pad["y"]


def test_a_toy_is_edited_without_script(designer: Sit) -> None:
    me = designer(script=False)
    me.opens("/own/empty")
    page = me.page
    page.get_by_label("New part", exact=True).select_option("pear")
    page.get_by_label("Name of the new part").fill("Body")
    page.get_by_role("button", name="Add", exact=True).click()
    height = page.get_by_role("textbox", name="Height", exact=True)
    height.fill("14")
    page.get_by_role("button", name="Colours", exact=True).click()
    page.get_by_role("button", name=re.compile("^Body")).click()
    expect(height).to_have_value("14")
    assert me.figure("Finished height").startswith("14") or me.figure(
        "Finished height"
    ).startswith("13.9")
    with me.expecting(422):
        height.fill("tall")
        page.get_by_role("button", name="Colours", exact=True).click()
    expect(height).to_have_value("tall")


def test_the_part_that_alone_is_looked_at_stays_the_one(designer: Sit) -> None:
    """Its own name changes with it; where the part is gone the whole toy is shown."""
    me = designer()
    me.opens("/own/from/otter")
    me.has_the_toy()
    page = me.page
    seen = """() => [...new Set(
      document.getElementById("figure").data.filter((m) => m.visible).map((m) => m.name))]"""
    page.locator("#only").select_option("tail")
    me.comes_to(lambda me: me.page.evaluate(seen), ["tail"])
    page.locator("button.chip", has_text="Tail").click()
    expect(page.locator("button.chip.on")).to_have_text("Tail")
    page.evaluate(AT_REST)
    expect(page.locator("#only")).to_have_value("tail")
    me.comes_to(lambda me: me.page.evaluate(seen), ["tail"])
    page.get_by_role("button", name="Remove", exact=True).click()
    expect(page.locator("button.chip", has_text="Tail")).to_have_count(0)
    expect(page.locator("#only")).to_have_value("")


def test_without_script_a_chosen_shape_and_a_tick_are_taken_by_a_button(designer: Sit) -> None:
    me = designer(390, 844, script=False)
    me.opens("/own/from/owl?open=beak")
    me.page.locator("button.chip", has_text="Beak").click()
    me.page.get_by_label("Shape", exact=True).select_option("dome")
    me.page.get_by_label("Lies flat on it").check()
    me.page.get_by_role("button", name="Take what is written").click()
    expect(me.page.get_by_label("Shape", exact=True)).to_have_value("dome")
    expect(me.page.get_by_label("Lies flat on it")).to_be_checked()
    assert "open=beak" in me.page.url
    scripted = designer(390, 844)
    scripted.opens("/own/empty")
    expect(scripted.page.locator("#undo")).to_be_visible()
    expect(scripted.page.get_by_role("button", name="Take what is written")).to_have_count(0)


def test_what_the_sliders_say_goes_along_into_ones_own_toy_and_its_file(designer: Sit) -> None:
    """Without loading the page again between."""
    me = designer()
    me.opens("/toys/otter")
    me.has_the_toy()
    page = me.page
    me.types("Finished height", "30")
    page.wait_for_url("**height_cm=30*")
    page.get_by_label("Terms").select_option("fr")
    page.wait_for_url("**terms=fr*")
    page.get_by_role("link", name="Make it my own").click()
    expect(me.box("Finished height")).to_have_value("30")
    expect(page.get_by_label("Terms")).to_have_value("fr")
    me.types("Finished height", "26")
    page.wait_for_url("**height_cm=26*")
    with page.expect_download() as saved:
        page.get_by_role("link", name="Save as a file").click()
    kept = json.loads(Path(saved.value.path()).read_text(encoding="utf-8"))["choices"]
    assert kept == {"height_cm": "26", "terms": "fr"}


def test_the_picture_on_paper_is_the_toy_on_the_screen(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/otter")
    me.has_the_toy()
    me.types("Finished height", "30")
    me.page.wait_for_url("**height_cm=30*")
    shown = me.page.locator("#figures").get_attribute("data-still")
    assert shown
    assert "height_cm=30" in shown
    expect(me.page.locator("#still")).to_have_attribute("src", shown)
    me.page.emulate_media(media="print")
    expect(me.page.locator("#still")).to_be_visible()


def test_undo_does_not_lead_from_one_toy_to_another(designer: Sit) -> None:
    me = designer()
    page = me.page
    undo = page.get_by_role("button", name="Undo")
    me.opens("/own/from/otter?open=toy")
    page.locator("button.chip", has_text="The toy").click()
    page.locator('[name="set.name"]').fill("Karl")
    page.keyboard.press("Tab")
    expect(page.locator("#toy-name")).to_have_text("Karl")
    expect(undo).to_be_enabled()
    page.reload()
    expect(undo).to_be_enabled()  # Loaded again it has its steps.
    me.opens("/own/from/owl")
    expect(page.locator("#toy-name")).to_have_text("Figgory the Owl")
    page.evaluate(AT_REST)
    expect(undo).to_be_disabled()
    # The first part brings another page of the same toy.
    me.opens("/own/empty")
    expect(undo).to_be_disabled()
    page.locator("#new_label").fill("Body")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.locator("#figures")).to_be_attached()
    expect(undo).to_be_enabled()
    # So does the way back to the empty table, and on again.
    undo.click()
    expect(page.get_by_role("heading", name="An empty table")).to_be_visible()
    page.get_by_role("button", name="Redo").click()
    expect(page.locator("#figures")).to_be_attached()
