"""The recipe and the reading of an address: of this request's, or of one written in a page.

Whatever names a toy goes through :func:`design_at`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import parse_qs, unquote, urlsplit

from webapp.errors import RoundlingError
from webapp.proportions import ProportionError
from webapp.recipes import Recipe
from webapp.way import Toy
from webapp.web.editor import OWN, own_reading, own_recipe, packed_once
from webapp.web.fields import HEIGHTS, Reading, read_design
from webapp.web.figures import address_of
from webapp.web.holds import PREFIX
from webapp.web.toys import Workshop

LONGEST = 60_000
"""Characters of an address; a toy of one's own is in its address as a whole."""

MOST_VALUES = 60


@dataclass(frozen=True)
class Addressed:
    """A recipe, and the design of it that an address means."""

    recipe: Recipe
    reading: Reading

    @property
    def values(self) -> dict[str, str]:
        """The values of the design's address."""
        return dict(self.reading.accepted)

    @property
    def address(self) -> str:
        return self.at()

    def at(self, file: str = "", **more: str) -> str:
        """The address of the design, or of one of its files; with values that are the file's."""
        return address_of(self.recipe, {**self.values, **more}, file)

    def having(self, values: Mapping[str, str]) -> Addressed:
        """The design of the same recipe with these values and no others."""
        texts = {name: [text] for name, text in values.items() if name != "recipe"}
        if self.recipe.key == OWN:
            packed = self.reading.accepted["recipe"]
            return Addressed(self.recipe, own_reading(self.recipe, packed, texts))
        return Addressed(self.recipe, read_design(self.recipe, texts))

    def meeting(self, values: Mapping[str, str], slider: str) -> Addressed:
        """The same, the value of one slider met whatever is held.

        At its default a slider gives way to what is held; so there it is pinned as well.
        """
        found = self.having(values)
        names = HEIGHTS if slider == "height" else (slider,)
        holding = any(name == "let_go" or name.startswith(PREFIX) for name in found.values)
        if slider not in self.recipe.sliders or not holding or found.values.keys() & set(names):
            return found
        pins = dict.fromkeys((*filter(None, values.get("pin", "").split(",")), slider))
        return self.having({**values, "pin": ",".join(pins)})


def design_at(
    workshop: Workshop, toy: str, values: Mapping[str, Sequence[str]]
) -> Addressed | None:
    """The recipe of a toy's key and the design in its values; None for a toy that is not known.

    Raises :class:`RoundlingError` for a toy of one's own that cannot be read.
    """
    if toy == OWN:
        packed = packed_once(values.get("recipe", ()))
        own = own_recipe(packed)
        return Addressed(own, own_reading(own, packed, values))
    recipe = workshop.recipes.get(toy)
    return None if recipe is None else Addressed(recipe, read_design(recipe, values))


def read_address(workshop: Workshop, text: str, host: str = "") -> Addressed:
    """The design of an address such as ``/toys/otter?head_to_body=1.1``.

    A whole address is taken if it leads to ``host``. Raises :class:`RoundlingError` for one that
    is not the address of a toy here, and for a value that cannot be (the first of them).
    """
    found = _parted(text.strip(), host)
    addressed = None if found is None else design_at(workshop, *found)
    if addressed is None:
        raise RoundlingError(
            asked=f"{brief(text)} was given as a design.",
            why="It is not the address of a toy here.",
            nearest="Give the address of a designer page, such as /toys/otter?height_cm=18.",
            field="v",
        )
    for problem in addressed.reading.problems.values():
        raise problem
    return addressed


def _parted(text: str, host: str) -> tuple[str, dict[str, list[str]]] | None:
    """The toy's key and the values of an address; None if it is no such address."""
    if len(text) > LONGEST:
        return None
    try:
        parts = urlsplit(text)
        values = parse_qs(parts.query, keep_blank_values=True, max_num_fields=MOST_VALUES)
    except ValueError:
        return None
    here = (parts.scheme, parts.netloc) == ("", "") or (
        parts.scheme in ("http", "https") and parts.netloc == host
    )
    folder, _, toy = parts.path.rpartition("/")
    if not here or folder != "/toys":
        return None
    return unquote(toy), values


def make(workshop: Workshop, addressed: Addressed) -> Toy:
    """The toy of an address; raises the refusal, with what would help, when it cannot be made.

    Measures that contradict each other say themselves what can be let go.
    """
    try:
        return workshop.make(addressed.recipe, addressed.reading)
    except ProportionError:
        raise
    except RoundlingError as error:
        raise workshop.explained(addressed.recipe, addressed.reading, error) from error


def brief(text: str) -> str:
    """A text as it is quoted in a sentence."""
    return f"“{text[:60]}{'…' if len(text) > 60 else ''}”"
