"""Labels in two margins beside a picture: each on the side from which its part is reached over
less, near the height of its point, none over another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from webapp.paper import number, text

SIZE = 2.6
LEADING = 3.4
APART_MM = 2.4

TIE_MM = 3.0
"""A side is no better that spares less than this."""


@dataclass(frozen=True)
class Label:
    """A name and the lines below it. It speaks of the point ``from_left`` where it stands in the
    left margin, else of ``from_right``, mm on paper; ``spares`` is how much better
    it is reached from the left, mm of the picture that its line does not cross, ``said`` all its
    words on one line. As placed, ``left`` says in
    which margin it stands and ``top`` where it begins."""

    name: tuple[str, ...]
    lines: tuple[str, ...]
    from_left: tuple[float, float]
    from_right: tuple[float, float]
    spares: float
    said: str
    left: bool = False
    top: float = 0.0

    @property
    def at(self) -> tuple[float, float]:
        return self.from_left if self.left else self.from_right

    @property
    def height(self) -> float:
        return LEADING * (len(self.name) + len(self.lines))

    @property
    def wanted(self) -> float:
        """The top at which its line is level."""
        return self.at[1] - LEADING * 0.55


def in_margins(labels: Sequence[Label], top: float) -> tuple[list[Label], float]:
    """The labels as placed; also where the lowest ends."""
    sides = _sides(labels)
    found = [label for side in sides for label in _column(side, top)]
    return found, max((label.top + label.height for label in found), default=top)


def _sides(labels: Sequence[Label]) -> tuple[list[Label], list[Label]]:
    """What stands left and what right: the clearest cases first, both sides about as high."""
    total = sum(label.height for label in labels)
    most = total / 2.0 + max((label.height for label in labels), default=0.0)
    heights = {True: 0.0, False: 0.0}
    sides: dict[bool, list[Label]] = {True: [], False: []}
    for label in sorted(labels, key=lambda label: -round(abs(label.spares))):
        left = label.spares > 0.0
        if abs(label.spares) < TIE_MM:
            left = heights[True] < heights[False]
        if heights[left] + label.height > most:
            left = not left
        heights[left] += label.height
        sides[left].append(replace(label, left=left))
    return sides[True], sides[False]


def _column(labels: Sequence[Label], top: float) -> list[Label]:
    """One below the other, as near to where they are wanted as can be: those that would overlap
    stand together, about the middle of what they want."""
    blocks: list[tuple[float, list[Label]]] = []
    for label in sorted(labels, key=lambda label: label.wanted):
        block = [label]
        begins = max(top, label.wanted)
        while blocks and blocks[-1][0] + _high(blocks[-1][1]) > begins:
            block = blocks.pop()[1] + block
            begins = max(top, _mean_top(block))
        blocks.append((begins, block))
    placed = []
    for begins, block in blocks:
        for label in block:
            placed.append(replace(label, top=begins))
            begins += label.height + APART_MM
    return placed


def _high(block: Sequence[Label]) -> float:
    return sum(label.height + APART_MM for label in block)


def _mean_top(block: Sequence[Label]) -> float:
    """The top of a block with which its labels are as near as can be to where they are wanted."""
    above = total = 0.0
    for label in block:
        total += label.wanted - above
        above += label.height + APART_MM
    return total / len(block)


def label_svg(label: Label, width: float, margin: float) -> str:
    """A label in its margin, with a line to the point it speaks of."""
    edge = margin - 2.0 if label.left else width - margin + 2.0
    anchor = "end" if label.left else ""
    x, y = label.at
    start = edge + (0.8 if label.left else -0.8)
    middle = label.top + LEADING * 0.55
    lines = [
        text(edge, label.top + SIZE + LEADING * n, line, SIZE, anchor=anchor,
             bold=n < len(label.name))
        for n, line in enumerate((*label.name, *label.lines))
    ]  # fmt: skip
    return (
        f'<g class="label">{"".join(lines)}<path d="M{number(start)} {number(middle)}'
        f'L{number(x)} {number(y)}" fill="none" stroke="currentColor" stroke-width=".2"/>'
        f'<circle cx="{number(x)}" cy="{number(y)}" r=".6"/></g>'
    )
