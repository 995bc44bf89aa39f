"""A long run of random texts through the reader: `python -m tests.fuzz_reading 100000 [seed]`.

Prints what broke a law, what raised anything but a refusal, and the slowest texts. Ends with 1 if
anything did.
"""

from __future__ import annotations

import random
import sys
import time
import traceback
from heapq import nlargest

from tests.strategies_reading import check_laws, random_text
from webapp.errors import RoundlingError
from webapp.reading import read_pattern

SLOW = 1.0
"""Seconds that no text may take."""


def run(number: int, seed: int) -> int:
    """How many texts went wrong."""
    wrong = read = 0
    took: list[tuple[float, int]] = []
    for at in range(number):
        text = random_text(random.Random(seed + at))
        start = time.process_time()
        try:
            found = read_pattern(text)
            spent = time.process_time() - start
            read += 1
            check_laws(found)
        except RoundlingError:
            spent = time.process_time() - start
        except Exception:
            spent = time.process_time() - start
            wrong += 1
            print(f"--- text {seed + at}", flush=True)
            traceback.print_exc(limit=-3, file=sys.stdout)
        took.append((spent, seed + at))
        wrong += spent > SLOW
    slowest = nlargest(5, took)
    print(f"{number} texts from {seed} on, {read} read, {number - read} refused, {wrong} wrong")
    print("slowest:", ", ".join(f"{spent * 1e3:.0f} ms (text {at})" for spent, at in slowest))
    print(f"mean {sum(spent for spent, _ in took) / number * 1e3:.2f} ms")
    return wrong


if __name__ == "__main__":
    asked = [int(word) for word in sys.argv[1:]]
    sys.exit(bool(run(asked[0] if asked else 1000, asked[1] if asked[1:] else 0)))
