"""Charts and pictures of any toy of one's own, and in any language."""

from __future__ import annotations

import re
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.strategies import default_design, design_of, recipes
from tests.strategies_own import own_toys
from tests.test_charts import SVG, check, drawn_rounds
from webapp.assembly import WorkedToy
from webapp.charts import chart_svg
from webapp.errors import RoundlingError
from webapp.paper import folded, text_width, wrapped
from webapp.pictures import View, assembly_svg
from webapp.pictures.depth import look
from webapp.pictures.margins import Label, in_margins
from webapp.pictures.views import Net
from webapp.recipes import recipe_from_data
from webapp.rounds import WorkedPart
from webapp.way import Toy, make_toy
from webapp.yarns import Terms, term_set

WORDS = term_set(Terms.US)
MOST_BYTES = 2_000_000


@given(own_toys())
@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_own_toy_has_charts_that_count_right_and_pictures(data: dict[str, Any]) -> None:
    """The symbols, counted, against the worked counts; each drawing is XML of under 2 MB with a
    description, and in each picture every label stands on the page."""
    recipe = recipe_from_data(data, "own")
    try:
        toy = make_toy(recipe, default_design(recipe))
    except RoundlingError:
        assume(False)
    check(toy.worked)
    for view in View:
        drawn = assembly_svg(toy.worked, toy.materials.eyes, view, WORDS)
        svg = ElementTree.fromstring(drawn)
        assert len(drawn) < MOST_BYTES
        assert (next(svg.iter(f"{SVG}desc")).text or "").strip(". ")
        _, _, _, tall = map(float, svg.get("viewBox", "").split())
        assert all(0.0 < float(line.get("y", "0")) < tall for line in svg.iter(f"{SVG}text"))


def test_the_tallest_toy_in_thread_has_charts_of_modest_size() -> None:
    """About 500,000 stitches (height 1 m, yarn category 0): counted, and under 2 MB a part."""
    toy = make_toy(recipes()["owl"], design_of(recipes()["owl"], height_cm=100, yarn=0)).worked
    assert toy.stitches > 400_000
    for part in toy.recipe.parts:
        drawn = chart_svg(toy, part, WORDS)
        assert len(drawn) < MOST_BYTES
        made = sum(times * n for _, times, n, _ in drawn_rounds(ElementTree.fromstring(drawn)))
        assert made == toy.parts[part.name].stitches


def drawings(toy: Toy, terms: Terms) -> list[str]:
    words, worked = term_set(terms), toy.worked
    found = [chart_svg(worked, part, words) for part in worked.recipe.parts]
    return found + [assembly_svg(worked, toy.materials.eyes, view, words) for view in View]


def said(svg: str) -> set[str]:
    """Every word of at least four letters on a drawing, in its title and its description."""
    text = " ".join("".join(e.itertext()) for e in ElementTree.fromstring(svg).iter()
                    if e.tag in (f"{SVG}text", f"{SVG}title", f"{SVG}desc"))  # fmt: skip
    return set(re.findall(r"[^\W\d_]{4,}", text.lower()))


ENGLISH = {"round", "rounds", "rnds", "row", "rows", "each", "from", "front", "back", "side",
           "apart", "make", "stitches", "read", "begins", "number", "yarn", "magic", "fasten",
           "between", "head", "body", "eyes", "line", "every", "together", "with", "work", "times",
           "repeats", "equal", "right", "left", "inner", "outer", "evenly", "middle", "chain",
           "single", "crochet", "slip"}  # fmt: skip
"""What the English drawings say."""


@pytest.mark.parametrize("terms", [t for t in Terms if not t.english], ids=lambda t: t.value)
def test_drawings_speak_the_language_of_the_pattern(terms: Terms) -> None:
    """No English word is left, but what is the same word (names of colours and toys are their
    recipe's); the document says its language by a tag of BCP 47."""
    toy = make_toy(recipes()["rabbit"], design_of(recipes()["rabbit"], terms=terms.value))
    heard: set[str] = set()
    for svg in drawings(toy, terms):
        root = ElementTree.fromstring(svg)
        assert root.get("lang") == root.get("{http://www.w3.org/XML/1998/namespace}lang")
        assert root.get("lang") == ("pt-BR" if terms is Terms.PORTUGUESE else terms.value)
        heard |= said(svg)
    usual = set().union(*(said(svg) for svg in drawings(toy, Terms.US)))
    assert {"round", "stitches", "front", "head", "magic", "repeats"} <= usual
    assert len(heard) > 30
    assert not heard & ENGLISH, heard & ENGLISH


