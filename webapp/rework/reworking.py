"""A read pattern worked anew: for another yarn, another size, or other proportions.

:func:`rework_pattern` goes the way: the outline of each part in the stitches of the new gauge
(``outline``), whole counts for it (``working``, ``choosing``, ``rearcs``; a part in
``part_anew``), equal edges where parts meet (``joining``), and what is said between the rounds led
after them (``moving``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from webapp.errors import RoundlingError
from webapp.reading import Begin, ReadPart, ReadPattern, Remark, RemarkKind, Span, Verdict
from webapp.rework.carrying import rounds_said
from webapp.rework.joining import meetings
from webapp.rework.mending import (
    as_paragraphs,
    follows,
    lines_of,
    of_the_start,
    title_of,
    words_of,
)
from webapp.rework.model import PlainPart, PlainPattern, PlainRemark
from webapp.rework.moving import Moves, moved_text, offset_of
from webapp.rework.outline import Factors
from webapp.rework.part_anew import ReworkedPart, kept_part, worked_part
from webapp.rounds import Effort
from webapp.yarns import Gauge

MOST_OF_ALL = 6000
"""Rounds of all parts together that are worked out anew."""

FROM_BEFORE = (
    "FROM THE PATTERN AS IT WAS READ\n"
    "Amounts, sizes and hook are those of the yarn and size it was written for."
)
LEAST, MOST = 0.05, 20.0
"""Times as long or as wide: beyond that it is another toy."""


@dataclass(frozen=True)
class Change:
    """What is asked for: the gauge the pattern was written at and the one it is to be worked at,
    how many times as large all of it is to be, and how many times as long or as wide besides a part
    is to be, by its number in the pattern (from 0)."""

    gauge_from: Gauge
    gauge_to: Gauge
    effort: Effort
    scale: float = 1.0
    longer: Mapping[int, float] = field(default_factory=dict)
    wider: Mapping[int, float] = field(default_factory=dict)

    def factors(self, part: int) -> Factors:
        return Factors(
            wide=self.scale * self.wider.get(part, 1.0),
            long=self.scale * self.longer.get(part, 1.0),
            was=self.gauge_from,
            new=self.gauge_to,
        )


@dataclass(frozen=True)
class Reworked:
    """The pattern anew, what became of each of its parts, and what was changed in its remarks."""

    pattern: PlainPattern
    parts: tuple[ReworkedPart, ...]
    notes: tuple[str, ...] = ()


def rework_pattern(pattern: ReadPattern, change: Change) -> Reworked:
    """The pattern in whole stitches for the change asked for.

    Raises :class:`RoundlingError` naming the part that cannot be worked so, or the factor that is
    out of range.
    """
    _check(pattern, change)
    factors = [change.factors(n) for n in range(len(pattern.parts))]
    doubts = [doubt_of(part) for part in pattern.parts]
    edges = meetings(pattern.parts, factors, [not doubt for doubt in doubts])
    parts, became = [], []
    for number, part in enumerate(pattern.parts):
        if doubts[number]:
            plain, result = kept_part(pattern, number, factors[number], doubts[number])
        else:
            plain, result = worked_part(part, number, factors[number], edges, change.effort)
            plain = replace(plain, title=title_of(pattern, number))
        parts.append(plain)
        became.append(result)
    return _with_words(pattern, change, parts, became)


def doubt_of(part: ReadPart) -> str:
    """Why a part cannot be re-worked, or nothing."""
    if not part.rounds:
        return "it has no rounds"
    unknown = [r.number for r in part.rounds if not r.count or r.verdict is Verdict.UNREAD]
    if unknown:
        are = "is" if len(unknown) == 1 else "are"
        return f"{rounds_said(unknown)[0].lower()}{rounds_said(unknown)[1:]} {are} not known"
    return ""


def _check(pattern: ReadPattern, change: Change) -> None:
    asked = [("The size", "scale", change.scale)]
    for name, factors in (("length", change.longer), ("width", change.wider)):
        for number, factor in factors.items():
            if not 0 <= number < len(pattern.parts):
                raise RoundlingError(
                    asked=f"Part {number + 1} is to have another {name}.",
                    why=f"The pattern has {len(pattern.parts)} parts.",
                    nearest="Choose one of its parts.",
                    field=name,
                )
            asked.append((f"The {name} of the {pattern.parts[number].title}", name, factor))
    finer = change.gauge_from.round_mm / change.gauge_to.round_mm
    rounds = finer * sum(
        len(part.rounds) * change.factors(n).long for n, part in enumerate(pattern.parts)
    )
    if rounds > MOST_OF_ALL:
        raise RoundlingError(
            asked=f"The pattern would have about {rounds:.0f} rounds.",
            why=f"At most {MOST_OF_ALL} are worked out at a time.",
            nearest="Make it smaller, use a thicker yarn, or re-work some of its parts alone.",
            field="scale",
        )
    for what, which, factor in asked:
        if not LEAST <= factor <= MOST:
            raise RoundlingError(
                asked=f"{what} is to be {factor:g} times what it was.",
                why=f"A pattern is re-worked to between {LEAST:g} and {MOST:g} times.",
                nearest=f"It can be {LEAST if factor < 1.0 else MOST:g} times.",
                field=which,
            )


def _given(read: ReadPart, plain: PlainPart) -> dict[int, int]:
    """Counts of legs that are joined and of their chain, as remarks about it have them."""
    if read.begin is not Begin.LEGS:
        return {}
    given = dict(zip(read.per_leg, plain.per_leg, strict=True))
    return given | ({read.chain: plain.chain} if read.chain else {})


def _with_words(
    pattern: ReadPattern, change: Change, parts: list[PlainPart], became: list[ReworkedPart]
) -> Reworked:
    """The pattern with its remarks led after their rounds, and what was changed in them."""
    notes: list[str] = []
    moves = [
        Moves(
            new.rounds,
            new.stitch_scale,
            1.0 if new.kept else change.scale,
            offset_of(read.rounds),
            _given(read, plain),
        )
        for read, plain, new in zip(pattern.parts, parts, became, strict=True)
    ]
    titled = {
        f"{part.title}\n{n}" if part.title else f"\n{n}": move
        for n, (part, move) in enumerate(zip(pattern.parts, moves, strict=True))
    }
    written = []
    for read, plain, new, own in zip(pattern.parts, parts, became, moves, strict=True):
        remarks = []
        for remark in read.remarks:
            said = lines_of(remark.text)
            if not said or of_the_start(read, remark):
                continue
            sewn = remark.kind is RemarkKind.SEW
            text, says = moved_text(said, own, titled, pattern.language, sewn=sewn)
            after = new.rounds[min(remark.after, len(new.rounds)) - 1] if remark.after else 0
            remarks.append(PlainRemark(after if new.rounds else 0, text))
            notes += [f"{read.title}: {each}" if read.title else each for each in says]
        written.append(replace(plain, remarks=tuple(remarks)))
    around: list[tuple[Remark, str]] = []
    for remark in pattern.remarks:
        said = words_of(remark, pattern.language)
        if not said:
            around.append((remark, ""))
            continue
        if pattern.gauge is not None and _overlap(remark.span, pattern.gauge.span):
            # The new gauge is written as such; the old one is none of the lengths that grow.
            around.append((remark, f"Worked anew from: {said}"))
            continue
        placing = remark.kind in (RemarkKind.EYES, RemarkKind.SEW)
        text, says = moved_text(said, None, titled, pattern.language, placing=placing)
        around.append((remark, text))
        notes += says
    gauge = change.gauge_to
    return Reworked(
        PlainPattern(
            title=pattern.title,
            gauge=gauge,
            parts=tuple(written),
            before=_around(pattern, around, follow=False),
            after=_around(pattern, around, follow=True),
        ),
        tuple(became),
        tuple(notes),
    )


def _around(
    pattern: ReadPattern, around: list[tuple[Remark, str]], follow: bool
) -> tuple[str, ...]:
    said = [(remark, text) for remark, text in around if follows(pattern, remark) is follow]
    paragraphs = as_paragraphs(pattern, said)
    if follow or not paragraphs:
        return paragraphs
    return (FROM_BEFORE, *paragraphs)


def _overlap(one: Span, other: Span) -> bool:
    return one.start < other.end and other.start < one.end
