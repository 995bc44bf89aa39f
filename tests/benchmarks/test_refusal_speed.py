"""What refusing a hostile formula costs, in plain solves of the otter."""

from __future__ import annotations

import time
from typing import Any

import pytest

from tests.hostile import FORMULAS
from tests.strategies import default_design, recipes
from tests.test_web import reader
from tests.test_web_own import begun, changed, step
from tests.test_web_own_steps import PLACES
from webapp.own.packing import pack, unpack
from webapp.way import make_toy

TRIES = 3


@pytest.mark.parametrize("place", PLACES)
def test_the_slowest_refusal_costs_less_than_ten_plain_solves(place: str, benchmark: Any) -> None:
    """Over HTTP and with the editor it is answered with, each formula of the list once a try. Ten
    plain solves are 50 ms where one is 5."""
    client = reader()
    panel, name, words = PLACES[place]
    do = {"open": panel, "do": "rule.add" if "new" in name else ""}
    # Toys of other rules: nothing is remembered from the try before.
    owl = unpack(begun(client)["recipe"])
    assert owl["rules"][5] == "patch.width = 0.36 * head.width"
    forms = [
        {**do, "recipe": pack(changed(owl, ("rules", 5), f"patch.width = 0.3{n} * head.width"))}
        for n in range(1, 1 + TRIES)
    ]
    for form in forms:  # The toy's own rules are solved when it is opened, not when one is refused.
        assert step(client, {**form, "do": ""}).status_code == 200
    recipe = recipes()["otter"]
    design = default_design(recipe)

    def refuse(formula: str, form: dict[str, str]) -> float:
        start = time.perf_counter()
        answer = step(client, form, **{name: words.format(formula)})
        took = time.perf_counter() - start
        assert answer.status_code == 422
        return took

    def solve() -> float:
        start = time.perf_counter()
        make_toy(recipe, design)
        return time.perf_counter() - start

    solve()
    plain = min(solve() for _ in range(9))
    took = {f: min(refuse(f, form) for form in forms) for f in FORMULAS}
    slowest = max(took, key=lambda formula: took[formula])
    benchmark.pedantic(lambda: refuse(slowest, forms[0]), rounds=3)
    said = f"{place}: {len(took)} formulas, the slowest {slowest[:30]!r}"
    ms, solves = took[slowest] * 1e3, took[slowest] / plain
    print(f"\n{said} {ms:.1f} ms, {solves:.1f} plain solves of {plain * 1e3:.1f} ms")
    assert took[slowest] < 10.0 * plain
