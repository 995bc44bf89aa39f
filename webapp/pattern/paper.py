"""Lines on paper: sections with a title, and long lines folded."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from functools import lru_cache

WIDTH = 88


def section(title: str, lines: Iterable[str]) -> str:
    """A title with its lines below it; nothing where there are none."""
    body = list(lines)
    return "\n".join([title, *body]) if body else ""


def wrapped(block: str) -> str:
    """A block with its long lines folded, what goes on indented by two spaces."""
    return "\n".join(
        line if len(line) <= WIDTH else _filled(line) for line in block.split("\n")
    )


@lru_cache(maxsize=512)
def _filled(line: str) -> str:
    """A long line folded. Most long lines are the same in every pattern."""
    return textwrap.fill(line, WIDTH, subsequent_indent="  ", break_on_hyphens=False)
