"""Rounds that gain or lose more stitches than fabric lying flat has room for.

A flat disc's girth grows by 2 pi h from round to round, which is 2 pi h / w stitches. With more the
edge is longer than the lap it lies on, and waves; losing more, it is drawn together in folds.
Source: the girth of a circle; the sign of the curvature enclosed, 2 pi - (N' - N) w / h.

Fabric bends, so counts are taken as means of neighbours; and they are judged over four rounds, with
a quarter to spare: "6 more" at any usual gauge, a stair of "12 more, even", and a doubled second
round are discs (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.yarns import Gauge

WINDOW = 4
SPARE = 1.25
LEAST_STITCHES = 4.0


@dataclass(frozen=True)
class Finding:
    """Something about the shape worth saying, and the rounds it is about (first and last, by their
    numbers in the part)."""

    first: int
    last: int
    says: str


def lie_of(counts: Sequence[int], gauge: Gauge, *, closed_start: bool) -> tuple[Finding, ...]:
    """What ruffles and what puckers; ``closed_start`` says that round 1 goes into a ring."""
    flat = gauge.flat_increase
    edges = [0, *counts] if closed_start else list(counts)
    shift = 0 if closed_start else 1
    findings: list[Finding] = []
    for sign in (1, -1):
        for first, last in _stretches(edges, flat, sign):
            changed = abs(edges[last] - edges[first])
            findings.append(
                _finding(first + 1 + shift, last + shift, changed, last - first, flat, sign)
            )
    return tuple(sorted(findings, key=lambda found: found.first))


def _stretches(edges: Sequence[int], flat: float, sign: int) -> list[tuple[int, int]]:
    """From which edge to which the edges change too fast; overlapping windows made one."""
    found: list[tuple[int, int]] = []
    window = min(WINDOW, len(edges) - 1)
    if window < 2:
        return []
    bent = _bent(edges)
    for last in range(window, len(edges)):
        first = last - window
        changed, room = sign * (bent[last] - bent[first]), window * flat
        if changed <= SPARE * room or changed - room < LEAST_STITCHES:
            continue
        # Rounds at either end that do not change so fast are not part of it.
        while last > first + 1 and sign * (edges[last] - edges[last - 1]) <= flat:
            last -= 1
        while last > first + 1 and sign * (edges[first + 1] - edges[first]) <= flat:
            first += 1
        if found and first <= found[-1][1]:
            first = min(first, found[-1][0])
            last = max(last, found[-1][1])
            found.pop()
        found.append((first, last))
    return found


def _bent(edges: Sequence[int]) -> list[float]:
    """Each edge with half of the mean of its neighbours; the first and the last as they are."""
    middle = [
        (a + 2.0 * b + c) / 4.0
        for a, b, c in zip(edges, edges[1:], edges[2:], strict=False)
    ]
    return [float(edges[0]), *middle, float(edges[-1])]


def _finding(first: int, last: int, changed: int, rounds: int, flat: float, sign: int) -> Finding:
    which = f"Round {first}" if first == last else f"Rounds {first} to {last}"
    verb = ("gains" if sign > 0 else "loses") if first == last else "gain" if sign > 0 else "lose"
    each = "" if rounds == 1 else f", {changed / rounds:.1f} a round"
    does = "its edge will wave like a frill" if sign > 0 else "it will draw together in folds"
    more = "more" if sign > 0 else "fewer"
    says = (
        f"{which} {verb} {changed} stitches{each}, and fabric that lies flat has room for "
        f"{flat:.1f} a round: {does}. With {round(flat)} {more} a round, "
        f"{round(flat * rounds)} in all, it lies flat."
    )
    return Finding(first, last, says)
