"""From a text to its sheet: parts with their lines, remarks, title, gauge, language.

:func:`read_sheet` goes the way: characters are made plain, the language told, lines told apart,
and headings, numbers that start again and words of a start cut the lines into parts.
"""

from __future__ import annotations

from dataclasses import replace

from webapp.reading.gauges import find_gauge
from webapp.reading.grouping import grouped
from webapp.reading.languages import tell_language
from webapp.reading.limits import check_text
from webapp.reading.lines import items
from webapp.reading.sheet import Sheet
from webapp.reading.typography import ORDINARY, clean
from webapp.reading.vocabulary import vocabulary
from webapp.terms import Language


def read_sheet(text: str, language: Language | None = None) -> Sheet:
    """The sheet of a text, by the words of ``language`` if it is given, else of its own.

    Raises :class:`RoundlingError` for what is too long or no text.
    """
    check_text(text)
    cleaned = clean(text)
    language, why = tell_language(cleaned.text, language)
    words = vocabulary(language)
    if not words.spaced:
        told = [s for s in cleaned.slips if not any(usual in s for usual in ORDINARY)]
        cleaned = replace(cleaned, slips=tuple(told))
    found = grouped(cleaned.text, items(cleaned.text, words), words)
    return Sheet(
        clean=cleaned,
        language=language,
        why=why,
        title=found.title,
        gauge=find_gauge(cleaned.text, language),
        remarks=tuple(found.remarks),
        parts=tuple(found.parts),
    )
