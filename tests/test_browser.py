"""The product as its user has it: in a real browser, by role and label."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import expect

from tests.conftest import Designer

Sit = Callable[..., Designer]


def query(designer: Designer) -> dict[str, list[str]]:
    return parse_qs(urlsplit(designer.page.url).query)


def test_from_the_start_page_to_a_pattern(designer: Sit) -> None:
    me = designer(draws=True)
    me.opens("/")
    me.page.get_by_role("link", name=re.compile("Bramwell the Otter")).click()
    me.sees_the_toy()
    with me.page.expect_download() as download:
        me.page.get_by_role("link", name="Pattern", exact=True).click()
    text = download.value.path().read_text(encoding="utf-8")
    assert text.startswith("BRAMWELL THE OTTER\n")
    assert "Rnd 1: 6 sc in a magic ring [6]" in text


def test_a_slider_moved_by_keyboard_changes_toy_and_address_and_back_undoes_it(
    designer: Sit,
) -> None:
    me = designer()
    me.opens("/toys/otter")
    me.has_the_toy()
    before = me.figure("Stitches")
    slider = me.slider("Head to body")
    slider.focus()
    slider.press("ArrowRight")
    expect(me.box("Head to body")).to_have_value("0.85")
    expect(me.page).to_have_url(re.compile(r"head_to_body=0\.85$"))
    assert me.figure("Stitches") != before
    me.page.go_back()
    expect(me.box("Head to body")).to_have_value("0.8")
    assert me.figure("Stitches") == before


def test_an_address_is_a_design(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/rabbit?height_cm=30&cheek_fullness=1.5&yarn=4")
    me.has_the_toy()
    stitches = me.figure("Stitches")
    me.page.reload()
    assert me.figure("Stitches") == stitches
    expect(me.box("Finished height")).to_have_value("30")
    expect(me.box("Yarn weight")).to_have_value("4")
    assert query(me)["yarn"] == ["4"]


def test_resize_to_another_yarn_make_it_big_headed_and_start_again(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/otter")
    me.has_the_toy()
    me.types("Yarn weight", "5")
    expect(me.page).to_have_url(re.compile("yarn=5"))
    expect(me.page.locator("#figures")).to_contain_text("5.5 mm")
    expect(me.page.locator("#design")).to_contain_text("Bulky")
    me.types("Finished height", "34")
    expect(me.page).to_have_url(re.compile("height_cm=34"))
    me.types("Head to body", "1.4")
    expect(me.page).to_have_url(re.compile(r"head_to_body=1\.4"))
    assert me.figure("Finished height").startswith("3")
    me.page.get_by_role("link", name="Reset everything").click()
    expect(me.page).to_have_url(re.compile("/toys/otter$"))
    expect(me.box("Finished height")).to_have_value("20")


def test_a_bad_value_is_said_beside_its_box_and_the_last_good_toy_stays(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/otter")
    me.types("Finished height", "24")
    expect(me.page).to_have_url(re.compile("height_cm=24"))
    good = me.figure("Stitches")
    with me.expecting(422):
        me.types("Finished height", "2000")
        sentence = me.page.locator("#problem-height_cm")
        expect(sentence).to_contain_text("2000 cm was asked for")
        expect(sentence).to_contain_text("The nearest is 100 cm")
    expect(me.box("Finished height")).to_have_value("2000")
    expect(me.box("Finished height")).to_have_attribute("aria-invalid", "true")
    assert me.figure("Stitches") == good
    expect(me.page).to_have_url(re.compile("height_cm=24"))
    me.types("Finished height", "26")
    expect(sentence).to_be_empty()
    expect(me.page).to_have_url(re.compile("height_cm=26"))


def test_an_impossible_part_says_which_and_what_would_help(designer: Sit) -> None:
    me = designer(draws=True)
    me.opens("/toys/otter?height_cm=10")
    with me.expecting(422):
        me.types("Yarn weight", "7")
        sentence = me.page.locator("#problem-part")
        expect(sentence).to_contain_text("needs at least")
        expect(sentence).to_contain_text("tall works")
    me.sees_the_toy()


def test_reset_of_one_slider(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/owl?ear_size=1.4&height_cm=20")
    me.page.get_by_role("link", name=re.compile("Reset ear size")).click()
    expect(me.box("Ear size")).to_have_value("1")
    expect(me.page).to_have_url(re.compile(r"/toys/owl\?height_cm=20$"))


def test_inches_swatch_and_uk_terms(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/whale")
    me.page.get_by_label("Units").select_option("inches")
    expect(me.page).to_have_url(re.compile("units=in"))
    me.types("Finished height", "6")
    expect(me.page).to_have_url(re.compile("height_in=6"))
    assert re.match(r"[56]\.\d\d in", me.figure("Finished height"))
    me.page.get_by_text("My own swatch").click()
    with me.expecting(422):
        me.types("Stitches", "20")
        expect(me.page.locator("#problem-swatch_rounds")).to_contain_text("without its rounds")
    me.types("Rounds", "21")
    expect(me.page).to_have_url(re.compile("swatch_rounds=21"))
    expect(me.page.locator("#figures")).to_contain_text("from your swatch")
    me.page.get_by_label("Terms").select_option("UK (dc)")
    expect(me.page.locator("#rounds")).to_contain_text("6 dc in a magic ring")


def test_hovering_a_ring_says_part_round_and_stitches(designer: Sit) -> None:
    me = designer(draws=True)
    me.opens("/toys/whale")
    me.sees_the_toy()
    box = me.page.locator("#figure").bounding_box()
    assert box
    across = itertools.cycle(0.45 + 0.01 * step for step in range(12))

    def points_and_reads(me: Designer) -> object:
        me.page.mouse.move(
            box["x"] + box["width"] * next(across), box["y"] + box["height"] * 0.5
        )
        said = me.page.locator("#readout").inner_text()
        return bool(re.fullmatch(r"Body · round \d+ · \d+ stitches", said))

    me.comes_to(points_and_reads, True)


def shown_parts(me: Designer) -> list[str]:
    """Names of the parts that the 3D view shows."""
    shown = me.page.evaluate("document.getElementById('figure').data.map(m => [m.name, m.visible])")
    return sorted({name for name, visible in shown if visible is not False})


def test_parts_apart_one_part_alone_and_the_camera_is_kept(designer: Sit) -> None:
    me = designer(draws=True)
    me.opens("/toys/rabbit")
    me.sees_the_toy()
    me.page.evaluate(
        "Plotly.relayout('figure', {'scene.camera.eye': {x: 1.1, y: -1.2, z: 0.9}})"
    )
    me.page.get_by_label("Parts apart").check()
    me.page.get_by_label("Show").select_option("ears only")
    me.comes_to(shown_parts, ["ear"])
    me.types("Ear size", "1.3")
    expect(me.page).to_have_url(re.compile(r"ear_size=1\.3"))
    me.comes_to(shown_parts, ["ear"])
    eye = me.page.evaluate("document.getElementById('figure').layout.scene.camera.eye")
    assert eye == pytest.approx({"x": 1.1, "y": -1.2, "z": 0.9})


def test_without_script_the_form_and_the_pictures_do_all_of_it(designer: Sit) -> None:
    me = designer(script=False)
    me.opens("/toys/rabbit")
    picture = me.page.get_by_role("img", name=re.compile("Clementine the Rabbit from the front"))
    expect(picture).to_be_visible()
    assert me.page.get_by_role("slider").count() == 0
    me.box("Finished height").fill("26")
    me.page.get_by_role("button", name="Work it out").click()
    expect(me.page).to_have_url(re.compile("height_cm=26"))
    good = me.figure("Stitches")
    me.box("Finished height").fill("nonsense")
    with me.expecting(400):
        me.page.get_by_role("button", name="Work it out").click()
        expect(me.page.locator("#problem-height_cm")).to_contain_text("“nonsense” was asked for")
    expect(me.box("Finished height")).to_have_value("nonsense")
    assert me.figure("Stitches") == good


def test_without_webgl_the_still_picture_follows_the_sliders(designer: Sit) -> None:
    me = designer(draws=True)
    me.page.add_init_script(
        "HTMLCanvasElement.prototype.getContext = new Proxy(HTMLCanvasElement.prototype.getContext,"
        "{apply: (f, me, [kind, ...rest]) =>"
        " kind.startsWith('webgl') ? null : f.call(me, kind, ...rest)})"
    )
    me.opens("/toys/owl")
    still = me.page.locator("#still")
    expect(still).to_be_visible()
    me.types("Finished height", "22")
    expect(still).to_have_attribute("src", re.compile("height_cm=22"))


def test_at_1280_by_800_sliders_preview_and_figures_are_in_view(designer: Sit) -> None:
    me = designer(draws=True)
    me.opens("/toys/otter")
    me.sees_the_toy()
    for scheme in ("light", "dark"):
        me.page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        for thing in (
            me.slider("Finished height"),
            me.slider("True or simple"),
            me.page.locator("#figure"),
            me.page.get_by_text("Stitches", exact=True).first,
            me.page.get_by_role("link", name="Pattern", exact=True),
        ):
            box = thing.bounding_box()
            assert box
            assert box["y"] >= 0
            assert box["y"] + box["height"] <= 800
        wide = me.page.evaluate("document.documentElement.scrollWidth")
        assert wide <= 1280


@pytest.mark.parametrize("script", [True, False])
def test_on_a_phone_nothing_is_wider_than_the_screen(designer: Sit, script: bool) -> None:
    me = designer(390, 844, "dark", script, draws=script)
    for path in ("/", "/toys/rabbit", "/toys/otter?units=in&terms=uk"):
        me.opens(path)
        wide = me.page.locator("html").evaluate("e => e.scrollWidth") if script else 390
        assert wide <= 390
    if script:
        me.sees_the_toy()
        me.types("Finished height", "9")
        expect(me.page).to_have_url(re.compile("height_in=9"))


def test_tab_reaches_every_control_and_shows_where_it_is(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/owl")
    me.has_the_toy()
    wanted = set(
        me.page.evaluate(
            "[...document.querySelectorAll('#design input[name], #design select')]"
            ".filter(e => e.checkVisibility()).map(e => e.name)"
        )
    ) - {"swatch_stitches", "swatch_rounds", "swatch_over"}
    reached: set[str] = set()
    for _ in range(60):
        me.page.keyboard.press("Tab")
        reached.add(me.page.evaluate("document.activeElement.name || ''"))
        outline = me.page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert outline != "none"
        if wanted <= reached:
            break
    assert wanted <= reached


def test_print_leaves_the_rounds(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/whale")
    me.has_the_toy()
    me.page.emulate_media(media="print")
    expect(me.page.locator(".controls")).to_be_hidden()
    expect(me.page.locator("#rounds")).to_be_visible()
    assert len(me.page.pdf()) > 10_000
