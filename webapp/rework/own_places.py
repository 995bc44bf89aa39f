"""Where the parts of a read pattern go: as the pattern says, else as parts so called usually do."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.own.defaults import surface_place
from webapp.own.naming import Data
from webapp.own.wonted import WONTS
from webapp.reading import ReadPart, ReadPattern, RemarkKind
from webapp.rework.own_outline import edges_of
from webapp.rework.own_parts import Shape
from webapp.rework.own_words import (
    HOST_FOLLOWS,
    ON_FACE,
    Role,
    plain,
    role_of,
    roles_in,
    rounds_in,
)
from webapp.yarns import Gauge

ON_TOP = {"along": 1, "around": 0, "tilt": 90, "swing": 0}
OPENINGS_NEAR = 1.0
"""Stitches, or 4 % of the round, by which two openings that are sewn together may differ."""

HEAD_ROLES = (Role.EAR, Role.MUZZLE, Role.HAT)
SENTENCE = re.compile(r"[.;\n]+")


@dataclass(frozen=True)
class Seated:
    """A part as data, as it was read, and its shape."""

    data: Data
    read: ReadPart
    shape: Shape
    gauge: Gauge

    @property
    def role(self) -> Role:
        return role_of(self.read.title)

    @property
    def key(self) -> str:
        return str(self.data["name"])

    def along(self, first: int, last: int) -> float | None:
        """How far along its axis the middle of two rounds lies (0 to 1)."""
        counts = [float(n) for n in self.shape.counts]
        if not 0 <= first <= last <= len(counts) or not counts:
            return None
        _, axial = edges_of(
            counts, self.gauge, closed=not self.shape.open_end, open_start=self.shape.open_start
        )
        middle = (float(axial[first]) + float(axial[last])) / 2.0
        return round(min(1.0, middle / float(axial[-1])), 3)


@dataclass(frozen=True)
class Said:
    """That a part is sewn to another between two of its rounds."""

    guest: Seated
    host: Seated
    first: int
    last: int


def places_of(
    pattern: ReadPattern,
    seated: Sequence[Seated],
    base: Seated,
    joined: Seated | None,
    left_out: list[str],
) -> list[Data]:
    """The parts as data with their places, hosts before what is sewn to them."""
    base.data["place"] = {"seat": "ground"}
    order = [base]
    said = {s.guest.key: s for s in _said(pattern, seated) if s.guest is not base}
    if joined is not None:
        joined.data["place"] = {"seat": "joined", "on": base.key, "pair": True}
        order.append(joined)
    rest = [s for s in seated if s is not base and s is not joined]
    head = next((s for s in rest if s.role is Role.HEAD and not _is_strip(s)), None)
    if head is not None:
        head.data["place"] = _head_place(head, base)
        order.append(head)
    waiting = [s for s in rest if s is not head]
    while waiting:
        ready = [
            s for s in waiting if s.key not in said or said[s.key].host in order
        ] or waiting[:1]
        part = ready[0]
        where = said.get(part.key)
        if where is not None and where.host not in order:
            where = None
        part.data["place"] = _place(part, base, head, order, where)
        _take_copies(part, left_out)
        order.append(part)
        waiting.remove(part)
    return [s.data for s in order]


def _is_strip(part: Seated) -> bool:
    return bool(part.data["shape"] == "strip")


def _head_place(head: Seated, body: Seated) -> Data:
    """Opening to opening where both are as wide, else on top."""
    if body.shape.open_end and head.shape.counts and body.shape.counts:
        one, other = head.shape.counts[-1], body.shape.counts[-1]
        if abs(one - other) <= max(OPENINGS_NEAR, 0.04 * other) and not head.read.closed:
            return {"seat": "opening", "on": body.key}
    return {"seat": "surface", "on": body.key, **ON_TOP}


def _place(
    part: Seated, base: Seated, head: Seated | None, order: list[Seated], said: Said | None
) -> Data:
    if _is_strip(part):
        return {"seat": "neck", "on": base.key}
    role = part.role
    on_head = role in HEAD_ROLES or bool(ON_FACE.search(plain(part.read.title)))
    host = head if on_head and head is not None else base
    if said is not None:
        host = said.host
    alike = [s for s in order if s.role is role and s.data["place"].get("on") == host.key]
    wont = next((w for w in WONTS if role.value and re.fullmatch(w.words, role.value)), None)
    if role is Role.PATCH and part.data["shape"] in ("disc", "oval"):
        around = 33 if part.read.copies == 2 else 0
        place: Data = {"seat": "surface", "on": host.key, "along": 0.5, "around": around}
        place |= {"tilt": 0, "swing": around, "lies_flat": True}
        if part.data["shape"] == "oval" and host is base:
            place["roll"] = 90
    elif role is Role.HAT:
        place = {"seat": "surface", "on": host.key, **ON_TOP, "along": _top(host, head)}
    elif wont is None:
        on_it = sum(s.data["place"].get("on") == host.key for s in order)
        place = surface_place(host.key, str(part.data["shape"]), on_it)
    else:
        along = wont.along
        if host is base and base.role is Role.HEAD:
            # What stands on the ground is begun there, a head that is sewn on at its crown.
            along = round(1.0 - along, 3)
        place = {"seat": "surface", "on": host.key, "along": along}
        place |= {"around": wont.around, "tilt": wont.tilt, "swing": wont.swing}
        if len(alike) % 2:
            place |= {"around": -wont.around, "swing": -wont.swing}
    if said is not None:
        along_said = host.along(said.first, said.last)
        if along_said is not None:
            place["along"] = along_said
    return place


def _top(host: Seated, head: Seated | None) -> float:
    """Where the top of a host is along its axis: a head is begun at its crown."""
    return 0.0 if host is head else 1.0


def _take_copies(part: Seated, left_out: list[str]) -> None:
    """As many of it as the pattern says, as a pair or evenly round its host."""
    copies, place = part.read.copies, part.data["place"]
    if copies < 2:
        return
    if place["seat"] != "surface":
        left_out.append(f"{part.data['label']}: only one of {copies} is in the toy.")
    elif copies == 2:
        if place["around"] in (0, 180, -180):
            place |= {"around": 40, "swing": 40}
        place["pair"] = True
    else:
        place["times"] = min(copies, 24)


def _said(pattern: ReadPattern, seated: Sequence[Seated]) -> list[Said]:
    """What the remarks say of rounds between which parts are sewn."""
    found = []
    for own in seated:
        for remark in own.read.remarks:
            if remark.kind is RemarkKind.SEW:
                found += _sentences(remark.text, seated, own)
    for remark in pattern.remarks:
        if remark.kind in (RemarkKind.SEW, RemarkKind.OTHER):
            found += _sentences(remark.text, seated, None)
    return found


def _sentences(text: str, seated: Sequence[Seated], own: Seated | None) -> list[Said]:
    """`Sew the ears between rounds 5 and 9 of the head`: the first part that is named is the one
    sewn, the last one its host; in a part's own remarks it may itself go unnamed."""
    found = []
    for sentence in SENTENCE.split(text):
        rounds = rounds_in(sentence)
        named = _named(sentence, seated)
        if own is not None and own not in named and len(named) == 1:
            named = [own, *named] if _is_host(sentence, named[0]) else [*named, own]
        if rounds is None or len(named) < 2 or _is_strip(named[-1]):
            # With one part only it is not said what is sewn, or to what.
            continue
        found.append(Said(named[0], named[-1], *rounds))
    return found


def _named(sentence: str, seated: Sequence[Seated]) -> list[Seated]:
    """The parts that are named, in order, each once: by their title, or what they are."""
    words = plain(sentence)
    found: dict[str, Seated] = {}
    for role in roles_in(sentence):
        part = next((s for s in seated if s.role is role), None)
        if part is not None:
            found.setdefault(part.key, part)
    for part in seated:
        title = plain(part.read.title)
        if part.role is Role.OTHER and title and re.search(rf"\b{title}\b", words):
            found.setdefault(part.key, part)
    return list(found.values())


def _is_host(sentence: str, part: Seated) -> bool:
    """Whether the words before its name say that something is sewn to it."""
    words = plain(sentence).split()
    at = next((k for k, word in enumerate(words) if part.role in roles_in(word)), None)
    return at is not None and bool(HOST_FOLLOWS.search(" ".join(words[:at])))
