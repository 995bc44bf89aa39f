"""Any dimension leads: values that are held, and what is on offer where they leave something open.

What is held must hold. What is on offer (sliders at their defaults, sizes a toy was drawn with) is
taken in its order as long as it settles something new; the rest follows. The rules themselves are
solved once for what is on offer; held values are met by a few Newton steps on the compiled rules,
in the logarithms of the offers that give way, so no algebra is done while somebody waits.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from webapp.formulas import Equation, names_in
from webapp.proportions.errors import ProportionError, too_free
from webapp.proportions.hold_errors import HoldError, held_too_much, out_of_reach
from webapp.proportions.independence import Independent
from webapp.proportions.solution import Solution
from webapp.proportions.solving import solve_rules
from webapp.proportions.tangents import Complexes, pulls

Floats = NDArray[np.float64]

SEED = 11
MET = 1e-9
"""How near a held value is met, as a part of itself."""
AGREES = 1e-4
"""A held value that follows from the others anyway may be given rounded, by this part of it."""
MOST_STEPS = 40
LONGEST_STEP = 0.7
NUDGE = 1e-6
FARTHEST, TRIES = 50.0, 41
"""How far from its own value, in how many steps, an offer is tried for what can be had."""


@dataclass(frozen=True)
class Offer:
    """A value that is taken unless what is held settles it; where it follows, from ``low`` to
    ``high``. Units as the name has (mm, or none)."""

    name: str
    value: float
    low: float = 0.0
    high: float = math.inf


@dataclass(frozen=True)
class Settled:
    """All dimensions, the offers that follow, and those that were taken."""

    values: Mapping[str, float]
    following: tuple[str, ...]
    taken: tuple[str, ...]


def settle(
    rules: tuple[Equation, ...], held: Mapping[str, float], offers: Sequence[Offer]
) -> Settled:
    """Every dimension from what is held and what is on offer.

    Offers that come first are kept longest. Where that puts one that follows outside its range,
    others give way instead, the last first. Raises :class:`HoldError` when what is held conflicts
    (with the rules and holds that do) or cannot be reached, and :class:`ProportionError` for
    rules that settle nothing or too much.
    """
    in_rules = {name for rule in rules for name in names_in(rule)}
    alone = sorted(set(held) - in_rules - set(_names(offers)))
    offers = [*offers, *(Offer(name, held[name]) for name in alone)]
    system = _system(rules, tuple(_names(offers)))
    base, _ = _leads(system, (), tuple(_names(offers)))
    spare = _spare(system, tuple(held))
    failure: HoldError | None = None
    for order in _orders(offers):
        try:
            return _settle(system, base, held, order, spare)
        except HoldError as error:
            failure = failure or error
    assert failure is not None
    raise failure


def _orders(offers: Sequence[Offer]) -> list[list[Offer]]:
    """The offers as they come, then with each in turn, from the last on, put behind the others."""
    orders = [list(offers)]
    for offer in reversed(offers[:-1]):
        orders.append([o for o in offers if o is not offer] + [offer])
    return orders


@dataclass(frozen=True, eq=False)
class _System:
    """Rules with their slopes; ``names`` are all names, ``slopes`` (rules, names)."""

    rules: tuple[Equation, ...]
    names: tuple[str, ...]
    index: Mapping[str, int]
    slopes: Complexes

    def start(self) -> Independent:
        """The rules alone; raises a ProportionError if they conflict among themselves."""
        kept = Independent(self.slopes)
        for row in range(len(self.rules)):
            if not kept.add(row):
                rows = kept.conflict(row)
                raise held_too_much([self.rules[r].text for r in rows], {})
        return kept


@lru_cache(maxsize=256)
def _system(rules: tuple[Equation, ...], more: tuple[str, ...]) -> _System:
    found = [name for rule in rules for name in sorted(names_in(rule))]
    names = tuple(dict.fromkeys((*more, *found)))
    slopes = pulls(rules, names, SEED)
    return _System(rules, names, {name: n for n, name in enumerate(names)}, slopes)


def _settle(
    system: _System,
    base: Sequence[str],
    held: Mapping[str, float],
    offers: Sequence[Offer],
    spare: Sequence[str],
) -> Settled:
    leads, taken = _leads(system, tuple(n for n in held if n not in spare), tuple(_names(offers)))
    solution = solve_rules(system.rules, tuple(base))
    given = {offer.name: offer.value for offer in offers} | dict(held)
    moving = [name for name in base if name not in leads]
    wanted = {name: given[name] for name in leads if name not in base}
    known = {name: given[name] for name in base if name in leads}
    by_name = {offer.name: offer for offer in offers}
    giving = [by_name[name] for name in moving]
    values = _meet(solution, known, giving, wanted)
    for name in spare:
        if abs(values[name] - held[name]) > AGREES * held[name]:
            raise _conflict(system, held, name)
    following = tuple(n for n in _names(offers) if n not in taken and n not in held)
    for name in following:
        offer, value = by_name[name], values[name]
        if not offer.low * (1.0 - 1e-6) <= value <= offer.high * (1.0 + 1e-6):
            reach = _reach(solution, known, giving, wanted)
            raise out_of_reach(held, reach, (name, value, offer.low, offer.high))
    return Settled(values, following, taken)


def _names(offers: Sequence[Offer]) -> list[str]:
    return [offer.name for offer in offers]


@lru_cache(maxsize=1024)
def _spare(system: _System, held: tuple[str, ...]) -> tuple[str, ...]:
    """The held names that rules and the names before them settle already."""
    kept = system.start()
    return tuple(name for name in held if not kept.add(kept.held(system.index[name])))


@lru_cache(maxsize=1024)
def _leads(
    system: _System, held: tuple[str, ...], offered: tuple[str, ...]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The names that lead, and those of them that were on offer."""
    kept = system.start()
    for name in held:
        kept.add(kept.held(system.index[name]))
    taken = tuple(name for name in offered if kept.add(kept.held(system.index[name])))
    if not kept.full:
        free = [n for n in system.names if not kept.follows(kept.held(system.index[n]))]
        raise too_free((*held, *taken), free, len(system.names) - len(kept.kept))
    return (*held, *taken), taken


