"""The PDF: its text is the pattern's, it is PDF/UA-1 on both papers, hostile words stay text.

Read back by pypdf, which shares no code with the writer.
"""

from __future__ import annotations

import io
import re
from functools import cache

import pypdf
import pytest
from flask.testing import FlaskClient

from tests.reader import LINE, unwrapped
from tests.strategies import design_of, recipes
from webapp.errors import RoundlingError
from webapp.pattern import pattern_text
from webapp.publish import Drawings, SheetOptions, pattern_pdf, read_options
from webapp.way import Toy, make_toy
from webapp.web import create_app

TOYS = ("otter", "owl", "rabbit", "whale")
SIZES = {"a4": (595.3, 841.9), "letter": (612.0, 792.0)}
"""Points: ISO 216 and ANSI Y14.1."""


@cache
def toy_of(name: str) -> Toy:
    return make_toy(recipes()[name], design_of(recipes()[name]))


def opened(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def squeezed(text: str) -> str:
    """Without white space, which lines on paper break otherwise."""
    return re.sub(r"\s|\xad", "", text)


def text_in(pdf: bytes) -> str:
    return squeezed("".join(page.extract_text() for page in opened(pdf).pages))


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("ink", ["full", "low"])
@pytest.mark.parametrize("name", TOYS)
def test_every_sheet_is_tagged_and_carries_its_fonts(name: str, ink: str, paper: str) -> None:
    """ISO 14289-1: identified, tagged, with title and language; every font within the file."""
    pdf = pattern_pdf(toy_of(name), SheetOptions(paper=paper, ink=ink))
    assert pdf == pattern_pdf(toy_of(name), SheetOptions(paper=paper, ink=ink))
    reader = opened(pdf)
    root = reader.root_object
    assert b"pdfuaid" in root["/Metadata"].get_object().get_data()
    assert root["/MarkInfo"]["/Marked"]
    assert str(root["/Lang"]).startswith("en")
    assert reader.metadata is not None
    assert reader.metadata.title == recipes()[name].name
    for page in reader.pages:
        assert [float(v) for v in page.mediabox[2:]] == pytest.approx(SIZES[paper], abs=0.5)
        for font in page["/Resources"]["/Font"].values():
            (under,) = font.get_object()["/DescendantFonts"]
            descriptor = under.get_object()["/FontDescriptor"]
            assert any(f"/FontFile{k}" in descriptor for k in ("", "2", "3"))


@pytest.mark.parametrize("name", TOYS)
def test_every_round_stands_in_order_as_in_the_text(name: str) -> None:
    toy = toy_of(name)
    pdf = text_in(pattern_pdf(toy, SheetOptions()))
    text = pattern_text(toy.worked, toy.materials, toy.cautions)
    found = [LINE.match(line) for line in unwrapped(text)]
    lines = [line for line in found if line]
    assert len(lines) > 20
    at = 0
    for line in lines:
        label, first, last, work, count = line.groups()
        said = squeezed(f"{label}{first}{'-' + last if last else ''}{work}{count}")
        at = pdf.find(said, at)
        assert at >= 0, line[0]
        at += len(said)


def test_drawings_made_elsewhere_stand_in_the_sheet() -> None:
    """Each with its words as the alternative of a figure: ISO 14289-1, 7.3."""
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h9v9z"/></svg>'
    toy, plain = toy_of("whale"), SheetOptions()
    drawings = Drawings({"body": svg}, [("From above, with seams", svg)])
    reader = opened(pattern_pdf(toy, plain, drawings))
    found = (reader.get_object(number) for number in range(1, int(reader.trailer["/Size"])))
    tagged = [node for node in found if isinstance(node, dict) and "/Alt" in node]
    alternatives = [str(node["/Alt"]) for node in tagged]
    assert "From above, with seams" in alternatives
    assert any(words.startswith("Body: a chart") for words in alternatives)


@pytest.mark.parametrize("words", ["#panic()", "*bold* _x_ $x$", "<label> @ref \\ // `x`", "אבג"])
def test_markup_stays_text(words: str) -> None:
    pdf = pattern_pdf(toy_of("whale"), SheetOptions(by=words, licence=words, intro=words))
    said = text_in(pdf)
    assert squeezed(words) in said or squeezed(words[::-1]) in said


@pytest.mark.parametrize("words", ["\U0001f9f6", "日本"])
def test_what_the_fonts_have_not_is_refused(words: str) -> None:
    with pytest.raises(RoundlingError, match="no such character"):
        pattern_pdf(toy_of("whale"), SheetOptions(by=words))


@pytest.mark.parametrize(
    "values",
    [{"by": ["x" * 10_000]}, {"intro": ["x" * 10_000]}, {"paper": ["a5"]}, {"ink": ["Low"]},
     {"by": ["a", "b"]}, {"licence": ["a\x00b"]}],
)  # fmt: skip
def test_options_are_bounded(values: dict[str, list[str]]) -> None:
    with pytest.raises(RoundlingError):
        read_options(values)


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
