"""The route of the checks before publishing."""

from __future__ import annotations

from dataclasses import dataclass

from flask import Blueprint, Response, render_template, request

from webapp.checks import Check, publishing_checks
from webapp.pattern import pattern_sheet, pattern_text
from webapp.way import Toy
from webapp.web.addresses import Addressed
from webapp.web.asking import Refusal, made_design
from webapp.yarns import Terms

checking = Blueprint("checking", __name__)


@dataclass(frozen=True)
class ChecksPage:
    """A toy and what holds of its pattern; those that do not hold come first."""

    addressed: Addressed
    terms: Terms
    checks: tuple[Check, ...]

    @property
    def failing(self) -> int:
        return sum(not check.holds for check in self.checks)

    @property
    def summary(self) -> str:
        """What came of it, in one sentence."""
        total = len(self.checks)
        if not self.failing:
            return f"All {total} checks hold: the pattern can be published."
        verb = "does" if self.failing == 1 else "do"
        return f"{self.failing} of {total} checks {verb} not hold: mend that before publishing."


@checking.get("/toys/<toy>/checks")
def checks(toy: str) -> Response:
    """What holds of the pattern before it is published, each thing computed."""
    found = made_design(toy, request.args.to_dict(flat=False))
    if isinstance(found, Refusal):
        body = render_template("checks.html", page=None, refusal=found)
        return Response(body, found.status)
    addressed, made = found
    page = ChecksPage(addressed, made.worked.design.terms, checks_of(made))
    return Response(render_template("checks.html", page=page, refusal=None))


def checks_of(made: Toy) -> tuple[Check, ...]:
    """The checks of a toy's own sheet and text, those that do not hold first."""
    toy, materials, cautions = made.worked, made.materials, made.cautions
    sheet = pattern_sheet(toy, materials, cautions)
    text = pattern_text(toy, materials, cautions)
    found = publishing_checks(toy, materials, cautions, sheet, text)
    return tuple(sorted(found, key=lambda check: check.holds))
