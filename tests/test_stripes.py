"""Bands, stripes and tips: the colours of every round, in the pattern and in the yarn."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.features import gnome, made, page_of, text_of
from tests.reader import LINE, read_parts, unwrapped
from webapp.materials import yarn_by_colour_mm
from webapp.materials.yarn import bands
from webapp.recipes import Band, Recipe
from webapp.rounds import WorkedPart
from webapp.way import Toy
from webapp.web.data import toy_data

BANDS = (
    '{ colour = "moss" }, { begin = 0.5, colour = "cream", with = ["bark"], every = 2 }, '
    '{ begin = 0.8, colour = "moss" }'
)


def striped(every: int, begin: float = 0.5) -> Recipe:
    stripes = f'begin = {begin}, colour = "cream", with = ["bark"], every = {every}'
    return gnome(('begin = 0.5, colour = "cream", with = ["bark"], every = 2', stripes))


def body_of(toy: Toy) -> WorkedPart:
    part = toy.worked.parts["body"]
    assert isinstance(part, WorkedPart)
    return part


def read_colours(text: str, title: str) -> list[str]:
    """The colour of every round of a part, as a maker reads it: the first line says what to start
    with, and a change in the last stitch of a round holds from the next."""
    block = next(b for b in text.split("\n\n") if b.startswith(title))
    lines = unwrapped(block)
    colour = re.match(r"(?:Start with|In) (.+)\.$", lines[1])[1]
    found: list[str] = []
    for line in lines:
        rounds = LINE.match(line)
        if not rounds:
            continue
        found += [colour] * (int(rounds[3] or rounds[2]) - int(rounds[2]) + 1)
        change = re.search(r", changing to (.+) in the last st", line)
        colour = change[1] if change else colour
    return found


def asked_colours(recipe: Recipe, rounds: int) -> list[str]:
    """The colour of every round from the words of the recipe, one round at a time: the band that
    began last, and of its stripes the one whose turn it is. Our own meaning of the words."""
    found = []
    for number in range(1, rounds + 1):
        begun = [
            (b.at_round or round(b.begin * rounds) + 1, b)
            for b in recipe.parts[0].colours
            if (b.at_round or round(b.begin * rounds) + 1) <= number
        ]
        at, band = max(begun, key=lambda pair: pair[0])
        turn = (band.colour, *band.others)
        which = (number - at) // band.every % len(turn) if band.every else 0
        found.append(recipe.colours[turn[which]].name)
    return found


@given(
    every=st.integers(1, 9), begin=st.floats(0.05, 0.75), height=st.integers(70, 300)
)
@settings(max_examples=40, deadline=None)
def test_the_pattern_has_the_colour_of_every_round(every: int, begin: float, height: int) -> None:
    recipe = striped(every, round(begin, 2))
    toy = made(recipe, height_cm=height / 10)
    rounds = len(body_of(toy).rounds)
    text = text_of(toy)
    assert read_colours(text, "BODY") == asked_colours(recipe, rounds)
    # The same pattern, read stitch by stitch, is the same part.
    read = read_parts(text, "sc")[0]
    assert [count for _, count in read.rounds] == list(body_of(toy).counts)


@given(
    rounds=st.integers(1, 60),
    starts=st.lists(st.floats(0.01, 0.99), max_size=3, unique=True),
    tip=st.integers(0, 70),
    every=st.integers(1, 12),
)
def test_bands_take_in_every_round_once(
    rounds: int, starts: list[float], tip: int, every: int
) -> None:
    """Runs of a colour follow each other without a gap, and no two that touch are alike."""
    others = [Band("cream", b, others=("bark", "moss"), every=every) for b in sorted(starts)]
    tips = [Band("bark", at_round=tip)] if tip else []
    recipe = gnome().parts[0]
    colours = (Band("moss"), *others, *tips)
    spans = bands(type(recipe)(**{**vars(recipe), "colours": colours}), rounds)
    assert [n for _, a, b in spans for n in range(a, b + 1)] == list(range(1, rounds + 1))
    assert all(a[0] != b[0] for a, b in zip(spans, spans[1:], strict=False))


def test_a_tip_begins_at_its_round() -> None:
    """The arms have two rounds of cream, whatever their length."""
    for height in (10, 20, 40):
        colours = read_colours(text_of(made(gnome(), height_cm=height)), "ARMS")
        assert colours[:3] == ["oat cream", "oat cream", "moss green"]
        assert set(colours[3:]) == {"moss green"}


def test_stripes_are_said_before_they_begin() -> None:
    text = text_of(made(gnome()))
    lines = unwrapped(text)
    note = next(n for n, line in enumerate(lines) if "are in stripes of 2 rnds" in line)
    first, last = re.match(r"Rnds (\d+)-(\d+) are in stripes", lines[note]).groups()
    assert re.match(rf"Rnds? {first}\b", lines[note + 1])
    colours = read_colours(text, "BODY")
    assert set(colours[int(first) - 1 : int(last)]) == {"oat cream", "bark brown"}
    assert colours[int(first) - 2] == colours[int(last)] == "moss green"
    assert "carry those that rest up inside" in lines[note]


def test_rounds_of_two_colours_are_never_one_line() -> None:
    """A line `Rnds 4-9` is worked in one colour: common practice, no source."""
    text = text_of(made(striped(3)))
    colours = read_colours(text, "BODY")
    gathered = 0
    for line in unwrapped(next(b for b in text.split("\n\n") if b.startswith("BODY"))):
        found = LINE.match(line)
        if found and found[3]:
            gathered += 1
            assert len(set(colours[int(found[2]) - 1 : int(found[3])])) == 1, line
    assert gathered >= 4


def test_the_last_round_before_a_change_stands_alone_outside_stripes() -> None:
    """The maker meets the change where it is to be done: common practice, no source."""
    body = next(b for b in text_of(made(gnome())).split("\n\n") if b.startswith("BODY"))
    first = next(line for line in unwrapped(body) if "changing to oat cream" in line)
    assert re.fullmatch(r"Rnd 28: sc in each st around, changing to oat cream in the last st "
                        r"\[102\]", first)


def test_equal_rounds_of_a_stripe_are_gathered() -> None:
    text = text_of(made(striped(3)))
    assert re.search(r"Rnds 29-31: sc in each st around, changing to .+ in the last st of Rnd 31",
                     " ".join(unwrapped(text)))


def independent_yarn_mm(toy: Toy) -> dict[str, float]:
    """Yarn of each colour, from the written pattern: 6.5 stitch widths for a stitch, a fifth more
    for a decrease (the published and usual figures at the head of the yarn model); 15 cm at both
    ends of each length of yarn (common practice, no source); a colour that is away for four rounds
    or fewer is not cut and takes 1.2 times the way it goes up; the tail that each arm is sewn on
    with is read from the pattern; a tenth over."""
    text = text_of(toy)
    w, h = toy.worked.design.gauge.stitch_mm, toy.worked.design.gauge.round_mm
    need: dict[str, float] = {}
    for part in read_parts(text, "sc"):
        colours = read_colours(text, part.title)
        for (row, count), colour in zip(part.rounds, colours, strict=True):
            stitches = count + 0.2 * row.count("dec")
            need[colour] = need.get(colour, 0.0) + part.copies * 6.5 * w * stitches
        last_at: dict[str, int] = {}
        for number, colour in enumerate(colours):
            if colour not in last_at or number - last_at[colour] - 1 > 4:
                need[colour] += part.copies * 300.0
            elif number - last_at[colour] > 1:
                need[colour] += part.copies * 1.2 * h * (number - last_at[colour] - 1)
            last_at[colour] = number
        block = next(b for b in text.split("\n\n") if b.startswith(part.title))
        tail = re.search(r"leaving a tail of ([\d.]+) cm", " ".join(unwrapped(block)))
        if tail:
            need[colours[-1]] += part.copies * 10.0 * float(tail[1])
    return {name: 1.1 * mm for name, mm in need.items()}


@pytest.mark.parametrize("every", [1, 2, 4, 5, 8])
@pytest.mark.parametrize("height", [9, 15, 33])
def test_yarn_of_each_colour_against_a_sum_from_the_pattern(every: int, height: int) -> None:
    recipe = striped(every)
    toy = made(recipe, height_cm=height)
    found = {
        recipe.colours[key].name: mm for key, mm in yarn_by_colour_mm(toy.worked).items()
    }
    assert found == pytest.approx(independent_yarn_mm(toy))


def test_thin_stripes_are_carried_and_thick_ones_cut() -> None:
    """Four rounds or fewer: common practice, no source."""
    thin, thick = (" ".join(unwrapped(text_of(made(striped(n))))) for n in (4, 5))
    assert "carry those that rest up inside" in thin
    assert "Cut each yarn after its stripe" not in thin
    assert "Cut each yarn after its stripe" in thick


def test_a_colour_that_comes_back_soon_is_not_cut() -> None:
    """Two rounds of cream between rounds of moss, without stripes: the moss is carried, and the
    pattern says so where it would be cut."""
    recipe = gnome((BANDS, '{ colour = "moss" }, { round = 20, colour = "cream" }, '
                           '{ round = 22, colour = "moss" }'))
    lines = unwrapped(text_of(made(recipe)))
    note = next(n for n, line in enumerate(lines) if line.startswith("Do not cut the moss green"))
    assert lines[note].endswith("It comes back in Rnd 22.")
    assert re.match(r"Rnd 19: .+changing to oat cream", lines[note - 1])


def test_a_part_begun_on_a_band_without_a_round_starts_with_the_next() -> None:
    """Both bands begin at round 1, so the first has none."""
    recipe = gnome((BANDS, '{ colour = "moss" }, { begin = 0.001, colour = "cream" }'))
    text = text_of(made(recipe))
    assert "BODY (make 1)\nIn oat cream.\n" in text
    warning = [w for w in page_of(recipe).warnings if w.startswith("Body: the band in moss green")]
    assert len(warning) == 1
    data = toy_data(made(recipe))["parts"][0]
    assert data["colours"] == ["oat cream"]
    assert {r["colour"] for r in data["rounds"]} == {"oat cream"}


def test_a_band_that_gets_no_round_is_told() -> None:
    recipe = gnome(('{ round = 3, colour = "moss" }', '{ round = 90, colour = "moss" }'))
    rounds = len(made(recipe).worked.parts["arm"].rounds)
    told = [w for w in page_of(recipe).warnings if w.startswith("Arms: the band in moss green")]
    assert told == [
        "Arms: the band in moss green, which begins at round 90, gets no round; the part has "
        f"{rounds}. A bigger toy or a finer yarn has more."
    ]
    assert "ARMS (make 6)\nIn oat cream.\n" in text_of(made(recipe))
    assert not any(w.startswith("Arms: the band") for w in page_of(gnome()).warnings)


def test_stripes_too_wide_for_their_band_are_told() -> None:
    told = [w for w in page_of(striped(200)).warnings if "stripes of 200 rounds" in w]
    assert len(told) == 1
    assert "bark brown" in told[0]


def test_a_part_is_sewn_on_with_the_colour_it_ends_in() -> None:
    """Swapping the two colours of the arms moves the six sewing tails from one to the other."""
    swapped = gnome(
        ('{ colour = "cream" }, { round = 3, colour = "moss" }',
         '{ colour = "cream" }, { round = 3, colour = "moss" }, { round = 9, colour = "cream" }')
    )
    one, other = (yarn_by_colour_mm(made(r).worked) for r in (gnome(), swapped))
    arm = made(swapped).worked.parts["arm"]
    assert isinstance(arm, WorkedPart)
    w = arm.gauge.stitch_mm
    moved = sum(arm.counts[8:]) * 6.5 * w + 400.0
    assert other["cream"] - one["cream"] == pytest.approx(1.1 * 6 * (moved + 300.0), rel=1e-6)
    assert one["moss"] - other["moss"] == pytest.approx(1.1 * 6 * moved, rel=1e-6)
