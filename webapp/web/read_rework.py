"""A read pattern worked anew, as its page asks for it and shows it."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from webapp.errors import RoundlingError
from webapp.reading import ReadPattern, Verdict
from webapp.reading.reading import read_pattern
from webapp.rework.figure import part_names, still_svg_of
from webapp.rework.model import PlainPart
from webapp.rework.part_anew import ReworkedPart
from webapp.rework.reworking import Change, Reworked, rework_pattern
from webapp.rework.writing import written
from webapp.rounds import Effort
from webapp.terms import Language
from webapp.way import SIMPLEST_WEIGHT
from webapp.web.read_contexts import ReadPage, picture_address
from webapp.web.read_input import nearest_category, read_gauge
from webapp.web.read_lines import Entry, entries_of, tally
from webapp.yarns import Gauge, Terms, TermSet, term_set

PER_CENT = re.compile(r"[0-9]{1,4}([.,][0-9]{1,2})?")
SMALLEST, LARGEST = 10, 600
"""Per cent of what it was: beyond that it is another toy."""

EFFORTS = {
    "usual": ("Between the two", 0.36),
    "simple": ("Simple rounds", 1.0),
    "true": ("True to the shape", 0.0),
}
"""What rounds may be like: in words, and the share of the weight that simple work can have."""


@dataclass(frozen=True)
class PartRow:
    """A part as the table of the panel shows it: as it was, and as it became."""

    number: int
    name: str
    was: str
    was_rounds: int
    was_stitches: int
    asked: str = ""
    size: str = ""
    rounds: int | None = None
    stitches: int | None = None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class OldAgainstNew:
    """Rounds of a part and what each became: number and stitches, old and new."""

    name: str
    rounds: tuple[tuple[int, int, int, int], ...]


@dataclass(frozen=True)
class Rework:
    """The panel in which a pattern is worked anew: its boxes as typed, what cannot be, and the
    result where one was asked for and can be."""

    page: ReadPage
    boxes: Mapping[str, str] = field(default_factory=dict)
    problems: Mapping[str, RoundlingError] = field(default_factory=dict)
    result: Reworked | None = None
    gauge: Gauge | None = None

    @property
    def of(self) -> str:
        """A mark of the parts whose boxes these are."""
        names = "\n".join(part_names(self.page.shapes))
        return hashlib.sha256(names.encode()).hexdigest()[:12]

    @property
    def efforts(self) -> list[tuple[str, str]]:
        return [(name, label) for name, (label, _) in EFFORTS.items()]

    def box(self, name: str) -> str:
        return self.boxes.get(name, "")

    @property
    def kept(self) -> dict[str, str]:
        """The boxes that are not empty, for the forms that ask for the same again."""
        return {name: value for name, value in self.boxes.items() if value}

    @property
    def other_problems(self) -> list[RoundlingError]:
        """Refusals that belong to no box."""
        return [error for name, error in self.problems.items() if name == ""]

    @cached_property
    def rows(self) -> list[PartRow]:
        """Each part, as it was and as it became."""
        rows = []
        for n, (name, shape) in enumerate(
            zip(part_names(self.page.shapes), self.page.shapes, strict=True)
        ):
            was = _size((shape.width_mm, shape.height_mm)) if shape.counts else "not known"
            row = PartRow(n, name, was, len(shape.counts), sum(shape.counts))
            if self.result is not None:
                row = _became(row, self.result.parts[n], self.result.pattern.parts[n])
            rows.append(row)
        return rows

    # --- the result ------------------------------------------------------------------------

    @property
    def made(self) -> Reworked:
        assert self.result is not None
        return self.result

    @cached_property
    def against(self) -> list[OldAgainstNew]:
        """The rounds of each part that was worked anew, each with the one it became."""
        names = part_names(self.page.shapes)
        return [
            OldAgainstNew(
                name,
                tuple(
                    (old.number, old.count or 0, number, plain.rounds[number - 1].count)
                    for old, number in zip(read.rounds, part.rounds, strict=False)
                    if 1 <= number <= len(plain.rounds)
                ),
            )
            for name, read, part, plain in zip(
                names, self.page.read.parts, self.made.parts, self.made.pattern.parts, strict=True
            )
            if not part.kept
        ]

    @property
    def words(self) -> TermSet:
        given = self.box("terms") or self.page.terms
        return term_set(Terms.UK if given == "uk" else Terms.US)

    @property
    def language(self) -> Language:
        return Language(self.words.terms.value)

    @cached_property
    def text(self) -> str:
        """The pattern anew, as it is written."""
        return written(self.made.pattern, self.words)

    @property
    def lines(self) -> list[tuple[str, bool]]:
        """The lines of the new pattern with their ends, and whether each stands, but for its
        numbers, in the text that was read: those are in that text's language."""
        source = _without_numbers(self.page.asked.text)
        return [
            (line, len(line.strip()) > 3 and _without_numbers(line) in source)
            for line in self.text.splitlines(keepends=True)
        ]

    @cached_property
    def again(self) -> ReadPattern | None:
        """The new text as it reads; None if it holds nothing that can be read."""
        try:
            return read_pattern(self.text, self.language)
        except RoundlingError:
            return None

    @property
    def checked(self) -> str:
        """How the rounds of the new text read."""
        if self.again is None:
            return "The new text has no round that could be read again."
        counted = tally(self.again)
        rounds, agree = sum(counted.values()), counted[Verdict.AGREES]
        if agree == rounds:
            return f"Read again to be sure: all {rounds} rounds agree."
        return f"Read again to be sure: {agree} of {rounds} rounds agree; look at the others."

    @cached_property
    def to_look_at(self) -> list[tuple[str, str]]:
        """Lines of the new text that do not simply agree when they are read, and why."""
        if self.again is None:
            return []
        return [
            (self.text[entry.first.span.start : entry.first.span.end].strip(), _doubt(entry))
            for entry in entries_of(self.again)
            if entry.look is not None
        ]

    @property
    def gauge_says(self) -> str:
        gauge = self.gauge or self.page.gauge.gauge
        return (
            f"{gauge.stitches_per_10cm:.3g} stitches and {gauge.rounds_per_10cm:.3g} rounds in "
            f"10 cm, near to {nearest_category(gauge).name.lower()} yarn"
        )

    @property
    def anew(self) -> dict[str, str]:
        """The new text as a form hands it in to be read."""
        gauge = self.gauge or self.page.gauge.gauge
        return {
            "text": self.text,
            "words": self.language.value,
            "stitches": f"{gauge.stitches_per_10cm:.4f}",
            "rounds": f"{gauge.rounds_per_10cm:.4f}",
        }

    @cached_property
    def still(self) -> str:
        """The picture of it as an address; empty where nothing can be drawn."""
        if self.again is None:
            return ""
        return picture_address(still_svg_of(self.again, self.gauge or self.page.gauge.gauge))


