"""The eight yarn categories, with the gauge that is usual for toys in each.

A ball band gives the gauge of garments. A toy is worked tighter, so that no filling shows: its
gauge has more stitches than the band's in every category.
"""

from __future__ import annotations

from dataclasses import dataclass

from webapp.errors import RoundlingError
from webapp.yarns.gauge import Gauge
from webapp.yarns.units import MM_PER_INCH

DRAWN_SHARE = 0.6
"""Thickness of a yarn in the fabric over that of a loosely wound wrap: common practice, no
source."""


@dataclass(frozen=True)
class YarnCategory:
    """One category of the Craft Yarn Council's yarn weight system (``number``, 0 to 7).

    ``band_sc_per_4in`` and ``band_hook_mm`` are what ball bands say, from low to high, None at an
    open end; the former is None altogether where bands do not count single crochet, and
    ``band_note`` says what is unusual about them. ``toy_gauge`` and ``toy_hook_mm`` are what is
    usual for toys. ``source`` says where the row comes from and how sure it is.
    """

    number: int
    name: str
    types_named: tuple[str, ...]
    band_sc_per_4in: tuple[int | None, int] | None
    band_note: str
    band_hook_mm: tuple[float, float | None]
    wraps_per_inch: tuple[float, float]
    metres_per_100g_cotton: float
    metres_per_100g_wool: float
    toy_gauge: Gauge
    toy_hook_mm: tuple[float, float]
    source: str

    @property
    def diameter_mm(self) -> float:
        """Thickness of the yarn as it lies in the fabric, mm; an estimate."""
        return DRAWN_SHARE * MM_PER_INCH * 2.0 / sum(self.wraps_per_inch)


_AGREED = (
    "Band: Craft Yarn Council yarn weight system, row as reproduced alike by 222handspun.com, "
    "crochetonatrain.com and a magazine of 2018."
)
_VARIES = (
    "Band: Craft Yarn Council yarn weight system, row as reproduced by a yarn shop's guide and "
    "crochetnerd.com; 222handspun.com and a magazine of 2018 have"
)
_WRAPS = "Wraps per inch: Colourspun, 2011."
_METRES = (
    "Metres per 100 g: wool within a UK shop's conversion chart, cotton shorter for the same "
    "thickness; common practice, no source."
)
_TOY = "Toy gauge and hook: common practice, no source."

