"""Cues, captions and the spoken script: against the written pattern, read by other readers."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest
import srt
import webvtt as webvtt_reader
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.reader import read_parts
from tests.spoken import hear, number
from tests.spoken_german import english
from tests.spoken_german import number as german_number
from tests.strategies import TEST_TOYS, design_of, designs, recipes
from webapp.errors import RoundlingError
from webapp.film import (
    Leaf,
    Repeat,
    Step,
    Timing,
    Voice,
    film_cues,
    film_parts,
    made_by,
    spoken_script,
    stitching_seconds,
    subrip,
    webvtt,
)
from webapp.film.numbers import in_words
from webapp.film.speaking import spoken_label, spoken_note, spoken_steps
from webapp.pattern import pattern_text, sewing_lines
from webapp.recipes import Design, Recipe, load_recipes
from webapp.way import Toy, make_toy
from webapp.yarns import Terms, term_set

TOYS = {**recipes(), **load_recipes(TEST_TOYS)}
US, UK = (Voice(term_set(terms)) for terms in (Terms.US, Terms.UK))
LABEL = re.compile(r"(.+) · (?:Rnds?|Rows?) (\d+)(?:-(\d+))?")


SPOKEN = [
    terms
    for terms in Terms
    if not terms.english and term_set(terms).catalogue.has("{number} times")
]
"""The other languages that have the sentences of a script; that none is missing for good is seen
where the catalogues are compared with the source."""


def toy_of(name: str, **texts: object) -> Toy:
    return make_toy(TOYS[name], design_of(TOYS[name], **texts))


def cues_of(  # type: ignore[no-untyped-def]
    toy: Toy, *, each_round: bool = False, whole: bool = False, **timing: object
):
    design = toy.worked.design
    voice = Voice(term_set(design.terms))
    words = voice.whole if whole else voice.words
    parts = film_parts(toy.worked, toy.materials, words, each_round=each_round)
    times = Timing(design.stitches_per_minute, **timing)  # type: ignore[arg-type]
    return film_cues(parts, times, voice)


def written(toy: Toy, single: str = "sc") -> list[tuple[str, list[tuple[list[str], int]]]]:
    """Parts and their rounds as the tests' own reader reads the pattern."""
    text = pattern_text(toy.worked, toy.materials, toy.cautions)
    return [(part.title, part.rounds) for part in read_parts(text, single)]


def worked(steps: tuple[Step, ...]) -> list[str]:
    """The stitches of a tree, one by one, without chains."""
    out: list[str] = []
    for step in steps:
        if isinstance(step, Repeat):
            out += worked(step.steps) * step.times
        elif step.kind not in ("ch", "sl st"):
            out += [step.kind] * step.number
    return out


# --- the tree and what is said


@pytest.mark.parametrize("name", TOYS)
def test_the_tree_of_every_round_is_the_round_that_is_written(name: str) -> None:
    """Against the written pattern, read by the tests' own reader; in rows the reader gives only
    counts."""
    toy = toy_of(name)
    parts = film_parts(toy.worked, toy.materials, US.words, each_round=True)
    for part, (title, rounds) in zip(parts, written(toy), strict=True):
        assert part.label.upper() == title
        assert [line.first for line in part.lines] == list(range(1, len(rounds) + 1))
        for line, (row, count) in zip(part.lines, rounds, strict=True):
            assert made_by(line.steps) == count == line.count
            assert part.in_rows or worked(line.steps) == row


def check_heard(recipe: Recipe, design: Design) -> None:
    """The script, heard, has the parts and stitches that are written, and says each count."""
    try:
        toy = make_toy(recipe, design)
    except RoundlingError:
        assume(False)
    single, short = (
        ("single crochet", "sc") if design.terms is Terms.US else ("double crochet", "dc")
    )
    script = script_of(toy)
    blocks = script.split("\n\n")
    read = written(toy, short)
    assert len(blocks) == len(read) + 2
    for block, (title, rounds) in zip(blocks[1:-1], read, strict=True):
        first, *lines, last = block.splitlines()
        assert first.upper().startswith(f"THE {title}. MAKE ")
        assert last.upper().startswith(f"THAT IS THE END OF THE {title}.")
        lines = [x for x in lines if re.match(r"(Round|Row)s? (?:(?! are )[a-z -])+: ", x)]
        check_rounds(lines, rounds, single, in_rows="Row one" in block)
    assert not re.search(r"\d", script.removeprefix(recipe.name))


