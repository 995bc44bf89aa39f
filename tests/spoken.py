"""A small listener to spoken scripts, for tests only: it shares no code with the speaker.

It hears a line such as `Round three: one single crochet, then an increase, six times; eighteen
stitches.` and gives the stitches worked, one by one, with the count said.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

SMALL = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
         "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen",
         "nineteen"]  # fmt: skip
TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
VALUES = {w: n for n, w in enumerate(SMALL)} | {w: 10 * n for n, w in enumerate(TENS, 2)}

LINE = re.compile(
    r"(?P<label>(?:Round|Row)s? [a-z -]+?): (?P<work>.+?)"
    r"(?:; change to (?P<colour>[^;]+?) in the last stitch(?: of round [a-z -]+)?)?"
    r"; (?P<count>[a-z -]+) stitch(?:es)?(?: in each (?:round|row))?\."
)
TIMES = r"once|twice|[a-z -]+ times"


@dataclass
class Heard:
    """Rounds ``first`` to ``last``, the stitches of each, and the count said."""

    first: int
    last: int
    stitches: list[str]
    count: int
    colour: str


def number(words: str) -> int:
    """`one hundred and two` is 102."""
    total = part = 0
    for word in words.replace("-", " ").replace(" and ", " ").split():
        if word == "hundred":
            part *= 100
        elif word == "thousand":
            total, part = total + part * 1000, 0
        else:
            part += VALUES[word]
    return total + part


def times(words: str) -> int:
    return {"once": 1, "twice": 2}.get(words) or number(words.removesuffix(" times"))


def hear(line: str, before: int, single: str) -> Heard:
    """A line heard by somebody who has ``before`` stitches; ``single`` is the name of the stitch
    that US patterns call single crochet."""
    found = LINE.fullmatch(line)
    assert found, line
    first, last = numbered(found["label"])
    return Heard(
        first,
        last,
        body(found["work"], before, single),
        number(found["count"]),
        found["colour"] or "",
    )


def numbered(label: str) -> tuple[int, int]:
    """`Round three`, `Rounds sixteen and seventeen`, `Rounds sixteen to eighteen`; an `and` may
    also stand within a number."""
    kind, said = label.split(" ", 1)
    if not kind.endswith("s"):
        return number(said), number(said)
    if " to " in said:
        first, last = map(number, said.split(" to "))
        assert last > first + 1, label
        return first, last
    words = said.split(" and ")
    halves = ((" and ".join(words[:n]), " and ".join(words[n:])) for n in range(1, len(words)))
    (pair,) = {(number(a), number(b)) for a, b in halves if number(b) == number(a) + 1}
    return pair


def body(work: str, before: int, single: str) -> list[str]:
    all_of_it = re.fullmatch(rf"all of this ({TIMES}): (.+)", work)
    if all_of_it:
        return clauses(all_of_it[2], before, single) * times(all_of_it[1])
    after = re.fullmatch(rf"([^;:]+), ({TIMES})", work)
    if after:
        return run(after[1], before, single) * times(after[2])
    return clauses(work, before, single)


def clauses(work: str, before: int, single: str) -> list[str]:
    marked = re.fullmatch(
        rf"(?:(.+?); after that, )?from (point [a-z]+): (.+); all from \2, ({TIMES}) in all"
        r"(?:; after that, (.+))?", work
    )  # fmt: skip
    if marked:
        opening, _, inside, how_often, ending = marked.groups()
        return [
            *(clauses(opening, before, single) if opening else []),
            *clauses(inside, before, single) * times(how_often),
            *(clauses(ending, before, single) if ending else []),
        ]
    heard: list[str] = []
    for clause in work.split("; after that, "):
        repeat = re.fullmatch(rf"({TIMES}): (.+)", clause)
        if repeat:
            heard += run(repeat[2], before, single) * times(repeat[1])
        else:
            heard += run(clause, before, single)
    return heard


def run(work: str, before: int, single: str) -> list[str]:
    return [s for leaf in work.split(", then ") for s in stitches(leaf, before, single)]


def stitches(leaf: str, before: int, single: str) -> list[str]:
    each = rf"one {single} in (each stitch (around|across)|each chain around|the second chain .+)"
    if re.fullmatch(each, leaf):
        return ["sc"] * before
    joined = "one slip stitch in the first chain to form a ring"
    if re.fullmatch(rf"chain [a-z -]+(, turn)?|{joined}", leaf):
        # A chain to be worked into is as many stitches as there are to come.
        return []
    plain = re.fullmatch(rf"([a-z -]+?) {single}(?: .+)?", leaf)
    if plain:
        return ["sc"] * number(plain[1])
    shaped = re.fullmatch(r"(an|a|[a-z -]+) (in|de)creases?", leaf)
    assert shaped, leaf
    kind = shaped[2][:2] + "c"
    return [kind] * (1 if shaped[1] in ("a", "an") else number(shaped[1]))
