"""One read part worked anew: how many rounds, whole counts for all of them, and its arcs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from webapp.errors import RoundlingError
from webapp.rework.choosing import Fixed, base_of, choose, price
from webapp.rework.outline import Factors, WantedOutline, ideals_at, wanted_outline, wanted_rows
from webapp.rework.rearcs import NewZone, new_zones, work_zone
from webapp.rework.sectors import Zone
from webapp.rework.shape import Begun, ReadShape, across_mm, laid_out, quarter_girths
from webapp.rounds import FEWEST, Effort, Start, WorkedPart
from webapp.rounds.refusals import MOST_ROUNDS, too_big, too_short, too_small, too_wide
from webapp.rounds.writing import Sectors
from webapp.shapes.meridian import Floats

SIZE_OF = 0.03
"""A width or height may be out by half a round and half a stitch, or by that share of it."""


MOST_STITCHES = 1000
"""In a round: the search for whole counts grows with their square."""

GIVING_WAY = (1.0, 0.5, 0.375, 0.25, 0.0)
"""Simple rounds give way step by step where they would cost the part its size."""

UPRIGHT = 0.4
"""Of its width; a part that is not so high lies flat, and has no girths up its height."""

LEAST_SHARE = 0.6
"""A part that should have fewer rounds or stitches than can be worked is worked with as few as
can be, and comes out larger; below this share of them it is refused."""


@dataclass(frozen=True)
class Openings:
    """Counts of the first and last rounds that are given by what they are sewn or joined to."""

    start: int | None = None
    end: int | None = None


@dataclass(frozen=True, eq=False)
class Anew:
    """A part worked anew (``part`` is None for a flat piece): counts, arcs, size, and where the
    edges that were read come to lie (in new rounds). ``near`` says that all counts lie near their
    ideals; ``flattened`` counts the zones that had too few rounds for their arcs."""

    counts: tuple[int, ...]
    sectors: tuple[Sectors, ...]
    places: Floats
    begun: Begun
    part: WorkedPart | None
    height_mm: float
    width_mm: float
    near: bool
    flattened: int = 0

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height, mm."""
        return self.width_mm, self.height_mm


def work_anew(
    shape: ReadShape,
    zones: Sequence[Zone],
    begun: Begun,
    factors: Factors,
    effort: Effort,
    openings: Openings,
) -> Anew:
    """The part in whole stitches of the new gauge.

    Raises :class:`RoundlingError` naming the part where it would be too small, too long, or of
    rounds that no single crochet can make.
    """
    work = _Work(shape, tuple(zones), begun, factors, openings)
    outline = work.outline
    guess = max(work.fewest_rounds, round(outline.rounds))
    if outline.rounds < LEAST_SHARE * work.fewest_rounds:
        along = outline.rounds * factors.new.round_mm
        raise too_short(shape.title, along, factors.new.round_mm, work.fewest_rounds)
    if guess > MOST_ROUNDS:
        raise too_big(shape.title, guess)
    widest = factors.stitches * max(shape.counts)
    if widest > MOST_STITCHES:
        raise too_wide(shape.title, widest, MOST_STITCHES)
    if widest < LEAST_SHARE * work.fewest:
        raise too_small(shape.title, widest * factors.new.stitch_mm, widest, work.fewest)
    best: Anew | None = None
    for weight in sorted({round(effort.weight * share) for share in GIVING_WAY}, reverse=True):
        for number in (guess, guess + 1, guess - 1):
            if number < work.fewest_rounds:
                continue
            found = work.in_rounds(number, weight)
            if found is None:
                continue
            if best is None or work.miss(found) < work.miss(best):
                best = found
            if found.near and work.miss(found) <= 1.0:
                return found
    if best is None:
        raise RoundlingError(
            asked=f"The {shape.title} would be worked over {guess} rounds, at its widest in "
            f"{widest:.0f} stitches.",
            why="Its rounds would have to more than double or more than halve, or to end with "
            "other stitches than the part they are joined to.",
            nearest="Ask for the same width and length factors for parts that are joined, "
            "make it longer or less wide, or use a finer yarn.",
            field=shape.title,
        )
    return best


