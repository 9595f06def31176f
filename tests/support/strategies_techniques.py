"""Words behind plucks for generated lessons: only what the strings can do, and as long as nothing ends it."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve
from hypothesis import strategies as st

from fretloom.notation.model.details.technique import BENDS, Bend, Technique, Trill
from fretloom.notation.model.pattern import Beat, PatternBar, Pluck, Stroke
from fretloom.trade.music.meter import Count


@st.composite
def techniques(draw: st.DrawFn, kind: str, fret: int) -> Technique:
    """What may be asked of a note at a named fret: a bend of a stopped string, a grace note of a slur."""
    lasting, ghost = draw(st.sampled_from(["", "", "damped"])), draw(st.booleans())
    if kind == "slur":
        grace = draw(st.sampled_from(["on-beat", "before", ""]))
        return Technique(lasting=lasting, ghost=ghost, grace=grace)
    if kind == "harmonic" or not fret:
        return Technique(lasting=lasting, ghost=ghost)
    which = draw(st.sampled_from(["bend", "trill", "touch", "vibrato"]))
    if which == "bend":
        amount = draw(st.sampled_from(list(BENDS.values())))
        bend = Bend(amount, release=draw(st.booleans()), before=draw(st.booleans()))
        return Technique(lasting=lasting, bend=bend, vibrato=draw(st.booleans()))
    if which == "trill":
        finger = draw(st.sampled_from([None, "3", "4"]))
        return Technique(lasting=lasting, trill=Trill(fret + draw(st.integers(1, 3)), finger))
    if which == "touch":
        return Technique(lasting=lasting, touch=fret + draw(st.sampled_from([5, 7, 12])))
    return Technique(vibrato=True, ghost=ghost)


def held(bar: PatternBar, word: str) -> PatternBar:
    """Let the thumb's first note last to the end of its place, if nothing can end it before.

    Only the thumb's: `with` adds plucks of the other fingers.
    """
    first, *others = bar.beats
    stroke, *more = first.items
    alone = isinstance(stroke, Stroke) and len(stroke.parts) == 1
    struck_later = any(isinstance(item, Stroke) for beat in others for item in beat.items)
    if not word or not alone or not struck_later:
        return bar
    pluck = stroke.parts[0]
    if not isinstance(pluck, Pluck) or pluck.finger != "p" or pluck.slurs or pluck.dead:
        return bar
    said = Technique(lasting="ring") if word == "ring" else Technique(held_for=Fraction(1, len(first.items)))  # fmt: skip
    longer = evolve(stroke, parts=(evolve(pluck, technique=said),))
    return evolve(bar, beats=(evolve(first, items=(longer, *more)), *others))


def held_to(bar: PatternBar, to: Count) -> PatternBar:
    """Begin with the thumb's note alone, held to the second beat."""
    if not any(isinstance(item, Stroke) for beat in bar.beats[1:] for item in beat.items):
        return bar
    pluck = Pluck(finger="p", technique=Technique(held_to=to))
    return evolve(bar, beats=(Beat(items=(Stroke(parts=(pluck,)),)), *bar.beats[1:]))
