"""What is carried from the rounds that were read to those they become: numbers, loops, turning,
stitches left unworked, and the words for stitches that are worked otherwise now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from webapp.reading import ReadRound
from webapp.rework.model import PlainRound
from webapp.shapes.meridian import Floats

PLAIN = ("sc", "inc", "dec", "ch")


def numbered(places: Floats, rounds: int, new_rounds: int) -> tuple[int, ...]:
    """The number of the new round that each read round becomes, from the places of its edge."""
    return tuple(
        max(1, min(new_rounds, round(float(places[edge])))) for edge in range(1, rounds + 1)
    )


def carried(
    plain: Sequence[PlainRound], read: Sequence[ReadRound], numbers: Sequence[int]
) -> tuple[PlainRound, ...]:
    """The new rounds with the ways of the rounds they come from.

    Rounds one after the other that are worked into one loop stay one after the other, and at least
    one round; joined and turned rounds are those nearest to such rounds.
    """
    rounds = list(plain)
    for first, last in _runs([r.loops for r in read]):
        start, stop = numbers[first], max(numbers[first], numbers[last])
        if first and numbers[first - 1] < start and last > first:
            start = min(start, numbers[first - 1] + 1)
        for number in range(start, stop + 1):
            rounds[number - 1] = replace(rounds[number - 1], loops=read[first].loops)
    if not any(r.joined or r.turned for r in read):
        return tuple(rounds)
    for k, new in enumerate(rounds):
        nearest = min(range(len(read)), key=lambda old: abs(numbers[old] - (k + 1)))
        old = read[nearest]
        if old.joined or old.turned:
            rounds[k] = replace(new, joined=old.joined, turned=old.turned)
    return tuple(rounds)


def _runs(values: Sequence[str]) -> list[tuple[int, int]]:
    """From where to where the same words stand, where there are any."""
    runs: list[tuple[int, int]] = []
    for k, value in enumerate(values):
        if value and runs and runs[-1][1] == k - 1 and values[k - 1] == value:
            runs[-1] = (runs[-1][0], k)
        elif value:
            runs.append((k, k))
    return runs


def other_stitches(read: Sequence[ReadRound]) -> str:
    """A sentence about rounds with other stitches than single crochet, or nothing."""
    # The first round has no stitches below it: "6 sc in one chain" is a start.
    kinds = sorted({kind for r in read[1:] for kind, _ in r.work if kind not in PLAIN})
    if not kinds:
        return ""
    numbers = [r.number for r in read[1:] if any(kind not in PLAIN for kind, _ in r.work)]
    which = rounds_said(numbers)
    have = "has" if len(numbers) == 1 else "have"
    return (
        f"{which} {have} other stitches than single crochet ({', '.join(kinds)}); anew they are "
        "single crochet, increases and decreases of the same counts."
    )


def rounds_said(numbers: Sequence[int]) -> str:
    """Numbers of rounds in words: ``Round 4``, ``Rounds 4, 5 and 9``."""
    if len(numbers) == 1:
        return f"Round {numbers[0]}"
    first = ", ".join(str(n) for n in numbers[:-1])
    return f"Rounds {first} and {numbers[-1]}"
