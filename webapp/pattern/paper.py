"""Lines on paper: sections with a title, and long lines folded."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable
from functools import lru_cache
from unicodedata import east_asian_width

WIDTH = 88
INDENT = "  "

_MAY_BE_WIDE = re.compile("[\u1100-\uffff]")
_FOLDS = re.compile("[、。] ?|(?<=[^ ]) ")
"""Where a line of words without spaces is folded: a maker reads on more easily behind a mark."""


def section(title: str, lines: Iterable[str]) -> str:
    """A title with its lines below it; nothing where there are none."""
    body = list(lines)
    return "\n".join([title, *body]) if body else ""


def wrapped(block: str) -> str:
    """A block with its long lines folded, what goes on indented by two spaces."""
    return "\n".join([
        line if 2 * len(line) <= WIDTH or columns(line) <= WIDTH else _filled(line)
        for line in block.split("\n")
    ])  # fmt: skip


def columns(text: str) -> int:
    """How many columns a text takes up: letters of the East are two wide (UAX 11)."""
    if text.isascii() or not _MAY_BE_WIDE.search(text):
        return len(text)
    return len(text) + sum(east_asian_width(letter) in "WF" for letter in text)


@lru_cache(maxsize=512)
def _filled(line: str) -> str:
    """A long line folded. Most long lines are the same in every pattern."""
    if columns(line) == len(line):
        return textwrap.fill(line, WIDTH, subsequent_indent=INDENT, break_on_hyphens=False)
    folded: list[str] = []
    while columns(line) > WIDTH:
        at = _fold(line)
        folded.append(line[:at].rstrip())
        line = INDENT + line[at:].lstrip()
    return "\n".join([*folded, line])


def _fold(line: str) -> int:
    """Where a line is folded: behind the last mark that fits, else the last space, else where it
    is full."""
    full = next(at for at in range(len(line), 0, -1) if columns(line[:at]) <= WIDTH)
    places = [found for found in _FOLDS.finditer(line, len(INDENT)) if found.end() <= full + 1]
    marks = [found.end() for found in places if found[0] != " " and found.end() <= full]
    if marks and columns(line[: marks[-1]]) > WIDTH // 3:
        return marks[-1]
    spaces = [found.end() for found in places if found[0] == " "]
    return max(spaces[-1:] + marks[-1:], default=full)
