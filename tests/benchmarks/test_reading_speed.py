"""What it costs to read a written pattern, as ratios within one run; the times are printed.

The pattern is composed here: 8 parts of 60 rounds, none equal to its neighbour, remarks between.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from functools import partial
from typing import Any

from webapp.reading import ReadPattern, Verdict, read_pattern

PARTS = ("Head", "Body", "Left arm", "Right arm", "Left leg", "Right leg", "Tail", "Hat")


def part(name: str, first: int) -> str:
    """Sixty rounds: discs that grow by ``first`` a round, and shrink again, over and over."""
    lines = [f"{name.upper()} (make 1)", f"Rnd 1: {first} sc in a magic ring [{first}]"]
    sixths, step = 1, 1
    for number in range(2, 61):
        plain = sixths - 1 if step > 0 else sixths - 2
        how, sixths = ("inc" if step > 0 else "dec"), sixths + step
        said = f"({plain} sc, {how}) x {first}" if plain else f"{how} x {first}"
        lines.append(f"Rnd {number}: {said} [{first * sixths}]")
        if sixths in (1, 10):
            step = -step
            lines.append("Stuff it firmly as you go.")
    return "\n".join(lines)


def pattern(first: int = 6) -> str:
    return "\n\n".join(part(name, first) for name in PARTS)


def fastest(work: Callable[[], Any], times: int = 5) -> float:
    """The least time of one call, s: the least disturbed by what else the machine does."""
    took = []
    for _ in range(times):
        start = time.process_time()
        work()
        took.append(time.process_time() - start)
    return min(took)


def test_sixty_rounds_in_eight_parts(benchmark: Any) -> None:
    """All are read and agree; the time is printed, not asserted."""
    text = pattern()
    read: ReadPattern = benchmark(lambda: read_pattern(text))
    rounds = [r for p in read.parts for r in p.rounds]
    assert len(rounds) == 480
    assert {r.verdict for r in rounds} == {Verdict.AGREES}
    print(f"\n480 rounds in {fastest(lambda: read_pattern(text)) * 1e3:.0f} ms of processor time")


def test_cost_is_linear_in_length() -> None:
    """Twice, four and eight times the text: between 0.6 and 1.7 times as long for each letter. No
    line is alike in any two texts, so that nothing is remembered from one to the next, and all
    have rounds of every size."""
    read_pattern(pattern(3))
    each = []
    sizes = list(range(40, 40 + 4 * 2 * (1 + 2 + 4 + 8)))
    random.Random(1).shuffle(sizes)
    firsts = iter(sizes)
    for times in (1, 2, 4, 8):
        took = []
        for _ in range(4):
            text = "\n\n".join(part("Head", next(firsts)) for _ in range(2 * times))
            took.append(fastest(partial(read_pattern, text), 1) / times)
        each.append(min(took))
    print("\n" + ", ".join(f"{took * 1e3:.1f} ms" for took in each) + " for each length")
    assert all(0.6 * each[0] < other < 1.7 * each[0] for other in each[1:])


def test_a_text_full_of_faults_costs_a_few_times_a_faultless_one() -> None:
    """Every fourth count is wrong, or a number in every fourth line: the search for mends is
    bounded, so at most 8 times the time."""
    lines = pattern(7).split("\n")
    faulty = [
        line.replace(" x 7", " x 8") if number % 4 == 0 else line
        for number, line in enumerate(lines)
    ]
    good, bad = "\n".join(lines), "\n".join(faulty)
    read = read_pattern(bad)
    verdicts = [r.verdict for p in read.parts for r in p.rounds]
    assert verdicts.count(Verdict.DISAGREES) > 80
    few = fastest(lambda: read_pattern(good))
    much = fastest(lambda: read_pattern(bad))
    print(f"\nfaultless {few * 1e3:.0f} ms, full of faults {much * 1e3:.0f} ms: {much / few:.1f}")
    assert much < 8 * few
