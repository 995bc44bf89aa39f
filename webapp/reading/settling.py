"""The count that settles a choice the other way.

Of two readings that both take up the stitches there are, a count written behind the round says
which is meant.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from webapp.reading.bodies import Body
from webapp.reading.mending import Change, EnoughError, Tries
from webapp.reading.model import Span
from webapp.reading.readings import readings
from webapp.terms import Language


def other_reading(
    text: str,
    body: Body,
    language: Language,
    rooms: Iterable[int | None],
    told: Collection[int],
    tries: Tries,
) -> Change | None:
    """What has to be written into a round without a count so that it is read to make one of the
    numbers that a reader is ``told`` of; None where no such reading fits. Raises
    :class:`TooManyError`."""
    makes = (
        reading.made.makes
        for room in rooms
        for reading in readings(body, room, None)
        if room is not None and reading.fits(room, None)
    )
    count = next((number for number in makes if number in told), None)
    if count is None:
        return None
    put = f" ({count})"
    for at in _places(text, body):
        try:
            after = tries.read(text[:at] + put + text[at:], language)
        except EnoughError:
            return None
        said = [number for number, _ in after.counts]
        if said == [count] and not after.noise and len(after.nodes) == len(body.nodes):
            return Change(Span(at, at), put, f"the count {count} is written")
    return None


def _places(text: str, body: Body) -> list[int]:
    """Where the count may stand: before the remarks, else at the end."""
    ends = [*sorted(span.start for span in body.remarks)[:1], len(text)]
    return list(dict.fromkeys(len(text[:end].rstrip(" .,;:\n")) for end in ends))
