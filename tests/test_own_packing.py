"""A packed toy: the same again when unpacked, safe in an address, short, bounded."""

from __future__ import annotations

import base64
import re
import zlib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.strategies import TEST_TOYS, TOYS
from webapp.errors import RoundlingError
from webapp.own.packing import pack, unpack
from webapp.own.words import WORDS
from webapp.own.writing import recipe_data
from webapp.recipes import load_recipe

ALL_TOYS = sorted((*TOYS.glob("*.toml"), *TEST_TOYS.glob("*.toml")))
OTTER = recipe_data(load_recipe(TOYS / "otter.toml"))


@pytest.mark.parametrize("path", ALL_TOYS, ids=lambda path: path.stem)
def test_a_packed_toy_is_short_safe_and_the_same_again(path: Path) -> None:
    """RFC 3986: letters, digits, - and _ need no escaping anywhere in an address."""
    data = recipe_data(load_recipe(path))
    text = pack(data)
    print(path.stem, len(data["parts"]), "parts:", len(text), "characters")
    assert re.fullmatch(r"[A-Za-z0-9_-]+", text)
    assert len(text) < 1200
    assert unpack(text) == data
    assert pack(unpack(text)) == text
    assert list(unpack(text)["colours"]) == list(data["colours"])


def test_the_text_is_plain_zlib_in_base64url() -> None:
    """Opened here with the standard library alone."""
    text = pack(OTTER)
    packed = base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))
    opener = zlib.decompressobj(zdict=WORDS)
    assert b"Bramwell" in opener.decompress(packed)


BEFORE = "ePlt1Wr_g_s4AFh3ImoObHkAEkixtQCmERCn"


def test_a_toy_packed_before_still_opens() -> None:
    """Addresses are kept by people for years: the words may never change."""
    assert unpack(BEFORE) == {"name": "Pip", "rules": [], "parts": [{"name": "body"}]}


@given(st.data())
def test_a_damaged_text_is_refused(data: st.DataObject) -> None:
    text = pack(OTTER)
    kind = data.draw(st.sampled_from(("cut", "changed", "added")))
    at = data.draw(st.integers(0, len(text) - 1))
    if kind == "cut":
        text = text[:at]
    elif kind == "added":
        text = text[:at] + data.draw(st.sampled_from("AZ_-9%é=")) + text[at:]
    else:
        text = text[:at] + ("A" if text[at] != "A" else "B") + text[at + 1 :]
    try:
        # The last character holds bits that mean nothing: there, another may be the same text.
        assert unpack(text) == OTTER
        assert at >= len(pack(OTTER)) - 1
    except RoundlingError as error:
        assert error.asked
        assert error.why
        assert error.nearest


def packed(raw: bytes) -> str:
    packer = zlib.compressobj(9, zlib.DEFLATED, zlib.MAX_WBITS, 9, zdict=WORDS)
    return base64.urlsafe_b64encode(packer.compress(raw) + packer.flush()).decode().rstrip("=")


@pytest.mark.parametrize(
    "raw",
    [b" " * 50_000_000, b"[1]", b"3", b"{", b"\xff", b'{"a": NaN}', b"[" * 1000, b'{"parts": 3}',
     b'{"parts": [3]}', b'{"parts": [{"name": 3}]}', b'{"colours": {"a": 3}}', b'{"marks": [[]]}',
     b'{"parts": [{"name": "a", "place": 3}]}', b'{"parts": [{"name": "a", "points": [3]}]}'],
    ids=lambda raw: raw[:12].decode("latin-1"),
)  # fmt: skip
def test_what_is_no_toy_inside_is_refused_and_a_bomb_is_not_blown_up(raw: bytes) -> None:
    with pytest.raises(RoundlingError) as caught:
        unpack(packed(raw))
    assert caught.value.nearest


@pytest.mark.parametrize("value", [float("nan"), object(), "x" * 200_001, "\ud800"])
def test_what_cannot_be_packed_is_refused(value: Any) -> None:
    with pytest.raises(RoundlingError, match="packed into an address"):
        pack({"name": value})


def test_a_text_of_a_million_characters_is_not_looked_at() -> None:
    with pytest.raises(RoundlingError, match="longer than any toy"):
        unpack("A" * 1_000_000)
