"""Yarns, gauge, hooks, words and units against published tables and definitions.

Figures are written out again here from the source named beside them, not read from the package.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.errors import RoundlingError
from webapp.yarns import (
    CATEGORIES,
    GRAMS_PER_OUNCE,
    HOOKS,
    METRES_PER_YARD,
    MM_PER_INCH,
    STITCH_PER_HOOK,
    US_TO_UK,
    Gauge,
    Hook,
    LengthUnit,
    Swatch,
    Terms,
    TermSet,
    YarnCategory,
    category,
    hook_for,
    swatch_gauge,
    term_set,
)

each_category = pytest.mark.parametrize("yarn", CATEGORIES, ids=lambda yarn: yarn.name)


# --- categories

# Craft Yarn Council yarn weight system: number, name, sc to 4 in, hook mm. Rows 1-5 as reproduced
# by 222handspun.com; rows 6 and 7 as in a yarn shop's guide (copies differ there). Category 0 is
# given in double crochet.
BANDS = (
    (0, "Lace", None, (1.4, 2.25)),
    (1, "Super Fine", (21, 32), (2.25, 3.5)),
    (2, "Fine", (16, 20), (3.5, 4.5)),
    (3, "Light", (12, 17), (4.5, 5.5)),
    (4, "Medium", (11, 14), (5.5, 6.5)),
    (5, "Bulky", (8, 11), (6.5, 9.0)),
    (6, "Super Bulky", (7, 9), (9.0, 15.0)),
    (7, "Jumbo", (None, 6), (15.0, None)),
)


def test_categories_are_the_published_ones() -> None:
    ours = tuple((c.number, c.name, c.band_sc_per_4in, c.band_hook_mm) for c in CATEGORIES)
    assert ours == BANDS


def test_a_category_without_single_crochet_on_its_band_says_so() -> None:
    # Same table: 32 to 42 double crochets for lace.
    assert "32 to 42 double crochet" in category(0).band_note


@pytest.mark.parametrize("row", BANDS[1:], ids=lambda row: str(row[1]))
def test_toys_are_worked_tighter_than_the_band(
    row: tuple[int, str, tuple[int | None, int], tuple[float, float | None]],
) -> None:
    # Common practice: a toy is worked tighter than any garment in the same yarn.
    number, _, (_, most), (thinnest, _) = row
    yarn = category(number)
    assert yarn.toy_gauge.stitches_per_10cm * 101.6 / 100.0 > most
    assert yarn.toy_hook_mm[0] < thinnest


@each_category
def test_toy_gauge_makes_a_flat_disc_of_about_six(yarn: YarnCategory) -> None:
    # Six increases a round keep a disc flat: common practice, 2 pi h / w with h about w.
    assert 5.4 <= yarn.toy_gauge.flat_increase <= 6.4


@each_category
def test_toy_gauge_suits_the_hooks_usual_for_toys(yarn: YarnCategory) -> None:
    # Usual toy hooks: common practice, no source; w = 1.5 hooks from published gauges.
    low, high = yarn.toy_hook_mm
    assert low <= yarn.toy_gauge.stitch_mm / 1.5 <= high
    assert low <= hook_for(yarn.toy_gauge).mm <= high


@each_category
def test_diameter_lies_between_compact_and_lofty(yarn: YarnCategory) -> None:
    # Least: Peirce's diameter of cotton yarn, cm = 0.00375 sqrt(tex), textilecalculation.blogspot.
    # Most: one loosely wound wrap, 25.4 mm / wraps.
    tex = 100_000.0 / yarn.metres_per_100g_cotton
    compact = 10.0 * 0.00375 * math.sqrt(tex)
    lofty = 25.4 / min(yarn.wraps_per_inch)
    assert compact < yarn.diameter_mm < lofty
    # Fabrics of toys have 0.25 to 0.45 yarn diameters to a stitch (derived).
    assert 0.25 <= yarn.diameter_mm / yarn.toy_gauge.stitch_mm <= 0.45


def test_diameter_of_a_worked_example() -> None:
    # 0.6 x 25.4 / 11.5 wraps (category 3: 11 to 12, Colourspun 2011).
    assert category(3).diameter_mm == pytest.approx(1.32522, abs=1e-5)


# Metres per 100 g of wool and acrylic, a UK shop's conversion chart; open ends closed generously.
METRES = ((600, 900), (360, 580), (260, 400), (210, 250), (130, 200), (90, 120), (40, 80), (20, 40))


@pytest.mark.parametrize(("number", "limits"), tuple(enumerate(METRES)))
def test_metres_per_100g_are_within_the_published_chart(
    number: int, limits: tuple[int, int]
) -> None:
    yarn = category(number)
    assert limits[0] <= yarn.metres_per_100g_wool <= limits[1]
    # Cotton is denser: common practice.
    assert yarn.metres_per_100g_cotton <= yarn.metres_per_100g_wool


def test_thicker_yarn_is_thicker_in_every_figure() -> None:
    for finer, thicker in zip(CATEGORIES, CATEGORIES[1:], strict=False):
        assert finer.diameter_mm < thicker.diameter_mm
        assert finer.metres_per_100g_cotton > thicker.metres_per_100g_cotton
        assert finer.metres_per_100g_wool > thicker.metres_per_100g_wool
        assert finer.toy_gauge.stitch_mm < thicker.toy_gauge.stitch_mm
        assert finer.toy_hook_mm < thicker.toy_hook_mm


@each_category
def test_every_row_names_its_source(yarn: YarnCategory) -> None:
    assert "Craft Yarn Council" in yarn.source
    assert "no source" in yarn.source or "derived" in yarn.source
    assert yarn.types_named


@pytest.mark.parametrize(("number", "nearest"), [(8, r"7 \(Jumbo\)"), (-1, r"0 \(Lace\)")])
def test_an_unknown_category_is_refused(number: int, nearest: str) -> None:
    with pytest.raises(RoundlingError, match=rf"category {number} was.*nearest is {nearest}") as e:
        category(number)
    assert e.value.field == "yarn"


# --- gauge

# Manufacturers' leaflets that give both directions (the last row: a toy book's disc, 5 rounds of
# 30 stitches, 2 in across): stitches and rounds in 10 cm, w, h, flat increase.
PUBLISHED = (
    (22.0, 24.0, 4.55, 4.17, 5.76),
    (13.0, 14.0, 7.69, 7.14, 5.83),
    (15.5, 17.0, 6.45, 5.88, 5.73),
    (10.0, 11.0, 10.0, 9.09, 5.71),
    (10.0, 10.0, 10.0, 10.0, 6.28),
    (8.0, 9.0, 12.5, 11.11, 5.585),
    (7.0, 8.0, 14.29, 12.5, 5.50),
    (18.8, 19.7, 5.32, 5.08, 6.0),
)


@pytest.mark.parametrize(("stitches", "rounds", "w", "h", "flat"), PUBLISHED)
def test_published_gauges(stitches: float, rounds: float, w: float, h: float, flat: float) -> None:
    gauge = Gauge.per_10cm(stitches, rounds)
    assert gauge.stitch_mm == pytest.approx(w, abs=0.006)
    assert gauge.round_mm == pytest.approx(h, abs=0.006)
    assert gauge.flat_increase == pytest.approx(flat, abs=0.006)
    assert gauge.stitches_per_10cm == pytest.approx(stitches)
    assert gauge.rounds_per_10cm == pytest.approx(rounds)
    assert swatch_gauge(stitches, rounds, Swatch.TEN_CM) == gauge


def test_the_toy_book_disc_is_two_inches_across() -> None:
    # 5 rounds = 30 stitches = 2 in across, a toy book quoted in a blog of 2012.
    gauge = category(4).toy_gauge
    assert 2 * 5 * gauge.round_mm == pytest.approx(2 * 25.4, rel=0.005)
    assert 30 * gauge.stitch_mm == pytest.approx(math.pi * 2 * 25.4, rel=0.005)


def test_a_swatch_over_four_inches_is_measured_over_101_6_mm() -> None:
    # An inch is 25.4 mm by definition.
    gauge = swatch_gauge(20, 22, Swatch.FOUR_INCHES)
    assert (gauge.stitch_mm, gauge.round_mm) == pytest.approx((5.08, 101.6 / 22))
    assert gauge.stitches_per_10cm == pytest.approx(2000 / 101.6)


def test_the_names_of_swatches_are_those_of_addresses() -> None:
    assert [swatch.value for swatch in Swatch] == ["10cm", "4in"]


@pytest.mark.parametrize("over", Swatch)
@pytest.mark.parametrize(
    ("stitches", "rounds", "field", "sentences"),
    [
        (1.9, 20, "swatch_stitches", r"of 1\.9 stitches.*between 2 and 80.*nearest is 2 stitches"),
        (81, 80, "swatch_stitches", r"of 81 stitches.*between 2 and 80.*nearest is 80 stitches"),
        (0, 20, "swatch_stitches", "of 0 stitches.*nearest is 2 stitches"),
        (-24, 25, "swatch_stitches", "of -24 stitches.*nearest is 2 stitches"),
        (24, 0, "swatch_rounds", "of 0 rounds.*between 2 and 90.*nearest is 2 rounds"),
        (80, 91, "swatch_rounds", "of 91 rounds.*between 2 and 90.*nearest is 90 rounds"),
        (math.nan, 25, "swatch_stitches", "of nan stitches.*not a number of stitches.*between 2"),
        (24, math.inf, "swatch_rounds", "of inf rounds.*not a number of rounds.*between 2 and 90"),
        (24, 12, "swatch_rounds", r"2\.0 times as tall as it is wide.*24 stitches.*19 to 34 round"),
        (15, 30, "swatch_rounds", r"2\.0 times as wide as it is tall.*15 stitches.*12 to 21 round"),
        (2, 4, "swatch_rounds", "With 2 stitches it can have 2 rounds"),
    ],
)
def test_a_swatch_that_cannot_be_is_refused(
    stitches: float, rounds: float, field: str, sentences: str, over: Swatch
) -> None:
    with pytest.raises(RoundlingError, match=sentences) as caught:
        swatch_gauge(stitches, rounds, over)
    assert caught.value.field == field
    assert f"in {over.words} was given." in caught.value.asked


@pytest.mark.parametrize(("stitches", "rounds"), [(21, 30), (13, 10), (2, 2), (80, 90)])
def test_a_swatch_on_the_limits_is_accepted(stitches: float, rounds: float) -> None:
    assert swatch_gauge(stitches, rounds, Swatch.TEN_CM).stitches_per_10cm == pytest.approx(
        stitches
    )


@given(st.floats(), st.floats(), st.sampled_from(Swatch))
def test_any_two_numbers_give_a_gauge_or_three_sentences(
    stitches: float, rounds: float, over: Swatch
) -> None:
    try:
        gauge = swatch_gauge(stitches, rounds, over)
    except RoundlingError as error:
        assert error.field in ("swatch_stitches", "swatch_rounds")
        assert all(part.endswith(".") for part in (error.asked, error.why, error.nearest))
    else:
        assert 0.7 - 1e-12 <= gauge.round_mm / gauge.stitch_mm <= 1.3 + 1e-12


@given(st.floats(2.0, 80.0), st.floats(2.0, 90.0))
def test_the_nearest_rounds_offered_can_be_had(stitches: float, rounds: float) -> None:
    try:
        swatch_gauge(stitches, rounds, Swatch.TEN_CM)
    except RoundlingError as error:
        offered = error.nearest.split("have ")[1].removesuffix(" rounds.").split(" to ")
        for number in offered:
            swatch_gauge(stitches, float(number), Swatch.TEN_CM)


@pytest.mark.parametrize("size", [(0.0, 4.0), (4.0, -1.0), (math.nan, 4.0), (4.0, math.inf)])
def test_a_stitch_without_size_is_refused(size: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="a width and a height above 0 mm"):
        Gauge(*size)


# --- hooks

# Published conversion charts of yarn shops: US name and old UK number by mm.
CHART = {
    2.25: ("B-1", "13"),
    2.75: ("C-2", "12"),
    3.25: ("D-3", "10"),
    3.5: ("E-4", "9"),
    3.75: ("F-5", ""),
    4.0: ("G-6", "8"),
    4.5: ("7", "7"),
    5.0: ("H-8", "6"),
    5.5: ("I-9", "5"),
    6.0: ("J-10", "4"),
    6.5: ("K-10 1/2", "3"),
    8.0: ("L-11", "0"),
    9.0: ("M/N-13", "00"),
    10.0: ("N/P-15", "000"),
}


def test_hook_names_are_the_published_ones() -> None:
    ours = {hook.mm: (hook.us, hook.uk) for hook in HOOKS}
    assert {mm: ours[mm] for mm in CHART} == CHART


def test_hooks_run_from_thin_to_thick_each_once() -> None:
    sizes = [hook.mm for hook in HOOKS]
    assert sizes == sorted(set(sizes))


def test_stitch_over_hook_is_near_the_published_mean() -> None:
    # Leaflets and a toy book that name their hook: (stitches in 10 cm, hook mm).
    named = ((22, 3.25), (18.8, 3.5), (10, 6.5), (10, 6.0))
    mean = sum(100 / stitches / hook for stitches, hook in named) / len(named)
    assert mean == pytest.approx(1.53, abs=0.01)
    assert pytest.approx(mean, abs=0.05) == STITCH_PER_HOOK


@pytest.mark.parametrize(
    ("number", "label"),
    [
        (0, "1.25 mm (no common US size)"),
        (3, "2.75 mm (US C-2)"),
        (4, "3.5 mm (US E-4)"),  # the toy book's own hook for this gauge
        (6, "7 mm (no common US size)"),
    ],
)
def test_hook_for_the_usual_toy_gauges(number: int, label: str) -> None:
    assert hook_for(category(number).toy_gauge).label == label


def test_steel_hooks_say_that_their_number_is_a_steel_one() -> None:
    # US steel numbers, from memory: 8 is 1.5 mm, 12 is 1.0 mm, 14 is 0.75 mm.
    steel = {hook.mm: hook.label for hook in HOOKS if "steel" in hook.us}
    assert steel == {
        0.75: "0.75 mm (US steel 14)",
        1.0: "1 mm (US steel 12)",
        1.5: "1.5 mm (US steel 8)",
    }


def test_of_two_hooks_as_near_the_thinner_is_taken() -> None:
    assert hook_for(Gauge(4.75 * 1.5, 7.0)) == Hook(4.5, "7", "7")


@given(st.floats(1.25, 51.0))
def test_hook_for_is_the_nearest(width: float) -> None:
    chosen = hook_for(Gauge(width, width))
    assert all(abs(chosen.mm - width / 1.5) <= abs(hook.mm - width / 1.5) for hook in HOOKS)


# --- terms


def test_us_names_and_their_uk_names() -> None:
    # Published conversion charts and a term table.
    published = {
        "chain": "chain",
        "slip stitch": "slip stitch",
        "single crochet": "double crochet",
        "half double crochet": "half treble",
        "double crochet": "treble",
        "treble crochet": "double treble",
        "double treble crochet": "triple treble",
        "skip": "miss",
        "gauge": "tension",
    }
    assert published.items() <= US_TO_UK.items()


def test_the_words_of_both() -> None:
    # The same charts: sc is dc, sl st is ss, gauge is tension, skip is miss.
    us, uk = term_set(Terms.US), term_set(Terms.UK)
    assert (us.sc, us.sl_st, us.gauge, us.skip, us.sc_name) == (
        "sc", "sl st", "Gauge", "skip", "single crochet",
    )  # fmt: skip
    assert (uk.sc, uk.sl_st, uk.gauge, uk.skip, uk.sc_name) == (
        "dc", "ss", "Tension", "miss", "double crochet",
    )  # fmt: skip
    assert [terms.value for terms in Terms if terms.english] == ["us", "uk"]


@pytest.mark.parametrize("terms", [Terms.US, Terms.UK])
def test_every_short_word_is_explained_once(terms: Terms) -> None:
    words = term_set(terms)
    assert words.terms is terms
    short = [abbreviation for abbreviation, _ in words.abbreviations]
    assert sorted(short) == sorted(
        [
            *(words.sc, words.inc, words.dec, words.sl_st, words.ch),
            *(words.st, words.sts, words.rnd, words.rnds),
        ]
    )
    assert short == sorted(short, key=str.lower)


def _all_text(words: TermSet) -> str:
    return " ".join(f"{abbreviation}: {name};" for abbreviation, name in words.abbreviations)


def test_neither_explains_itself_in_the_others_stitches() -> None:
    us, uk = _all_text(term_set(Terms.US)), _all_text(term_set(Terms.UK))
    assert "increase: 2 sc in the same st" in us
    assert " dc" not in us
    assert "double" not in us
    assert "increase: 2 dc in the same st" in uk
    assert " sc" not in uk
    assert "single" not in uk


@pytest.mark.parametrize("terms", [Terms.US, Terms.UK])
def test_the_decrease_is_worked_through_front_loops(terms: Terms) -> None:
    # Tutorials: hook under the front loops of the next two stitches, then one stitch of both.
    words = term_set(terms)
    meaning = dict(words.abbreviations)["dec"]
    assert "front loops of the next 2 sts" in meaning
    assert meaning.endswith(f"as 1 {words.sc}")


# --- units


def test_units_are_those_of_definition() -> None:
    # International yard and pound, 1959: yard 0.9144 m, pound 0.45359237 kg, 16 oz to it.
    assert MM_PER_INCH == 914.4 / 36
    assert METRES_PER_YARD == 0.9144
    assert pytest.approx(453.59237 / 16, rel=1e-15) == GRAMS_PER_OUNCE


def test_lengths_in_both_units() -> None:
    assert LengthUnit.CM.to_mm(18) == 180
    assert LengthUnit.INCH.to_mm(2) == 50.8
    assert LengthUnit.INCH.from_mm(254) == pytest.approx(10)
    assert [unit.value for unit in LengthUnit] == ["cm", "in"]


@given(st.floats(0.0, 1e4), st.sampled_from(LengthUnit))
def test_to_mm_and_back(mm: float, unit: LengthUnit) -> None:
    assert unit.to_mm(unit.from_mm(mm)) == pytest.approx(mm)


@pytest.mark.parametrize(
    ("mm", "cm", "inches"),
    [
        (180.0, "18 cm", "7 1/8 in"),
        (183.4, "18.3 cm", "7 1/4 in"),
        (254.0, "25.4 cm", "10 in"),
        (12.7, "1.3 cm", "1/2 in"),
        (22.0, "2.2 cm", "7/8 in"),
        (253.9, "25.4 cm", "10 in"),
        (0.0, "0 cm", "0 in"),
    ],
)
def test_lengths_as_patterns_write_them(mm: float, cm: str, inches: str) -> None:
    assert [unit.format(mm) for unit in LengthUnit] == [cm, inches]


@given(st.floats(0.0, 5000.0))
def test_written_inches_are_within_a_sixteenth(mm: float) -> None:
    value, unit = 0.0, LengthUnit("in")
    for word in unit.format(mm).removesuffix(" in").split():
        above, _, below = word.partition("/")
        value += int(above) / int(below or 1)
    assert abs(value - mm / 25.4) <= 1 / 16 + 1e-9