def test_a_chart_says_all_its_counts_in_words() -> None:
    """For those who do not see it: every round with its stitches, from the description alone."""
    toy = make_toy(recipes()["otter"], design_of(recipes()["otter"])).worked
    for recipe in toy.recipe.parts:
        part = toy.parts[recipe.name]
        assert isinstance(part, WorkedPart)
        svg = ElementTree.fromstring(chart_svg(toy, recipe, WORDS))
        text = next(svg.iter(f"{SVG}desc")).text or ""
        counts: list[int] = []
        for first, last, count in re.findall(r"(\d+)(?:–(\d+))?: (\d+)", text):
            counts += [int(count)] * (int(last or first) - int(first) + 1)
        assert tuple(counts) == part.counts


# --- room for words ----------------------------------------------------------------------------


@given(st.lists(st.tuples(st.floats(0, 150), st.floats(0, 150), st.integers(1, 5),
                          st.floats(-60, 60)), max_size=14))  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_labels_in_margins_never_overlap(points: list[tuple[float, float, int, float]]) -> None:
    """None over another in its margin, none above the picture, all of them there; and what stands
    alone stands level with its point."""
    labels = [
        Label((f"part {n}",), ("x",) * lines, (10.0, a), (90.0, b), spares, "")
        for n, (a, b, lines, spares) in enumerate(points)
    ]
    placed, lowest = in_margins(labels, 12.0)
    assert sorted(label.name for label in placed) == sorted(label.name for label in labels)
    for side in (True, False):
        column = sorted((label for label in placed if label.left is side), key=lambda x: x.top)
        assert all(label.top >= 12.0 for label in column)
        for above, below in zip(column, column[1:], strict=False):
            assert above.top + above.height <= below.top + 1e-9
        if len(column) == 1:
            assert column[0].top == max(12.0, column[0].wanted)
    assert all(label.top + label.height <= lowest for label in placed)


@given(st.text("abM 編み目、（）.-", max_size=60), st.floats(12, 60))
@settings(max_examples=60, deadline=None)
def test_folded_words_keep_all_letters_and_their_width(words: str, width: float) -> None:
    """Nothing is lost but spaces; no line is wider than asked for, unless it is one letter with
    what may not be parted from it."""
    for fold in (wrapped, folded):
        lines = fold(words, width, 2.6)
        assert "".join("".join(lines).split()) == "".join(words.split())
        assert all(text_width(line, 2.6) <= width + 1e-9 for line in lines)


def test_more_nets_than_a_thousand_are_told_apart() -> None:
    """A striped toy has a net for each stripe: small squares side by side, each seen as itself."""
    square = np.array([[[0.0, 0.0, 0.0], [0.6, 0.0, 0.0]], [[0.0, 0.6, 0.0], [0.6, 0.6, 0.0]]])
    nets = [Net("#000000", square + np.array([n % 40, n // 40, n % 7]), (1, 1), -1.0)
            for n in range(1200)]  # fmt: skip
    raster = look(nets, 5.0)
    for n in (0, 1023, 1024, 1199):
        middle = np.array([n % 40 + 0.3, n // 40 + 0.3, 0.0])
        row, column = raster.spots(middle)
        assert raster.nearest[row, column] == n


def test_worked_toys_are_drawn_alike_in_all_languages() -> None:
    """The symbols of a chart do not depend on its words."""
    toy: WorkedToy = make_toy(recipes()["owl"], design_of(recipes()["owl"])).worked
    for part in toy.recipe.parts:
        usual, other = (
            drawn_rounds(ElementTree.fromstring(chart_svg(toy, part, term_set(terms))))
            for terms in (Terms.US, Terms.GERMAN)
        )
        assert usual == other
