"""What each phrase means: from the numbers and words of a phrase to stitches."""

from __future__ import annotations

from collections.abc import Callable

from webapp.reading.model import Span, Work
from webapp.reading.nodes import Act, Fill, Group, Option
from webapp.reading.pieces import Mark, Match, Piece, Sign

Maker = Callable[[Match], Piece | tuple[Piece, ...] | None]
KINDS = {"s": "sc", "h": "hdc", "d": "dc", "t": "tr", "l": "sl st"}
MOST_INTO_ONE = 8
ALL_ROUND_A_LEG = "leg"
"""The flag of stitches whose number is that of a leg worked before."""


def plain(kind: str, number: int, span: Span) -> Act:
    """So many of a kind, one in each stitch."""
    return Act((Option(((kind, number),), f"{number} plain"),), span)


def into_one(kind: str, number: int) -> Work | None:
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


def act_of(span: Span, *options: tuple[Work, str], flag: str = "") -> Act:
    """Stitches with what they can mean, the plain meaning first; one meaning has no flag."""
    return Act(tuple(Option(*option) for option in options), span, flag if options[1:] else "")


def times_of(work: Work, number: int) -> Work:
    """The same stitches so often."""
    return tuple((kind, n * number) for kind, n in work) if len(work) == 1 else work * number


# ---- what each phrase makes ----------------------------------------------------------------------


def into(m: Match) -> Piece | None:
    """`sc in next 5 sts`, `2 sc in the next st`, `2 sc in each of the next 3 sts`, `sc in each st
    around`, `sc in the remaining sts`."""
    kind = KINDS[m.text("s")]
    each, number, where = m.number("k") or 1, m.number("m"), m.text("q")
    one = into_one(kind, each)
    if "o" in where and "E" in where:
        return None
    if number is None and each > 1 and ("Z" in where or (not where and m.text("noun") == "c")):
        # `2 sc on the ch`, `3 sc along the other side`: one in each.
        return plain(kind, each, m.span)
    if number is None:
        # `each of the next sts` without a number: it was lost.
        several = ("E" in where and "N" not in where) or m.has("ar") or "M" in where
        if several and "L" not in where and "F" not in where:
            return Fill(one, m.span) if one else None
        return act_of(m.span, (one, f"{each} into one stitch")) if one else None
    if each == 1:
        return plain(kind, number, m.span)
    if number == 1 or "A" in where:
        return act_of(m.span, (one, f"{each} into one stitch")) if one else None
    in_each = (times_of(one, number), f"{each} into each of {number}") if one else None
    if each == number and "E" not in where:
        spread = (((kind, number),), f"{number} plain")
        return act_of(m.span, spread, *([in_each] if in_each else []), flag="into as many")
    return act_of(m.span, in_each) if in_each else None


def few_into_each(m: Match) -> Piece | None:
    """`dc2 into each st`; `sc 24 in each st` are 24."""
    return into(m) if (m.number("k") or 0) in (2, 3) else None


def _every(m: Match, one: Work | None) -> Piece | None:
    """Into each n-th stitch so many, the ones between plain."""
    number = m.number("o", "o1")
    if one is None or number is None or number < 1:
        return None
    items = (plain("sc", number - 1, m.span),) if number > 1 else ()
    return Group((*items, act_of(m.span, (one, ""))), (0,), m.span)


def into_every(m: Match) -> Piece | None:
    """`into every 4th st 2 sc`, `2 sc in every 4th st around`."""
    each = m.number("k") or 1
    return _every(m, into_one(KINDS[m.text("s")], each)) if each > 1 else None


def numbers_into_one(m: Match) -> Piece | None:
    """`2 in next`, `3 in last st`: plain stitches without their name."""
    number = m.number("k") or 0
    one = into_one("sc", number) if number > 1 else None
    return act_of(m.span, (one, f"{number} into one stitch")) if one else None


