"""The words of patterns, US and UK, and those of other languages.

The two differ by one step in the names of stitches: a US single crochet is a UK double crochet.
``dc`` alone would change the toy, so a pattern always says whose words it uses. A stitch is called
``sc`` everywhere in the program; only what is written for makers goes through a :class:`TermSet`.
Short words come from the tables other people's patterns are read by (:mod:`webapp.terms`): the
first form of each concept, or what the table of another language says is ours; sentences from its
catalogue (:mod:`webapp.words`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import cache, cached_property
from types import MappingProxyType

from webapp.terms import Language, Manner, OurTerm, term_table
from webapp.words import Catalogue, catalogue
from webapp.yarns.units import LengthUnit

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
    """Whose words a pattern uses; the values are those of :class:`Language`."""

    US = "us"
    UK = "uk"
    GERMAN = "de"
    FRENCH = "fr"
    SPANISH = "es"
    ITALIAN = "it"
    DUTCH = "nl"
    JAPANESE = "ja"
    PORTUGUESE = "pt"
    DANISH = "da"
    SWEDISH = "sv"
    NORWEGIAN = "nb"

    @property
    def english(self) -> bool:
        return self in (Terms.US, Terms.UK)

    @property
    def tag(self) -> str:
        """The language as BCP 47 has it, with its country where words depend on it."""
        return TAGS.get(self, self.value)


TAGS: Mapping[Terms, str] = {Terms.US: "en-US", Terms.UK: "en-GB", Terms.PORTUGUESE: "pt-BR"}
"""Language tags of terms whose short name is none; our own Portuguese is Brazil's."""


@dataclass(frozen=True)
class TermSet:
    """The words of one pattern.

    Stitches are abbreviated as in the middle of a line; ``rnd`` to ``rows`` are capitalised as at
    its start (``rnd_small`` and ``rnds_small`` are not), ``gauge`` as a heading. ``unchecked`` are
    the short words that no published source was found for; ``manner`` how stitches are put into a
    row; ``spaced`` tells whether words stand apart. ``abbreviations`` explains, in the
    order of an abbreviation list (by letter), each short word of a pattern; plurals have entries of
    their own. ``rarer`` explains those that our own toys do without: taller stitches, and several
    worked together.
    """

    terms: Terms
    catalogue: Catalogue
    sc: str
    inc: str
    dec: str
    sl_st: str
    ch: str
    st: str
    sts: str
    rnd: str
    rnds: str
    rnd_small: str
    rnds_small: str
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
    unchecked: tuple[str, ...] = ()
    manner: Manner = field(default_factory=Manner)
    spaced: bool = True

    @cached_property
    def spoken(self) -> Mapping[str, str]:
        """The words that every sentence may use, by their names."""
        names = ("sc", "inc", "dec", "sl_st", "ch", "st", "sts", "rnd", "rnds", "rnd_small")
        more = ("rnds_small", "row", "rows", "gauge", "skip", "fasten_off", "magic_ring",
                "sc_name")  # fmt: skip
        spoken = {name: getattr(self, name) for name in (*names, *more)}
        small = self.gauge if self.terms is Terms.GERMAN else self.gauge.lower()
        return {**spoken, "gauge_small": small}

    def say(self, sentence: str, /, **values: object) -> str:
        """A sentence in the pattern's language, with the words of stitches in it."""
        return self.catalogue.say(sentence, values, self.spoken)

    def many(self, one: str, more: str, number: int, /, **values: object) -> str:
        """The same in the form that a number calls for."""
        return self.catalogue.many(one, more, number, values, self.spoken)

    def name(self, text: str) -> str:
        """The name of a toy, a part or a colour, as its recipe has it where there is none other."""
        return self.catalogue.name(text)

    def part(self, label: str) -> str:
        """The name of a part inside a sentence: small, but where nouns are not."""
        return self.small(self.catalogue.name(label))

    def small(self, name: str) -> str:
        """A name inside a sentence."""
        return name if self.terms is Terms.GERMAN else name.lower()

    def length(self, mm: float, unit: LengthUnit) -> str:
        """`18.3 cm` or `7 1/8 in`, in the pattern's language."""
        number = self.figures(unit.format(mm).removesuffix(f" {unit.value}"))
        if unit is LengthUnit.CM:
            return self.say("{number} cm", number=number)
        return self.say("{number} in", number=number)

    def figures(self, text: str) -> str:
        """Figures with the language's own decimal sign."""
        return self.catalogue.figures(text)