def _without_numbers(text: str) -> str:
    return re.sub(r"\d+", "0", " ".join(text.split())).casefold()


def rework_of(page: ReadPage, form: Mapping[str, str]) -> Rework:
    """The panel with what a form asks for: done, or refused beside the boxes."""
    pattern, was = page.read, page.gauge.gauge
    boxes = _boxes(page, form)
    problems: dict[str, RoundlingError] = {}
    gauge = was
    try:
        gauge = read_gauge(boxes["to_yarn"], boxes["to_stitches"], boxes["to_rounds"], "to_") or was
    except RoundlingError as error:
        problems[error.field] = error
    shares: dict[str, float] = {}
    for name in boxes:
        if name == "size" or name.startswith(("longer_", "wider_")):
            try:
                shares[name] = _share(boxes[name], name)
            except RoundlingError as error:
                problems[name] = error
    share = EFFORTS.get(boxes["effort"], EFFORTS["usual"])[1]
    if problems:
        return Rework(page, boxes, problems, gauge=gauge)
    change = Change(
        gauge_from=was,
        gauge_to=gauge,
        effort=Effort(round(SIMPLEST_WEIGHT * share)),
        scale=shares["size"],
        longer=_by_part(shares, "longer_"),
        wider=_by_part(shares, "wider_"),
    )
    try:
        return Rework(page, boxes, result=rework_pattern(pattern, change), gauge=gauge)
    except RoundlingError as error:
        return Rework(page, boxes, {"": error}, gauge=gauge)


def panel_kept(page: ReadPage, form: Mapping[str, str]) -> Rework:
    """The panel with its boxes as they were typed when the text was read again; those of other
    parts say nothing of these."""
    empty = Rework(page)
    return Rework(page, _boxes(page, form)) if form.get("anew_of") == empty.of else empty


def _boxes(page: ReadPage, form: Mapping[str, str]) -> dict[str, str]:
    """What the panel's boxes hold."""
    names = ["to_yarn", "to_stitches", "to_rounds", "size", "effort", "terms"]
    names += [f"{way}_{n}" for n in range(len(page.read.parts)) for way in ("longer", "wider")]
    return {name: form.get(name, "").strip()[:40] for name in names}


def _became(row: PartRow, part: ReworkedPart, plain: PlainPart) -> PartRow:
    return replace(
        row,
        asked="" if part.kept else _size(part.asked_mm),
        size="as it was" if part.kept else _size(part.stitched_mm),
        rounds=len(plain.rounds),
        stitches=sum(r.count for r in plain.rounds),
        notes=part.notes,
    )


def _doubt(entry: Entry) -> str:
    """Why a round needs a look, in a sentence or two."""
    chosen = [f"It could be read as {other} too." for _, other in entry.choices]
    return " ".join([*entry.findings, *chosen]) or f"It {entry.word}."


def _size(mm: tuple[float, float]) -> str:
    return f"{mm[0] / 10:.1f} × {mm[1] / 10:.1f} cm"


def _by_part(shares: Mapping[str, float], way: str) -> dict[int, float]:
    found = {int(n.removeprefix(way)): s for n, s in shares.items() if n.startswith(way)}
    return {number: share for number, share in found.items() if share != 1.0}


def _share(text: str, name: str) -> float:
    """Times of what it was, from per cent; nothing written is all of it."""
    if not text:
        return 1.0
    if not PER_CENT.fullmatch(text):
        raise RoundlingError(
            asked=f"“{text[:24]}” was given as per cent.",
            why="It is not a number written in figures.",
            nearest="Write a number such as 120 for a fifth more.",
            field=name,
        )
    value = float(text.replace(",", "."))
    if not SMALLEST <= value <= LARGEST:
        raise RoundlingError(
            asked=f"{value:g} % was asked for.",
            why=f"It can be {SMALLEST} to {LARGEST} % of what it was.",
            nearest=f"The nearest is {SMALLEST if value < SMALLEST else LARGEST} %.",
            field=name,
        )
    return value / 100.0
