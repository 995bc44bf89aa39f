"""Local shaping in words: which stitches of a round belong to a group, and where it ends."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.pattern.words import stitches_text
from webapp.rounds import Shaped, WorkedPart
from webapp.yarns import TermSet


def shaping_notes(part: WorkedPart, words: TermSet) -> Iterator[tuple[int, str]]:
    """Notes with the number of the round they follow."""
    for group in part.shaped:
        arcs = [before for before, _ in part.rounds[group.first_round - 1].sectors]
        if part.order.side_start:
            yield group.first_round - 1, _cheeks(group, arcs, words)
            continue
        yield group.first_round - 1, " ".join(_begins(group, arcs, words))
        ends = "end" if group.bulge.pair else "ends"
        yield (
            group.last_round,
            f"The {group.bulge.label} {ends} here; take the markers out, but for the one at the "
            f"start of the {words.rnd.lower()}.",
        )


def _cheeks(group: Shaped, arcs: list[int], words: TermSet) -> str:
    cheek, face, _, back = arcs
    return (
        f"The cheeks begin. In {words.rnd} {group.first_round} the first {cheek} {words.sts} are "
        f"one cheek, the next {face} the face, the next {cheek} the other cheek and the last "
        f"{back} the back. Mark the first {words.st} of the face and of the second cheek, and move "
        f"the markers up each {words.rnd.lower()}; face and back are worked plain."
    )


def _begins(group: Shaped, arcs: list[int], words: TermSet) -> Iterator[str]:
    """Whose stitches come when, in the first of its rounds."""
    label, rnd = group.bulge.label, f"{words.rnd} {group.first_round}"
    if group.bulge.pair:
        before, one, between, _, _ = arcs
        yield (
            f"The {label} begin. In {rnd} they are worked into {stitches_text(one, words)} each: "
            f"the first after {stitches_text(before, words)}, the second after another "
            f"{between}, with {before} left to the end of the {words.rnd.lower()}. Mark the first "
            f"{words.st} of each and the first after each,"
        )
    elif group.bulge.in_two:
        half, between, _ = arcs
        yield (
            f"The {label} begins. In {rnd} it is worked into the first {half} and the last "
            f"{stitches_text(half, words)}, with {between} between them. Mark the first "
            f"{words.st} after the first half and the first of the second half,"
        )
    else:
        before, one, _ = arcs
        yield (
            f"The {label} begins. In {rnd} it is worked into {stitches_text(one, words)}, after "
            f"{before}, with {before} left to the end of the {words.rnd.lower()}. Mark its first "
            f"{words.st} and the first after it,"
        )
    yield f"and move the markers up each {words.rnd.lower()}."
