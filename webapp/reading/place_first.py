"""Phrases of languages that name the place before the stitch, and the number behind it:
``次の5目に細編み1目ずつ`` is ``sc in each of the next 5 sts``.

Tried before the patterns of :mod:`webapp.reading.phrases`, with the same signs. A count of a table
(``6段 36目 +6``) is read where the stitches go evenly into the round; else it stays a count.
"""

from __future__ import annotations

from webapp.reading import marking, meanings
from webapp.reading.meanings import KINDS, MOST_INTO_ONE, Maker, plain
from webapp.reading.model import Work
from webapp.reading.nodes import Act, Fill, Group, Option
from webapp.reading.pieces import Mark, Match, Piece, Sign, Times

_S = "[shdtl]"
_IN = rf"I(?P<s>{_S})(?P<k>n)?p?"


def stitches(m: Match) -> Piece | None:
    """`6目細編み`, `増減なしで細編み18目`; `1目、` in a row is a stitch without its name."""
    number = m.number("k") or 1
    return plain(KINDS.get(m.text("s"), "sc"), number, m.span)


def crosses(m: Match) -> Piece | None:
    """`×5` of a chart's signs: five single crochet."""
    return plain("sc", m.number("k") or 0, m.span) if m.number("k") else None


def back_loops(m: Match) -> tuple[Piece, ...] | None:
    """`すじ編み18目`: single crochet into the back loops, by its own name."""
    number = m.number("k")
    if not number:
        return None
    return (Mark("back", 0, m.span), plain(KINDS.get(m.text("s"), "sc"), number, m.span))


def into_one(m: Match) -> Piece | None:
    """`細編み3目編み入れる`, `1目に細編み3目編み入れる`: so many into one stitch."""
    return _into(m, m.number("m") or 1)


def into_each_of(m: Match) -> Piece | None:
    """`1目に2目ずつ編み入れる` is two into each; `5目に2目ずつ` into each of five."""
    number = m.number("m") or 1
    return two_each(m) if m.has("each") and number == 1 else _into(m, number)


def shaped_times(m: Match) -> tuple[Piece, ...]:
    """`増し目を6回`: of increases alone so many; behind other stitches it may be said of all."""
    kind = "inc" if m.text("sign") == "i" else "dec"
    shaped = Act((Option(((kind, 1),), ""),), m.span_of("sign"))
    return (shaped, Times(m.number("n", "k"), m.span))


def number_and_shaping(m: Match) -> Piece | None:
    """`(2増)×6`: so many increases, or so many plain and one."""
    number, one = m.number("n") or 0, "inc" if m.text("sign") == "i" else "dec"
    if not number:
        return None
    many = (((one, number),), f"{number} times")
    apart = ((("sc", number), (one, 1)), f"{number} plain, then one")
    return Act((Option(*many), Option(*apart)), m.span, "number and shaping")


def two_each(m: Match) -> Piece | None:
    """`各目に2目ずつ編み入れる`."""
    one = _one(m)
    return Fill(one, m.span) if one else None


def _one(m: Match) -> Work | None:
    number, kind = m.number("k") or 1, KINDS.get(m.text("s"), "sc")
    if number == 1:
        return ((kind, 1),)
    if kind == "sc" and number <= MOST_INTO_ONE:
        return (("inc" if number == 2 else f"inc{number}", 1),)
    return ((f"{kind} inc", 1),) if number == 2 and kind in ("hdc", "dc") else None


def _into(m: Match, times: int) -> Piece | None:
    one = _one(m)
    if one is None or not times:
        return None
    work = tuple((kind, number * times) for kind, number in one)
    return Act((Option(work, f"{m.number('k')} into each of {times}"),), m.span)


def increase_after(m: Match) -> Piece | None:
    """`2目おきに増し目`: two plain, an increase, and so on."""
    number = m.number("n") or 0
    if not number:
        return None
    shaped = (("inc" if m.has("i") else "dec", 1),)
    items = (plain("sc", number, m.span), Act((Option(shaped, ""),), m.span))
    return Group(items, (m.number("t") or 0,), m.span)


def times(m: Match) -> Piece:
    """`を6回繰り返す` is six in all; `あと5回繰り返す` is five more."""
    return Times(m.number("n"), m.span, more=m.has("more"))


def all_times(m: Match) -> tuple[Piece, ...]:
    """`細編み1目、増し目1目を6回繰り返す`: all that stands before it, so often."""
    start = m.span_of("stitch")
    kind = {"i": "inc", "e": "dec"}.get(m.text("stitch")) or KINDS[m.text("stitch")]
    last = plain(kind, m.number("k") or 1, start)
    return (last, Times(m.number("n"), m.span, all=True))