def check_rounds(
    lines: list[str], rounds: list[tuple[list[str], int]], single: str, *, in_rows: bool
) -> None:
    heard, before = [], 0
    for line in lines:
        one = hear(line, before or rounds[0][1], single)
        assert one.first == len(heard) + 1
        for _ in range(one.first, one.last + 1):
            heard.append((one.stitches, one.count))
        before = one.count
    if in_rows:
        assert [count for _, count in heard] == [count for _, count in rounds]
    else:
        assert heard == rounds


def script_of(toy: Toy) -> str:
    voice = Voice(term_set(toy.worked.design.terms))
    sewing = list(sewing_lines(toy.worked, toy.materials, voice.whole))
    title = voice.words.name(toy.worked.recipe.name)
    return spoken_script(title, cues_of(toy, whole=True), sewing, voice)


@pytest.mark.parametrize("name", TOYS)
@pytest.mark.parametrize("terms", ["us", "uk"])
def test_the_script_heard_is_the_pattern(name: str, terms: str) -> None:
    check_heard(TOYS[name], design_of(TOYS[name], terms=terms))


@pytest.mark.parametrize("name", TOYS)
def test_the_german_script_heard_is_the_pattern(name: str) -> None:
    """Heard word by word; the rounds are those of the pattern in English."""
    script = script_of(toy_of(name, terms="de"))
    blocks, read = script.split("\n\n")[1:-1], written(toy_of(name))
    assert len(blocks) == len(read)
    for block, (_, rounds) in zip(blocks, read, strict=True):
        lines = [x for x in block.splitlines() if re.match(r"(Runden?|Reihen?) [\wäöüß ]+: ", x)]
        heard = [english(line) for line in lines if "streifen" not in line.lower()]
        check_rounds(heard, rounds, "single crochet", in_rows="Reihe eins" in block)
    assert not re.search(r"\d", script)


def test_the_german_listener_counts_as_german_does() -> None:
    known = {"eine": 1, "sieben": 7, "einundzwanzig": 21, "einhundertzwei": 102, "dreißig": 30,
             "zweihundert": 200, "einhundertsechsundneunzig": 196, "feste": None}  # fmt: skip
    assert {word: german_number(word) for word in known} == known


@pytest.mark.parametrize("terms", SPOKEN)
def test_a_script_is_in_one_language(terms: Terms) -> None:
    """No figure, no English word, and none of the pattern's short words that are not whole."""
    words = term_set(terms)
    toys = [toy_of(name, terms=terms.value) for name in ("rabbit", "whale")]
    said = "\n".join(script_of(toy) for toy in toys)
    assert not re.search(r"\d", said)
    english_words = {"the", "and", "with", "stitch", "stitches", "round", "then", "make", "one"}
    assert not english_words & {*re.findall(r"\w+", said.lower())}
    whole = Voice(words).whole
    short = ({words.sc, words.sl_st} - {whole.sc, whole.sl_st}) | {"mm", "cm"}
    assert not short & {*re.findall(r"\w+", said)}
    for cue in cues_of(toys[0]):
        assert cue.said in said


