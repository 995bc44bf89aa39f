"""Speed of the PDF, as ratios within one run; the times are printed."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

from tests.strategies import default_design, recipes, with_height
from webapp.preview import still_svg
from webapp.publish import SheetOptions, pattern_pdf
from webapp.rounds import WorkedPart
from webapp.way import Toy, make_toy

PLAIN = SheetOptions()


def quickest(work: Callable[[], Any], times: int = 5) -> float:
    """The least disturbed of a few calls, s."""
    took = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return min(took)


def rounds_of(toy: Toy) -> int:
    return sum(len(p.rounds) for p in toy.worked.parts.values() if isinstance(p, WorkedPart))


def test_the_pdf_grows_with_the_rounds(benchmark: Any) -> None:
    """Otter of 20 and of 40 cm: no more than in proportion to rounds, a fifth for noise; and at 20
    cm no more than 25 still pictures, which at 6 ms each is 150 ms."""
    recipe = recipes()["otter"]
    small = make_toy(recipe, default_design(recipe))
    large = make_toy(recipe, with_height(default_design(recipe), 400.0))
    short = quickest(lambda: pattern_pdf(small, PLAIN))
    long = quickest(lambda: pattern_pdf(large, PLAIN))
    still = quickest(lambda: still_svg(small.worked, small.materials.eyes))
    benchmark.pedantic(lambda: pattern_pdf(small, PLAIN), rounds=3)
    more = rounds_of(large) / rounds_of(small)
    print(f"\n{rounds_of(small)} rounds {short * 1e3:.0f} ms, a still {still * 1e3:.1f} ms;")
    print(f"{more:.2f} times the rounds {long * 1e3:.0f} ms, {long / short:.2f} times")
    assert long / short < 1.2 * more
    assert short / still < 25.0
