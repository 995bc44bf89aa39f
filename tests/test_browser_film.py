"""Caption cards and stitching along, in a real browser: by keys, by touch, without a network."""

from __future__ import annotations

import re
from collections.abc import Callable
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.conftest import Designer
from tests.serving import serving
from webapp.web import create_app
from webapp.yarns import Terms, term_set

Sit = Callable[..., Designer]
KEPT = "Kept on this device"


def shown_card(page: Page) -> str:
    """Part and round of the one card in view."""
    cards = page.locator(".cue:visible")
    expect(cards).to_have_count(1)
    label = cards.locator("h2").inner_text()
    return f"{cards.locator('.cue-part').inner_text().split()[0]} {label}"


def choice(me: Designer, label: str):  # type: ignore[no-untyped-def]
    return me.page.get_by_role("combobox", name=label, exact=True)


# --- caption cards


def test_cards_by_arrows_space_page_keys_and_the_part_list(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/otter/film")
    assert shown_card(me.page) == "Body Rnd 1"
    for key in ("ArrowRight", "Space", "PageDown"):
        me.page.keyboard.press(key)
    assert shown_card(me.page) == "Body Rnd 4"
    for key in ("ArrowLeft", "PageUp", "Shift+Space", "ArrowLeft"):
        me.page.keyboard.press(key)
    assert shown_card(me.page) == "Body Rnd 1"
    choice(me, "Part").select_option("Muzzle")
    assert shown_card(me.page) == "Muzzle Rnd 1"
    expect(me.page).to_have_url(re.compile("#muzzle.1$"))
    me.page.reload()
    assert shown_card(me.page) == "Muzzle Rnd 1"
    expect(me.page.locator(".cue:visible .cue-count")).to_contain_text("14 stitches")
    me.page.get_by_role("button", name="Next").click()
    assert shown_card(me.page) == "Muzzle Rnd 2"
    # A key pressed on a button is the button's own: one step, not two.
    me.page.keyboard.press("Space")
    assert shown_card(me.page) == "Muzzle Rnd 3"
    # On the whole screen the cards go on by the same keys.
    me.page.get_by_role("button", name="Full screen").click()
    me.comes_to(lambda me: me.page.evaluate("document.fullscreenElement?.id"), "deck")
    me.page.keyboard.press("PageDown")
    assert shown_card(me.page) == "Muzzle Rnd 4"


def test_a_foot_switch_goes_on_where_a_list_was_just_used(designer: Sit) -> None:
    """A list keeps the focus when something is chosen from it by hand, and would take page keys
    for its own: to another part, or past rounds that are not done. What it sends is said on the
    pages: next and back."""
    me = designer()
    me.opens("/toys/otter/film")
    choice(me, "Part").focus()
    choice(me, "Part").select_option("Head")
    me.page.keyboard.press("PageDown")
    assert shown_card(me.page) == "Head Rnd 2"
    me.page.keyboard.press("PageUp")
    assert shown_card(me.page) == "Head Rnd 1"
    me.opens("/toys/otter/along")
    for label, wanted in (("Piece", "Head"), ("Round", "Rnd 7")):
        choice(me, label).focus()
        choice(me, label).select_option(wanted)
    me.page.keyboard.press("PageDown")
    assert name(me) == "Head · Rnd 8"
    me.page.get_by_role("checkbox", name="Keep the screen on").click()
    me.page.keyboard.press("PageDown")
    assert name(me) == "Head · Rnd 9"
    choice(me, "Piece").focus()
    me.page.keyboard.press("PageUp")
    assert name(me) == "Head · Rnd 8"


def test_cards_by_touch_and_the_times_of_a_run(designer: Sit) -> None:
    me = designer(390, 844)
    me.opens("/toys/owl/film?height_cm=20")
    box = me.page.locator("#deck").bounding_box()
    assert box
    middle = box["y"] + box["height"] / 3
    take = me.page.get_by_role("button", name="Take the times of this run")
    expect(take).to_be_disabled()
    me.page.mouse.click(box["x"] + box["width"] * 0.8, middle)
    assert shown_card(me.page) == "Body Rnd 2"
    expect(me.page.locator("#film-clock")).to_have_text("0:01")
    me.page.mouse.click(box["x"] + box["width"] * 0.8, middle)
    assert shown_card(me.page) == "Body Rnd 3"
    me.page.mouse.click(box["x"] + box["width"] * 0.1, middle)
    assert shown_card(me.page) == "Body Rnd 2"
    take.click()
    expect(me.page).to_have_url(re.compile("len.body.2="))
    values = parse_qs(urlsplit(me.page.url).query)
    assert values["height_cm"] == ["20"]
    assert 1.0 <= float(values["len.body.2"][0]) < 15.0
    assert "len.body.1" not in values


def test_lengths_are_written_into_the_captions_and_bad_ones_lose_nothing(designer: Sit) -> None:
    me = designer()
    me.opens("/toys/whale/film?height_cm=20")
    me.page.get_by_text("How long each caption lasts").click()
    me.box("Seconds for Body, Rnd 2").fill("7.5")
    me.box("Seconds for Body, Rnd 3").fill("soon")
    me.box("The film runs how many times as fast").fill("10")
    with me.expecting(400):
        me.page.get_by_role("button", name="Set the times").click()
        expect(me.page.get_by_role("alert")).to_contain_text("It can be 1 to 36000.")
    with me.expecting(400):
        me.page.reload()
        expect(me.box("Seconds for Body, Rnd 2")).to_have_value("7.5")
        expect(me.box("Seconds for Body, Rnd 3")).to_have_value("soon")
    me.box("Seconds for Body, Rnd 3").fill("")
    me.page.get_by_role("button", name="Set the times").click()
    expect(me.page).to_have_url(re.compile("film.height_cm=20&faster=10&len.body.2=7.5$"))
    with me.page.expect_download() as download:
        me.page.get_by_role("link", name="Captions, SubRip").click()
    second = download.value.path().read_text(encoding="utf-8").split("\n\n")[1]
    start, end = (
        3600 * int(h) + 60 * int(m) + int(s) + int(ms) / 1000
        for h, m, s, ms in re.findall(r"(\d+):(\d+):(\d+),(\d+)", second)
    )
    assert end - start == pytest.approx(7.5)
    with me.expecting(400):
        me.page.go_back()
        expect(me.box("Seconds for Body, Rnd 2")).to_have_value("7.5")


def test_without_script_the_cards_are_a_list_with_links(designer: Sit) -> None:
    me = designer(390, 844, script=False)
    me.opens("/toys/rabbit/film")
    assert me.page.locator(".cue:visible").count() > 50
    me.page.locator(".cue").first.get_by_role("link", name="Next").click()
    expect(me.page).to_have_url(re.compile("#.+[.]2$"))
    me.page.get_by_role("navigation", name="Parts").get_by_role("link", name="Scarf").click()
    expect(me.page).to_have_url(re.compile("#scarf.1$"))


# --- stitching along


def stitch(me: Designer) -> None:
    me.page.locator("#stitch").click()


def name(me: Designer) -> str:
    return me.page.locator("#round-name").inner_text()


def test_the_counter_goes_through_a_round_and_reload_keeps_it(designer: Sit) -> None:
    """Round 4 of the otter's body is (2 sc, inc) x 6: 18 movements make 24 stitches. The key that
    ends a round stays under the thumb, with a note to read or without."""
    me = designer(390, 844)
    me.opens("/toys/otter/along")
    whole = me.page.get_by_role("button", name="Whole round")
    place = whole.bounding_box()
    for number in (1, 2, 3):
        assert name(me) == f"Body · Rnd {number}"
        assert whole.bounding_box() == place
        whole.click()
    expect(me.page.locator("#round-text")).to_have_text("(2 sc, inc) x 6 [24]")
    repeat, made = me.page.locator("#repeat"), me.page.locator("#stitch-made")
    count = 0
    for turn in range(1, 7):
        ending = {1: "st", 2: "nd", 3: "rd"}.get(turn, "th")
        for movement in (1, 1, 2):
            expect(repeat).to_have_text(f"{turn}{ending} of 6: 2 sc, inc")
            expect(made).to_have_text(str(count))
            if (turn, movement) == (3, 2):
                me.page.reload()
                expect(repeat).to_have_text("3rd of 6: 2 sc, inc")
                expect(made).to_have_text(str(count))
            stitch(me)
            count += movement
    assert count == 24
    assert name(me) == "Body · Rnd 5"
    expect(me.page.locator("#said")).to_have_text("Rnd 4 done, 24 stitches. Next: Rnd 5.")
    # 6 + 12 + 18 + 24 stitches of four rounds.
    expect(me.page.locator("#left")).to_contain_text("60 of 6,424 stitches")


def test_a_german_pattern_is_counted_in_german(designer: Sit) -> None:
    """Round 4 of the otter's body is (2 fM, zun) x 6, round 5 (fM, zun, 2 fM) x 6: its pattern."""
    me = designer(390, 844)
    me.opens("/toys/otter/along?terms=de")
    expect(me.page.locator("main")).to_have_attribute("lang", "de")
    expect(me.page.locator("#offline-said")).to_contain_text("Auf diesem Gerät behalten")
    said, repeat = me.page.locator("#said"), me.page.locator("#repeat")
    expect(repeat).to_have_text("Masche 1 von 6")
    whole = me.page.get_by_role("button", name="Ganze Runde")
    for number in (1, 2, 3):
        assert name(me) == f"Körper · Rd {number}"
        whole.click()
    expect(said).to_have_text("Rd 3 fertig, 18 Maschen. Weiter: Rd 4.")
    for movement in range(18):
        turn = movement // 3 + 1
        expect(repeat).to_have_text(f"{turn}. von 6: 2 fM, zun")
        kind = "zun" if movement % 3 == 2 else "fM"
        made = movement + turn - 1
        expect(me.page.locator("#stitch")).to_have_text(
            re.compile(rf"^\s*Jetzt: {kind}\s*{made} von 24 M\s*Für jede Masche antippen\s*$")
        )
        expect(me.page.locator("#undo")).to_have_text(
            "Masche zurück" if movement else "Runde zurück"
        )
        stitch(me)
    expect(said).to_have_text("Rd 4 fertig, 24 Maschen. Weiter: Rd 5.")
    expect(me.page.locator("#left")).to_have_text(
        re.compile(r"^0 %: 60 von 6\.424 Maschen, noch etwa \d+ h \d+ min$")
    )
    stitch(me)
    expect(said).to_have_text("1 von 30. Jetzt 1. von 6: fM, zun, 2 fM")
    me.page.keyboard.press("ArrowLeft")
    expect(said).to_have_text("Zurück: Rd 5, 0 von 30.")
    me.page.keyboard.press("PageUp")
    expect(said).to_have_text("Zurück zum Anfang: Rd 4.")
    choice(me, "Teil").select_option("Ohren, 2 von 2")
    expect(said).to_have_text("Ohren, 2 von 2 · Rd 1")
    last = choice(me, "Runde").locator("option").last.get_attribute("value")
    choice(me, "Runde").select_option(last)
    whole.click()
    expect(said).to_contain_text("Ohren, 2 von 2: fertig.")
    expect(me.page.locator("#round-text")).to_contain_text("Weiter: ")
    choice(me, "Teil").select_option("Zusammennähen")
    me.page.get_by_role("button", name="Fertig").click()
    expect(said).to_have_text("Schritt 1 fertig. Weiter: Schritt 2.")
    assert name(me) == "Zusammennähen · Schritt 2"


@pytest.mark.parametrize("more", ["", " of the Long River"])
def test_the_counter_fills_the_screen_below_a_name_of_any_length(designer: Sit, more: str) -> None:
    """A name that takes a line more leaves the text of the round uncovered, as the keys stay in
    view."""
    me = designer(390, 844)
    me.opens("/toys/otter/along")
    me.page.evaluate("more => { document.querySelector('h1').textContent += more; }", more)
    me.page.set_viewport_size({"width": 390, "height": 800})
    me.comes_to(
        lambda me: me.page.evaluate(
            "Math.round(document.getElementById('now').getBoundingClientRect().bottom)"
        ),
        800,
    )
    text, hand = me.page.locator("#round-text"), me.page.locator(".hand")
    reading, keys = text.bounding_box(), hand.bounding_box()
    assert reading
    assert keys
    assert reading["y"] + reading["height"] <= keys["y"]
    assert keys["y"] + keys["height"] <= 801


def test_numbers_are_grouped_as_a_browser_does(designer: Sit) -> None:
    """By the browser's own CLDR."""
    me = designer()
    me.opens("/along")
    for terms in Terms:
        for number in (7, 999, 1_000, 6_424, 9_999, 10_000, 307_000, 1_234_567):
            theirs = me.page.evaluate("([n, tag]) => n.toLocaleString(tag)", [number, terms.tag])
            assert term_set(terms).catalogue.grouped(number) == theirs, (terms, number)


def test_keys_step_a_stitch_a_repeat_and_a_round_and_back(designer: Sit) -> None:
    """The muzzle's third round is [(sc, inc) x 3, 4 sc] x 2, 26 stitches from 20."""
    me = designer()
    me.opens("/toys/otter/along")
    choice(me, "Piece").select_option("Muzzle")
    choice(me, "Round").select_option("Rnd 3")
    me.page.locator("#round-name").click()
    repeat, made = me.page.locator("#repeat"), me.page.locator("#stitch-made")
    expect(repeat).to_have_text("1st of 2: (sc, inc) x 3, 4 sc · 1st of 3: sc, inc")
    me.page.keyboard.press("Space")
    expect(made).to_have_text("1")
    me.page.keyboard.press("ArrowDown")
    expect(repeat).to_have_text("1st of 2: (sc, inc) x 3, 4 sc · 2nd of 3: sc, inc")
    expect(made).to_have_text("3")
    for _ in range(2):
        me.page.keyboard.press("ArrowDown")
    expect(repeat).to_have_text("1st of 2: (sc, inc) x 3, 4 sc")
    expect(made).to_have_text("9")
    me.page.keyboard.press("ArrowDown")
    expect(repeat).to_have_text("2nd of 2: (sc, inc) x 3, 4 sc · 1st of 3: sc, inc")
    expect(made).to_have_text("13")
    me.page.keyboard.press("ArrowLeft")
    expect(made).to_have_text("12")
    me.page.keyboard.press("PageUp")
    expect(made).to_have_text("0")
    me.page.keyboard.press("PageDown")
    assert name(me) == "Muzzle · Rnd 4"
    me.page.keyboard.press("PageUp")
    assert name(me) == "Muzzle · Rnd 3"


def test_notes_come_when_they_are_due_and_the_last_step_ends_the_toy(designer: Sit) -> None:
    """The note on the eyes follows round 21 of the otter's head, as in the pattern."""
    me = designer(390, 844)
    me.opens("/toys/otter/along")
    choice(me, "Piece").select_option("Head")
    notes = me.page.get_by_role("list", name="Before this round")
    expect(notes).to_have_text("In bark brown.")
    choice(me, "Round").select_option("Rnd 21")
    expect(notes).to_be_hidden()
    me.page.get_by_role("button", name="Whole round").click()
    expect(notes).to_contain_text("Place the 15 mm eyes")
    options = choice(me, "Piece").locator("option").all_inner_texts()
    assert options.index("Ears, 1 of 2") + 1 == options.index("Ears, 2 of 2")
    for label in options:
        choice(me, "Piece").select_option(label.removeprefix("✓ "))
        last = choice(me, "Round").locator("option").last.get_attribute("value")
        choice(me, "Round").select_option(last)
        me.page.locator("#round-name").click()
        me.page.keyboard.press("PageDown")
        expect(me.page.locator("#round-name")).to_contain_text("finished")
    expect(me.page.locator("#round-text")).to_contain_text("The toy is finished")
    expect(me.page.locator("#left")).to_contain_text("100 %")
    expect(me.page.locator("#left")).to_contain_text("about 0 min left")


def test_going_back_to_a_toy_that_was_forgotten_does_not_bring_its_place_back(
    designer: Sit,
) -> None:
    """A browser may bring a page back as it was left (HTML, pageshow with `persisted`; here the
    event alone, for a browser that is driven keeps no pages)."""
    me = designer()
    me.opens("/toys/owl/along")
    me.page.get_by_role("button", name="Whole round").click()
    assert name(me) == "Body · Rnd 2"
    me.page.evaluate("localStorage.clear()")
    me.page.evaluate("dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }))")
    expect(me.page.locator("#round-name")).to_have_text("Body · Rnd 1")


def test_a_card_s_address_that_is_none_shows_the_first(designer: Sit) -> None:
    """`%` alone is no escape (URL standard), and was as good as no script."""
    me = designer()
    me.opens("/toys/owl/film#%")
    assert shown_card(me.page) == "Body Rnd 1"
    me.opens("/toys/owl/film#head.2")
    me.page.reload()
    assert shown_card(me.page) == "Head Rnd 2"


def test_two_toys_at_once_and_one_is_forgotten(designer: Sit) -> None:
    me = designer(390, 844)
    for path, rounds in (("/toys/otter/along", 3), ("/toys/owl/along?height_cm=30", 1),
                         ("/toys/owl/along", 2)):  # fmt: skip
        me.opens(path)
        for _ in range(rounds):
            me.page.get_by_role("button", name="Whole round").click()
    me.page.get_by_role("link", name="Under way").click()
    rows = me.page.get_by_role("list", name="Toys under way").get_by_role("listitem")
    expect(rows).to_have_count(3)
    tall = rows.filter(has_text="30 cm tall")
    tall.get_by_role("link", name="Figgory the Owl").click()
    assert name(me) == "Body · Rnd 2"
    me.page.get_by_role("link", name="Under way").click()
    tall.get_by_role("button", name="Forget").click()
    expect(rows).to_have_count(3)
    tall.get_by_role("button", name=re.compile("really")).click()
    expect(rows).to_have_count(2)
    expect(me.page.get_by_role("status")).to_have_text("Figgory the Owl is forgotten.")
    rows.get_by_role("link", name="Bramwell the Otter").click()
    assert name(me) == "Body · Rnd 4"
    me.opens("/toys/owl/along?height_cm=30")
    assert name(me) == "Body · Rnd 1"


def test_opened_once_it_works_without_a_network(browser: Browser) -> None:
    """The network is cut in the browser, and the server is stopped as well: whatever is shown
    comes from the device."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    context.set_default_timeout(15_000)
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    with serving(create_app()) as address:
        for path in ("/toys/rabbit/along?height_cm=20", "/toys/whale/along"):
            page.goto(address + path)
            expect(page.locator("#offline-said")).to_contain_text(KEPT)
            page.get_by_role("button", name="Whole round").click()
        page.goto(f"{address}/toys/owl/along?terms=de")
        expect(page.locator("#offline-said")).to_contain_text("Auf diesem Gerät behalten")
        page.goto(f"{address}/toys/whale/along")
    context.set_offline(True)
    page.reload()
    expect(page.locator("#round-name")).to_have_text("Body · Rnd 2")
    assert page.locator("#stitch").evaluate("e => getComputedStyle(e).display") == "grid"
    for _ in range(12):
        page.locator("#stitch").click()
    expect(page.locator("#round-name")).to_contain_text("Rnd")
    here = page.locator("#round-name").inner_text()
    page.get_by_role("link", name="Under way").click()
    page.get_by_role("link", name="Clementine the Rabbit").click()
    page.get_by_role("button", name="Whole round").click()
    page.goto(address + "/toys/whale/along")
    expect(page.locator("#round-name")).to_have_text(here)
    page.goto(address + "/toys/rabbit/along?height_cm=20")
    expect(page.locator("#round-name")).to_contain_text("Rnd 3")
    page.goto(address + "/toys/owl/along?terms=de")
    page.get_by_role("button", name="Ganze Runde").click()
    expect(page.locator("#round-name")).to_have_text("Körper · Rd 2")
    # A design that was never opened is not there, and said so.
    assert page.goto(address + "/toys/whale/along?height_cm=33").status == 503  # type: ignore[union-attr]
    expect(page.locator("body")).to_contain_text("was not opened on this device before")
    assert errors == []
    context.close()


@pytest.mark.parametrize("said", ["terms=us&pace=15", "units=in&height_in=7&fibre=cotton"])
def test_an_address_that_says_it_otherwise_opens_again_without_a_network(
    designer: Sit, said: str
) -> None:
    """Usual choices that are written out, and choices in another order, are the same design."""
    me = designer(390, 844)
    me.opens(f"/toys/whale/along?{said}")
    expect(me.page.locator("#offline-said")).to_contain_text(KEPT)
    me.page.get_by_role("button", name="Whole round").click()
    me.page.context.set_offline(True)
    answer = me.page.reload()
    assert answer
    assert answer.status == 200
    expect(me.page.locator("#round-name")).to_have_text("Body · Rnd 2")


def test_a_kept_page_is_made_new_with_a_network_and_no_other_is_kept(designer: Sit) -> None:
    """What is kept is changed by hand; opened again, the kept page is the server's."""
    me = designer(390, 844)
    me.opens("/toys/whale/along")
    expect(me.page.locator("#offline-said")).to_contain_text(KEPT)
    me.page.evaluate(
        """async () => {
          const name = (await caches.keys()).find((n) => n.startsWith("roundling-along-"));
          const cache = await caches.open(name);
          await cache.put(location.href, new Response("an older page"));
          await caches.open("roundling-along-0");
        }"""
    )
    me.page.reload()
    expect(me.page.locator("#offline-said")).to_contain_text(KEPT)
    me.comes_to(
        lambda me: me.page.evaluate(
            "caches.match(location.href, {ignoreVary: true}).then(r => r.text())"
            ".then(t => t.includes('round-name'))"
        ),
        True,
    )
    # Other pages of the toy are not answered by the worker.
    scopes = me.page.evaluate(
        "navigator.serviceWorker.getRegistrations().then(all => all.map(r => r.scope))"
    )
    assert sorted(urlsplit(scope).path for scope in scopes) == ["/along", "/toys/whale/along"]
    me.opens("/toys/whale/checks")
    assert me.page.evaluate("navigator.serviceWorker.controller === null")


def test_nothing_is_sent_while_stitching(designer: Sit) -> None:
    me = designer(390, 844)
    me.opens("/toys/owl/along")
    expect(me.page.locator("#offline-said")).to_contain_text(KEPT)
    sent: list[str] = []
    me.page.on("request", lambda request: sent.append(request.url))
    for _ in range(10):
        stitch(me)
    me.page.get_by_role("button", name="Whole round").click()
    me.page.wait_for_timeout(200)
    assert sent == []


def test_what_a_browser_cannot_do_is_said(designer: Sit) -> None:
    me = designer(390, 844)
    me.page.add_init_script(
        "delete Navigator.prototype.wakeLock; delete Navigator.prototype.serviceWorker;"
    )
    me.opens("/toys/owl/along?terms=de")
    expect(me.page.locator("#awake-said")).to_contain_text("Dieser Browser kann das nicht")
    expect(me.page.get_by_label("Bildschirm anlassen")).to_be_disabled()
    expect(me.page.locator("#offline-said")).to_contain_text("braucht das Netz")
    me.opens("/toys/owl/along")
    expect(me.page.locator("#awake-said")).to_contain_text("This browser cannot")
    expect(me.page.get_by_label("Keep the screen on")).to_be_disabled()
    expect(me.page.locator("#offline-said")).to_contain_text("needs the network")
    stitch(me)
    expect(me.page.locator("#stitch-made")).to_have_text("1")


def test_the_screen_is_kept_awake_and_let_go(designer: Sit) -> None:
    """A stand-in for the screen's lock counts how often it is asked for and let go."""
    me = designer(390, 844)
    me.page.add_init_script(
        """window.locks = [];
        class Lock extends EventTarget {
          async release() {
            window.locks.push("released");
            this.dispatchEvent(new Event("release"));
          }
        }
        Object.defineProperty(navigator, "wakeLock", {
          value: { request: async (kind) => { window.locks.push(kind); return new Lock(); } },
        });"""
    )
    me.opens("/toys/owl/along")
    expect(me.page.locator("#awake-said")).to_have_text("It stays on.")
    assert me.page.evaluate("locks") == ["screen"]
    me.page.get_by_label("Keep the screen on").uncheck()
    me.comes_to(lambda me: me.page.evaluate("locks"), ["screen", "released"])


def test_spoiled_notes_of_the_place_do_no_harm(designer: Sit) -> None:
    """Whatever lies in the browser's store, the page opens, and a pattern that changed is said."""
    me = designer(390, 844)
    me.opens("/toys/owl/along")
    for kept in (
        "nonsense",
        "[]",
        '{"pieces": {"body 1": [99, -5]}}',
        '{"pieces": {"body 1": ["x", null]}, "piece": 7}',
        '{"pieces": {"body 1": null}}',
        '{"digest": "other"}',
    ):
        me.page.evaluate("kept => localStorage.setItem('roundling.along./toys/owl', kept)", kept)
        me.page.reload()
        expect(me.page.locator("#round-name")).to_contain_text("Body")
    expect(me.page.locator("#notes")).to_contain_text("The pattern has changed since you began")


def test_without_script_all_rounds_are_there(designer: Sit) -> None:
    me = designer(390, 844, script=False)
    me.opens("/toys/rabbit/along")
    expect(me.page.get_by_text("6 sc in a magic ring").first).to_be_visible()
    expect(me.page.get_by_role("heading", name="Sewing together")).to_be_visible()


def test_nothing_is_wider_than_a_phone_even_in_large_text(designer: Sit) -> None:
    me = designer(390, 844)
    for path in ("/toys/otter/film?faster=x", "/toys/otter/along?terms=de", "/along",
                 "/toys/otter/checks"):  # fmt: skip
        with me.expecting(400):
            me.opens(path)
        for size in ("100%", "200%"):
            me.page.evaluate("size => { document.documentElement.style.fontSize = size }", size)
            assert me.page.evaluate("document.documentElement.scrollWidth") <= 390, (path, size)
