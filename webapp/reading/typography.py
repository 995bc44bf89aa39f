"""One spelling for each character: dashes, quotes, spaces, signs of times, look-alike letters.

Whatever changes the length of a text is done piece by piece, so that :attr:`Clean.origin` leads
from every character back to the text as handed in. Work is linear in the length.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping
from types import MappingProxyType

from webapp.reading.columns import columns_parted, tables_parted
from webapp.reading.lookalikes import mend_lookalikes
from webapp.reading.sheet import Clean
from webapp.reading.slips import SLIPS

DASHES = "‐‑‒–—―−﹘﹣－─"
QUOTES = "‘’‚‛“”„‟«»‹›′″`´"
SPACES = "\u00a0\u1680\u202f\u205f\u3000" + "".join(map(chr, range(0x2000, 0x200B)))
TIMES = "×✕✖⨯⨉╳"
STARS = "∗＊✱✻★☆﹡"
_SINGLE = "‘’‚‛‹›′`´"

KINDS: tuple[tuple[str, str, str], ...] = (
    (DASHES, "-", "dashes were read as hyphens"),
    (QUOTES, "", "curly quotes were read as straight ones"),
    (SPACES, " ", "unusual spaces were read as plain ones"),
    (TIMES, "x", "signs of multiplication were read as x"),
    (STARS, "*", "stars of other kinds were read as *"),
)
"""Characters, what they become (quotes by kind), and what is said of it."""

_WIDE = {chr(0xFF01 + k): chr(0x21 + k) for k in range(94)}
EASTERN = dict(zip("「」『』【】〔〕〈〉《》、。〜・", "()()[][]<><>,.~•", strict=True))
"""Marks of Japanese, and what does their work here."""
CIRCLED = {chr(0x2460 + k): f"{k + 1})" for k in range(20)}
"""Numbers in circles."""


def _table() -> dict[int, str]:
    table = {**_WIDE, **EASTERN}
    for characters, becomes, _ in KINDS:
        for character in characters:
            single = "'" if character in _SINGLE else '"'
            table[character] = becomes or single
    table.update(
        {"İ": "I", "ı": "i", "\t": " ", "\r": "\n", "\x0b": "\n", "\x0c": "\n", "\x85": "\n"}
    )
    table.update({"\u2028": "\n", "\u2029": "\n", "∙": "•", "·": "•", "◦": "•", "▪": "•"})
    return str.maketrans(table)


_ONE_TO_ONE: Mapping[int, str] = MappingProxyType(_table())

_OPENED: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys("\u200b\u200c\u200d\u2060\ufeff\u00ad\u200e\u200f\u2061\u2063", ""),
        **{"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "ﬅ": "st", "ﬆ": "st"},
        **dict.fromkeys("→➔➜➝➞⇒⟶►▶", "->"),
        **{"…": "...", "\r\n": "\n", "№": "no", "㎝": "cm", "㎜": "mm", "㎏": "kg"},
        **CIRCLED,
    }
)
_LONGER = re.compile(
    "|".join(map(re.escape, sorted(_OPENED, key=len, reverse=True)))
    + "|[A-Za-z\u0131][\u0300-\u036f]{1,4}|(?<![^\\W\\d_])Â(?=[\\s\u00a0°º½¼¾×–—-]|$)"
)
_SAID: tuple[tuple[str, str], ...] = (
    ("[\u200b\u200c\u200d\u2060\ufeff\u00ad\u200e\u200f]", "invisible characters were left out"),
    ("[ﬀﬁﬂﬃﬄﬅﬆ]", "joined letters were taken apart"),
    ("[→➔➜➝➞⇒⟶►▶]", "arrows were read as ->"),
    ("Â(?=[\\s\u00a0°º½¼¾×–—-]|$)", "stray letters Â were left out"),
    ("[İı]", "Turkish letters i were read as plain ones"),
    ("[！-～]", "wide characters were read as plain ones"),
)

ORDINARY = ("wide characters", "unusual spaces", "signs of multiplication", "arrows")
"""Of what was read as something else, what is usual where words stand without spaces: Japanese
type has × and → as signs of its own (JIS X 0208, from memory)."""

_COLUMNS = re.compile(
    r"^(\d{1,3}(?:[-–]\d{1,3})?)\t([^\t\n]{1,400})(?:\t(\d{1,3}))?$", re.MULTILINE
)
"""A row of a table: number, work, count, parted by tabs."""
_CONTROLS = re.compile(r"[\t\r\x0b\x0c]")


def clean(text: str) -> Clean:
    """The text with one spelling for each character, and where each of its characters was."""
    slips: list[tuple[int, str]] = []
    for characters, _, says in KINDS:
        _say(slips, text, re.compile(f"[{re.escape(characters)}]"), says)
    for pattern, says in _SAID:
        _say(slips, text, re.compile(pattern), says)
    origin = list(range(len(text) + 1))
    now = tables_parted(text)
    if not text.isascii() or _CONTROLS.search(text):
        now, origin = _replace(now, origin, _LONGER, _opened)
        now = _COLUMNS.sub(_parted, now).translate(_ONE_TO_ONE)
        now, found = mend_lookalikes(now)
        slips += [(origin[at], says) for at, says in found]
    now = columns_parted(now)
    for slip in SLIPS:
        if slip.needs not in now:
            continue
        hits = [match for match in slip.pattern.finditer(now) if slip.reads(match) != match[0]]
        if not hits:
            continue
        place = origin[hits[0].start()]
        slips.append((place, _sentence(len(hits), slip.says, text, place)))
        now, origin = _replace(now, origin, slip.pattern, slip.reads)
    slips.sort(key=lambda slip: slip[0])
    return Clean(now, tuple(origin), tuple(says for _, says in slips))


def _say(slips: list[tuple[int, str]], text: str, pattern: re.Pattern[str], says: str) -> None:
    first = pattern.search(text)
    if first:
        count = sum(1 for _ in pattern.finditer(text))
        slips.append((first.start(), _sentence(count, says, text, first.start())))


def _sentence(count: int, says: str, text: str, place: int) -> str:
    """How many, what was done, and where first (lines from 1)."""
    line = text.count("\n", 0, place) + 1
    return f"{count} × {says}, first in line {line}."


def _parted(match: re.Match[str]) -> str:
    """A row of a table with signs for its tabs, as long as it was."""
    count = f"={match[3]}" if match[3] else ""
    return f"{match[1]}:{match[2]}{count}"


def _opened(match: re.Match[str]) -> str:
    found = match[0]
    if found == "Â":
        return ""
    if found in _OPENED:
        return _OPENED[found]
    whole = unicodedata.normalize("NFC", found)
    return whole if len(whole) == 1 else found[0]


def _replace(
    text: str,
    origin: list[int],
    pattern: re.Pattern[str],
    reads: Callable[[re.Match[str]], str],
) -> tuple[str, list[int]]:
    """Every match replaced; the characters of a replacement come from where the match began."""
    pieces: list[str] = []
    places: list[int] = []
    at = 0
    for match in pattern.finditer(text):
        new = reads(match)
        start, end = match.span()
        if new == match[0]:
            continue
        pieces += [text[at:start], new]
        places += origin[at:start]
        last = origin[end - 1]
        places += [min(origin[start] + k, last) for k in range(len(new))]
        at = end
    pieces.append(text[at:])
    places += origin[at:]
    return "".join(pieces), places
