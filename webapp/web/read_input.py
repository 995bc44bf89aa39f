"""What is handed in to be read: a pasted text or a file, whose words, and a gauge."""

from __future__ import annotations

import codecs
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import IO

from webapp.errors import RoundlingError
from webapp.reading import ReadGauge
from webapp.rework.mending import USUAL_ROUNDS, gauge_of
from webapp.terms import Language
from webapp.yarns import CATEGORIES, Gauge, Swatch, YarnCategory, category, swatch_gauge
from webapp.yarns.gauge import ROUNDS

BOXES = ("words", "yarn", "stitches", "rounds")
NUMBER = re.compile(r"[0-9]{1,4}([.,][0-9]{1,4})?")
LIKELY = "likely_yarn"
"""The yarn that is asked for beside the shape, where the text says none."""

LARGEST_BODY = 4_000_000
"""Bytes of a request. The longest text that is read is a twentieth of it."""

ASSUMED = 4
"""The yarn category a shape is drawn in when nothing is known of the gauge."""


@dataclass(frozen=True)
class Asked:
    """What was handed in: the text with plain line ends, whose words it is in (None: as the text
    tells), the gauge that was given (None: as the text says), and the boxes as they were typed."""

    text: str
    language: Language | None = None
    gauge: Gauge | None = None
    boxes: Mapping[str, str] = field(default_factory=dict)
    problems: Mapping[str, RoundlingError] = field(default_factory=dict)

    def with_problem(self, error: RoundlingError) -> Asked:
        """The same with one refusal more, beside its box; beside the text if it has none."""
        name = error.field if error.field in BOXES else "text"
        return replace(self, problems={**self.problems, name: error})


@dataclass(frozen=True)
class UsedGauge:
    """The gauge shapes are drawn in, where it comes from, and whether it is only assumed."""

    gauge: Gauge
    says: str
    assumed: bool = False

    @property
    def nearest(self) -> YarnCategory:
        return nearest_category(self.gauge)

    @property
    def choices(self) -> dict[str, str]:
        """What a design is set to for its stitches to be these: the yarn, and a swatch where it
        is not worked in the yarn's usual gauge."""
        yarn, gauge = self.nearest, self.gauge
        chosen = {"yarn": str(yarn.number)}
        if gauge != yarn.toy_gauge:
            chosen["swatch_stitches"] = _counted(gauge.stitches_per_10cm)
            chosen["swatch_rounds"] = _counted(gauge.rounds_per_10cm)
        return chosen


def asked_of(form: Mapping[str, str], file: IO[bytes] | None) -> Asked:
    """What a form hands in. A value that cannot be is among the problems, never an error."""
    text, problems = form.get("text", ""), {}
    if form.get("use") == LIKELY:
        form = {**form, "yarn": form.get(LIKELY, "")}
    boxes = {name: form.get(name, "").strip()[:40] for name in BOXES}
    if file is not None:
        try:
            text = file_text(file.read(LARGEST_BODY))
        except RoundlingError as error:
            problems["text"] = error
    language = gauge = None
    try:
        language = _language(boxes["words"])
    except RoundlingError as error:
        problems["words"] = error
    try:
        gauge = read_gauge(boxes["yarn"], boxes["stitches"], boxes["rounds"])
    except RoundlingError as error:
        problems[error.field] = error
    return Asked(plain_lines(text), language, gauge, boxes, problems)


