"""Hook sizes in shops, and the one to try first for a gauge.

Millimetres come first: letters and numbers differ between makers. US sizes of 2.25 mm and more
after published conversion charts of yarn shops (12 mm and more: few charts, less sure); US steel
numbers from memory, makers differ; old UK numbers after published charts, which disagree by one
between 6 and 7 mm, so they are advice only.
"""

from __future__ import annotations

from dataclasses import dataclass

from webapp.yarns.gauge import Gauge

STITCH_PER_HOOK = 1.5
"""Width of a single crochet over the hook's. Published gauges that name their hook give 1.40,
1.52, 1.54 and 1.67, mean 1.53 (manufacturers' leaflets and one toy book; derived)."""


@dataclass(frozen=True)
class Hook:
    """A hook: its thickness (mm), US name and old UK number, each empty where there is none."""

    mm: float
    us: str = ""
    uk: str = ""

    @property
    def label(self) -> str:
        """As makers write it: "2.75 mm (US C-2)"."""
        return f"{self.mm:g} mm ({f'US {self.us}' if self.us else 'no common US size'})"


HOOKS: tuple[Hook, ...] = (
    Hook(0.5),
    Hook(0.6),
    Hook(0.75, "steel 14"),
    Hook(0.9),
    Hook(1.0, "steel 12"),
    Hook(1.25),
    Hook(1.5, "steel 8"),
    Hook(1.75),
    Hook(2.0, "", "14"),
    Hook(2.25, "B-1", "13"),
    Hook(2.5),
    Hook(2.75, "C-2", "12"),
    Hook(3.0, "", "11"),
    Hook(3.25, "D-3", "10"),
    Hook(3.5, "E-4", "9"),
    Hook(3.75, "F-5"),
    Hook(4.0, "G-6", "8"),
    Hook(4.5, "7", "7"),
    Hook(5.0, "H-8", "6"),
    Hook(5.5, "I-9", "5"),
    Hook(6.0, "J-10", "4"),
    Hook(6.5, "K-10 1/2", "3"),
    Hook(7.0, "", "2"),
    Hook(8.0, "L-11", "0"),
    Hook(9.0, "M/N-13", "00"),
    Hook(10.0, "N/P-15", "000"),
    Hook(11.5, "P-16"),
    Hook(12.0),
    Hook(15.0, "P/Q"),
    Hook(16.0, "Q"),
    Hook(19.0, "S"),
    Hook(25.0, "T/U/X"),
    Hook(30.0, "T/X"),
)
"""From thinnest to thickest."""


def hook_for(gauge: Gauge) -> Hook:
    """The size in shops nearest to two thirds of a stitch's width; of two as near, the thinner."""
    wanted = gauge.stitch_mm / STITCH_PER_HOOK
    return min(HOOKS, key=lambda hook: abs(hook.mm - wanted))