@cache
def term_set(terms: Terms) -> TermSet:
    """The words of ``terms``."""
    return _english(terms) if terms.english else _foreign(terms)


def _english(terms: Terms) -> TermSet:
    """A set of words; the two differ in the tables' stitches and by :data:`US_TO_UK`."""
    language = Language(terms.value)
    forms = term_table(language).forms
    sc, sl_st = forms["sc"][0], forms["slst"][0]
    st, sts = forms["st"][:2]
    taller = (forms["hdc"][0], forms["dc"][0], forms["tr"][0])
    rnd, rnds = (form.capitalize() for form in forms["round"][:2])
    row, rows = (form.capitalize() for form in forms["row"][:2])
    return TermSet(
        terms=terms,
        catalogue=catalogue(language),
        sc=sc,
        inc=forms["inc"][0],
        dec=forms["dec"][0],
        sl_st=sl_st,
        ch=forms["ch"][0],
        st=st,
        sts=sts,
        rnd=rnd,
        rnds=rnds,
        rnd_small=rnd.lower(),
        rnds_small=rnds.lower(),
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


def _foreign(terms: Terms) -> TermSet:
    """The words of another language: those that its table says are ours."""
    language = Language(terms.value)
    table = term_table(language)
    short = {concept: term.short for concept, term in table.ours.items()}
    words = TermSet(
        terms=terms,
        catalogue=catalogue(language),
        sc=short["sc"],
        inc=short["inc"],
        dec=short["dec"],
        sl_st=short["slst"],
        ch=short["ch"],
        st=short["st"],
        sts=short["sts"],
        rnd=_capital(short["rnd"]),
        rnds=_capital(short["rnds"]),
        rnd_small=short["rnd"],
        rnds_small=short["rnds"],
        row=_capital(short["row"]),
        rows=_capital(short["rows"]),
        magic_ring=short["ring"],
        gauge=_capital(short["gauge"]),
        skip=short["skip"],
        fasten_off=short["fasten_off"],
        sc_name=table.ours["sc"].name,
        abbreviations=(),
        hdc=table.forms["hdc"][0],
        dc=table.forms["dc"][0],
        tr=table.forms["tr"][0],
    )
    return replace(
        words,
        manner=table.manner,
        spaced=table.spaced,
        abbreviations=tuple(_meanings(words, table.ours)),
        unchecked=tuple(dict.fromkeys(t.short for t in table.ours.values() if not t.checked)),
    )


def _meanings(words: TermSet, ours: Mapping[str, OurTerm]) -> Iterator[tuple[str, str]]:
    """What an abbreviation list says of each short word that is not the whole word."""
    yield ours["inc"].short, words.say("{name}: 2 {sc} in the same {st}", name=ours["inc"].name)
    yield (
        ours["dec"].short,
        words.say(
            "{name}: hook through the front loops of the next 2 {sts}, then finish them as 1 {sc}",
            name=ours["dec"].name,
        ),
    )
    for concept in ("ch", "sc", "slst", "st", "sts", "rnd", "rnds"):
        term = ours[concept]
        shown = term.short if concept not in ("rnd", "rnds") else _capital(term.short)
        plural = concept in ("sts", "rnds") and term.short == ours[concept[:-1]].short
        if term.name and term.name != term.short and not plural:
            yield shown, term.name


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


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
