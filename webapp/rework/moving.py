"""Remarks led after their rounds and stitches: the numbers in them change, their words stay.

    round 11, rnds 11 and 12, R5-9, the 11th round     the round it became; neighbours stay so
    7 sts apart, 6 stitches between                    as many times more or fewer
    a 20 cm tail                                       as many times as long as the toy
    8 mm eyes                                          the nearest size in shops

Rounds are those of the part that the remark is in, unless it says "to the head", "of the head":
then the head's. Where that cannot be told, or the part has no such round, the number stays, and
that is said.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from webapp.materials.eyes import STOCK_EYES_MM
from webapp.reading import ReadRound
from webapp.terms import Language, TermTable, term_table

SEPARATORS = r"(?:-|–|—|&|\+|,|/|and|to|or|through|und|bis|et|à|y|al?|e|en|tot|t/m|ed|até|ao?|ou|o)"
"""What stands between the numbers of two rounds, in all the languages."""

ORDINALS = r"(?:\.|st|nd|rd|th|ª|º|°|a|o|e|er|re|ère|ème|eme|de|ste|te|ten|en|ter|tes)"

TOWARDS = (
    r"(?:of|to|on|onto|at|into|an|am|auf|vom|zum|zur|ans|aufs|des|der|dem|den|das|sur|à|au|du"
    r"|sobre|en|a|al|del|all[ao]|sull[ao]|dell[ao]|sul|dal|no|na|do|da|ao|op|aan|van)"
)
"""What stands before the part that another is sewn to."""

ARTICLES = r"(?:the|your|die|der|das|den|dem|la|le|l'|el|il|lo|o|de|het)"

EYES = re.compile(
    r"(?<!\w)(?:eyes?|augen?|sicherheitsaugen|yeux|ojos?|ojitos|occhi|occhietti|olhos?|olhinhos"
    r"|ogen|oogjes|veiligheidsogen)(?!\w)",
    re.IGNORECASE,
)
HOOK = re.compile(
    r"hook|nadel|crochet\s+(?:de|n|nr|no)|ganchillo|aguja|uncinetto|agulha|haaknaald", re.IGNORECASE
)
LENGTH = re.compile(
    r"(?<![\w.,])(\d+(?:[.,]\d+)?)(?:(\s*(?:-|–|to|bis|à|a)\s*)(\d+(?:[.,]\d+)?))?(\s*-?)"
    r"(cm|mm|inch(?:es)?|\"|″)(?!\w)",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Moves:
    """What moves a remark: for each round that was read (by its number, less ``offset``) the round
    it became, new stitches in a lap for each that was read, and how many times as large the toy
    is."""

    rounds: tuple[int, ...]
    stitches: float
    size: float
    offset: int = 0

    def round_of(self, number: int) -> int | None:
        """The round that the one of that number became; None where there is none."""
        at = number - self.offset
        return self.rounds[at - 1] if 1 <= at <= len(self.rounds) else None


@dataclass(frozen=True)
class _Change:
    """Characters of a remark, what they become, and what is to be said about it."""

    start: int
    end: int
    text: str
    says: str


def offset_of(rounds: tuple[ReadRound, ...]) -> int:
    """By how much rounds are labelled higher than they count in their part: patterns go on
    counting from one part to the next, or leave the first round without a number."""
    for read in rounds:
        number = re.search(r"\d+", read.label)
        if number:
            return int(number.group()) - read.number
    return 0


def moved_text(
    text: str, own: Moves, others: Mapping[str, Moves], language: Language
) -> tuple[str, tuple[str, ...]]:
    """The remark with its numbers moved, and a sentence for each change, and for each number that
    stays though it might be meant to move. ``others`` are all parts by their titles."""
    moves = _host(text, others) or (own if own.rounds else None)
    words = _words(language)
    changes: list[_Change] = []
    for pattern in (words.rounds, words.ordinals):
        for match in pattern.finditer(text):
            changes += _of_rounds(match, moves)
    scale = moves.stitches if moves else own.stitches
    for match in words.stitches.finditer(text):
        was = int(match.group(1))
        now = max(1, round(was * scale)) if was else 0
        changes += _number(match, 1, str(now))
    changes += _of_lengths(text, own.size)
    return _applied(text, changes)


def _applied(text: str, changes: list[_Change]) -> tuple[str, tuple[str, ...]]:
    """The text with the changes made from left to right; of two that overlap, the first."""
    out, at = "", 0
    says: list[str] = []
    for change in sorted(changes, key=lambda c: (c.start, -c.end)):
        if change.start < at:
            continue
        if change.says:
            says.append(change.says)
        out += text[at : change.start] + change.text
        at = change.end
    return out + text[at:], tuple(says)


def _number(match: re.Match[str], group: int, now: str) -> list[_Change]:
    """The change of one number in a match, named by the whole of the match."""
    start, end = match.span(group)
    a, b = match.span()
    whole = match.string[a:start] + now + match.string[end:b]
    if now == match.group(group):
        return []
    return [_Change(start, end, now, f"“{match.group().strip()}” is now “{whole.strip()}”.")]


def _of_rounds(match: re.Match[str], moves: Moves | None) -> list[_Change]:
    """The numbers of the rounds in a match; two neighbours stay neighbours."""
    said = match.group().strip(" .")
    start, end = match.span()
    if moves is None:
        why = f"“{said}” stays as it was: of which part it is cannot be told."
        return [_Change(start, end, match.group(), why)]
    numbers = [int(n) for n in re.findall(r"\d+", match.group())]
    new: list[int] = []
    for k, number in enumerate(numbers):
        became = moves.round_of(number)
        if became is None:
            why = f"“{said}” stays as it was: the part has no such round."
            return [_Change(start, end, match.group(), why)]
        if k and number == numbers[k - 1] + 1 and became != new[-1] + 1:
            became = new[-1] + 1
        new.append(became)
    over = new[-1] - max(moves.rounds)
    if over > 0 and len(new) > 1 and new[0] > over:
        new = [n - over for n in new]
    given = iter(new)
    text = re.sub(r"\d+", lambda _: str(next(given)), match.group())
    text = _ordinals(text)
    if text == match.group():
        return []
    return [_Change(start, end, text, f"“{said}” is now “{text.strip(' .')}”.")]


def _ordinals(text: str) -> str:
    """English ordinals with the ending of their new number."""

    def ending(match: re.Match[str]) -> str:
        number = int(match.group(1))
        teen = number % 100 in (11, 12, 13)
        return f"{number}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"

    return re.sub(r"(\d+)(?:st|nd|rd|th)(?![^\W\d_])", ending, text)


def _of_lengths(text: str, size: float) -> list[_Change]:
    """Lengths as many times as long; eyes in the nearest size sold; hooks are no lengths."""
    if size == 1.0:
        return []
    changes: list[_Change] = []
    for match in LENGTH.finditer(text):
        unit = match.group(5).lower()
        sentence = _sentence(text, match.start())
        if unit == "mm" and HOOK.search(sentence):
            continue
        shown = _eyes if unit == "mm" and EYES.search(sentence) else _longer
        now = shown(match.group(1), size)
        if match.group(3):
            now += match.group(2) + shown(match.group(3), size)
        now += match.group(4) + match.group(5)
        if now != match.group():
            says = f"“{match.group()}” is now “{now}”."
            changes.append(_Change(match.start(), match.end(), now, says))
    return changes


def _sentence(text: str, at: int) -> str:
    """The sentence round a place."""
    start = max(text.rfind(mark, 0, at) for mark in (". ", "! ", "; ", "\n")) + 1
    ends = [n for n in (text.find(mark, at) for mark in (". ", "! ", "; ", "\n")) if n >= 0]
    return text[start : min(ends, default=len(text))]


def _longer(was: str, size: float) -> str:
    number = float(was.replace(",", ".")) * size
    shown = f"{number:.0f}" if number >= 10.0 else f"{number:.1f}".removesuffix(".0")
    return shown.replace(".", ",") if "," in was else shown


def _eyes(was: str, size: float) -> str:
    wanted = float(was.replace(",", ".")) * size
    return str(min(STOCK_EYES_MM, key=lambda sold: abs(sold - wanted)))


def _host(text: str, others: Mapping[str, Moves]) -> Moves | None:
    """The part that a remark says something is sewn to, or that its rounds are of."""
    found: list[tuple[int, Moves]] = []
    for title, moves in others.items():
        if not title:
            continue
        named = rf"(?<!\w){TOWARDS}\s+(?:{ARTICLES}\s*)?{re.escape(title)}(?!\w)"
        found += [(m.start(), moves) for m in re.finditer(named, text, re.IGNORECASE)]
    # Of several, "of the head" at the end is nearer to the rounds than "to the body" before.
    return max(found, key=lambda pair: pair[0])[1] if found else None


@dataclass(frozen=True)
class _Words:
    rounds: re.Pattern[str]
    ordinals: re.Pattern[str]
    stitches: re.Pattern[str]


@cache
def _words(language: Language) -> _Words:
    table = term_table(language)
    laps = _any_of(table, "round", "row")
    stitches = _any_of(table, "st", "sc")
    number = rf"(?<![\d.,])\d+(?!\d|\s*(?:{stitches}|cm|mm)(?!\w))"
    rounds = (
        rf"(?<!\w)(?:{laps})\.?\s*{number}{ORDINALS}?(?![^\W\d_])"
        rf"(?:\s*{SEPARATORS}\s*(?:(?:{laps})\.?\s*)?{number}(?![^\W\d_]))*"
    )
    # "21st" is an ordinal before "round", 21 stitches before anything else.
    ordinal = rf"(?<![\d.,])\d+\s?{ORDINALS}"
    ordinals = rf"{ordinal}(?:\s*{SEPARATORS}\s*{ordinal})*\s*(?:{laps})(?!\w)"
    return _Words(
        re.compile(rounds, re.IGNORECASE),
        re.compile(ordinals, re.IGNORECASE),
        re.compile(rf"(?<![\w.,-])(\d+)\s*(?:{stitches})(?!\w)", re.IGNORECASE),
    )


def _any_of(table: TermTable, *concepts: str) -> str:
    forms = {form for concept in concepts for form in table.forms.get(concept, ())}
    return "|".join(re.escape(form) for form in sorted(forms, key=len, reverse=True))
