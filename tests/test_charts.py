"""Charts: what is drawn, counted, is what is worked."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.strategies import TEST_TOYS, default_design, design_of, designs, recipes
from webapp.assembly import WorkedToy
from webapp.charts import chart_pages, chart_svg
from webapp.charts.lanes import lanes_of
from webapp.charts.stretches import stretches
from webapp.errors import RoundlingError
from webapp.pattern import round_words
from webapp.pictures import View, assembly_svg
from webapp.recipes import load_recipes
from webapp.rounds import WorkedPart, WorkedStrip
from webapp.way import make_toy, work_toy
from webapp.yarns import Terms, term_set

SVG = "{http://www.w3.org/2000/svg}"
WORDS = term_set(Terms.US)

HEADS = {"sc": 1, "inc": 2, "dec": 1}
"""Stitches that a symbol makes: two into one make two, two together make one. Common practice,
no source."""

FEET = {"sc": 1, "inc": 1, "dec": 2}
"""Stitches that it is worked into: the same."""

PAGE_MM = (190.0, 277.0)
"""A4 is 210 mm by 297 mm (ISO 216); 10 mm of margin on each side."""

ALL = {**recipes(), **load_recipes(TEST_TOYS)}


def toy_of(name: str, **values: object) -> WorkedToy:
    return make_toy(ALL[name], design_of(ALL[name], **values)).worked


def charts(toy: WorkedToy) -> dict[str, ElementTree.Element]:
    return {
        part.name: ElementTree.fromstring(chart_svg(toy, part, WORDS))
        for part in toy.recipe.parts
    }


def defined(svg: ElementTree.Element) -> list[ElementTree.Element]:
    """The symbols that a chart defines."""
    (definitions,) = svg.iter(f"{SVG}defs")
    return list(definitions)


def glyphs(group: ElementTree.Element) -> dict[str, int]:
    """How often each symbol of a round is worked, all told."""
    found: dict[str, int] = {}
    for use in group.iter(f"{SVG}use"):
        kind = use.get("class", "")
        if kind in HEADS:
            found[kind] = found.get(kind, 0) + int(use.get("data-times", "1"))
            assert use.get("href") == f"#st-{kind}"
    return found


def drawn_rounds(svg: ElementTree.Element) -> list[tuple[int, int, int, int]]:
    """(first round, times the group stands, stitches made, stitches used) of each group."""
    found = []
    for group in svg.iter(f"{SVG}g"):
        if "data-round" in group.attrib:
            counted = glyphs(group)
            made = sum(HEADS[kind] * n for kind, n in counted.items())
            used = sum(FEET[kind] * n for kind, n in counted.items())
            times = int(group.get("data-times", "1"))
            found.append((int(group.get("data-round", "0")), times, made, used))
    return sorted(found)


def check(toy: WorkedToy) -> None:
    for name, svg in charts(toy).items():
        part = toy.parts[name]
        groups = drawn_rounds(svg)
        stitches = sum(times * made for _, times, made, _ in groups)
        assert stitches == part.stitches, name
        if isinstance(part, WorkedStrip):
            continue
        firsts = [first for first, _, _, _ in groups]
        assert firsts[0] == 1
        assert len(set(firsts)) == len(firsts)
        for (first, times, made, used), after in zip(
            groups, [*firsts[1:], len(part.counts) + 1], strict=True
        ):
            alike = after - first
            # What stands so many times is so many equal rounds, of so many equal repeats each.
            repeats, rest = divmod(times, alike)
            assert rest == 0
            assert part.counts[first - 1 : after - 1] == (made * repeats,) * alike
            if first > 1:
                assert used * repeats == part.counts[first - 2]


@pytest.mark.parametrize("name", sorted(ALL))
def test_symbols_counted_are_the_stitches_of_every_round(name: str) -> None:
    """Against the counts of the worked parts, and each round against the one before: what a round
    uses is what the one before made."""
    span = ALL[name].sliders["height"]
    usual, high = round(span.default / 10.0), math.floor(min(span.high, 600.0) / 10.0)
    check(toy_of(name, height_cm=high))
    # And from the usual size down to the smallest that can be worked.
    for height in range(usual, math.ceil(span.low / 10.0) - 1, -2):
        try:
            toy = toy_of(name, height_cm=height)
        except RoundlingError:
            assert height < usual
            break
        check(toy)


@given(data=st.data(), name=st.sampled_from(("otter", "owl", "rabbit", "whale")))
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_design_has_charts_that_count_right(data: st.DataObject, name: str) -> None:
    """The same anywhere in the slider ranges."""
    design = data.draw(designs(name, tallest_mm=500.0))
    try:
        toy = work_toy(ALL[name], design)
    except RoundlingError:
        return
    check(toy)


@pytest.mark.parametrize("name", sorted(ALL))
def test_charts_of_usual_sizes_fit_a_page_of_a4(name: str) -> None:
    """Paper by ISO 216, a stitch's symbol no narrower than 2.2 mm as its strokes are written."""
    for part, svg in charts(toy_of(name)).items():
        width, height = (
            float(svg.get(side, "").removesuffix("mm")) for side in ("width", "height")
        )
        left, top, wide, tall = map(float, svg.get("viewBox", "").split())
        assert (left, top) == (-1.0, -1.0)
        # One unit is one millimetre on paper, so what is drawn 2.2 wide is.
        assert (wide, tall) == (width, height)
        assert width <= PAGE_MM[0], part
        assert height <= PAGE_MM[1], part
        stitches = [symbol for symbol in defined(svg) if symbol.get("id", "")[3:] in HEADS]
        assert stitches
        for symbol in stitches:
            numbers = re.findall(r"[ML]?(-?[\d.]+) -?[\d.]+", symbol.get("d", ""))
            across = [float(x) for x in numbers]
            assert max(across) - min(across) >= 2.2


