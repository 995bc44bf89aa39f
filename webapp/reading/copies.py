"""How many copies of a part its heading says are made: ``(make 2)``, ``x2``, ``2 Stück``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from webapp.reading import unspaced
from webapp.reading.vocabulary import Vocabulary, either, vocabulary
from webapp.terms import Language, term_table

MOST = 60
_STEM = 4
"""Letters by which a name is known, whatever its ending: `leg` in `Legs`."""
_NOTE = re.compile(r"\s*[(\[]([^()\[\]]{0,80})[)\]]\s*")
_FIRST = re.compile(r"(\w{1,8})\s?,")
_ASIDE = re.compile(r"(?<=[^\W_])(?: {2,4}| - | ?\| ?)(?=[^\W_])")
_LETTERS = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True)
class _Forms:
    note: re.Pattern[str]
    end: re.Pattern[str]
    start: re.Pattern[str]
    several: re.Pattern[str]
    coloured: re.Pattern[str]
    sentence: re.Pattern[str]


@cache
def _forms(language: Language) -> _Forms:
    words = vocabulary(language)
    if not words.spaced:
        return _Forms(**unspaced.copy_patterns(term_table(language)))
    # A number in words does not begin within a word: `Stein` is no `St. ein`.
    n = rf"(\d{{1,2}}|(?<![^\W\d_])(?:{either(words.numbers)}))"
    make = rf"(?:{words.copies.pattern})"
    kind = rf"{n}(?:\s[^\W\d_]{{2,12}}){{1,3}}?"
    both = rf"(?:\s?(?:,|&|\+)\s?|\s(?:{words.both_words})\s)"
    return _Forms(
        note=re.compile(
            rf"(?:^|[,;]\s?)(?:(?:{make}\s?:?\s?){{1,2}}{n}|{n}\s?(?:[x*]|{make})(?:\s{make}){{0,2}}"
            rf"|[x*]\s?{n})(?![^\W_])"
        ),
        end=re.compile(
            rf"(?:(?:^|[,:;\s-]\s?){make}\s{{0,2}}:?\s{{0,2}}{n}(?:\s{make})?"
            rf"|(?:^|\s)[x*]\s?{n}(?:\sw/.{{0,30}})?"
            rf"|(?:^|\s){n}\s?[x*]\s(?:{words.colour.pattern})|(?:^|[\s,-]){n}\s?(?:[x*]|{make})(?:\s{make})?)\s?\.?:?$"
        ),
        start=re.compile(
            rf"^(?:{n}\s?x\s|{make}\s{n}\s(?:(?:{either(words.the)})\s){{0,2}})(?=[^\W\d_])"
        ),
        coloured=re.compile(rf"^{n}\s(?:[^\W\d_]{{1,5}}\s)?(?:{words.colour.pattern})$"),
        several=re.compile(
            rf"(?:{make}\s)?{kind}{both}(?:{make}\s)?{kind}(?:{both}(?:{make}\s)?{kind})?"
            r"(?:\s[^\W\d_]{2,12}){0,4}(?:,.*)?"
        ),
        sentence=re.compile(rf"(?:^|[.;!]\s)(?:{words.copies_said})\s{n}(?:\sof\s(?:these|them))?\s?(?=[.!]|$)"),
    )


def split_copies(text: str, words: Vocabulary) -> tuple[str, int | None]:
    """A heading's words without its notes and its number of copies, and that number if it says
    one. What follows a comma is a note too (``Wings (2), with A``), unless it names a part."""
    forms = _forms(words.language)
    copies: int | None = None
    if not words.spaced:
        text, copies = unspaced.paired(text)

    def said(match: re.Match[str] | None) -> bool:
        nonlocal copies
        if match is None or copies is not None:
            return False
        number = number_of(match[match.lastindex or 1], words)
        if number is None or not 1 <= number <= MOST:
            return False
        copies = number
        return True

    for note in _NOTE.finditer(text):
        inside = note[1].strip().lower()
        kinds = _kinds(inside, words)
        if kinds is not None:
            copies = copies or kinds
            continue
        first = _FIRST.match(inside)
        number = number_of(first[1] if first else inside, words)
        if number is not None:
            copies = copies or number
        else:
            said(forms.note.search(inside) or forms.coloured.search(inside))
    head, comma, tail = _ASIDE.sub(",", _NOTE.sub(" ", text).strip(), count=1).partition(",")
    low = tail.strip().rstrip(":").lower()
    alone = number_of(low, words) if comma and copies is None else None
    if alone is not None and 1 <= alone <= MOST:
        copies, comma, tail = alone, "", ""
    if comma and said(forms.end.search(low) or forms.note.search(low)):
        tail = ""
    if comma and words.part_noun.search(low) and len(_LETTERS.findall(low)) <= 3:
        head += comma + tail
    elif comma and text.rstrip().endswith(":") and not head.endswith(":"):
        head += ":"
    for pattern in (forms.end, forms.start):
        match = pattern.search(head.rstrip().lower())
        if match and pattern is forms.start and not words.part_noun.search(head.lower()):
            continue
        if match and said(match):
            head = head[: match.start()] + head.rstrip()[match.end() :]
    return head.strip(), copies


def _kinds(note: str, words: Vocabulary) -> int | None:
    """`make one in red, one in green`, `2 big and 2 small`: all of them together."""
    found = _forms(words.language).several.fullmatch(note)
    numbers = [number_of(said, words) for said in found.groups() if said] if found else []
    if len(numbers) < 2 or not all(numbers):
        return None
    total = sum(number or 0 for number in numbers)
    return total if total <= MOST else None


def copies_in(remark: str, words: Vocabulary) -> int | None:
    """The copies a sentence among other words gives: `... makes a curl. I do eight.`"""
    found = _forms(words.language).sentence.search(remark.lower())
    number = number_of(found[1], words) if found else None
    return number if number is not None and 1 < number <= MOST else None


def second_alike(remark: str, title: str, words: Vocabulary) -> bool:
    """Whether a sentence says that a second one is made like the one told: `Make the second leg
    the same way.`, `Work a second leg.` It names it as the title does."""
    found = words.second_alike.search(remark.lower()) if words.spaced else None
    if found is None or found["noun"][:_STEM] not in title.lower():
        return False
    return bool(found["work"] or found["alike"])


def copies_alone(text: str, words: Vocabulary) -> int | None:
    """The copies a line gives that says nothing else (``Make 4.``, ``2 Stück``, ``(2 pcs)``)."""
    if not words.spaced and unspaced.titled(text)[1]:
        return None
    if len(text) > 30 or number_of(text.strip("()[] ").lower(), words) is not None:
        return None
    if words.stitch.search(text.lower()):
        return None
    rest, copies = split_copies(text, words)
    if copies is None or _LETTERS.search(rest) or re.search(r"\d", rest):
        return None
    return copies


def number_of(word: str, words: Vocabulary) -> int | None:
    """A number in figures, of two at most, or in words."""
    return int(word) if word.isdecimal() and len(word) < 3 else words.numbers.get(word)
