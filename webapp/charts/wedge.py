"""One of several equal repeats, from the start of the part upwards: a gore of its fabric.

Narrow tubes, whose rounds would lie far apart in a spiral, are drawn so as well, whole.

Large rounds do not fit a page whole. Where each round of a stretch is the same few stitches so
many times over, one repeat of each is drawn, above the one it is worked into, and read from right
to left as the right-handed work it. A band is a row that stands for several equal rounds.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from math import gcd

from webapp.charts.drawing import CAPTION_MM, Drawing, caption, use
from webapp.charts.glyphs import WIDE_MM
from webapp.charts.lanes import Lane, rounds_text
from webapp.paper import at, number, text, text_width
from webapp.yarns import TermSet

ROW_MM = 3.4
ROOM = {"sc": 1.0, "inc": 1.5, "dec": 1.45}
NUMBER_SIZE = 2.4
MOST_MM = 132.0
"""The widest repeat that leaves room for its numbers on a page."""

END_MM = 2.2
"""Room of a symbol that stands behind the last round."""


def turns_of(lanes: Sequence[Lane]) -> int:
    """How many equal repeats all of these lanes have."""
    return gcd(*(lane.turns for lane in lanes))


def repeat_mm(lane: Lane, turns: int) -> float:
    """How wide one of so many equal repeats is."""
    return WIDE_MM * lane.room(ROOM) / turns


def wedge(
    lanes: Sequence[Lane],
    coloured: dict[str, str],
    words: TermSet,
    *,
    ring: bool,
    base: str,
    ends: Sequence[str],
) -> Drawing:
    """One repeat of each lane; ``base`` is the symbol under the first, if it has one in each
    stitch, ``ring`` whether that is worked into a magic ring, and ``ends`` stand behind the last
    round."""
    turns = turns_of(lanes)
    lettered = len(coloured) > 1
    widest = max(repeat_mm(lane, turns) for lane in lanes)
    left = 2.0 + END_MM * len(ends)
    left += max(text_width(f"[{lane.count}]", NUMBER_SIZE) for lane in lanes)
    labels = [_label(lane, lettered, words) for lane in lanes]
    right = 4.5 + max(_wide(*label) for label in labels)
    said, top = caption(_title(turns, words), _how(words), left + widest + right)
    foot = 4.5 if ring or base else 1.0
    width = max(left + widest + right, CAPTION_MM)
    height = top + ROW_MM * len(lanes) + foot
    middle, edge = left + widest / 2.0, left - 2.0 - END_MM * len(ends)
    body = [said]
    y = height - foot - ROW_MM / 2.0
    begun = ""
    if ring:
        begun = use("ring", at(middle, height - 2.0))
    elif base:
        many = len(lanes[0].repeat(turns))
        start = middle - many * WIDE_MM / 2.0
        begun = "".join(
            use(base, at(start + (n + 0.5) * WIDE_MM, height - 3.0)) for n in range(many)
        )
    if begun:
        body.append(f'<g class="begin">{begun}</g>')
    for lane, label in zip(lanes, labels, strict=True):
        body.append(_row(lane, label, turns, (middle, y), (edge, widest), coloured))
        y -= ROW_MM
    if ends:
        x = middle - repeat_mm(lanes[-1], turns) / 2.0 - 1.4
        marks = (use(name, at(x - END_MM * n, y + ROW_MM)) for n, name in enumerate(ends))
        body.append(f'<g class="end">{"".join(marks)}</g>')
    kinds = {kind for lane in lanes for kind in lane.stitches}
    used = {*kinds, *ends, "start"} | ({"ring"} if ring else set()) | ({base} if base else set())
    return Drawing("".join(body), width, height, frozenset(used))


def _title(turns: int, words: TermSet) -> str:
    if turns == 1:
        return words.say("Each row is a whole round")
    return words.say(
        "One of {number} equal repeats: work each row {number} times", number=turns
    )


def _how(words: TermSet) -> str:
    return words.say("each row read from right to left")


def _label(lane: Lane, lettered: bool, words: TermSet) -> tuple[str, str]:
    """The number of a row, and how many rounds it stands for where they are several."""
    label = f"{lane.label} {lane.letter}" if lettered else lane.label
    return label, rounds_text(lane.times, words) if lane.is_band else ""


def _wide(label: str, more: str) -> float:
    wide = text_width(label, NUMBER_SIZE, bold=True)
    return wide + 1.4 + text_width(more, NUMBER_SIZE) if more else wide


def _row(
    lane: Lane,
    label: tuple[str, str],
    turns: int,
    middle: tuple[float, float],
    room: tuple[float, float],
    coloured: dict[str, str],
) -> str:
    """A row about its middle, its number where it starts, on the right."""
    x, y = middle
    edge, widest = room
    stitches = lane.repeat(turns)
    half = repeat_mm(lane, turns) / 2.0
    at_x = x + half
    symbols = []
    for kind in stitches:
        wide = WIDE_MM * ROOM[kind]
        symbols.append(use(kind, at(at_x - wide / 2.0, y)))
        at_x -= wide
    tint = box = ""
    if len(coloured) > 1 and coloured[lane.colour]:
        tint = _box(x, y, half, f'fill="{coloured[lane.colour]}" fill-opacity=".3" class="yarn"')
    if lane.is_band:
        box = _box(x, y, half, 'fill="none" stroke="currentColor" stroke-width=".22"')
    end = x + widest / 2.0 + 3.4
    name, more = label
    many = text(end + _wide(name, "") + 1.4, y + 0.85, more, NUMBER_SIZE) if more else ""
    dots = ""
    if end - (x + half) > 4.0:
        dots = (
            f'<path d="M{number(x + half + 2.6)} {number(y)}H{number(end - 0.6)}" '
            'stroke="currentColor" stroke-width=".12" stroke-dasharray=".3 .9"/>'
        )
    return (
        f'<g class="round" data-round="{lane.first}" data-times="{lane.times * turns}" '
        f'aria-label="{escape(lane.words)}">{tint}{box}'
        f'{text(edge, y + 0.85, f"[{lane.count}]", NUMBER_SIZE, anchor="end")}'
        f'{"".join(symbols)}{use("start", at(x + half + 1.4, y) + "rotate(180)")}{dots}'
        f"{text(end, y + 0.85, name, NUMBER_SIZE, bold=True)}{many}</g>"
    )


def _box(x: float, y: float, half: float, how: str) -> str:
    return (
        f'<rect x="{number(x - half)}" y="{number(y - ROW_MM / 2.0)}" '
        f'width="{number(2.0 * half)}" height="{number(ROW_MM)}" {how}/>'
    )