def repeated(m: Match) -> Piece:
    """`繰り返す` without a number: to the end of the round."""
    return Times(None, m.span, rep=True)


def counted(m: Match) -> tuple[Piece, ...] | None:
    """A row of a table: its count, and how many more or less than the row before."""
    count, change = m.number("n"), m.number("k") or 0
    if not count:
        return None
    at = m.span_of("n")
    sign = m.text("sign")
    more = change if sign in ("&", "i") else -change
    said = (Mark("counted", more, m.span), Sign("=", 0, at), Sign("n", count, at))
    if m.has("even") or (m.has("k") and not change):
        return (Fill((("sc", 1),), m.span), *said)
    if not m.has("k"):
        return said
    grows = sign in ("&", "i")
    before = count - change if grows else count + change
    each, over = divmod(before, change) if before > 0 else (0, 1)
    rest = each - (1 if grows else 2)
    if over or rest < 0:
        return said
    shaped = Act((Option((("inc" if grows else "dec", 1),), ""),), m.span)
    items = (plain("sc", rest, m.span), shaped) if rest else (shaped,)
    return (Group(items, (change,), m.span), *said)


def counted_behind(m: Match) -> tuple[Piece, ...]:
    """`増し目をして12目にする`: what it comes to."""
    at = m.span_of("n")
    return (Sign("=", 0, at), Sign("n", m.number("n") or 0, at))


def counted_before(m: Match) -> tuple[Piece, ...]:
    """The count of a table's row that stands before its stitches: `2段 / 9目 / ...`."""
    at, number = m.span_of("n"), m.number("n") or 0
    return (Sign("(", 0, at), Sign("n", number, at), Sign(")", 0, at), Sign(":", 0, m.span))


