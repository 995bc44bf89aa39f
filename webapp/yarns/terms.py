"""The words of patterns, US and UK.

The two differ by one step in the names of stitches: a US single crochet is a UK double crochet.
``dc`` alone would change the toy, so a pattern always says whose words it uses. A stitch is called
``sc`` everywhere in the program; only what is written for makers goes through a :class:`TermSet`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

US_TO_UK: Mapping[str, str] = MappingProxyType(
    {
        "chain": "chain",
        "slip stitch": "slip stitch",
        "single crochet": "double crochet",
        "half double crochet": "half treble",
        "double crochet": "treble",
        "treble crochet": "double treble",
        "double treble crochet": "triple treble",
        "skip": "miss",
        "gauge": "tension",
        "yarn over": "yarn round hook",
        "fasten off": "fasten off",
    }
)
"""UK name for each US name: published conversion charts, which agree but for the slip stitch (one
gives it the obsolete UK name "single crochet"); "fasten off" from memory."""


class Terms(Enum):
    """Whose words a pattern uses."""

    US = "us"
    UK = "uk"


@dataclass(frozen=True)
class TermSet:
    """The words of one pattern.

    Stitches are abbreviated as in the middle of a line; ``rnd`` to ``rows`` are capitalised as at
    its start, ``gauge`` as a heading. ``abbreviations`` explains, in the order of an abbreviation
    list (by letter), each short word of a pattern; plurals have entries of their own. ``rarer``
    explains those that our own toys do without: taller stitches, and several worked together.
    """

    terms: Terms
    sc: str
    inc: str
    dec: str
    sl_st: str
    ch: str
    st: str
    sts: str
    rnd: str
    rnds: str
    row: str
    rows: str
    magic_ring: str
    gauge: str
    skip: str
    fasten_off: str
    sc_name: str
    abbreviations: tuple[tuple[str, str], ...]
    hdc: str = "hdc"
    dc: str = "dc"
    tr: str = "tr"
    rarer: tuple[tuple[str, str], ...] = ()


def term_set(terms: Terms) -> TermSet:
    """The words of ``terms``."""
    return _SETS[terms]


def _words(terms: Terms, *, sc: str, sl_st: str, taller: tuple[str, str, str]) -> TermSet:
    """A set of words; the two differ in these abbreviations and by :data:`US_TO_UK`."""
    return TermSet(
        terms=terms,
        sc=sc,
        inc="inc",
        dec="dec",
        sl_st=sl_st,
        ch="ch",
        st="st",
        sts="sts",
        rnd="Rnd",
        rnds="Rnds",
        row="Row",
        rows="Rows",
        magic_ring="magic ring",
        gauge=_name(terms, "gauge").capitalize(),
        skip=_name(terms, "skip"),
        fasten_off=_name(terms, "fasten off"),
        sc_name=_name(terms, "single crochet"),
        abbreviations=_abbreviations(terms, sc, sl_st),
        hdc=taller[0],
        dc=taller[1],
        tr=taller[2],
        rarer=_rarer(terms, sc, taller),
    )


def _name(terms: Terms, us_name: str) -> str:
    return US_TO_UK[us_name] if terms is Terms.UK else us_name


def _abbreviations(terms: Terms, sc: str, sl_st: str) -> tuple[tuple[str, str], ...]:
    meanings = {
        "ch": _name(terms, "chain"),
        "dec": "invisible decrease: hook through the front loops of the next 2 sts, then finish "
        f"them as 1 {sc}",
        "inc": f"increase: 2 {sc} in the same st",
        "Rnd": "round",
        "Rnds": "rounds",
        sc: _name(terms, "single crochet"),
        sl_st: _name(terms, "slip stitch"),
        "st": "stitch",
        "sts": "stitches",
    }
    return tuple(sorted(meanings.items(), key=lambda row: row[0].lower()))


def _rarer(terms: Terms, sc: str, taller: tuple[str, str, str]) -> tuple[tuple[str, str], ...]:
    hdc, dc, tr = taller
    meanings = {
        hdc: _name(terms, "half double crochet"),
        dc: _name(terms, "double crochet"),
        tr: _name(terms, "treble crochet"),
        f"{sc}3tog": f"3 {sc} worked together: 1 st over the next 3",
        f"{hdc}2tog": f"2 {hdc} worked together: 1 st over the next 2",
        f"{dc}2tog": f"2 {dc} worked together: 1 st over the next 2",
    }
    return tuple(meanings.items())


_SETS: Mapping[Terms, TermSet] = MappingProxyType(
    {
        Terms.US: _words(Terms.US, sc="sc", sl_st="sl st", taller=("hdc", "dc", "tr")),
        Terms.UK: _words(Terms.UK, sc="dc", sl_st="ss", taller=("htr", "tr", "dtr")),
    }
)
