"""The wording of one round."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from webapp.rounds import Group, Round, Run, Work, shortest
from webapp.yarns import Terms, TermSet, term_set

PLAIN = ("sc", "sl st", "hdc", "dc", "tr")
"""Kinds of which each takes up a stitch and makes one."""

INTO_ONE = {
    **{f"inc{number}": (number, "sc") for number in range(3, 9)},
    "hdc inc": (2, "hdc"),
    "dc inc": (2, "dc"),
}
"""Kinds of several stitches into one, but for the increase, which has a word: number and kind."""

TOGETHER = {"dec3": ("sc", 3), "hdc dec": ("hdc", 2), "dc dec": ("dc", 2)}
"""Kinds worked together, but for the decrease, which has a word: kind and number."""


def round_text(r: Round, words: TermSet) -> str:
    """The shortest exact wording of a round's work; see :func:`work_text`."""
    return work_text(r.arcs, words)


def work_text(arcs: tuple[Work, ...], words: TermSet, to: str = "around") -> str:
    """The shortest exact wording of the work of a round, arc by arc; ``to`` says how far a round
    of one kind goes ("around", of a row "across").

    `(3 sc, inc) x 6`, `[(sc, inc) x 5, 20 sc] x 2`: round brackets inside, square ones outside.
    Arcs of a round are worded one by one, so that a maker sees where each begins.
    """
    return _work_text(arcs, words.terms, to)


@lru_cache(maxsize=4096)
def _work_text(arcs: tuple[Work, ...], terms: Terms, to: str) -> str:
    words = term_set(terms)
    kinds = {kind for arc in arcs for kind, _ in arc}
    if len(kinds) == 1 and kinds <= set(PLAIN):
        stitch = stitch_word(kinds.pop(), words)
        if to == "across":
            return words.say("{stitch} in each {st} across", stitch=stitch)
        return words.say("{stitch} in each {st} around", stitch=stitch)
    half = len(arcs) // 2
    if half and arcs[:half] == arcs[half:]:
        items = tuple(item for arc in arcs[:half] for item in shortest(arc))
        return _items((Group(items, 2),), words)
    return _items(tuple(item for arc in arcs for item in shortest(arc)), words)


def exact_text(work: Work, words: TermSet) -> str:
    """The shortest wording of stitches that says how many there are: `24 sc`."""
    return _items(shortest(work), words) if work else ""


def _items(items: tuple[Run | Group, ...], words: TermSet) -> str:
    among = len(items) > 1
    return words.manner.comma.join(_item(item, words, among) for item in items)


def _item(item: Run | Group, words: TermSet, among: bool) -> str:
    if not isinstance(item, Group):
        return run_text(item, words)
    if len(item.items) == 1 and not isinstance(item.items[0], Group):
        # One run repeated is that run: a period of one stitch.
        kind, number = item.items[0]
        return run_text((kind, number * item.times), words)
    inner = _items(item.items, words)
    nested = any(isinstance(i, Group) for i in item.items)
    manner = words.manner
    if nested:
        bracket = manner.outer_among if among else manner.outer
    else:
        bracket = manner.bracket_among if among else manner.bracket
    return bracket.format(row=inner, times=item.times)


def stitch_word(kind: str, words: TermSet) -> str:
    """The word of a plain kind of stitch."""
    return {
        "sc": words.sc, "sl st": words.sl_st, "hdc": words.hdc, "dc": words.dc, "tr": words.tr
    }[kind]  # fmt: skip


def run_text(run: Run, words: TermSet) -> str:
    """So many of one kind: `4 sc`, `inc x 2`, `3 sc in the next st`, `skip 1 st`."""
    kind, number = run
    if kind in PLAIN:
        return so_many(number, stitch_word(kind, words), words)
    if kind in INTO_ONE:
        how_many, one = INTO_ONE[kind]
        return words.many(
            "{how_many} {stitch} in the next {st}",
            "{how_many} {stitch} in each of the next {number} {sts}",
            number,
            how_many=how_many,
            stitch=stitch_word(one, words),
        )
    if kind == "skip":
        return words.many("{skip} {number} {st}", "{skip} {number} {sts}", number)
    if kind == "ch":
        return words.say("{ch} {number}", number=number)
    if kind in TOGETHER:
        one, how_many = TOGETHER[kind]
        manner = words.manner.together if number == 1 else words.manner.several_together
        return manner.format(stitch=stitch_word(one, words), width=how_many, number=number)
    word = words.inc if kind == "inc" else words.dec
    manner = words.manner.shaped_one if number == 1 else words.manner.shaped
    return manner.format(stitch=word, number=number)


def so_many(number: int, stitch: str, words: TermSet) -> str:
    """So many stitches by their word: `4 sc`."""
    manner = words.manner.one if number == 1 else words.manner.several
    return manner.format(stitch=stitch, number=number)


def turned(words: TermSet, chains: int = 1) -> str:
    """What a row begins with."""
    return words.say("{ch} {number}, turn, ", number=chains)


def only_plain(work: Iterable[Run]) -> str:
    """The one plain kind that all the stitches are of; empty where there are several."""
    kinds = {kind for kind, _ in work}
    return kinds.pop() if len(kinds) == 1 and kinds <= set(PLAIN) else ""
