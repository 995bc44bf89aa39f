"""``python -m tests.corpus_report [word of a name ...]``: how the written patterns are read.

What is not right is listed with its line of the text (``|``), what the reader says of it (``>``)
and the choice it made (``?``); the shares follow, a kind and a folder at a time.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Sequence

from tests.corpus_check import (
    Class,
    Expected,
    Row,
    all_expected,
    compare,
    right_share,
    told,
    unread,
)
from webapp.reading import ReadPattern, read_pattern

QUIET = frozenset({Class.RIGHT, Class.FOUND})


def line_of(text: str, number: int) -> str:
    """The line of the text, counted from one."""
    lines = text.splitlines()
    return lines[number - 1].strip() if 0 < number <= len(lines) else ""


def part_findings(expected: Expected, read: ReadPattern) -> list[str]:
    """How parts, copies, beginnings and the language differ from what is meant."""
    found = []
    if read.language is not expected.language:
        found.append(f"language read {read.language.value}, meant {expected.language.value}")
    parts = [p for p in read.parts if p.rounds]
    if len(parts) != len(expected.parts):
        titles = ", ".join(p.title or "(no title)" for p in parts)
        return [*found, f"{len(parts)} parts read ({titles}), {len(expected.parts)} meant"]
    for meant, part in zip(expected.parts, parts, strict=True):
        if part.copies != meant.copies:
            found.append(f"{meant.title}: {part.copies} copies read, {meant.copies} meant")
        if part.begin is not meant.begin:
            found.append(f"{meant.title}: begin read {part.begin.value}, meant {meant.begin.value}")
    return found


def print_text(expected: Expected, read: ReadPattern, rows: Sequence[Row]) -> None:
    """What is not right in a text, with its lines."""
    lines = part_findings(expected, read)
    for row in rows:
        if row.klass in QUIET and row.mended is not False:
            continue
        lines.append(told(row) + (" NOT MENDED" if row.mended is False else ""))
        if row.read is not None:
            lines.append(f"    | {line_of(expected.text, row.read.line)}")
            lines += [f"    > {finding}" for finding in row.read.findings]
            lines += [f"    ? {c.taken}; else: {c.other}" for c in row.read.choices]
            if row.read.mend is not None:
                lines.append(f"    mend: {row.read.mend.says}")
    if lines:
        print(f"{expected.name} ({'common' if expected.common else 'uncommon'})")
        print("\n".join(f"  {line}" for line in lines))


def print_figures(title: str, rows: Sequence[Row]) -> None:
    if not rows:
        return
    counts = Counter(row.klass for row in rows)
    mended = sum(row.mended is True for row in rows)
    print(f"{title}: {100 * right_share(rows):.2f} % right")
    print("  " + ", ".join(f"{k.value} {counts[k]}" for k in Class if counts[k]), end="")
    print(f", faults mended {mended}")


def main(words: Sequence[str]) -> None:
    seen: dict[str, list[Row]] = {}
    for expected in all_expected():
        if words and not any(word in expected.name for word in words):
            continue
        try:
            read = read_pattern(expected.text)
        except Exception as error:  # any is a failure of the reader, to be told with its text
            print(f"{expected.name}\n  broke off: {type(error).__name__}: {error}")
            rows = unread(expected)
        else:
            rows = compare(expected, read)
            print_text(expected, read, rows)
        kind = "common" if expected.common else "uncommon"
        for group in (f"{expected.name.split('/')[0]}, {kind}", f"all {kind}"):
            seen.setdefault(group, []).extend(rows)
    for title, rows in sorted(seen.items()):
        print_figures(title, rows)


if __name__ == "__main__":
    main(sys.argv[1:])
