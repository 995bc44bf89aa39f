"""How a part is begun, told from its first line of work."""

from __future__ import annotations

from dataclasses import dataclass

from webapp.reading.bodies import Body
from webapp.reading.model import Begin
from webapp.reading.nodes import Act, Fill, made_plainly


@dataclass(frozen=True)
class Beginning:
    """The begin of a part, its chains, and how many stitches the first round is worked into (None:
    as many as it takes up)."""

    begin: Begin
    chain: int = 0
    room: int | None = None


def begun(body: Body, earlier: Body | None) -> Beginning:
    """How a part is begun that starts with ``body``; ``earlier`` is a line before it that makes a
    ring or a chain and no stitches."""
    own = max((mark.number for mark in body.marks if mark.what == "chain"), default=0)
    if own > 1 and body.mark("into chain") is not None:
        earlier = None  # it says its chain itself
    marks = [*(earlier.marks if earlier else ()), *body.marks]
    whats = {mark.what for mark in marks}
    chains = [mark.number for mark in marks if mark.what == "chain"]
    # `a chain of 5 ch`: the chain itself has no number.
    chain = next((number for number in chains if number > 1), max(chains, default=0))
    if chain > 1 and "standing" in whats:
        # Said apart, the chain to turn by is not among them.
        chain += 1
    if "leg" in whats:
        return Beginning(Begin.LEGS, chain)
    if chain > 2 and "join" in whats and not whats & {"into chain"}:
        return _chain_ring(body, chain)
    if "ring" in whats or "into ring" in whats:
        return Beginning(Begin.RING)
    if chain > 2 and (_fills(body) or _takes(body) == chain - 1):
        return Beginning(Begin.FLAT, chain, chain - 1)
    if "into chain" in whats and _acts(body) == 1 and not _fills(body):
        return Beginning(Begin.RING)
    if chain > 1:
        return Beginning(Begin.OVAL, chain)
    if whats & {"front", "back", "left", "edge"} and earlier is not None:
        return Beginning(Begin.EDGE)
    return Beginning(Begin.UNKNOWN)


def _chain_ring(body: Body, chain: int) -> Beginning:
    """Chains joined into a ring: stitches go into each of them, or into the ring."""
    into_each = not body.nodes or _fills(body) or _takes(body) == chain
    return Beginning(Begin.CHAIN_RING, chain, chain if into_each else None)


def oval_fits(chain: int, takes: int) -> bool:
    """Whether an oval's first round fits its chain: each chain but the one skipped is worked from
    both sides, those at the ends once or twice."""
    both = 2 * (chain - 1)
    return both - 3 <= takes <= both


def _acts(body: Body) -> int:
    return sum(1 for node in body.nodes if not isinstance(node, Fill))


def _fills(body: Body) -> bool:
    return any(isinstance(node, Fill) for node in body.nodes)


def _takes(body: Body) -> int:
    made = made_plainly(body.nodes)
    return made.takes if made is not None and all(isinstance(n, Act) for n in body.nodes) else 0
