"""Addresses of charts and pictures, and how the page and a browser show them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal
from urllib.parse import urlencode
from xml.etree import ElementTree

import pytest
from flask.testing import FlaskClient
from playwright.sync_api import Browser, expect

from tests.conftest import Designer
from tests.strategies import TEST_TOYS, design_of, recipes
from webapp.charts import chart_svg
from webapp.own.beginnings import from_recipe
from webapp.own.packing import pack
from webapp.pictures import View, assembly_svg
from webapp.recipes import load_recipes
from webapp.way import make_toy
from webapp.web import create_app
from webapp.yarns import Terms, term_set

VIEWS = ("front", "side", "back", "apart")


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    app = create_app()
    app.config["PROPAGATE_EXCEPTIONS"] = True
    return app.test_client()


@pytest.mark.parametrize("toy", ["otter", "owl", "rabbit", "whale"])
def test_every_part_has_a_chart_and_every_view_a_picture(client: FlaskClient, toy: str) -> None:
    """All parse as XML, and follow the values of the address."""
    paths = [f"chart/{part.name}" for part in recipes()[toy].parts]
    paths += [f"assembly/{view}" for view in VIEWS]
    for path in paths:
        usual, other = (client.get(f"/toys/{toy}/{path}.svg{q}") for q in ("", "?height_cm=31"))
        assert (usual.status_code, usual.mimetype) == (200, "image/svg+xml")
        assert ElementTree.fromstring(usual.text).tag.endswith("svg")
        assert "unsafe-inline" not in client.get("/").headers["Content-Security-Policy"]
        if path not in ("chart/scarf",):
            assert usual.data != other.data, path


def test_a_toy_of_ones_own_has_them_too(client: FlaskClient) -> None:
    """Begun from a shipped toy it is that toy still, so its charts are the same but for nothing."""
    query = urlencode({"recipe": pack(from_recipe(recipes()["owl"]))})
    for path in ("chart/body.svg", "assembly/front.svg"):
        own = client.get(f"/toys/own/{path}?{query}")
        assert own.status_code == 200, own.text[:200]
        assert own.data == client.get(f"/toys/owl/{path}").data


@pytest.mark.parametrize(
    ("path", "status", "says"),
    [
        ("/toys/otter/chart/nothing.svg", 404, "muzzle"),
        ("/toys/otter/chart/%3Cscript%3E.svg", 404, "muzzle"),
        ("/toys/otter/assembly/below.svg", 404, "apart"),
        ("/toys/nobody/chart/body.svg", 404, ""),
        ("/toys/otter/chart/body.svg?height_cm=abc", 400, "abc"),
        ("/toys/otter/assembly/front.svg?colour=red", 400, "colour"),
        ("/toys/otter/assembly/front.svg?height_cm=9&yarn=7", 422, ""),
    ],
)
def test_what_is_not_there_is_refused_in_words(
    client: FlaskClient, path: str, status: int, says: str
) -> None:
    answer = client.get(path)
    assert answer.status_code == status, answer.text[:200]
    assert says in answer.text
    if "nobody" not in path:
        assert answer.mimetype == "text/plain"


def test_the_page_links_all_of_them(client: FlaskClient) -> None:
    """With the page's own values, and each link answers."""
    page = client.get("/toys/rabbit?height_cm=25").text
    for part in recipes()["rabbit"].parts:
        assert f'href="/toys/rabbit/chart/{part.name}.svg?height_cm=25"' in page
    for view in VIEWS:
        assert f'href="/toys/rabbit/assembly/{view}.svg?height_cm=25"' in page


def test_drawings_wait_until_they_are_asked_for(designer: Callable[..., Designer]) -> None:
    """None is fetched with the page, nor while sliders move; all that are seen once it is opened.
    Moving a slider then closes them: they would be drawn anew each time."""
    who = designer()
    fetched: list[str] = []
    who.page.on("request", lambda request: fetched.append(request.url))
    who.opens("/toys/rabbit")
    who.has_the_toy()
    who.types("Finished height", "26")
    who.comes_to(lambda d: "height_cm=26" in d.page.url, True)
    drawn = [url for url in fetched if "/chart/" in url or "/assembly/" in url]
    assert drawn == []
    who.page.get_by_text("Charts and pictures for paper").click()
    picture = who.page.locator("#drawings img").first
    expect(picture).to_be_visible()
    who.comes_to(lambda _: picture.evaluate("i => i.complete && i.naturalWidth > 0"), True)
    assert any("/assembly/front.svg?height_cm=26" in url for url in fetched)
    who.types("Finished height", "27")
    who.comes_to(lambda d: "height_cm=27" in d.page.url, True)
    expect(who.page.locator("#drawings")).not_to_have_attribute("open", "")
    expect(who.page.locator("#drawings img").first).to_be_hidden()


