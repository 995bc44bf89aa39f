"""One round at a time: every way of saying it, and the smallest mend of what is wrong.

The ways are those met in a sample of 97 published toy patterns (common practice, no source); the
examples are composed here, and each count is worked out by hand: into how many stitches the round
is worked, and how many it has then.
"""

from __future__ import annotations

import pytest

from webapp.reading import Verdict, read_pattern
from webapp.reading.bodies import read_body
from webapp.reading.checking import Asked, Checked, check
from webapp.terms import Language

WAYS = [
    ("(3 sc, inc) x 6 [30]", 24, 30),
    ("(3 sc, inc) x6 (30)", 24, 30),
    ("(3 sc, inc) * 6 (30)", 24, 30),
    ("(3 sc, inc) *6 = 30", 24, 30),
    ("(3 sc, inc) 6 times (30)", 24, 30),
    ("(3 sc, inc) twice (10)", 8, 10),
    ("(3 sc, inc) repeat 6 times (30)", 24, 30),
    ("(3sc, inc) rep 6 times. 30 sc.", 24, 30),
    ("(3sc, inc) 6x [30 sts]", 24, 30),
    ("(3 sc, inc) around (30)", 24, 30),
    ("(3 sc, inc) rep around {30 sts}", 24, 30),
    ("[3 sc, inc] x 6 -> 30 sc", 24, 30),
    ("[3 sc, inc] 6 times - 30 sc", 24, 30),
    ("*3 sc, inc* x 6 (30)", 24, 30),
    ("*3 sc, inc* 6 times (30)", 24, 30),
    ("3 sc, inc* 6 times (30)", 24, 30),
    ("*3 sc, inc* around (30)", 24, 30),
    ("*3 sc, inc* repeat around (30)", 24, 30),
    ("*3 sc, inc* to eor (30)", 24, 30),
    ("*3 sc, inc* (30)", 24, 30),
    ("*3 sc, inc; rep from * around (30)", 24, 30),
    ("*sc in next 3 sts, 2 sc in next st, repeat from * to end (30 sts)", 24, 30),
    ("*(3 sc, inc), repeat from * 5 more times (30)", 24, 30),
    ("(3 sc, inc), repeat 5 more times (30)", 24, 30),
    ("sc 3, inc* (30)", 24, 30),
    ("(3 sc, inc)* (30)", 24, 30),
    ("|3 sc, inc| x6 (30)", 24, 30),
    ("3 sc, 1 inc = 30", 24, 30),
    ("3 sc, inc, (6 sc, inc) x 5, 3 sc (48)", 42, 48),
    ("2 dec, 3 sc (10)", 14, 10),
    ("sc twice in each st around (12)", 6, 12),
    ("(18) [sc, inc] x6", 12, 18),
    ("(12) 12 sc", 12, 12),
    ("sc twice in each of next 3 sts, sc 3 (9)", 6, 9),
    ("work twice into each st (12)", 6, 12),
    ("sc 2, inc all the way around. Total stitches: 24.", 18, 24),
    ("(sc 2, inc) x 6. Stitches: 24", 18, 24),
    ("1 sc in next st. 1 sc in each of next 2 sts. Turn. 3 sc.", 3, 3),
    ("W: 12 sc, B: 12 sc (24)", 24, 24),
    ("(4 sc inc) x6 (36)", 30, 36),
    ("(3 sc, inc). X6 (30)", 24, 30),
    ("inc. 3 sc x 6 (30)", 24, 30),
    ("4, inc, 7, inc, 4 (19)", 17, 19),
    ("sc in next 5 sts, inc (7)", 6, 7),
    ("sc in 5, inc (7)", 6, 7),
    ("sc 5, inc (7)", 6, 7),
    ("sc in each of next 5 sts, inc (7)", 6, 7),
    ("sc5, inc (7)", 6, 7),
    ("sc x 5, inc (7)", 6, 7),
    ("sc, sc, sc, sc, sc, inc (7)", 6, 7),
    ("5sc, inc (7)", 6, 7),
    ("SC around (18)", 18, 18),
    ("sc in each st around. 18 sc.", 18, 18),
    ("sc in each st to end (18)", 18, 18),
    ("sc ea st (18)", 18, 18),
    ("sc ar", 18, 18),
    ("even", 18, 18),
    ("work even (18)", 18, 18),
    ("straight (18)", 18, 18),
    ("unchanged", 18, 18),
    ("in all 18 st", 18, 18),
    ("sc x 18", 18, 18),
    ("sc around", 18, 18),
    ("SC (18)", 18, 18),
    ("= 18", 18, 18),
    ("(18)", 18, 18),
    ("6 inc (12)", 6, 12),
    ("8inc (16)", 8, 16),
    ("6-inc (12)", 6, 12),
    ("inc x 6 (12)", 6, 12),
    ("inc 6 times (12)", 6, 12),
    ("6x inc (12)", 6, 12),
    ("2 sc in each st (12)", 6, 12),
    ("2 sc in each st around (12)", 6, 12),
    ("2 sc inc in next st, 5 sc (7)", 6, 7),
    ("sc inc, 5 sc (7)", 6, 7),
    ("sc twice in next st, 5 sc (7)", 6, 7),
    ("increase in each st (12)", 6, 12),
    ("inc in every st around (12)", 6, 12),
    ("inc around (12)", 6, 12),
    ("*sc in 2, 2sc* (24)", 18, 24),
    ("(2sc), 5 sc (7)", 6, 7),
    ("2 sc in next st, 2 sc, 2 sc in next st, 2 sc (8)", 6, 8),
    ("inc3, 5 sc (8)", 6, 8),
    ("3 sc in next st, 5 sc (8)", 6, 8),
    ("4 sc in one loop, 5 sc (9)", 6, 9),
    ("(4 sc, dec) x 6 (30)", 36, 30),
    ("sc2tog 6 times (6)", 12, 6),
    ("(sc2tog) x 6 (6)", 12, 6),
    ("(sc in next 4 sts, sc2tog) around (30)", 36, 30),
    ("(4 sc, 2 sc tog) x 6 (30)", 36, 30),
    ("(4 sc, 2sctog) x 6 (30)", 36, 30),
    ("(4 sc, next 2 sts together) x 6 (30)", 36, 30),
    ("(4 sc, sc next 2 sts together) x 6 (30)", 36, 30),
    ("(4 sc, sc dec) x 6 (30)", 36, 30),
    ("(4 sc, 1 sc dec) x 6 (30)", 36, 30),
    ("(4 sc, dec 1) x 6 (30)", 36, 30),
    ("dec around (6)", 12, 6),
    ("(4 sc, dec over next 2 sts) x 6 (30)", 36, 30),
    ("(4 sc, dec across next 2) x 6 (30)", 36, 30),
    ("(4 sc, invdec) x 6 (30)", 36, 30),
    ("(4 sc, (sc2t)) x 6 (30)", 36, 30),
    ("(sk 1, sc 1) x 6 (6)", 12, 6),
    ("dec in next st, 4 sc (5)", 6, 5),
    ("6 dec (6)", 12, 6),
    ("dec 6 (6)", 12, 6),
    ("dec x 6 (6)", 12, 6),
    ("ch 1, 2 sc in each st around, sl st to first sc (12)", 6, 12),
    ("ch 1, sc in each st around, join with sl st to first st (12)", 12, 12),
    ("BLO: sc around (12)", 12, 12),
    ("in back loops only, sc in each st around (12)", 12, 12),
    ("sc in BLO around (12)", 12, 12),
    ("24 sc FLO", 24, 24),
    ("BLO of rnd 10: sc around (24)", 24, 24),
    ("5 sc, *inc, sc in next st; rep from * 2 more times, sc in next 5 sts (19)", 16, 19),
    ("(sc, inc) x 3, 6 sc, (sc, inc) x 3 (24)", 18, 24),
    ("[(sc, inc) x 3, 4 sc] x 2 [26]", 20, 26),
    ("sc in next 4 sts, inc in next st, sc in next 4 sts. Ten sts", 9, 10),
    ("5 sc, 2 sc in next 2 sts, 5 sc (14)", 12, 14),
    ("inc in next 3 sts, 3 sc (9)", 6, 9),
    ("6 sc, inc in each of next 6 sts, 6 sc (24)", 18, 24),
    ("sc in first 3 sts, inc in last 3 sts (9)", 6, 9),
    ("inc, sc to end (7)", 6, 7),
    ("12 sc, leave remaining sts unworked (12)", 24, 12),
    ("*2 sc, 2 sc in next st (24)", 18, 24),
    ("2dc in next st, 1dc to end", 6, 7),
    ("*sc 1, inc 1* 6 times 18 sc", 12, 18),
    ("(1 sc, 1 inc) x 6 = 18 sts. Change to white", 12, 18),
    ("1 sc in each of the next 3 sts, 2 sc in the next st, repeat around = (30)", 24, 30),
    ("(sc in next st, 2 sc in next st) six times - 18 sts.", 12, 18),
    ("{2 sc, inc} x 6 (24)", 18, 24),
    ("sc in next 2 sts, 2 sc in next st, repeat to the end of the round (24)", 18, 24),
    ("Inc in every 3rd st (24)", 18, 24),
    ("{24}: *2 sc, inc; rep from * around", 18, 24),
    ("(24): (2 sc, inc) x 6", 18, 24),
    ("(2 sc, inc) x 6 <24>", 18, 24),
    ("<2 sc, inc> x 6 <24>", 18, 24),
    ("ch 1, (2 sc, inc) around, sl st to 1st sc (24)", 18, 24),
    ("sc dec x6 12", 18, 12),
    ("sc inc x6 18", 12, 18),
    ("sc inc in next 3 sts, 3 sc (9)", 6, 9),
    ("behind the back wall 24 sc", 24, 24),
    ("sc in next 3, 2 in next, repeat around (30)", 24, 30),
    ("3 sc, inc (6 times) (30)", 24, 30),
    ("3 sc, inc, [x6] 30 sts", 24, 30),
    ("*3 sc, inc*, repeat between * * 6 times (30)", 24, 30),
    ("*3 sc, inc**, rep from * to ** (30)", 24, 30),
    ("*3 sc, inc, rep from * to last 4 sts, 3 sc, inc (30)", 24, 30),
    ("(3 sc, inc) 6 times: 30 sc", 24, 30),
    ("inc every fourth stitch (30)", 24, 30),
    ("inc in every 4th st, around (30)", 24, 30),
    ("2 sc in every 4th st around (30)", 24, 30),
    ("sc2 in each st (12)", 6, 12),
    ("sc2, inc x6 (24)", 18, 24),
    ("sc2 inc x6 (24)", 18, 24),
    ("6x (2 sc + inc) = 24", 18, 24),
    ("(2 sc, sc2inc) x 6 (24)", 18, 24),
    ("Sc across. (24)", 24, 24),
    ("24 sc for 6 rounds - 24", 24, 24),
    ("inc 6 evenly around (24)", 18, 24),
    ("24 sc black", 24, 24),
    ("in every st 2 sc (12)", 6, 12),
    ("(3 sc, inc)6 [30]", 24, 30),
]


