"""Gauges that texts state: stitches and rounds in 10 cm.

Expected figures are worked out by hand from what is written; by custom of the trade 4 inches are
10 cm (ball bands print "4 in = 10 cm"), one inch is 25.4 mm by definition.
"""

from __future__ import annotations

import pytest

from webapp.reading.gauges import find_gauge
from webapp.reading.model import ReadGauge
from webapp.terms import Language


@pytest.mark.parametrize(
    ("text", "language", "stitches", "rounds"),
    [
        ("24 sc and 25 rnds = 10 x 10 cm (4 x 4 in)", "us", 24, 25),
        ("13 sc and 14 rows = 4 in", "us", 13, 14),
        ('13 sc and 14 rows = 4"', "us", 13, 14),
        ("5 sc = 1 inch", "us", 19.685, None),  # 5 / 25.4 mm
        ("20 sts x 20 rows to 10 cm", "us", 20, 20),
        ("Gauge: 12 sts and 13 rounds to 5 cm", "us", 24, 26),
        ("Gauge: 10 stitches by 11 rounds measure 2 inches", "us", 19.685, 21.654),
        ("5 dc and 6 rounds to 2.5 cm", "uk", 20, 24),
        ("Tension: 22 dc, 24 rows over 10 cm", "uk", 22, 24),
        ("22.5 sc = 10cm", "us", 22.5, None),
        ("12 M x 13 R = 5 cm", "de", 24, 26),
        ("Maschenprobe: 24 fM und 25 Reihen = 10 x 10 cm", "de", 24, 25),
        ("24 ms et 25 rangs = 10 cm", "fr", 24, 25),
        ("Échantillon : 20 mailles sur 21 rangs pour 10 cm", "fr", 20, 21),
        ("24 pb y 25 vueltas = 10 cm", "es", 24, 25),
        ("24 mb e 25 giri = 10 cm", "it", 24, 25),
        ("24 pb e 25 carreiras = 10 cm", "pt", 24, 25),
        ("24 v en 25 toeren = 10 x 10 cm", "nl", 24, 25),
        ("24 fm og 25 omg = 10 x 10 cm", "da", 24, 25),
        ("Hæklefasthed: 24 m x 25 rk på 10 cm", "da", 24, 25),
        ("24 fm och 25 varv = 10 x 10 cm", "sv", 24, 25),
        ("Heklefasthet: 24 fm og 25 omganger = 4 tommer", "nb", 24, 25),
        ("22,5 fM = 10 cm", "de", 22.5, None),
    ],
)
def test_a_gauge_is_read(text: str, language: str, stitches: float, rounds: float | None) -> None:
    found = find_gauge(f"Wool, 3 mm hook\n{text}\nBody\n", Language(language))
    assert isinstance(found, ReadGauge)
    assert found.stitches == pytest.approx(stitches, abs=6e-4)
    assert found.rounds == (pytest.approx(rounds, abs=6e-4) if rounds else None)
    assert found.span.start == len("Wool, 3 mm hook\n") + text.index(
        next(c for c in text if c.isdigit())
    )


@pytest.mark.parametrize(
    "text",
    [
        *("gauge is not important", "Rnd 3: 24 sc (24)", "leave a tail of 10 cm", "24 sc"),
        *("1 st = 10 cm", "90 sts = 10 cm", "eyes 4 sts apart, 12 mm", "3 sc = 1 mm"),
        *("Rnd 4: 24 sc (24)\nRnd 5: 10 cm of yarn", "sc 24, ch 3, 6 sc (33)"),
    ],
)
def test_what_is_no_gauge(text: str) -> None:
    assert find_gauge(text, Language.US) is None