def _conflict(system: _System, held: Mapping[str, float], spare: str) -> HoldError:
    """Which rules and holds settle a name that is held to another value."""
    kept = system.start()
    for name in held:
        if name == spare:
            break
        kept.add(kept.held(system.index[name]))
    rows = kept.conflict(kept.held(system.index[spare]))
    rules = [system.rules[row].text for row in rows if row < kept.rules]
    names = [system.names[row - kept.rules] for row in rows if row >= kept.rules]
    return held_too_much(rules, {name: held[name] for name in names})


def _meet(
    solution: Solution,
    known: Mapping[str, float],
    moving: Sequence[Offer],
    wanted: Mapping[str, float],
) -> dict[str, float]:
    """All dimensions where those ``wanted`` have their values, by moving as many offers."""
    if not moving:
        return solution.evaluate(known)
    logs: Floats = np.log([offer.value for offer in moving])
    targets = list(wanted)
    aims = np.log([wanted[name] for name in targets])

    def values_at(point: Floats) -> dict[str, float]:
        moved = dict(zip((o.name for o in moving), np.exp(point).tolist(), strict=True))
        return solution.evaluate({**known, **moved})

    try:
        values = values_at(logs)
    except ProportionError as error:
        raise out_of_reach(wanted, _reach(solution, known, moving, wanted)) from error
    for _ in range(MOST_STEPS):
        errors = np.array([math.log(values[name]) for name in targets]) - aims
        if float(np.abs(errors).max()) < MET:
            return values
        slopes = np.empty((len(targets), len(moving)))
        try:
            for column in range(len(moving)):
                nudged = logs.copy()
                nudged[column] += NUDGE
                at = values_at(nudged)
                slopes[:, column] = [math.log(at[n] / values[n]) / NUDGE for n in targets]
            step = np.linalg.solve(slopes, -errors)
        except (ProportionError, np.linalg.LinAlgError):
            break
        step *= min(1.0, LONGEST_STEP / max(float(np.abs(step).max()), 1e-12))
        # Where a dimension would come out negative, a shorter step.
        for _ in range(30):
            try:
                values = values_at(logs + step)
            except ProportionError:
                step /= 2.0
            else:
                logs = logs + step
                break
        else:
            break
        if float(np.abs(step).max()) < 1e-13:
            break
    raise out_of_reach(wanted, _reach(solution, known, moving, wanted))


def _reach(
    solution: Solution,
    known: Mapping[str, float],
    moving: Sequence[Offer],
    wanted: Mapping[str, float],
) -> tuple[str, float, float] | None:
    """The range of the one value wanted while the one offer that gives way stays in its own."""
    if len(moving) != 1:
        return None
    offer, name = moving[0], next(iter(wanted))
    low, high = max(offer.low, offer.value / FARTHEST), min(offer.high, offer.value * FARTHEST)
    found = []
    for share in np.linspace(0.0, 1.0, TRIES).tolist():
        try:
            at = solution.evaluate({**known, offer.name: low ** (1.0 - share) * high**share})
        except ProportionError:
            continue
        found.append(at[name])
    return (name, min(found), max(found)) if found else None