SOUTHERN = [
    ("pt", "1 pb em cada um dos próximos 5 pontos, aum (7)", 6, 7),
    ("pt", "pb em cada uma das próximas 5 correntinhas, aum (7)", 6, 7),
    ("pt", "pb em cada ponto (6)", 6, 6),
    ("es", "1 pb en cada uno de los siguientes 5 puntos, aum (7)", 6, 7),
    ("es", "1 pb en cada una de las siguientes 5 cad, aum (7)", 6, 7),
    ("fr", "1 ms dans chacune des 5 m suivantes, aug (7)", 6, 7),
    ("it", "1 mb in ognuna delle prossime 5 maglie, aum (7)", 6, 7),
]
"""Ways of the Romance languages: usual wording, no source; the sums are plain."""

NORTHERN = [
    ("da", "(3 fm, udt) x 6 (30)", 24, 30),
    ("da", "*3 fm, 2 fm i næste m*, gentag fra * omg ud (30)", 24, 30),
    ("da", "*3 fm, 2 fm i næste m*, gentag *-* i alt 6 gange (30)", 24, 30),
    ("da", "*3 fm, udt, gentag fra * 5 gange til (30)", 24, 30),
    ("da", "tag ud i hver 4. m (30)", 24, 30),
    ("da", "2 fm i hver 4. m, omgangen rundt (30)", 24, 30),
    ("da", "2 og 2 m sammen omg rundt (12)", 24, 12),
    ("da", "(2 fm, 2 fm sm) x 6 (18)", 24, 18),
    ("da", "20 fm, spring 2 m over, 2 fm (22)", 24, 22),
    ("da", "1 lm, 24 fm, slut med 1 km i 1. fm (24)", 24, 24),
    ("da", "1 fm i hver af de næste 22 m, 2 fm i hver af de sidste 2 m (26)", 24, 26),
    ("da", "i bagerste maskeled: fm hele vejen rundt (24)", 24, 24),
    ("da", "2 fm i hveranden m (18)", 12, 18),
    ("da", "3 fm, tag 1 m ind, gentag 6 gange (24)", 30, 24),
    ("nb", "(3 fm, øk) x 6 (30)", 24, 30),
    ("nb", "øk i annenhver m (18)", 12, 18),
    ("nb", "*3 fm, 2 fm i neste m*, gjenta fra * ut omg (30)", 24, 30),
    ("nb", "*3 fm, øk, gjenta fra * 5 ggr til (30)", 24, 30),
    ("nb", "øk i hver 4. m (30)", 24, 30),
    ("nb", "fell hver 3. og 4. m (18)", 24, 18),
    ("nb", "(2 fm, hekle 2 fm sammen) 6 ganger (18)", 24, 18),
    ("nb", "20 fm, hopp over 2 m, 2 fm (22)", 24, 22),
    ("nb", "5 fm, 2 fm i samme m, 18 fm (25)", 24, 25),
    ("nb", "i bakre maskebue: 1 fm i hver m (24)", 24, 24),
    ("sv", "(3 fm, ök) x 6 (30)", 24, 30),
    ("sv", "*3 fm, 2 fm i nästa m*, upprepa varvet runt (30)", 24, 30),
    ("sv", "*11 fm, ök, upprepa från * en gång till (26)", 24, 26),
    ("sv", "öka i var 4:e m (30)", 24, 30),
    ("sv", "öka i varannan m (18)", 12, 18),
    ("sv", "virka ihop var 3:e och 4:e m (18)", 24, 18),
    ("sv", "virka ihop 2 m 12 gånger (12)", 24, 12),
    ("sv", "(2 fm, 2 fm tills) 6 ggr (18)", 24, 18),
    ("sv", "(2 fm, virka ihop 2 fm) 6 gånger (18)", 24, 18),
    ("sv", "virka ihop 2 och 2 m varvet runt (12)", 24, 12),
    ("sv", "20 fm, hoppa över 2 m, 2 fm (22)", 24, 22),
    ("sv", "1 fm i nästa 22 m, 2 fm i var och en av de sista 2 m (26)", 24, 26),
    ("sv", "24 fm, avsluta med 1 sm i första fm (24)", 24, 24),
]
"""Ways of Danish, Norwegian and Swedish makers: lessons and patterns of the trade, the examples
composed here; the sm of two of them is read as each means it."""


