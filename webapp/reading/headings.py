"""Headings: of parts (with how many are made), and of sections that are no parts.

A heading is strong when its form alone says so (capitals, ``#``, ``**``, a number of copies), weak
when it is a short line that may also be a remark: then what follows it decides.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum

from webapp.reading import unspaced
from webapp.reading.copies import split_copies
from webapp.reading.vocabulary import Vocabulary

LONGEST = 90
"""Characters of the longest line that can be a heading."""
LONGEST_SAID = 12
"""Words that may be said of a part behind its name in capitals and a colon."""


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
_EDGE = re.compile(r"^[^\w]+|[^\w.!?)\]'\"&+-]+$|[\s-]+$")
_STEP = re.compile(
    r"^(?:step|part|schritt|teil|étape|paso|passo|stap|trinn?|steg)\s?\d{1,2}\s?[:.)-]\s*", re.I
)
"""``STEP 1:`` in front of a heading."""
_NUMBERED = re.compile(
    r"^(?:\d{1,2}|[IVX]{1,4}|[A-Ha-h])[.)]\s{1,3}"
    r"(?=[^\W\d](?:[^,;()]|\([^()]*\)){0,60}$)(?!.*:\s*\w)"
)
"""``2.`` or ``B)`` in front of a heading that names a part, and not of a step of sewing."""
_NOTED = re.compile(r"^[^\W\d_][^()\d]{0,30}\s?\([^()]{1,50}\)$")


def heading(text: str, words: Vocabulary) -> Heading | None:
    """The heading a line is, if it can be one."""
    boxed = False
    if not words.spaced:
        text, boxed = unspaced.titled(text)
        if not text:
            return None
    if len(text) > LONGEST or text[0] in "([" or "...." in text:
        return None
    bare, marked = _unmarked(text)
    marked = marked or boxed
    bare = _STEP.sub("", bare)
    numbered = _NUMBERED.match(bare) if words.spaced else None
    if numbered and words.part_noun.search(bare.lower(), numbered.end()):
        bare = bare[numbered.end() :]
    title, copies = split_copies(bare, words)
    colon = title.endswith(":") or bare.endswith(":")
    title = _EDGE.sub("", title)
    if words.one_piece is not None:
        title = words.one_piece.sub("", title).strip()
    low = title.lower()
    if not low or not low[0].isalpha():
        return None
    if words.pattern_section.fullmatch(low):
        return Heading(title, copies, Strength.PATTERN, noun=False)
    if words.section.fullmatch(low):
        return Heading(title, copies, Strength.SECTION, noun=False)
    noun = bool(words.part_noun.search(low))
    if _explains((bare if copies is None else title).lower(), words):
        return None
    sure = marked or copies is not None
    if ":" in title and words.section.fullmatch(low.partition(":")[0].strip()):
        return None
    named, colon_within, rest = title.partition(":")
    if colon_within and noun and _names_part(named, rest, words):
        strength = Strength.STRONG if sure else Strength.WEAK
        return Heading(named.strip(), copies, strength, noun=True)
    if colon_within and noun and named.isupper() and _is_said_of_it(named, rest, words):
        return Heading(named.strip(), copies, Strength.WEAK, noun=True)
    if ":" in title and not marked:
        return None
    if not sure and title.endswith("."):
        # `Body.` alone on its line; more words are a sentence.
        if len(_LETTERS.findall(title)) > (2 if noun else 1) or not title[0].isupper():
            return None
        title, low = title[:-1], low[:-1]
    if not sure and title.endswith((".", "!", "?")):
        return None
    if _is_other(low, noun, sure, words):
        return None
    if not (words.spaced or sure) and unspaced.is_sentence(bare.lower(), noun):
        return None
    count = len(_LETTERS.findall(title))
    capitals = title.isupper() and len(title) > 2
    if count > 8 or (count > 5 and not (sure or capitals)):
        return None
    if words.colour.fullmatch(low) and not marked:
        return Heading(title, copies, Strength.WEAK, noun=False) if colon else None
    if sure or capitals:
        return Heading(title, copies, Strength.STRONG, noun)
    noted = count <= 3 and bool(_NOTED.match(bare))
    if title[0].isupper() or colon or noted or (noun and count <= 4):
        return Heading(title, copies, Strength.WEAK, noun and count <= 4)
    return None


def _names_part(named: str, rest: str, words: Vocabulary) -> bool:
    """Whether a part is named and a few words are said of it (``Body: in grey``)."""
    return (
        bool(words.part_noun.search(named.lower()))
        and len(_LETTERS.findall(named)) <= 3
        and len(_LETTERS.findall(rest)) <= 4
        and not any(character.isdecimal() for character in rest)
        and not words.stitch.search(rest.lower())
    )


def _is_said_of_it(named: str, rest: str, words: Vocabulary) -> bool:
    """Whether a part is named in capitals and a sentence without stitches is said of it
    (``FACE: pick up from the inside of the hat in grey``)."""
    return (
        words.part_noun.search(named.lower()) is not None
        and len(_LETTERS.findall(named)) <= 3
        and len(_LETTERS.findall(rest)) <= LONGEST_SAID
        and not any(character.isdecimal() for character in rest)
        and not words.stitch.search(rest.lower())
    )


def _unmarked(text: str) -> tuple[str, bool]:
    """A line without marks of a heading (``#``, ``**``), and whether it had any."""
    bare = _MARKS.sub("", text)
    marked = len(bare) < len(text) and (
        text[0] in "#=_~" or text.startswith("**") or text.endswith(text[0])
    )
    return _MARKS_END.sub("", bare).strip(), marked


def _explains(low: str, words: Vocabulary) -> bool:
    """Whether it says what a sign means (``( ) x 6 = repeat 6 times``), or names stitches behind a
    comma (``For the fringe, sl st into the cap, 10 times``)."""
    before, equals, _ = low.partition(" = ")
    _, comma, behind = low.partition(",")
    if equals and not words.part_noun.search(before):
        return True
    return bool(comma and words.stitch.search(behind))


def _is_other(low: str, noun: bool, sure: bool, words: Vocabulary) -> bool:
    """Whether a line is work, or a remark."""
    if words.stitch.search(low) or (words.ring.search(low) and not (noun and sure)):
        return True
    if not words.remark_start.match(low):
        return False
    number = len(_LETTERS.findall(low))
    if number == 2 and low.split()[0] in words.the:
        return False
    return not noun or number > (5 if sure else 2)
