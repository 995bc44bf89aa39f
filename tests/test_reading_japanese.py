"""Japanese patterns: words without spaces, the place before the stitch, the number behind it.

Words and symbols' tables (round, stitches, change, read from the bottom up): public Japanese lesson
pages. How makers write besides: common practice, no source. Expected stitches are worked out by
hand beside each line; what our own writer makes is held against the rounds it was made from.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.strategies import TEST_TOYS, default_design, designs, recipes
from tests.strategies_rework import plain_parts
from tests.test_pattern import TOYS, text_of
from webapp.errors import RoundlingError
from webapp.pattern import working_order
from webapp.pattern.paper import WIDTH, columns
from webapp.pattern.starts import settled_start, start_text
from webapp.pattern.wording import turned, work_text
from webapp.pattern.words import round_words
from webapp.reading import Begin, ReadPart, ReadPattern, ReadRound, Verdict, Work, read_pattern
from webapp.reading.languages import tell_language
from webapp.reading.lexicon import lexicon
from webapp.recipes import Design, Recipe, load_recipe
from webapp.rework.model import PlainPart
from webapp.rounds import WorkedPart
from webapp.rounds.repeats import joined
from webapp.terms import Language
from webapp.way import make_toy
from webapp.yarns import LengthUnit, Terms, term_set

WORDS = term_set(Terms.JAPANESE)
START = "頭\n1段め: わの作り目に細編み6目 [6目]\n2段め: 増し目6目 [12目]\n"
FEW = settings(max_examples=6, deadline=None, suppress_health_check=list(HealthCheck))


def read(text: str) -> ReadPattern:
    return read_pattern(text, Language.JAPANESE)


def third(line: str) -> ReadRound:
    """The round that a line is, behind a round of 12 stitches."""
    (part,) = read(f"{START}{line}\n").parts
    assert len(part.rounds) == 3, part.rounds
    return part.rounds[2]


def repeat(times: int, *runs: tuple[str, int]) -> Work:
    return joined(run for _ in range(times) for run in runs)


EVEN: Work = (("sc", 12),)
SIX_MORE = repeat(6, ("sc", 1), ("inc", 1))
WAYS: dict[str, Work] = {
    "3段め: (細編み1目、増し目1目)を6回繰り返す [18目]": SIX_MORE,
    "３段目　（細編み１目、増し目１目）×６　１８目": SIX_MORE,
    "第3段　「細編み1目、増し目」を6回くり返す。（18目）": SIX_MORE,
    "3段目は、細編み1目、増し目1目を6回繰り返します。（18目）": SIX_MORE,
    "3段め 細編み1目、増し目1目を繰り返す (18目)": SIX_MORE,
    "3段目（細1・増1）×6 計18目": SIX_MORE,
    "3段め: 細編み1目、増し目1目、あと5回繰り返す →18目": SIX_MORE,
    "3段め: こま編み1、こま編み2目編み入れる、を6回 18目": SIX_MORE,
    "3段め: 1目おきに増し目 (18目)": SIX_MORE,
    "3段め: 6目増やす (18目)": SIX_MORE,
    "3段 18目 +6": SIX_MORE,
    "3段　18目　6目増": SIX_MORE,
    "3段め 各目に細編み1目ずつ編む (12目)": EVEN,
    "3段め 増減なしで細編み": EVEN,
    "3段め 増減なく": EVEN,
    "3段目: 細編み12目": EVEN,
    "3段目: 12目細編み (12目)": EVEN,
    "3段 12目 増減なし": EVEN,
    "3段め: 各目に増し目 (24目)": (("inc", 12),),
    "3段め: すべての目に細編みを2目ずつ編み入れる (24目)": (("inc", 12),),
    "3段め: 細編み2目一度を6回 (6目)": (("dec", 6),),
    "3段め: (細編み2目、2目一度)を3回 (9目)": repeat(3, ("sc", 2), ("dec", 1)),
    "3段 9目 -3": repeat(3, ("sc", 2), ("dec", 1)),
    "3段め: 細編み3目一度、細編み9目 (10目)": (("dec3", 1), ("sc", 9)),
    "3段め: 次の2目に細編み3目ずつ編み入れる、残りの目に細編み1目ずつ": (
        ("inc3", 2),
        ("sc", 10),
    ),
    "3段め: くさり2目、2目とばして細編み10目 (12目)": (("ch", 2), ("skip", 2), ("sc", 10)),
}


@pytest.mark.parametrize("line", WAYS)
def test_a_round_is_read(line: str) -> None:
    found = third(line)
    assert (found.verdict, found.work) == (Verdict.AGREES, WAYS[line])


@pytest.mark.parametrize(
    ("line", "loops", "joins", "left"),
    [
        ("3段め: すじ編み12目", "back", False, 0),
        ("3段め: 向こう半目を拾って細編み12目", "back", False, 0),
        ("3段め: 手前半目に細編み12目", "front", False, 0),
        ("3段め: 立ち上がりのくさり1目、細編み12目、最初の目に引き抜き編み", "", True, 0),
        ("3段め: 細編み10目、最後の2目は編まない", "", False, 2),
    ],
)
def test_how_a_round_is_worked(line: str, loops: str, joins: bool, left: int) -> None:
    found = third(line)
    assert found.verdict is Verdict.AGREES
    assert (found.loops, found.joined, found.left) == (loops, joins, left)


@pytest.mark.parametrize(
    ("label", "last"),
    [
        *(("3段め:", 3), ("3段目　", 3), ("3〜5段め:", 5), ("3～5段目：", 5), ("3-5段:", 5)),
        *(("3段めから5段めまで、", 5), ("第3段〜第5段 ", 5), ("3・4段め:", 4), ("3.", 3)),
        *(("R3-5:", 5), ("3ー5段め ", 5), ("③", 3)),
    ],
)
def test_a_label_says_its_rounds(label: str, last: int) -> None:
    (part,) = read(f"{START}{label}増減なしで細編み (12目)\n").parts
    assert part.counts == (6, *[12] * (last - 1))
    assert {r.verdict for r in part.rounds} == {Verdict.AGREES}


# A table says how many, not where; what its two columns do not vouch for is not read.
@pytest.mark.parametrize(
    ("line", "verdict", "count"),
    [
        ("3段 17目 +5", Verdict.UNREAD, 17),  # 12 are not 5 equal groups
        ("3段 18目", Verdict.UNREAD, 18),
        ("3段 18目 増減なし", Verdict.DISAGREES, 12),
        ("3段 20目 +6", Verdict.UNREAD, 20),
        ("3段め: 2目に1目増し目する (18目)", Verdict.UNREAD, 18),
        ("3段め: (細編み1目、増し目1目)を5回繰り返す [18目]", Verdict.DISAGREES, 18),
        ("3段め: (細編み1目、増し目1目)を6回繰り返す [19目]", Verdict.DISAGREES, 18),
    ],
)
def test_what_does_not_hold_is_not_read(line: str, verdict: Verdict, count: int) -> None:
    found = third(line)
    assert (found.verdict, found.count) == (verdict, count)


@pytest.mark.parametrize(
    ("line", "mended"),
    [
        ("(細編み1目、増し目1目)を5回 [18目]", "(細編み1目、増し目1目)を6回 [18目]"),
        ("細編み、増し目1目 [13目]", "細編み11目、増し目1目 [13目]"),
        ("(細編み1目、減らし目1目)を6回 [18目]", "(細編み1目、増し目1目)を6回 [18目]"),
    ],
)
def test_a_mend_is_in_the_language(line: str, mended: str) -> None:
    text = f"{START}3段め: {line}\n"
    (part,) = read(text).parts
    mend = part.rounds[2].mend
    assert mend is not None
    at = mend.span
    assert text[: at.start] + mend.replacement + text[at.end :] == f"{START}3段め: {mended}\n"


@pytest.mark.parametrize(
    ("heading", "title", "copies"),
    [
        *(("耳 2枚", "耳", 2), ("【耳】2枚", "耳", 2), ("■耳(2枚)", "耳", 2), ("耳 ×2", "耳", 2)),
        *(("〈足〉4本編む", "足", 4), ("足（同じものを4本）", "足", 4), ("腕：紺色 ×2", "腕", 2)),
        *(("しっぽの編み方", "しっぽの編み方", 1), ("耳\n2枚編む", "耳", 2)),
    ],
)
def test_a_heading_names_a_part_and_its_copies(heading: str, title: str, copies: int) -> None:
    rounds = "1段め: わの作り目に細編み6目 (6目)\n2段め: 増し目6目 (12目)"
    found = read(f"頭\n{rounds}\n\n{heading}\n{rounds}\n").parts
    assert [(p.title, p.copies) for p in found] == [("頭", 1), (title, copies)]


# That × and → are signs of Japanese type: JIS X 0208, from memory.
@pytest.mark.parametrize(
    ("line", "slips"),
    [
        ("3段目（細編み1目、増し目1目）×6　→18目", 0),
        ("3段目：6×（細編み1目、増し目1目） (18目)", 0),
        ("3段め: (細編み1目、増し目1目)х6 [18目]", 1),  # a Cyrillic letter is none of them
    ],
)
def test_a_sign_of_japanese_type_is_no_slip(line: str, slips: int) -> None:
    found = read(f"{START}{line}\n")
    assert found.parts[0].counts == (6, 12, 18)
    assert len(found.slips) == slips, found.slips


def test_remarks_are_no_rounds() -> None:
    remarks = (
        "2段めと3段めの間に、6目あけてさし目を付ける。",
        "綿を詰め、残りの6目に糸を通して絞る。",
        "4段めの手前半目に糸をつけ、ひれを縫い付ける。",
    )
    (part,) = read(START + "\n".join(remarks)).parts
    assert len(part.rounds) == 2
    assert [remark.text for remark in part.remarks] == [*remarks]


def test_the_longest_word_is_taken() -> None:
    # A double crochet (長編み) stands in the half double (中長編み), a chain in the slip stitch.
    signs = "".join(word.sign for word in lexicon(Language.JAPANESE).words("中長編み3目長編み2目"))
    assert signs == "hnpdnp"
    unknown = [w.sign for w in lexicon(Language.JAPANESE).words("目印をつけてください")]
    assert "p" not in unknown


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("R1: 6 sc in MR (6)\nR2: inc x 6 (12)\nFor my 娘, with 愛\n", Language.US),
        ("1段 6目 わの作り目\n2段 12目 +6\n3段 12目 増減なし\n", Language.JAPANESE),
    ],
)
def test_the_language_is_told(text: str, language: Language) -> None:
    assert tell_language(text)[0] is language


def test_a_gauge_stands_before_or_behind_its_length() -> None:
    for said in ("細編み20目21段 = 10cm四方", "10cm四方 細編み20目21段", "10×10cmで20目・21段"):
        gauge = read(f"ゲージ　{said}\n\n{START}").gauge
        assert gauge is not None, said
        assert (gauge.stitches, gauge.rounds) == (20, 21)


# ---- what we write is read back --------------------------------------------------------------


def check_part(found: ReadPart, part: PlainPart) -> None:
    first, _ = settled_start(
        part.begin, joined(run for arc in part.rounds[0].arcs for run in arc), part.chain,
        part.per_leg,
    )
    assert {r.verdict for r in found.rounds} == {Verdict.AGREES}
    assert [r.count for r in found.rounds] == [r.count for r in part.rounds]
    if part.begin in (Begin.RING, Begin.CHAIN_RING):
        assert found.rounds[0].work == first
    for got, r in zip(found.rounds[1:], part.rounds[1:], strict=True):
        assert got.work == joined(run for arc in r.arcs for run in arc)


@given(plain_parts("頭", usual=True))
@settings(FEW, max_examples=60)
def test_any_plain_rounds_read_back(part: PlainPart) -> None:
    lines = ["頭(1個編む)"]
    for r in part.rounds:
        if r.left:
            return
        work = joined(run for arc in r.arcs for run in arc)
        text = work_text(r.arcs, WORDS, "across" if part.rows else "around")
        if r.number == 1:
            text = start_text(part.begin, work, WORDS, chain=part.chain, per_leg=part.per_leg)
        elif part.rows:
            text = turned(WORDS) + text
        label = round_words(r.number, r.number, WORDS, part.rows)
        lines.append(WORDS.manner.counted.format(round=label, row=text, count=r.count))
    (found,) = read("\n".join(lines)).parts
    check_part(found, part)


def check_reads_back(recipe: Recipe, design: Design) -> None:
    try:
        toy = make_toy(recipe, design)
    except RoundlingError:
        return
    text = text_of(toy)
    assert max(map(columns, text.splitlines())) <= WIDTH
    found = read_pattern(text)
    assert found.language is Language.JAPANESE
    asked = working_order(recipe)
    assert [p.copies for p in found.parts] == [p.copies for p in asked]
    for part, one in zip(found.parts, asked, strict=True):
        worked = toy.worked.parts[one.name]
        assert {r.verdict for r in part.rounds} == {Verdict.AGREES}, part.title
        assert not any(r.choices for r in part.rounds)
        if isinstance(worked, WorkedPart):
            assert part.counts == worked.counts
            assert part.closed == worked.closed
            assert [r.work for r in part.rounds[1:]] == [r.work for r in worked.rounds[1:]]


@pytest.mark.parametrize("name", TOYS)
@given(data=st.data())
@FEW
def test_patterns_read_back_over_all_slider_ranges(name: str, data: st.DataObject) -> None:
    design = data.draw(designs(name))
    unit = data.draw(st.sampled_from(LengthUnit))
    check_reads_back(recipes()[name], replace(design, terms=Terms.JAPANESE, unit=unit))


@pytest.mark.parametrize("name", sorted(path.stem for path in TEST_TOYS.glob("*.toml")))
def test_the_patterns_of_more_toys_read_back(name: str) -> None:
    recipe = load_recipe(TEST_TOYS / f"{name}.toml")
    check_reads_back(recipe, replace(default_design(recipe), terms=Terms.JAPANESE))