def plain_lines(text: str) -> str:
    """The text with one kind of line end: forms send two characters, files send either."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def file_text(data: bytes) -> str:
    """A file's text: UTF-16 where its first two bytes say so, else UTF-8, else Windows-1252.

    Raises :class:`RoundlingError` for what is no text.
    """
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        text = data.decode("utf-16", "replace")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            text = data.decode("windows-1252", "replace")
    if "\0" in text:
        raise RoundlingError(
            asked="A file was given to be read.",
            why="It holds no text: it has bytes in it that stand for no letter.",
            nearest="Save the pattern as a plain text file, or copy its words and paste them.",
            field="text",
        )
    return text


def read_gauge(yarn: str, stitches: str, rounds: str, prefix: str = "") -> Gauge | None:
    """The gauge of three boxes: own counts in 10 cm, else that of a yarn category, else None.

    Without rounds of its own a count of stitches has those that are usual for it. Raises
    :class:`RoundlingError`, its field ``prefix`` and the name of the box.
    """
    if not stitches and rounds:
        raise RoundlingError(
            asked=f"{rounds} rounds in 10 cm were given without stitches.",
            why="How wide a stitch is cannot be told from its height alone.",
            nearest="Give the stitches as well, or clear the rounds.",
            field=f"{prefix}stitches",
        )
    if stitches:
        wide = _number(stitches, "stitches", prefix)
        try:
            if not rounds:
                return with_usual_rounds(wide)
            return swatch_gauge(wide, _number(rounds, "rounds", prefix), Swatch.TEN_CM)
        except RoundlingError as error:
            name = error.field.removeprefix("swatch_").removeprefix(prefix)
            raise _at(error, f"{prefix}{name}") from error
    return category_of(yarn, f"{prefix}yarn").toy_gauge if yarn else None


def category_of(text: str, box: str) -> YarnCategory:
    """The yarn category of a number; raises :class:`RoundlingError` for what is none."""
    numbers = {str(c.number): c.number for c in CATEGORIES}
    if text not in numbers:
        raise RoundlingError(
            asked=f"Yarn category “{text[:24]}” was asked for.",
            why="There is no such category.",
            nearest=f"It can be {CATEGORIES[0].number} to {CATEGORIES[-1].number}.",
            field=box,
        )
    return category(numbers[text])


def with_usual_rounds(stitches: float) -> Gauge:
    """A gauge of so many stitches in 10 cm, with as many rounds as usually go with them.

    Raises :class:`RoundlingError` for a count that no swatch has.
    """
    rounds = min(USUAL_ROUNDS * stitches, ROUNDS[1])
    # What is out of range is refused for its stitches, whatever its rounds would be.
    return swatch_gauge(stitches, max(rounds, ROUNDS[0]), Swatch.TEN_CM)


def nearest_category(gauge: Gauge) -> YarnCategory:
    """The yarn category whose toys are worked nearest to this gauge."""
    return min(
        CATEGORIES,
        key=lambda c: abs(c.toy_gauge.stitches_per_10cm - gauge.stitches_per_10cm),
    )


def used_gauge(asked: Asked, stated: ReadGauge | None) -> UsedGauge:
    """The gauge to draw in: the one given, else the text's, else that of a usual yarn."""
    if asked.gauge is not None:
        return UsedGauge(asked.gauge, "as you gave it")
    if (gauge := gauge_of(stated)) is not None:
        rest = "" if stated and stated.rounds else ": stitches only, rounds as is usual for them"
        return UsedGauge(gauge, f"as the text says{rest}")
    usual = category(ASSUMED).toy_gauge
    return UsedGauge(usual, "assumed, since the text states none", True)


def _language(word: str) -> Language | None:
    if not word:
        return None
    try:
        return Language(word)
    except ValueError:
        raise RoundlingError(
            asked=f"The words “{word[:24]}” were asked for.",
            why="No such words are known.",
            nearest="Choose some from the list, or leave it to the text.",
            field="words",
        ) from None


def _number(text: str, what: str, prefix: str) -> float:
    if not NUMBER.fullmatch(text):
        raise RoundlingError(
            asked=f"“{text[:24]}” was given as {what} in 10 cm.",
            why="It is not a number written in figures.",
            nearest="Write a number such as 24 or 24.5.",
            field=f"{prefix}{what}",
        )
    return float(text.replace(",", "."))


def _at(error: RoundlingError, name: str) -> RoundlingError:
    return RoundlingError(asked=error.asked, why=error.why, nearest=error.nearest, field=name)


def _counted(count: float) -> str:
    """A count of a swatch as it is written in its box."""
    return f"{count:.4f}".rstrip("0").rstrip(".")
