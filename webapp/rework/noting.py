"""What is said of a part that was re-worked: what is otherwise now, in doubt, or not as asked."""

from __future__ import annotations

from webapp.reading import ReadPart, Verdict
from webapp.rework.carrying import other_stitches, rounds_said
from webapp.rework.outline import Factors
from webapp.rework.working import Anew

CLEARLY = 0.1
"""A part that is off by more than this share of its size, and by a stitch and a round, is said to
be."""


def notes_on(part: ReadPart, anew: Anew) -> tuple[str, ...]:
    """Sentences about what is worked otherwise than it was read, and what to look at."""
    steep = [
        b.number
        for a, b in zip(part.rounds, part.rounds[1:], strict=False)
        if a.count and b.count and not a.count <= 2 * b.count <= 4 * a.count
    ]
    notes = [other_stitches(part.rounds)]
    if steep:
        each = "changes" if len(steep) == 1 else "change"
        notes.append(
            f"{rounds_said(steep)} {each} to more than double or less than half; with increases "
            "and decreases of one stitch that takes another round."
        )
    elif not anew.near:
        notes.append(
            "Some rounds lie further from the shape than usual, so that each can be worked into "
            "the one before."
        )
    doubtful = [r.number for r in part.rounds if r.verdict is Verdict.DISAGREES]
    if doubtful:
        are = "does" if len(doubtful) == 1 else "do"
        notes.append(
            f"{rounds_said(doubtful)} {are} not agree; what is worked anew goes by the count that "
            "was taken. Look at that first."
        )
    if anew.flattened:
        notes.append(
            "Shaping in one place would have too few rounds or stitches here; it is spread round "
            "the round."
        )
    if any(r.left for r in part.rounds):
        notes.append(
            "Rounds that leave stitches unworked leave as large a share of them; look at where "
            "they end."
        )
    return tuple(note for note in notes if note)


def off_size(asked: tuple[float, float], anew: Anew, factors: Factors) -> tuple[str, ...]:
    """That a part comes out clearly larger or smaller than asked, where it does."""
    near = factors.new.stitch_mm + factors.new.round_mm
    pairs = list(zip(asked, anew.size_mm, strict=True))
    if all(abs(is_ - wanted) <= max(near, CLEARLY * wanted) for wanted, is_ in pairs):
        return ()
    (wide, is_wide), (high, is_high) = pairs
    return (
        f"It comes out {is_wide:.0f} mm wide and {is_high:.0f} mm high instead of {wide:.0f} and "
        f"{high:.0f} mm: whole rounds and stitches come no nearer.",
    )
