"""Rounds said aloud: numbers as words, repeats so that a listener knows where they end.

A repeat that is the whole round comes after what is repeated (`one single crochet, then an
increase, six times`); one among other stitches comes before it (`five times: four single crochet,
then an increase; after that, two single crochet`). A repeat that holds repeats is opened by how
often it is worked, or, within a round, between points that have numbers. What is said is put
together from sentences of the catalogue, so it follows the language of the pattern.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from webapp.film.parts import FilmLine, FilmPart
from webapp.film.steps import ONE_IN_EACH, Leaf, Place, Repeat, Step
from webapp.film.voice import Voice
from webapp.words import noted

WHERE: Mapping[Place, str] = {
    Place.AROUND: noted("in each stitch around"),
    Place.ACROSS: noted("in each stitch across"),
    Place.CHAINS_AROUND: noted("in each chain around"),
    Place.CHAINS_ACROSS: noted("in the second chain from the hook and in each chain across"),
    Place.RING: noted("in a magic ring"),
    Place.FIRST_CHAIN: noted("in the first chain to form a ring"),
    Place.SECOND_CHAIN: noted("in the second chain from the hook"),
    Place.LAST_CHAIN: noted("in the last chain"),
    Place.OTHER_SIDE: noted("along the other side of the chain"),
    Place.FIRST_LEG: noted("round the first leg"),
    Place.SECOND_LEG: noted("round the second leg"),
}

RANGE = re.compile(r"(\d+)[-–〜](\d+)")
MILLIMETRES = re.compile(r"(\d+) ?mm(?![a-z])(?=( eye| button)?)")
MOST_FIGURES = 9
"""Longer numbers have no words in some languages."""

PARTS_OF_ONE = {2: "half", 4: "quarter", 8: "eighth"}


def spoken_line(line: FilmLine, part: FilmPart, voice: Voice) -> str:
    """A line of rounds: `Round three: one single crochet, then an increase, six times; eighteen
    stitches.`"""
    work, count = spoken_steps(line.steps, voice), voice.stitches(line.count)
    if line.last > line.first and part.in_rows:
        count = voice.say("{stitches} in each row", stitches=count)
    elif line.last > line.first:
        count = voice.say("{stitches} in each round", stitches=count)
    if line.colour and line.last > line.first:
        work += voice.say(
            "; change to {colour} in the last stitch of round {number}",
            colour=line.colour,
            number=voice.number(line.last),
        )
    elif line.colour:
        work += voice.say("; change to {colour} in the last stitch", colour=line.colour)
    label = spoken_label(line, part.in_rows, voice)
    return voice.say("{label}: {work}; {count}.", label=label, work=work, count=count)


def spoken_label(line: FilmLine, in_rows: bool, voice: Voice) -> str:
    """`Round three`, `Rounds four and five`, `Rounds fourteen to twenty`."""
    first, last = voice.number(line.first), voice.number(line.last)
    if line.first == line.last:
        if in_rows:
            return voice.say("Row {number}", number=first)
        return voice.say("Round {number}", number=first)
    two = line.last == line.first + 1
    if in_rows and two:
        return voice.say("Rows {first} and {last}", first=first, last=last)
    if in_rows:
        return voice.say("Rows {first} to {last}", first=first, last=last)
    if two:
        return voice.say("Rounds {first} and {last}", first=first, last=last)
    return voice.say("Rounds {first} to {last}", first=first, last=last)


def spoken_steps(steps: Sequence[Step], voice: Voice) -> str:
    """The steps of a round as they are said."""
    if len(steps) == 1 and isinstance(steps[0], Repeat):
        whole = steps[0]
        times = voice.times(whole.times)
        if all(isinstance(step, Leaf) for step in whole.steps):
            return voice.say("{steps}, {times}", steps=_run(whole.steps, voice), times=times)
        inside = _clauses(whole.steps, voice, [0])
        return voice.say("all of this {times}: {steps}", times=times, steps=inside)
    return _clauses(steps, voice, [0])


def _clauses(steps: Sequence[Step], voice: Voice, points: list[int]) -> str:
    return voice.say("; after that, ").join(_each_clause(steps, voice, points))


def _each_clause(steps: Sequence[Step], voice: Voice, points: list[int]) -> Iterator[str]:
    """Stretches of plain steps, and repeats; ``points`` counts those that are marked."""
    for is_repeat, stretch in groupby(steps, lambda step: isinstance(step, Repeat)):
        if not is_repeat:
            yield _run(tuple(stretch), voice)
            continue
        for step in stretch:
            assert isinstance(step, Repeat)
            times = voice.times(step.times)
            if all(isinstance(inner, Leaf) for inner in step.steps):
                run = _run(step.steps, voice)
                yield voice.say("{times}: {steps}", times=times, steps=run)
                continue
            points[0] += 1
            point = voice.say("point {number}", number=voice.number(points[0]))
            yield voice.say(
                "from {point}: {steps}; all from {point}, {times} in all",
                point=point,
                steps=_clauses(step.steps, voice, points),
                times=times,
            )


def _run(steps: Sequence[Step], voice: Voice) -> str:
    return voice.say(", then ").join(
        spoken_leaf(step, voice) for step in steps if isinstance(step, Leaf)
    )


def spoken_leaf(leaf: Leaf, voice: Voice) -> str:
    """So many of one kind, and where they go."""
    each = leaf.place in ONE_IN_EACH
    stitches = _stitches(leaf.kind, 1 if each else leaf.number, voice)
    if leaf.place is Place.TURNED:
        return voice.say("{stitches}, turn", stitches=stitches)
    if leaf.place is Place.CHAINS:
        where = voice.many("in the next chain", "along the chain, one in each", leaf.number)
    elif leaf.place in WHERE:
        where = voice.say(WHERE[leaf.place])
    else:
        return stitches
    return voice.say("{stitches} {where}", stitches=stitches, where=where)


def _stitches(kind: str, number: int, voice: Voice) -> str:
    """So many stitches of a kind: those that toys are worked in."""
    match kind:
        case "sc":
            return voice.many("one {sc_name}", "{number} {sc_name}", number)
        case "inc":
            return voice.many("an increase", "{number} increases", number)
        case "dec":
            return voice.many("a decrease", "{number} decreases", number)
        case "ch":
            return voice.many("chain one", "chain {number}", number)
        case "sl st":
            return voice.many("one slip stitch", "{number} slip stitches", number)
    raise ValueError(f"no toy is worked in {kind}")


def spoken_note(text: str, voice: Voice) -> str:
    """A note of the pattern, written in the whole words of ``voice``, with its figures as words."""
    text = RANGE.sub(lambda m: _range(m, voice), text)
    text = MILLIMETRES.sub(lambda m: _millimetres(m, voice), text)
    text = _counted_nouns(voice).sub(lambda m: _counted(m, voice), text)
    said = _figures(voice).sub(lambda m: _figure(m[0], voice), text)
    return said[:1].upper() + said[1:]


def _range(found: re.Match[str], voice: Voice) -> str:
    """`3 and 4`, `3 to 6`."""
    first, last = found[1], found[2]
    if not _is_long(first + last) and int(last) == int(first) + 1:
        return voice.say("{first} and {last}", first=first, last=last)
    return voice.say("{first} to {last}", first=first, last=last)


def _millimetres(found: re.Match[str], voice: Voice) -> str:
    """`15 millimetres`, but in English `15 millimetre eyes`."""
    if _is_long(found[1]):
        return found[0]
    size = int(found[1])
    form = 1 if found[2] else size
    return voice.many("{number} millimetre", "{number} millimetres", form, voice.number(size))


def _counted_nouns(voice: Voice) -> re.Pattern[str]:
    """So many stitches or rounds: a number in words may have to agree with them."""
    words = voice.whole
    nouns = sorted({words.sc, words.st, words.sts, words.rnd_small, words.rnds_small}, key=len)
    either = "|".join(re.escape(noun) for noun in reversed(nouns))
    return re.compile(rf"(?<![\d,./])(?<!\d )(\d+) ({either})(?!\w)")


def _is_long(figures: str) -> bool:
    """Whether there are more figures than are counted by: somebody's own name has them."""
    return sum(map(str.isdigit, figures)) > MOST_FIGURES


