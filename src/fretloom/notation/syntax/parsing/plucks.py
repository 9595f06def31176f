"""The text of one pluck or brush to its value, which is the same everywhere except for its place."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache, partial
from typing import cast

from fretloom.notation.model.details.technique import PLAIN, Technique
from fretloom.notation.model.pattern import (
    SLURS,
    Brush,
    Pluck,
    Slap,
    Slur,
    wrong_brush,
    wrong_pluck,
)
from fretloom.notation.syntax.parsing.techniques import WrongWord, read_technique
from fretloom.shapes import trusted
from fretloom.trade.guitar.plucking import PickingFinger
from fretloom.trade.guitar.voicing import FrettingFinger

#: A pluck as the grammar has it without its words, its parts in groups.
PLUCK = re.compile(
    r"([pimac])([0-9]{1,2})?(?:@([0-9]{1,2})(?::([1-4T]))?)?"
    r"((?:[hps][0-9]{1,2}(?::[1-4T])?)*)([!>*x]*)"
)
_BRUSH = re.compile(r"([pimac])([0-9]{1,2})-([0-9]{1,2})([!>x]*)")
_SLAP = re.compile(r"(string-|body-)?slap([!>]?)")
#: Where the words behind a pluck begin.
_WORDS = re.compile(r"\.(?=[^\W\d_])")
_SLUR = re.compile(r"([hps])([0-9]{1,2})(?::([1-4T]))?")
#: Longer texts are no plucks that anyone writes, and are not worth remembering.
_LONGEST = 40
#: Different plucks that are remembered: few lessons have fifty.
_REMEMBERED = 1024

#: Makes the value with `span=`, the place where it stands.
Make = Callable[..., Pluck | Brush | Slap]


def pluck_maker(text: str) -> Make | None:
    """Return the maker of the pluck, brush or slap that a text means, None if it is none of them."""
    return _remembered(text) if len(text) <= _LONGEST else _read(text)


def plain_pluck(text: str) -> bool:
    """Whether a text is a pluck or brush without any words behind it."""
    return bool(PLUCK.fullmatch(text) or _BRUSH.fullmatch(text))


def split_words(text: str) -> tuple[str, str]:
    """Return what stands before the words behind a pluck, and the words from their first dot on."""
    found = _WORDS.search(text)
    return (text, "") if found is None else (text[: found.start()], text[found.start() :])


def _read(text: str) -> Make | None:
    found = _SLAP.fullmatch(text)
    if found is not None:
        place, accent = found.groups()
        return partial(Slap, place="body" if place == "body-" else "strings", accent=bool(accent))
    plain, words = split_words(text)
    technique = read_technique(words) if words else PLAIN
    if isinstance(technique, WrongWord):
        return None
    make = _plucked(plain, technique)
    if make is None or not words:
        return make
    with trusted():
        one = make()
    wrong = wrong_pluck(one) if isinstance(one, Pluck) else wrong_brush(one)
    return None if wrong else make


def _plucked(text: str, technique: Technique) -> Callable[..., Pluck | Brush] | None:
    found = PLUCK.fullmatch(text)
    if found is not None:
        finger, string, fret, fretting, slurs, marks = found.groups()
        return partial(
            Pluck,
            finger=cast("PickingFinger", finger),
            string=int(string) if string else None,
            fret=int(fret) if fret else None,
            fretting=cast("FrettingFinger | None", fretting),
            slurs=tuple(_slur(*parts) for parts in _SLUR.findall(slurs)),
            accent="!" in marks or ">" in marks,
            harmonic="*" in marks,
            dead="x" in marks,
            technique=technique,
        )
    found = _BRUSH.fullmatch(text)
    if found is None:
        return None
    finger, first, last, marks = found.groups()
    return partial(
        Brush,
        finger=cast("PickingFinger", finger),
        first=int(first),
        last=int(last),
        accent="!" in marks or ">" in marks,
        dead="x" in marks,
        technique=technique,
    )


def _slur(kind: str, end: str, finger: str) -> Slur:
    return Slur(SLURS[kind], int(end), cast("FrettingFinger", finger) if finger else None)


_remembered = lru_cache(maxsize=_REMEMBERED)(_read)
