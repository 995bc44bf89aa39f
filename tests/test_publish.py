"""The PDF: its text is the pattern's, it is PDF/UA-1 on both papers, hostile words stay text.

Tags and fonts are read by pypdf, words and pictures by pdfium; neither shares code with the writer.
"""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pypdf
import pypdfium2
import pytest
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings

from tests.strategies import default_design, design_of, recipes
from tests.strategies_own import own_toys
from webapp.errors import RoundlingError
from webapp.pattern import LineKind, pattern_sheet, pattern_text, round_words
from webapp.pictures import View
from webapp.publish import Drawings, SheetOptions, drawings_of, pattern_pdf, read_options
from webapp.publish.data import sheet_data
from webapp.publish.figures import figure
from webapp.recipes import recipe_from_data
from webapp.rounds import WorkedPart
from webapp.way import Toy, make_toy
from webapp.web import create_app
from webapp.yarns import Terms, term_set

Pixels = np.ndarray[tuple[int, int, int], np.dtype[np.uint8]]
TOYS = ("otter", "owl", "rabbit", "whale")
SIZES = {"a4": (595.3, 841.9), "letter": (612.0, 792.0)}
"""Points: ISO 216 and ANSI Y14.1."""

LANGUAGES = {"us": "en", "uk": "en"}
"""Languages as BCP 47 calls them, where it calls them otherwise."""


@cache
def toy_of(name: str, terms: str = "us") -> Toy:
    return make_toy(recipes()[name], design_of(recipes()[name], terms=terms))


def opened(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def squeezed(text: str) -> str:
    """Without white space, which lines on paper break otherwise."""
    return re.sub(r"\s|\xad", "", text)


def pages_in(pdf: bytes) -> list[str]:
    """The words of each page."""
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]


def text_in(pdf: bytes) -> str:
    return squeezed("".join(pages_in(pdf)))


@cache
def sheet_of(name: str, terms: str = "us", paper: str = "a4", ink: str = "full") -> bytes:
    """A sheet with all its drawings."""
    toy, options = toy_of(name, terms), SheetOptions(paper=paper, ink=ink)
    return pattern_pdf(toy, options, drawings_of(toy, options))


def alternatives(pdf: bytes) -> list[str]:
    """The alternatives of all figures."""
    reader = opened(pdf)
    found = (reader.get_object(number) for number in range(1, int(reader.trailer["/Size"])))
    return [str(node["/Alt"]) for node in found if isinstance(node, dict) and "/Alt" in node]


def pages_drawn(pdf: bytes) -> list[Pixels]:
    """Every page as pixels, a millimetre each, shape (down, right, 3), by a renderer."""
    drawn = (page.render(scale=25.4 / 72.0) for page in pypdfium2.PdfDocument(pdf))
    return [bitmap.to_numpy()[..., :3] for bitmap in drawn]


@pytest.mark.parametrize(
    ("name", "ink", "paper"),
    [("otter", "full", "a4"), ("owl", "low", "letter"), ("rabbit", "full", "letter"),
     ("whale", "low", "a4")],
)  # fmt: skip
def test_every_sheet_is_tagged_and_carries_its_fonts(name: str, ink: str, paper: str) -> None:
    """ISO 14289-1: identified, tagged, with title and language; every font within the file, those
    of charts and pictures too."""
    pdf = sheet_of(name, "us", paper, ink)
    toy, options = toy_of(name), SheetOptions(paper=paper, ink=ink)
    assert pdf == pattern_pdf(toy, options, drawings_of(toy, options))
    reader, texts = opened(pdf), pages_in(pdf)
    root = reader.root_object
    assert b"pdfuaid" in root["/Metadata"].get_object().get_data()
    assert root["/MarkInfo"]["/Marked"]
    assert str(root["/Lang"]) == "en-US"
    assert reader.metadata is not None
    assert reader.metadata.title == recipes()[name].name
    for number, page in enumerate(reader.pages, 1):
        assert [float(v) for v in page.mediabox[2:]] == pytest.approx(SIZES[paper], abs=0.5)
        assert f"{number} / {len(reader.pages)}" in texts[number - 1]
        for font in page["/Resources"]["/Font"].values():
            (under,) = font.get_object()["/DescendantFonts"]
            descriptor = under.get_object()["/FontDescriptor"]
            assert any(f"/FontFile{k}" in descriptor for k in ("", "2", "3"))


