"""What a remark is about, told from its words."""

from __future__ import annotations

import re
from functools import cache

from webapp.reading.model import RemarkKind
from webapp.terms import Language, term_table

CONCEPTS = (
    (RemarkKind.EYES, "about_eyes"),
    (RemarkKind.STUFF, "about_stuffing"),
    (RemarkKind.END, "about_ending"),
    (RemarkKind.SEW, "about_sewing"),
    (RemarkKind.COLOUR, "about_colour"),
)


def remark_kind(text: str, language: Language) -> RemarkKind:
    """What it is about: the first of these whose words it holds."""
    for kind, pattern in _patterns(language):
        if pattern.search(text):
            return kind
    return RemarkKind.OTHER


@cache
def _patterns(language: Language) -> tuple[tuple[RemarkKind, re.Pattern[str]], ...]:
    table = term_table(language)
    before = r"(?<!\w)" if table.spaced else ""
    begun = _begun if table.spaced else re.escape
    return tuple(
        (kind, re.compile(f"{before}(?:" + "|".join(map(begun, words)) + ")", re.IGNORECASE))
        for kind, concept in CONCEPTS
        if (words := table.forms.get(concept))
    )


def _begun(form: str) -> str:
    """The beginning of a word; of a short one all of it."""
    whole = len(form) < 3 and form[-1].isalpha()
    return re.escape(form) + (r"(?!\w)" if whole else "")


def stays_open(text: str, language: Language, few: bool) -> bool:
    """Whether the words at the end of a part leave an end to sew it on by, and close nothing.

    A part that ends on ``few`` stitches must also be stuffed after that: many close without a word.
    """
    forms = term_table(language).forms
    low = text.lower()
    if any(word in low for word in forms.get("about_closing", ())):
        return False
    tails = [at for word in forms.get("about_tail", ()) if (at := low.find(word)) >= 0]
    fills = [low.rfind(word) for word in forms.get("about_stuffing", ())]
    return bool(tails) and (not few or max(fills, default=-1) > min(tails))
