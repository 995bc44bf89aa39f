"""Speed of the PDF, as ratios within one run; the times are printed.

Time of the processor is taken, which what else runs on the machine disturbs less; the wait for the
first sheet of a design is taken by the clock.
"""

from __future__ import annotations

import gc
import statistics
import time
from collections.abc import Callable
from typing import Any

import typst

from tests.strategies import default_design, recipes, with_height
from webapp.preview import still_svg
from webapp.publish import SheetOptions, drawings_of, pattern_pdf
from webapp.publish.fonts import fonts
from webapp.rounds import WorkedPart
from webapp.way import Toy, make_toy

ALL, NO_CHARTS = SheetOptions(), SheetOptions(charts="no")


def quickest(work: Callable[[int], Any], times: int = 5) -> float:
    """The least disturbed of a few calls, s; each is told its number."""
    took = []
    for number in range(times):
        start = time.process_time()
        work(number)
        took.append(time.process_time() - start)
    return min(took)


def otter(height_mm: float) -> Toy:
    recipe = recipes()["otter"]
    return make_toy(recipe, with_height(default_design(recipe), height_mm))


def table(number: int) -> bytes:
    """A document that has nothing of ours: 250 rows of four cells, set by typst as the sheet is."""
    rows = "([Round #n], [one single crochet in each stitch], str(n), box(width: 8pt, height: 8pt))"
    text = f"""#set document(title: "Table {number}")
#set text(lang: "en")
= Table {number}
#table(columns: (auto, 1fr, auto, auto), ..range(250).map(n => {rows}).flatten())"""
    found = typst.compile(
        text.encode(), font_paths=fonts(), pdf_standards="ua-1", format="pdf", timestamp=0
    )
    assert isinstance(found, bytes)
    return found


def rounds_of(toy: Toy) -> int:
    return sum(len(p.rounds) for p in toy.worked.parts.values() if isinstance(p, WorkedPart))


def sheet(toy: Toy, options: SheetOptions, number: int) -> bytes:
    """A sheet by somebody else each time: typst remembers what it has set before."""
    by = SheetOptions(charts=options.charts, by=f"Ann {number}")
    return pattern_pdf(toy, by, drawings_of(toy, by))


def test_the_pdf_grows_with_the_rounds(benchmark: Any) -> None:
    """Otter of 20 and of 40 cm with all its drawings: no more than in proportion to rounds, a fifth
    for noise. At 20 cm no more than 8 still pictures from two sides, once the drawings are made;
    those take no more than 8 at the first time."""
    small, large = otter(200.0), otter(400.0)
    fresh = [otter(200.0 + 0.1 * n) for n in range(5)]
    first = quickest(lambda n: drawings_of(fresh[n], ALL))
    short = quickest(lambda n: sheet(small, ALL, n))
    plain = quickest(lambda n: pattern_pdf(small, SheetOptions(by=f"{n}")))
    without = quickest(lambda n: sheet(small, NO_CHARTS, n))
    long = quickest(lambda n: sheet(large, ALL, n))
    still = quickest(lambda _: still_svg(small.worked, small.materials.eyes))
    benchmark.pedantic(lambda: sheet(small, ALL, 9), rounds=3)
    more = rounds_of(large) / rounds_of(small)
    print(f"\n{rounds_of(small)} rounds, a still {still * 1e3:.1f} ms:")
    print(f"words and tables alone {plain * 1e3:.0f} ms, with pictures {without * 1e3:.0f} ms,")
    print(f"with charts too {short * 1e3:.0f} ms; drawings at first {first * 1e3:.0f} ms more;")
    print(f"{more:.2f} times the rounds {long * 1e3:.0f} ms, {long / short:.2f} times")
    assert long / short < 1.2 * more
    assert short / still < 8.0
    assert first / still < 8.0


def test_nobody_waits_long_for_the_first_sheet_of_a_design(benchmark: Any) -> None:
    """From sliders to file, nothing of it made before: 150 ms where setting a plain table of 250
    rows takes 38 ms, so not four such tables; 4.8 for noise. By turns, about as long on each, for
    the machine's own speed wavers: the middle of their ratios counts."""
    ratios, sheets, tables = [], [], []
    # As the server does when it has started.
    gc.collect()
    gc.freeze()
    for number in range(12):
        start = time.perf_counter()
        sheet(otter(220.0 + 0.1 * number), ALL, number)
        between = time.perf_counter()
        for again in range(4):
            table(10 * number + again)
        sheets.append(between - start)
        tables.append((time.perf_counter() - between) / 4.0)
        ratios.append(sheets[-1] / tables[-1])
    gc.unfreeze()
    ratio, first, plain = statistics.median(ratios), min(sheets), min(tables)
    benchmark.pedantic(lambda: table(99), rounds=3)
    print(f"\nfirst sheet {first * 1e3:.0f} ms, a table {plain * 1e3:.0f} ms")
    print(f"{ratio:.2f} tables: {38.0 * ratio:.0f} ms where one takes 38")
    assert ratio < 4.8