CATEGORIES: tuple[YarnCategory, ...] = (
    YarnCategory(
        number=0,
        name="Lace",
        types_named=("fingering", "10-count crochet thread"),
        band_sc_per_4in=None,
        band_note="32 to 42 double crochet in 4 in; 1.4 to 1.6 mm are steel hooks",
        band_hook_mm=(1.4, 2.25),
        wraps_per_inch=(18, 34),
        metres_per_100g_cotton=560,
        metres_per_100g_wool=700,
        toy_gauge=Gauge.per_10cm(52, 54),
        toy_hook_mm=(1.0, 1.5),
        source=f"{_AGREED} Wraps per inch: Colourspun, 2011, has 18 and more; closed at 34, "
        f"which makes it about 0.3 of a stitch like the others, derived. {_METRES} Toy gauge: "
        "1.5 times a hook of 1.25 to 1.3 mm, derived; hook: common practice, no source.",
    ),
    YarnCategory(
        number=1,
        name="Super Fine",
        types_named=("sock", "fingering", "baby"),
        band_sc_per_4in=(21, 32),
        band_note="",
        band_hook_mm=(2.25, 3.5),
        wraps_per_inch=(14, 18),
        metres_per_100g_cotton=350,
        metres_per_100g_wool=400,
        toy_gauge=Gauge.per_10cm(33, 35),
        toy_hook_mm=(1.75, 2.25),
        source=f"{_AGREED} {_WRAPS} {_METRES} {_TOY}",
    ),
    YarnCategory(
        number=2,
        name="Fine",
        types_named=("sport", "baby"),
        band_sc_per_4in=(16, 20),
        band_note="",
        band_hook_mm=(3.5, 4.5),
        wraps_per_inch=(12, 14),
        metres_per_100g_cotton=270,
        metres_per_100g_wool=300,
        toy_gauge=Gauge.per_10cm(27, 29),
        toy_hook_mm=(2.0, 2.5),
        source=f"{_AGREED} {_WRAPS} {_METRES} {_TOY}",
    ),
    YarnCategory(
        number=3,
        name="Light",
        types_named=("DK", "light worsted"),
        band_sc_per_4in=(12, 17),
        band_note="",
        band_hook_mm=(4.5, 5.5),
        wraps_per_inch=(11, 12),
        metres_per_100g_cotton=240,
        metres_per_100g_wool=240,
        toy_gauge=Gauge.per_10cm(24, 25),
        toy_hook_mm=(2.5, 3.0),
        source=f"{_AGREED} {_WRAPS} {_METRES} {_TOY}",
    ),
    YarnCategory(
        number=4,
        name="Medium",
        types_named=("worsted", "afghan", "aran"),
        band_sc_per_4in=(11, 14),
        band_note="",
        band_hook_mm=(5.5, 6.5),
        wraps_per_inch=(8, 11),
        metres_per_100g_cotton=168,
        metres_per_100g_wool=190,
        toy_gauge=Gauge.per_10cm(18.8, 19.7),
        toy_hook_mm=(3.25, 4.0),
        source=f"{_AGREED} {_WRAPS} {_METRES} Toy gauge: a toy book's disc of 5 rounds and 30 "
        "stitches, 2 in across at a 3.5 mm hook, as quoted in a blog of 2012, derived; hook: "
        "common practice, no source.",
    ),
    YarnCategory(
        number=5,
        name="Bulky",
        types_named=("chunky", "craft", "rug"),
        band_sc_per_4in=(8, 11),
        band_note="",
        band_hook_mm=(6.5, 9.0),
        wraps_per_inch=(7, 8),
        metres_per_100g_cotton=100,
        metres_per_100g_wool=110,
        toy_gauge=Gauge.per_10cm(12.5, 13.5),
        toy_hook_mm=(5.0, 6.0),
        source=f"{_AGREED} {_WRAPS} {_METRES} {_TOY}",
    ),
    YarnCategory(
        number=6,
        name="Super Bulky",
        types_named=("super bulky", "roving"),
        band_sc_per_4in=(7, 9),
        band_note="some copies say 6 to 9, and hooks up to 16 mm",
        band_hook_mm=(9.0, 15.0),
        wraps_per_inch=(5, 6),
        metres_per_100g_cotton=65,
        metres_per_100g_wool=70,
        toy_gauge=Gauge.per_10cm(9.5, 10.5),
        toy_hook_mm=(6.5, 8.0),
        source=f"{_VARIES} 6 to 9 and hooks of 9 to 16 mm. {_WRAPS} {_METRES} {_TOY}",
    ),
    YarnCategory(
        number=7,
        name="Jumbo",
        types_named=("jumbo", "roving"),
        band_sc_per_4in=(None, 6),
        band_note="6 and fewer, 15 mm and larger; some copies say 5 and fewer, 16 mm and larger",
        band_hook_mm=(15.0, None),
        wraps_per_inch=(2, 4),
        metres_per_100g_cotton=30,
        metres_per_100g_wool=30,
        toy_gauge=Gauge.per_10cm(6.3, 6.9),
        toy_hook_mm=(10.0, 12.0),
        source=f"{_VARIES} 5 and fewer and hooks of 16 mm and larger. Wraps per inch: "
        "Pardon My Stash has 4 and fewer; closed at 2, common practice, no source. "
        f"{_METRES} {_TOY}",
    ),
)
"""By number."""


def category(number: int) -> YarnCategory:
    """The category of that number; raises :class:`RoundlingError`, field ``yarn``."""
    first, last = CATEGORIES[0], CATEGORIES[-1]
    if first.number <= number <= last.number:
        return CATEGORIES[number]
    nearest = first if number < first.number else last
    raise RoundlingError(
        asked=f"Yarn category {number} was asked for.",
        why=f"Categories run from {first.number} ({first.name}) to {last.number} ({last.name}).",
        nearest=f"The nearest is {nearest.number} ({nearest.name}).",
        field="yarn",
    )
