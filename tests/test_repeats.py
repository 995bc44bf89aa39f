"""The wording of rounds: shortest by exhaustive search, exact by expanding it again."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.rounds.repeats import KINDS, LETTERS, Group, Item, description_length, joined, shortest
from webapp.rounds.spread import made, spread, used_up


def expanded(items: tuple[Item, ...]) -> str:
    """The stitches that a description stands for, as letters."""
    return "".join(
        expanded(i.items) * i.times if isinstance(i, Group) else LETTERS[i[0]] * i[1]
        for i in items
    )


@cache
def least(row: str) -> int:
    """The least length of any description of ``row``: every split and every repeat is tried."""
    if row == row[0] * len(row):
        return 1
    best = len(row)
    for cut in range(1, len(row)):
        best = min(best, least(row[:cut]) + least(row[cut:]))
    for period in range(1, len(row) // 2 + 1):
        if len(row) % period == 0 and row[:period] * (len(row) // period) == row:
            best = min(best, 1 + least(row[:period]))
    return best


def as_work(row: str):
    return joined((KINDS[letter], 1) for letter in row)


@given(st.text(alphabet="sid", min_size=1, max_size=14))
def test_shortest_against_an_exhaustive_search_of_small_rounds(row: str) -> None:
    found = shortest(as_work(row))
    assert expanded(found) == row
    assert description_length(found) <= least(row)


@given(st.integers(4, 60), st.floats(0.5, 2.0), st.booleans())
def test_shortest_of_worked_rounds_against_the_exhaustive_search(
    before: int, ratio: float, staggered: bool
) -> None:
    after = min(2 * before, max(-(-before // 2), round(before * ratio)))
    work = spread(before, after, staggered)
    row = "".join(LETTERS[kind] * n for kind, n in work)
    found = shortest(work)
    assert expanded(found) == row
    if len(row) <= 26:
        assert description_length(found) <= least(row)


@given(st.integers(3, 400), st.floats(0.5, 2.0), st.booleans())
def test_a_round_uses_up_exactly_the_round_before(
    before: int, ratio: float, staggered: bool
) -> None:
    after = min(2 * before, max(-(-before // 2), round(before * ratio)))
    work = spread(before, after, staggered)
    assert (used_up(work), made(work)) == (before, after)


@given(st.integers(3, 200), st.integers(1, 30))
def test_increases_are_as_even_as_whole_stitches_allow(before: int, extra: int) -> None:
    """Gaps between increases differ by one stitch at most: common practice, no source."""
    extra = min(extra, before)
    row = "".join(LETTERS[kind] * n for kind, n in spread(before, before + extra))
    gaps = [len(gap) for gap in row.rstrip("s").split("i")[:-1]]
    assert max(gaps) - min(gaps) <= 1


@pytest.mark.parametrize(
    ("row", "items"),
    [
        ("sssi" * 6, 3),  # (3 sc, inc) x 6
        (("si" * 5 + "s" * 20) * 2, 5),  # [(sc, inc) x 5, 20 sc] x 2
        ("ssi" + "ssssi" * 5 + "ss", 4),  # (2 sc, inc, 2 sc) x 6
        ("ssi" + "ssssi" * 4 + "ss", 4),
        ("si" + "ssssi" * 5 + "ss", 6),  # sc, inc, (4 sc, inc) x 5, 2 sc
        ("i" * 6, 1),  # inc x 6
    ],
)
def test_wordings_as_published_patterns_have_them(row: str, items: int) -> None:
    """Forms counted in published toy patterns (fixed stitches outside a group, groups in groups);
    rounds composed for this test."""
    assert description_length(shortest(as_work(row))) == items


def test_spread_refuses_more_than_double_and_less_than_half() -> None:
    with pytest.raises(ValueError, match="cannot be worked"):
        spread(6, 13)
    with pytest.raises(ValueError, match="cannot be worked"):
        spread(12, 5)
