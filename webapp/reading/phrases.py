"""Phrases: what a few words together say, told from their signs.

`sc in next 5 sts`, `5 sc`, `sc5` and `1 fM in die nächsten 5 M` are all five single crochets: the
string of signs is matched by the first of the patterns below that fits, longest ways first.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from webapp.reading.lexicon import Word
from webapp.reading.model import Span, Work
from webapp.reading.nodes import Act, Fill, Group, Node, Option

KINDS = {"s": "sc", "h": "hdc", "d": "dc", "t": "tr", "l": "sl st"}
PLAIN_WORDS = {"sc": "plain stitches", "inc": "increases", "dec": "decreases"}
MOST_INTO_ONE = 8


@dataclass(frozen=True)
class Times:
    """Said so often: of what stands before it. ``more`` times besides the once that is written;
    ``star`` goes back to a star. No number: to the end of the round."""

    number: int | None
    span: Span
    more: bool = False
    rep: bool = False
    star: bool = False


@dataclass(frozen=True)
class Mark:
    """Something that is no stitch: ``what`` is "ring", "into ring", "chain", "into chain", "join",
    "turn", "back", "front", "leg", "left", "even"; with a number where one is said."""

    what: str
    number: int
    span: Span


@dataclass(frozen=True)
class Sign:
    """Anything else: a bracket, a star, a comma, an unknown word, a number by itself."""

    sign: str
    value: int
    span: Span


Piece = Node | Times | Mark | Sign
Maker = Callable[["Match"], Piece | tuple[Piece, ...] | None]


class Match:
    """A phrase found: its groups as numbers, its span."""

    def __init__(self, found: re.Match[str], words: Sequence[Word]) -> None:
        self._found = found
        self._words = words
        first, last = words[found.start()], words[found.end() - 1]
        self.span = Span(first.start, last.end)

    def number(self, *groups: str) -> int | None:
        """The number of the first of these groups that is there."""
        for group in groups:
            at = self._found.start(group) if group in self._found.re.groupindex else -1
            if at >= 0:
                return self._words[at].value
        return None

    def has(self, group: str) -> bool:
        return bool(self.text(group))

    def text(self, group: str) -> str:
        return (self._found[group] or "") if group in self._found.re.groupindex else ""

    def span_of(self, group: str) -> Span:
        start, end = self._found.span(group)
        return Span(self._words[start].start, self._words[end - 1].end)


def phrases(words: Sequence[Word]) -> list[Piece]:
    """The pieces a line of words consists of, in order."""
    words = [word for at, word in enumerate(words) if not _is_more(words, at)]
    signs = "".join(word.sign for word in words)
    out: list[Piece] = []
    at = 0
    while at < len(signs):
        for pattern, maker in _BY_FIRST.get(signs[at], ()):
            found = pattern.match(signs, at)
            if found is None:
                continue
            piece = maker(Match(found, words))
            if piece is None:
                continue
            if isinstance(piece, tuple):
                out += piece
            else:
                out.append(piece)
            at = found.end()
            break
        else:
            word = words[at]
            out.append(Sign(word.sign, word.value, Span(word.start, word.end)))
            at += 1
    return out


def _is_more(words: Sequence[Word], at: int) -> bool:
    """`17 more sc` are 17."""
    if words[at].sign != "m" or at == 0 or at + 1 == len(words):
        return False
    return words[at - 1].sign == "n" and words[at + 1].sign in "shdtie"


def plain(kind: str, number: int, span: Span) -> Act:
    """So many of a kind, one in each stitch."""
    return Act((Option(((kind, number),), f"{number} plain"),), span)


def _into_one(kind: str, number: int) -> Work | None:
    """So many into one stitch, None for more than anybody works."""
    if number == 1:
        return ((kind, 1),)
    if kind == "sc":
        name = "inc" if number == 2 else f"inc{number}"
        return ((name, 1),) if number <= MOST_INTO_ONE else None
    if number == 2 and kind in ("hdc", "dc"):
        return ((f"{kind} inc", 1),)
    return None


def _decrease(kind: str, number: int) -> Work | None:
    if number == 2 and kind in ("sc", "hdc", "dc"):
        return (("dec" if kind == "sc" else f"{kind} dec", 1),)
    return (("dec3", 1),) if number == 3 and kind == "sc" else None


def _act(span: Span, *options: tuple[Work, str], flag: str = "") -> Act:
    return Act(tuple(Option(*option) for option in options), span, flag if options[1:] else "")


def _times(work: Work, number: int) -> Work:
    return tuple((kind, n * number) for kind, n in work) if len(work) == 1 else work * number


# ---- what each phrase makes ----------------------------------------------------------------------


def _in(m: Match) -> Piece | None:
    """`sc in next 5 sts`, `2 sc in the next st`, `2 sc in each of the next 3 sts`, `sc in each st
    around`, `sc in the remaining sts`."""
    kind = KINDS[m.text("s")]
    each, number, where = m.number("k") or 1, m.number("m"), m.text("q")
    one = _into_one(kind, each)
    if "o" in where and "E" in where:
        return _every(m, one)
    if number is None and "Z" in where and each > 1:
        return plain(kind, each, m.span)
    if number is None:
        # `each of the next sts` without a number: it was lost.
        several = ("E" in where and "N" not in where) or m.has("ar") or "M" in where
        if several and "L" not in where and "F" not in where:
            return Fill(one, m.span) if one else None
        return _act(m.span, (one, f"{each} into one stitch")) if one else None
    if each == 1:
        return plain(kind, number, m.span)
    if number == 1 or "A" in where:
        return _act(m.span, (one, f"{each} into one stitch")) if one else None
    in_each = (_times(one, number), f"{each} into each of {number}") if one else None
    if each == number and "E" not in where:
        spread = (((kind, number),), f"{number} plain")
        return _act(m.span, spread, *([in_each] if in_each else []), flag="into as many")
    return _act(m.span, in_each) if in_each else None


def _every(m: Match, one: Work | None) -> Piece | None:
    """Into each n-th stitch so many, the ones between plain."""
    number = m.number("o", "o1")
    if one is None or number is None or number < 1:
        return None
    items = (plain("sc", number - 1, m.span),) if number > 1 else ()
    return Group((*items, _act(m.span, (one, ""))), (0,), m.span)


def _inc_every(m: Match) -> Piece | None:
    return _every(m, (("inc", 1),))


def _dec_every(m: Match) -> Piece | None:
    """`dec every 3rd and 4th st`: the stitches before them plain."""
    first, second = m.number("o", "o1"), m.number("o2", "o3")
    if first is None or second != first + 1 or first < 1:
        return None
    items = (plain("sc", first - 1, m.span),) if first > 1 else ()
    return Group((*items, _act(m.span, ((("dec", 1),), ""))), (0,), m.span)


def _inc(m: Match) -> Piece | None:
    """`inc`, `6 inc`, `inc 6`, `inc in next 3 sts`, `inc in each st around`, `2 sc inc`."""
    before, after, inside = m.number("k"), m.number("post"), m.number("m", "m1")
    where = m.text("q")
    base: Work = (("inc", 1),)
    if m.text("s") in ("h", "d"):
        base = ((f"{KINDS[m.text('s')]} inc", 1),)
    if inside is None and ("E" in where or m.has("ar")) and "L" not in where and "F" not in where:
        return Fill(base, m.span)
    if m.has("s") and before is not None:
        kind = KINDS[m.text("s")]
        one, many = (base, "one increase"), (_times(base, before), f"{before} increases")
        apart = (((kind, before), *base), f"{before} plain and an increase")
        if before == 1:
            return _act(m.span, one, apart, flag="stitch and increase")
        if before == 2:
            return _act(m.span, one, many, apart, flag="stitch and increase")
        return _act(m.span, apart, many, flag="stitch and increase")
    if m.has("s"):
        kind = KINDS[m.text("s")]
        apart = (((kind, 1), *base), "a plain stitch and an increase")
        return _act(m.span, (base, "one increase"), apart, flag="stitch and increase")
    number = (before or 1) * (inside or 1) * (after or 1)
    if after in (3, 4) and before is None and inside is None and m.span_of("post").start == (
        m.span_of("i").end
    ):
        row = (_times(base, after), f"{after} increases")
        one = (((f"inc{after}", 1),), f"{after} into one stitch")
        return _act(m.span, row, one, flag="inc number")
    return _act(m.span, (_times(base, number), f"{number} increases"))


def _dec(m: Match) -> Piece | None:
    """`dec`, `6 dec`, `dec 6`, `sc2tog`, `dec over next 2 sts`, `dec in each st around`."""
    before, after, inside = m.number("k"), m.number("post"), m.number("m", "m1")
    kind = KINDS.get(m.text("s"), "sc")
    width = m.number("e") or 2
    one = _decrease(kind, width)
    if one is None:
        return None
    if inside is None and ("E" in m.text("q") or m.has("ar")):
        return Fill(one, m.span)
    if m.has("s") and before is not None:
        apart = (((kind, before), *(_decrease("sc", width) or ())), f"{before} plain, decrease")
        if before > 1:
            many = (_times(one, before), f"{before} decreases")
            return _act(m.span, apart, many, flag="stitch and decrease")
        return _act(m.span, (one, "one decrease"), apart, flag="stitch and decrease")
    number = before or 1
    if inside is not None and inside > width:
        if inside % width:
            return _act(m.span, (_times(one, inside), f"{inside} decreases"))
        pairs = (_times(one, inside // width), f"{inside // width} over {inside} stitches")
        return _act(m.span, pairs, (_times(one, inside), f"{inside} decreases"), flag="dec over")
    if after == width and before is None:
        row = (_times(one, after), f"{after} decreases")
        return _act(m.span, row, (one, "one decrease"), flag="dec two")
    return _act(m.span, (_times(one, number * (after or 1)), f"{number * (after or 1)} decreases"))


def _together(m: Match) -> Piece | None:
    """`sc next 2 sts together`, `2 sc tog`, `6 sc 2 tog`."""
    kind = KINDS.get(m.text("s") or m.text("noun"), "sc")
    one = _decrease(kind, m.number("n") or 0)
    if one is None:
        return None
    number = m.number("k") or 1
    return _act(m.span, (_times(one, number), f"{number} decreases"))


def _bare(m: Match) -> Piece | None:
    """`5 sc`, `sc 5`, `sc`; `2 sc` can also be two into one stitch."""
    kind = KINDS[m.text("s")]
    number = m.number("k")
    if number is None:
        return plain(kind, 1, m.span)
    if number == 0:
        return None
    into = _into_one(kind, number) if number == 2 else None
    if into is None:
        return plain(kind, number, m.span)
    row = (((kind, number),), f"{number} plain")
    return _act(m.span, row, (into, f"{number} into one stitch"), flag=f"{number} {kind}")


def _twice(m: Match) -> Piece:
    kind = KINDS[m.text("s")]
    into = (_into_one(kind, 2) or (("inc", 1),), "2 into one stitch")
    if m.has("where"):
        return _act(m.span, into)
    return _act(m.span, (((kind, 2),), "2 plain"), into, flag=f"2 {kind}")


def _around(m: Match) -> Piece | None:
    """`sc around`, `2 sc in each` without its `in`, `18 sc around`, `even`."""
    kind = KINDS.get(m.text("s"), "sc")
    number = m.number("k") or 1
    if number == 1:
        return Fill(((kind, 1),), m.span)
    if m.has("each"):
        one = _into_one(kind, number)
        return Fill(one, m.span) if one else None
    return plain(kind, number, m.span)


def _ring(m: Match) -> tuple[Piece, ...] | None:
    number = m.number("n")
    if number is None or number < 1:
        return None
    mark = Mark("into ring", number, m.span)
    return (mark, plain(KINDS.get(m.text("s"), "sc"), number, m.span))


def _first_chain(m: Match) -> tuple[Piece, ...] | None:
    """`6 sc in 2nd ch from hook`."""
    number = m.number("n") or 1
    one = _into_one(KINDS.get(m.text("s"), "sc"), number)
    if one is None and number > MOST_INTO_ONE:
        one = (("sc", number),)
    return (Mark("into chain", number, m.span), _act(m.span, (one or (("sc", number),), "")))


def _all_chains(m: Match) -> tuple[Piece, ...] | None:
    """`sc in 2nd ch from hook and in each ch across`."""
    one = _into_one(KINDS[m.text("s")], m.number("n") or 1)
    return (Mark("into chain", 1, m.span), Fill(one, m.span)) if one else None


def _so_many_chains(m: Match) -> tuple[Piece, ...] | None:
    """`sc in 2nd ch from hook and in each of the next 8 ch`."""
    one = _into_one(KINDS[m.text("s")], m.number("n") or 1)
    number = (m.number("m") or 0) + 1
    if one is None:
        return None
    act = _act(m.span, (_times(one, number), f"{number} chains"))
    return (Mark("into chain", 1, m.span), act)


def _leg(m: Match) -> tuple[Piece, ...]:
    number = m.number("k", "k1")
    kind = KINDS[m.text("s")]
    mark = Mark("leg", number or 0, m.span)
    return (mark, plain(kind, number, m.span)) if number else (mark,)


def _skip(m: Match) -> Piece:
    number = m.number("m") or 1
    return _act(m.span, ((("skip", number),), f"{number} skipped"))


def _mark(what: str) -> Maker:
    def made(m: Match) -> Piece:
        return Mark(what, 0, m.span)

    return made


def _again(m: Match) -> Piece:
    """`repeat rnd 4`, `rep last round`."""
    return Mark("again", m.number("n") or 0, m.span)


def _chain(m: Match) -> Piece:
    return Mark("chain", m.number("n") or 1, m.span)


def _left(m: Match) -> Piece:
    return Mark("left", m.number("m") or 0, m.span)


def _repeat(m: Match) -> Piece | None:
    number = m.number("n")
    if m.has("w"):
        number = 2
    return Times(
        number, m.span, more=m.has("more"), rep=m.has("rep"), star=m.has("star")
    )


def _count_of_times(m: Match) -> Piece:
    return Times(2 if m.has("w") else m.number("n"), m.span, more=m.has("more"))


# ---- the patterns, longest ways first ------------------------------------------------------------

_S = "[shdtl]"
_Q = "[ENAFLZMo]"
_OF = f"n{_S[1:-1]}"
_PATTERNS: tuple[tuple[str, str, Maker], ...] = (
    # Starts.
    ("n", r"(?P<n>n)(?P<s>[shdt])?p?I[NAEF]*R", _ring),
    ("R", r"RJ?[,:;&-]?I?(?P<n>n)(?P<s>[shdt])p?(?:IR)?(?![,;&]?(?:IN|x))", _ring),
    ("R", r"R[,:-]?(?P<n>n)(?![a-zA-Zx])", _ring),
    (
        "nshdt",
        r"(?P<n>n)?(?P<s>[shdt])IA?(?:o|F)c(?:f?I?H)?&?(?:IE[cp]O?|O|I$|I(?=[,.]))",
        _all_chains,
    ),
    (
        "nshdt",
        r"(?P<n>n)?(?P<s>[shdt])IA?(?:o|F)c(?:f?I?H)?&I?[EN]+(?P<m>n)[cp]*",
        _so_many_chains,
    ),
    ("nshdt", r"(?P<n>n)?(?P<s>[shdt])IA?(?:(?:o|F)c(?:f?I?H)?|ncf?H)", _first_chain),
    ("I", r"I(?:o|F)c(?:f?H)?(?P<n>n)(?P<s>[shdt])", _first_chain),
    ("I", r"I(?:o|F)cf?H", _mark("into chain")),
    ("R", r"R", _mark("ring")),
    # Repeats.
    (
        "r",
        r"(?P<rep>r)[fI]?(?P<star>\*)(?:[-If]?\*)?,?(?:(?P<w>w)|x?(?P<n>n)?(?P<more>m)?x?)O?",
        _repeat,
    ),
    ("r", r"rI?D(?P<n>n)", _again),
    ("r", r"rL?D", _again),
    ("r", r"(?P<rep>r)(?:(?P<w>w)|x?(?P<n>n)?(?P<more>m)?x?)O?", _repeat),
    ("n", r"(?P<n>n)(?P<more>m)x?", _count_of_times),
    ("x", r"x(?P<n>n)", _count_of_times),
    ("n", rf"(?P<n>n)x(?!{_S}|[ie])", _count_of_times),
    ("w", r"(?P<w>w)", _count_of_times),
    # Legs, chains, joins.
    (_OF, rf"(?P<k>n)?(?P<s>{_S})(?P<k1>n)?p?(?:I|O|D|E|p|F|o|A)*Gn?", _leg),
    ("c", r"c(?P<n>n)", _chain),
    ("n", r"(?P<n>n)c", _chain),
    ("lJ", r"lI?[FJ][FNp]*[pscR]?J?|JI?[FNAo]*(?:G|[psc])?l?|J[lI]*[FNA]*[psc]?", _mark("join")),
    ("T", r"T", _mark("turn")),
    ("IB", r"I?B", _mark("back")),
    ("Ib", r"I?b", _mark("front")),
    ("kMnpsU", r"k?[LMN]*(?P<m>n)?[ps]*U", _left),
    ("k", r"kM(?P<m>n)?[ps]*", _left),
    ("ei", r"[ei]V", _mark("evenly")),
    # Decreases.
    (_OF + "IN", rf"(?P<k>n)?(?P<s>{_S})?I?N?(?P<n>n)(?P<noun>[ps])?g", _together),
    ("E", r"E(?:(?P<o>o)|(?P<o1>n)\.)&(?:(?P<o2>o)|(?P<o3>n)\.)[ps]?[ge]", _dec_every),
    ("e", r"eI?E?(?P<o>o)&(?P<o2>o)p?", _dec_every),
    (
        _OF + "e",
        rf"(?P<k>n)?x?(?P<s>{_S})?(?P<e>e)(?:I?(?P<q>[ENAL]+)(?P<m>n)?[ps]*(?P<ar>O)?"
        rf"|I(?P<m1>n)p?|(?P<post>n)(?![shdtlieogcx.])p?)?",
        _dec,
    ),
    (_OF, rf"(?P<s>{_S})I?N(?P<e>e)", _dec),
    # Increases.
    ("i", r"iI?E(?:(?P<o>o)|(?P<o1>n)\.)[ps]?", _inc_every),
    ("E", r"E(?:(?P<o>o)|(?P<o1>n)\.)[ps]?i", _inc_every),
    ("E", r"(?P<q>E)[ps]*(?P<i>i)", _inc),
    (
        _OF + "i",
        rf"(?P<k>n)?x?(?P<s>{_S})?(?P<i>i)(?:I?(?P<q>[ENAFL]+)(?P<m>n)?[psc]*(?P<ar>O)?"
        rf"|I(?P<m1>n)p?|(?P<post>n)(?![shdtlieogcx.])p?)?",
        _inc,
    ),
    # Plain stitches.
    (
        _OF,
        rf"(?P<k>n)?(?P<s>{_S})p?I(?P<q>{_Q}*)(?P<m>n)?[NAE]*(?P<noun>[psc]*)"
        r"(?:\?F[isep])?(?P<ar>O)?",
        _in,
    ),
    (_OF, rf"(?P<s>{_S})(?P<k>n)I(?P<q>[NA]+)p", _in),
    (_OF, rf"(?P<s>{_S})Q(?P<m>n)p?", _in),
    (_OF, rf"(?P<s>{_S})I(?=[,;.(\[]|$)", _around),
    ("I", rf"I(?P<q>[ENAL]+)(?P<m>n)?[psc]+,?(?P<k>n)(?P<s>{_S})(?P<ar>O)?", _in),
    (_OF, rf"(?P<s>{_S})w(?P<where>I[NA]*p?)?", _twice),
    (_OF, rf"(?P<k>n)?(?P<s>{_S})(?P<each>E)[psc]*O?", _around),
    (_OF, rf"(?P<s>{_S})(?P<q>N)(?P<m>n)?[ps]*", _in),
    (_OF + "V", rf"(?P<k>n)?(?P<s>{_S})?V(?:O|I?E?p)?", _around),
    ("IE", r"I?E[psc]+V?O?", _around),
    (_OF, rf"(?P<k>n)?(?P<s>{_S})O", _around),
    ("n", rf"(?P<k>n)x?(?P<s>{_S})p?", _bare),
    (_OF, rf"(?P<s>{_S})(?P<k>n)(?![shdtliegx])p?", _bare),
    (_OF, rf"(?P<s>{_S})", _bare),
    ("k", r"k[NF]?(?P<m>n)?[psc]?", _skip),
)
"""The signs a phrase can begin with, its pattern, and what it makes; the first that fits is it."""


def _compiled() -> dict[str, tuple[tuple[re.Pattern[str], Maker], ...]]:
    """The patterns by the sign they begin with, in order."""
    by_first: dict[str, list[tuple[re.Pattern[str], Maker]]] = {}
    for firsts, text, maker in _PATTERNS:
        for sign in dict.fromkeys(firsts):
            by_first.setdefault(sign, []).append((re.compile(text), maker))
    return {sign: tuple(entries) for sign, entries in by_first.items()}


_BY_FIRST = _compiled()
