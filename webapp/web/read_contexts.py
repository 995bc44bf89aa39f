"""What the pages of a read pattern show, from what was handed in and what was read of it."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from webapp.errors import RoundlingError
from webapp.reading import ReadPattern, Verdict
from webapp.reading.reading import read_pattern
from webapp.rework.figure import part_names, shapes_of, still_svg_of
from webapp.rework.mending import plain_of
from webapp.rework.model import PlainPattern
from webapp.rework.own_toy import OwnToy, own_toy
from webapp.rework.shape import ReadShape
from webapp.terms import Language, term_table
from webapp.web.editor import recipe_of
from webapp.web.fields import read_design
from webapp.web.read_example import EXAMPLE
from webapp.web.read_input import Asked, UsedGauge, used_gauge
from webapp.web.read_lines import SIGNS, WORDS, Section, sections_of, tally
from webapp.yarns import CATEGORIES, Gauge, YarnCategory

SENTENCES = {
    Verdict.AGREES: ("agrees", "agree"),
    Verdict.DISAGREES: ("does not agree", "do not agree"),
    Verdict.CHOICE: ("needed a choice", "needed a choice"),
    Verdict.UNREAD: ("is not understood", "are not understood"),
}


MOST_MENDING = 6000
"""Rounds that do not agree times all rounds: a pattern of 300 rounds may have 20 that do not."""


@dataclass(frozen=True)
class Share:
    """How many rounds have a verdict, with the word and sign of it."""

    verdict: Verdict
    number: int

    @property
    def sign(self) -> str:
        return SIGNS[self.verdict]

    @property
    def word(self) -> str:
        return WORDS[self.verdict]

    @property
    def says(self) -> str:
        one, more = SENTENCES[self.verdict]
        return one if self.number == 1 else more


@dataclass(frozen=True)
class PartSize:
    """A part's size as its stitches make it, and what is to be said of its fabric."""

    name: str
    size: str
    stitches: str
    findings: tuple[str, ...]


