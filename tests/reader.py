"""A small reader of written patterns, for tests only: it shares no code with the writer.

It reads a part's rounds (`Rnd 3: (sc, inc) x 6 [18]`, `Rnds 4-7: sc in each st around [18]`) back
into stitches, by expanding brackets. Stitches are named as US patterns name them, whatever the
words of the text; several into one are `3 sc in one`, several worked together `sc3tog`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

TITLE = re.compile(r"^([A-Z][A-Z0-9 ]+) \(make (\d+)\)$")
LINE = re.compile(r"^(Rnd|Rnds|Row|Rows) (\d+)(?:-(\d+))?: (.*) \[(\d+)\]$")
MARKS = re.compile(r"\s*(\(|\)|\[|\]|,|x \d+|\d+ \w+|\w+)")
ONE = r"sl st|ss|dc|hdc|htr|tr|dtr|sc"
PHRASES = re.compile(
    rf"\s*(\(|\)|\[|\]|,|x \d+|\d+ (?:{ONE}) in (?:the next st|each of the next \d+ sts)"
    rf"|(?:skip|miss) \d+ sts?|ch \d+|(?:\d+ )?(?:{ONE})(?!\w)|\w+tog|inc|dec)"
)
"""The same with all kinds of stitches."""

US_NAMES = {
    "sc": {"sc": "sc", "hdc": "hdc", "dc": "dc", "tr": "tr", "sl st": "sl st"},
    "dc": {"dc": "sc", "htr": "hdc", "tr": "dc", "dtr": "tr", "ss": "sl st"},
}
"""US name of each stitch, by what a single crochet is called: the Craft Yarn Council's table."""


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
        rf"(\d+) {single} a?round the rest of it",
        work,
    )
    second = re.search(rf"(\d+) {single} a?round the second leg", work)
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


@dataclass
class Worked:
    """A round as read: its stitches, the count after it, and what else is said of it."""

    row: list[str]
    count: int
    loops: str = ""
    left: int = 0
    joined: bool = False
    turned: bool = False


def read_all_kinds(text: str, single: str) -> list[tuple[str, int, list[Worked]]]:
    """Title, copies and rounds of all parts of a pattern with any kinds of stitches.

    A first round is read by :func:`read_first`.
    """
    parts: list[tuple[str, int, list[Worked]]] = []
    for line in unwrapped(text):
        title = TITLE.match(line)
        if title:
            parts.append((title[1], int(title[2]), []))
        found = LINE.match(line)
        if not found:
            continue
        _, first, last, work, count = found.groups()
        rounds = parts[-1][2]
        for number in range(int(first), int(last or first) + 1):
            assert number == len(rounds) + 1, f"{line}: a round is missing before it"
            before = rounds[-1].count if rounds else None
            rounds.append(read_round(work, int(count), before, single))
    return parts


def read_round(work: str, count: int, before: int | None, single: str) -> Worked:
    """One round; ``before`` is None for a first round."""
    r = Worked([], count)
    work, joins = re.subn(r", (?:sl st|ss) in the first st to join$", "", work)
    r.joined = bool(joins)
    left = re.search(r", leave (\d+) sts? unworked$", work)
    if left:
        r.left, work = int(left[1]), work[: left.start()]
    begin = re.match(r"ch \d, (turn, )?", work)
    if begin and before is not None and (begin[1] or r.joined):
        r.turned, work = bool(begin[1]), work[begin.end() :]
    loops = re.match(r"in (back|front) loops only, ", work)
    if loops:
        r.loops, work = loops[1], work[loops.end() :]
    even = re.fullmatch(rf"({ONE}) in each st (?:around|across)", work)
    if even and before is not None:
        r.row = [US_NAMES[single][even[1]]] * before
    elif before is None:
        r.row = read_first(work, single)
    else:
        r.row = any_stitches(work, single)
    return r


