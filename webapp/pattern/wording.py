"""The wording of one round."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from webapp.rounds import Group, Round, Run, Start, Work, WorkedPart, shortest
from webapp.yarns import Terms, TermSet, term_set


def round_text(r: Round, words: TermSet) -> str:
    """The shortest exact wording of a round's work.

    `(3 sc, inc) x 6`, `[(sc, inc) x 5, 20 sc] x 2`: round brackets inside, square ones outside.
    Arcs of a round are worded one by one, so that a maker sees where each begins.
    """
    return _round_text(r.arcs, words.terms)


@lru_cache(maxsize=4096)
def _round_text(arcs: tuple[Work, ...], terms: Terms) -> str:
    words = term_set(terms)
    if all(len(arc) == 1 and arc[0][0] == "sc" for arc in arcs):
        return f"{words.sc} in each {words.st} around"
    half = len(arcs) // 2
    if half and arcs[:half] == arcs[half:]:
        items = tuple(item for arc in arcs[:half] for item in shortest(arc))
        return _items((Group(items, 2),), words)
    return _items(tuple(item for arc in arcs for item in shortest(arc)), words)


def _items(items: tuple[Run | Group, ...], words: TermSet) -> str:
    return ", ".join(_item(item, words) for item in items)


def _item(item: Run | Group, words: TermSet) -> str:
    if not isinstance(item, Group):
        return _run(item, words)
    if len(item.items) == 1 and not isinstance(item.items[0], Group):
        # One run repeated is that run: a period of one stitch.
        kind, number = item.items[0]
        return _run((kind, number * item.times), words)
    inner = _items(item.items, words)
    nested = any(isinstance(i, Group) for i in item.items)
    return f"[{inner}] x {item.times}" if nested else f"({inner}) x {item.times}"


def _run(run: Run, words: TermSet) -> str:
    kind, number = run
    if kind == "sc":
        return words.sc if number == 1 else f"{number} {words.sc}"
    word = words.inc if kind == "inc" else words.dec
    return word if number == 1 else f"{word} x {number}"


def _joining_legs(part: WorkedPart, words: TermSet) -> Iterator[str]:
    """The pieces of the round that joins two legs, which begins at the second leg's last stitch."""
    each, chain, one = part.per_leg, part.order.chain, f"1 {words.sc} in"
    if chain:
        yield f"{words.ch} {chain}"
    yield f"join to the first leg with {one} a {words.st} of its last round"
    yield f"{each - 1} {words.sc} round the rest of it"
    if chain:
        yield f"{one} the {words.ch}" if chain == 1 else f"{one} each of the {chain} {words.ch}"
    yield f"{each} {words.sc} round the second leg"
    if chain:
        which = "the same" if chain == 1 else f"each of the same {chain}"
        yield f"{one} the other side of {which} {words.ch}"


def first_round_text(part: WorkedPart, words: TermSet) -> str:
    """The wording of a first round: into a ring, magic or of chains, round a chain or on legs."""
    count = part.rounds[0].count
    if part.order.start is Start.OPEN:
        return (
            f"{words.ch} {count}, {words.sl_st} in the first {words.ch} to form a ring, "
            f"{words.sc} in each {words.ch} around"
        )
    if part.order.start is Start.LEGS:
        return ", ".join(_joining_legs(part, words))
    if not part.straight_stitches:
        return f"{count} {words.sc} in a {words.magic_ring}"
    side = part.straight_stitches
    chains = side + 3
    along = f"1 {words.sc} in each of the next {side} {words.ch}"
    if side == 1:
        along = f"1 {words.sc} in the next {words.ch}"
    return (
        f"{words.ch} {chains}; 3 {words.sc} in the 2nd {words.ch} from the hook, {along}, "
        f"3 {words.sc} in the last {words.ch}; turn the work round, not over, and along the other "
        f"side of the chain {along}"
    )
