"""The smallest change to a line that makes it right: one number, one word, or one bracket."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from webapp.reading.bodies import Body, read_body
from webapp.reading.lexicon import lexicon
from webapp.reading.model import Span
from webapp.reading.readings import TooManyError, readings
from webapp.reading.signs import Key, Word
from webapp.terms import Language, TermTable, term_table

FARTHEST = 400
"""No number of a round is changed to more than this."""

LONGEST_MENDED = 800
"""Characters of the longest line of which changes are tried: each is the whole line read anew."""

LETTERS_TRIED = 100_000
"""Characters of changed lines that are read for one text: about a third of a second's work. A text
so full of faults that more would be needed has its later faults named without a mend."""

TIMES_BEHIND = ("n", "x", "w", "*", "r", "O")
"""Signs behind a bracket that say how often it is worked."""


@dataclass(frozen=True)
class Change:
    """A replacement in a body, and in words."""

    span: Span
    replacement: str
    says: str


class Tries:
    """How much may still be tried for one text, and the words of its own."""

    def __init__(self, key: Key = ()) -> None:
        self.key = key
        self.letters = LETTERS_TRIED

    def read(self, text: str, language: Language) -> Body:
        """A changed line read. Raises :class:`EnoughError` when enough was tried."""
        self.letters -= len(text)
        if self.letters < 0:
            raise EnoughError
        return read_body(text, language, self.key)


class EnoughError(Exception):
    """Enough changes were tried for one text."""


def smallest_change(
    text: str, language: Language, room: int | None, stated: int | None, tries: Tries
) -> Change | None:
    """The smallest change after which the stitches of ``text`` fit; None if none is known."""
    if len(text) > LONGEST_MENDED:
        return None
    try:
        return _smallest(text, language, room, stated, tries)
    except EnoughError:
        return None


def _smallest(
    text: str, language: Language, room: int | None, stated: int | None, tries: Tries
) -> Change | None:
    body = tries.read(text, language)
    end = body.counts[0][1].start if body.counts else len(text)
    words = [word for word in lexicon(language).words(text, tries.key) if word.start < end]
    for change in _changes(text, language, words, body, room, stated, tries):
        after = text[: change.span.start] + change.replacement + text[change.span.end :]
        if _plainly_fits(tries.read(after, language), room, stated):
            return change
    return None


def _plainly_fits(body: Body, room: int | None, stated: int | None) -> bool:
    if body.trouble:
        return False
    try:
        first = next(readings(body, room, stated), None)
    except TooManyError:
        return False
    return first is not None and first.fits(room, stated)


def _changes(
    text: str,
    language: Language,
    words: list[Word],
    body: Body,
    room: int | None,
    stated: int | None,
    tries: Tries,
) -> Iterator[Change]:
    """Changes to try, the smallest first."""
    if body.trouble:
        yield from _brackets(text, words)
        return
    missing = _without_number(text, words, term_table(language))
    yield from _filled(text, language, _between_commas(words), room, stated, tries)
    yield from _numbers(text, language, words, room, stated, tries)
    yield from _filled(text, language, missing, room, stated, tries)
    yield from _other_words(text, language, words)


def _numbers(
    text: str,
    language: Language,
    words: list[Word],
    room: int | None,
    stated: int | None,
    tries: Tries,
) -> Iterator[Change]:
    """Each number changed to what would do; how often a bracket is said comes first."""
    times = [w for at, w in enumerate(words) if w.sign == "n" and _says_times(words, at)]
    others = [w for at, w in enumerate(words) if w.sign == "n" and not _says_times(words, at)]
    for word in times + others:
        span = Span(word.start, word.end)
        for value in _values(text, language, span, word.value, room, stated, tries):
            if value == word.value:
                continue
            put = _like(text[word.start : word.end], value, language)
            was, now = _with_neighbour(text, words, word, put)
            yield Change(span, put, f"{now} instead of {was}")


def _like(was: str, value: int, language: Language) -> str:
    """The number in figures, or as a word where a word stood and there is one."""
    if was.isdecimal():
        return str(value)
    numbers = term_table(language).numbers
    return next((word for word, number in numbers.items() if number == value), str(value))


def _says_times(words: list[Word], at: int) -> bool:
    before = words[at - 1].sign if at else ""
    after = words[at + 1].sign if at + 1 < len(words) else ""
    return before == "x" or after == "x" or (before == "*" and at > 1)


def _with_neighbour(text: str, words: list[Word], word: Word, put: str) -> tuple[str, str]:
    """The number with the word it goes with: `x 6`, `5 sc`."""
    at = words.index(word)
    start, end = word.start, word.end
    if at and words[at - 1].sign in ("x", "*"):
        start = words[at - 1].start
    elif at + 1 < len(words) and words[at + 1].sign in "shdtlieg" + "x":
        end = words[at + 1].end
    return text[start:end], text[start : word.start] + put + text[word.end : end]


def _values(
    text: str, language: Language, span: Span, value: int, room: int | None, stated: int | None,
    tries: Tries,
) -> Iterator[int]:
    """Values that a number could have instead: stitches go up evenly with it."""
    one, two = (_made(text, language, span, value + more, room, stated, tries) for more in (1, 2))
    if one is None or two is None:
        return
    found: set[int] = set()
    for want, a, b in ((room, one[0], two[0]), (stated, one[1], two[1])):
        if want is None or a == b:
            continue
        steps, over = divmod(want - a, b - a)
        other = value + 1 + steps
        if not over and 1 <= other <= FARTHEST and other not in found:
            found.add(other)
            yield other
    if one[2] or two[2]:
        yield from (other for other in range(1, 13) if other not in found)


def _made(
    text: str, language: Language, span: Span, value: int, room: int | None, stated: int | None,
    tries: Tries,
) -> tuple[int, int, bool] | None:
    """Stitches taken and made with this number, and whether they fill the round whatever it is."""
    body = tries.read(f"{text[: span.start]}{value}{text[span.end :]}", language)
    try:
        reading = next(readings(body, room, stated), None)
    except TooManyError:
        return None
    if reading is None:
        return None
    return reading.made.takes, reading.made.makes, reading.made.over > 0


@dataclass(frozen=True)
class _Gap:
    """A place where a number may be missing: what is put there, with ``{}`` for the number, and the
    words before and behind the number that say so."""

    span: Span
    put: str
    before: str
    behind: str


def _filled(
    text: str,
    language: Language,
    gaps: Iterator[_Gap],
    room: int | None,
    stated: int | None,
    tries: Tries,
) -> Iterator[Change]:
    """A number put into each gap."""
    for gap in gaps:
        for value in _added(text, language, gap.span, gap.put, room, stated, tries):
            yield Change(gap.span, gap.put.format(value), f"{gap.before}{value}{gap.behind}")


def _between_commas(words: list[Word]) -> Iterator[_Gap]:
    """Two commas with nothing between."""
    for one, two in zip(words, words[1:], strict=False):
        if one.sign == two.sign == ",":
            yield _Gap(Span(one.end, two.start), " {}", "", " between the commas")


def _without_number(text: str, words: list[Word], table: TermTable) -> Iterator[_Gap]:
    """Stitches that have no number, and brackets that are not said so often."""
    if table.place_first:
        yield from _without_number_behind(text, words, table)
        return
    for at, word in enumerate(words):
        before = words[at - 1].sign if at else ""
        after = words[at + 1].sign if at + 1 < len(words) else ""
        start, name = Span(word.start, word.start), text[word.start : word.end]
        if word.sign in "shdtie" and before not in ("n", "s") and after not in ("n", "I", "E", "x"):
            yield _Gap(start, "{} ", "", f" {name} instead of {name}")
        elif word.sign == "p" and before == "N":
            yield _Gap(start, "{} ", "next ", f" {name}")
        elif word.sign in ")]}" and after not in TIMES_BEHIND:
            yield _Gap(Span(word.end, word.end), " x {}", "x ", " after the bracket")


def _without_number_behind(text: str, words: list[Word], table: TermTable) -> Iterator[_Gap]:
    """The same where a number stands behind its stitch, and its counting word behind it."""
    for word, after in zip(words, [*words[1:], None], strict=False):
        follows = after.sign if after else ""
        if word.sign in "shdtie" and follows not in ("n", "x"):
            counting = "" if follows == "p" else table.forms["st"][0]
        elif word.sign in ")]}" and follows not in TIMES_BEHIND:
            counting = table.forms["times"][0]
        else:
            continue
        was = text[word.start : word.end]
        yield _Gap(Span(word.end, word.end), f"{{}}{counting}", was, f"{counting} instead of {was}")


def _added(
    text: str, language: Language, span: Span, said: str, room: int | None, stated: int | None,
    tries: Tries,
) -> Iterator[int]:
    tried = []
    for value in (2, 3):
        put = said.format(value)
        body = tries.read(text[: span.start] + put + text[span.end :], language)
        try:
            tried.append(next(readings(body, room, stated), None))
        except TooManyError:
            return
    one, two = tried
    if one is None or two is None:
        return
    for want, a, b in (
        (room, one.made.takes, two.made.takes),
        (stated, one.made.makes, two.made.makes),
    ):
        if want is None or a == b:
            continue
        steps, over = divmod(want - a, b - a)
        if not over and 1 < 2 + steps <= FARTHEST:
            yield 2 + steps


def _other_words(text: str, language: Language, words: list[Word]) -> Iterator[Change]:
    """An increase for a decrease, or the other way round; an increase for a plain stitch."""
    forms = term_table(language).forms
    for word in words:
        if word.sign in ("i", "e"):
            put = forms["dec" if word.sign == "i" else "inc"][0]
            was = text[word.start : word.end]
            yield Change(Span(word.start, word.end), put, f"{put} instead of {was}")
    for at, word in enumerate(words):
        if word.sign == "s" and (at == 0 or words[at - 1].sign != "n"):
            put, was = forms["inc"][0], text[word.start : word.end]
            yield Change(Span(word.start, word.end), put, f"{put} instead of {was}")


def _brackets(text: str, words: list[Word]) -> Iterator[Change]:
    """A bracket opened at the start of a clause, or closed at the end of one."""
    pairs = {"(": ")", "[": "]", "{": "}"}
    for word in words:
        for opens, closes in pairs.items():
            if word.sign == closes:
                for place in _clause_starts(words, word):
                    yield Change(Span(place, place), opens, f"a bracket {opens} is missing")
            if word.sign == opens:
                for place in _clause_ends(words, word):
                    yield Change(Span(place, place), closes, f"a bracket {closes} is missing")


def _clause_starts(words: list[Word], close: Word) -> Iterator[int]:
    for at, word in enumerate(words):
        if word.start >= close.start:
            return
        if (at == 0 or words[at - 1].sign in ",;.:&") and word.sign not in ",;.:&)]}":
            yield word.start


def _clause_ends(words: list[Word], opening: Word) -> Iterator[int]:
    inside = [word for word in words if word.start > opening.start]
    for word, after in zip(inside, [*inside[1:], None], strict=False):
        if word.sign in ",;.:&":
            continue
        if after is None or after.sign in ",;.:&x([{" or word.sign == "i":
            yield word.end