def test_numbers_agree_with_what_they_count() -> None:
    """Grammar, from memory: Spanish veintiún puntos and veintiuna vueltas, doscientas
    vueltas; French vingt et une mailles; Portuguese vinte e duas vezes; German eine Masche; Swedish
    tjugoen maskor, but tjugoett varv."""
    def said(language: str, form: str, number: int) -> str:
        return format(in_words(number, Terms(language)), form)

    assert said("es", "m", 21) == "veintiún"
    assert said("es", "m", 31) == "treinta y un"
    assert said("es", "f", 21) == "veintiuna"
    assert said("es", "f", 200) == "doscientas"
    assert said("fr", "f", 21) == "vingt et une"
    assert said("pt", "f", 22) == "vinte e duas"
    assert said("pt", "f", 200) == "duzentas"
    assert said("de", "f", 1) == "eine"
    assert said("it", "m", 1) == "un"
    assert said("da", "m", 101) == "ethundrede og en"
    assert said("sv", "m", 21) == "tjugoen"
    assert said("sv", "", 21) == "tjugoett"
    assert said("fr", "", 21) == said("fr", "m", 21) == "vingt et un"
    assert in_words(0.5, Terms.SPANISH) == "cero coma cinco"


def test_a_language_without_the_sentences_is_refused() -> None:
    """A catalogue that lacks one of them, and a language nobody counts in."""
    words = term_set(Terms.GERMAN)
    poor = replace(words.catalogue, known=words.catalogue.known - {"{number} times"})
    voice = Voice(replace(words, catalogue=poor))
    assert voice.times(2) == "zweimal"
    with pytest.raises(RoundlingError, match=r"German.*not there in that language yet.*US or UK"):
        voice.times(3)


@pytest.mark.parametrize("name", recipes())
@given(data=st.data())
@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
def test_the_script_heard_is_the_pattern_over_all_slider_ranges(
    name: str, data: st.DataObject
) -> None:
    check_heard(recipes()[name], data.draw(designs(name, tallest_mm=400.0)))


def test_words_of_a_repeat() -> None:
    """The first is the sentence the script was asked for with, the others our own; that a listener
    hears where a repeat ends is shown by hearing them back, above."""
    sc, inc = Leaf("sc", 1), Leaf("inc", 1)
    inner = Repeat((sc, inc), 5)
    said = {
        (Repeat((sc, inc), 6),): "one single crochet, then an increase, six times",
        (Repeat((inner, Leaf("sc", 20)), 2),): (
            "all of this twice: five times: one single crochet, then an increase; after that, "
            "twenty single crochet"
        ),
        (Leaf("sc", 2), inc, inner): (
            "two single crochet, then an increase; after that, five times: one single crochet, "
            "then an increase"
        ),
        (sc, Repeat((inner, inc), 2), sc): (
            "one single crochet; after that, from point one: five times: one single crochet, then "
            "an increase; after that, an increase; all from point one, twice in all; after that, "
            "one single crochet"
        ),
    }
    for steps, words in said.items():
        assert spoken_steps(steps, US) == words
        assert spoken_steps(steps, UK) == words.replace("single crochet", "double crochet")


leaves = st.builds(Leaf, st.sampled_from(["sc", "inc", "dec"]), st.integers(1, 130))
groups = st.builds(Repeat, st.lists(leaves, min_size=2, max_size=4).map(tuple), st.integers(2, 12))
inside = st.lists(st.one_of(leaves, groups), min_size=2, max_size=4).map(tuple)
outer = st.builds(Repeat, inside, st.integers(2, 9))


def heard_apart(steps: tuple[Step, ...]) -> bool:
    """Whether no two repeats of repeats stand in the round: the listener of the tests knows one."""
    nested = [s for s in steps if isinstance(s, Repeat) and any(
        isinstance(inner, Repeat) for inner in s.steps)]  # fmt: skip
    return len(nested) <= 1


@given(st.lists(st.one_of(leaves, groups, outer), min_size=1, max_size=5).map(tuple))
@settings(max_examples=300, deadline=None)
def test_any_tree_is_heard_as_it_is(steps: tuple[Step, ...]) -> None:
    assume(heard_apart(steps))
    for voice, single in ((US, "single crochet"), (UK, "double crochet")):
        said = f"Round two: {spoken_steps(steps, voice)}; one stitch."
        assert hear(said, 0, single).stitches == worked(steps)