IN_LANGUAGES = [
    (name, terms) for n, terms in enumerate(Terms) for name in ("whale", TOYS[n % 3])
]
"""The whale in each language, and the other toys by turns."""


@pytest.mark.parametrize(("name", "terms"), IN_LANGUAGES)
def test_every_round_stands_in_order_as_in_the_text(name: str, terms: Terms) -> None:
    """In every language; each with both papers, and with its drawings once. That typst makes a
    file says that it is PDF/UA-1: it refuses what is not."""
    toy = toy_of(name, terms.value)
    options = SheetOptions(paper="a4" if name == "whale" else "letter")
    plain = pattern_pdf(toy, options)
    pdf = text_in(sheet_of(name, terms.value)) if name == "whale" else text_in(plain)
    text = squeezed(pattern_text(toy.worked, toy.materials, toy.cautions))
    sheet = pattern_sheet(toy.worked, toy.materials, toy.cautions)
    language = str(opened(plain).root_object["/Lang"]).split("-")[0]
    assert language == LANGUAGES.get(terms.value, terms.value)
    at, read, words = 0, 0, term_set(terms)
    for part in sheet.parts:
        lines = [line for line in part.lines if line.kind is LineKind.ROUND]
        assert sum(line.last - line.first + 1 for line in lines) == rounds_of(toy, part.name)
        for line in lines:
            label = round_words(line.first, line.last, words, part.in_rows)
            for said in (label, line.text, str(line.count)):
                at = pdf.find(squeezed(said), at)
                assert at >= 0, (label, line.text)
                at += len(squeezed(said))
                read = text.find(squeezed(said), read)
                assert read >= 0, (label, line.text)


def rounds_of(toy: Toy, name: str) -> int:
    part = toy.worked.parts[name]
    return len(part.rounds) if isinstance(part, WorkedPart) else part.rows


@pytest.mark.parametrize("terms", Terms)
def test_the_words_of_the_sheet_are_in_its_language(terms: Terms) -> None:
    toy = toy_of("whale", terms.value)
    pdf = text_in(pattern_pdf(toy, SheetOptions(by="Ann")))
    english = ["The parts", "Meaning", "Stitches", "Done", "A pattern by"]
    words = term_set(terms)
    for sentence in english[:-1]:
        assert squeezed(words.say(sentence)) in pdf
        assert (squeezed(sentence) in pdf) == terms.english, sentence
    assert squeezed(words.say("A pattern by {name}", name="Ann")) in pdf


@pytest.mark.parametrize("terms", Terms)
def test_counts_have_a_column_and_no_brackets(terms: Terms) -> None:
    """The text says that counts stand in brackets, the sheet heads their column and does not."""
    toy, words = toy_of("whale", terms.value), term_set(terms)
    pdf = text_in(pattern_pdf(toy, SheetOptions()))
    text = squeezed(pattern_text(toy.worked, toy.materials, toy.cautions))
    spiral, brackets = (
        squeezed(words.say(sentence))
        for sentence in (
            "Work in a spiral without joining; move a marker up to the first {st} of each "
            "{rnd_small}.",
            "The number in square brackets at the end of a line is how many {sts} that {rnd_small} "
            "has.",
        )
    )
    assert spiral + brackets in text
    assert spiral in pdf
    assert brackets not in pdf
    assert squeezed(words.say("Stitches")) in pdf


def test_the_sheet_is_in_the_order_in_which_it_is_used() -> None:
    """Name, what it is, skill level, size, materials, gauge, abbreviations with whose terms they
    are, notes: common practice, no source."""
    options = SheetOptions(licence="Not for sale", intro="Once upon a time")
    text = text_in(pattern_pdf(toy_of("otter"), options))
    order = ["BramwelltheOtter", "Around-faced", "Skilllevel", "Finishedsize", "Onceupon",
             "Materials", "Gauge", "Abbreviations", "Terms:", "Meaning", "Beforeyoustart", "Safety",
             "Theparts", "Body(make1)", "Tail(make1)", "Sewingtogether", "1.Head",
             "Countpins"]  # fmt: skip
    places = [text.find(words) for words in order]
    assert places == sorted(places)
    assert places[0] >= 0
    assert text.rfind("Notforsale") > places[-1]