def boxes(svg: ElementTree.Element) -> list[tuple[int, float, float]]:
    """(round, x, y) of the symbols of a chart drawn as a spiral."""
    found = []
    for group in svg.iter(f"{SVG}g"):
        if "data-round" in group.attrib:
            for use in group.iter(f"{SVG}use"):
                if use.get("class") in HEADS:
                    at = re.match(r"translate\((\S+) ([^)]+)\)", use.get("transform", ""))
                    assert at
                    spot = (float(at[1]), float(at[2]))
                    found.append((int(group.get("data-round", "0")), *spot))
    return found


@pytest.mark.parametrize(("name", "part"), [("otter", "body"), ("otter", "muzzle"),
                                            ("wader", "body"), ("wader", "crown")])  # fmt: skip
def test_symbols_of_a_spiral_keep_clear_of_each_other(name: str, part: str) -> None:
    """No two middles nearer than 2.2 mm, the width of a symbol: found by trying all pairs."""
    toy = toy_of(name)
    spots = boxes(ElementTree.fromstring(chart_svg(toy, toy.recipe.part(part), WORDS)))
    assert len(spots) > 50
    for n, (_, x, y) in enumerate(spots):
        assert all(math.hypot(x - p, y - q) >= 2.2 for _, p, q in spots[:n])


def test_rounds_run_anticlockwise_from_the_centre() -> None:
    """As the right-handed work them, each further out than the one before: the standard's way of
    charting rounds. The turn is a sum of cross products, below 0 as y goes down."""
    toy = toy_of("otter")
    spots = boxes(ElementTree.fromstring(chart_svg(toy, toy.recipe.part("body"), WORDS)))
    rounds = [[(x, y) for k, x, y in spots if k == number] for number in range(1, 8)]
    far = []
    for points in rounds:
        turn = sum(a * d - b * c for (a, b), (c, d) in zip(points, points[1:], strict=False))
        assert turn < 0
        far.append(sum(math.hypot(x, y) for x, y in points) / len(points))
    assert far == sorted(far)


def test_legend_has_the_symbols_used_and_no_others() -> None:
    """A chart explains every symbol on it: makers vary, so each needs its legend."""
    for name in ("otter", "wader", "rabbit"):
        for part, svg in charts(toy_of(name)).items():
            legend = next(g for g in svg.iter(f"{SVG}g") if g.get("class") == "legend")
            explained = {use.get("class") for use in legend.iter(f"{SVG}use")}
            every = {use.get("class") for use in svg.iter(f"{SVG}use")}
            symbols = {symbol.get("id", "").removeprefix("st-") for symbol in defined(svg)}
            assert explained == every == symbols, (name, part)


