"""A listener to spoken scripts in German, for tests only: it shares no code with the speaker.

It turns a German line into the English one that says the same, word by word, and lets
``tests.spoken`` hear that. Numbers are counted here, from the words.
"""

from __future__ import annotations

import re

from tests.spoken import SMALL, TENS

ONES = ["null", "ein", "zwei", "drei", "vier", "fünf", "sechs", "sieben", "acht", "neun", "zehn",
        "elf", "zwölf", "dreizehn", "vierzehn", "fünfzehn", "sechzehn", "siebzehn", "achtzehn",
        "neunzehn"]  # fmt: skip
TENS_HERE = ["zwanzig", "dreißig", "vierzig", "fünfzig", "sechzig", "siebzig", "achtzig", "neunzig"]

PHRASES = (
    (r"; in der letzten Masche von Runde (\w+) zu ([^;]+) wechseln",
     r"; change to \2 in the last stitch of round \1"),
    (r"; in der letzten Masche zu ([^;]+) wechseln", r"; change to \1 in the last stitch"),
    (r"ab (Punkt \w+): (.+); alles ab \1 insgesamt ([\w ]+)",
     r"from \1: \2; all from \1, \3 in all"),
    (r"alles Folgende (\w+(?: Mal)?): ", r"all of this \1: "),
    (r"; danach ", "; after that, "),
    (r", dann ", ", then "),
    (r"in jede Masche rundum", "in each stitch around"),
    (r"in jede Masche der Reihe", "in each stitch across"),
    (r"in jede Luftmasche rundum", "in each chain around"),
    (r"in die zweite Luftmasche ab der Nadel und in jede weitere Luftmasche",
     "in the second chain from the hook and in each chain across"),
    (r"in die erste Luftmasche zum Ring", "in the first chain to form a ring"),
    (r" entlang der Luftmaschen, je eine", " along the chain"),
    (r"eine Kettmasche", "one slip stitch"),
    (r"(\w+) Luftmaschen?(, wenden)?", r"chain \1\2"),
    (r"wenden", "turn"),
    (r" in jeder (?:Runde|Reihe)", " in each round"),
    (r"\beine (Zu|Ab)nahme\b", r"one \1nahme"),
    (r"Zunahmen?", "increases"),
    (r"Abnahmen?", "decreases"),
    (r"feste Maschen?", "single crochet"),
    (r"Maschen?", "stitches"),
    (r"Runden (\w+) bis (\w+):", r"Rounds \1 to \2:"),
    (r"Reihen (\w+) bis (\w+):", r"Rows \1 to \2:"),
    (r"Runden (\w+) und (\w+):", r"Rounds \1 and \2:"),
    (r"Reihen (\w+) und (\w+):", r"Rows \1 and \2:"),
    (r"Runde (\w+):", r"Round \1:"),
    (r"Reihe (\w+):", r"Row \1:"),
    (r"(\w+) Mal\b", r"\1 times"),
    (r"einmal", "once"),
    (r"zweimal", "twice"),
    (r"Punkt", "point"),
)  # fmt: skip


def number(word: str) -> int | None:
    """`einhundertzwei` is 102; nothing for a word that is no number."""
    rest, total = re.sub("eine?s?$", "ein", word), 0
    if "tausend" in rest:
        before, _, rest = rest.partition("tausend")
        total += 1000 * (number(before or "ein") or 0)
    if "hundert" in rest:
        before, _, rest = rest.partition("hundert")
        total += 100 * (number(before or "ein") or 0)
    if rest in ONES:
        return total + ONES.index(rest)
    for n, ten in enumerate(TENS_HERE, 2):
        if rest.endswith(ten):
            one = rest.removesuffix(ten).removesuffix("und")
            if one and one not in ONES[:10]:
                return None
            return total + 10 * n + (ONES.index(one) if one else 0)
    return total if total and not rest else None


def english_number(value: int) -> str:
    said = ""
    for size, name in ((1000, "thousand"), (100, "hundred")):
        if value >= size:
            said += f"{SMALL[value // size]} {name} "
            value %= size
    if value >= 20:
        return said + TENS[value // 10 - 2] + (f"-{SMALL[value % 10]}" if value % 10 else "")
    return said + SMALL[value] if value or not said else said.strip()


def english(line: str) -> str:
    """The line in English, for ``tests.spoken.hear``."""
    for german, other in PHRASES:
        line = re.sub(german, other, line)

    def counted(found: re.Match[str]) -> str:
        value = number(found[0])
        return found[0] if value is None else english_number(value)

    return re.sub(r"\b[a-zäöüß]+\b", counted, line)