@pytest.mark.parametrize(("name", "paper"), [("rabbit", "letter"), ("otter", "a4")])
def test_no_heading_is_parted_from_its_table(name: str, paper: str) -> None:
    toy = toy_of(name)
    pages = pages_in(pattern_pdf(toy, SheetOptions(paper=paper)))
    for part in toy.worked.recipe.parts:
        heading = f"{part.label} (make {part.copies})"
        (page,) = [page for page in pages if heading in page]
        assert re.search(r"(Rnd|Row) 1 ", page[page.index(heading) :]), part.label


@pytest.mark.parametrize("ink", ["full", "low"])
@pytest.mark.parametrize("name", ["rabbit", "whale"])
def test_nothing_lies_in_the_margin(name: str, ink: str) -> None:
    """Most printers leave 5 mm white (common practice, no source); nothing is nearer to the edge.
    Little ink is no colour at all, less than is printed otherwise, and lines alone: on the
    upper half of the cover they cover no square of 10 mm."""
    used = {kind: pages_drawn(sheet_of(name, ink=kind)) for kind in ("full", ink)}
    for page in used[ink]:
        assert min(rim.min() for rim in (page[:5], page[-5:], page[:, :5], page[:, -5:])) == 255
        if ink == "low":
            assert int(np.ptp(page.astype(int), axis=-1).max()) <= 2
    squares = np.lib.stride_tricks.sliding_window_view(used[ink][0][25:150], (10, 10, 3))
    tinted = bool((squares.max(axis=(-3, -2, -1)) < 250).any())
    assert tinted == (ink == "full")
    if ink == "low":
        low, full = (sum(int((255 - page.astype(int)).sum()) for page in used[kind])
                     for kind in ("low", "full"))  # fmt: skip
        assert low < full


def test_every_drawing_says_what_it_shows() -> None:
    """Each with its words as the alternative of a figure: ISO 14289-1, 7.3."""
    recipe = recipes()["otter"]
    said = alternatives(sheet_of("otter"))
    assert len(said) == 1 + 2 * len(recipe.parts) + len(View)
    for part in recipe.parts:
        assert f"{part.label}, by itself" in said
        assert f"{part.label}: chart of the rounds in the table before it" in said
    seam = next(seam for seam in toy_of("otter").worked.seams if seam.part == "tail")
    (back,) = [words for words in said if words.startswith(f"{recipe.name}, from the back")]
    rounds = rf"Rnds {seam.first_round}[–-]{seam.last_round}\b"
    assert re.search(rf"Tail, Body\W+{rounds}", back)


def test_charts_may_be_left_out() -> None:
    toy, options = toy_of("otter"), SheetOptions(charts="no")
    drawings = drawings_of(toy, options)
    assert not drawings.charts
    assert not any("chart" in words for words in alternatives(pattern_pdf(toy, options, drawings)))


def test_drawings_made_elsewhere_stand_in_the_sheet() -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h9v9z"/></svg>'
    drawings = Drawings({"body": [figure(svg)]}, [("From above, with seams", figure(svg))])
    said = alternatives(pattern_pdf(toy_of("whale"), SheetOptions(), drawings))
    assert sorted(said) == [
        "Body: chart of the rounds in the table before it", "From above, with seams"
    ]  # fmt: skip