def test_notes_are_said_in_full() -> None:
    """Numbers as English counts them; the words are those of the toys' own notes, written whole."""
    note = "Slip stitch in the next stitch, leaving a tail of 70 centimeters (27 1/2 inches)."
    assert spoken_note(note, US) == (
        "Slip stitch in the next stitch, leaving a tail of seventy centimeters (twenty-seven and a "
        "half inches)."
    )
    assert spoken_note("place the 15 mm eyes between rounds 19 and 20, 102 stitches apart", UK) == (
        "Place the fifteen millimetre eyes between rounds nineteen and twenty, one hundred and two "
        "stitches apart"
    )
    assert spoken_note("rounds 3-6, 15 mm wide, 1 stitch", US) == (
        "Rounds three to six, fifteen millimeters wide, one stitch"
    )
    assert spoken_note("rounds 99-100, then 3-5", UK) == (
        "Rounds ninety-nine and one hundred, then three to five"
    )


AND = {"us": "and", "uk": "and", "de": "und", "fr": "et", "es": "y", "it": "e", "nl": "en",
       "pt": "e", "da": "og", "sv": "och", "nb": "og", "ja": "と"}  # fmt: skip
"""What joins two numbers: common knowledge, no source."""


@pytest.mark.parametrize("terms", Terms)
def test_two_rounds_are_joined_by_and_more_by_to(terms: Terms) -> None:
    voice = Voice(term_set(terms))
    line = cues_of(toy_of("otter"))[0].line
    for in_rows in (False, True):
        two, three = (
            spoken_label(replace(line, first=4, last=last), in_rows, voice) for last in (5, 6)
        )
        four, five = voice.number(4), voice.number(5)
        assert re.search(rf"{four}\w*\s?{AND[terms.value]}\s?{five}", two), two
        assert not re.search(rf"{four}\w*\s?{AND[terms.value]}\s", three), three
    said = spoken_note("4-5; 4-6", voice)
    assert re.fullmatch(rf"{four}\s?{AND[terms.value]}\s?{five}; .+", said, re.IGNORECASE), said


def test_nothing_is_cut_short_in_a_script() -> None:
    """Short words are those of the abbreviation list."""
    for name, terms in (("otter", "us"), ("rabbit", "uk"), ("whale", "us")):
        said = script_of(toy_of(name, terms=terms))
        for short in ("st", "sts", "Rnd", "Rnds", "rnds", "ch", "sl", "sc", "dc", "cm", "mm"):
            assert not re.search(rf"(?<![\w-]){re.escape(short)}(?![\w-])", said), (name, short)


# --- times and files


def check_captions(toy: Toy, *, each_round: bool) -> None:
    """By webvtt-py and srt: every round of every part once and in order, with its count; times
    rise and do not overlap."""
    cues = cues_of(toy, each_round=each_round, begin=2.5)
    captions = webvtt_reader.from_buffer(io.StringIO(webvtt("Test", cues)), format="vtt")
    subtitles = list(srt.parse(subrip(cues)))
    assert len(captions) == len(subtitles) == len(cues)
    assert [s.index for s in subtitles] == list(range(1, len(cues) + 1))
    expected = [
        (title, number, count)
        for title, rounds in written(toy)
        for number, (_, count) in enumerate(rounds, 1)
    ]
    covered, clock = [], 2.5
    for caption, subtitle in zip(captions, subtitles, strict=True):
        assert caption.text == subtitle.content
        start, end = caption.start_in_seconds, caption.end_in_seconds
        exact = subtitle.start.total_seconds(), subtitle.end.total_seconds()
        assert exact == pytest.approx((clock, exact[1]), abs=1e-9)
        assert (int(exact[0]), int(exact[1])) == (int(start), int(end))
        assert exact[1] >= exact[0] + 1.0
        clock = exact[1]
        where, what = caption.text.split("\n")
        found = LABEL.fullmatch(where)
        assert found, where
        count = int(what.rpartition("[")[2].removesuffix("]"))
        for n in range(int(found[2]), int(found[3] or found[2]) + 1):
            covered.append((found[1].upper(), n, count))
        assert not each_round or found[3] is None
    assert covered == expected


