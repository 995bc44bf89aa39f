"""The design that an address asks for, made; or why it cannot be, for pages that have no form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flask import Response, abort, render_template

from webapp.errors import RoundlingError
from webapp.way import Toy
from webapp.web.addresses import Addressed, design_at, make
from webapp.web.toys import workshop


@dataclass(frozen=True)
class Refusal:
    """Why there is no toy: 400 for a value, 422 for a part that cannot be made; ``addressed`` is
    its design where the address has one."""

    error: RoundlingError
    status: int
    addressed: Addressed | None = None


def made_design(
    toy: str, values: Mapping[str, Sequence[str]], *, boxes: Sequence[str] = ()
) -> tuple[Addressed, Toy] | Refusal:
    """The design asked for, made; what is wrong in one of ``boxes`` is said beside it later."""
    try:
        addressed = design_at(workshop(), toy, values)
    except RoundlingError as error:
        return Refusal(error, 400)
    if addressed is None:
        abort(404)
    for name, problem in addressed.reading.problems.items():
        if name not in boxes:
            return Refusal(problem, 400, addressed)
    try:
        return addressed, make(workshop(), addressed)
    except RoundlingError as error:
        return Refusal(error, 422, addressed)


def refused_page(refusal: Refusal) -> Response:
    """A page that cannot be."""
    page = render_template(
        "film_refused.html", error=refusal.error, addressed=refusal.addressed
    )
    return Response(page, refusal.status)
