"""Arcs of a read part: rounds whose shaping is gathered, and where their borders go.

    zone        rounds from the first that is shaped in a place until the fullness is gone
    arcs        the pieces of its rounds, in working order; each belongs to a group or to the rest
    extra       stitches a group has more than its share of the round

A place is followed down through the stitches to the edge below the zone, where the groups' borders
are laid round all of their shaping; the same borders led up again give the arcs of each round.
Where a group loses stitches against the rest, it is the rest that bulges.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.reading import ReadRound
from webapp.rework.clusters import MOST_CLUSTERS, Cluster, clusters_of
from webapp.rework.stitchmap import StitchMap, stitch_map
from webapp.rounds.writing import Sectors

LONGEST_PAUSE = 10
"""Rounds without gathered shaping after which the next is a shaping of its own."""

LEAST_EXTRA = 2.0
"""Stitches a group must have more than its share at the most, to be one."""

MOST_SHARE = 0.75
"""Of a round; shaping over more of it is not gathered."""


@dataclass(frozen=True)
class Arc:
    """A piece of the rounds of a zone: the group it belongs to (-1: the rest), and its stitches at
    the edge before the zone and at each of its rounds."""

    group: int
    counts: tuple[int, ...]


@dataclass(frozen=True)
class Group:
    """A place that bulges: at which edges, how wide (share of a round), where its middle is
    (degrees from the front, the start of the round being at the back), and how many stitches more
    than its share it has at each edge."""

    first_edge: int
    arc: float
    around: float
    extra: tuple[float, ...]


@dataclass(frozen=True)
class Zone:
    """Rounds ``start`` up to, not including, ``stop`` (from 0) and their arcs in working order."""

    start: int
    stop: int
    arcs: tuple[Arc, ...]
    groups: tuple[Group, ...]

    def sectors(self, number: int) -> Sectors:
        """(before, after) of each arc of a round (from 0)."""
        k = number - self.start
        return tuple((arc.counts[k], arc.counts[k + 1]) for arc in self.arcs)


def zones_of(rounds: Sequence[ReadRound], first: int = 1) -> tuple[Zone, ...]:
    """The zones of a part, of whose rounds all counts are known; none begins before round
    ``first`` (from 0)."""
    counts = [r.count or 0 for r in rounds]
    maps = [
        stitch_map(r, before, after)
        for r, before, after in zip(rounds[1:], counts, counts[1:], strict=False)
    ]
    gathered = {k: clusters_of(m) for k, m in enumerate(maps, 1) if m.gains}
    zones: list[Zone] = []
    k = max(1, first)
    while k < len(rounds):
        zone = _zone_from(k, maps, gathered) if gathered.get(k) else None
        if zone:
            zones.append(zone)
        k = zone.stop if zone else k + 1
    return tuple(zones)


def part_sectors(counts: Sequence[int], zones: Sequence[Zone]) -> tuple[Sectors, ...]:
    """The (before, after) of the arcs of every round of a part."""
    sectors: list[Sectors] = [((a, b),) for a, b in zip((0, *counts), counts, strict=False)]
    for zone in zones:
        for k in range(zone.start, zone.stop):
            sectors[k] = zone.sectors(k)
    return tuple(sectors)


def _zone_from(
    start: int, maps: list[StitchMap], gathered: dict[int, tuple[Cluster, ...]]
) -> Zone | None:
    """The zone that begins with a round, or None where no place comes to stand out."""
    size = maps[start - 1].before
    places: list[Cluster] = []
    last = start
    for k in range(start, len(maps) + 1):
        if k - last > LONGEST_PAUSE:
            break
        found = [_led_down(c, maps[start - 1 : k - 1]) for c in gathered.get(k, ())]
        merged = _merged([*places, *found], size)
        if len(merged) > MOST_CLUSTERS or sum(c.high - c.low for c in merged) > MOST_SHARE * size:
            break
        if found:
            places, last = merged, k
    if not places:
        return None
    borders, owners = _laid(places, round(size))
    if -1 not in owners or max(owners) < 0:
        return None
    rows = _led_up(borders, maps[start - 1 :])
    stop = _stop(owners, rows, maps[start - 1 : last], last - start + 1)
    rows = rows[: stop + 1]
    groups = _groups(owners, rows)
    if max((abs(e) for row in groups for e in row), default=0.0) < LEAST_EXTRA:
        return None
    if sum(sum(row) for row in groups) < 0.0:
        # What is drawn in makes the rest stand out.
        owners = _others(owners)
        groups = _groups(owners, rows)
    return zone_with(start, owners, rows)


def zone_with(start: int, owners: list[int], rows: list[list[int]]) -> Zone:
    """The zone whose arcs belong to these groups and have these stitches, a row for each edge from
    that below the zone."""
    arcs = tuple(Arc(owner, tuple(row[j] for row in rows)) for j, owner in enumerate(owners))
    groups = tuple(
        _group(number, start, owners, rows, extra)
        for number, extra in enumerate(_groups(owners, rows))
    )
    return Zone(start, start + len(rows) - 1, arcs, groups)


def _led_down(cluster: Cluster, maps: Sequence[StitchMap]) -> Cluster:
    """The same place at the edge below the first of the rounds."""
    low, high = cluster.low, cluster.high
    for worked in reversed(maps):
        low, high = worked.down(low), worked.down(high)
    return Cluster(low, high)


def _merged(places: list[Cluster], size: float) -> list[Cluster]:
    """Places with those that overlap on a round of ``size`` made one, in order."""
    merged: list[Cluster] = []
    for place in places:
        for laps in (0.0, size, -size):
            moved = Cluster(place.low + laps, place.high + laps)
            near = [m for m in merged if moved.low < m.high and m.low < moved.high]
            if near:
                break
        else:
            merged.append(place)
            continue
        low = min(moved.low, *(m.low for m in near))
        high = max(moved.high, *(m.high for m in near))
        merged = [*(m for m in merged if m not in near), Cluster(low, high)]
    return merged


def _laid(places: list[Cluster], size: int) -> tuple[list[int], list[int]]:
    """The borders of the arcs of the edge below (0 and the end included) and the group of each
    arc; a group that lies across the start of the round has an arc at both ends of it."""
    owner = [-1] * size
    for number, place in enumerate(places):
        for stitch in range(math.floor(place.low + 0.01), math.ceil(place.high - 0.01)):
            owner[stitch % size] = number
    borders = [0, *(n for n in range(1, size) if owner[n] != owner[n - 1]), size]
    # A place made of nothing but chains has no stitches below.
    left = sorted({number for number in owner if number >= 0})
    return borders, [left.index(owner[n]) if owner[n] >= 0 else -1 for n in borders[:-1]]


def _led_up(borders: list[int], maps: Sequence[StitchMap]) -> list[list[int]]:
    """Stitches of each arc at the edge below and at each round, as long as each arc has any, and
    could be worked into itself: no more than doubled, no less than halved."""
    rows = [[b - a for a, b in zip(borders, borders[1:], strict=False)]]
    for worked in maps:
        borders = [0, *(worked.up(b) for b in borders[1:-1]), round(worked.count)]
        row = [b - a for a, b in zip(borders, borders[1:], strict=False)]
        if min(row) < 1 or any(
            b > 2 * a or a > 2 * b for a, b in zip(rows[-1], row, strict=True)
        ):
            break
        rows.append(row)
    return rows


def _groups(owners: list[int], rows: list[list[int]]) -> list[list[float]]:
    """For each group the stitches it has more than its share, at each edge; the share goes evenly
    from that below the zone to that at its end."""
    groups: list[list[float]] = []
    steps = max(1, len(rows) - 1)
    for number in range(max(owners) + 1):
        own = _stitches_of(number, owners, rows)
        first, last = own[0] / sum(rows[0]), own[-1] / sum(rows[-1])
        groups.append(
            [
                n - (first + (last - first) * k / steps) * sum(row)
                for k, (n, row) in enumerate(zip(own, rows, strict=True))
            ]
        )
    return groups


def _stitches_of(group: int, owners: list[int], rows: list[list[int]]) -> list[int]:
    return [sum(n for n, o in zip(row, owners, strict=True) if o == group) for row in rows]


def _stop(owners: list[int], rows: list[list[int]], maps: Sequence[StitchMap], shaped: int) -> int:
    """After how many rounds the zone ends: with its shaping, if that comes out and goes in again;
    else some rounds later, or when no group has more than its share below the zone."""
    most = min(shaped + LONGEST_PAUSE, len(rows) - 1)
    if min(m.count - m.before for m in maps) < 0.0 < max(m.count - m.before for m in maps):
        return min(shaped, most)
    for k in range(min(shaped, most), most):
        owns = [_stitches_of(number, owners, rows) for number in range(max(owners) + 1)]
        if all(abs(n[k] - n[0] * sum(rows[k]) / sum(rows[0])) < 1.0 for n in owns):
            return k
    return most


def _others(owners: list[int]) -> list[int]:
    """The rest as groups and the groups as the rest; what goes on across the start is one."""
    pieces: list[int] = []
    number = -1
    for n, owner in enumerate(owners):
        if owner >= 0:
            pieces.append(-1)
            continue
        number += n == 0 or owners[n - 1] >= 0
        pieces.append(number)
    if len(owners) > 1 and owners[0] < 0 and owners[-1] < 0 and number > 0:
        pieces = [0 if piece == number else piece for piece in pieces]
    return pieces


def _group(
    number: int, start: int, owners: list[int], rows: list[list[int]], extra: list[float]
) -> Group:
    own = [j for j, owner in enumerate(owners) if owner == number]
    below, size = rows[0], sum(rows[0])
    wide = sum(below[j] for j in own)
    at = sum(below[: own[0]])
    if own[0] == 0 and own[-1] == len(owners) - 1 and len(own) > 1:
        # It begins before the start of the round.
        at = sum(below[: own[-1]])
    middle = (at + wide / 2.0) / size
    around = 360.0 * (0.5 - middle)
    # A bulge takes up more of the girth than of the angle, as much more as it stands out.
    share = max(
        n / sum(row) for n, row in zip(_stitches_of(number, owners, rows), rows, strict=True)
    )
    arc = min(0.5, (wide / size + share) / 2.0)
    return Group(start, arc, (around + 180.0) % 360.0 - 180.0, tuple(extra))
