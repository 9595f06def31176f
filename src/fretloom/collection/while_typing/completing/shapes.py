"""Shapes of a chord for the line of a voicing, best first."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom import api
from fretloom.arranging.find_voicings import FoundVoicing
from fretloom.collection.while_typing.completing.continuation import Continuation
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.errors import FretloomError
from fretloom.limits import LIMITS
from fretloom.trade.guitar.voicing import split_name

#: So many shapes are offered.
_MOST = 8


def shape_offers(opened: OpenLesson, name: str) -> Iterator[Continuation]:
    """Yield the rest of a voicing's line for playable shapes of the chord that its name says; none for a plain name."""
    symbol = split_name(name)[0]
    if not symbol or len(symbol) > LIMITS.word:
        return
    try:
        found = api.suggest_voicings(symbol, opened.examined, limit=_MOST)
    except FretloomError:  # It is no chord, or not one that is typed to its end.
        return
    for rank, one in enumerate(found.voicings):
        yield Continuation(text=line_of(one), kind="shape", detail=_how_hard(one), rank=rank)


def line_of(found: FoundVoicing) -> str:
    """Return a voicing as it stands in a lesson, without its name."""
    voicing = found.voicing
    parts = [voicing.frets_text]
    if any(voicing.frets) and voicing.fingers:
        parts.append(f"fingers {voicing.fingers_text}")
    if voicing.bass:
        parts.append(f"bass {' '.join(map(str, voicing.bass))}")
    return "  ".join(parts)


def _how_hard(found: FoundVoicing) -> str:
    barre = ", barre" if any(finger == "1" for finger, _ in found.effort.barres) else ""
    return f"difficulty {found.effort.level} of 5{barre}"