def checked(
    text: str, room: int, needs: int | None = None, language: Language = Language.US
) -> Checked:
    body = read_body(text.lower(), language)
    stated = body.counts[-1][0] if body.counts else None
    return check(Asked(text.lower(), body, language, (room,), stated, needs))


@pytest.mark.parametrize(("text", "room", "count"), WAYS)
def test_each_way_of_saying_a_round_is_read(text: str, room: int, count: int) -> None:
    found = checked(text, room)
    assert found.verdict is Verdict.AGREES, (found.findings, found.choices)
    assert found.count == count


@pytest.mark.parametrize(("language", "text", "room", "count"), SOUTHERN)
def test_ways_of_the_south_are_read(language: str, text: str, room: int, count: int) -> None:
    found = checked(text, room, language=Language(language))
    assert found.verdict is Verdict.AGREES, (found.findings, found.choices)
    assert found.count == count


@pytest.mark.parametrize(("language", "text", "room", "count"), NORTHERN)
def test_ways_of_the_north_are_read(language: str, text: str, room: int, count: int) -> None:
    found = checked(text, room, language=Language(language))
    assert found.verdict is Verdict.AGREES, (found.findings, found.choices)
    assert found.count == count


@pytest.mark.parametrize(
    "text",
    ["10 sc, bobble, 14 sc, bobble, 10 sc (36)", "10 sc, bobble, 26 sc", "1 bobble st, 36 sc"],
)
def test_stitches_of_a_name_not_known_are_not_passed_over(text: str) -> None:
    assert checked(text, 36).verdict in (Verdict.UNREAD, Verdict.CHOICE)