@dataclass(frozen=True, eq=False)
class _Work:
    """What is asked of one part."""

    shape: ReadShape
    zones: tuple[Zone, ...]
    begun: Begun
    factors: Factors
    openings: Openings

    @cached_property
    def part(self) -> WorkedPart | None:
        return self.shape.part

    @cached_property
    def closed(self) -> bool:
        return self.part is not None and self.part.closed

    @cached_property
    def outline(self) -> WantedOutline:
        if self.part is None:
            return wanted_rows(len(self.shape.rows), self.factors)
        return wanted_outline(self.part.rings, self.factors, closed=self.closed)

    @cached_property
    def aside(self) -> int:
        """Stitches of the two straight sides of an oval that keeps them in all of its rounds; one
        that becomes narrower than they are long, or has arcs, is worked as a whole."""
        sides = 2 * self.begun.straight
        turns = [n - sides for n in self.shape.counts]
        steps = zip(turns, turns[1:], strict=False)
        worked = min(turns) >= FEWEST and all(b <= 2 * a and a <= 2 * b for a, b in steps)
        return sides if worked and not self.zones else 0

    @cached_property
    def counts(self) -> tuple[int, ...]:
        """What is read, without the straight sides of an oval."""
        return tuple(n - self.aside for n in self.shape.counts)

    @cached_property
    def _mirrored(self) -> bool:
        """Whether it is an oval whose two ends are alike in all rounds."""
        return bool(self.aside) and all(n % 2 == 0 for n in self.counts)

    def _given_odd(self, number: int, stop: int, last: int | None) -> bool:
        """Whether a round (from 0) is the last, and its given count odd."""
        return number == stop - 1 and last is not None and last % 2 == 1

    @cached_property
    def _end(self) -> int | None:
        """The given count of the last round, without the straight sides of an oval."""
        if self.closed or self.openings.end is None:
            return None
        return max(self.fewest, self.openings.end - self.aside_anew)

    @cached_property
    def fewest(self) -> int:
        """A ring of 3 that is read can be worked; else 4; a row can be 1."""
        return 1 if self.part is None else min(FEWEST, *self.counts)

    @cached_property
    def fewest_rounds(self) -> int:
        return min(2, len(self.shape.counts))

    @cached_property
    def straight(self) -> int:
        """The stitches of an oval's straight side anew."""
        if not self.begun.straight:
            return 0
        return max(1, round(self.begun.straight * self.factors.stitches))

    @cached_property
    def aside_anew(self) -> int:
        return 2 * self.straight if self.aside else 0

    def miss(self, found: Anew) -> float:
        """How far its size is off, in shares of what it may be."""
        half = 0.5 * (self.factors.new.round_mm + self.factors.new.stitch_mm)
        sizes = [
            (found.height_mm, self.factors.long * self.shape.height_mm, half),
            (found.width_mm, self.factors.wide * self.shape.width_mm, half),
        ]
        upright = self.shape.height_mm >= UPRIGHT * self.shape.width_mm
        if self.part is not None and found.part is not None and upright:
            read, new = quarter_girths(self.part), quarter_girths(found.part)
            # Half a round further, on fabric that lies flat, a girth is pi h longer.
            least = math.pi * self.factors.new.round_mm + 0.5 * self.factors.new.stitch_mm
            sizes += [
                (is_, self.factors.wide * was, least)
                for is_, was in zip(new, read, strict=True)
            ]
        return max(abs(is_ - to) / max(least, SIZE_OF * to) for is_, to, least in sizes)

    def in_rounds(self, number: int, weight: int) -> Anew | None:
        """The part in so many rounds; None where it cannot be worked."""
        factor = self.factors.stitches
        zones, places = new_zones(self.zones, self.outline.in_rounds(number), number, factor)
        start = 2 * self.begun.straight - self.aside
        if self.part is None or self.begun.start in (Start.OPEN, Start.LEGS):
            start = self.counts[0]
        edges = (start, *self.counts, *((0,) if self.closed else ()))
        wanted = np.array(edges, dtype=np.float64) * factor
        ideals = ideals_at(places, wanted, number)
        widest = float(wanted.max())
        ideals[int(ideals.argmax())] = widest
        made = self._solved(ideals, widest, zones, weight)
        if made is None and zones:
            # Of too few stitches no arcs can be made.
            zones = []
            made = self._solved(ideals, widest, zones, weight)
        if made is None:
            return None
        counts, worked, near = made
        flattened = len(self.zones) - len(zones)
        if self.part is None:
            size = (max(counts) * self.factors.new.stitch_mm, number * self.factors.new.round_mm)
            plain = tuple(((a, b),) for a, b in zip((counts[0], *counts), counts, strict=False))
            return Anew(counts, plain, places, self.begun, None, size[1], size[0], near)
        begun = replace(self.begun, straight=self.straight)
        whole = tuple(n + self.aside_anew for n in counts)
        part = laid_out(
            self.shape.title, whole, worked, self.factors.new, begun, closed=self.closed
        )
        sectors = part.sectors if not self.aside else _oval(counts, part.sectors, begun)
        return Anew(
            whole,
            sectors,
            places,
            begun,
            part,
            part.height_mm,
            across_mm(part),
            near,
            flattened,
        )

    def _solved(
        self, ideals: Floats, widest: float, zones: list[NewZone], weight: int
    ) -> tuple[tuple[int, ...], tuple[Zone, ...], bool] | None:
        """Counts of all rounds and the zones among them: stretch by stretch, each zone on the
        round that the stretch before it ends with."""
        counts: tuple[int, ...] = ()
        worked: list[Zone] = []
        near = True
        ends = [*zones, None]
        for zone in ends:
            stop = zone.start if zone else len(ideals)
            if stop > len(counts):
                even = bool(zone and zone.needs_even)
                found = self._stretch(ideals, len(counts), stop, counts, widest, weight, even)
                if found is None:
                    return None
                counts, near = (*counts, *found[0]), near and found[1]
            if zone:
                last = self._end if zone.stop == len(ideals) else None
                arcs = work_zone(zone, counts[-1], weight, last)
                if arcs is None:
                    return None
                worked.append(arcs[0])
                near = near and arcs[1]
                sums = zip(*(arc.counts[1:] for arc in arcs[0].arcs), strict=True)
                counts = (*counts, *(sum(n) for n in sums))
        return counts, tuple(worked), near

    def _stretch(
        self,
        ideals: Floats,
        start: int,
        stop: int,
        counts: tuple[int, ...],
        widest: float,
        weight: int,
        even: bool,
    ) -> tuple[tuple[int, ...], bool] | None:
        asked = ideals[start:stop].tolist()
        first = None
        if start == 0:
            first = self.openings.start
            if self.part and self.begun.start in (Start.RING, Start.CHAIN):
                # A ring, or the turns round the two ends of a chain, whatever the yarn.
                turned = self.shape.counts[0] - 2 * self.begun.straight
                first = turned + 2 * self.straight - self.aside_anew
        last = self._end if stop == len(ideals) else None
        return choose(
            asked,
            base=base_of(self.counts),
            weight=price(weight, ideals.tolist()),
            before=counts[-1] if counts else 0,
            fewest=self.fewest,
            widest=widest,
            fixed=Fixed(first, last),
            even=tuple(
                (even and k == stop - 1) or (self._mirrored and not self._given_odd(k, stop, last))
                for k in range(start, stop)
            ),
        )


def _oval(
    turns: Sequence[int], plain: tuple[Sectors, ...], begun: Begun
) -> tuple[Sectors, ...]:
    """The sectors of an oval: while its base grows, it grows at its two ends."""
    sectors = list(plain)
    side = (begun.straight, begun.straight)
    for k in range(1, len(turns)):
        before, after = turns[k - 1], turns[k]
        if after <= before or len(plain[k]) > 1:
            break
        if before % 2 or after % 2:
            continue
        half = (before // 2, after // 2)
        sectors[k] = (half, side, half, side)
    return tuple(sectors)

