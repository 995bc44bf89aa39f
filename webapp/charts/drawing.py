"""What a chart is put together from: drawings, and symbols in their places."""

from __future__ import annotations

from dataclasses import dataclass


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