@given(own_toys(most_parts=4))
@settings(max_examples=5, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_any_toy_of_ones_own_is_printed(data: dict[str, Any]) -> None:
    """Under a name that looks like markup, its parts after each other with each part's charts."""
    data = {**data, "name": "#panic() <b>& \\ toy"}
    recipe = recipe_from_data(data, "own")
    try:
        toy = make_toy(recipe, default_design(recipe))
    except RoundlingError:
        return
    options = SheetOptions(ink="low")
    pdf = pattern_pdf(toy, options, drawings_of(toy, options))
    text, said = text_in(pdf), alternatives(pdf)
    assert squeezed(data["name"]) in text
    for part in recipe.parts:
        assert squeezed(f"{part.label} (make {part.copies})") in text
        assert any(words.startswith(f"{part.label}: chart of") for words in said)


@pytest.mark.parametrize(("name", "terms", "paper"), [
    (name, terms, paper) for name in TOYS for terms in ("us", "de") for paper in SIZES
])  # fmt: skip
def test_how_a_part_ends_is_never_alone_on_a_page(name: str, terms: str, paper: str) -> None:
    """What is said behind the last round stands on the page of that round: a rule of print that no
    line of a table is left alone, no source."""
    toy = toy_of(name, terms)
    words = term_set(toy.worked.design.terms)
    pages = [squeezed(page) for page in pages_in(sheet_of(name, terms, paper))]
    for part in pattern_sheet(toy.worked, toy.materials, toy.cautions).parts:
        last = max(n for n, line in enumerate(part.lines) if line.kind is LineKind.ROUND)
        line = part.lines[last]
        label = round_words(line.first, line.last, words, part.in_rows)
        after = "".join(one.text for one in part.lines[last + 1 :])
        end = squeezed(f"{label}{line.text}{line.count}{after}")
        assert any(end in page for page in pages), end


@pytest.mark.parametrize(("name", "lies"), [("whale", True), ("otter", False)])
def test_a_toy_that_lies_is_shown_from_its_side_on_a_cover_of_lines(name: str, lies: bool) -> None:
    """The cover is as wide for its height as the toy is, by its finished size, from that side."""
    toy = toy_of(name)
    cover = drawings_of(toy, SheetOptions(ink="low")).cover
    found = re.search(r'viewBox="\S+ \S+ (\S+) (\S+)"', cover)
    assert found
    size = toy.worked.size
    wide = size.depth_mm if lies else size.width_mm
    wanted = wide / size.overall_height_mm
    assert float(found[1]) / float(found[2]) == pytest.approx(wanted, rel=0.15)


@pytest.mark.parametrize("words", ["#panic()", "*bold* _x_ $x$", "<label> @ref \\ // `x`", "אבג"])
def test_markup_stays_text(words: str) -> None:
    pdf = pattern_pdf(toy_of("whale"), SheetOptions(by=words, licence=words, intro=words))
    said = text_in(pdf)
    assert squeezed(words) in said or squeezed(words[::-1]) in said


def test_words_too_long_for_a_line_are_broken() -> None:
    """Names and an address without a space: within the margins, 16 mm of the paper, on every page;
    whoever reads the file's data finds them whole."""
    recipe = replace(recipes()["owl"], name="Q" * 60)
    toy = make_toy(recipe, default_design(recipe))
    address = "https://example.org/" + "averylongaddress/" * 20
    by = "W" * 80
    options = SheetOptions(by=by, licence=address[:240], intro=f"See {address}")
    pdf = pattern_pdf(toy, options)
    for page in pages_drawn(pdf):
        assert (page[:, -14:] == 255).all()
    metadata = opened(pdf).metadata
    assert metadata is not None
    assert (metadata.title, metadata.author) == ("Q" * 60, by)
    assert squeezed(address) in text_in(pdf).replace("\u200b", "")


def test_japanese_is_printed() -> None:
    """Kana and the characters of everyday use; the font is within the file."""
    words = "編みぐるみのカワウソ、三段目を編む。"
    pdf = pattern_pdf(toy_of("whale"), SheetOptions(by=words))
    assert words in text_in(pdf)
    assert b"NotoSerifJP" in b"".join(
        str(font.get_object()["/BaseFont"]).encode()
        for page in opened(pdf).pages
        for font in page["/Resources"]["/Font"].values()
    )


@pytest.mark.parametrize("field", ["by", "licence", "intro"])
def test_what_the_fonts_have_not_is_refused(field: str) -> None:
    """Beside its box; what cannot be seen is said by its number (U+FFFE is no character at all:
    the Unicode Standard, 23.7)."""
    for letter, shown in (("\U0001f9f6", "\U0001f9f6"), ("\ufffe", "U+FFFE")):
        with pytest.raises(RoundlingError, match="no such character") as caught:
            pattern_pdf(toy_of("whale"), SheetOptions(**{field: f"By {letter}"}))
        assert caught.value.field == field
        assert f"“{shown}”" in caught.value.asked


@pytest.mark.parametrize(
    "values",
    [{"by": ["x" * 10_000]}, {"intro": ["x" * 10_000]}, {"paper": ["a5"]}, {"ink": ["Low"]},
     {"by": ["a", "b"]}, {"licence": ["a\x00b"]}, {"charts": ["maybe"]}],
)  # fmt: skip
def test_options_are_bounded(values: dict[str, list[str]]) -> None:
    with pytest.raises(RoundlingError):
        read_options(values)


@pytest.mark.parametrize("terms", ["us", "de", "ja"])
def test_a_table_that_goes_on_says_whose_it_is(terms: str) -> None:
    """A page whose first round is not the first of its part names the part in the table's head."""
    words = term_set(Terms(terms))
    going_on = 0
    for page in opened(sheet_of("otter", terms)).pages:
        text = page.extract_text()
        heads = [part for part in ("Body", "Head") if f" · {words.name(part)}" in text]
        titles = {
            part: words.say("{part} (make {number})", part=words.name(part), number=1)
            for part in ("Body", "Head")
        }
        begun = [part for part, title in titles.items() if f"\n{title}" in f"\n{text}"]
        assert set(begun) <= set(heads)
        going_on += len(set(heads) - set(begun))
    assert going_on >= 1


def client() -> FlaskClient:
    app = create_app()
    app.config["PROPAGATE_EXCEPTIONS"] = True
    return app.test_client()


def test_the_address_answers_and_refuses() -> None:
    web = client()
    good = web.get("/toys/whale/pattern.pdf?height_cm=15&paper=letter&by=Ann")
    assert good.status_code == 200
    assert good.data.startswith(b"%PDF-")
    assert "Ann" in text_in(good.data)
    for query in ("paper=a5", "by=" + "x" * 81, "height_cm=x", "by=%F0%9F%A7%B6"):
        bad = web.get(f"/toys/whale/pattern.pdf?{query}")
        assert bad.status_code == 400
        assert bad.mimetype == "text/plain"
    page = web.get("/toys/whale").get_data(as_text=True)
    assert 'href="/toys/whale/pattern.pdf"' in page
    assert "Does not hold" not in page


def test_a_sheet_that_was_asked_about_is_at_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    """HEAD is answered as GET is, but for the body (RFC 9110, 9.3.2), and the sheet is set once."""
    set_so_far: list[SheetOptions] = []

    def counted(made: Toy, options: SheetOptions, drawings: Drawings) -> bytes:
        set_so_far.append(options)
        return pattern_pdf(made, options, drawings)

    monkeypatch.setattr("webapp.web.publishing.pattern_pdf", counted)
    web = client()
    address = "/toys/whale/pattern.pdf?height_cm=16&by=Ann"
    asked = web.head(address)
    given = web.get(address)
    assert (asked.status_code, asked.data) == (200, b"")
    assert asked.headers["Content-Length"] == str(len(given.data))
    assert [options.by for options in set_so_far] == ["Ann"]
    web.get(address.replace("Ann", "Bo"))
    assert [options.by for options in set_so_far] == ["Ann", "Bo"]
    assert web.head(address + "&paper=a5").status_code == 400


@pytest.mark.parametrize("terms", ["us", "de", "ja"])
@pytest.mark.parametrize("paper", SIZES)
def test_rounds_said_to_be_short_stand_on_one_line(terms: str, paper: str) -> None:
    """Rows of the tables have a fixed height where their words surely fit a line: wherever such
    words stand, they go no further down than one line of 10.5 points is high."""
    toy = toy_of("rabbit", terms)
    data = sheet_data(toy, SheetOptions(paper=paper))
    short = {line["text"] for part in data["parts"] for line in part["lines"] if line["short"]}
    assert len(short) > 20
    seen = set()
    for page in pypdfium2.PdfDocument(sheet_of("rabbit", terms, paper)):
        text = page.get_textpage()
        for words in short:
            search = text.search(words)
            while (found := search.get_next()) is not None:
                boxes = [text.get_rect(n) for n in range(text.count_rects(*found))]
                high = max(box[3] for box in boxes) - min(box[1] for box in boxes)
                assert high < 16.0, words
                seen.add(words)
    assert len(seen) > 0.9 * len(short)
