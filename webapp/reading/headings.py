"""Headings: of parts (with how many are made), of sections that are no parts, and copies alone.

A heading is strong when its form alone says so (capitals, ``#``, ``**``, a number of copies), weak
when it is a short line that may also be a remark: then what follows it decides.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum

from webapp.reading.vocabulary import Vocabulary

LONGEST = 70
"""Characters of the longest line that can be a heading."""


class Strength(Enum):
    STRONG = "strong"
    WEAK = "weak"
    SECTION = "section"  # materials, sewing ...
    PATTERN = "pattern"  # "Instructions": rounds follow, but it names no part


@dataclass(frozen=True)
class Heading:
    """A heading: its words, how many copies it says (None: it does not say), how sure it is.

    ``noun`` tells whether it names a part a toy has."""

    title: str
    copies: int | None
    strength: Strength
    noun: bool


_MARKS = re.compile(r"^(?:#{1,6}\s*|\*{1,3}\s*|_{1,3}|={2,}\s*|-{2,}\s*|~+\s*|>+\s*|•\s*)+")
_MARKS_END = re.compile(r"(?:\s*#{1,6}|\s*\*{1,3}|_{1,3}|\s*={2,}|\s*-{2,}|\s*~+)+$")
_LETTERS = re.compile(r"[^\W\d_]+")
_EDGE = re.compile(r"^[\s:;,.\-–]+|[\s:;,\-–(\[]+$")


def heading(text: str, words: Vocabulary) -> Heading | None:
    """The heading a line is, if it can be one."""
    if not text or len(text) > LONGEST:
        return None
    bare = _MARKS.sub("", text)
    marked = (
        len(bare) < len(text)
        and not text.startswith(("•", ">"))
        and (text[0] in "#=_~" or text.startswith("**") or text.endswith(text[0]))
    )
    bare = _MARKS_END.sub("", bare).strip()
    if not bare or not _LETTERS.search(bare):
        return None
    title, copies = split_copies(bare, words)
    colon = title.endswith(":") or bare.endswith(":")
    title = _EDGE.sub("", title).strip()
    low = title.lower()
    if not title or low[0].isdigit() or not title[0].isalpha():
        return None
    if ":" in title and not marked and copies is None:
        return None
    if words.pattern_section.fullmatch(low):
        return Heading(title, copies, Strength.PATTERN, noun=False)
    if words.section.fullmatch(low):
        return Heading(title, copies, Strength.SECTION, noun=False)
    if words.stitch.search(low) or (words.ring.search(low) and copies is None):
        return None
    count = len(_LETTERS.findall(title))
    noun = bool(words.part_noun.search(low))
    if words.remark_start.match(low) and not (
        (noun and (marked or copies)) or (count <= 2 and noun)
    ):
        return None
    if title.endswith((".", "!", "?")) and not marked and copies is None:
        return None
    if words.colour.fullmatch(low) and not marked:
        return None
    capitals = title.isupper() and len(title) > 2
    if count > 8 or (count > 5 and not marked and not capitals and copies is None):
        return None
    if marked or capitals or copies is not None:
        return Heading(title, copies, Strength.STRONG, noun)
    if title[0].isupper() or colon or (noun and count <= 2):
        return Heading(title, copies, Strength.WEAK, noun)
    return None


def split_copies(text: str, words: Vocabulary) -> tuple[str, int | None]:
    """A heading's words without its number of copies, and that number if it says one."""
    low = text.lower()
    for pattern in _copy_forms(words):
        match = pattern.search(low)
        if match:
            copies = _number(match["n"], words)
            if copies is not None and 1 <= copies <= 60:
                rest = text[: match.start()].rstrip() + text[match.end() :]
                return rest, copies
    return text, None


def copies_alone(text: str, words: Vocabulary) -> int | None:
    """The copies a line gives that says nothing else (``Make 4.``, ``2 Stück``, ``(2 pcs)``)."""
    if len(text) > 30:
        return None
    rest, copies = split_copies(text, words)
    if copies is None or _LETTERS.search(rest) or re.search(r"\d", rest):
        return None
    return copies


_FORMS: dict[str, tuple[re.Pattern[str], ...]] = {}


def _copy_forms(words: Vocabulary) -> tuple[re.Pattern[str], ...]:
    found = _FORMS.get(words.language.value)
    if found is None:
        figure = (
            r"(?P<n>\d{1,2}|"
            + "|".join(sorted(map(re.escape, words.numbers), key=len, reverse=True))
            + ")"
        )
        make = words.copies.pattern
        found = (
            re.compile(rf"[(\[]\s?(?:{make})?\s?:?\s?{figure}\s?(?:x|×)?\s?(?:{make})?\s?[)\]]"),
            re.compile(
                rf"[(\[]\s?(?:{make})\s?:?\s?{figure}(?![\w])\s?(?P<more>[^()\[\]]{{0,40}})[)\]]"
            ),
            re.compile(
                rf"(?:[,:;-]\s?|^|\s)(?:{make})\s{{1,2}}{figure}(?![\w])\s?(?:{make})?\.?:?$"
            ),
            re.compile(rf"(?:^|\s)[x*]\s?{figure}\s?\.?:?$"),
            re.compile(rf"(?:^|\s){figure}\s?(?:x|\*|×|(?:{make}))\s?\.?:?$"),
            re.compile(rf"^{figure}\s?x\s(?=[^\W\d_])"),
        )
        _FORMS[words.language.value] = found
    return found


def _number(word: str, words: Vocabulary) -> int | None:
    return int(word) if word.isdigit() else words.numbers.get(word)
