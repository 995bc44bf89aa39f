"""The language of what a page shows: pages speak English, patterns may speak another, and so does
the page of stitching along."""

from __future__ import annotations

from markupsafe import Markup

from webapp.terms import Language
from webapp.yarns import Terms


def tag(words: Terms | Language) -> str:
    """The tag (BCP 47) of our own terms, or of the language of a text; empty for English, which is
    the page's own."""
    if words in (Terms.US, Terms.UK, Language.US, Language.UK):
        return ""
    return words.tag if isinstance(words, Terms) else words.value


def lang(words: Terms | Language) -> Markup:
    """The attribute of an element whose text is in the language of ``words``, with a space before
    it; nothing where that is the page's own."""
    found = tag(words)
    return Markup(' lang="{}"').format(found) if found else Markup()