@dataclass(frozen=True)
class ReadPage:
    """A page with a text to read, and the reading where there is one.

    ``focus`` is the id of what to show first after a change; ``only`` tells whether only what
    needs a look is shown; ``notices`` are what was done since the page before.
    """

    asked: Asked
    pattern: ReadPattern | None = None
    focus: str = ""
    only: bool = False
    notices: tuple[str, ...] = ()
    more: Mapping[str, RoundlingError] = field(default_factory=dict)

    @property
    def problems(self) -> Mapping[str, RoundlingError]:
        return {**self.asked.problems, **self.more}

    @property
    def status(self) -> int:
        return 422 if self.problems else 200

    @property
    def languages(self) -> list[tuple[str, str]]:
        """The words a text may be in, by their value."""
        return [(language.value, _named(language)) for language in Language]

    @property
    def yarns(self) -> tuple[YarnCategory, ...]:
        return CATEGORIES

    @property
    def example(self) -> str:
        return EXAMPLE

    def box(self, name: str) -> str:
        return self.asked.boxes.get(name, "")

    # --- the reading -----------------------------------------------------------------------

    @cached_property
    def read(self) -> ReadPattern:
        assert self.pattern is not None
        return self.pattern

    @cached_property
    def sections(self) -> tuple[Section, ...]:
        return sections_of(self.read)

    @cached_property
    def shares(self) -> list[Share]:
        """How many rounds have each verdict, those that occur."""
        return [Share(verdict, number) for verdict, number in tally(self.read).items() if number]

    @property
    def rounds(self) -> int:
        return sum(share.number for share in self.shares)

    @cached_property
    def looks(self) -> int:
        """How many places need a look."""
        return sum(
            entry.look is not None
            for section in self.sections
            for line in section.lines
            for entry in line.entries
        )

    @property
    def title(self) -> str:
        return self.read.title.strip(" :*#") or "The pattern"

    @property
    def language(self) -> str:
        return _named(self.read.language)

    @property
    def terms(self) -> str:
        """Whose words a download has unless others are chosen."""
        return "uk" if self.read.language is Language.UK else "us"

    @property
    def summary(self) -> str:
        """The reading in one sentence."""
        parts, rounds = len(self.read.parts), self.rounds
        told = ", ".join(f"{share.number} {share.says}" for share in self.shares)
        head = (
            f"{parts} part{'' if parts == 1 else 's'}, {rounds} round{'' if rounds == 1 else 's'}"
        )
        return f"{head}: {told}."

    @property
    def mend_problem(self) -> RoundlingError | None:
        """Why the text is not mended as a whole, if so: each mend reads all of it again."""
        wrong = sum(s.number for s in self.shares if s.verdict is Verdict.DISAGREES)
        if wrong * self.rounds <= MOST_MENDING:
            return None
        return RoundlingError(
            asked="The whole text was to be mended.",
            why=f"{wrong} of its {self.rounds} rounds do not agree, which is too many at once.",
            nearest="Paste one part at a time, or choose other words for the text.",
        )

    @cached_property
    def _mended(self) -> tuple[PlainPattern, tuple[str, ...]]:
        return plain_of(self.read, self.again)

    @property
    def changes(self) -> tuple[str, ...]:
        """What the mended pattern has otherwise, a sentence each."""
        return self._mended[1]

    @property
    def unread_lines(self) -> list[int]:
        """Numbers of the lines that are kept as they stand, since they are not understood."""
        return [
            line.number
            for section in self.sections
            for line in section.lines
            if any(entry.verdict is Verdict.UNREAD for entry in line.entries)
        ]

    @property
    def doubtful(self) -> bool:
        """Whether there are rounds whose counts are not sure."""
        return any(s.verdict in (Verdict.DISAGREES, Verdict.UNREAD) for s in self.shares)

    @property
    def mended(self) -> PlainPattern:
        """The pattern with its doubts settled, at the gauge where one is told. Raises
        :attr:`mend_problem`."""
        if (problem := self.mend_problem) is not None:
            raise problem
        return replace(self._mended[0], gauge=self.known_gauge)

    def again(self, text: str) -> ReadPattern:
        """A changed text, read by the same words."""
        return read_pattern(text, self.read.language)

    # --- the shape -------------------------------------------------------------------------

    @cached_property
    def gauge(self) -> UsedGauge:
        return used_gauge(self.asked, self.read.gauge)

    @property
    def known_gauge(self) -> Gauge | None:
        """The gauge where it is told and not only assumed."""
        return None if self.gauge.assumed else self.gauge.gauge

    @property
    def stitches(self) -> str:
        return _figure(self.gauge.gauge.stitches_per_10cm)

    @property
    def per_10cm(self) -> str:
        return _figure(self.gauge.gauge.rounds_per_10cm)

    @cached_property
    def shapes(self) -> tuple[ReadShape, ...]:
        return shapes_of(self.read, self.gauge.gauge)

    @cached_property
    def still(self) -> str:
        """The picture as an address that holds it; empty where nothing can be drawn."""
        return picture_address(still_svg_of(self.read, self.gauge.gauge))

    @cached_property
    def sizes(self) -> list[PartSize]:
        return [
            PartSize(
                name,
                f"{shape.width_mm / 10:.1f} × {shape.height_mm / 10:.1f} cm"
                if shape.counts
                else "not known",
                f"{sum(shape.counts):,}" if shape.counts else "",
                tuple(finding.says for finding in shape.findings),
            )
            for name, shape in zip(part_names(self.shapes), self.shapes, strict=True)
        ]

    # --- a toy of one's own ----------------------------------------------------------------

    @cached_property
    def _own(self) -> OwnToy | RoundlingError:
        try:
            toy = own_toy(self.read, self.gauge.gauge)
            recipe_of(toy.data)
            return toy
        except RoundlingError as error:
            return error

    @property
    def own_problem(self) -> RoundlingError | None:
        """Why it cannot become a toy of one's own, if so."""
        return self._own if isinstance(self._own, RoundlingError) else None

    @property
    def own(self) -> OwnToy:
        """The toy of one's own that it becomes; raises why it cannot."""
        if isinstance(self._own, RoundlingError):
            raise self._own
        return self._own

    @property
    def own_choices(self) -> dict[str, str]:
        """What goes with that toy in its address: the gauge at which its rounds are those that
        were read, and the words of the text."""
        choices = {**self.gauge.choices, "terms": self.read.language.value}
        reading = read_design(recipe_of(self.own.data), {n: [t] for n, t in choices.items()})
        return dict(reading.accepted)

    @property
    def left_out(self) -> tuple[str, ...]:
        """What such a toy has not."""
        return () if isinstance(self._own, RoundlingError) else self._own.left_out


def picture_address(picture: str) -> str:
    """An address that holds an SVG picture itself; empty for no picture."""
    if not picture:
        return ""
    return "data:image/svg+xml;base64," + base64.b64encode(picture.encode()).decode("ascii")


def _named(language: Language) -> str:
    try:
        return term_table(language).name
    except FileNotFoundError:
        return language.name.capitalize()


def _figure(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
