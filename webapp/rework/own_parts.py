"""A read part as a part of a toy of one's own, without its place: shape, lengths, start, filling,
colours, gathered shaping."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.errors import RoundlingError
from webapp.own.naming import Data
from webapp.own.values import rounded
from webapp.pattern.starts import settled_start
from webapp.reading import Begin, ReadPart, RemarkKind
from webapp.recipes import Design
from webapp.rework.own_outline import Drawn, drawn_through, off_by
from webapp.rework.own_words import LIGHTLY, UNSTUFFED, Role, plain
from webapp.rounds import Effort, Start, WorkOrder, work_part, work_strip
from webapp.rounds.bounds import RING_COUNTS
from webapp.rounds.fabric import lay_rings
from webapp.rounds.refusals import too_wide
from webapp.rounds.worked import CHEEKS, Bulge
from webapp.shapes import Strip, build_meridian
from webapp.way import SIMPLEST_WEIGHT
from webapp.yarns import Gauge

EFFORT = Effort(round(SIMPLEST_WEIGHT * (Design.simplicity / 100.0) ** 2))
"""What a new design asks of rounds."""

MOST_STITCHES = 600
"""In a round of a part that is drawn: it is worked some dozens of times to find its outline."""

STEEPEST = 4
"""So many times as many stitches as in the round before, or so few, are a slip of the pen: between
them the outline would have to lie flat for dozens of rounds."""

USUALLY_EMPTY = (Role.EAR, Role.PATCH, Role.HAT)
SHARES = (1.0, 0.5, 0.25)
"""Of what stands out in gathered places, that is left to them; what remains is even all round."""

STRETCHES = (1.0, 0.85, 1.15, 0.7, 1.3)
"""Heights of an oval that are tried, as parts of what its rounds rise."""

FLAT_RISE = 0.5
"""Rounds; what rises less in all lies flat."""


@dataclass(frozen=True)
class Gathered:
    """Shaping that is gathered in places: the stitches of each round without what stands out
    there, and the places."""

    counts: tuple[float, ...]
    bulges: tuple[Bulge, ...]

    def softened(self, share: float, total: Sequence[float]) -> Gathered:
        """The same with only a share of what stands out in the bulges, the rest even all round;
        ``total`` are all stitches of each round."""
        pairs = zip(self.counts, total, strict=True)
        counts = tuple(all_of - share * (all_of - plain) for plain, all_of in pairs)
        bulges = tuple(replace(b, depth_mm=share * b.depth_mm) for b in self.bulges)
        return Gathered(counts, bulges)


Gather = Callable[[ReadPart, Gauge], Gathered]


@dataclass(frozen=True)
class Shape:
    """A part's shape as data (``shape``, ``points``, ``ring``, ``bulges``), its lengths (mm), the
    rounds it should have, and what did not go into it, as sentences. ``cut_open``: its end was
    gathered, and is left open to be sewn by."""

    data: Data
    lengths: Mapping[str, int | float]
    counts: tuple[int, ...] = ()
    said: tuple[str, ...] = ()
    open_end: bool = True
    open_start: bool = False
    cut_open: bool = False


def evenly(part: ReadPart, gauge: Gauge) -> Gathered:
    """All shaping taken as even all round."""
    return Gathered(tuple(float(r.count or 0) for r in part.rounds), ())


def strip_of(part: ReadPart, gauge: Gauge) -> Shape:
    """A piece worked in rows as a strip: as long as its rows, as wide as most of them; worked
    along its length where its rows are longer than it has of them. Raises
    :class:`RoundlingError` for one that is too narrow."""
    counts = [r.count or 0 for r in part.rounds]
    usual = max(set(counts), key=lambda n: (counts.count(n), n))
    along, across = len(counts) * gauge.round_mm, usual * gauge.stitch_mm
    said = []
    if set(counts) != {usual}:
        said.append(f"its rows differ; as a strip all have {usual} stitches")
    if across > along:
        along, across = across, along
        said.append("it is worked the other way, in short rows")
    lengths = {"length": rounded(along), "width": rounded(across)}
    work_strip(part.title.lower(), Strip(lengths["length"], lengths["width"]), gauge)
    return Shape({"shape": "strip"}, lengths, said=tuple(said))


def shape_of_part(part: ReadPart, gauge: Gauge, gather: Gather, *, legs: bool, end: bool) -> Shape:
    """A part in rounds as an oval or an outline.

    ``legs``: it is begun on legs that are a part of the toy too; else it is begun on a disc of its
    own where it is begun on legs. ``end``: it must end in an opening, to be sewn by, so that a
    closed one is not gathered. Raises :class:`RoundlingError` for what cannot be worked.
    """
    _check_counts(part)
    closed = part.closed and not end
    said: list[str] = []
    if part.begin is Begin.OVAL:
        oval = _oval(part, gauge)
        if oval is not None:
            return oval
        said.append("it is begun on a ring, for it goes on as no oval does")
    if part.begin in (Begin.RING, Begin.UNKNOWN) and not closed:
        try:
            disc = _disc(part, gauge)
        except RoundlingError:
            disc = None
        if disc is not None:
            return disc
    even = evenly(part, gauge)
    if part.begin is Begin.LEGS and not legs:
        base = _base(even.counts[0])
        said.append(f"it is begun on a disc of {len(base)} rounds instead of its legs")
        even = Gathered((*base, *even.counts), ())
        tries = [even]
    else:
        gathered = gather(part, gauge)
        shares = SHARES if gathered.bulges else ()
        tries = [*(gathered.softened(share, even.counts) for share in shares), even]
    return _outline(part, gauge, tries, closed=closed, joined=legs, said=said)


def _check_counts(part: ReadPart) -> None:
    """Raises :class:`RoundlingError` for rounds that no toy has."""
    counts = part.counts
    widest = max(count or 0 for count in counts)
    if widest > MOST_STITCHES:
        raise too_wide(part.title, widest, MOST_STITCHES)
    for number, (before, count) in enumerate(zip(counts, counts[1:], strict=False), 2):
        if before and count and max(before, count) > STEEPEST * min(before, count):
            raise RoundlingError(
                asked=f"The {part.title} has {before} stitches, and {count} in round {number}.",
                why=f"From {before} stitches to {count} in round {number} no fabric goes.",
                nearest="Look for a slip in one of the two rounds.",
                field=part.title,
            )


def _outline(
    part: ReadPart,
    gauge: Gauge,
    tries: Sequence[Gathered],
    *,
    closed: bool,
    joined: bool,
    said: list[str],
) -> Shape:
    """The outline by which rounds come out as they were read, or nearest to that; the last of
    ``tries`` has nothing gathered."""
    wanted = [round(n) for n in tries[-1].counts]
    open_start = joined or part.begin in (Begin.CHAIN_RING, Begin.EDGE)
    ring = min(max(wanted[0], RING_COUNTS[0]), RING_COUNTS[-1])
    if wanted[0] not in RING_COUNTS:
        ring = next((n for n in (6, 7, 8, 5, 4) if wanted[0] % n == 0), 6)
    best: tuple[float, Drawn, Gathered] | None = None
    refused: RoundlingError | None = None
    for gathered in tries:
        order = WorkOrder(
            part.title.lower(),
            drawn_through(gathered.counts, gauge, closed=closed, open_start=open_start).meridian(),
            Start.LEGS if joined else Start.OPEN if open_start else Start.RING,
            ring,
            bulges=gathered.bulges,
            start_count=wanted[0] if joined else None,
            chain=chain_of(part) if joined else 0,
        )
        worker = _Worker(order, gauge)
        drawn = drawn_through(
            gathered.counts,
            gauge,
            closed=closed,
            open_start=open_start,
            worked=worker,
            wanted=wanted,
        )
        miss = off_by(worker(drawn), wanted)
        refused = worker.refused or refused
        if worker(drawn) and (best is None or miss < best[0]):
            best = (miss, drawn, gathered)
        if miss <= 1.0:
            break
    if best is None:
        assert refused is not None
        raise refused
    _, drawn, gathered = best
    data: Data = {"shape": "outline", "points": [list(point) for point in drawn.points]}
    if ring != 6 and not open_start:
        data["ring"] = ring
    cheeks = [bulge for bulge in gathered.bulges if bulge.label == CHEEKS]
    others = [_bulge(bulge) for bulge in gathered.bulges if bulge.label != CHEEKS]
    if cheeks:
        same = _bulge(cheeks[0])
        data["cheeks"] = {key: same[key] for key in ("begin", "end", "arc", "depth")}
    if others:
        data["bulges"] = others
    if open_start and not joined and _is_stuffed(part):
        said.append("it is not stuffed, for it begins at an opening that stays open")
    return Shape(
        data,
        {"length": rounded(drawn.length), "width": rounded(drawn.width)},
        tuple(wanted),
        tuple(said),
        not closed,
        open_start and not joined,
        part.closed and not closed,
    )


class _Worker:
    """Works outlines by one order; ``refused`` is the last that could not be."""

    def __init__(self, order: WorkOrder, gauge: Gauge) -> None:
        self.order, self.gauge = order, gauge
        self.refused: RoundlingError | None = None

    def __call__(self, drawn: Drawn) -> Sequence[int]:
        try:
            order = replace(self.order, outline=drawn.meridian())
            return work_part(order, self.gauge, EFFORT).counts
        except RoundlingError as error:
            self.refused = error
            return ()


def _bulge(bulge: Bulge) -> Data:
    return {
        "label": bulge.label.capitalize(),
        "begin": round(bulge.begin, 3),
        "end": round(bulge.end, 3),
        "arc": round(bulge.arc, 3),
        "depth": rounded(bulge.depth_mm),
        "around": round(bulge.around),
    }


def otherwise(counts: Sequence[int], wanted: Sequence[int]) -> str:
    """How rounds as they come out differ from those wanted; nothing where they agree."""
    if off_by(counts, wanted) <= 1.0:
        return ""
    if len(counts) != len(wanted):
        return f"it comes out in {len(counts)} rounds instead of {len(wanted)}"
    worst = max(range(len(counts)), key=lambda k: abs(counts[k] - wanted[k]) / max(1, wanted[k]))
    return (
        "its rounds come out otherwise in places, most in round "
        f"{worst + 1}: {counts[worst]} stitches instead of {wanted[worst]}"
    )


def _base(first: float) -> tuple[float, ...]:
    """Rounds of a disc up to so many stitches, 6 more each."""
    return tuple(float(n) for n in range(6, math.ceil(first), 6))


def chain_of(part: ReadPart) -> int:
    """The chain between two legs, in stitches, by what the round that joins them has more than
    they."""
    first = part.rounds[0].count or 0
    return (first - sum(legs_of(part))) // 2


def legs_of(part: ReadPart) -> tuple[int, ...]:
    """Stitches of each piece that a part is begun on."""
    if not part.rounds[0].work:
        return part.per_leg
    return settled_start(part.begin, part.rounds[0].work, part.chain, part.per_leg)[1]


def _oval(part: ReadPart, gauge: Gauge) -> Shape | None:
    """A part begun along both sides of a chain as a long dome; None where it is none."""
    counts = [r.count or 0 for r in part.rounds]
    side = (counts[0] - 6) // 2
    if part.closed or side < 1 or any(b < a for a, b in zip(counts, counts[1:], strict=False)):
        return None
    w, h = gauge.stitch_mm, gauge.round_mm
    turns = [n - 2 * side for n in counts]
    even = sum(n == counts[-1] for n in counts) - 1
    width = turns[-1] * w / math.pi
    best: Shape | None = None
    least = math.inf
    for stretch, brim in itertools.product(STRETCHES, dict.fromkeys((even, 0))):
        dome = [n * w for n in turns[: len(turns) - brim]]
        height = lay_rings(dome, h, closed=False).height_mm
        lengths = {"length": width + side * w, "width": width}
        if height > FLAT_RISE * h or brim:
            lengths["height"] = max(stretch * height, 0.3 * h)
        if brim:
            lengths["brim"] = brim * h
        tidy = {key: rounded(value) for key, value in lengths.items()}
        got = _worked_alone(part, "oval", tidy, gauge, Start.CHAIN)
        if (miss := off_by(got, counts)) < least or best is None:
            best, least = Shape({"shape": "oval"}, tidy, tuple(counts)), miss
        if least <= 1.0:
            break
    return best


def _disc(part: ReadPart, gauge: Gauge) -> Shape | None:
    """A part that lies flat, with as many more in each round, as a disc; None where it is none."""
    counts = [r.count or 0 for r in part.rounds]
    lengths = {"width": rounded(counts[-1] * gauge.stitch_mm / math.pi)}
    if counts[0] not in RING_COUNTS:
        return None
    if off_by(_worked_alone(part, "disc", lengths, gauge, ring=counts[0]), counts) > 1.0:
        return None
    data: Data = {"shape": "disc"}
    if counts[0] != 6:
        data["ring"] = counts[0]
    return Shape(data, lengths, tuple(counts), cut_open=part.closed)


def _worked_alone(
    part: ReadPart,
    shape: str,
    lengths: Mapping[str, float],
    gauge: Gauge,
    start: Start = Start.RING,
    ring: int = 6,
) -> tuple[int, ...]:
    """The counts a shape is worked to; raises :class:`RoundlingError` where it cannot be."""
    order = WorkOrder(part.title.lower(), build_meridian(shape, lengths), start, ring)
    return work_part(order, gauge, EFFORT).counts


def filling_of_part(part: ReadPart, role: Role, shape: Shape) -> str:
    """How it is stuffed, by its remarks; else as such parts usually are."""
    if shape.open_start or shape.data["shape"] == "strip":
        return "none"
    said = [plain(remark.text) for remark in part.remarks if remark.kind is RemarkKind.STUFF]
    if not said:
        return "none" if role in USUALLY_EMPTY or shape.data["shape"] == "oval" else "firm"
    text = " ".join(said)
    if UNSTUFFED.search(text):
        return "none"
    return "light" if LIGHTLY.search(text) else "firm"


def _is_stuffed(part: ReadPart) -> bool:
    return any(
        remark.kind is RemarkKind.STUFF and not UNSTUFFED.search(plain(remark.text))
        for remark in part.remarks
    )