FAULTS = [
    ("(3 sc, inc) x 8 (30)", 24, 30, "x 6 instead of x 8"),
    ("(3 sc, inc) x 6 (32)", 24, 30, "30 instead of 32"),
    ("(3 sc, inc) x 6 (32)", 24, None, "30 instead of 32"),
    ("(3 sc, inc x 6 (30)", 24, 30, "a bracket ) is missing"),
    ("3 sc, inc) x 6 (30)", 24, 30, "a bracket ( is missing"),
    ("(sc, inc) x 6 (30)", 24, 30, "3 sc instead of sc"),
    ("(3 sc, dec) x 6 (30)", 24, 30, "inc instead of dec"),
    ("(4 sc, inc) x 6 (30)", 24, 30, "3 sc instead of 4 sc"),
    ("sc around (31)", 30, None, "30 instead of 31"),
    ("(5 sc, sc2tog) x 6 (30)", 36, 30, "4 sc instead of 5 sc"),
    ("4 sc, inc, (6 sc, inc) x 5, 3 sc (48)", 42, 48, "3 sc instead of 4 sc"),
    ("(3 sc, inc)5 [30]", 24, 30, "6 instead of 5"),
    ("(2 sc, sc) x 6 [24]", 18, 24, "inc instead of sc"),
]


