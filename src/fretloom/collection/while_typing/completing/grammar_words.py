"""The words with which a line can go on, as the grammar has them."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.collection.while_typing.completing.continuation import Continuation, ContinuationKind
from fretloom.collection.while_typing.words import reference, word_help
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.parsing.driver import following
from fretloom.notation.syntax.parsing.tables import END, tables
from fretloom.trade.guitar.voicing import NO_CHORD
from fretloom.trade.wording import PICKING_FINGER_WORDS

#: Terminals that are patterns, with what is usually written for them.
_USUAL = {
    "AS_WRITTEN": ("same",),
    "A_TEMPO": ("a tempo",),
    "FINGER": ("p", "i", "m", "a", "c"),
    "FRACTION": ("1/4", "3/8", "1/2"),
    "HOLD": ("-",),
    "PLUCK": ("p", "i", "m", "a", "c"),
    "DEGREE": ("ppp", "pp", "p", "mp", "mf", "f", "ff", "fff"),
    "FREE_TIME": ("free time",),
    "METER": ("4/4", "3/4", "2/4", "6/8", "12/8"),
    "REST": ("rest",),
    "SAME": ("%",),
    "SLAP": ("slap", "body-slap"),
    "SLOW": ("slow",),
    "SPEED_RAMP": ("ritardando", "accelerando"),
    "SWELL": ("crescendo", "diminuendo"),
    "TIMES": ("x2",),
    "UNIT": ("mm", "inches"),
}
#: Values rather than words: nothing is said of them.
_VALUES = {"DEGREE", "FRACTION", "METER", "UNIT"}
_FINGERS = {"FINGER", "PLUCK"}
#: The second words of those that are written as two, and what alone can follow them.
_HALVES = ("tempo", "time", "to")
_BEHIND_HALVES = {END, "NUMBER", "DEGREE"}


def word_offers(wanted: frozenset[str], rule: str) -> Iterator[Continuation]:
    """Yield the words of the grammar among the terminals that can follow in a line."""
    for terminal in sorted(wanted):
        for word in terminal_words(terminal):
            if rule == "setting_line" and word in FIELDS:
                yield _field(word)
            elif terminal in _FINGERS:
                detail = PICKING_FINGER_WORDS[word]
                yield Continuation(text=word, kind="value", detail=detail, rank=5)
            else:
                help_ = word_help(rule, word)
                kind: ContinuationKind = "value" if terminal in _VALUES else "word"
                detail = help_.like_this if help_ else ""
                says = help_.says if help_ else ""
                yield Continuation(text=word, kind=kind, detail=detail, says=says, rank=9)


def half_offers(before: str, rule: str, wanted: frozenset[str]) -> Iterator[Continuation]:
    """Yield the second word of one that is written as two, where the first stands: `a tempo`, `crescendo to`."""
    if not before.endswith((" ", "\t")) or len(before.split()) > 2:
        return
    for half in _HALVES:
        behind = following(before + half, rule)
        if half.upper() not in wanted and behind and behind <= _BEHIND_HALVES:
            yield Continuation(text=half, kind="word")


def no_chord_offer() -> Continuation:
    """Return the sign for a bar without a chord."""
    help_ = word_help("bar", NO_CHORD)
    return Continuation(text=NO_CHORD, kind="word", says=help_.says if help_ else "", rank=1)


def technique_offers() -> Iterator[Continuation]:
    """Yield the words that may stand behind a pluck, after its dot."""
    for word, says in reference()["technique"].items():
        yield Continuation(text=word, kind="word", says=says)


def opening_offers(first: bool, has_heading: bool, has_form: bool) -> Iterator[Continuation]:
    """Yield the words that open a block; those that stand once in a lesson only if they are not there yet.

    Args:
        first: whether nothing stands before; only there the edition is named.
        has_heading, has_form: what the lesson has.
    """
    done = {"notation": not first, "lesson": has_heading, "form": has_form}
    for word, says in reference()["opening"].items():
        if not done.get(word, False):
            yield Continuation(text=word, kind="block", says=says)


def terminal_words(terminal: str) -> tuple[str, ...]:
    """Return what is offered for a terminal of the grammar; nothing for one whose text only the teacher knows."""
    if terminal in _USUAL:
        return _USUAL[terminal]
    text, is_pattern = tables().terminals.get(terminal, ("", True))
    return (text,) if not is_pattern and text.isalpha() else ()


def _field(word: str) -> Continuation:
    row = FIELDS[word]
    help_ = word_help("setting_line", word)
    assert help_ is not None
    return Continuation(text=row.word, kind="field", detail=row.examples[0], says=help_.says)
