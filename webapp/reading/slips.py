"""Scanning and typing slips, where one reading alone is possible.

A slip is mended only where the word as it stands means nothing in any pattern: ``245C`` can only
be 24 SC, ``Rl:`` only R1. Kinds met are listed from real scans; every pattern is bounded.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Slip:
    """What it looks like, how it is read, and what is said of it.

    ``needs`` is a string without which it is not looked for."""

    pattern: re.Pattern[str]
    reads: Callable[[re.Match[str]], str]
    says: str
    needs: str = ""


_DIGITS = str.maketrans({"l": "1", "I": "1", "O": "0"})


def _figures(match: re.Match[str]) -> str:
    return match[0].translate(_DIGITS)


def _without_page(match: re.Match[str]) -> str:
    """A space for the number of a page and the head that stands on every page beside it."""
    head = match["head"] or ""
    if head and match.string.count(f"\n{head}") + match.string.startswith(head) < 2:
        return match[0]
    return " "


SLIPS: tuple[Slip, ...] = (
    Slip(
        re.compile(r"\*\*([(\[{=][^*\n]{1,20})\*\*"),
        lambda m: m[1],
        "marks of bold type round a count were left out",
        needs="**",
    ),
    Slip(
        re.compile(
            r"(?<![.:)\]}\d\n])\n{1,3}(?P<head>[^\n\d(:]{3,50}\n{1,3})?"
            r"(?:[^\n\d(:]{3,50}[|-] ?)?(?:[Pp]ages?|[Ss]eite|[Pp]ágina|[Pp]agina|[Ss]id[ae])"
            r" \d{1,3}(?: ?(?:/|of|von|sur|de|di|van|av|af) ?\d{1,3})?"
            r"\n{1,3}(?=[a-zà-ÿ(\[])"
        ),
        _without_page,
        "numbers of pages within a round were left out",
    ),
    Slip(
        re.compile(
            r"(?<![A-Za-z\d])(R|Rnd |Rnd|Round |Row |Rd )(?=\d?[lIO])([\dlIO]{1,3})"
            r"(?=\s?[:.)\-]|$)",
            re.MULTILINE,
        ),
        lambda m: m[1] + m[2].translate(_DIGITS),
        "letters l, I or O in the number of a round were read as figures",
    ),
    Slip(
        re.compile(
            r"(?<![^\W\d_])((?:inc|dec|sc|hdc|dc|aug|augm|dim|aum|dism|zun|abn|meerd|mind|udt|indt|øk|ök|økn|ökn"
            r"|fell|minsk))"
            r"x(?=\d)",
            re.IGNORECASE,
        ),
        lambda m: f"{m[1]} x",
        "signs x glued to stitches were set apart",
    ),
    Slip(
        re.compile(r"(?<=[^\s-] )-(\d{1,3})-(?=[ ]{0,4}$)", re.MULTILINE),
        lambda m: f"({m[1]})",
        "counts between dashes were read as counts in brackets",
        needs="-",
    ),
    Slip(
        re.compile(r"(?<=\d-)(?=\d?[lIO])([\dlIO]{1,3})(?=\s?[:.)])"),
        _figures,
        "letters l, I or O at the end of a range were read as figures",
        needs="-",
    ),
    Slip(
        re.compile(r"(?<![A-Za-z\d.,])(\d{0,2})5C(?![A-Za-z\d])"),
        lambda m: f"{m[1]}SC",
        "scanned 5C were read as SC",
        needs="5C",
    ),
    Slip(
        re.compile(r"(?<![A-Za-z\d])(?:[lO]\d{1,2}|\d{1,2}[lIO]\d?)(?![A-Za-z\d])"),
        _figures,
        "letters l, I or O among figures were read as figures",
    ),
    Slip(
        re.compile(r"(?<=\d)ー(?=\d)"),
        lambda m: "-",
        "long signs between figures were read as hyphens",
        needs="ー",
    ),
    Slip(
        re.compile(r"(?<![A-Za-z])([nN])exl(?![A-Za-z])"),
        lambda m: f"{m[1]}ext",
        '"nexl" was read as "next"',
        needs="exl",
    ),
    Slip(
        re.compile(r"(?<![A-Za-z'])'(?=[nN][cC](?![A-Za-z']))"),
        lambda m: "I",
        "apostrophes in front of NC were read as I",
        needs="'",
    ),
    Slip(
        re.compile(r"(?<![A-Za-z'])'(?=(?:[iI][nN][cC]|[dD][eE][cC])(?![A-Za-z']))"),
        lambda m: "",
        "stray apostrophes in front of stitches were left out",
        needs="'",
    ),
    Slip(
        re.compile(r"(?<![A-Za-z])([Ff]i) (rst|nish|ve|ll|nd|nal|fth|rmly|rm|t|ne)(?![A-Za-z])"),
        lambda m: f"{m[1]}{m[2]}",
        "words with a gap after fi were closed up",
        needs="i ",
    ),
    Slip(
        re.compile(r"\(([^()<>\n]{1,80})>"),
        lambda m: f"({m[1]})",
        "signs > were read as closing brackets",
        needs=">",
    ),
    Slip(
        re.compile(r"\*\*(?=[(\[]\d{1,3}[^()\[\]\n]{0,16}[)\]]\*\*)"),
        lambda m: "",
        "marks of bold print in front of counts were left out",
        needs="**",
    ),
    Slip(
        re.compile(r"([(\[]\d{1,3}[^()\[\]\n]{0,16}[)\]])\*\*(?=\s|$)"),
        lambda m: m[1],
        "marks of bold print behind counts were left out",
        needs="**",
    ),
    Slip(
        re.compile(r"([)\]]) ?8 (\d{1,2})(?=\s{0,3}(?:[\[(=,.]|$))", re.MULTILINE),
        lambda m: f"{m[1]} * {m[2]}",
        "figures 8 in front of a number of times were read as *",
        needs="8 ",
    ),
)
