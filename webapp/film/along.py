"""What the page of stitching along says, in the language of the pattern.

Its script fills the places of a sentence as somebody stitches, so they are left open here.
"""

from __future__ import annotations

from collections.abc import Mapping
from string import Formatter

from webapp.words import noted
from webapp.yarns import TermSet

SHOWN: Mapping[str, str] = {
    "skip": noted("Skip to the toy"),
    "under_way": noted("Under way"),
    "elsewhere": noted("Elsewhere"),
    "read": noted("Read a pattern"),
    "here": noted("The round you are in"),
    "piece": noted("Piece"),
    "round": noted("Round"),
    "made": noted("Stitches of the toy made"),
    "before": noted("Before this round"),
    "steps": noted("Steps"),
    "whole": noted("Whole round"),
    "device": noted("This device"),
    "awake": noted("Keep the screen on"),
    "private": noted("Your place is kept on this device and sent nowhere."),
    "help": noted(
        "Keys: space or right arrow a stitch, down arrow the repeat, page down the round; left "
        "arrow and page up go back."
    ),
    "without_script": noted(
        "With script this page shows one round at a time, counts your stitches and keeps your "
        "place. Here are all the rounds."
    ),
    "all": noted("All rounds"),
    "sewing": noted("Sewing together"),
    "cautions": noted("Before a child gets it"),
    "back": noted("Back to the toy"),
}
"""What stands on the page."""

COUNTED: Mapping[str, str] = {
    "copy": noted("{piece}, {number} of {total}"),
    "changed": noted("The pattern has changed since you began: check your place."),
    "finished": noted("finished"),
    "stitch": noted("Stitch {number} of {total}"),
    "run": noted("{nth} of {stitches}"),
    "repeat": noted("{nth} of {total}: {stitches}"),
    "next_stitch": noted("Next: {stitch}"),
    "one": noted("{made} of {count} {st}"),
    "several": noted("{made} of {count} {sts}"),
    "tap": noted("Tap for each stitch"),
    "this_repeat": noted("This repeat"),
    "this_run": noted("This run"),
    "back_stitch": noted("Back a stitch"),
    "back_round": noted("Back a round"),
    "back_step": noted("Back a step"),
    "done": noted("Done"),
    "piece_finished": noted("{piece}: finished"),
    "toy_finished": noted("That was the last of it. The toy is finished."),
    "next": noted("Next: {next}."),
    "go_on": noted("Go on"),
    "progress": noted("{percent} %: {made} of {total} stitches, about {time} left"),
    "minutes": noted("{minutes} min"),
    "hours": noted("{hours} h {minutes} min"),
    "round_done": noted("{round} done, {count} stitches."),
    "step_done": noted("{step} done."),
    "last_done": noted("{piece} finished."),
    "now": noted("{made} of {count}. Next {stitches}"),
    "went_back": noted("Back: {round}, {made} of {count}."),
    "at_start": noted("Back to the start of {round}."),
    "not_kept": noted("This browser does not let the page keep your place."),
    "screen_cannot": noted("This browser cannot; set a longer time in your device."),
    "screen_on": noted("It stays on."),
    "screen_refused": noted("Not now: the device refused, perhaps to save its battery."),
    "page_insecure": noted(
        "This page needs the network: browsers keep pages only from a secure address."
    ),
    "page_kept": noted("Kept on this device: it works without a network."),
    "page_offline": noted("Without a network now; this page is from this device."),
    "page_not_kept": noted("This page could not be kept: it needs the network."),
}
"""What the script says, by the names it asks for; ``nth`` is a number with its ending."""

ENDINGS: Mapping[str, str] = {"one": "st", "two": "nd", "few": "rd", "other": "th"}
"""Endings of English ordinals by their kinds in CLDR; other languages say the number alone."""


def shown_words(words: TermSet) -> dict[str, str]:
    """The words on the page, by name."""
    return {name: words.say(sentence) for name, sentence in SHOWN.items()}


def counter_words(words: TermSet) -> dict[str, object]:
    """The sentences of the script with their places open, the endings of ordinals, and what stands
    between two sentences."""
    said = {name: _left_open(sentence, words) for name, sentence in COUNTED.items()}
    return {**said, "endings": ENDINGS if words.terms.english else {}, "gap": words.manner.gap}


def size_words(copies: int, stitches: int, words: TermSet) -> str:
    """How often a part is made, and of how many stitches."""
    grouped = words.catalogue.grouped(stitches)
    if copies == 1:
        return words.say("make {number} · {stitches} stitches", number=copies, stitches=grouped)
    return words.say("make {number} · {stitches} stitches each", number=copies, stitches=grouped)


def _left_open(sentence: str, words: TermSet) -> str:
    named = {place for _, place, _, _ in Formatter().parse(sentence) if place}
    themselves = {place: f"{{{place}}}" for place in named - words.spoken.keys()}
    return words.say(sentence, **themselves)