PATTERNS: tuple[tuple[str, str, Maker], ...] = (
    # Rows of tables: all that stands behind the label.
    ("n", r"(?<!.)(?P<n>n)p?[,;:|]?\(?(?P<sign>[&-])(?P<k>n)p?\)?$", counted),
    ("n", r"(?<!.)(?P<n>n)p?[,;:|]?\(?(?P<k>n)p?(?P<sign>[ie])\)?$", counted),
    ("&-", r"(?<!.)(?P<sign>[&-])(?P<k>n)p?[,;:|]?(?P<n>n)p?$", counted),
    ("n?", r"(?<!.)\??(?P<k>n)p(?P<sign>[ie])[.,]?[(\[=]Q?(?P<n>n)p?[)\]]?$", counted),
    ("ie?", r"(?<!.)\??(?P<sign>[ie])(?P<k>n)[xp]\?(?P<n>n)pY", counted),
    ("n", r"(?<=.)(?P<n>n)pY", counted_behind),
    ("n", r"(?<!.)(?P<n>n)p?[,;:|]?\(?(?P<even>V)\)?$", counted),
    ("V", r"(?<!.)(?P<even>V)[,;:|]?(?P<n>n)p?$", counted),
    ("n", r"(?<!.)(?P<n>n)p$", counted),
    ("n", r"(?<!.)(?P<n>n)p[/|](?=.*[shdtlieVR])", counted_before),
    # Starts.
    ("n", r"(?<!.)(?P<n>n)p?[,(|]*R", marking.ring),
    ("R", rf"R[,:;.&]?[IJ]*(?P<s>{_S})(?P<n>n)p?A?", marking.ring),
    ("R", r"R[,:;.&]?I?x(?P<n>n)p?", marking.ring),
    ("R", r"R[,:;.&]?I?(?P<n>n)p(?P<s>[shdt])?A?", marking.ring),
    ("s", r"(?P<s>s)(?P<n>n)pIR", marking.ring),
    ("H", rf"H(?:o|F)[pc]*f?[,&]?O?,?E[pc]*I(?P<s>{_S})(?P<n>n)?p?E?", marking.all_chains),
    ("H", r"H(?:o|F)[pc]*I(?P<s>[shdt])(?P<n>n)?p?A?", marking.first_chain),
    ("oF", r"(?:o|F)cI(?P<s>[shdt])(?P<n>n)p?A?", marking.first_chain),
    ("Y", r"Yc(?:n?p)?", marking.marked("standing")),
    # Legs, chains, joins.
    ("c", rf"(?P<noun>c)(?P<m>n)pZ?{_IN}E?", meanings.into),
    ("A", rf"A(?P<noun>c)(?P<m>n)pZ?{_IN}E?", meanings.into),
    ("c", r"c(?P<n>n)p?[,&]*N?(?P<m>n)?[pc]?k", marking.bridge),
    ("c", r"c(?P<n>n)p?(?:Y|c)?", marking.chain),
    ("FLoG", rf"[FLo]?G(?P<how>[LDpMOIA&E]*)I(?P<s>{_S})(?P<k>n)?p?J?", marking.leg),
    ("FA", r"[FA]+n?[psc]*Il(?:np)?J?", marking.marked("join")),
    ("lJ", r"lI?J|l(?![npx])|J", marking.marked("join")),
    # Rounds said again.
    (
        "n",
        r"(?P<n>n)D?(?:&|f|-|\?)(?P<last>n)D[O?]?(?:(?P<t>n)x)?r",
        marking.again_all,
    ),
    ("n", r"(?P<n>n)D[&I]A", marking.again),
    # Repeats.
    ("m", r"(?P<more>m)(?P<n>n)xr?", times),
    ("n", rf"(?P<n>n)x(?:r|(?!{_S}))", times),
    ("n", r"(?<=[)\]}])(?P<n>n)(?=[,.]?(?:n|[(\[=Q]|$))", times),
    # The cross of charts in front of a number, where nothing stands that could be said so often.
    ("x", r"(?<![)\]}nspiehdtlgER])x(?P<k>n)p?", crosses),
    ("x", r"x(?P<n>n)x?r?", times),
    ("r", r"r", repeated),
    # Loops.
    ("B", r"B(?P<k>n)p", back_loops),
    ("s", r"(?P<s>s)B(?P<k>n)p", back_loops),
    # Skipped, left.
    ("Nn", r"N?(?P<m>n)?[psc]?k", marking.skip),
    # Increases and decreases.
    ("n", r"(?P<n>n)pEI?(?:(?P<i>i)|e)(?:(?P<t>n)xr?|np(?!Y))?", increase_after),
    ("E", r"(?P<q>E)[psc]*I?(?P<i>i)(?:np)?", meanings.increases),
    ("E", r"(?P<q>E)[psc]*I?(?P<e>e)(?:np)?", meanings.decreases),
    ("NAFL", r"(?P<q>[NAFL])(?P<m>n)?[psc]*I(?P<i>i)(?:np)?E?", meanings.increases),
    ("sie", r"(?P<stitch>[sie])(?P<k>n)p(?P<n>n)xr", all_times),
    ("ie", r"(?P<sign>[ie])(?:x(?P<n>n)x?|(?P<k>n)x)r?", shaped_times),
    ("i", r"(?P<i>i)(?P<k>n)p?", meanings.increases),
    ("e", r"(?P<e>e)(?P<k>n)p?", meanings.decreases),
    ("n", r"(?P<n>n)(?P<sign>[ie])(?![np])", number_and_shaping),
    ("n", r"(?<=[(\[])(?P<n>n)p(?P<sign>[ie])(?=[)\]])", number_and_shaping),
    # Into what is named before.
    ("n", rf"(?P<m>n)pI(?P<s>{_S})?(?P<k>n)p(?:(?P<each>E)A?|A)", into_each_of),
    ("E", r"E[psc]*I(?P<k>n)pE?A?", two_each),
    (
        "ENAFLM",
        rf"(?P<q>[ENAFLM]+)(?P<m>n)?(?P<noun>[psc]*){_IN}[AE]*",
        meanings.into,
    ),
    ("NAFL", r"[NAFL]+[psc]*I(?P<k>n)pA?", into_one),
    ("NAFL", r"[NAFL]n[psc]*I(?P<k>n)pA", into_one),
    # Plain stitches.
    ("shdtl", rf"(?P<s>{_S})(?P<k>n)p(?P<each>E)A?", meanings.to_the_end),
    ("n", r"(?P<k>n)pA", into_one),
    ("shdtl", rf"(?P<s>{_S})(?P<k>n)p?A", into_one),
    ("n", r"(?<![^(\[{,])(?P<k>n)p(?=,)", stitches),
    ("V", rf"V(?P<s>{_S})(?P<k>n)p?", stitches),
    ("V", rf"V(?P<s>{_S})", meanings.to_the_end),
    ("O", rf"O(?P<s>{_S})(?!n)", meanings.to_the_end),
    ("shdtl", rf"(?P<s>{_S})x?(?P<k>n)p?(?!pg)(?!g)", meanings.so_many),
    ("n", rf"(?P<k>n)p(?P<s>{_S})(?!n)", stitches),
)
"""The signs a phrase can begin with, its pattern, and what it makes; the first that fits is it."""