def same_again(m: Match) -> Piece | None:
    """`sc in next st, sc in same st` are two into one; `5 sc, 2 sc in same st` are those two, or
    two more into the last."""
    kind, number, more = KINDS[m.text("s")], m.number("k") or 1, m.number("more") or 1
    last = into_one(kind, 1 + more)
    if last is None:
        return None
    before: Work = ((kind, number - 1),) if number > 1 else ()
    again = ((*before, *last), f"{1 + more} into one stitch")
    apart = into_one(kind, more) if more > 1 else None
    if apart is None:
        return act_of(m.span, again)
    alone = (((kind, number), *apart), f"{number} plain, {more} into one stitch")
    two = (again, alone) if m.has("where") else (alone, again)
    return act_of(m.span, *two, flag="into the same")


def chains_into_the_same(m: Match) -> tuple[Piece, ...] | None:
    """`ch 3, sl st in same st`: a loop of chains, which no round of a toy is counted by."""
    if (m.number("n") or 0) < 2:
        return None
    return (Mark("chain", m.number("n") or 0, m.span), Sign("?", 0, m.span))


def inc_every(m: Match) -> Piece | None:
    return _every(m, (("inc", 1),))


def inc_one_in(m: Match) -> Piece | None:
    """`augmenter 1 maille sur 3`: an increase in every third."""
    return _every(m, (("inc", 1),)) if (m.number("o") or 0) > 1 else None


def dec_every(m: Match) -> Piece | None:
    """`dec every 3rd and 4th st`: the stitches before them plain."""
    first, second = m.number("o", "o1"), m.number("o2", "o3")
    if first is None or second != first + 1 or first < 1:
        return None
    items = (plain("sc", first - 1, m.span),) if first > 1 else ()
    return Group((*items, act_of(m.span, ((("dec", 1),), ""))), (0,), m.span)


def increases(m: Match) -> Piece | None:
    """`inc`, `6 inc`, `inc 6`, `inc in next 3 sts`, `inc in each st around`, `2 sc inc`."""
    before, after, inside = m.number("k"), m.number("post"), m.number("m", "m1")
    where = m.text("q")
    base = into_one("sc", m.number("i") or 2) or (("inc", 1),)
    if m.text("s") in ("h", "d"):
        base = ((f"{KINDS[m.text('s')]} inc", 1),)
    if inside is None and ("E" in where or m.has("ar")) and "L" not in where and "F" not in where:
        return Fill(base, m.span)
    if m.has("s") and before is not None:
        kind = KINDS[m.text("s")]
        one, many = (base, "one increase"), (times_of(base, before), f"{before} increases")
        apart = (((kind, before), *base), f"{before} plain and an increase")
        if before == 1:
            return act_of(m.span, one, apart, flag="stitch and increase")
        if before == 2:
            return act_of(m.span, one, many, apart, flag="stitch and increase")
        return act_of(m.span, apart, many, flag="stitch and increase")
    if m.has("s"):
        kind = KINDS[m.text("s")]
        apart = (((kind, 1), *base), "a plain stitch and an increase")
        number = (inside or 1) * (after or 1)
        if number > 1:
            return act_of(m.span, (times_of(base, number), f"{number} increases"))
        return act_of(m.span, (base, "one increase"), apart, flag="stitch and increase")
    number = (before or 1) * (inside or 1) * (after or 1)
    if after in (3, 4) and before is None and inside is None and m.span_of("post").start == (
        m.span_of("i").end
    ):
        row = (times_of(base, after), f"{after} increases")
        one = (((f"inc{after}", 1),), f"{after} into one stitch")
        return act_of(m.span, row, one, flag="inc number")
    return act_of(m.span, (times_of(base, number), f"{number} increases"))


def hyphened(m: Match) -> Piece | None:
    """`6-inc`, with no space, are six."""
    number, word = m.number("k") or 0, m.span_of("i")
    if m.span_of("k").end + 1 != word.start or number < 1:
        return None
    base = _decrease("sc", m.number("i") or 2) if m.text("i") == "e" else into_one("sc", 2)
    return act_of(m.span, (times_of(base, number), f"{number} of them")) if base else None


