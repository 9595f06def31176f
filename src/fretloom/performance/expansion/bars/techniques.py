"""What a string at a fret can do, and what the words behind a pluck ask of it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from fretloom.notation.model.details.technique import Technique
from fretloom.notation.model.pattern import Brush, Pluck
from fretloom.performance.manner import NoteTechnique, TrilledNote

#: How long a grace note is, in quarter notes (a tenth of a second or less at usual tempos; from memory).
GRACE = Fraction(1, 8)


def why_not(part: Pluck, fret: int) -> tuple[str, str] | None:
    """Return why the words behind a pluck cannot be played where it ends, and a way out; None if they can."""
    said = part.technique
    stopped = [
        word
        for word, asked in (("bend", said.bend), ("trill", said.trill), ("vibrato", said.vibrato))
        if asked
    ]
    if not stopped and said.touch is None:
        return None
    what = stopped[0] if stopped else "artificial harmonic"
    if part.dead:
        return f"a dead note has no {what}", "leave one of the two out"
    if said.touch is not None and part.slurs:
        return "an artificial harmonic has no slur", "leave the slur or the harmonic out"
    if stopped and part.harmonic:
        return (
            f"a natural harmonic is only touched, so it has no {what}",
            "leave one of the two out",
        )
    if stopped and not fret and what != "trill":
        return f"an open string has no {what}", "name the fret at which it is stopped: m2@3"
    if said.trill is not None and said.trill.fret == fret:
        hint = f"name the other fret: .trill-{fret + 1} or .trill-{fret + 2}"
        return f"a trill goes between two frets, and both are {fret}", hint
    return None


def technique_of(
    said: Technique, trill: TrilledNote | None, slurs: int, room: Fraction, slow: bool
) -> NoteTechnique:
    """Return what is asked of a note with some slurs, in a place of the length `room`."""
    grace = said.grace if slurs else ""
    return NoteTechnique(
        lasting=said.lasting,
        bend=said.bend,
        vibrato=said.vibrato,
        trill=trill,
        ghost=said.ghost,
        grace=grace,
        grace_length=min(GRACE, room / (2 * slurs)) if grace else Fraction(0),
        touch=said.touch,
        slow=slow,
    )


def _direction(part: Pluck | Brush) -> int:
    """Return +1 for a brush towards string 1, -1 for one away from it, 0 for a pluck."""
    if isinstance(part, Pluck):
        return 0
    return 1 if part.first >= part.last else -1


def signs_of(part: Pluck | Brush) -> dict[str, Any]:
    """Return the fields of a note that say what stands behind its pluck."""
    harmonic = isinstance(part, Pluck) and part.harmonic
    return {
        "accent": part.accent,
        "harmonic": harmonic,
        "dead": part.dead,
        "brush": _direction(part),
    }
