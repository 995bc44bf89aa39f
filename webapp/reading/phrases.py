"""Phrases: what a few words together say, told from their signs.

`sc in next 5 sts`, `5 sc`, `sc5` and `1 fM in die nächsten 5 M` are all five single crochets: the
string of signs is matched by the first of the patterns below that fits, longest ways first.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from webapp.reading import marking, meanings, place_first
from webapp.reading.model import Span
from webapp.reading.pieces import Match, Piece, Sign
from webapp.reading.signs import Word


def phrases(words: Sequence[Word], places_first: bool = False) -> list[Piece]:
    """The pieces a line of words consists of, in order; ``places_first`` where the language names
    a place before its stitch."""
    by_first = _PLACE_FIRST if places_first else _BY_FIRST
    words = [word for at, word in enumerate(words) if not _is_more(words, at)]
    signs = "".join(word.sign for word in words)
    out: list[Piece] = []
    at = 0
    while at < len(signs):
        for pattern, maker in by_first.get(signs[at], ()):
            found = pattern.match(signs, at)
            if found is None:
                continue
            piece = maker(Match(found, words))
            if piece is None:
                continue
            if isinstance(piece, tuple):
                out += piece
            else:
                out.append(piece)
            at = found.end()
            break
        else:
            word = words[at]
            out.append(Sign(word.sign, word.value, Span(word.start, word.end)))
            at += 1
    return out


def _is_more(words: Sequence[Word], at: int) -> bool:
    """`17 more sc` are 17."""
    if words[at].sign != "m" or at == 0 or at + 1 == len(words):
        return False
    return words[at - 1].sign == "n" and words[at + 1].sign in "shdtie"


# ---- the patterns, longest ways first ------------------------------------------------------------

_S = "[shdtl]"
_Q = "[ENAFLZMo]"
_OF = f"n{_S[1:-1]}"
_PATTERNS: tuple[tuple[str, str, meanings.Maker], ...] = (
    # Starts.
    ("n", r"(?P<n>n)(?:(?P<s>[shdt])p?I?|I)[NAEF]*R", marking.ring),
    ("R", r"RJ?[,:;&-]?I?(?P<n>n)(?P<s>[shdt])p?(?:IR)?(?![,;&]?(?:IN|x))", marking.ring),
    ("R", r"R[,:-]?(?P<n>n)(?![a-zA-Zx])", marking.ring),
    (
        "nshdt",
        r"(?P<n>n)?(?P<s>[shdt])IA?(?:o|F|n\.)c(?:f?I?H)?&?(?:IE[cp]O?|O|I$|I(?=[,.]))",
        marking.all_chains,
    ),
    (
        "nshdt",
        r"(?P<n>n)?(?P<s>[shdt])IA?(?:o|F|n\.)c(?:f?I?H)?&I?[EN]+(?P<m>n)[cp]*",
        marking.so_many_chains,
    ),
    (
        "nshdt",
        r"(?P<n>n)?(?P<s>[shdt])IA?(?:o|F|n\.)c(?:f?I?H)?&I?Nc",
        marking.so_many_chains,
    ),
    ("nshdt", r"(?P<n>n)?(?P<s>[shdt])IA?(?:(?:o|F|n\.)c(?:f?I?H)?|ncf?H)", marking.first_chain),
    ("I", r"I(?:o|F|n\.)c(?:f?H)?(?P<n>n)(?P<s>[shdt])", marking.first_chain),
    ("I", r"I(?:o|F|n\.)cf?H", marking.marked("into chain")),
    ("f", r"f(?:o|F|n\.)c(?:f?I?H)?[,:]?(?=n?[shdt])", marking.marked("into chain")),
    ("R", r"R", marking.marked("ring")),
    # Repeats.
    (
        "r",
        r"(?P<rep>r)[fI]?(?P<star>\*)I?LN?(?:n[psc]?|[psc])(?=[,;.&])",
        marking.repeat,
    ),
    (
        "r",
        r"(?P<rep>r)[fI?]?(?P<star>\*)(?:[-If&?]?\*)?,?\??(?P<all>Q)?"
        r"(?:(?P<w>w)|(?P<pre>m)?x?(?P<n>n)?(?P<more>m)?x?)O?",
        marking.repeat,
    ),
    (
        "r",
        r"rI?[DW](?P<n>n)(?:-|I|&|\?)[DW]?(?P<last>n)(?:,?(?:(?P<w>w)|m?x?(?P<t>n)m?x?))?",
        marking.again_all,
    ),
    ("r", r"rI?LI?[DW](?:,?(?:(?P<w>w)|m?x?(?P<t>n)m?x?m?))?", marking.again),
    ("r", r"rI?[DW](?P<n>n)?(?:,?(?:(?P<w>w)|m?x?(?P<t>n)m?x?m?))?", marking.again),
    ("r", r"(?P<rep>r)(?:(?P<w>w)|(?P<pre>m)?x?(?P<n>n)?(?P<more>m)?x?)O?", marking.repeat),
    (
        "f",
        r"f(?P<star>\*)(?:[-If&?]?\*)?,?\??(?P<pre>m)?x?(?P<n>n)?(?P<more>m)?x?(?P<rep>r)O?",
        marking.repeat,
    ),
    ("n", r"(?P<n>n)(?P<more>m)(?:x|$)", marking.count_of_times),
    ("x", r"x(?P<n>n)", marking.count_of_times),
    ("n", rf"(?P<n>n)x(?!{_S}|[ie]|n[ps]?g)", marking.count_of_times),
    ("w", r"wI?E(?:p|(?P<s>[shdt])p?)O?(?=[,;.(\[<{=-]|$)", meanings.twice_into_each),
    ("w", r"(?P<w>w)", marking.count_of_times),
    # Legs, chains, joins.
    (_OF, rf"(?P<s>{_S})I[EN]*(?P<k1>n)p?[IFoMA?]{{0,2}}G(?:n(?![xps]))?", marking.leg),
    (_OF, rf"(?P<k>n)?(?P<s>{_S})(?P<k1>n)?p?(?P<how>[IODEpFoAM]*)Gn?", marking.leg),
    ("c", rf"c(?P<n>n)[,&]?(?:n?{_S})I?A[ps]", meanings.chains_into_the_same),
    ("c", r"^c(?P<n>n)[,;&]*k[NF]?(?P<m>n)?[psc]?", marking.first_bridge),
    ("c", r"c(?P<n>n)[,;&]*k[NF]?(?P<m>n)?[psc]?", marking.bridge),
    ("k", r"k[NF]?(?P<m>n)?[psc]?[,;&]*c(?P<n>n)", marking.bridge),
    ("c", r"c(?P<n>n)", marking.chain),
    ("n", r"(?P<n>n)c", marking.chain),
    ("n", r"(?P<one>n)l\.?J", marking.joined_by_one),
    ("J", r"J[DWR]?nl(?:I[FNA]*[psc]?)?", marking.marked("join")),
    ("n", r"(?P<one>n)lIF[psc](?=[,;.:Y]|$)", marking.joined_by_one),
    (
        "lJ",
        r"lI?[FJ][FNp]*[pscRei]?J?|J[lI]+[FNA]*[psc]l?|JI?[FNAo]*(?:G|[psc])?l?",
        marking.marked("join"),
    ),
    ("T", r"T", marking.marked("turn")),
    ("Z", r"Z(?:f?c(?=[,n]))?", marking.marked("edge")),
    ("IB", r"I?B", marking.marked("back")),
    ("Ib", r"I?b", marking.marked("front")),
    ("kMnpsU", r"k?[LMN]*(?P<m>n)?[ps]*U", marking.left_unworked),
    ("k", r"kM(?P<m>n)?[ps]*", marking.left_unworked),
    ("ei", r"[ei]V", marking.marked("evenly")),
    # Decreases.
    (_OF + "IN", rf"(?:(?P<k>n)x?)?(?P<s>{_S})?I?N?(?P<n>n)(?P<noun>[ps])?g", meanings.together),
    (
        "E",
        r"E(?:(?P<o>o)|(?P<o1>n)\.)&(?:(?P<o2>o)|(?P<o3>n)\.)[ps]?[ge](?:,?O)?",
        meanings.dec_every,
    ),
    ("E", r"E(?P<n>n)[psc]?g", meanings.together_to_the_end),
    ("n", r"(?P<n>n)&(?P<again>n)[psc]?gO?", meanings.pairs_together),
    ("g", r"gp?(?P<n>n)&(?P<again>n)[psc]?O?", meanings.pairs_together),
    ("g", r"g(?P<n>n)(?:(?P<s>[shdt])p?|p|(?![a-zA-Z]))", meanings.together),
    (
        "eg",
        r"[eg]I?E?(?:(?P<o>o)|(?P<o1>n)\.)&(?:(?P<o2>o)|(?P<o3>n)\.)p?(?:,?O)?",
        meanings.dec_every,
    ),
    (
        _OF + "e",
        rf"(?P<k>n)?x?(?P<s>{_S})?(?P<e>e)(?:I?(?P<q>[ENALQ]+)(?P<m>n)?[ps]*(?P<ar>O)?"
        rf"|I(?P<m1>n)p?|(?(k)(?!)|(?P<post>n)(?![shdtlieogcx.])p?))?",
        meanings.decreases,
    ),
    (_OF, rf"(?P<s>{_S})I?N(?P<e>e)", meanings.next_together),
    # Increases.
    ("n", r"(?P<k>n)-(?P<i>[ie])(?![ENAFLIp])", meanings.hyphened),
    ("i", r"i(?:n?pI)(?P<o>n)(?:p?O)?(?=[,;.(\[<{=-]|$)", meanings.inc_one_in),
    ("i", r"iI?E(?:(?P<o>o)|(?P<o1>n)\.)[ps]?(?:,?O)?", meanings.inc_every),
    ("E", r"E(?:(?P<o>o)|(?P<o1>n)\.)[ps]?i(?:,?O)?", meanings.inc_every),
    ("E", r"(?P<q>E)[ps]*(?P<i>i)", meanings.increases),
    (
        _OF + "i",
        rf"(?P<k>n)?x?(?P<s>{_S})?(?P<i>i)(?:I?(?P<q>[ENAFLQ]+)(?P<m>n)?[psc]*(?P<ar>O)?"
        rf"|I(?P<m1>n)p?|(?(k)(?!)|(?P<post>n)(?![shdtlieogcx.])p?))?",
        meanings.increases,
    ),
    ("IE", rf"I?E(?:(?P<o>o)|(?P<o1>n)\.)p?,?(?P<k>n)(?P<s>{_S})(?:,?O)?", meanings.into_every),
    ("n", rf"(?P<k>n)(?P<s>{_S})p?IE(?:(?P<o>o)|(?P<o1>n)\.)[ps]?(?:,?O)?", meanings.into_every),
    # Two into one stitch, said one after the other.
    (
        _OF,
        rf"(?P<k>n)?(?P<s>{_S})(?P<where>I?[NEO]*p?)[,&]?(?P<more>n)?(?P=s)I?A[ps]",
        meanings.same_again,
    ),
    # Plain stitches.
    (_OF, rf"(?P<k>n)?(?P<s>{_S})I[ANF]+p&I?(?P<q>E)[psc]*O?(?![no])", meanings.into),
    (_OF, rf"(?P<s>{_S})I(?=[,;.(\[<{{=-]|$)", meanings.to_the_end),
    ("n", rf"(?P<k>n)(?P<s>{_S})I(?=[,;.(\[<{{=-]|$)", meanings.so_many),
    (_OF, rf"(?P<s>{_S})(?P<k>n)(?=[ie](?!n?[ps]?g))", meanings.glued_many),
    (
        _OF,
        rf"(?P<k>n)?(?P<s>{_S})p?I(?P<q>{_Q}*)(?P<m>n)?[NAE]*(?P<noun>[psc]*)"
        r"(?:\?F[isep])?(?P<ar>O)?",
        meanings.into,
    ),
    (_OF, rf"(?P<s>{_S})(?P<k>n)I(?P<q>[NA]+)p", meanings.into),
    (_OF, rf"(?P<s>{_S})(?P<k>n)I(?P<q>E)pO?", meanings.few_into_each),
    (_OF, rf"(?P<s>{_S})Q(?P<m>n)p?", meanings.into),
    ("I", rf"I(?P<q>[ENAL]+)(?P<m>n)?[psc]+,?(?P<k>n)(?P<s>{_S})(?P<ar>O)?", meanings.into),
    ("E", rf"(?P<q>E)p,?(?P<k>n)(?P<s>{_S})(?![ps]?I)", meanings.into),
    (_OF, rf"(?P<s>{_S})w(?P<where>I[ENA]*(?P<m>n)?p?O?)?", meanings.twice),
    # `1 pb em cada uma das próximas 4 corr`, `1 fM in jede der 3 Lm`: the word for each holds the
    # `in`.
    (_OF, rf"(?P<k>n)?(?P<s>{_S})(?P<q>EN?)(?P<m>n)(?P<noun>[psc])", meanings.into),
    (_OF, rf"(?P<k>n)?(?P<s>{_S})(?P<each>E)[psc]*O?", meanings.to_the_end),
    (_OF, rf"(?P<s>{_S})(?P<q>N)(?P<m>n)?[ps]*", meanings.into),
    (_OF + "V", rf"(?P<k>n)?(?P<s>{_S})?V(?:O|I?E?p)?(?!I?n[shdt])", meanings.to_the_end),
    ("IE", r"I?E[psc]+V?O?", meanings.to_the_end),
    (_OF, rf"(?P<k>n)?(?P<s>{_S})O", meanings.to_the_end),
    ("n", rf"(?P<k>n)x?(?P<s>{_S})p?", meanings.so_many),
    (_OF, rf"(?P<s>{_S})(?P<k>n)(?![shdtliegx])p?", meanings.so_many),
    (_OF, rf"(?P<s>{_S})", meanings.so_many),
    ("k", r"k[NF]?(?P<m>n)?[psc]?(?:I(?=[,;.)\]]|$))?", marking.skip),
    ("n", r"(?<!\?)(?P<k>n)IA?[NFL]p?(?!n)", meanings.numbers_into_one),
)
"""The signs a phrase can begin with, its pattern, and what it makes; the first that fits is it."""


def _compiled(
    patterns: tuple[tuple[str, str, meanings.Maker], ...],
) -> dict[str, tuple[tuple[re.Pattern[str], meanings.Maker], ...]]:
    """The patterns by the sign they begin with, in order."""
    by_first: dict[str, list[tuple[re.Pattern[str], meanings.Maker]]] = {}
    for firsts, text, maker in patterns:
        for sign in dict.fromkeys(firsts):
            by_first.setdefault(sign, []).append((re.compile(text), maker))
    return {sign: tuple(entries) for sign, entries in by_first.items()}


_BY_FIRST = _compiled(_PATTERNS)
_PLACE_FIRST = _compiled((*place_first.PATTERNS, *_PATTERNS))
