"""How a listener likes things called: strings by number or by name, fingers by name or by figure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal, TypeAlias

from fretloom.performance.events import Settings
from fretloom.performance.place_words import string_words
from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.text import listed
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.music.meter import Count
from fretloom.trade.phrases.table import phrases, say
from fretloom.values import frozen

StringsBy: TypeAlias = Literal["numbers", "names"]
FingersBy: TypeAlias = Literal["names", "figures"]
_THUMB = "T"
_SIGNS = {
    "♯": "hands.sharp",
    "♭": "hands.flat",
    "°": "hands.diminished",
    "ø": "hands.half-diminished",
}
#: The stroke before a bass note; a space that stood before a sign of the sentence.
_OVER = re.compile(r"(?<=[^\s/])/(?=[A-H](?:[^a-z]|$))")
_CLOSE = re.compile(r" (?=[,.;:)])")


@frozen(kw_only=True)
class Listener(CalledStrings):
    """What a listener prefers: what strings are called, and besides:

    Args:
        figures: whether fretting fingers go by figures, as in diagrams.
        mirrored: whether the listener frets with the right hand; changes nothing but what is said of left and right.
    """

    figures: bool = False
    mirrored: bool = False

    def finger(self, finger: str) -> str:
        """Name a fretting finger: "the index finger", "finger 1", "the thumb"."""
        return self.fingers((finger,))

    def fingers(self, fingers: Sequence[str]) -> str:
        """Name fretting fingers: "the index and ring fingers", "the thumb and finger 2"."""
        others = [one for one in fingers if one != _THUMB]
        named = [say("hands.thumb")] if len(others) < len(fingers) else []
        if self.figures and others:
            key = "hands.figure" if len(others) == 1 else "hands.figures"
            named.append(say(key, fingers=_joined(others)))
        elif others:
            words = [say(f"hands.finger-{one}") for one in others]
            key = "hands.finger" if len(words) == 1 else "hands.fingers"
            named.append(say(key, fingers=_joined(words)))
        return _joined(named)


def listener_of(
    settings: Settings,
    *,
    strings: StringsBy = "numbers",
    fingers: FingersBy = "names",
    mirrored: bool = False,
) -> Listener:
    """Return a listener of a lesson who prefers strings and fingers called so.

    Strings of which three have one name, or two one pitch, go by number all the same.
    """
    names: tuple[str, ...] = ()
    if strings == "names":
        said = [string_words(settings, one) for one in range(settings.tuning.strings, 0, -1)]
        names = tuple("" if one.endswith(")") else one for one in said)
    capo = settings.capo if settings.capo.leaves_out(settings.tuning.strings) else Capo()
    return Listener(string_names=names, capo=capo, figures=fingers == "figures", mirrored=mirrored)


def picking_finger(finger: str) -> str:
    """Name a picking finger: "the thumb", "the index finger"."""
    return say(f"hands.picks-{finger}")


def number(value: int) -> str:
    """Write a small number as a word: "two"; a larger one in figures."""
    return phrases().get(f"hands.number-{value}", str(value))


def counted_things(value: int, key: str) -> str:
    """Say how many there are: "one fret", "two frets", by the texts `key` and `key` with an s."""
    return say(key if value == 1 else f"{key}s", number=number(value))


def count_words(count: Count) -> str:
    """Say a count in a sentence: "count 3", "the and of 3", "a third after 3"."""
    known = {
        "": "on",
        "&": "half",
        "e": "quarter",
        "a": "last-quarter",
        "trip": "third",
        "let": "two-thirds",
    }
    key = known.get(count.word)
    if key is None:
        return say("hands.count-share", number=count.number, share=count.part)
    return say(f"hands.count-{key}", number=count.number)


def counts_words(counts: Sequence[Count]) -> str:
    """Say several counts in a sentence: "counts 1 and 3", "1, 3 and the and of 4"."""
    if len(counts) == 1:
        return count_words(counts[0])
    if not any(one.part for one in counts):
        return say("hands.counts", numbers=_joined([one.number for one in counts]))
    if all(one.part == counts[0].part for one in counts) and counts[0].word == "&":
        return say("hands.counts-half", numbers=_joined([one.number for one in counts]))
    return _joined([str(one.number) if not one.part else count_words(one) for one in counts])


def listed_clearly(parts: Sequence[str]) -> str:
    """Join parts as a sentence does, with a comma before the last where a part has an "and" or a comma itself."""
    joined = say("hands.and")
    if len(parts) > 1 and any(f" {joined} " in one or "," in one for one in parts):
        return f"{', '.join(parts[:-1])}, {joined} {parts[-1]}"
    return listed(parts, joined)


def aloud(text: str) -> str:
    """Return names with printed signs as they are said: "C sharp m7 flat 5", "D over F sharp"."""
    said = _OVER.sub(f" {say('hands.over')} ", text)
    for sign, key in _SIGNS.items():
        said = said.replace(sign, f" {say(key)} ")
    return _CLOSE.sub("", " ".join(said.split()))


def sentence(text: str) -> str:
    """Return a text as a sentence: with a capital and a full stop."""
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '!', '?')) else '.'}"


def _joined(words: Sequence[object]) -> str:
    return listed(words, say("hands.and"))
