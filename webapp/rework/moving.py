"""Remarks led after their rounds and stitches: the numbers in them change, their words stay.

    round 11, rnds 11 and 12, R5-9, the 11th round     the round it became; neighbours stay so
    7 sts apart, 6 stitches between                    as many times more or fewer
    a 20 cm tail                                       as many times as long as the toy
    8 mm eyes                                          the nearest size in shops

Rounds are those of the part that the remark is in, unless it says "to the head", "of the head":
then the head's; a part that is sewn on without a word where to, or has no such round, is sewn to a
round of another part. Where the parts that may be meant do not agree, the number stays, and that is
said.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from webapp.materials.eyes import STOCK_EYES_MM
from webapp.reading import ReadRound
from webapp.terms import Language, TermTable, term_table

SEPARATORS = (
    r"(?:-|–|—|&|\+|,|/|and|to|or|through|und|bis|et|à|y|al?|e|en|tot|t/m|ed|até|ao?|ou|o|og|och"
    r"|till?)"
)
"""What stands between the numbers of two rounds, in all the languages."""

ORDINALS = r"(?:\.|st|nd|rd|th|ª|º|°|a|o|e|er|re|ère|ème|eme|de|ste|te|ten|en|ter|tes|:a|:e)"

TOWARDS = (
    r"(?:of|to|on|onto|at|into|an|am|auf|vom|zum|zur|ans|aufs|des|der|dem|den|das|sur|à|au|du"
    r"|sobre|en|a|al|del|all[ao]|sull[ao]|dell[ao]|sul|dal|no|na|do|da|ao|op|aan|van|på|till?|ved|vid)"
)
"""What stands before the part that another is sewn to."""

ANDS = "and|und|et|y|e|en|og|och"
ARTICLES = r"(?:the|your|die|der|das|den|dem|la|le|l'|el|il|lo|o|de|het)"

EYES = re.compile(
    r"(?<!\w)(?:eyes?|augen?|sicherheitsaugen|yeux|ojos?|ojitos|occhi|occhietti|olhos?|olhinhos"
    r"|ogen|oogjes|veiligheidsogen|(?:sikkerheds)?øjne(?:ne)?|(?:sikkerhets)?øyne(?:ne)?"
    r"|(?:säkerhets)?ögon(?:en)?)(?!\w)",
    re.IGNORECASE,
)
HOOK = re.compile(
    r"hook|nadel|crochet\s+(?:de|n|nr|no)|ganchillo|aguja|uncinetto|agulha|haaknaald|hæklenål|heklenål|virknål",
    re.IGNORECASE,
)
SENTENCE = 300
"""Characters to either side of a word that may belong to its sentence."""

LENGTH = re.compile(
    r"(?<![\w.,])(\d+(?:[.,]\d+)?)(?:(\s*(?:-|–|to|bis|à|a|till?)\s*)(\d+(?:[.,]\d+)?))?(\s*-?)"
    r"(cm|mm|inch(?:es)?|tommer|tum|\"|″)(?!\w)",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Moves:
    """What moves a remark: for each round that was read (by its number, less ``offset``) the round
    it became, new stitches in a lap for each that was read, and how many times as large the toy
    is. ``given`` are counts that are not to be worked out: of legs that are joined, and their
    chain."""

    rounds: tuple[int, ...]
    stitches: float
    size: float
    offset: int = 0
    given: Mapping[int, int] = field(default_factory=dict)

    def rounds_of(self, numbers: Sequence[int]) -> tuple[int, ...] | None:
        """The rounds that those of these numbers became, neighbours still neighbours; None where
        the part has not all of them."""
        new: list[int] = []
        for k, number in enumerate(numbers):
            at = number - self.offset
            if not 1 <= at <= len(self.rounds):
                return None
            became = self.rounds[at - 1]
            if k and number == numbers[k - 1] + 1:
                became = new[-1] + 1
            new.append(became)
        over = new[-1] - max(self.rounds)
        if over > 0 and new[0] > over:
            new = [n - over for n in new]
        return tuple(new)

    def count_of(self, was: int) -> int:
        """Stitches anew for so many."""
        return self.given.get(was, max(1, round(was * self.stitches)) if was else 0)


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
    text: str,
    own: Moves | None,
    others: Mapping[str, Moves],
    language: Language,
    *,
    sewn: bool = False,
    placing: bool = False,
) -> tuple[str, tuple[str, ...]]:
    """The remark with its numbers moved, and a sentence for each change, and for each number that
    stays though it might be meant to move.

    ``own`` moves what is of the part that the remark is in (None: in no part), ``others`` has all
    parts by their titles (and what makes them differ, on a second line). A part that is ``sewn``
    on is sewn to the rounds of another part, unless the remark names what is sewn to this one.
    Stitches in no part are counted only where something is placed by them (``placing``).
    """
    host = _host(text, others)
    elsewhere = [moves for moves in others.values() if moves is not own]
    first = [host] if host else [own] if own else elsewhere
    if sewn and own and not host and not _about_another(text, own, others):
        first = elsewhere
    words = _words(language)
    changes: list[_Change] = []
    for pattern in (words.rounds, words.ordinals):
        for match in pattern.finditer(text):
            changes += _of_rounds(match, first, elsewhere)
    for match in words.stitches.finditer(text):
        # "inc: 2 sc in one st" is true of any yarn.
        if (own or host or placing) and not words.explains.match(text, match.end()):
            changes += _of_stitches(match, first if host or not own else [own])
    if own and own.given:
        for match in words.chains.finditer(text):
            changes += _number(match, str(own.given.get(int(match.group(1)), match.group(1))))
    sizes = {moves.size for moves in (own, *others.values()) if moves}
    changes += _of_lengths(text, own.size if own else max(sizes, default=1.0))
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


def _number(match: re.Match[str], now: str) -> list[_Change]:
    """The change of the first group of a match, named by the whole of the match."""
    start, end = match.span(1)
    a, b = match.span()
    if now == match.group(1):
        return []
    text = match.string[a:start] + now + match.string[end:b]
    return [_Change(a, b, text, f"“{match.group().strip()}” is now “{text.strip()}”.")]


def _of_stitches(match: re.Match[str], parts: Sequence[Moves]) -> list[_Change]:
    """The change of a number of stitches, if all the parts it may be of say the same."""
    became = {moves.count_of(int(match.group(1))) for moves in parts}
    if len(became) == 1:
        return _number(match, str(became.pop()))
    return _stays(match, "of which part it is cannot be told") if became else []


def _of_rounds(
    match: re.Match[str], first: Sequence[Moves], others: Sequence[Moves]
) -> list[_Change]:
    """The numbers of the rounds in a match, if all the parts they may be of say the same."""
    numbers = [int(n) for n in re.findall(r"\d+", match.group())]
    for parts in (first, others):
        became = {new for new in (moves.rounds_of(numbers) for moves in parts) if new}
        if len(became) > 1:
            return _stays(match, "of which part it is cannot be told")
        if became:
            text = _ordinals(_renumbered(match.group(), became.pop()))
            if text == match.group():
                return []
            says = f"“{match.group().strip(' .')}” is now “{text.strip(' .')}”."
            return [_Change(*match.span(), text, says)]
    return _stays(match, "no part that may be meant has such a round")


def _renumbered(text: str, numbers: Sequence[int]) -> str:
    """The text with its numbers, one after the other, made these."""
    words = re.split(r"\d+", text)
    return "".join(w + str(n) for w, n in zip(words, numbers, strict=False)) + words[-1]


def _stays(match: re.Match[str], why: str) -> list[_Change]:
    """That something stays as it is, and why."""
    said = match.group().strip(" .")
    return [_Change(*match.span(), match.group(), f"“{said}” stays as it was: {why}.")]


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
    far, until = max(0, at - SENTENCE), min(len(text), at + SENTENCE)
    marks = (". ", "! ", "; ", "\n")
    start = max(far, *(text.rfind(mark, far, at) + 1 for mark in marks))
    ends = [n for n in (text.find(mark, at, until) for mark in marks) if n >= 0]
    return text[start : min(ends, default=until)]


def _longer(was: str, size: float) -> str:
    number = float(was.replace(",", ".")) * size
    shown = f"{number:.0f}" if number >= 10.0 else f"{number:.1f}".removesuffix(".0")
    return shown.replace(".", ",") if "," in was else shown


def _eyes(was: str, size: float) -> str:
    wanted = float(was.replace(",", ".")) * size
    return str(min(STOCK_EYES_MM, key=lambda sold: abs(sold - wanted)))


def _host(text: str, others: Mapping[str, Moves]) -> Moves | None:
    """The part that a remark says something is sewn to, or that its rounds are of."""
    found: list[tuple[int, int, Moves]] = []
    for title, moves in others.items():
        for name in _names(title):
            named = rf"(?<!\w){TOWARDS}\s+(?:{ARTICLES}\s*)?{re.escape(name)}(?!\w)"
            matches = re.finditer(named, text, re.IGNORECASE)
            found += [(m.end(), len(name), moves) for m in matches]
    # Of several, "of the head" at the end is nearer to the rounds than "to the body" before.
    return max(found, key=lambda each: each[:2])[2] if found else None


def _about_another(text: str, own: Moves, others: Mapping[str, Moves]) -> bool:
    """Whether a remark names another part than its own."""
    return any(
        re.search(rf"(?<!\w){re.escape(name)}(?!\w)", text, re.IGNORECASE)
        for title, moves in others.items()
        if moves is not own
        for name in _names(title)
    )


def _names(title: str) -> set[str]:
    """What a part is called: its title, without what follows in brackets or after a comma, and
    each of two that are made in one ("Body and head")."""
    short = re.split(r"\s*[(\[,:\n]", title)[0].strip()
    pieces = re.split(rf"\s*(?:&|\+|/|(?<!\w)(?:{ANDS})(?!\w))\s*", short, flags=re.IGNORECASE)
    return {name for name in (title.split("\n")[0].strip(), short, *pieces) if len(name) > 1}


@dataclass(frozen=True)
class _Words:
    rounds: re.Pattern[str]
    ordinals: re.Pattern[str]
    stitches: re.Pattern[str]
    chains: re.Pattern[str]
    explains: re.Pattern[str]


@cache
def _words(language: Language) -> _Words:
    table = term_table(language)
    laps = _any_of(table, "round", "row")
    stitches = _any_of(table, "st", "sc")
    number = rf"(?<![\d.,])\d+(?!\d|\s*(?:{stitches}|cm|mm)(?!\w))"
    rounds = (
        rf"(?<!\w)(?:{laps})\.?\s{{0,3}}{number}{ORDINALS}?(?![^\W\d_])"
        rf"(?:\s{{0,3}}{SEPARATORS}\s{{0,3}}(?:(?:{laps})\.?\s{{0,3}})?{number}(?![^\W\d_])){{0,12}}"
    )
    # "21st" is an ordinal before "round", 21 stitches before anything else.
    ordinal = rf"(?<![\d.,])\d+\s?{ORDINALS}"
    ordinals = (
        rf"{ordinal}(?:\s{{0,3}}{SEPARATORS}\s{{0,3}}{ordinal}){{0,12}}"
        rf"\s{{0,3}}(?:{laps})(?!\w)"
    )
    return _Words(
        re.compile(rounds, re.IGNORECASE),
        re.compile(ordinals, re.IGNORECASE),
        re.compile(rf"(?<![\w.,-])(\d+)\s*(?:{stitches})(?!\w)", re.IGNORECASE),
        re.compile(rf"(?<!\w)(?:{_any_of(table, 'ch')})\s*(\d+)(?!\w)", re.IGNORECASE),
        re.compile(
            rf"\s*(?:(?:{_any_of(table, 'in')})\s+(?:\w+\s+)?(?:{_any_of(table, 'same', 'next')}|1)"
            rf"|(?:{_any_of(table, 'tog')}))(?!\w)",
            re.IGNORECASE,
        ),
    )


def _any_of(table: TermTable, *concepts: str) -> str:
    forms = {form for concept in concepts for form in table.forms.get(concept, ())}
    # Of no form at all nothing is one.
    return "|".join(re.escape(form) for form in sorted(forms, key=len, reverse=True)) or "(?!)"
