"""What the grading sheet shows: one design over yarn weights and finished heights."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from webapp.errors import RoundlingError
from webapp.materials import rounded
from webapp.pattern import pattern_text
from webapp.way import Toy
from webapp.web.addresses import Addressed, brief, design_at, make
from webapp.web.downloads import stem
from webapp.web.fields import HEIGHTS, SWATCH, height_name, shown
from webapp.web.figures import length_text
from webapp.web.toys import Workshop
from webapp.yarns import CATEGORIES

MOST = 40
"""Rows of a sheet; each is a toy worked out."""

OWN = ("yarns", "sizes")
"""Parameters of the sheet itself; the others are the design's."""

SEPARATORS = re.compile(r"[\s,;]+")
FIRST_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest that an archive can hold, for every file: the same design gives the same bytes."""


@dataclass(frozen=True)
class Graded:
    """One row: the yarn and size asked for, and the toy, or why there is none."""

    yarn: str
    size: str
    addressed: Addressed
    toy: Toy | None
    problem: RoundlingError | None

    @property
    def yarn_name(self) -> str:
        known = re.fullmatch("[0-7]", self.yarn)
        return f"{CATEGORIES[int(self.yarn)].name} ({self.yarn})" if known else brief(self.yarn)

    @property
    def size_asked(self) -> str:
        unread = self.addressed.reading.problems
        return f"{brief(self.size) if unread else self.size} {self.unit}"

    @property
    def unit(self) -> str:
        return self.addressed.reading.design.unit.value

    @property
    def made(self) -> Toy:
        assert self.toy is not None
        return self.toy

    @property
    def height(self) -> str:
        return length_text(self.made.worked.design.unit, self.made.worked.size.height_mm)

    @property
    def width(self) -> str:
        return length_text(self.made.worked.design.unit, self.made.worked.size.width_mm)

    @property
    def gauge(self) -> str:
        own = "own swatch, " if self.made.worked.design.from_swatch else ""
        return f"{own}{self.made.materials.hook.mm:g} mm hook"

    @property
    def yarns(self) -> list[str]:
        colours = self.made.worked.recipe.colours
        return [
            f"{colours[n.colour].name} {rounded(n.metres.value)} m, {n.balls} × {n.ball_grams} g"
            for n in self.made.materials.yarns
        ]

    @property
    def eyes(self) -> str:
        eyes = self.made.materials.eyes
        if eyes is None:
            return "none"
        return f"{eyes.stock_mm} mm" if eyes.stock_mm else "embroidered"

    @property
    def hours(self) -> str:
        return f"{self.made.materials.hours.value:.1f}"

    @property
    def file(self) -> str:
        """The name of its pattern in the archive."""
        return f"{stem(self.addressed.recipe)}-yarn{self.yarn}-{self.size}{self.unit}-pattern.txt"


@dataclass(frozen=True)
class Sheet:
    """A design and its rows, what was chosen, and what was wrong with the whole of it."""

    addressed: Addressed
    yarns: tuple[str, ...]
    sizes: tuple[str, ...]
    rows: tuple[Graded, ...]
    problem: RoundlingError | None

    @property
    def status(self) -> int:
        """400 for what cannot be read; a row whose toy cannot be made says so and is no error."""
        readable = self.problem is None and not any(
            row.addressed.reading.problems for row in self.rows
        )
        return 200 if readable else 400

    @property
    def any_made(self) -> bool:
        return any(row.toy for row in self.rows)

    @property
    def kept(self) -> dict[str, str]:
        """The design's values, which the form carries along."""
        return self.addressed.values

    @property
    def sizes_text(self) -> str:
        return ", ".join(self.sizes)

    @property
    def values(self) -> dict[str, str]:
        """The values of the address of this sheet."""
        chosen = {"yarns": ",".join(self.yarns), "sizes": ",".join(self.sizes)}
        return {**self.addressed.values, **chosen}

    @property
    def drops_swatch(self) -> bool:
        """Whether some row does without the design's own swatch."""
        design = self.addressed.reading.design
        return design.from_swatch and any(y != str(design.category.number) for y in self.yarns)