INK = """() => {
  const style = getComputedStyle(document.documentElement);
  return [style.color, style.backgroundColor].map((c) => c.match(/[\\d.]+/g).map(Number));
}"""


def luminance(rgb: list[float]) -> float:
    """Relative luminance (WCAG 2.1, from memory)."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
              for c in (v / 255.0 for v in rgb[:3])]  # fmt: skip
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_drawing_opened_by_itself_can_be_read(
    browser: Browser, address: str, scheme: Literal["light", "dark"]
) -> None:
    """Ink against ground at 7 to 1 and more (WCAG 2.1, success criterion 1.4.6); what is clear
    lies on the browser's white."""
    page = browser.new_page(color_scheme=scheme)
    for path in ("chart/ear", "assembly/front"):
        page.goto(f"{address}/toys/otter/{path}.svg")
        ink, ground = page.evaluate(INK)
        clear = len(ground) == 4 and ground[3] == 0
        low, high = sorted((luminance(ink), 1.0 if clear else luminance(ground)))
        assert (high + 0.05) / (low + 0.05) >= 7.0, (scheme, path)
        assert clear == (scheme == "light")
    page.close()


OVERLAPS = """() => {
  const svg = document.querySelector("svg"), page = svg.getBoundingClientRect();
  const texts = [...svg.querySelectorAll("text")].filter((t) => t.textContent.trim());
  const boxes = texts.map((t) => [t.textContent, t.getBoundingClientRect()]);
  const found = boxes.filter(([, b]) => b.left < page.left || b.right > page.right ||
    b.top < page.top || b.bottom > page.bottom).map(([words]) => "off the page: " + words);
  // Line boxes are taller than letters: a fifth of each may lie in another's.
  const slim = ([words, b]) => [words, b.left, b.right, b.top + b.height / 5,
    b.bottom - b.height / 5];
  const slims = boxes.map(slim);
  slims.forEach(([words, l, r, t, b], n) => {
    for (const [other, x, y, u, d] of slims.slice(0, n))
      if (l < y && x < r && t < d && u < b) found.push(words + " | " + other);
  });
  // Nor a symbol of a chart in the middle of a line of words; words along an arc have no box.
  const straight = boxes.filter((_, n) => !texts[n].querySelector("textPath")).map(slim);
  for (const symbol of svg.querySelectorAll("use")) {
    const s = symbol.getBoundingClientRect(), w = s.width / 12, h = s.height / 5;
    for (const [words, l, r, t, b] of straight)
      if (l < s.right - w && s.left + w < r && t < s.bottom - h && s.top + h < b)
        found.push(words + " | " + symbol.getAttribute("class"));
  }
  return found;
}"""


@pytest.mark.parametrize("name", sorted({**recipes(), **load_recipes(TEST_TOYS)}))
def test_words_of_drawings_never_overlap_and_stay_on_the_page(browser: Browser, name: str) -> None:
    """As a browser lays them out: no two texts of a drawing share room, at usual and large size."""
    recipe = {**recipes(), **load_recipes(TEST_TOYS)}[name]
    words = term_set(Terms.US)
    page = browser.new_page()
    high = min(60.0, recipe.sliders["height"].high / 10.0)
    for values in ({}, {"height_cm": f"{high:g}"}):
        toy = make_toy(recipe, design_of(recipe, **values))
        drawings = {p.name: chart_svg(toy.worked, p, words) for p in recipe.parts}
        for view in View:
            drawings[view.value] = assembly_svg(toy.worked, toy.materials.eyes, view, words)
        for what, svg in drawings.items():
            page.set_content(svg)
            assert page.evaluate(OVERLAPS) == [], (what, values)
    page.close()


@pytest.mark.parametrize(
    ("name", "terms", "height_cm"),
    [("otter", "de", 20), ("rabbit", "nl", 22), ("owl", "ja", 16), ("whale", "pt", 13),
     ("wader", "it", 13)],
)  # fmt: skip
def test_words_of_other_languages_have_room_too(
    browser: Browser, name: str, terms: str, height_cm: int
) -> None:
    """The same in languages whose words are longer, or whose letters are square; and of legs that
    are small for the words in them."""
    recipe = {**recipes(), **load_recipes(TEST_TOYS)}[name]
    words = term_set(Terms(terms))
    toy = make_toy(recipe, design_of(recipe, terms=terms, height_cm=height_cm))
    page = browser.new_page()
    drawings = {p.name: chart_svg(toy.worked, p, words) for p in recipe.parts}
    for view in View:
        drawings[view.value] = assembly_svg(toy.worked, toy.materials.eyes, view, words)
    for what, svg in drawings.items():
        page.set_content(svg)
        assert page.evaluate(OVERLAPS) == [], what
    page.close()
