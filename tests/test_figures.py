"""Drawings in the sheet look as they do on the screen, though they are written another way: the
symbols of charts as filled outlines, words apart from the lines.

Pages are drawn, and words found on them, by pdfium; the drawings are read by ElementTree.
"""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pytest

from tests.strategies import TEST_TOYS, design_of, recipes
from webapp.charts import chart_svg, inked
from webapp.pictures import View, assembly_svg
from webapp.publish import Drawings, SheetOptions, pattern_pdf
from webapp.publish.figures import Figure, chart_figures, figure
from webapp.recipes import load_recipes
from webapp.way import Toy, make_toy
from webapp.yarns import term_set

SVG = "{http://www.w3.org/2000/svg}"
POINT_MM = 25.4 / 72.0
ALL = {**recipes(), **load_recipes(TEST_TOYS)}


def toy_of(name: str, terms: str = "us") -> Toy:
    return make_toy(ALL[name], design_of(ALL[name], terms=terms))


def charts_of(toy: Toy) -> dict[str, str]:
    words = term_set(toy.worked.design.terms)
    return {
        part.name: chart_svg(toy.worked, part, words, table=False)
        for part in toy.worked.recipe.parts
    }


def pages(toy: Toy, charts: dict[str, tuple[Figure, ...]]) -> list[np.ndarray]:
    """Pages in grey, 4 spots a millimetre, 0 for white and 1 for black."""
    pdf = pypdfium2.PdfDocument(pattern_pdf(toy, SheetOptions(), Drawings(charts)))
    drawn = [page.render(scale=4.0 * POINT_MM) for page in pdf]
    return [1.0 - bitmap.to_numpy()[..., :3].mean(axis=-1) / 255.0 for bitmap in drawn]


@pytest.mark.parametrize("name", ["otter", "wader"])
def test_symbols_in_ink_look_as_those_in_lines(name: str) -> None:
    """To a twentieth as much ink of the symbols on each page, no more than a tenth of it elsewhere:
    they are turned by whole steps."""
    toy = toy_of(name)
    charts = charts_of(toy)
    lines, ink, none = (
        pages(toy, {part: chart_figures(change(svg)) for part, svg in charts.items()})
        for change in (str, inked, lambda svg: re.sub(r"<use[^>]*>", "", svg))
    )
    assert len(lines) == len(ink) == len(none)
    charted = [n for n in range(len(lines)) if np.abs(none[n] - lines[n]).sum() > 0.0]
    assert charted
    for n in charted:
        symbols = np.abs(none[n] - lines[n]).sum()
        assert abs(ink[n].sum() - lines[n].sum()) < 0.05 * symbols
        assert np.abs(ink[n] - lines[n]).sum() < 0.1 * symbols


def placed_words(svg: str) -> list[tuple[str, float, float]]:
    """Words of a drawing with where they are anchored, mm from its corner at (-1, -1)."""
    found: list[tuple[str, float, float]] = []

    def walk(element: ElementTree.Element, x: float, y: float) -> None:
        moved = re.fullmatch(r"translate\((\S+) (\S+)\)", element.get("transform", ""))
        if moved and element.tag == f"{SVG}g":
            x, y = x + float(moved[1]), y + float(moved[2])
        if element.tag == f"{SVG}text" and element.get("x") is not None:
            at = x + float(element.get("x", "")) + 1.0, y + float(element.get("y", "")) + 1.0
            found.append((element.text or "", *at))
        for child in element:
            walk(child, x, y)

    walk(ElementTree.fromstring(svg), 0.0, 0.0)
    return found


@pytest.mark.parametrize("terms", ["us", "de", "ja"])
def test_words_are_taken_out_of_drawings_with_their_places(terms: str) -> None:
    toy = toy_of("otter", terms)
    words = term_set(toy.worked.design.terms)
    pictures = [assembly_svg(toy.worked, toy.materials.eyes, view, words) for view in View]
    for svg in (*pictures, *map(inked, charts_of(toy).values())):
        found = figure(svg)
        taken = [(word.words, word.x, word.y) for word in found.words]
        wanted = placed_words(svg)
        assert wanted
        assert [words for words, *_ in taken] == [words for words, *_ in wanted]
        assert np.array([at for _, *at in taken]) == pytest.approx(
            np.array([at for _, *at in wanted]), abs=1e-6
        )
        left = ElementTree.fromstring(found.svg)
        # What stays stands along an arc.
        assert all(text.find(f"{SVG}textPath") is not None for text in left.iter(f"{SVG}text"))
        assert placed_words(found.svg) == []


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_words_stand_where_the_drawing_has_them(anchor: str) -> None:
    """By its anchor, in a picture as wide as the paper within its margins of 16 mm; and moved in
    the drawing, words are moved as far on the page."""
    toy = toy_of("whale")
    body = '<path d="M0 0h9v9z"/>'
    first = Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 184 80" width="184mm" '
        f'height="80mm">{body}</svg>', 80.0
    )  # fmt: skip
    word = figure(
        first.svg.replace(body, f'<text x="90" y="40" font-size="3"'
                          f'{"" if anchor == "start" else f""" text-anchor="{anchor}" """[:-1]}'
                          ">Quillwort</text>")
    ).words[0]  # fmt: skip
    assert word.anchor == anchor
    unit = 178.0 / 184.0 / POINT_MM  # A4 within margins of 16 mm

    def box(x: float, y: float) -> tuple[float, float, float]:
        moved = replace(first, words=(word._replace(x=x, y=y),))
        pdf = pattern_pdf(toy, SheetOptions(), Drawings(assembly=[("A triangle", moved)]))
        for page in pypdfium2.PdfDocument(pdf):
            text = page.get_textpage()
            found = text.search("Quillwort").get_next()
            if found is not None:
                left, low, right, _ = text.get_rect(text.count_rects(*found) - 1)
                return left, low, right
        raise AssertionError("the words are nowhere")

    margin = 16.0 / POINT_MM
    left, low, right = box(91.0, 41.0)
    found = {"start": left, "middle": (left + right) / 2.0, "end": right}[anchor]
    assert found == pytest.approx(margin + 91.0 * unit, abs=1.0)
    further, lower, _ = box(101.0, 51.0)
    assert further - left == pytest.approx(10.0 * unit, abs=0.1)
    assert low - lower == pytest.approx(10.0 * unit, abs=0.1)


def test_words_of_a_long_chart_stand_on_their_own_page() -> None:
    """Of a chart on several pages each page has the words that lie on it, and none is lost."""
    words = "".join(f'<text x="5" y="{y}" font-size="3">at {y}</text>' for y in (10, 300, 570))
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 184 831" width="184mm" '
        f'height="831mm">{words}</svg>'
    )
    found = [[(word.words, word.y) for word in page.words] for page in chart_figures(svg)]
    assert found == [[("at 10", 11.0)], [("at 300", 24.0)], [("at 570", 17.0)]]