def grade(workshop: Workshop, toy: str, values: Mapping[str, Sequence[str]]) -> Sheet | None:
    """The sheet of an address: ``yarns`` and ``sizes`` (in the design's unit) beside the design's
    own values; without them the design's own yarn and height. None for a toy that is not known."""
    own = {name: texts for name, texts in values.items() if name not in OWN}
    addressed = design_at(workshop, toy, own)
    if addressed is None:
        return None
    design = addressed.reading.design
    yarns = _list(values.get("yarns", ())) or (str(design.category.number),)
    own_height = _own_height(workshop, addressed)
    sizes = _list(values.get("sizes", ())) or (own_height,)
    problem = next(iter(addressed.reading.problems.values()), None)
    if problem is None and len(yarns) * len(sizes) > MOST:
        problem = RoundlingError(
            asked=f"{len(yarns)} yarns in {len(sizes)} sizes were asked for.",
            why=f"That is {len(yarns) * len(sizes)} toys, and a sheet has at most {MOST} rows.",
            nearest=f"With {len(yarns)} yarns it can have {MOST // len(yarns)} sizes."
            if len(yarns) <= MOST
            else f"Choose {MOST} at most.",
            field="sizes",
        )
    rows = () if problem else tuple(
        _row(workshop, addressed, yarn, size, own_height) for yarn in yarns for size in sizes
    )
    return Sheet(addressed, yarns, sizes, rows, problem)


def _list(texts: Iterable[str]) -> tuple[str, ...]:
    """The words of a list, each once: of several values, and of one with commas."""
    return tuple(dict.fromkeys(w for text in texts for w in SEPARATORS.split(text) if w))


def _own_height(workshop: Workshop, addressed: Addressed) -> str:
    """The design's height as a size of the sheet: where it follows what is held, that height."""
    design = addressed.reading.design
    if design.held or design.let_go:
        with suppress(RoundlingError):
            design = make(workshop, addressed).worked.design
    return shown(design.unit.from_mm(design.sliders["height"]))


def _row(workshop: Workshop, of: Addressed, yarn: str, size: str, own_height: str) -> Graded:
    """A swatch is of one yarn: rows in another have the usual gauge of theirs. In the design's own
    height what is held stays as it is; another height is met or refused."""
    design = of.reading.design
    values = {k: v for k, v in of.values.items() if k != "yarn"}
    if yarn != str(design.category.number):
        values = {k: v for k, v in values.items() if k not in (*SWATCH, "swatch_over")}
    values |= {"yarn": yarn}
    if size == own_height:
        row = Graded(yarn, size, of.having(values), None, None)
    else:
        values = {k: v for k, v in values.items() if k not in HEIGHTS}
        values |= {height_name(design.unit): size}
        row = Graded(yarn, size, of.meeting(values, "height"), None, None)
    for problem in row.addressed.reading.problems.values():
        return replace(row, problem=problem)
    try:
        return replace(row, toy=make(workshop, row.addressed))
    except RoundlingError as error:
        return replace(row, problem=error)


def archive(sheet: Sheet) -> bytes:
    """All patterns of a sheet and a summary as one archive: the same design, the same bytes."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as files:
        _put(files, "summary.txt", summary(sheet))
        for row in sheet.rows:
            if row.toy is not None:
                toy = row.toy
                _put(files, row.file, pattern_text(toy.worked, toy.materials, toy.cautions))
    return packed.getvalue()


def _put(files: zipfile.ZipFile, name: str, text: str) -> None:
    entry = zipfile.ZipInfo(name, FIRST_DATE)
    entry.compress_type = zipfile.ZIP_DEFLATED
    entry.create_system = 3
    entry.external_attr = 0o644 << 16
    files.writestr(entry, text.encode())


def summary(sheet: Sheet) -> str:
    """The rows as text, with the file of each."""
    recipe = sheet.addressed.recipe
    blocks = [f"{recipe.name.upper()}\nOne design in {len(sheet.rows)} yarns and sizes."]
    for row in sheet.rows:
        title = f"{row.yarn_name}, {row.size} {row.unit}"
        if row.toy is None:
            blocks.append(f"{title}: cannot be made.\n{row.problem}")
            continue
        blocks.append(
            "\n".join(
                (
                    f"{title}: {row.file}",
                    f"Finished: {row.height} tall, {row.width} wide",
                    f"Stitches: {row.toy.materials.stitches:,}; hours: about {row.hours}",
                    f"Hook: {row.gauge}",
                    *(f"Yarn: {yarn}" for yarn in row.yarns),
                    f"Eyes: {row.eyes}",
                )
            )
        )
    return "\n\n".join(blocks) + "\n"