@pytest.mark.parametrize("each_round", [False, True])
@pytest.mark.parametrize("name", TOYS)
def test_caption_files_cover_every_round_once(name: str, each_round: bool) -> None:
    check_captions(toy_of(name), each_round=each_round)


@pytest.mark.parametrize("name", TOYS)
def test_the_cues_take_as_long_as_the_toy_s_hours(name: str) -> None:
    """Each part as often as it is made, with the sewing: the middle of the hours of the materials,
    15 minutes to sew a part (common practice, no source). Speaking comes on top."""
    toy = toy_of(name, pace=20)
    stitches = {p.name: 0.0 for p in toy.worked.recipe.parts}
    for cue in cues_of(toy):
        spoken = len(cue.said.split()) * 60 / 150  # 150 words a minute: common practice, no source
        stitches[cue.part.name] += (cue.length_ms / 1000 - spoken) * cue.part.copies
    sewn = sum(
        p.copies for p in toy.worked.recipe.parts if p.place.seat.value in ("opening", "surface")
    )
    hours = (sum(stitches.values()) / 60 + 15 * sewn) / 60
    assert hours == pytest.approx(toy.materials.hours.value, rel=0.002)


def test_the_pace_and_a_faster_film_shorten_the_work_and_not_the_words() -> None:
    """Law: work / pace / faster + words."""
    slow, quick, film = (
        cues_of(toy_of("whale", pace=10)),
        cues_of(toy_of("whale", pace=20)),
        cues_of(toy_of("whale", pace=10), faster=8.0),
    )
    for a, b, c in zip(slow, quick, film, strict=True):
        words = 400 * len(a.said.split())
        assert (a.length_ms - words) / 2 == pytest.approx(b.length_ms - words, abs=1)
        assert (a.length_ms - words) / 8 == pytest.approx(c.length_ms - words, abs=1)
    assert stitching_seconds(10, 10) == pytest.approx(60 * 1.45)


def test_a_length_given_outright_moves_what_follows() -> None:
    toy = toy_of("owl")
    plain, set_by_hand = cues_of(toy), cues_of(toy, lengths={("body", 2): 12.25})
    assert (plain[1].part.name, plain[1].line.first) == ("body", 2)
    shift = 12_250 - plain[1].length_ms
    assert set_by_hand[1].length_ms == 12_250
    assert set_by_hand[1].planned_ms == plain[1].length_ms
    assert [c.start_ms for c in set_by_hand[2:]] == [c.start_ms + shift for c in plain[2:]]


@pytest.mark.parametrize("where", [("body", 999), ("elbow", 1)])
def test_a_length_for_no_caption_is_refused(where: tuple[str, int]) -> None:
    with pytest.raises(RoundlingError, match="No caption of this film begins there"):
        cues_of(toy_of("owl"), lengths={where: 5.0})


@pytest.mark.parametrize(
    "label", ["A --> B", "<b>Ear</b> & <i>", "Ear\n\n5", "00:00 --> 1", "耳 🧶"]
)
def test_no_name_breaks_a_caption_file(label: str) -> None:
    """By the same two readers; in WebVTT `&` and `<` are written as the standard's escapes."""
    toy = toy_of("whale")
    part = replace(film_parts(toy.worked, toy.materials, US.words)[0], label=label)
    cues = film_cues([part], Timing(15), US)
    captions = webvtt_reader.from_buffer(io.StringIO(webvtt(label, cues)), format="vtt")
    assert len(captions) == len(cues)
    subtitles = list(srt.parse(subrip(cues)))
    assert len(subtitles) == len(cues)
    shown = " ".join(label.replace("-->", "→").split())
    assert subtitles[0].content.startswith(f"{shown} · Rnd 1\n")
    escaped = shown.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    assert f"\n{escaped} · Rnd 1\n" in webvtt(label, cues)


def test_the_listener_of_these_tests_counts_as_english_does() -> None:
    known = {"seven": 7, "twenty-one": 21, "one hundred and two": 102, "one hundred two": 102,
             "one thousand, two hundred".replace(",", ""): 1200}  # fmt: skip
    assert {words: number(words) for words in known} == known
