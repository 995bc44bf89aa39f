"""A small reader of written patterns, for tests only: it shares no code with the writer.

It reads a part's rounds (`Rnd 3: (sc, inc) x 6 [18]`, `Rnds 4-7: sc in each st around [18]`) back
into stitches, by expanding brackets.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

TITLE = re.compile(r"^([A-Z][A-Z0-9 ]+) \(make (\d+)\)$")
LINE = re.compile(r"^(Rnd|Rnds|Row|Rows) (\d+)(?:-(\d+))?: (.*) \[(\d+)\]$")
MARKS = re.compile(r"\s*(\(|\)|\[|\]|,|x \d+|\d+ \w+|\w+)")


@dataclass
class ReadPart:
    """A part as read: copies, and for each round its stitches and the count after it."""

    title: str
    copies: int
    rounds: list[tuple[list[str], int]] = field(default_factory=list)


def read_parts(text: str, single: str) -> list[ReadPart]:
    """All parts of a pattern; ``single`` is the word for a single crochet (sc or dc)."""
    parts: list[ReadPart] = []
    for line in unwrapped(text):
        title = TITLE.match(line)
        if title:
            parts.append(ReadPart(title[1], int(title[2])))
        found = LINE.match(line)
        if not found:
            continue
        _, first, last, work, count = found.groups()
        work = re.sub(r", changing to .+ in the last st( of Rnd \d+)?$", "", work)
        for number in range(int(first), int(last or first) + 1):
            rounds = parts[-1].rounds
            assert number == len(rounds) + 1, f"{line}: a round is missing before it"
            before = rounds[-1][1] if rounds else 0
            rounds.append((stitches(work, before, single), int(count)))
    return parts


def unwrapped(text: str) -> list[str]:
    """Lines with their continuations (indented by two spaces) joined on."""
    lines: list[str] = []
    for line in text.splitlines():
        if line.startswith("  ") and lines:
            lines[-1] += " " + line.strip()
        else:
            lines.append(line)
    return lines


def stitches(work: str, before: int, single: str) -> list[str]:
    """The stitches of a line, each as 'sc', 'inc' or 'dec'."""
    if work.startswith((f"{single} in each st", "ch 1, turn")):
        return ["sc"] * before
    ring = re.fullmatch(rf"(\d+) {single} in a magic ring", work)
    if ring:
        return ["sc"] * int(ring[1])
    if "the first leg" in work:
        return legs_joined(work, single)
    if work.startswith("ch "):
        return chain_start(work, single)
    marks = MARKS.findall(work)
    row, at = expand([m.strip() for m in marks], 0, single)
    assert at == len(marks), work
    return row


def legs_joined(work: str, single: str) -> list[str]:
    """Round both legs and along both sides of the chain between them, if there is one.

    What is said to go round a leg, its joining stitch with it, is the same for both."""
    chain = re.match(r"ch (\d+), ", work)
    first = re.search(
        rf"join to the first leg with 1 {single} in a st of its last round, "
        rf"(\d+) {single} round the rest of it",
        work,
    )
    second = re.search(rf"(\d+) {single} round the second leg", work)
    legs = (1 + int(first[1]), int(second[1]))
    assert legs[0] == legs[1]
    side = rf"1 {single} in (the other side of )?(each of )?the (?:same )?(\d+)? ?ch"
    sides = re.findall(side, work)
    assert [bool(other) for other, _, _ in sides] == ([False, True] if chain else [])
    along = [int(number or 1) for _, _, number in sides]
    assert all(number == int(chain[1]) for number in along)
    assert len(work.split(", ")) == (6 if chain else 3)
    return ["sc"] * (sum(legs) + sum(along))


def chain_start(work: str, single: str) -> list[str]:
    """A ring of chains with one in each; an oval: 3 in the end chains, the rest along both sides;
    or the chain of a strip."""
    chains = int(re.match(r"ch (\d+)", work)[1])
    if "to form a ring" in work:
        joined = r"ch \d+, (sl st|ss) in the first ch to form a ring, (\w+) in each ch around"
        assert re.fullmatch(joined, work)[2] == single
        return ["sc"] * chains
    if "across" in work:
        return ["sc"] * (chains - 1)
    ends = work.count(f"3 {single} in the")
    sides = [int(n) for n in re.findall(rf"1 {single} in each of the next (\d+) ch", work)]
    sides += [1] * work.count(f"1 {single} in the next ch")
    assert ends == 2
    assert len(sides) == 2
    assert sides[0] == sides[1] == chains - 3
    return ["sc"] * (3 * ends + sum(sides))


def expand(marks: list[str], at: int, single: str) -> tuple[list[str], int]:
    """Stitches from ``marks[at:]`` up to the bracket that closes here, and where that is."""
    row: list[str] = []
    while at < len(marks) and marks[at] not in ")]":
        mark = marks[at]
        if mark in "([":
            inner, at = expand(marks, at + 1, single)
            assert marks[at] == {"(": ")", "[": "]"}[mark], "brackets do not match"
            row += inner * int(marks[at + 1].removeprefix("x "))
            at += 2
        elif mark == ",":
            at += 1
        else:
            times, _, word = mark.rpartition(" ")
            word = "sc" if word == single else word
            assert word in ("sc", "inc", "dec"), mark
            at += 1
            row += [word] * int(times or 1)
            if at < len(marks) and marks[at].startswith("x "):
                row += [word] * (int(marks[at].removeprefix("x ")) - 1)
                at += 1
    return row, at
