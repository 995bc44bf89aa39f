"""The wording of a first round: what it is worked into, and what goes into it."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.pattern.wording import (
    INTO_ONE,
    PLAIN,
    exact_text,
    only_plain,
    so_many,
    stitch_word,
)
from webapp.reading import USES, Begin
from webapp.rounds import Run, Start, Work, WorkedPart
from webapp.rounds.repeats import joined
from webapp.words import noted
from webapp.yarns import TermSet

SC_INTO_ONE = tuple(kind for kind, (_, one) in INTO_ONE.items() if one == "sc")
ORDINALS = (noted("1st"), noted("2nd"), noted("3rd"), noted("4th"), noted("5th"))


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
        stitches = exact_text(in_ring(work), words)
        return words.say("{stitches} in a {magic_ring}", stitches=stitches)
    if begin is Begin.CHAIN_RING:
        return _chain_ring(work, count, said, chain, words)
    if begin is Begin.OVAL:
        return _oval(work, count, chain, words)
    if begin is Begin.FLAT:
        return _flat(work, count, said, chain, words)
    if begin is Begin.EDGE:
        return words.say("along the edge, {stitches}", stitches=said)
    if begin is Begin.LEGS:
        legs = _two_legs(work, chain, per_leg)
        if legs:
            return words.manner.comma.join(_joining_legs(legs, chain, words))
        bridge = f"{_chain(chain, words)}{words.manner.comma}" if chain else ""
        return bridge + _first_said(work, words.say("on the first leg"), words)
    return said


def _chain_ring(work: Work, count: int, said: str, chain: int, words: TermSet) -> str:
    kind = only_plain(work)
    joined = words.say("{sl_st} in the first {ch} to form a ring")
    if kind and chain in (0, count):
        each = words.say("{stitch} in each {ch} around", stitch=stitch_word(kind, words))
        return words.manner.comma.join((_chain(count, words), joined, each))
    return words.manner.comma.join((_chain(chain or count, words), joined, said))


def _chain(number: int, words: TermSet) -> str:
    return words.say("{ch} {number}", number=number)


def _oval(work: Work, count: int, chain: int, words: TermSet) -> str:
    side = chain - 3
    if only_plain(work) == "sc" and side > 0 and count == 2 * side + 6:
        along = words.many(
            "1 {sc} in the next {ch}", "1 {sc} in each of the next {number} {ch}", side
        )
        return words.say(
            "{chains}; 3 {sc} in the 2nd {ch} from the hook, {along}, 3 {sc} in the last {ch}; "
            "turn the work round, not over, and along the other side of the chain {along}",
            chains=_chain(chain, words),
            along=along,
        )
    if not chain:
        return exact_text(work, words)
    one, other = _two_sides(work, chain - 1)
    text = words.manner.after_chain.join(
        (_chain(chain, words), _from_hook(one, "2nd", words))
    )
    if other:
        text += words.say(
            "; turn the work round, not over, and along the other side of the chain: {stitches}",
            stitches=exact_text(other, words),
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
        return words.manner.after_chain.join((_chain(chain, words), said))
    each = _each_alike(work, words)
    if each:
        said = words.say(
            "{stitches} in the {ordinal} {ch} from the hook and in each {ch} across",
            stitches=each,
            ordinal=words.name(ORDINALS[missed]),
        )
        return words.manner.after_chain.join((_chain(chain, words), said))
    along = _from_hook(work, ORDINALS[missed], words)
    return words.manner.after_chain.join((_chain(chain, words), along))


def _each_alike(work: Work, words: TermSet) -> str:
    """What goes into each chain, where it is the same for all; else nothing."""
    kinds = {kind for kind, _ in work}
    kind = kinds.pop() if len(kinds) == 1 else ""
    if kind in PLAIN:
        return so_many(1, stitch_word(kind, words), words)
    if kind == "inc":
        return so_many(2, words.sc, words)
    if kind in INTO_ONE:
        return so_many(INTO_ONE[kind][0], stitch_word(INTO_ONE[kind][1], words), words)
    return ""


def _two_legs(work: Work, chain: int, per_leg: tuple[int, ...]) -> tuple[int, ...]:
    """Stitches of each of two legs round which, and along both sides of the chain, it is worked in
    single crochet: 3 "on the chain" may have been read as 3 into one. Nothing where it is not so.
    """
    if not {kind for kind, _ in work} <= {"sc", *SC_INTO_ONE}:
        return ()
    count = sum(number * USES[kind][1] for kind, number in work)
    numbers = [number * USES[kind][1] for kind, number in work]
    if len(per_leg) != 2 and len(work) == 4 and numbers[1] == numbers[3] == chain:
        per_leg = (numbers[0], numbers[2])
    return per_leg if len(per_leg) == 2 and count == sum(per_leg) + 2 * chain else ()


def settled_start(
    begin: Begin, work: Work, chain: int, per_leg: tuple[int, ...]
) -> tuple[Work, tuple[int, ...]]:
    """The stitches of a first round, and of each leg, as they are written: what goes into a ring,
    or round legs, goes one by one."""
    if begin is Begin.RING:
        return in_ring(work), per_leg
    legs = _two_legs(work, chain, per_leg) if begin is Begin.LEGS else ()
    return (in_ring(work), legs) if legs else (work, per_leg)


def _from_hook(work: Work, ordinal: str, words: TermSet) -> str:
    """Stitches along a chain: `1 sc in the 2nd ch from the hook, 4 sc`."""
    where = words.say("in the {ordinal} {ch} from the hook", ordinal=words.name(ordinal))
    return _first_said(work, where, words)


def _first_said(work: Work, where: str, words: TermSet) -> str:
    """Stitches, the first of them said by itself with where it goes."""
    kind, number = work[0]
    rest: Work = ((kind, number - 1), *work[1:]) if number > 1 else work[1:]
    if kind == "inc":
        first = words.say("{stitches} {where}", stitches=so_many(2, words.sc, words), where=where)
    elif kind in INTO_ONE:
        stitches = so_many(INTO_ONE[kind][0], stitch_word(INTO_ONE[kind][1], words), words)
        first = words.say("{stitches} {where}", stitches=stitches, where=where)
    elif kind in PLAIN:
        stitches = words.manner.several.format(number=1, stitch=stitch_word(kind, words))
        first = words.say("{stitches} {where}", stitches=stitches, where=where)
    else:
        stitches = exact_text(work, words)
        return words.say("{stitches}, the first of them {where}", stitches=stitches, where=where)
    return words.manner.comma.join((first, exact_text(rest, words))) if rest else first


def in_ring(work: Work) -> Work:
    """Stitches into a ring: several "into one" are so many one after the other."""
    into: list[Run] = []
    for kind, number in work:
        if kind == "inc":
            into.append(("sc", 2 * number))
        elif kind in INTO_ONE:
            into.append((INTO_ONE[kind][1], INTO_ONE[kind][0] * number))
        else:
            into.append((kind, number))
    return joined(into)


def _joining_legs(per_leg: tuple[int, ...], chain: int, words: TermSet) -> Iterator[str]:
    """The pieces of the round that joins two legs, which begins at the second leg's last stitch."""
    if chain:
        yield _chain(chain, words)
    yield words.say("join to the first leg with 1 {sc} in a {st} of its last round")
    yield words.say("{number} {sc} round the rest of it", number=per_leg[0] - 1)
    if chain:
        yield words.many("1 {sc} in the {ch}", "1 {sc} in each of the {number} {ch}", chain)
    yield words.say("{number} {sc} round the second leg", number=per_leg[1])
    if chain:
        yield words.many(
            "1 {sc} in the other side of the same {ch}",
            "1 {sc} in the other side of each of the same {number} {ch}",
            chain,
        )
