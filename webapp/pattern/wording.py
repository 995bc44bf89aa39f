"""The wording of one round."""

from __future__ import annotations

from functools import lru_cache

from webapp.rounds import Group, Run, Work, WorkedPart, shortest
from webapp.yarns import Terms, TermSet, term_set


def round_text(work: Work, words: TermSet) -> str:
    """The shortest exact wording of a round's work.

    `(3 sc, inc) x 6`, `[(sc, inc) x 5, 20 sc] x 2`: round brackets inside, square ones outside.
    """
    return _round_text(work, words.terms)


@lru_cache(maxsize=4096)
def _round_text(work: Work, terms: Terms) -> str:
    words = term_set(terms)
    if len(work) == 1 and work[0][0] == "sc":
        return f"{words.sc} in each {words.st} around"
    return _items(shortest(work), words)


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


def first_round_text(part: WorkedPart, words: TermSet) -> str:
    """The wording of a first round: into a magic ring, or round a chain."""
    count = part.rounds[0].count
    if not part.straight_stitches:
        return f"{count} {words.sc} in a {words.magic_ring}"
    side = part.straight_stitches
    chains = side + 3
    along = f"{words.sc} in the next {words.ch}" if side == 1 else f"{side} {words.sc}"
    return (
        f"{words.ch} {chains}; 3 {words.sc} in the 2nd {words.ch} from the hook, {along}, "
        f"3 {words.sc} in the last {words.ch}; on the other side of the chain, {along}"
    )
