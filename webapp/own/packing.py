"""A toy packed into a short text that is safe in an address (letters, digits, - and _).

JSON without spaces, deflated (zlib, RFC 1950) with a dictionary of the words recipes are written
in, in base64url without padding (RFC 4648). zlib's own checks tell a damaged text from a whole one.
"""

from __future__ import annotations

import base64
import binascii
import json
import zlib
from collections.abc import Mapping
from typing import Any

from webapp.own.errors import OwnFileError, PackedError
from webapp.own.lines import read_json
from webapp.own.structure import check_structure
from webapp.own.words import WORDS

LARGEST = 200_000
"""Bytes unpacked; and no packed text that is longer is looked at."""


def pack(data: Mapping[str, Any]) -> str:
    """The text of a toy; equal data gives equal text. Raises :class:`PackedError`."""
    try:
        plain = json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
        raw = plain.encode()
    except (TypeError, ValueError, RecursionError) as error:
        raise PackedError(
            asked="A toy was to be packed into an address.",
            why=f"It holds what no address can: {error}.",
            nearest="Mend that value.",
        ) from error
    if len(raw) > LARGEST:
        raise PackedError(
            asked="A toy was to be packed into an address.",
            why=f"It is larger than {LARGEST // 1000} kB.",
            nearest="Take parts out of it.",
        )
    packer = zlib.compressobj(9, zlib.DEFLATED, zlib.MAX_WBITS, 9, zdict=WORDS)
    packed = packer.compress(raw) + packer.flush()
    return base64.urlsafe_b64encode(packed).rstrip(b"=").decode("ascii")


def unpack(text: str) -> dict[str, Any]:
    """The toy in a packed text; raises :class:`PackedError` for one cut off or changed."""
    if len(text) > LARGEST:
        raise _damaged("It is far longer than any toy's.")
    try:
        packed = base64.b64decode(text + "=" * (-len(text) % 4), altchars=b"-_", validate=True)
    except (binascii.Error, ValueError) as error:
        raise _damaged("A character in it is none of its letters, or one is missing.") from error
    unpacker = zlib.decompressobj(zlib.MAX_WBITS, zdict=WORDS)
    try:
        raw = unpacker.decompress(packed, LARGEST + 1)
    except zlib.error as error:
        raise _damaged("Something in it was changed or cut off.") from error
    if len(raw) > LARGEST:
        raise _damaged(f"It unpacks to more than {LARGEST // 1000} kB.")
    if not unpacker.eof or unpacker.unused_data:
        raise _damaged("Its end was cut off, or something was added to it.")
    try:
        data = read_json(raw.decode()).value
    except (UnicodeDecodeError, OwnFileError) as error:
        raise _damaged("What it holds is no toy.") from error
    if not isinstance(data, dict):
        raise _damaged("What it holds is no toy.")
    check_structure(data)
    return data


def _damaged(why: str) -> PackedError:
    return PackedError(
        asked="A toy was to be unpacked from its address.",
        why=why,
        nearest="Copy the whole address again, or open the toy's file.",
    )
