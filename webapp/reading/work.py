"""Whether a stretch of text can be the words of a round, and what it says of rounds.

Everything here is for text in small letters; ``start`` and ``end`` bound the stretch.
"""

from __future__ import annotations

import re

from webapp.reading.vocabulary import Vocabulary

COUNT_ALONE = re.compile(
    r"[=(\[{<>\s-]{0,6}\d{1,3}\s?[^\W\d_]{0,12}\.?\s?[)\]}.>]{1,3}$"
    r"|=\s?\d{1,3}\s?[^\W\d_]{0,12}\.?$"
)
"""A line that is a count and nothing else: ``(18)``, ``[18 sts]``, ``= 18``."""

COUNT_END = re.compile(
    r"(?:[(\[{]\s{0,2}=?\s?\d{1,3}[^()\[\]{}\n]{0,16}[)\]}]"
    r"|(?:=|->|\s-{1,2})\s?\(?\d{1,3}\s?[^\W\d_]{0,9}\)?)[.,;*]{0,2}$"
)
"""A count at the end of a line."""

NUMBERS = re.compile(r"\d{1,3}\s?(?:$|[(\[={,]|in(?![^\W_]))")
"""A number of stitches without their word: ``24 (24)``, ``4, inc, 4``."""

_EXPLAINS = re.compile(r"[\w. ]{1,20}\s?(?:=|:| - )\s?[a-z]")
_STEPS = re.compile(r"\(1\)[^\n]{1,200}\(2\)")
"""Steps that explain something: ``(1) make a loop, (2) work 1 chain``."""
_REPEATED = re.compile(r"[)\]*]\s?[x*]?\s?\d")
_NEAR = 12
"""A ring that begins a piece stands so near to its beginning."""
_CHAIN_WITHIN = 30
"""A chain that begins a piece is named within so many characters."""


def said_rounds(low: str, start: int, end: int, words: Vocabulary) -> int | None:
    """How many rounds the words say they are (``4 rounds``), if two or more."""
    match = words.said_rounds.search(low, start, end)
    if not match or words.every_end.search(low, start, match.start()):
        return None
    number = match[1]
    value = int(number) if number.isdecimal() else words.numbers.get(number, 0)
    return value if value >= 2 else None


def begins(low: str, start: int, end: int, words: Vocabulary) -> bool:
    """Whether the words are those of a start: a magic ring, or two chains or more."""
    if words.ring.search(low, start, end):
        return True
    chain = words.chain.search(low, start, min(end, start + _CHAIN_WITHIN))
    return chain is not None and _figure(chain[0]) >= 2


def can_be_work(low: str, start: int, end: int, words: Vocabulary) -> bool:
    """Whether something stands there that can be the words of a round, behind its label."""
    return bool(
        has_stitches(low, start, end, words)
        or words.repeat.match(low, start, end)
        or COUNT_END.search(low, start, end)
        or _says_around(low, start, end, words)
        or names_part(low, start, end, words)
        or (words.as_round.match(low, start, end) is not None)
        or keeps_on(low, start, end, words)
        or (not words.spaced and words.count_alone.match(low, start, end) is not None)
    )


def _says_around(low: str, start: int, end: int, words: Vocabulary) -> bool:
    """`even`, `plain all round`: it begins with that, or hardly says more. `are in stripes, one
    each` is no round."""
    found = words.around.search(low, start, end)
    return found is not None and len(low[start : found.start()].split()) < 3


def has_stitches(low: str, start: int, end: int, words: Vocabulary) -> bool:
    """Whether stitches are named, or a ring to work them into."""
    return bool(words.stitch.search(low, start, end) or words.ring.search(low, start, end))


def is_work(low: str, start: int, end: int, words: Vocabulary) -> bool:
    """Whether a line without any label is work, and no remark."""
    if _STEPS.search(low, start, end) or low.count(" = ", start, end) > 1:
        return False
    if names_part(low, start, end, words) or keeps_on(low, start, end, words):
        return True
    counted = bool(COUNT_END.search(low, start, end))
    stitch = words.stitch.search(low, start, end)
    ring = words.ring.search(low, start, end)
    if (counted or stitch) and words.said_rounds.match(low, start, end):
        return True
    chain = words.chain.match(low, start, end)
    repeated = bool(_REPEATED.search(low, start, end))
    if chain and (repeated or not words.finish.search(low, start, end)):
        return _figure(chain[0]) >= 2
    if words.repeat.match(low, start, end):
        return bool(words.round_word.search(low, start, end))
    lead = bool(words.remark_start.match(low, start, end))
    if not words.spaced:
        # Its sentences say no more where they begin: those of rounds end with their count.
        begun = ring is not None and ring.start() - start <= _NEAR and not lead
        figures = any(character.isdecimal() for character in low[start:end])
        return bool((counted and stitch) or (begun and figures))
    if not stitch and not ring:
        said = words.said_rounds.search(low, start, end)
        if said and words.even.search(low, start, end):
            return True
        return bool((counted or (said and not lead)) and words.all_round.search(low, start, end))
    if _EXPLAINS.match(low, start, end) and not counted:
        return False
    starts = bool(words.work_start.match(low, start, end))
    remark = (lead and not starts) or words.finish.search(low, start, end)
    if remark and not counted:
        return False
    if ring:
        return any(character.isdecimal() for character in low[start:end])
    if starts:
        return counted or bool(words.around.search(low, start, end)) or "," in low[start:end]
    return counted or repeated


def names_part(low: str, start: int, end: int, words: Vocabulary) -> bool:
    """Whether it says that a piece is worked as another: `Same as left arm`."""
    found = words.as_part.match(low, start, end) or words.part_of.match(low, start, end)
    if found is None:
        return False
    near = min(end, found.end() + 40)
    if words.part_end.search(low, found.end(), near):
        return True
    # `Same as left feeler`: two words say so of any piece, one may be the beginning of anything.
    sure = " " in found[0].strip() and found.end() < end
    return sure and not words.round_word.search(low, found.end(), near)


def keeps_on(low: str, start: int, end: int, words: Vocabulary) -> bool:
    """Whether it says to go on until there are so many stitches."""
    return words.keep_on.match(low, start, end) is not None


def _figure(said: str) -> int:
    return int("".join(filter(str.isdecimal, said)))
