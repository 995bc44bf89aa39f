"""The language of what a page shows: pages speak English, patterns may speak another."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from webapp.terms import Language
from webapp.yarns import Terms

TAGS: Mapping[Terms | Language, str] = {
    **dict.fromkeys((Terms.US, Terms.UK, Language.US, Language.UK), ""),
    Terms.PORTUGUESE: "pt-BR",
}
"""Language tags (BCP 47) of words whose short name is none: English needs none on a page, and our
own Portuguese is Brazil's."""


def tag(words: Terms | Language) -> str:
    """The tag of a language; empty for the page's own."""
    return TAGS.get(words, words.value)


def lang(words: Terms | Language) -> Markup:
    """The attribute of an element whose text is in the language of ``words``, with a space before
    it; nothing where that is the page's own."""
    found = tag(words)
    return Markup(' lang="{}"').format(found) if found else Markup()
