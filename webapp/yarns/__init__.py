"""Yarn, gauge, hooks, the trade's words and its units: what every other stage measures with.

Imports :mod:`webapp.errors` and nothing else of the project.
Start reading at :mod:`webapp.yarns.gauge`; the eight yarn categories and their usual gauges for
toys are in ``categories``, hook sizes in ``hooks``, US and UK words in ``terms``, cm and inches in
``units``. Each figure says beside it where it comes from and how sure it is.
"""

from webapp.yarns.categories import CATEGORIES, YarnCategory, category
from webapp.yarns.gauge import Gauge, Swatch, swatch_gauge
from webapp.yarns.hooks import HOOKS, STITCH_PER_HOOK, Hook, hook_for
from webapp.yarns.terms import US_TO_UK, Terms, TermSet, term_set
from webapp.yarns.units import GRAMS_PER_OUNCE, METRES_PER_YARD, MM_PER_INCH, LengthUnit

__all__ = [
    "CATEGORIES",
    "GRAMS_PER_OUNCE",
    "HOOKS",
    "METRES_PER_YARD",
    "MM_PER_INCH",
    "STITCH_PER_HOOK",
    "US_TO_UK",
    "Gauge",
    "Hook",
    "LengthUnit",
    "Swatch",
    "TermSet",
    "Terms",
    "YarnCategory",
    "category",
    "hook_for",
    "swatch_gauge",
    "term_set",
]