def _counted(found: re.Match[str], voice: Voice) -> str:
    if _is_long(found[1]):
        return found[0]
    number, noun, words = int(found[1]), found[2], voice.whole
    if noun == words.sc:
        return _stitches("sc", number, voice)
    if noun in (words.rnd_small, words.rnds_small):
        return voice.many("one round", "{number} rounds", number)
    return voice.stitches(number)


def _figures(voice: Voice) -> re.Pattern[str]:
    point = re.escape(voice.words.catalogue.decimal)
    return re.compile(rf"\d+ \d+/\d+|\d+/\d+|\d+{point}\d+|\d+")


def _figure(text: str, voice: Voice) -> str:
    """A figure in words; a fraction by its name in English, elsewhere as a decimal. What is no
    number, such as a hook of size 3/0, is said figure by figure, and a long one left as it is."""
    if _is_long(text):
        return text
    whole, _, part = text.rpartition(" ")
    if "/" not in part:
        plain = text.replace(voice.words.catalogue.decimal, ".")
        return voice.number(float(plain) if "." in plain else int(plain))
    above, below = map(int, part.split("/"))
    if not voice.words.terms.english and below == 0:
        return " ".join(voice.number(int(one)) for one in re.findall(r"\d+", text))
    if not voice.words.terms.english:
        return voice.number(round(int(whole or 0) + above / below, 3))
    name = PARTS_OF_ONE.get(below)
    if name is None:
        said = f"{voice.number(above)} over {voice.number(below)}"
    elif above == 1:
        said = f"{'an' if name == 'eighth' else 'a'} {name}"
    else:
        said = f"{voice.number(above)} {name}s"
    return f"{voice.number(int(whole))} and {said}" if whole else said