def test_yarns_are_named_and_lettered_not_shown_by_colour_alone() -> None:
    """The rabbit's feet are of two yarns, by its recipe: both are named, and each round says its
    letter beside its number and in the table."""
    toy = toy_of("rabbit")
    svg = charts(toy)["foot"]
    words = ["".join(t.itertext()) for t in svg.iter(f"{SVG}text")]
    named = [toy.recipe.colours[band.colour].name for band in toy.recipe.part("foot").colours]
    assert len(named) == 2
    for letter, name in zip("AB", named, strict=True):
        assert f"{letter}: {name}" in words
    numbered = [w for w in words if re.fullmatch(r"\d+(–\d+)? [AB]", w)]
    part = toy.parts["foot"]
    assert isinstance(part, WorkedPart)
    assert len(numbered) == len(part.counts)
    assert [w[-1] for w in numbered] == sorted(w[-1] for w in numbered)


def test_every_round_is_said_in_words() -> None:
    """Labels and counts of the groups are those of the parts; the picture has a role, a title and
    a description (SVG Accessibility API Mappings 1.0 takes its name from <title>)."""
    toy = toy_of("otter")
    for name, svg in charts(toy).items():
        assert svg.get("role") == "img"
        assert next(svg.iter(f"{SVG}title")).text
        assert next(svg.iter(f"{SVG}desc")).text
        part = toy.parts[name]
        assert isinstance(part, WorkedPart)
        for group in svg.iter(f"{SVG}g"):
            if "data-round" not in group.attrib:
                continue
            said = group.get("aria-label", "")
            first = int(group.get("data-round", "0"))
            assert said.startswith((round_words(first, first, WORDS, False) + ":", "Rnds "))
            assert said.endswith(f"[{part.counts[first - 1]}]")


def test_table_lists_every_round_with_its_count_and_change() -> None:
    """Against the differences of the counts."""
    toy = toy_of("otter")
    svg = charts(toy)["ear"]
    table = next(g for g in svg.iter(f"{SVG}g") if g.get("class") == "table")
    cells = ["".join(t.itertext()) for t in table.iter(f"{SVG}text")]
    part = toy.parts["ear"]
    assert isinstance(part, WorkedPart)
    assert part.counts == (6, 9, 12, 12)
    assert cells == ["Rnd", "sts", "+/−", "1", "6", "", "2", "9", "+3", "3", "12", "+3",
                     "4", "12", "="]  # fmt: skip


@pytest.mark.parametrize(("rows", "last"), [(2, "2"), (3, "3"), (4, "4"), (5, "4–5")])
def test_the_last_row_of_the_table_is_one_or_several(rows: int, last: str) -> None:
    """A short strip, worked to and fro: three rows are listed one by one, the others together."""
    toy = toy_of("rabbit")
    scarf = toy.parts["scarf"]
    assert isinstance(scarf, WorkedStrip)
    toy = replace(toy, parts={**toy.parts, "scarf": replace(scarf, rows=rows)})
    svg = ElementTree.fromstring(chart_svg(toy, toy.recipe.part("scarf"), WORDS))
    table = next(g for g in svg.iter(f"{SVG}g") if g.get("class") == "table")
    cells = ["".join(t.itertext()) for t in table.iter(f"{SVG}text")]
    assert cells[-3:] == [last, str(scarf.per_row), "="]


def test_one_repeat_is_drawn_where_all_are_equal_and_the_chart_says_so() -> None:
    """The otter's head goes up and down in sixes: one sixth of each round is drawn."""
    toy = toy_of("otter")
    part = toy.parts["head"]
    assert isinstance(part, WorkedPart)
    assert all(count % 6 == 0 for count in part.counts)
    svg = charts(toy)["head"]
    words = ["".join(t.itertext()) for t in svg.iter(f"{SVG}text")]
    assert any("One of 6 equal repeats" in w for w in words)
    for first, _, made, _ in drawn_rounds(svg):
        assert made * 6 == part.counts[first - 1]


def test_rounds_without_repeats_are_written_with_numbers() -> None:
    """The wader's snout lies on one side of its head, so its rounds repeat nothing."""
    toy = toy_of("wader")
    part = toy.parts["head"]
    assert isinstance(part, WorkedPart)
    lanes = lanes_of(toy, toy.recipe.part("head"), part, WORDS, gathered=True)
    cut = stretches(lanes)
    assert [lane for _, stretch in cut for lane in stretch] == lanes
    unrepeated = [lane for turns, stretch in cut if not turns for lane in stretch]
    shaped = part.shaped[0]
    assert unrepeated
    assert all(shaped.first_round <= lane.first <= shaped.last_round for lane in unrepeated)


