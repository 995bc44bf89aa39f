"""Caption files: WebVTT (the W3C's) and SubRip, a cue a line of the pattern.

Both are read by lines, so what comes from a toy's own words is made one line, and cannot hold the
arrow that marks times.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from webapp.film.cues import Cue


def webvtt(title: str, cues: Iterable[Cue]) -> str:
    """The cues as WebVTT; each has its part and round for a name."""
    blocks = [f"WEBVTT - {_one_line(title)}"]
    for cue in cues:
        text = "\n".join(escape(line, quote=False) for line in _lines(cue))
        times = f"{_clock(cue.start_ms, '.')} --> {_clock(cue.end_ms, '.')}"
        blocks.append(f"{_one_line(cue.key)}\n{times}\n{text}")
    return "\n\n".join(blocks) + "\n"


def subrip(cues: Iterable[Cue]) -> str:
    """The cues as SubRip."""
    blocks = [
        f"{number}\n{_clock(cue.start_ms, ',')} --> {_clock(cue.end_ms, ',')}\n"
        + "\n".join(_lines(cue))
        for number, cue in enumerate(cues, 1)
    ]
    return "\n\n".join(blocks) + "\n"


def _lines(cue: Cue) -> tuple[str, str]:
    """What the viewer reads: part and round, wording and count."""
    return (
        _one_line(f"{cue.part.label} · {cue.line.label}"),
        _one_line(f"{cue.line.text} [{cue.line.count}]"),
    )


def _one_line(text: str) -> str:
    return " ".join(text.replace("-->", "→").split())


def _clock(ms: int, point: str) -> str:
    """`01:02:03.004`; SubRip has a comma for the point."""
    seconds, thousandths = divmod(ms, 1000)
    minutes, seconds = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02}:{minutes:02}:{seconds:02}{point}{thousandths:03}"
