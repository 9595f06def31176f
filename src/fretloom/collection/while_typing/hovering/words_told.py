"""Which word of the notation explains what stands at a place: the word itself, or the one that it belongs to."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.collection.while_typing.line_at import LineAt
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.collection.while_typing.words import WordHelp, place_of, word_help
from fretloom.notation.syntax.parsing.tables import tables
from fretloom.notation.syntax.signs import QUOTED
from fretloom.performance.settings import picking_plan
from fretloom.source import Span
from fretloom.trade.wording import PICKING_FINGER_WORDS, strings_words

#: What is written as two words.
_TWO_WORDS = re.compile(r"(?<!\S)(?:(?P<line>a|free)[ \t]+(?:tempo|time)|no[ \t]+chord)(?!\S)")
_QUOTED = re.compile(QUOTED)
_SIGNS = re.compile(r"[^\s|:,{}\"+()\[\]]+")
_NUMBER = re.compile(r"[\d.T]\S*")
_FRETS = re.compile(r"[xX\d-]+")
_DEGREE = re.compile(r"p{1,3}|m[pf]|f{1,3}")
_PLUCK = re.compile(r"([pimac])(?:[0-9@hps!>*x.].*)?")
#: Words that say of what the number before them is one.
_COUNTED = ("bars", "bar", "beats", "beat")


def word_told(opened: OpenLesson, here: LineAt) -> tuple[Span, WordHelp] | None:
    """Return what explains the place, and where that stands; None if nothing does."""
    word = here.word()
    if word is None or here.quoted is not None:
        return None
    text, at = word.text, word.start - here.start
    if here.rule == "opening" or (not at and here.start == _line_start(here)):
        found = word_help("opening", text)
    elif here.rule == "setting_line":
        # All that stands there is the value of the line.
        found = word_help("setting_line", here.body.split()[0])
    elif (two := _two_words(here)) is not None:
        return two
    else:
        found = next(_ways(opened, here, text, at), None)
    return (word, found) if found is not None else None


def _ways(opened: OpenLesson, here: LineAt, text: str, at: int) -> Iterator[WordHelp]:
    before = _QUOTED.sub(lambda quoted: " " * len(quoted[0]), here.body[:at])
    place = place_of(here.rule, before)
    words = _SIGNS.findall(before[before.rfind("|") + 1 :] if place == "bar" else before)
    ways = [word_help(place, text), _technique(text), _finger(opened, place, text, words)]
    if place == "voicing_line" and len(words) == 1 and _FRETS.fullmatch(text):
        ways.append(word_help(place, "x"))
    if _NUMBER.fullmatch(text):
        behind = _SIGNS.findall(here.body[at + len(text) :])[:1]
        if place == "bar" and before.endswith(":") and before[:-1].split():
            ways.append(word_help("bar", ":"))
        elif behind and behind[0] in _COUNTED:
            ways.append(word_help(place, "bars"))
    if _NUMBER.fullmatch(text) or text in _joining() or _DEGREE.fullmatch(text):
        ways += [word_help(place, one) for one in reversed(words)]
    yield from filter(None, ways)


def _two_words(here: LineAt) -> tuple[Span, WordHelp] | None:
    for found in _TWO_WORDS.finditer(here.body):
        if found.start() <= here.at <= found.end():
            place = place_of(here.rule, here.body[: found.start()])
            if (place == "body_line") if found["line"] else (place in ("bar", "body_line")):
                said = word_help(place, " ".join(found[0].split()))
                if said is not None:
                    return here.span(found.start(), found.end()), said
    return None


def _finger(opened: OpenLesson, place: str, text: str, words: list[str]) -> WordHelp | None:
    """Return which finger a pluck is for, and which strings are its own."""
    found = _PLUCK.fullmatch(text)
    plucks = place == "pattern_line" or (place == "home_line" and not words)
    if found is None or not (plucks or words[-1:] in (["with"], ["without"])):
        return None
    reading = opened.examined.reading
    plan = picking_plan(reading.material, reading.timeline.settings.tuning)
    strings = plan.strings_of(found[1])
    home = f"; its home is {strings_words(strings)}" if strings else ""
    return WordHelp(found[1], f"{PICKING_FINGER_WORDS[found[1]]}{home}")


def _technique(text: str) -> WordHelp | None:
    """Return what is said of the last word behind a pluck: `m2@3.vibrato`."""
    word = text.rpartition(".")[2] if _PLUCK.fullmatch(text) or "." in text else ""
    return word_help("technique", word) or word_help("technique", f"{word.partition('-')[0]}-")


def _joining() -> frozenset[str]:
    """Return the words of the grammar."""
    return frozenset(
        text
        for text, is_pattern in tables().terminals.values()
        if not is_pattern and text.isalpha()
    )


def _line_start(here: LineAt) -> int:
    return here.source.line_starts()[here.source.position(here.start)[0] - 1]
