"""A part worked as another with a change: `same as front foot, but rounds 2-9: sc around`.

The change is taken where it names its rounds and gives their words; else it is told that there is
one, for the rounds of the other part would be wrong ones.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from webapp.reading.bodies import Body, read_body
from webapp.reading.copies import copies_alone
from webapp.reading.entries import WorkLine, alone, counts_of, not_worked_out, stated_in
from webapp.reading.labels import Label, LabelKind, label_at
from webapp.reading.model import Span
from webapp.reading.sheet import RoundLine
from webapp.reading.signs import Key
from webapp.reading.vocabulary import Vocabulary, either
from webapp.reading.work import COUNT_ALONE
from webapp.terms import Language, term_table

_FIGURE = re.compile(r"\d")
_SENTENCE = re.compile(r"[.!?]\s")
_NOTE = re.compile(r"(?:[(\[{<][^()\[\]{}<>\n]{1,30}[)\]}>]|=\s?\d{1,3}\s?[^\W\d_]{0,12})\.?$")
_MARKS = re.compile(r"[\s,:;.(\[-]*")
_WORD = re.compile(r"[^\W\d_]+")
_HARMLESS = ("about_stuffing", "about_eyes", "about_ending", "about_sewing", "about_closing")


@dataclass(frozen=True)
class Anew:
    """A line of work that stands for the rounds ``first`` to ``last`` of the other part."""

    first: int
    last: int
    work: WorkLine


@dataclass(frozen=True)
class _Forms:
    leads: re.Pattern[str]
    next: re.Pattern[str]
    harmless: re.Pattern[str]
    colours: re.Pattern[str]
    loops: re.Pattern[str]


@cache
def _forms(language: Language) -> _Forms:
    table = term_table(language)

    def forms(*concepts: str) -> list[str]:
        return [way.strip() for concept in concepts for way in table.forms.get(concept, ())]

    sheet = table.sheet
    leads = either([*forms("work", "the", "and"), *sheet["otherwise"], *sheet["both"]])
    colours = either([*forms("about_colour", "the", "and"), *sheet["colours"], *sheet["both"]])
    loops = either(forms("back_loops", "front_loops"))
    return _Forms(
        leads=re.compile(rf"(?:(?:{leads})[\s,:]{{1,3}}){{0,4}}"),
        next=re.compile(rf"[;.,)\]>}}]\s{{0,2}}|\s(?={either(sheet['both'])})"),
        harmless=re.compile(rf"[\s,:]{{0,3}}(?:{either(forms(*_HARMLESS))})"),
        colours=re.compile(rf"(?:{colours}|[a-z])"),
        loops=re.compile(rf"(?<![^\W_])(?:{loops})(?![^\W_])"),
    )


def is_changed(behind: str, words: Vocabulary) -> bool:
    """Whether what stands behind the name of another part says that something is done otherwise:
    figures, words such as `but` and `longer`; not where it is about colour, filling or sewing."""
    behind = _without_note(behind.strip(), words)
    if _FIGURE.search(behind):
        return True
    for at, sentence in enumerate(_SENTENCE.split(behind)):
        if at == 0 and _tells(sentence, words):
            return True
        start = _MARKS.match(sentence)
        otherwise = (
            words.otherwise.search(sentence)
            if at == 0
            else words.otherwise.match(sentence, start.end() if start else 0)
        )
        if otherwise is not None and not _is_harmless(sentence[otherwise.end() :], words):
            return True
    return False


def _without_note(behind: str, words: Vocabulary) -> str:
    """Words without the count or the number of copies in brackets that they end with."""
    note = _NOTE.search(behind)
    if note is None or not (COUNT_ALONE.match(note[0]) or ends_with_copies(behind, words)):
        return behind
    return behind[: note.start()]


def ends_with_copies(behind: str, words: Vocabulary) -> bool:
    """Whether it ends with a number of copies in brackets: `(make 2)`, which is no count."""
    note = _NOTE.search(behind)
    return note is not None and copies_alone(note[0].rstrip("."), words) is not None


def _tells(said: str, words: Vocabulary) -> bool:
    """Whether words say something of rounds, stitches or sizes."""
    return any(
        pattern.search(said)
        for pattern in (
            *(words.differs, words.stitch, words.round_word, words.ring, _FIGURE),
            _forms(words.language).loops,
        )
    )


def _is_harmless(said: str, words: Vocabulary) -> bool:
    """Whether words are only about colour, filling, ending off or sewing."""
    if _tells(said, words) or any(word in words.numbers for word in _WORD.findall(said)):
        return False
    forms = _forms(words.language)
    marks = _MARKS.match(said)
    lead = forms.leads.match(said, marks.end() if marks else 0)
    ways = (said, said[lead.end() :] if lead else said)
    about = any(forms.harmless.match(way) or words.remark_start.match(way) for way in ways)
    return about or (bool(_WORD.search(said)) and _only_colours(said, words))


def _only_colours(said: str, words: Vocabulary) -> bool:
    return all(_forms(words.language).colours.fullmatch(word) for word in _WORD.findall(said))


def leaves_off(behind: str, words: Vocabulary) -> bool:
    """Whether it breaks off where the changes are to follow on lines of their own: `..., but:`."""
    return any(
        _MARKS.fullmatch(behind, found.end()) and _only_colours(behind[: found.start()], words)
        for found in words.otherwise.finditer(behind)
    )


def changes_in(
    line: RoundLine, text: str, at: int, words: Vocabulary, key: Key
) -> list[Anew]:
    """The changes that a line names behind ``at``; none where one of them is not clear."""
    lead = words.otherwise.search(text, at)
    if lead is None or not _only_colours(text[at : lead.start()], words):
        return []
    label = _label(text, lead.start(), words)
    found: list[Anew] = []
    while label is not None:
        following = next(_labels_behind(text, label, words), None)
        stop, after = following or (len(text), None)
        body = read_body(text[label.end : stop], words.language, key)
        if not _is_clear(body, text[label.end : stop], words):
            return []
        assert label.first is not None
        last = label.last or label.first
        number = last - label.first + 1
        # Its places are those of the text: only its words are taken out of it.
        here = replace(line, body=Span(line.body.start + label.end, line.body.start + stop))
        work = WorkLine(here, text[label.end : stop], body, number, stated_in(body, number))
        found.append(Anew(label.first, last, work))
        label = after
    return found


def _label(text: str, at: int, words: Vocabulary) -> Label | None:
    """The rounds that are named there, past words such as `but work`."""
    marks = _MARKS.match(text, at)
    lead = _forms(words.language).leads.match(text, marks.end() if marks else at)
    label = label_at(text, lead.end() if lead else at, len(text), words)
    if label is None or label.kind is not LabelKind.WORD or not label.first:
        return None
    return label if (label.last or label.first) >= label.first else None


def _labels_behind(
    text: str, label: Label, words: Vocabulary
) -> Iterator[tuple[int, Label]]:
    """Where further rounds are named, and which."""
    last = label.last or label.first or 0
    for mark in _forms(words.language).next.finditer(text, label.end):
        other = _label(text, mark.end(), words)
        if other is not None and (other.first or 0) > last and other.end < len(text):
            yield mark.start() + (mark[0][0] in ")]>}"), other


def _is_clear(body: Body, text: str, words: Vocabulary) -> bool:
    """Whether it is stitches alone, and nothing beside them that could change them."""
    if not body.nodes or body.trouble or body.noise or body.mark("again"):
        return False
    return not any(
        _tells(said, words) or words.otherwise.search(said)
        for said in (text[span.start : span.end] for span in body.remarks)
    )


def worked_anew(
    line: RoundLine, title: str, base: Sequence[WorkLine], changes: Sequence[Anew]
) -> list[WorkLine]:
    """The rounds of another part, those changed in their place; none where they do not go in.

    Rounds that stood behind a change are those of the other part only if the change ends with as
    many stitches as were there; else they are not worked out.
    """
    if not changes:
        return []
    counts = counts_of(base)
    made: list[WorkLine] = []
    due, fits = 1, True
    for change in changes:
        if not due <= change.first <= max(due, len(base) + 1):
            return []
        if change.last > len(base) and not _alike(base[change.first - 1 :]):
            return []
        made += _kept(line, title, base[due - 1 : change.first - 1], fits)
        made.append(change.work)
        due = change.last + 1
        if due <= len(base):
            count = counts[change.last - 1]
            fits = count is not None and counts_of(_one_by_one(made))[-1] == count
    return made + _kept(line, title, base[due - 1 :], fits)


def _kept(
    line: RoundLine, title: str, entries: Sequence[WorkLine], fits: bool
) -> list[WorkLine]:
    """Rounds of the other part that stay."""
    if fits:
        return [replace(e, line=line, body=alone(e.body), copied=True) for e in entries]
    why = f"it is worked as {title}, behind a change that ends with other stitches"
    return [not_worked_out(line, why) for _ in entries]


def _one_by_one(entries: Sequence[WorkLine]) -> list[WorkLine]:
    return [replace(e, number=1, stated=(stated,)) for e in entries for stated in e.stated]


def _alike(entries: Sequence[WorkLine]) -> bool:
    """Whether rounds are all the same: then more of them may stand in their place."""
    return len({alone(entry.body).nodes for entry in entries}) <= 1
