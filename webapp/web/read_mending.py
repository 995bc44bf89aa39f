"""One mend made in the text of a page, or a choice settled, and the text read again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from webapp.errors import RoundlingError
from webapp.reading import Mend, ReadPattern, Span
from webapp.web.read_contexts import ReadPage
from webapp.web.read_input import Asked
from webapp.web.read_lines import line_of


def mend_at(
    page: ReadPage, start: int, end: int, read: Callable[[Asked, bool], ReadPage]
) -> ReadPage:
    """The page with the mend of these characters made, or the same page saying it has none."""
    assert page.pattern is not None
    mend = _mend_of(page.pattern, Span(start, end))
    if mend is None:
        error = RoundlingError(
            asked="A change to the text was asked for.",
            why="The text is no longer the one it was offered for.",
            nearest="Read the text again and choose from what is offered then.",
            field="text",
        )
        return replace(page, more={"text": error})
    text = page.pattern.text
    new = f"{text[:start]}{mend.replacement}{text[end:]}"
    line = line_of(text, start)
    after = read(replace(page.asked, text=new), page.only)
    return replace(after, focus=f"line-{line}", notices=(f"Line {line}: {mend.says}.",))


def _mend_of(pattern: ReadPattern, span: Span) -> Mend | None:
    rounds = [r for part in pattern.parts for r in part.rounds]
    mends = (mend for r in rounds for mend in (r.mend, r.other))
    return next((mend for mend in mends if mend is not None and mend.span == span), None)
