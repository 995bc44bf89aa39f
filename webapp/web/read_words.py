"""The stitches of a read round in our own notation."""

from __future__ import annotations

import re

from jinja2 import pass_context
from jinja2.runtime import Context
from markupsafe import Markup, escape

from webapp.pattern.starts import start_text
from webapp.pattern.wording import work_text
from webapp.reading import Begin, ReadPart, ReadPattern, ReadRound
from webapp.terms import Language
from webapp.web.languages import lang
from webapp.yarns import Terms, TermSet, term_set

QUOTED = re.compile(r"`([^`]{1,200})`")

CURLED = re.compile("“([^”]{1,200})”")

MOST_RUNS = 150
"""Runs of a round that are put into the shortest words; of a longer one so many are shown."""


def words_of(pattern: ReadPattern) -> TermSet:
    """UK words for a text in UK words, US words for all others."""
    return term_set(Terms.UK if pattern.language is Language.UK else Terms.US)


def round_words(part: ReadPart, r: ReadRound, words: TermSet) -> str:
    """``(2 sc, inc) x 6, in back loops only``; empty for a round that is not understood."""
    if not r.work:
        return ""
    if r.number == 1 and part.begin not in (Begin.UNKNOWN, Begin.EDGE, Begin.FLAT):
        text = start_text(part.begin, r.work, words, chain=part.chain, per_leg=part.per_leg)
    else:
        rest = ", …" if len(r.work) > MOST_RUNS else ""
        text = work_text((r.work[:MOST_RUNS],), words, "across" if part.rows else "around") + rest
    manners = (
        f"in {r.loops} loops only" if r.loops else "",
        f"leave {r.left} unworked" if r.left else "",
        "joined" if r.joined else "",
        "turned" if r.turned else "",
    )
    return ", ".join([text, *(manner for manner in manners if manner)])


@pass_context
def said(context: Context, sentence: str) -> Markup:
    """A sentence for a page, what it quotes from a pattern set off from its words."""
    page = context.get("page")
    pattern = getattr(page, "pattern", None)
    words = pattern.language if isinstance(pattern, ReadPattern) else getattr(page, "terms", None)
    attribute = lang(words) if isinstance(words, Language | Terms) else ""
    text = QUOTED.sub(rf"<code{attribute}>\1</code>", str(escape(sentence)))
    return Markup(CURLED.sub(rf"“<span{attribute}>\1</span>”", text) if attribute else text)
