"""What a spiral's first round is worked into, and how its last one is fastened off."""

from __future__ import annotations

import math

from webapp.charts.drawing import ending, use
from webapp.charts.laps import CHAIN_IN_MM, LANE_MM, Ring
from webapp.paper import at, number, text, text_width
from webapp.rounds import Start, WorkedPart
from webapp.yarns import TermSet

NAMES_FIT = 1.7
"""The names of two legs side by side fit a ring of them up to this share of its radius."""


def begun(
    part: WorkedPart, first: Ring, straight: float, words: TermSet
) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """What the first round is worked into, the symbols that takes, and what to say of it."""
    if straight:
        many = part.straight_stitches + 2
        step = straight / (many - 1)
        chain = [use("ch", at(-straight / 2.0 + step * n, 0.0)) for n in range(many)]
        # The one that is left out stands at the hook's end, beside the one worked into first.
        chain.append(use("ch", at(straight / 2.0 + 2.8, 0.0)))
        return _begin("".join(chain)), ("ch",), ()
    start = part.order.start
    if start is Start.RING:
        return _begin(use("ring", at(0.0, 0.0))), ("ring",), ()
    inner = first.inner(0.0) - CHAIN_IN_MM
    if start is Start.OPEN:
        many = part.start_chains
        angles = [(n + 1.0) * 2.0 * math.pi / (many + 1) for n in range(many)]
        chain = [_turned("ch", inner, angle) for angle in angles]
        return _begin("".join([*chain, _turned("sl-st", inner, 0.0)])), ("ch", "sl-st"), ()
    return _on_legs(part, first, inner, words)


def _on_legs(
    part: WorkedPart, first: Ring, inner: float, words: TermSet
) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """Two legs as arcs with the chain between them, twice."""
    gap = first.gap / first.middle(0.0)
    step = (2.0 * math.pi - gap) / part.counts[0]
    leg, chain = part.per_leg, part.order.chain
    body: list[str] = []
    at_stitch = 0
    names = [words.say("first leg"), words.say("second leg")]
    says = [
        words.say("Round 1 goes round both legs and along both sides of the chain between them.")
    ]
    if sum(text_width(name) for name in names) > NAMES_FIT * inner:
        says.append(", ".join(f"{n}{words.manner.colon}{name}" for n, name in enumerate(names, 1)))
        names = ["1", "2"]
    for name in names:
        a, b = gap + step * at_stitch, gap + step * (at_stitch + leg)
        p, q = ((inner * math.sin(t), inner * math.cos(t)) for t in (a, b))
        r = number(inner)
        body.append(
            f'<path d="M{number(p[0])} {number(p[1])}A{r} {r} 0 0 0 {number(q[0])} {number(q[1])}" '
            'fill="none" stroke="currentColor" stroke-width=".5"/>'
        )
        middle = (a + b) / 2.0
        x, y = 0.5 * inner * math.sin(middle), 0.5 * inner * math.cos(middle)
        body.append(text(x, y - 0.6, name, anchor="middle"))
        body.append(text(x, y + 2.4, str(leg), anchor="middle"))
        places = (gap + step * (at_stitch + leg + k + 0.5) for k in range(chain))
        body += [_turned("ch", inner, angle) for angle in places]
        at_stitch += leg + chain
    return _begin("".join(body)), ("ch",) if chain else (), tuple(says)


def _begin(body: str) -> str:
    return f'<g class="begin">{body}</g>'


def _turned(name: str, far: float, angle: float) -> str:
    place = at(far * math.sin(angle), far * math.cos(angle))
    return use(name, f"{place}rotate({number(180.0 - math.degrees(angle))})")


def ended(part: WorkedPart, last: Ring, straight: float) -> tuple[str, tuple[str, ...]]:
    """How it is fastened off, where a further round would begin."""
    far = last.base + last.pitch + LANE_MM / 2.0
    names = ending(part)
    places = []
    for n, name in enumerate(names):
        angle = (1.2 + 2.4 * n) / far
        x, y = straight / 2.0 + far * math.sin(angle), far * math.cos(angle)
        places.append(use(name, at(x, y)))
    return f'<g class="end">{"".join(places)}</g>', names
