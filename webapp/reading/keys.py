"""Words of a designer's own: single letters of charts, and abbreviations that a key explains.

`V = 2 sc in one stitch` makes every v of the rounds an increase. A line of a key counts where what
it explains reads as one kind of stitch once, and the word has no stitch of its own already.
"""

from __future__ import annotations

import re
from types import MappingProxyType

from webapp.reading.bodies import read_body
from webapp.reading.lexicon import is_stitch_word
from webapp.reading.nodes import Act
from webapp.reading.signs import LETTERS, Key
from webapp.terms import Language

CHART_LETTERS = re.compile(r"(?<![^\W\d_])x,? ?v(?![^\W_])", re.IGNORECASE)
"""`(2x, V) * 6`: the letters of charts written in a line."""

_LINE = re.compile(
    r"^[ •*>-]{0,4}(?P<word>[^\W\d_]{1,8}) {0,4}(?:=|:| -{1,2}|->) {0,4}(?P<says>[^\n=]{3,70})$",
    re.MULTILINE,
)
_ENTRY = re.compile(
    r"(?:(?<=[;,/|:])|(?<=[.(])|^)\s{0,4}(?P<word>[^\W\d_]{1,8})\s{0,4}=\s{0,4}(?P<says>[^\n=;,/|]{3,70})"
    r"(?=[;,/|.]|$)",
    re.MULTILINE,
)
"""Several on one line: ``Key: v = increase; a = decrease``."""
_SIGNS = MappingProxyType(
    {
        "sc": ("s", 0),
        "hdc": ("h", 0),
        "dc": ("d", 0),
        "sl st": ("l", 0),
        "inc": ("i", 0),
        "dec": ("e", 2),
        "dec3": ("e", 3),
        **{f"inc{k}": ("i", k) for k in range(3, 9)},
    }
)
MOST = 40
"""Lines of a key that are looked at; no designer has more words of their own."""


def find_key(text: str, language: Language) -> Key:
    """The words of its own a cleaned text explains, as (word, sign, number) in order."""
    found: dict[str, tuple[str, int]] = {}
    if language in (Language.US, Language.UK) and CHART_LETTERS.search(text):
        found |= {word: (sign, 2 if sign == "e" else 0) for word, sign in LETTERS.items()}
    own: dict[str, tuple[str, int]] = {}
    low = text.lower()
    entries = (entry for entry in _ENTRY.finditer(low) if _stands_in_a_list(low, entry))
    for line in (*_LINE.finditer(low), *entries):
        word = line["word"]
        if word in own or is_stitch_word(word, language):
            continue
        sign = _sign(line["says"], language)
        if sign is not None:
            own[word] = sign
        if len(own) == MOST:
            break
    found |= own
    return tuple((word, *sign) for word, sign in found.items())


def _stands_in_a_list(low: str, entry: re.Match[str]) -> bool:
    """Whether its line explains other words too: `= 18` behind a round explains none."""
    start = low.rfind("\n", 0, entry.start("word")) + 1
    end = low.find("\n", entry.end())
    return low.count("=", start, len(low) if end < 0 else end) > 1


def _sign(says: str, language: Language) -> tuple[str, int] | None:
    """The sign of the one stitch that is said; None where it is none, or several."""
    body = read_body(says.strip().removesuffix("."), language)
    if body.trouble or body.counts or len(body.nodes) != 1:
        return None
    act = body.nodes[0]
    work = act.options[0].work if isinstance(act, Act) else ()
    if len(work) != 1:
        return None
    kind, number = work[0]
    if kind == "sc" and number == 2 and isinstance(act, Act) and len(act.options) > 1:
        return None
    return _SIGNS.get(kind) if number == 1 else None
