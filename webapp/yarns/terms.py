"""The words of patterns, US and UK.

The two differ by one step in the names of stitches: a US single crochet is a UK double crochet.
``dc`` alone would change the toy, so a pattern always says whose words it uses. A stitch is called
``sc`` everywhere in the program; only what is written for makers goes through a :class:`TermSet`.
Short words come from the tables other people's patterns are read by (:mod:`webapp.terms`): the
first form of each concept.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from webapp.terms import Language, term_table

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


def _words(terms: Terms) -> TermSet:
    """A set of words; the two differ in the tables' stitches and by :data:`US_TO_UK`."""
    forms = term_table(_LANGUAGES[terms]).forms
    sc, sl_st = forms["sc"][0], forms["slst"][0]
    st, sts = forms["st"][:2]
    taller = (forms["hdc"][0], forms["dc"][0], forms["tr"][0])
    rnd, rnds = (form.capitalize() for form in forms["round"][:2])
    row, rows = (form.capitalize() for form in forms["row"][:2])
    return TermSet(
        terms=terms,
        sc=sc,
        inc=forms["inc"][0],
        dec=forms["dec"][0],
        sl_st=sl_st,
        ch=forms["ch"][0],
        st=st,
        sts=sts,
        rnd=rnd,
        rnds=rnds,
        row=row,
        rows=rows,
        magic_ring=forms["ring"][0],
        gauge=_name(terms, "gauge").capitalize(),
        skip=forms["skip"][0],
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


_LANGUAGES: Mapping[Terms, Language] = MappingProxyType(
    {Terms.US: Language.US, Terms.UK: Language.UK}
)
_SETS: Mapping[Terms, TermSet] = MappingProxyType({terms: _words(terms) for terms in Terms})
