"""The wording of a first round: what it is worked into, and what goes into it."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.pattern.wording import exact_text, only_plain, stitch_word
from webapp.reading import USES, Begin
from webapp.rounds import Run, Start, Work, WorkedPart
from webapp.yarns import TermSet

ORDINALS = ("1st", "2nd", "3rd", "4th", "5th")


def first_round_text(part: WorkedPart, words: TermSet) -> str:
    """The wording of a worked part's first round."""
    count = part.rounds[0].count
    all_sc: Work = (("sc", count),)
    if part.order.start is Start.OPEN:
        return start_text(Begin.CHAIN_RING, all_sc, words, chain=count)
    if part.order.start is Start.LEGS:
        legs = (part.per_leg, part.per_leg)
        return start_text(Begin.LEGS, all_sc, words, chain=part.order.chain, per_leg=legs)
    if part.straight_stitches:
        return start_text(Begin.OVAL, all_sc, words, chain=part.straight_stitches + 3)
    return start_text(Begin.RING, all_sc, words)


def start_text(
    begin: Begin, work: Work, words: TermSet, *, chain: int = 0, per_leg: tuple[int, ...] = ()
) -> str:
    """The wording of a first round of ``work``: into a ring, magic or of ``chain`` chains, along a
    chain or both its sides, on pieces of ``per_leg`` stitches with ``chain`` between them, on an
    edge.

    Where a chain goes with the stitches in no usual way, both are said and no more.
    """
    count = sum(number * USES[kind][1] for kind, number in work)
    said = exact_text(work, words)
    if begin is Begin.RING:
        return f"{said} in a {words.magic_ring}"
    if begin is Begin.CHAIN_RING:
        return _chain_ring(work, count, said, chain, words)
    if begin is Begin.OVAL:
        return _oval(work, count, chain, words)
    if begin is Begin.FLAT:
        return _flat(work, count, said, chain, words)
    if begin is Begin.EDGE:
        return f"along the edge, {said}"
    if begin is Begin.LEGS and len(per_leg) == 2:
        if only_plain(work) == "sc" and count == sum(per_leg) + 2 * chain:
            return ", ".join(_joining_legs(per_leg, chain, words))
        bridge = f"{words.ch} {chain}, " if chain else ""
        return f"{bridge}join to the first piece, {said}"
    return said


def _chain_ring(work: Work, count: int, said: str, chain: int, words: TermSet) -> str:
    kind = only_plain(work)
    joined = f"{words.sl_st} in the first {words.ch} to form a ring"
    if kind and chain in (0, count):
        each = f"{stitch_word(kind, words)} in each {words.ch} around"
        return f"{words.ch} {count}, {joined}, {each}"
    return f"{words.ch} {chain or count}, {joined}, {said}"


def _oval(work: Work, count: int, chain: int, words: TermSet) -> str:
    side = chain - 3
    if only_plain(work) == "sc" and side > 0 and count == 2 * side + 6:
        along = f"1 {words.sc} in each of the next {side} {words.ch}"
        if side == 1:
            along = f"1 {words.sc} in the next {words.ch}"
        return (
            f"{words.ch} {chain}; 3 {words.sc} in the 2nd {words.ch} from the hook, {along}, "
            f"3 {words.sc} in the last {words.ch}; turn the work round, not over, and along the "
            f"other side of the chain {along}"
        )
    if not chain:
        return exact_text(work, words)
    one, other = _two_sides(work, chain - 1)
    text = f"{words.ch} {chain}; from the 2nd {words.ch} from the hook {exact_text(one, words)}"
    if other:
        text += (
            "; turn the work round, not over, and along the other side of the chain "
            f"{exact_text(other, words)}"
        )
    return text


def _two_sides(work: Work, chain: int) -> tuple[Work, Work]:
    """The stitches that take up ``chain`` chains, and those that follow on the other side."""
    one: list[Run] = []
    left = chain
    for at, (kind, number) in enumerate(work):
        each = USES[kind][0]
        fit = number if not each else min(number, left // each)
        if fit:
            one.append((kind, fit))
        left -= fit * each
        if fit < number:
            return tuple(one), ((kind, number - fit), *work[at + 1 :])
    return tuple(one), ()


def _flat(work: Work, count: int, said: str, chain: int, words: TermSet) -> str:
    chain = chain or count + 1
    used = sum(number * USES[kind][0] for kind, number in work)
    missed = chain - used
    if not 0 <= missed < len(ORDINALS):
        return f"{words.ch} {chain}; {said}"
    first = f"the {ORDINALS[missed]} {words.ch} from the hook"
    kind = only_plain(work)
    if kind:
        word = stitch_word(kind, words)
        return f"{words.ch} {chain}; {word} in {first} and in each {words.ch} across"
    return f"{words.ch} {chain}; from {first} {said}"


def _joining_legs(per_leg: tuple[int, ...], chain: int, words: TermSet) -> Iterator[str]:
    """The pieces of the round that joins two legs, which begins at the second leg's last stitch."""
    one = f"1 {words.sc} in"
    if chain:
        yield f"{words.ch} {chain}"
    yield f"join to the first leg with {one} a {words.st} of its last round"
    yield f"{per_leg[0] - 1} {words.sc} round the rest of it"
    if chain:
        yield f"{one} the {words.ch}" if chain == 1 else f"{one} each of the {chain} {words.ch}"
    yield f"{per_leg[1]} {words.sc} round the second leg"
    if chain:
        which = "the same" if chain == 1 else f"each of the same {chain}"
        yield f"{one} the other side of {which} {words.ch}"
