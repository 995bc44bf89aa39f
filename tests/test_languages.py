"""Patterns in other languages: every sentence is there, whole, and the rounds stay the same.

Forms for numbers: CLDR, by babel. Short words of stitches: glossaries and lessons, see
``test_sheet_languages.py``. The rounds of a text in another language are held against the toy they
were written from.
"""

from __future__ import annotations

import hashlib
import re
from functools import cache
from gettext import c2py
from string import Formatter

import pytest
from babel import Locale

from tests.messages import messages, names, said, translations
from tests.strategies import design_of, recipes
from tests.test_american import strings
from tests.test_film import script_of
from tests.test_pattern import TOYS, pattern, text_of
from webapp.pattern import sewing_lines, working_order
from webapp.publish import SheetOptions
from webapp.publish.data import sheet_data
from webapp.reading import Verdict, read_pattern
from webapp.reading.nodes import MOST_STITCHES
from webapp.rounds import WorkedPart
from webapp.terms import Language, term_table
from webapp.way import Toy, make_toy
from webapp.yarns import Terms, term_set

FOREIGN = [terms for terms in Terms if not terms.english]
WORDS = {*term_set(Terms.US).spoken}
"""Places that every sentence may have: a translation takes the forms that it needs."""

ENGLISH = {
    ("otter", "us"): "81b00fe4d6160629",
    ("otter", "uk"): "87bde262518e260e",
    ("owl", "us"): "b7f1149821825d9e",
    ("owl", "uk"): "30c8ec3457ac3ed7",
    ("rabbit", "us"): "858688f24cbc3589",
    ("rabbit", "uk"): "0cf9bed1bc156ceb",
    ("whale", "us"): "03e9c2dbfeea36cb",
    ("whale", "uk"): "a16e9a8ecfba77d5",
}
"""The first 16 digits of the SHA-256 of each default pattern: English changes knowingly."""

def places(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name}


@pytest.mark.parametrize(("toy", "terms"), ENGLISH)
def test_english_is_as_it_was(toy: str, terms: str) -> None:
    text = pattern(toy, terms=terms)
    assert hashlib.sha256(text.encode()).hexdigest()[:16] == ENGLISH[toy, terms]


def test_sentences_are_found() -> None:
    assert "{stitch} in each {st} around" in said()
    assert ("{number} ball", "{number} balls") in said()
    assert "Belly patch" in [*names()]


@pytest.mark.parametrize("terms", FOREIGN)
def test_every_sentence_is_translated(terms: Terms) -> None:
    catalogue = translations(terms.value)
    assert {message.id for message in catalogue if message.id} == {*messages()}
    for message in catalogue:
        ways = [message.string] if isinstance(message.string, str) else [*message.string]
        assert all(way.strip() for way in ways), message.id
        assert not message.fuzzy


@pytest.mark.parametrize("terms", FOREIGN)
def test_places_agree(terms: Terms) -> None:
    for message in translations(terms.value):
        if not message.id:
            continue
        ids = [message.id] if isinstance(message.id, str) else [*message.id]
        ways = [message.string] if isinstance(message.string, str) else [*message.string]
        asked = {place for one in ids for place in places(one)}
        for way in ways:
            lacks = asked - WORDS - places(way)
            # "the next stitch" may leave out the number that it is one of.
            assert lacks <= ({"number"} if way is ways[0] and len(ids) > 1 else set()), message.id
            assert places(way) <= asked | WORDS, message.id
        spaced = (ids[0][0] == " ", ids[0][-1] == " ")
        if term_set(terms).spaced:
            assert spaced[1] == (ways[0][-1] == " ") or ids[0] == " and the ", message.id


@pytest.mark.parametrize("terms", Terms)
def test_no_part_is_called_as_a_round_is(terms: Terms) -> None:
    """A heading that begins as a line of rounds does would be taken for one."""
    words = term_set(terms)
    rounds = {words.rnd.lower(), words.rnds.lower(), words.row.lower(), words.rows.lower()}
    for recipe in recipes().values():
        for part in recipe.parts:
            assert words.name(part.label).lower().split()[0] not in rounds


@pytest.mark.parametrize("terms", FOREIGN)
def test_there_is_a_form_for_each_number(terms: Terms) -> None:
    catalogue = translations(terms.value)
    form = c2py(catalogue.plural_expr)
    locale = Locale.parse("pt_BR" if terms is Terms.PORTUGUESE else terms.value)
    # A form of its own for whole millions, which CLDR has for some, no pattern needs.
    pairs = {(locale.plural_form(number), form(number)) for number in range(MOST_STITCHES)}
    assert len(pairs) == len({kind for kind, _ in pairs}) == catalogue.num_plurals
    for message in catalogue:
        if message.pluralizable:
            assert len(message.string) == catalogue.num_plurals


