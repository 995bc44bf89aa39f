"""What phrases mean that are no stitches of a round alone: starts, legs, chains, joins, repeats."""

from __future__ import annotations

from webapp.reading.meanings import (
    ALL_ROUND_A_LEG,
    KINDS,
    MOST_INTO_ONE,
    Maker,
    act_of,
    into_one,
    plain,
    times_of,
)
from webapp.reading.nodes import Act, Fill, Option
from webapp.reading.pieces import Mark, Match, Piece, Times


def ring(m: Match) -> tuple[Piece, ...] | None:
    number = m.number("n")
    if number is None or number < 1:
        return None
    mark = Mark("into ring", number, m.span)
    return (mark, plain(KINDS.get(m.text("s"), "sc"), number, m.span))


def first_chain(m: Match) -> tuple[Piece, ...] | None:
    """`6 sc in 2nd ch from hook`."""
    number = m.number("n") or 1
    one = into_one(KINDS.get(m.text("s"), "sc"), number)
    if one is None and number > MOST_INTO_ONE:
        one = (("sc", number),)
    return (Mark("into chain", number, m.span), act_of(m.span, (one or (("sc", number),), "")))


def all_chains(m: Match) -> tuple[Piece, ...] | None:
    """`sc in 2nd ch from hook and in each ch across`."""
    one = into_one(KINDS[m.text("s")], m.number("n") or 1)
    return (Mark("into chain", 1, m.span), Fill(one, m.span)) if one else None


def so_many_chains(m: Match) -> tuple[Piece, ...] | None:
    """`sc in 2nd ch from hook and in each of the next 8 ch`, `and in next ch`."""
    one = into_one(KINDS[m.text("s")], m.number("n") or 1)
    number = (m.number("m") or 1) + 1
    if one is None:
        return None
    act = act_of(m.span, (times_of(one, number), f"{number} chains"))
    return (Mark("into chain", 1, m.span), act)


def leg(m: Match) -> tuple[Piece, ...]:
    number = m.number("k", "k1")
    kind = KINDS[m.text("s")]
    mark = Mark("leg", number or 0, m.span)
    if number:
        return (mark, plain(kind, number, m.span))
    if not set("OE") & set(m.text("how")):
        return (mark,)
    return (mark, Act((Option((), "all round a leg"),), m.span, ALL_ROUND_A_LEG))


def skip(m: Match) -> Piece:
    number = m.number("m") or 1
    return act_of(m.span, ((("skip", number),), f"{number} skipped"))


def marked(what: str) -> Maker:
    def made(m: Match) -> Piece:
        return Mark(what, 0, m.span)

    return made


def joined_by_one(m: Match) -> Piece | None:
    """`1 sl st in the first st`, and no more of the round."""
    return Mark("join", 0, m.span) if m.number("one") == 1 else None


def again(m: Match) -> tuple[Piece, ...]:
    """`repeat rnd 4`, `rep last round twice`, `repeat rnd 8 five more times`."""
    again = Mark("again", m.number("n") or 0, m.span)
    times = 2 if m.has("w") else m.number("t") or 1
    return (again, Mark("rounds", times, m.span))


def again_all(m: Match) -> tuple[Piece, ...]:
    """`repeat rounds 1-9`, `rep rnds 3 and 4 five times`."""
    times = 2 if m.has("w") else m.number("t") or 1
    return (
        Mark("again", m.number("n") or 0, m.span),
        Mark("again to", m.number("last") or 0, m.span),
        Mark("again times", times, m.span),
    )


def chain(m: Match) -> Piece:
    return Mark("chain", m.number("n") or 1, m.span)


def bridge(m: Match) -> Piece:
    """`ch 3, skip 3`: chains over stitches that are left, worked into later."""
    chains, left = m.number("n") or 1, m.number("m") or 1
    says = f"{chains} chains over {left} stitches"
    return act_of(m.span, ((("ch", chains), ("skip", left)), says))


def first_bridge(m: Match) -> Piece:
    """The same where a round begins, or chains up to its height that do not count, and the next
    stitches left out: its count says which."""
    chains, left = m.number("n") or 1, m.number("m") or 1
    over = ((("ch", chains), ("skip", left)), f"{chains} chains over {left} stitches")
    up = ((("skip", left),), f"{chains} chains up, {left} skipped")
    return act_of(m.span, over, up, flag="first chains")


def left_unworked(m: Match) -> Piece:
    return Mark("left", m.number("m") or 0, m.span)


def repeat(m: Match) -> Piece | None:
    number = m.number("n")
    if m.has("w"):
        number = 2
    if m.has("more") and number is None:
        number = 1  # "once more"
    # `repeat from * 6 times in all` says so.
    rep = m.has("rep") and not m.has("all")
    more = m.has("more") or m.has("pre")
    return Times(number, m.span, more=more, rep=rep, star=m.has("star"))


def count_of_times(m: Match) -> Piece:
    return Times(2 if m.has("w") else m.number("n"), m.span, more=m.has("more"))
