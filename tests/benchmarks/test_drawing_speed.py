"""Speed of charts and pictures, as ratios within one run; the times are printed."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

from tests.strategies import design_of, recipes
from webapp.charts import chart_svg
from webapp.pictures import View, assembly_svg
from webapp.preview import still_svg
from webapp.way import make_toy
from webapp.yarns import Terms, term_set

WORDS = term_set(Terms.US)
TIMES = 9


def quickest(work: Callable[[], Any]) -> float:
    """The least disturbed of a few calls, s."""
    took = []
    for _ in range(TIMES):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return min(took)


def test_a_chart_grows_with_its_stitches(benchmark: Any) -> None:
    """The whale's body in thread at 30 and at 60 cm, without equal repeats: four times the
    stitches in no more than four times the time."""
    recipe = recipes()["whale"]
    small, large = (
        make_toy(recipe, design_of(recipe, height_cm=cm, yarn=0, simplicity=0)).worked
        for cm in (30, 60)
    )
    body = small.recipe.part("body")
    short = quickest(lambda: chart_svg(small, body, WORDS))
    long = quickest(lambda: chart_svg(large, body, WORDS))
    benchmark.pedantic(lambda: chart_svg(large, body, WORDS), rounds=3)
    more = large.parts["body"].stitches / small.parts["body"].stitches
    print(f"\n{more:.2f} times the stitches, {long / short:.2f} times the time {long * 1e3:.0f} ms")
    assert 3.5 < more < 4.5
    assert long / short < more


def test_a_picture_costs_under_four_stills(benchmark: Any) -> None:
    """The otter from the front, hidden lines taken out, beside the still that hides nothing."""
    recipe = recipes()["otter"]
    made = make_toy(recipe, design_of(recipe))
    toy, eyes = made.worked, made.materials.eyes
    still = quickest(lambda: still_svg(toy, eyes, views=("front",)))
    drawn = quickest(lambda: assembly_svg(toy, eyes, View.FRONT, WORDS))
    benchmark.pedantic(lambda: assembly_svg(toy, eyes, View.FRONT, WORDS), rounds=3)
    print(f"\nstill {still * 1e3:.1f} ms, picture {drawn * 1e3:.1f} ms")
    assert drawn / still < 4.0
