"""Charts: each part round by round in symbols, as SVG that prints on a page of A4.

Imports :mod:`webapp.pattern` (for words) and what lies below it. All lengths are mm on paper, y
downwards. Start reading at :mod:`webapp.charts.chart`, which chooses the form; what stands in a
chart's rounds is in ``lanes``, the symbols in ``glyphs``; the forms are ``spiral`` (rounds and
ovals, laid out in ``laps``), ``wedge`` (one of several equal repeats), ``runs`` (symbols with
numbers, where nothing else fits a page) and ``flat`` (rows). ``inked`` makes a
chart quick to print.
"""

from webapp.charts.chart import chart_pages, chart_svg
from webapp.charts.inked import inked

__all__ = ["chart_pages", "chart_svg", "inked"]
