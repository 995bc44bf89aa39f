"""The whole way from a text to what is read of it."""

from __future__ import annotations

from dataclasses import replace

from webapp.errors import RoundlingError
from webapp.reading.bodies import forget_bodies
from webapp.reading.keys import find_key
from webapp.reading.labels import forget_labels
from webapp.reading.mending import Tries
from webapp.reading.model import ReadPart, ReadPattern, Remark, RemarkKind
from webapp.reading.part_reading import PartReader
from webapp.reading.places import Places
from webapp.reading.same import Told
from webapp.reading.splitting import read_sheet
from webapp.reading.worklines import MOST_ROUNDS
from webapp.terms import Language


def read_pattern(text: str, language: Language | None = None) -> ReadPattern:
    """What a written pattern says, round by round. ``language`` forces whose words it uses.

    Raises :class:`RoundlingError` for a text that is too long, is no text, or holds no rounds.
    Nothing of the text is remembered after that.
    """
    try:
        return _read(text, language)
    finally:
        forget_bodies()
        forget_labels()


def _read(text: str, language: Language | None) -> ReadPattern:
    sheet = read_sheet(text, language)
    place = Places(text, sheet)
    key = find_key(sheet.clean.text, sheet.language)
    parts: list[ReadPart] = []
    tries = Tries(key)
    told: list[Told] = []
    rounds = 0
    for sheet_part in sheet.parts:
        most = MOST_ROUNDS - rounds
        part = PartReader(sheet, place, sheet_part, parts, most, key, tries, told).read()
        rounds += len(part.rounds)
        if part.per_leg:
            _open_legs(parts, part.per_leg)
        parts.append(part)
    parts, loose = _with_rounds(parts)
    if not parts:
        raise RoundlingError(
            asked="No rounds were found in this text.",
            why="A pattern says them one by one, such as `Rnd 2: (sc, inc) x 3 [9]`.",
            nearest="Paste the part of the text that holds the rounds.",
            field="text",
        )
    remarks = (*(place.remark(0, line.span, sheet) for line in sheet.remarks), *loose)
    return ReadPattern(
        text,
        sheet.title,
        sheet.language,
        sheet.why,
        sheet.gauge and replace(sheet.gauge, span=place.span(sheet.gauge.span)),
        tuple(parts),
        tuple(sorted(remarks, key=lambda remark: remark.span)),
        sheet.clean.slips,
    )


def _open_legs(before: list[ReadPart], per_leg: tuple[int, ...]) -> None:
    """Pieces that the next part is begun on are open, however few stitches they end with."""
    pieces = 1 if before[-1].copies > 1 else 2
    for at in range(max(0, len(before) - pieces), len(before)):
        leg = before[at]
        if leg.closed and leg.rounds[-1].count in per_leg:
            before[at] = replace(leg, closed=False)


def _with_rounds(parts: list[ReadPart]) -> tuple[list[ReadPart], list[Remark]]:
    """The parts that have rounds. The words of the others stay: as remarks at the end of the part
    before them, or, before the first, as remarks of no part. `Leg 2: repeat rnds 1-5` makes the
    part before it once more."""
    kept: list[ReadPart] = []
    loose: list[Remark] = []
    for part in parts:
        if part.rounds:
            kept.append(part)
            continue
        title = [Remark(0, RemarkKind.OTHER, part.title, part.heading)] if part.heading else []
        words = [*title, *part.remarks]
        if not kept:
            loose += words
            continue
        last = kept[-1]
        ended = tuple(replace(remark, after=len(last.rounds)) for remark in words)
        # `Leg (make 2)` counts them already.
        copies = last.copies + (part.copies if part.again and last.copies == 1 else 0)
        kept[-1] = replace(last, copies=copies, remarks=(*last.remarks, *ended))
    return kept, loose