@pytest.mark.parametrize(("text", "room", "needs", "mend"), FAULTS)
def test_a_fault_is_found_and_the_smallest_mend_named(
    text: str, room: int, needs: int | None, mend: str
) -> None:
    found = checked(text, room, needs)
    assert found.verdict is Verdict.DISAGREES
    assert found.change is not None
    assert found.change.says == mend
    after = text[: found.change.span.start] + found.change.replacement
    after += text[found.change.span.end :]
    assert checked(after, room, needs).verdict is Verdict.AGREES


def test_thin_legs_that_a_body_is_begun_on_are_open() -> None:
    """A leg that ends with 8 stitches of 10 would be gathered to a point if nothing went on from
    it; 8 + 8 stitches and both sides of 2 chains are the body's 20."""
    leg = (
        "Rnd 1: 6 sc in magic ring (6)\nRnd 2: (2 sc, inc) x 2 (8)\nRnd 3: (3 sc, inc) x 2 (10)\n"
        "Rnd 4: sc around (10)\nRnd 5: (3 sc, dec) x 2 (8)\n"
    )
    body = (
        "BODY\nRnd 1: ch 2, join to the first leg with 1 sc, 7 sc around the first leg, 1 sc in "
        "each of the 2 ch, 8 sc around the second leg, 1 sc in the other side of each ch (20)\n"
    )
    joined = read_pattern(f"LEGS (make 2)\n{leg}\n{body}").parts
    assert joined[1].per_leg == (8, 8)
    assert not joined[0].closed
    alone = read_pattern(f"LEGS (make 2)\n{leg}").parts
    assert alone[0].closed
