"""Texts of somebody who means harm, or nothing: read or refused, in proportion to their length.

No test asserts seconds. What would take more than in proportion is told by counting: a text twice
as long, or a hundred times, may not need more than so many times the calls of functions.
"""

from __future__ import annotations

import gc
import random
import sys
import tracemalloc
import unicodedata
from collections.abc import Callable
from types import FrameType
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.strategies_reading import TOKENS, check_laws, corpus_texts, damaged, random_text
from webapp.errors import RoundlingError
from webapp.reading import ReadPattern, Verdict, read_pattern
from webapp.reading.limits import MOST_CHARACTERS, MOST_LINES
from webapp.reading.nodes import MOST_STITCHES
from webapp.reading.reading import MOST_ROUNDS

START = "Rnd 1: 6 sc in a magic ring [6]\n"
MOST_MEMORY = 300_000_000
"""Bytes."""
MANY = settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))

SOUP = """Soup for four
1. Chop 2 onions and 3 carrots.
2. Fry them in 30 g of butter for 5 minutes (do not let them brown).
3. Add 1 litre of water and 200 g of lentils, cook for 25 minutes.
4. Salt. Serve (4 plates).
"""

FILLED = {
    name: (unit * MOST_CHARACTERS)[:MOST_CHARACTERS]
    for name, unit in {
        "brackets": "(",
        "numbers": "1.",
        "stitches": "sc, ",
        "stars": "* ",
        "labels": "Rnd 1: ",
        "counts": "[18] ",
        "digits": "1234567890",
        "one letter": "a",
        "words": "head body ",
        "repeats": "rep from * ",
        "times": "x 6 ",
        "together": "sc2tog",
        "ordinals": "1st2nd3rd",
        "ands": "Rnd 1 and ",
        "gauges": "20 sts and 20 rows = 10 cm ",
        "copies": "(make 2) ",
        "spaces": " " * 999 + "a",
        "tabs": "\t\tsc",
        "apostrophes": "'s",
    }.items()
}
LINES = {
    name: ((unit + "\n") * MOST_LINES)[: MOST_CHARACTERS // 2].rsplit("\n", 1)[0]
    for name, unit in {
        "lines of labels": "Rnd 1: sc",
        "lines of stitches": "sc,",
        "lines of headings": "HEAD",
        "lines of copies": "Make 2.",
        "lines of open brackets": "(sc",
        "lines of counts": "sc [18]",
        "lines of faults": "Rnd 2: (3 sc, inc) x 8 [30]",
        "lines of remarks": "Stuff firmly.",
        "lines of numbers": "2. sc",
    }.items()
}
BODIES = {
    "brackets 5,000 deep": "(" * 5000 + "sc" + ")" * 5000,
    "brackets 5,000 deep, each twice": "(" * 5000 + "sc" + ") x 2" * 5000,
    "brackets 50 deep, each twice": "(" * 50 + "sc" + ") x 2" * 50,
    "a repeat of repeats of a million": "((((sc) x 1000000) x 1000000) x 1000000) x 1000000 [6]",
    "a billion stitches": "1000000000 sc [1000000000]",
    "a number of 5,000 figures": "9" * 5000 + " sc [6]",
    "stars by the thousand": "*sc, inc* " * 5000,
    "bars by the thousand": "|sc, inc| " * 5000,
    "two hundred doubts": "2 sc, 2 hdc, 2 dc, (inc) inc 3, dec 2, " * 40 + "[6]",
    "thirty readings of each": "(2 sc, 2 hdc, 2 dc, inc 3, dec 2) inc, " * 8 + "sc in each st [6]",
    "a count of counts": "sc " + "(6) " * 900,
    "all repeated": "sc, repeat " * 250,
    "nothing but marks": "sc " + ".,;:-=&/" * 300,
}


def read_or_refuse(text: str) -> ReadPattern | None:
    """What is read, with its laws checked; None where it is refused in whole sentences."""
    try:
        read = read_pattern(text)
    except RoundlingError as error:
        assert error.asked
        assert error.why
        assert error.nearest
        return None
    check_laws(read)
    return read


def calls(work: Callable[[], Any]) -> int:
    """How many functions are called, of Python or of C."""
    number = 0

    def count(frame: FrameType, event: str, arg: object) -> None:
        nonlocal number
        number += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(before)
    return number


@pytest.mark.parametrize("text", ["", " ", "\n \r\n\t", "\u200b", "\ufeff", "\x00sc", "0", "()"])
def test_what_holds_no_words_is_refused(text: str) -> None:
    with pytest.raises(RoundlingError):
        read_pattern(text)


def test_a_recipe_for_soup_has_no_round_that_agrees() -> None:
    read = read_or_refuse(SOUP)
    verdicts = [r.verdict for part in read.parts for r in part.rounds] if read else []
    assert Verdict.AGREES not in verdicts


def test_a_megabyte_is_refused_unread() -> None:
    with pytest.raises(RoundlingError, match="1000000 characters"):
        read_pattern("a" * 1_000_000)
    with pytest.raises(RoundlingError, match="lines"):
        read_pattern("a\n" * (MOST_LINES + 1))


@pytest.mark.parametrize("name", [*FILLED, *LINES])
def test_a_text_full_of_one_thing_is_read_or_refused(name: str) -> None:
    read_or_refuse({**FILLED, **LINES}[name])


@pytest.mark.parametrize("name", BODIES)
def test_a_round_that_nobody_works_is_no_round_that_agrees(name: str) -> None:
    remarks = "Stuff it firmly.\n" * 20  # so that it has letters enough to be a text
    text = f"{START}Rnd 2: {BODIES[name]}\nRnd 3: sc in each st around [6]\n{remarks}"
    read = read_or_refuse(text)
    assert read is not None
    assert read.parts[0].rounds[0].verdict is Verdict.AGREES
    assert read.parts[0].rounds[1].verdict is not Verdict.AGREES


@pytest.mark.parametrize("label", ["2-1000000000", "2 to 999999999999", "2-999", "999-2", "2-2"])
def test_a_range_of_more_rounds_than_any_toy_has_does_not_become_them(label: str) -> None:
    read = read_or_refuse(f"{START}Rnds {label}: sc in each st around [6]\n" * 3)
    assert read is not None
    assert sum(len(part.rounds) for part in read.parts) <= MOST_ROUNDS + 6


@pytest.mark.parametrize("work", ["inc", "(inc, inc)", "sc, inc", "2 sc in next st", "inc3"])
def test_rounds_that_could_double_a_thousand_times_are_not_worked_out(work: str) -> None:
    """Said once or repeated to the end of a round that was doubled itself: 2^998 stitches."""
    read = read_or_refuse(f"{START}rnds 2-999: {work} [24]\n")
    assert read is not None
    made = [r.count or 0 for part in read.parts for r in part.rounds]
    assert max(made) <= 2 * MOST_STITCHES


def test_rounds_past_the_most_are_kept_unread() -> None:
    lines = "Rnds 2-999: sc in each st around [6]\n" * (MOST_ROUNDS // 998 + 2)
    read = read_or_refuse(START + lines)
    assert read is not None
    rounds = [r for part in read.parts for r in part.rounds]
    assert len(rounds) <= MOST_ROUNDS + 9
    assert rounds[-1].verdict is Verdict.UNREAD


CATEGORIES = sorted({unicodedata.category(chr(code)) for code in range(sys.maxunicode + 1)})


@pytest.mark.parametrize("category", CATEGORIES)
def test_characters_of_every_category_are_read_or_refused(category: str) -> None:
    """Between stitches, in labels, in counts, alone: 40 of each category of Unicode."""
    source = random.Random(category)
    codes = [c for c in range(sys.maxunicode + 1) if unicodedata.category(chr(c)) == category]
    for code in source.sample(codes, min(40, len(codes))):
        odd = chr(code)
        read_or_refuse(odd * 50)
        read_or_refuse(f"{START}Rnd {odd}2{odd}: {odd}inc{odd} x {odd}6 [{odd}12{odd}]\n{odd}")


def test_lone_surrogates_and_marks_of_direction_are_read_or_refused() -> None:
    for odd in ("\ud800", "\udfff", "\u202e", "\u200f", "\u2066", "\u061c", "\ufeff", "\ufffe"):
        read = read_or_refuse(f"{START}Rnd 2: {odd}inc x 6{odd} [12]\n")
        assert read is not None
        assert read.parts[0].rounds[0].count == 6


@pytest.mark.parametrize("line", ["\n", "\r\n", "\r", "\u2028", "\u2029", "\x0b", "\x0c", "\x85"])
def test_lines_of_every_kind_are_lines(line: str) -> None:
    """The line boundaries of Unicode Standard Annex 14 (as of `str.splitlines`)."""
    text = line.join((START.strip(), "Rnd 2: inc x 6 [12]", "Rnds 3-4: sc in each st around [12]"))
    read = read_or_refuse(text)
    assert read is not None
    assert read.parts[0].counts == (6, 12, 12, 12)


def test_memory_is_bounded() -> None:
    """While texts are read, and less than a letter each is left of them afterwards."""
    long = [f"Rnd {at}: " + f"sc {at}, inc, " * 200 for at in range(2, 50)]
    texts = [FILLED[name] for name in ("labels", "ands", "stitches")]
    texts += [LINES[name] for name in ("lines of labels", "lines of faults", "lines of stitches")]
    texts += [START + "\n".join(long)]
    read_or_refuse(START)  # tables and patterns are made once
    tracemalloc.start()
    try:
        for text in texts:
            read_or_refuse(text)
        gc.collect()
        left, most = tracemalloc.get_traced_memory()
        assert most < MOST_MEMORY
        assert left < sum(map(len, texts))
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize("name", [*FILLED, *LINES])
def test_cost_grows_in_proportion(name: str) -> None:
    """Four times the text, at most six times the calls: what grows with the square needs 16."""
    whole = {**FILLED, **LINES}[name]
    read_or_refuse(whole[:1000])  # tables and patterns are made once
    quarter, all_of_it = (whole[: len(whole) // 8], whole[: len(whole) // 2])
    few = calls(lambda: read_or_refuse(quarter))
    assert calls(lambda: read_or_refuse(all_of_it)) < 6 * few + 50_000


@given(st.integers(0, 2**32))
@settings(MANY, max_examples=250)
def test_random_texts_are_read_or_refused_and_keep_the_laws(seed: int) -> None:
    read_or_refuse(random_text(random.Random(seed)))


@given(st.text(max_size=200))
@MANY
def test_any_characters_are_read_or_refused(text: str) -> None:
    read_or_refuse(text)
    read_or_refuse(f"{START}Rnd 2: {text} inc x 6 [12]")


@given(st.lists(st.sampled_from(TOKENS), max_size=60).map("".join))
@MANY
def test_tokens_in_any_order_are_read_or_refused(text: str) -> None:
    read_or_refuse(text)
    read_or_refuse(START + text)


@pytest.mark.parametrize("place", range(len(corpus_texts())))
def test_texts_of_the_corpus_keep_the_laws_whole_and_damaged(place: int) -> None:
    assert read_or_refuse(corpus_texts()[place]) is not None
    read_or_refuse(damaged(random.Random(place)))


@pytest.mark.parametrize("text", [START + "Rnd 2: inc x 6 [12]\nR3-4 sc\n", SOUP])
def test_nothing_of_a_text_stays_in_memory(text: str) -> None:
    """What is remembered with a bound is remembered of texts; the rest is tables of languages."""
    read_or_refuse(text)
    modules = [m for name, m in sys.modules.items() if name.startswith("webapp.reading")]
    bounded = {
        f"{thing.__module__}.{thing.__name__}": thing.cache_info().currsize
        for module in modules
        for thing in vars(module).values()
        if hasattr(thing, "cache_info") and thing.cache_info().maxsize is not None
    }
    assert set(bounded.values()) == {0}, bounded
