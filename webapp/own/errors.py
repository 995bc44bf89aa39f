"""What is said when a toy of one's own cannot be read or changed."""

from __future__ import annotations

from webapp.errors import RoundlingError


class OwnFileError(RoundlingError):
    """A design file that cannot be used: on which ``line`` (from 1), which key, why.

    ``field`` is the key, as a path such as ``parts[2].lengths.width``, or empty where the text
    itself is at fault.
    """

    def __init__(self, line: int, key: str, why: str, nearest: str) -> None:
        self.line = line
        where = f", where {key} is" if key else ""
        super().__init__(
            asked=f"Line {line} was to be read{where}.", why=why, nearest=nearest, field=key
        )


class EditError(RoundlingError):
    """A change that cannot be made; ``field`` names the part, colour or rule it is about."""


class PackedError(RoundlingError):
    """A packed toy that cannot be opened, or data that cannot be packed."""
