"""Cyrillic and Greek letters that look Latin, inside words that are otherwise Latin."""

from __future__ import annotations

import re

_PAIRS = (
    "АA ВB ЕE ЅS ІI ЈJ КK МM НH ОO РP СC ТT УY ХX аa еe оo рp сc уy хx ѕs іi јj ԁd ӏl гr пn тt "
    "кk иu ΑA ΒB ΕE ΖZ ΗH ΙI ΚK ΜM ΝN ΟO ΡP ΤT ΥY ΧX οo νv ρp ιi αa υu κk"
)
_LATIN = str.maketrans({pair[0]: pair[1] for pair in _PAIRS.split(" ")})
_FOREIGN = "\u0370-\u03ff\u0400-\u052f"
_WORD = re.compile(f"[A-Za-z]*[{_FOREIGN}][A-Za-z{_FOREIGN}]*")
_TIMES = re.compile("[хХΧχ]")
_TRADE = frozenset({"sc", "dc", "mr", "mc", "st", "x", "ch", "hdc", "tr", "o", "c", "p", "ss"})
"""What a word of look-alike letters alone can be in a pattern."""


def mend_lookalikes(text: str) -> tuple[str, list[tuple[int, str]]]:
    """The text with such letters Latin, and a sentence for each kind with its first place.

    A word of foreign letters alone stays, but for a sign of times beside a figure or bracket and
    for the shortest trade words: a Russian text is not to become half Latin.
    """
    if text.isascii():
        return text, []
    letters: list[int] = []
    signs: list[int] = []

    def read(match: re.Match[str]) -> str:
        word = match[0]
        new = word.translate(_LATIN)
        if _TIMES.fullmatch(word):
            around = text[max(0, match.start() - 2) : match.end() + 2]
            if any(c.isdigit() or c in "()[]*" for c in around):
                signs.append(match.start())
                return "x"
            return word
        mixed = any(c.isascii() for c in word)
        if new == word or not new.isascii() or not (mixed or new.lower() in _TRADE):
            return word
        letters.append(match.start())
        return new

    text = _WORD.sub(read, text)
    said = []
    for places, says in (
        (letters, "words with look-alike letters of another alphabet were read as Latin"),
        (signs, "letters х of another alphabet were read as a sign of times"),
    ):
        if places:
            line = text.count("\n", 0, places[0]) + 1
            said.append((places[0], f"{len(places)} × {says}, first in line {line}."))
    return text, said
