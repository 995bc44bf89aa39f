"""A pattern written out again: read back, it is the same stitches."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, given, settings

from tests.reader import any_stitches, read_all_kinds, unwrapped
from tests.strategies import design_of, recipes
from tests.strategies_rework import plain_patterns, row_of
from webapp.pattern import LineKind, part_lines, working_order
from webapp.pattern.wording import work_text
from webapp.reading import USES, Begin, read_pattern
from webapp.rework.model import PlainPart, PlainPattern, PlainRemark, PlainRound
from webapp.rework.writing import written
from webapp.rounds import Start, WorkedPart, WorkedStrip
from webapp.rounds.repeats import KINDS, LETTERS
from webapp.way import make_toy
from webapp.yarns import Gauge, Terms, term_set

US, UK = term_set(Terms.US), term_set(Terms.UK)
SINGLE = {Terms.US: "sc", Terms.UK: "dc"}


def test_every_kind_that_is_read_has_a_letter_of_its_own() -> None:
    assert set(USES) <= set(LETTERS)
    assert len(KINDS) == len(LETTERS)


@pytest.mark.parametrize("terms", [Terms.US, Terms.UK])
@given(pattern=plain_patterns())
@settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))
def test_whatever_is_written_reads_back(terms: Terms, pattern: PlainPattern) -> None:
    """The same parts, rounds, stitches and counts, read by the tests' own reader; remarks in their
    places."""
    text = written(pattern, term_set(terms))
    check_remarks(text, pattern)
    read = read_all_kinds(text, SINGLE[terms])
    assert [(title, copies) for title, copies, _ in read] == [
        (part.title.upper(), part.copies) for part in pattern.parts
    ]
    for (_, _, got), part in zip(read, pattern.parts, strict=True):
        assert len(got) == len(part.rounds)
        for worked, r in zip(got, part.rounds, strict=True):
            said = [stitch for arc in r.arcs for stitch in row_of(arc)]
            if r.number == 1 and part.begin is Begin.OVAL and worked.row != said:
                assert len(worked.row) == r.count
            else:
                assert worked.row == said
            assert worked.count == r.count
            assert (worked.left, worked.joined) == (r.left, r.joined)
            if r.number > 1:
                assert worked.loops == r.loops
                assert worked.turned == (r.turned or part.rows)


def check_remarks(text: str, pattern: PlainPattern) -> None:
    """Every remark stands once, after its round and before the next."""
    lines = unwrapped(text)
    for part in pattern.parts:
        start = lines.index(f"{part.title.upper()} (make {part.copies})")
        end = next((k for k in range(start, len(lines)) if not lines[k]), len(lines))
        done, seen = 0, []
        for line in lines[start + 1 : end]:
            if line.startswith(("Rnd", "Row")):
                label = line.split(":")[0].split()[1]
                done = int(label.split("-")[-1])
            else:
                seen.append((done, line))
        assert seen == [(remark.after, remark.text) for remark in part.remarks]


@pytest.mark.parametrize(
    ("work", "us", "uk"),
    [
        ((("inc3", 1), ("sc", 5)) * 2, "(3 sc in the next st, 5 sc) x 2",
         "(3 dc in the next st, 5 dc) x 2"),
        ((("sc", 4), ("inc3", 2)), "4 sc, 3 sc in each of the next 2 sts",
         "4 dc, 3 dc in each of the next 2 sts"),
        ((("dec3", 1), ("sc", 2)) * 3, "(sc3tog, 2 sc) x 3", "(dc3tog, 2 dc) x 3"),
        ((("sc", 2), ("skip", 1)) * 4, "(2 sc, skip 1 st) x 4", "(2 dc, miss 1 st) x 4"),
        ((("sl st", 3), ("sc", 9)), "3 sl st, 9 sc", "3 ss, 9 dc"),
        ((("hdc", 2), ("hdc inc", 1)) * 6, "(2 hdc, 2 hdc in the next st) x 6",
         "(2 htr, 2 htr in the next st) x 6"),
        ((("dc", 12),), "dc in each st around", "tr in each st around"),
        ((("tr", 2), ("dc", 2), ("hdc dec", 1)), "2 tr, 2 dc, hdc2tog", "2 dtr, 2 tr, htr2tog"),
        ((("sc", 2), ("ch", 3), ("skip", 3)), "2 sc, ch 3, skip 3 sts",
         "2 dc, ch 3, miss 3 sts"),
    ],
)  # fmt: skip
def test_the_words_of_every_kind(work: tuple[tuple[str, int], ...], us: str, uk: str) -> None:
    """UK names by the conversion table the yarn makers publish (sc -> dc, hdc -> htr, dc -> tr,
    tr -> dtr, slip stitch ss, skip -> miss); the forms: common practice, no source."""
    assert work_text((work,), US) == us
    assert work_text((work,), UK) == uk
    if "each st" not in us:
        assert any_stitches(us, "sc") == any_stitches(uk, "dc") == row_of(work)


def plain_part(part: WorkedPart | WorkedStrip, title: str, copies: int) -> PlainPart:
    """A part of one of our own toys as a plain part without remarks."""
    if isinstance(part, WorkedStrip):
        row = (("sc", part.per_row),)
        rounds = tuple(
            PlainRound(n + 1, part.per_row if n else 0, part.per_row, (row,), turned=bool(n))
            for n in range(part.rows)
        )
        return PlainPart(title, copies, Begin.FLAT, rounds, chain=part.per_row + 1, rows=True)
    begins = {
        Start.RING: Begin.RING,
        Start.CHAIN: Begin.OVAL,
        Start.OPEN: Begin.CHAIN_RING,
        Start.LEGS: Begin.LEGS,
    }
    return PlainPart(
        title,
        copies,
        begins[part.order.start],
        tuple(PlainRound(r.number, r.before, r.count, r.arcs) for r in part.rounds),
        chain=part.start_chains,
        per_leg=(part.per_leg, part.per_leg) if part.order.start is Start.LEGS else (),
        closed=part.closed,
    )


@pytest.mark.parametrize("name", ["otter", "owl", "rabbit", "whale"])
@pytest.mark.parametrize("terms", ["us", "uk"])
def test_our_own_toys_are_written_with_the_same_lines(name: str, terms: str) -> None:
    """Each line of rounds of our own pattern, taken apart at notes, is one that `written` writes
    with remarks at the same rounds."""
    toy = make_toy(recipes()[name], design_of(recipes()[name], terms=terms))
    words = term_set(Terms(terms))
    for recipe in working_order(toy.worked.recipe):
        lines = part_lines(toy.worked, toy.materials, recipe, words)
        own = [line for line in lines if line.kind is LineKind.ROUND]
        if any("changing to" in line.text for line in own):
            continue
        part = plain_part(toy.worked.parts[recipe.name], recipe.label, recipe.copies)
        notes = tuple(PlainRemark(line.last, "Note.") for line in own)
        part = PlainPart(**{**part.__dict__, "remarks": notes})
        text = unwrapped(written(PlainPattern("Toy", None, (part,)), words))
        rounds = [line for line in text if re.match(r"(Rnd|Row)s? \d", line)]
        assert [line.split(": ", 1)[1] for line in rounds] == [
            f"{line.text} [{line.count}]" for line in own
        ]


def ball() -> PlainPattern:
    rounds = (
        PlainRound(1, 0, 6, ((("sc", 6),),)),
        PlainRound(2, 6, 12, ((("inc", 6),),)),
        PlainRound(3, 12, 12, ((("sc", 12),),), loops="back"),
        PlainRound(4, 12, 12, ((("sc", 12),),)),
        PlainRound(5, 12, 12, ((("sc", 12),),)),
        PlainRound(6, 12, 6, ((("dec", 6),),)),
    )
    head = PlainPart(
        "Head", 2, Begin.RING, rounds, (PlainRemark(0, "In brown."), PlainRemark(5, "Stuff."))
    )
    return PlainPattern("Ball toy", Gauge.per_10cm(22, 23), (head,), ("A ball.",), ("Sew it.",))


def test_a_remark_looks_like_no_heading_and_no_round() -> None:
    remarks = (
        PlainRemark(2, "Now the head"),
        PlainRemark(4, "increases sit on top of each other, that's fine."),
    )
    part = PlainPart(**{**ball().parts[0].__dict__, "remarks": remarks})
    text = written(PlainPattern("Toy", None, (part,)), US)
    assert "\nNow the head.\n" in text
    assert "\nNote: increases sit on top of each other, that's fine.\n" in text
    (read,) = read_pattern(text).parts
    assert read.counts == (6, 12, 12, 12, 12, 6)


def test_a_small_pattern_as_a_whole() -> None:
    """Golden: read by a person."""
    assert written(ball(), US) == """\
BALL TOY
Terms: US (sc is the single crochet that UK patterns call double crochet, dc)

GAUGE
22 sc and 23 rnds = 10 x 10 cm (4 x 4 in).

ABBREVIATIONS
dec = invisible decrease: hook through the front loops of the next 2 sts, then finish them as 1 sc
inc = increase: 2 sc in the same st
Rnd = round
Rnds = rounds
sc = single crochet
st = stitch

BEFORE YOU START
Work in a spiral without joining; move a marker up to the first st of each rnd.
The number in square brackets at the end of a line is how many sts that rnd has.
(...) x 6 and [...] x 2: work what is inside that many times.

A ball.

HEAD (make 2)
In brown.
Rnd 1: 6 sc in a magic ring [6]
Rnd 2: inc x 6 [12]
Rnd 3: in back loops only, sc in each st around [12]
Rnds 4-5: sc in each st around [12]
Stuff.
Rnd 6: dec x 6 [6]

Sew it.
"""
