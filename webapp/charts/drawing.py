"""What a chart is put together from: drawings, and symbols in their places."""

from __future__ import annotations

from dataclasses import dataclass

from webapp.paper import text, wrapped
from webapp.rounds import WorkedPart, WorkedStrip

CAPTION_MM = 86.0
"""The width of a caption over a drawing that is no wider."""

BOLD_SIZE, PLAIN_SIZE = 2.4, 2.2
LEADING = 3.1


@dataclass(frozen=True)
class Drawing:
    """Something drawn in a box from (0, 0), mm; ``used`` names its symbols, ``says`` what a reader
    has to know to read it."""

    body: str
    width: float
    height: float
    used: frozenset[str]
    says: tuple[str, ...] = ()


def use(name: str, place: str, extra: str = "") -> str:
    """A symbol at a place (a transform)."""
    return f'<use class="{name}" href="#st-{name}" transform="{place}"{extra}/>'


def caption(title: str, more: str, width: float) -> tuple[str, float]:
    """What stands over a drawing so wide, and where it ends, mm."""
    wide = max(width, CAPTION_MM)
    out, y = [], 2.6
    for words, size, bold in ((title, BOLD_SIZE, True), (more, PLAIN_SIZE, False)):
        for line in wrapped(words, wide, size, bold=bold):
            out.append(text(0.0, y, line, size, bold=bold))
            y += LEADING
    return "".join(out), y - 1.3


def ending(part: WorkedPart | WorkedStrip) -> tuple[str, ...]:
    """The symbols with which a part ends: an open edge is levelled by a slip stitch."""
    if isinstance(part, WorkedPart) and not part.closed:
        return "sl-st", "cut"
    return ("cut",)
