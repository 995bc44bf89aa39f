"""Whether the shaping of a round is gathered in one or two places, or spread round it.

The measure is the gap between neighbouring places against that of even spacing, n / m for m places
in n stitches. Whole stitches alone leave gaps up to a stitch longer than even ones, and repeats
with a remainder less than half as long again; so a gap is wide from 1.7 times and 2 stitches more.
One or two wide gaps leave one or two clusters; three or more are a pattern round the whole round.
Where none is wide, three or more places in a row, each within 0.6 times of the next, are a cluster
among others that are spread.
"""

from __future__ import annotations

from dataclasses import dataclass

from webapp.rework.stitchmap import StitchMap

WIDE, WIDER_BY = 1.7, 2.0
CLOSE, FEWEST_CLOSE = 0.6, 3
MOST_CLUSTERS = 2
MOST_SHARE = 0.6
"""Of a round; shaping over more of it is not gathered."""


@dataclass(frozen=True)
class Cluster:
    """Increases or decreases close together, from the first to past the last, in stitches of the
    edge below. ``low`` may lie before the start of the round (below 0)."""

    low: float
    high: float


def clusters_of(worked: StitchMap) -> tuple[Cluster, ...]:
    """The clusters of a round; none where its shaping is spread round it, or is one stitch."""
    lows = [float(worked.below[n]) for n in worked.gains]
    highs = [float(worked.below[n + 1]) for n in worked.gains]
    middles = [(a + b) / 2.0 for a, b in zip(lows, highs, strict=True)]
    places, size = len(middles), worked.before
    if places < 2:
        return ()
    even = size / places
    gaps = [(middles[(n + 1) % places] - middles[n]) % size or size for n in range(places)]
    wide = [n for n, gap in enumerate(gaps) if gap >= max(WIDE * even, even + WIDER_BY)]
    fewest = 1
    if not wide:
        wide = [n for n, gap in enumerate(gaps) if gap > CLOSE * even]
        fewest = FEWEST_CLOSE
    runs = [
        ((before + 1) % places, (wide[(n + 1) % len(wide)] - before - 1) % places + 1)
        for n, before in enumerate(wide)
    ]
    runs = [(first, length) for first, length in runs if length >= fewest]
    if not 1 <= len(runs) <= MOST_CLUSTERS:
        return ()
    found = []
    for first, length in runs:
        last = (first + length - 1) % places
        low, high = lows[first], highs[last]
        found.append(Cluster(low - size if high <= low else low, high))
    if any(cluster.high - cluster.low > MOST_SHARE * size for cluster in found):
        return ()
    return tuple(found)