def test_same_design_same_chart() -> None:
    """Drawn twice, byte for byte."""
    first, again = toy_of("whale"), toy_of("whale")
    for part in first.recipe.parts:
        assert chart_svg(first, part, WORDS) == chart_svg(again, part, WORDS)


def test_words_are_those_of_the_terms() -> None:
    """A US single crochet is a UK double crochet (published conversion charts)."""
    toy = make_toy(ALL["otter"], default_design(ALL["otter"])).worked
    ear = toy.recipe.part("ear")
    assert ">sc: single crochet<" in chart_svg(toy, ear, WORDS)
    uk = chart_svg(toy, ear, term_set(Terms.UK))
    assert ">dc: double crochet<" in uk
    assert "sc" not in re.findall(r"\w+", re.sub("<[^>]*>", " ", uk))


@pytest.mark.parametrize("name", sorted(recipes()))
def test_a_french_colon_stands_apart(name: str) -> None:
    """In every word of a drawing, seen or spoken, a colon has a no-break space before it: a rule of
    French print (Imprimerie nationale, from memory)."""
    toy = toy_of(name, terms="fr")
    words = term_set(Terms.FRENCH)
    drawn = [ElementTree.fromstring(chart_svg(toy, p, words)) for p in toy.recipe.parts]
    drawn += [ElementTree.fromstring(assembly_svg(toy, None, view, words)) for view in View]
    said = [
        text
        for svg in drawn
        for element in svg.iter()
        for text in (element.text, element.get("aria-label"))
        if text and not element.tag.endswith("style")
    ]
    colons = [text for text in said if ":" in text]
    assert colons
    assert not [text for text in colons if re.search(r"[^\u00a0\u202f]:", text)]


def heights(element: ElementTree.Element, y: float = 0.0) -> list[float]:
    """Where every symbol and every line of words lies on its chart, from above, mm."""
    moved = re.match(r"translate\(\S+ ([^)]+)\)", element.get("transform", ""))
    y += float(moved[1]) if moved else 0.0
    found = [y] if element.tag == f"{SVG}use" else []
    if element.tag == f"{SVG}text":
        found.append(y + float(element.get("y", "0")))
    return found + [h for child in element for h in heights(child, y)]


def test_a_chart_too_large_for_a_page_goes_on_on_the_next() -> None:
    """Each page as high as A4 (ISO 216) has room for; they follow each other without gap, and no
    symbol or word, 2.2 mm and 2.5 mm high, lies across the end of one."""
    toy = toy_of("whale", height_cm=60)
    svg = chart_svg(toy, toy.recipe.part("body"), WORDS)
    pages = [ElementTree.fromstring(page) for page in chart_pages(svg)]
    assert len(pages) > 2
    ends = []
    for page in pages:
        _, top, _, tall = map(float, page.get("viewBox", "").split())
        assert float(page.get("height", "").removesuffix("mm")) == tall <= PAGE_MM[1]
        ends.append((top, top + tall))
    assert all(a[1] == b[0] for a, b in zip(ends, ends[1:], strict=False))
    spots = heights(ElementTree.fromstring(svg))
    assert max(spots) < ends[-1][1]
    for _, end in ends[:-1]:
        assert not [y for y in spots if abs(y - end) < 1.5]
    small = chart_svg(toy, toy.recipe.part("fin"), WORDS)
    assert chart_pages(small) == [small]


def test_low_ink_is_black_lines_and_says_as_much() -> None:
    """Without the yarns' colours, by the recipe (#rrggbb); symbols and words are the same."""
    toy = toy_of("rabbit")
    for part in toy.recipe.parts:
        usual, low = (
            ElementTree.fromstring(chart_svg(toy, part, WORDS, low=low)) for low in (False, True)
        )
        fills = {e.get(ink, "") for e in low.iter() for ink in ("fill", "stroke")}
        assert fills <= {"", "none", "currentColor"}, part.name
        assert drawn_rounds(low) == drawn_rounds(usual)
        assert ["".join(t.itertext()) for t in low.iter(f"{SVG}text")] == [
            "".join(t.itertext()) for t in usual.iter(f"{SVG}text")
        ]
