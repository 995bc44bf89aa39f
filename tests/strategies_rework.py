"""Shared strategies: plain patterns with any kinds of stitches, whose rounds go into each other."""

from __future__ import annotations

from hypothesis import strategies as st

from webapp.reading import USES, Begin, Work
from webapp.rework.model import PlainPart, PlainPattern, PlainRemark, PlainRound
from webapp.rounds.repeats import joined
from webapp.yarns import Gauge

TITLES = ("Head", "Body", "Arms", "Left ear", "Tail 2")
REMARKS = ("Start stuffing.", "Change to brown.", "Eyes go between rounds 8 and 9.")
NAMES = {
    **{f"inc{n}": f"{n} sc in one" for n in range(3, 9)},
    "hdc inc": "2 hdc in one",
    "dc inc": "2 dc in one",
    "dec3": "sc3tog",
    "hdc dec": "hdc2tog",
    "dc dec": "dc2tog",
}
"""What the tests' reader calls the kinds that have no word of their own."""


def row_of(work: Work) -> list[str]:
    """The stitches one by one, as the tests' reader names them."""
    return [NAMES.get(kind, kind) for kind, number in work for _ in range(number)]


def used(work: Work) -> int:
    return sum(number * USES[kind][0] for kind, number in work)


def made(work: Work) -> int:
    return sum(number * USES[kind][1] for kind, number in work)


@st.composite
def works(draw: st.DrawFn, into: int, chains: bool = True) -> Work:
    """Work that takes up exactly ``into`` stitches and makes 3 or more: often in repeats, often
    plain; with ``chains`` between them, which count as stitches."""
    if draw(st.booleans()):
        return (("sc", into),)
    kinds = st.sampled_from([kind for kind in USES if chains or kind != "ch"])
    unit = joined(draw(st.lists(st.tuples(kinds, st.integers(1, 5)), min_size=1, max_size=4)))
    unit = joined((*unit, ("sc", 1)))
    times = into // used(unit)
    whole = joined((unit * times)[:]) if times else ()
    whole = joined((*whole, ("sc", into - used(whole))))
    return whole if 3 <= made(whole) <= 300 else (("sc", into),)


@st.composite
def plain_parts(draw: st.DrawFn, title: str, usual: bool = False) -> PlainPart:
    """A part; a ``usual`` one has no chains that count, and its rows begin in the 2nd chain."""
    begin = draw(st.sampled_from(list(Begin)))
    first = draw(st.integers(3, 40))
    kind = draw(st.sampled_from(["sc", "sc", "hdc", "dc"]))
    work: Work = ((kind, first),)
    chain, per_leg = 0, ()
    if begin is Begin.OVAL:
        chain = draw(st.integers(4, 20))
        work = draw(
            st.sampled_from(
                [
                    (("sc", 2 * chain),),
                    (("sc", chain - 2), ("inc3", 1), ("sc", chain - 3), ("inc", 1)),
                    (("inc", 1), ("sc", chain - 3), ("inc4", 1), ("sc", chain - 3), ("inc", 1)),
                ]
            )
        )
        work = joined(work)
    elif begin is Begin.FLAT:
        chain = first + (1 if usual else draw(st.integers(1, 2)))
        mixed = joined((("sc", 1), ("inc", 1), ("sc", first - 2)))
        work = draw(st.sampled_from([work, (("inc", first),), (("inc3", first),), mixed]))
    elif begin is Begin.CHAIN_RING:
        chain = draw(st.sampled_from([first, first + 2]))
    elif begin is Begin.LEGS:
        per_leg = (draw(st.integers(4, 30)), draw(st.integers(4, 30)))
        chain = draw(st.integers(0, 4))
        work = (("sc", sum(per_leg) + draw(st.sampled_from([1, 2])) * chain),)
    rows = begin is Begin.FLAT
    joins = not rows and draw(st.booleans())
    rounds = [PlainRound(1, 0, made(work), (work,), joined=joins)]
    for number in range(2, draw(st.integers(2, 9))):
        before = rounds[-1].count
        left = draw(st.sampled_from([0, 0, 0, 2])) if before > 6 else 0
        work = draw(works(before - left, not usual))
        arcs = (work,)
        if draw(st.booleans()) and not left:
            half = draw(st.integers(1, before - 1))
            arcs = (draw(works(half, not usual)), draw(works(before - half, not usual)))
        count = sum(made(arc) for arc in arcs)
        loops = draw(st.sampled_from(["", "", "", "back", "front"]))
        turned = joins and draw(st.booleans())
        rounds.append(PlainRound(number, before, count, arcs, loops, left, joins, turned))
    remarks = draw(
        st.lists(
            st.builds(PlainRemark, st.integers(0, len(rounds)), st.sampled_from(REMARKS)),
            max_size=3,
        )
    )
    return PlainPart(
        title,
        draw(st.integers(1, 4)),
        begin,
        tuple(rounds),
        tuple(sorted(remarks, key=lambda remark: remark.after)),
        chain,
        per_leg,
        rows,
    )


@st.composite
def plain_patterns(draw: st.DrawFn, usual: bool = False) -> PlainPattern:
    """A pattern of one to three parts."""
    titles = draw(st.lists(st.sampled_from(TITLES), min_size=1, max_size=3, unique=True))
    gauge = draw(st.sampled_from([None, Gauge.per_10cm(22, 23.5)]))
    return PlainPattern("A toy", gauge, tuple(draw(plain_parts(title, usual)) for title in titles))
