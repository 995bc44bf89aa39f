"""Text in another language than the page's own says so, and no other text does; the page of
stitching along is in the language of the pattern as a whole.

What ``lang`` is for: WCAG 2.2, 3.1.2 Language of Parts; its values: BCP 47.
"""

from __future__ import annotations

import json
import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from webapp.web import create_app
from webapp.yarns import Terms

VOID = {"meta", "link", "img", "input", "br", "line", "circle", "polyline", "path", "rect"}
GERMAN = Path(__file__).parent / "corpus" / "others" / "de_igel.txt"

ENGLISH_WORDS = {"the", "and", "with", "make", "stitches", "stitch", "around", "round", "from",
                 "each", "begins", "start", "back", "next", "finished", "done"}  # fmt: skip
COUNTER_WORDS = {"stitch", "stitches", "round", "rounds", "next", "back", "piece", "repeat",
                 "whole", "of", "step", "steps", "finished", "done", "make", "each", "this",
                 "device", "screen", "network", "keys", "child", "toy", "sewing", "together",
                 "the", "way", "read", "pattern", "about", "before", "with", "elsewhere", "skip",
                 "go", "left", "keep", "kept", "place", "x"}  # fmt: skip
"""English words of the page of stitching along, and the sign that Japanese has none of."""

OWN_TOO = {"x": set(Terms) - {Terms.JAPANESE}, "of": {Terms.DUTCH}, "place": {Terms.FRENCH}}
"""What of them other languages have as well: times, `or`, `place`."""

GERMAN_WORDS = {"und", "der", "die", "den", "in die", "runde", "masche", "maschen", "feste",
                "dann", "nähen", "annähen", "stopfen", "faden", "mit", "rd", "fm", "zun", "abn",
                "auge", "augen", "ein", "von", "zu"}  # fmt: skip


class Texts(HTMLParser):
    """The pieces of text of a page, each with the language it is in."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[tuple[str, str]] = []
        self.found: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        own = dict(attrs).get("lang")
        inherited = self.open[-1][1] if self.open else ""
        if tag not in VOID:
            self.open.append((tag, own or inherited))

    def handle_endtag(self, tag: str) -> None:
        if tag in VOID:
            return
        while self.open and self.open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        inside = {tag for tag, _ in self.open}
        if data.strip() and not inside & {"script", "style", "title"}:
            self.found.append((self.open[-1][1], " ".join(data.split())))


def texts(page: str) -> list[tuple[str, str]]:
    parser = Texts()
    parser.feed(page)
    return parser.found


def words(text: str) -> set[str]:
    return {*re.findall(r"[a-zäöüß]+", text.lower())}


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    return create_app().test_client()


@pytest.mark.parametrize("page", ["", "/film", "/along", "/checks"])
def test_words_of_a_german_pattern_are_marked(client: FlaskClient, page: str) -> None:
    found = texts(client.get(f"/toys/otter{page}?terms=de").text)
    marked = [text for language, text in found if language == "de"]
    plain = [text for language, text in found if language == "en"]
    assert len(marked) + len(plain) == len(found)
    for text in marked:
        assert not words(text) & ENGLISH_WORDS, text
    for text in plain:
        # The choice of terms shows each language's word for the stitch: `German (fM)`.
        assert re.fullmatch(r"\w+ \(\w+\)", text) or not words(text) & GERMAN_WORDS, text
    if page != "/checks":
        rounds = re.findall(r"(?m)^(Rd .+?): (.+) \[\d+\]", client.get(
            "/toys/otter/pattern.txt?terms=de").text)  # fmt: skip
        assert len(rounds) > 50
        said = set(marked)
        assert sum(label in said for label, _ in rounds) > 40
        assert sum(text in said for _, text in rounds) > 40


@pytest.mark.parametrize("page", ["", "/film", "/along", "/checks"])
@pytest.mark.parametrize("terms", ["us", "uk"])
def test_english_patterns_need_no_mark(client: FlaskClient, page: str, terms: str) -> None:
    text = client.get(f"/toys/otter{page}?terms={terms}").text
    assert re.findall(r"lang=\"\w*\"", text) == ['lang="en"'] + ['lang=""'] * ("data-lang" in text)


@pytest.mark.parametrize("terms", [terms for terms in Terms if not terms.english])
def test_stitching_along_is_in_one_language(client: FlaskClient, terms: Terms) -> None:
    """What is shown, what is read aloud instead, and what the script says later."""
    page = client.get(f"/toys/otter/along?terms={terms.value}").text
    assert set(re.findall(r' lang="(.*?)"', page)) == {terms.tag}
    found = re.search(r'data-words="(.*?)"', page)
    assert found
    sentences = json.loads(unescape(found[1]))
    assert sentences.pop("endings") == {}
    aloud = re.findall(r'(?:aria-label|data-label|content)="(.*?)"', page.split("</head>")[1])
    title = re.findall(r"<title>(.*?)</title>", page)
    said = [*(text for _, text in texts(page)), *map(unescape, aloud), *title]
    said += [re.sub(r"\{\w+\}", "", sentence) for sentence in sentences.values()]
    assert len(said) > 400
    theirs = {word for word in COUNTER_WORDS if terms in OWN_TOO.get(word, ())}
    for text in said:
        assert not words(text) & (COUNTER_WORDS - theirs), text


def test_a_text_that_is_read_is_marked_and_what_is_said_of_it_is_not(client: FlaskClient) -> None:
    source = GERMAN.read_text(encoding="utf-8")
    for address, more in (("/read", {}), ("/read/rework", {"size": "120"})):
        page = client.post(address, data={"text": source, **more}).text
        found = texts(page)
        marked = {text for language, text in found if language == "de"}
        lines = [" ".join(line.split()) for line in source.splitlines() if line.strip()]
        assert sum(line in marked for line in lines) > 0.6 * len(lines)
        for language, text in found:
            if language == "en":
                assert not words(text) & (GERMAN_WORDS - {"in die"}), text
            elif len(text) < 400:
                assert not words(text) & ENGLISH_WORDS, text