def read_first(work: str, single: str) -> list[str]:
    """The stitches of a first round, whatever they are worked into."""
    names = US_NAMES[single]
    ring = re.fullmatch(rf"ch (\d+), (?:sl st|ss) in the first ch to form a ring, ({ONE}) in each "
                        r"ch around", work)  # fmt: skip
    if ring:
        return [names[ring[2]]] * int(ring[1])
    row = re.fullmatch(
        rf"ch (\d+); ((?:\d )?(?:{ONE})) in the (\d)\w\w ch from the hook and in each ch across",
        work,
    )
    if row:
        each = any_stitches(f"{row[2]} in the next st", single) if row[2][0].isdigit() else None
        return (each or [names[row[2]]]) * (int(row[1]) - int(row[3]) + 1)
    if "the first leg with" in work:
        return uneven_legs_joined(work, single)
    if re.match(r"ch \d+; 3 .*1 \w+ in (each of )?the next (\d+ )?ch, ", work):
        return chain_start(work, single)
    for what in (
        r" in a magic ring$",
        r"^ch \d+, (sl st|ss) in the first ch to form a ring, ",
        r"^ch \d+; ",
        r"^along the edge, ",
        r"^ch \d+, (?=\d+ \w+ on the first leg)",
    ):
        work = re.sub(what, "", work)
    turned = "; turn the work a?round, not over, and along the other side of the chain: "
    sides = re.split(turned, work)
    # What goes into the first chain is said as what goes into the next stitch.
    where = r"in the \d\w\w ch from the hook|on the first leg"
    sides = [re.sub(where, "in the next st", side) for side in sides]
    return [stitch for side in sides for stitch in any_stitches(side, single)]


def uneven_legs_joined(work: str, single: str) -> list[str]:
    """As :func:`legs_joined`, for legs that need not be alike."""
    first = re.search(
        rf"join to the first leg with 1 {single} in a st of its last round, (\d+) {single}", work
    )
    second = re.search(rf"(\d+) {single} a?round the second leg", work)
    chain = re.match(r"ch (\d+), ", work)
    return ["sc"] * (1 + int(first[1]) + int(second[1]) + 2 * int(chain[1] if chain else 0))


def any_stitches(work: str, single: str) -> list[str]:
    """The stitches of a line with any kinds."""
    at, marks = 0, []
    while at < len(work):
        found = PHRASES.match(work, at)
        assert found, f"{work}: not read from {work[at:]!r} on"
        marks.append(found[1])
        at = found.end()
    row, at = _expand_any(marks, 0, single)
    assert at == len(marks), work
    return row


def _expand_any(marks: list[str], at: int, single: str) -> tuple[list[str], int]:
    row: list[str] = []
    while at < len(marks) and marks[at] not in ")]":
        mark = marks[at]
        if mark in "([":
            inner, at = _expand_any(marks, at + 1, single)
            assert marks[at] == {"(": ")", "[": "]"}[mark], "brackets do not match"
            at += 1
        elif mark == ",":
            at += 1
            continue
        else:
            inner = _phrase(mark, US_NAMES[single])
            at += 1
        times = 1
        if at < len(marks) and marks[at].startswith("x "):
            times, at = int(marks[at].removeprefix("x ")), at + 1
        row += inner * times
    return row, at


def _phrase(mark: str, names: dict[str, str]) -> list[str]:
    into = re.fullmatch(r"(\d+) (.+) in (?:the next st|each of the next (\d+) sts)", mark)
    if into and into[1] == "1":
        return [names[into[2]]]
    if into and (into[1], names[into[2]]) == ("2", "sc"):
        return ["inc"]
    if into:
        return [f"{into[1]} {names[into[2]]} in one"] * int(into[3] or 1)
    together = re.fullmatch(r"(\w+?)(\d)tog", mark)
    if together:
        return [f"{names[together[1]]}{together[2]}tog"]
    if mark in ("inc", "dec"):
        return [mark]
    said = re.fullmatch(r"(skip|miss|ch) (\d+)(?: sts?)?", mark)
    if said:
        return ["ch" if said[1] == "ch" else "skip"] * int(said[2])
    run = re.fullmatch(rf"(?:(\d+) )?({ONE})", mark)
    return [names[run[2]]] * int(run[1] or 1)