def decreases(m: Match) -> Piece | None:
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
            many = (times_of(one, before), f"{before} decreases")
            return act_of(m.span, apart, many, flag="stitch and decrease")
        return act_of(m.span, (one, "one decrease"), apart, flag="stitch and decrease")
    if m.has("s") and width == 2 and inside is None and after is None:
        # `sc dec` is the trade's "single crochet decrease"; in haste it is `sc, dec`.
        apart = (((kind, 1), *(_decrease("sc", width) or ())), "a plain stitch and a decrease")
        return act_of(m.span, (one, "one decrease"), apart, flag="stitch and decrease")
    number = before or 1
    if inside is not None and inside > width:
        if inside % width:
            return act_of(m.span, (times_of(one, inside), f"{inside} decreases"))
        pairs = (times_of(one, inside // width), f"{inside // width} over {inside} stitches")
        each = (times_of(one, inside), f"{inside} decreases")
        return act_of(m.span, pairs, each, flag="dec over")
    if after == width and before is None:
        row = (times_of(one, after), f"{after} decreases")
        return act_of(m.span, row, (one, "one decrease"), flag="dec two")
    number *= after or 1
    return act_of(m.span, (times_of(one, number), f"{number} decreases"))


def together(m: Match) -> Piece | None:
    """`sc next 2 sts together`, `2 sc tog`, `6 sc 2 tog`."""
    kind = KINDS.get(m.text("s") or m.text("noun"), "sc")
    one = _decrease(kind, m.number("n") or 0)
    if one is None:
        return None
    number = m.number("k") or 1
    return act_of(m.span, (times_of(one, number), f"{number} decreases"))


def next_together(m: Match) -> Piece | None:
    """`sc next 2 sc together`: that decrease, and no stitch before it."""
    one = _decrease(KINDS.get(m.text("s"), "sc"), m.number("e") or 2)
    return act_of(m.span, (one, "one decrease")) if one else None


def together_to_the_end(m: Match) -> Piece | None:
    """`always 2 sts together`."""
    one = _decrease("sc", m.number("n") or 0)
    return Fill(one, m.span) if one else None


def pairs_together(m: Match) -> Piece | None:
    """`2 and 2 sts together`: so all round."""
    return together_to_the_end(m) if m.number("n") == m.number("again") else None


def so_many(m: Match) -> Piece | None:
    """`5 sc`, `sc 5`, `sc`; `2 sc` can also be two into one stitch."""
    kind = KINDS[m.text("s")]
    number = m.number("k")
    if number is None:
        return plain(kind, 1, m.span)
    if number == 0:
        return None
    into = into_one(kind, number) if number == 2 else None
    if into is None:
        return plain(kind, number, m.span)
    row = (((kind, number),), f"{number} plain")
    return act_of(m.span, row, (into, f"{number} into one stitch"), flag=f"{number} {kind}")


def glued_many(m: Match) -> Piece | None:
    """`sc2 inc` are two and an increase; `sc 2 inc` may be one and two."""
    return so_many(m) if m.span_of("s").end == m.span_of("k").start else None


def twice(m: Match) -> Piece:
    kind = KINDS[m.text("s")]
    into = (into_one(kind, 2) or (("inc", 1),), "2 into one stitch")
    number = m.number("m")
    if number and "E" in m.text("where"):
        return act_of(m.span, (times_of(into[0], number), f"2 into each of {number}"))
    if "E" in m.text("where"):
        return Fill(into[0], m.span)
    if m.has("where"):
        return act_of(m.span, into)
    return act_of(m.span, (((kind, 2),), "2 plain"), into, flag=f"2 {kind}")


def twice_into_each(m: Match) -> Piece:
    """`work twice into each st`."""
    return Fill(into_one(KINDS.get(m.text("s"), "sc"), 2) or (("inc", 1),), m.span)


def to_the_end(m: Match) -> Piece | None:
    """`sc around`, `2 sc in each` without its `in`, `18 sc around`, `even`."""
    kind = KINDS.get(m.text("s"), "sc")
    number = m.number("k") or 1
    if number == 1:
        return Fill(((kind, 1),), m.span)
    if m.has("each"):
        one = into_one(kind, number)
        return Fill(one, m.span) if one else None
    return plain(kind, number, m.span)