@pytest.mark.parametrize("terms", FOREIGN)
def test_terms_are_those_that_are_read(terms: Terms) -> None:
    table = term_table(Language(terms.value))
    for concept in ("sc", "inc", "dec", "slst", "ch", "st", "ring"):
        assert table.ours[concept].short.lower() in table.forms[concept], concept
    assert table.ours["rnd"].short.lower() in table.forms["round"]
    # One word for rounds and rows, in Japanese: lesson pages.
    both = (*table.forms["row"], *table.forms["round"])
    assert table.ours["row"].short.lower() in both


@cache
def made(name: str, terms: Terms, unit: str = "cm") -> tuple[Toy, str]:
    """A toy and its pattern; each is made once for all the tests here."""
    recipe = recipes()[name]
    toy = make_toy(recipe, design_of(recipe, terms=terms.value, units=unit))
    return toy, text_of(toy)


@pytest.mark.parametrize(
    ("name", "terms", "unit"),
    [
        *((name, terms, "cm") for terms in FOREIGN for name in TOYS),
        # Inches are in what is said between rounds: one toy a language, each in turn.
        *((TOYS[k % len(TOYS)], terms, "in") for k, terms in enumerate(FOREIGN)),
    ],
)
def test_the_rounds_read_back(name: str, terms: Terms, unit: str) -> None:
    toy, text = made(name, terms, unit)
    read = read_pattern(text)
    words, asked = term_set(terms), working_order(recipes()[name])
    assert read.language is Language(terms.value)
    assert [p.title for p in read.parts] == [words.name(p.label).upper() for p in asked]
    assert [p.copies for p in read.parts] == [p.copies for p in asked]
    for got, one in zip(read.parts, asked, strict=True):
        part = toy.worked.parts[one.name]
        assert all(r.verdict is Verdict.AGREES and not r.choices for r in got.rounds), got.title
        if not isinstance(part, WorkedPart):
            assert [r.count for r in got.rounds] == [part.per_row] * part.rows
            continue
        assert [r.count for r in got.rounds] == [*part.counts]
        assert got.closed == part.closed
        for r, worked in zip(got.rounds[1:], part.rounds[1:], strict=True):
            assert r.work == worked.work


@pytest.mark.parametrize("terms", FOREIGN)
@pytest.mark.parametrize("name", TOYS)
def test_no_english_is_left(name: str, terms: Terms) -> None:
    _, text = made(name, terms)
    english = {"the", "and", "with", "from", "stitch", "around", "each", "yarn", "sew", "eyes"}
    # Meant are a yarn category by the standard's name, what yarns are sold as, and US of hooks.
    assert not english & {*re.findall(r"[a-z]+", text.lower())}
    for message in said():
        if isinstance(message, str) and len(message) > 30 and "{" not in message:
            assert message not in " ".join(text.split()), message


@pytest.mark.parametrize("terms", FOREIGN)
def test_the_sheet_says_which_terms_were_checked(terms: Terms) -> None:
    text = (" " if term_set(terms).spaced else "").join(made("owl", terms)[1].split())
    words = term_set(terms)
    assert words.manner.comma.join(words.unchecked) in text


def test_german_has_its_own_signs() -> None:
    # A decimal comma, and nouns that begin with a capital letter: common practice, no source.
    text = pattern("otter", terms="de")
    assert "19,7 cm" in text
    assert "Kopf, zwischen Rd" in text
    assert "fM = feste Masche" in text


@pytest.mark.parametrize("name", TOYS)
def test_french_has_a_space_before_its_marks(name: str) -> None:
    """One that no line is broken at, before a colon too: rules of print, no source. The label of a
    printed line keeps it."""
    toy, text = made(name, Terms.FRENCH)
    sheet = sheet_data(toy, SheetOptions())
    for words in (text, script_of(toy), *strings(sheet)):
        assert not re.search(r"(?<!\xa0)[:;!?]", words), words
    assert sheet["level"][0] == "Niveau\xa0:"
    assert all(m["label"].endswith("\xa0:") for m in sheet["materials"] if m["swatch"])


@pytest.mark.parametrize("terms", FOREIGN)
@pytest.mark.parametrize("name", ["otter", "rabbit"])
def test_sentences_are_punctuated(name: str, terms: Terms) -> None:
    """No comma runs into a colon, nothing begins small: rules of print, no source."""
    toy, _ = made(name, terms)
    lines = [*sewing_lines(toy.worked, toy.materials, term_set(terms))]
    assert len(lines) == 8
    for text in [*lines, *(caution.text for caution in toy.cautions)]:
        assert not re.search(r",\s*[:;,]|[:;]\s*,", text), text
        assert not text[0].islower(), text
