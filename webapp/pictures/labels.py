"""The words beside a picture, from the same seams as the sewing instructions, and their places."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from webapp.assembly import Seam, WorkedToy
from webapp.pattern.words import stitches_text
from webapp.recipes import PartRecipe, Seat
from webapp.yarns import TermSet

SIZE = 2.6
LEADING = 3.4
APART_MM = 2.4


@dataclass(frozen=True)
class Label:
    """A name and the lines below it. It speaks of the point ``from_left`` where it stands in the
    left margin, else of ``from_right``, mm on paper. As placed, ``left`` says in which it stands
    and ``top`` where it begins."""

    name: str
    lines: tuple[str, ...]
    from_left: tuple[float, float]
    from_right: tuple[float, float]
    left: bool = False
    top: float = 0.0

    @property
    def at(self) -> tuple[float, float]:
        return self.from_left if self.left else self.from_right

    @property
    def middle(self) -> float:
        return (self.from_left[0] + self.from_right[0]) / 2.0

    @property
    def height(self) -> float:
        return LEADING * (1 + len(self.lines))

    @property
    def said(self) -> str:
        return ", ".join((self.name, *self.lines))


def part_words(toy: WorkedToy, recipe: PartRecipe, words: TermSet) -> tuple[str, ...]:
    """Where a part is sewn: rounds of its host, and stitches; nothing for what carries the rest."""
    seam = next((s for s in toy.seams if s.part == recipe.name), None)
    if seam is None:
        return ("the body goes on from them",) if recipe.place.seat is Seat.JOINED else ()
    host = toy.recipe.part(seam.host)
    if seam.seat is Seat.OPENING:
        to = f"{words.st} to {words.st} to the {host.label.lower()}"
        return to, stitches_text(seam.stitches, words)
    if seam.seat is Seat.NECK:
        return (f"round the {host.label.lower()}",)
    flat = "flatness" in recipe.lengths
    lines = [f"{host.label}, {_flat(seam, words) if flat else _rounds(seam, words)}"]
    if seam.evenly > 1:
        apart = stitches_text(seam.apart, words)
        if seam.apart_most > seam.apart:
            apart = f"{seam.apart} or {stitches_text(seam.apart_most, words)}"
        lines.append(f"{seam.evenly} evenly, {apart} from middle to middle")
    elif recipe.place.pair and not seam.apart:
        lines.append("touching each other")
    elif recipe.place.pair:
        lines.append(f"{stitches_text(seam.apart, words)} apart on {words.rnd} {seam.counted_on}")
    return tuple(lines)


def _rounds(seam: Seam, words: TermSet) -> str:
    """As the sewing words have it: over the start, from round 1; else between two rounds."""
    return f"{words.rnds} {max(1, seam.first_round)}–{seam.last_round}"


def _flat(seam: Seam, words: TermSet) -> str:
    if seam.inner_round == seam.outer_round:
        return f"along {words.rnd} {seam.inner_round}"
    if seam.evenly > 1:
        low, high = sorted((seam.inner_round, seam.outer_round))
        return f"from {words.rnd} {low} to {high}"
    return f"from {words.rnd} {seam.inner_round} (inner end) to {seam.outer_round}"


def eye_words(toy: WorkedToy, words: TermSet) -> tuple[str, ...]:
    """Between which rounds the eyes are, and how far apart."""
    eyes = toy.eyes
    assert eyes is not None
    between = f"{words.rnds} {eyes.below_round}–{eyes.below_round + 1}"
    host = toy.recipe.part(eyes.on).label
    return f"{host}, between {between}", f"{stitches_text(eyes.apart, words)} apart"


def in_margins(
    labels: Sequence[Label], middle: float, top: float
) -> tuple[list[Label], float]:
    """Labels in two margins, each near the height of its point, none over another; also where
    the lowest ends."""
    found: list[Label] = []
    lefts = sorted(labels, key=lambda label: label.middle)
    # What is in the middle goes where there is more room.
    half = sum(1 for label in lefts if label.middle < middle)
    least = len(lefts) // 2
    half = min(max(half, least - 1), least + 1 + len(lefts) % 2)
    bottom = top
    for left, own in ((True, lefts[:half]), (False, lefts[half:])):
        y = top
        column: list[Label] = []
        for label in sorted(
            (replace(label, left=left) for label in own), key=lambda label: label.at[1]
        ):
            y = max(y, label.at[1] - label.height / 2.0)
            column.append(replace(label, top=y))
            y += label.height + APART_MM
        found += column
        bottom = max(bottom, y)
    return found, bottom
