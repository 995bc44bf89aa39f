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
        yield group.first_round - 1, _begins(group, arcs, words)
        label = words.part(group.bulge.label)
        ends = words.say(
            "The {shape} ends here; take the markers out, but for the one at the start of the "
            "{rnd_small}.",
            shape=label,
        )
        if group.bulge.pair:
            ends = words.say(
                "The {shape} end here; take the markers out, but for the one at the start of the "
                "{rnd_small}.",
                shape=label,
            )
        yield group.last_round, ends


def _cheeks(group: Shaped, arcs: list[int], words: TermSet) -> str:
    cheek, face, _, back = arcs
    return words.say(
        "The cheeks begin. In {rnd} {round} the first {cheek} {sts} are one cheek, the next {face} "
        "the face, the next {cheek} the other cheek and the last {back} the back. Mark the first "
        "{st} of the face and of the second cheek, and move the markers up each {rnd_small}; face "
        "and back are worked plain.",
        round=group.first_round,
        cheek=cheek,
        face=face,
        back=back,
    )


def _begins(group: Shaped, arcs: list[int], words: TermSet) -> str:
    """Whose stitches come when, in the first of its rounds."""
    label, first_round = words.part(group.bulge.label), group.first_round
    if group.bulge.pair:
        before, one, between, _, _ = arcs
        return words.say(
            "The {shape} begin. In {rnd} {round} they are worked into {one} each: the first after "
            "{before}, the second after another {between}, with {left} left to the end of the "
            "{rnd_small}. Mark the first {st} of each and the first after each, and move the "
            "markers up each {rnd_small}.",
            shape=label,
            round=first_round,
            one=stitches_text(one, words),
            before=stitches_text(before, words),
            between=between,
            left=before,
        )
    if group.bulge.in_two:
        half, between, _ = arcs
        return words.say(
            "The {shape} begins. In {rnd} {round} it is worked into the first {half} and the last "
            "{half_stitches}, with {between} between them. Mark the first {st} after the first "
            "half and the first of the second half, and move the markers up each {rnd_small}.",
            shape=label,
            round=first_round,
            half=half,
            half_stitches=stitches_text(half, words),
            between=between,
        )
    before, one, _ = arcs
    return words.say(
        "The {shape} begins. In {rnd} {round} it is worked into {one}, after {before}, with "
        "{before} left to the end of the {rnd_small}. Mark its first {st} and the first after it, "
        "and move the markers up each {rnd_small}.",
        shape=label,
        round=first_round,
        one=stitches_text(one, words),
        before=before,
    )
