"""What is given to the reader of written patterns: random texts, laws that any reading obeys.

Texts come of a ``random.Random``, so that the long run of :mod:`tests.fuzz_reading` and the tests
make the same ones.
"""

from __future__ import annotations

import random
import re
from bisect import bisect_right
from functools import cache
from pathlib import Path

from tests.strategies import TOYS, default_design, recipes
from tests.test_pattern import text_of
from webapp.reading import ReadPattern, ReadRound, Verdict, Work
from webapp.way import make_toy

CORPUS = Path(__file__).parent / "corpus"
LONGEST = 4000
"""Characters of a random text: what is longer is tested one by one."""

TOKENS = (
    *"()[]{}*|,;.:=-+/&0123456789xX\n\n\n\t '\"#•",
    "Rnd 1: ", "Rnd 2: ", "\nRnd 3: ", "\nR4-6: ", "\n7. ", "\n8) ", "Row 2: ", "\n3rd rnd: ", "R",
    "sc", "dc", "inc", "dec", "hdc", "tr", "sl st", "sc2tog", "inv dec", "2tog", "skip", "ch", "mr",
    " sc, ", "6 sc in a magic ring [6]\n", "inc x 6 [12]\n", "(sc, inc) x 6 [18]\n", "(18)", "[24]",
    " in next st", " in each st", " around", " in the next 5 sts", " even", "rep from *", " x 6",
    " 6 times", " twice", "repeat", "repeat rnd 3", "more", "turn", "join", "BLO", "FLO", " = 30",
    "HEAD (make 2)\n", "Body\n", "\n\nMaterials\n", "Make 2.\n", "ch 6; ", "2nd ch from hook",
    "legs", "first leg", "leave 4 sts unworked", "Stuff.\n", "Change to red.\n", "Fasten off.\n",
    "1000000000", "999", "-15.", "rnds 2-999", "fM", "zun", "abn", "Rd", "ms", "aug", "dim", "pb",
    "aum", "mb", "vasten", "meerderen", "anillo mágico", "Fadenring", "х6", "İnc", "½", "²", "٣",
    "\n3段め: ", "\n4〜6段目　", "細編み", "増し目", "減らし目", "目", "わの作り目に",
    "(細編み1目、増し目1目)", "を6回繰り返す", "次の5目に", "各目に", "ずつ", "1目おきに",
    "2目一度", "増減なし", "[18目]", "\n3段 18目 +6", "くさり編み6目。", "針から2目めの",
    "すじ編みで", "【頭】2枚\n", "繰り返す", "とばす", "①", "１８目", "「", "」", "、",
)  # fmt: skip


@cache
def corpus_texts() -> tuple[str, ...]:
    """Every text of the corpus, and the patterns of the shipped toys."""
    found = sorted(CORPUS.rglob("*.txt"))
    own = tuple(
        text_of(make_toy(recipes()[path.stem], default_design(recipes()[path.stem])))
        for path in sorted(TOYS.glob("*.toml"))
    )
    return (*(path.read_text(encoding="utf-8") for path in found), *own)


def random_text(source: random.Random) -> str:
    """Bytes, tokens of patterns, or a pattern that somebody or something has damaged."""
    return source.choice((random_bytes, random_tokens, damaged, damaged))(source)


def random_bytes(source: random.Random) -> str:
    """Bytes as one byte a character, as UTF-8 with lone surrogates, or as any characters."""
    size = source.choice((10, 100, 1000))
    raw = source.randbytes(size)
    how = source.randrange(3)
    if how == 0:
        return raw.decode("latin-1")
    if how == 1:
        return raw.decode("utf-8", "surrogateescape")
    return "".join(chr(source.choice((0x2FF, 0x2FFF, 0x10FFFF)) & source.getrandbits(21)
                       % 0x110000) for _ in range(size))  # fmt: skip


def random_tokens(source: random.Random) -> str:
    tokens = [source.choice(TOKENS) for _ in range(source.choice((5, 30, 200)))]
    return source.choice(("", " ")).join(tokens)


def damaged(source: random.Random) -> str:
    """A piece of a text of the corpus with characters lost, doubled, swapped and put in."""
    text = source.choice(corpus_texts())
    size = source.choice((200, 1000, LONGEST))
    start = source.randrange(max(1, len(text) - size))
    letters = list(text[start : start + size])
    for _ in range(source.choice((1, 3, 30, len(letters) // 4))):
        if not letters:
            break
        at = source.randrange(len(letters))
        how = source.randrange(5)
        if how == 0:
            del letters[at : at + source.choice((1, 1, 20))]
        elif how == 1:
            letters[at:at] = letters[at : at + source.choice((1, 10, 200))]
        elif how == 2:
            letters.insert(at, source.choice(TOKENS))
        elif how == 3:
            other = source.randrange(len(letters))
            letters[at], letters[other] = letters[other], letters[at]
        else:
            letters[at] = str(source.randrange(10 ** source.choice((1, 2, 3, 12))))
    return "".join(letters)


# ---- laws ----------------------------------------------------------------------------------------

INTO = re.compile(r"(?:hdc |dc )?inc(\d?)$")
TOGETHER = re.compile(r"(?:hdc |dc )?dec(\d?)$")


def stitches_of(kind: str) -> tuple[int, int]:
    """How many stitches a kind takes up and makes, by its name: an increase is so many into one, a
    decrease so many made one, a chain goes into nothing (Craft Yarn Council's definitions)."""
    if found := INTO.match(kind):
        return 1, int(found[1] or 2)
    if found := TOGETHER.match(kind):
        return int(found[1] or 2), 1
    return {"ch": (0, 1), "skip": (1, 0)}.get(kind, (1, 1))


def totals(work: Work) -> tuple[int, int]:
    """How many stitches work takes up and makes."""
    pairs = [(stitches_of(kind), number) for kind, number in work]
    return sum(t * n for (t, _), n in pairs), sum(m * n for (_, m), n in pairs)


def check_laws(read: ReadPattern) -> None:
    """What holds of every reading, whatever the text."""
    lines = [0, *(at + 1 for at, letter in enumerate(read.text) if letter == "\n")]
    for part in read.parts:
        assert [r.number for r in part.rounds] == [*range(1, len(part.rounds) + 1)]
        for r in part.rounds:
            assert lines[r.line - 1] == r.span.start - r.column + 1
            assert bisect_right(lines, r.span.start) == r.line
            check_round(r, read.text)
        for remark in part.remarks:
            assert 0 <= remark.after <= len(part.rounds)
            assert 0 <= remark.span.start <= remark.span.end <= len(read.text)


def check_round(r: ReadRound, text: str) -> None:
    assert 0 <= r.span.start <= r.span.end <= len(text)
    assert all(number > 0 for _, number in r.work)
    assert all(a != b for (a, _), (b, _) in zip(r.work, r.work[1:], strict=False))
    if r.mend is not None:
        assert r.verdict in (Verdict.DISAGREES, Verdict.CHOICE)
        assert 0 <= r.mend.span.start <= r.mend.span.end <= len(text)
    if r.other is not None:
        assert r.verdict is Verdict.CHOICE
        assert 0 <= r.other.span.start <= r.other.span.end <= len(text)
    if r.verdict is Verdict.UNREAD:
        assert r.work == ()
        assert r.gives is None
        assert r.findings
        return
    takes, makes = totals(r.work)
    if r.verdict is Verdict.DISAGREES:
        assert r.findings
        return
    assert r.before is None or takes + r.left == r.before
    assert makes == r.gives == r.count
    assert r.stated in (None, r.count, r.count + r.left)
    assert bool(r.choices) == (r.verdict is Verdict.CHOICE)
