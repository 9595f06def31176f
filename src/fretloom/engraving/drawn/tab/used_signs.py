"""Which signs of drawn tab a bar has, so that a page explains those and no others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fretloom.engraving.drawn.tab.placing.rhythm import Rhythm
from fretloom.engraving.drawn.tab.placing.struck import Struck
from fretloom.performance.events import TimedBar
from fretloom.trade.music.meter import Count, Meter


def signs_of(bar: TimedBar, struck: Sequence[Struck], rhythm: Rhythm) -> frozenset[str]:
    """Return the keys of the signs that a bar has, as `signs` in the table of phrases has them."""
    return frozenset((*_of_frets(struck), *_of_bar(bar, rhythm)))


def _of_frets(struck: Sequence[Struck]) -> Iterator[str]:
    for one in struck:
        note, technique = one.note, one.note.technique
        found = {
            "thumb": one.thumb and one.part == "plucked",
            "picking-finger": not one.thumb and one.part == "plucked",
            "crossed": one.hopped,
            "grace": one.part == "grace" and technique.grace == "before",
            "grace-on-beat": one.part == "grace" and technique.grace == "on-beat",
            "hammer-on": one.slur == "hammer-on",
            "pull-off": one.slur == "pull-off",
            "slide-to": one.slur == "slide",
            "dead": note.dead,
            "ghost": technique.ghost,
            "accent": note.accent,
            "harmonic": note.harmonic,
            "touched": technique.touch is not None,
            "trill": technique.trill is not None,
            "bend": technique.bend is not None,
            "vibrato": technique.vibrato,
            "held-on": technique.held is not None,
            "ring-on": technique.lasting == "ring",
            "short": technique.lasting == "damped",
            "brush": bool(note.brush),
            "roll": note.order is not None and not note.brush,
        }
        yield from (key for key, there in found.items() if there)


def _of_bar(bar: TimedBar, rhythm: Rhythm) -> Iterator[str]:
    flags = set(rhythm.flags.values())
    short, shorter = _flag_signs(bar.meter)
    if 1 in flags:
        yield short
    if any(flag > 1 for flag in flags):
        yield shorter
    if rhythm.tuplets:
        yield "tuplet"
    if any(slap.place == "strings" for slap in bar.slaps):
        yield "slap"
    if bar.fermata is not None:
        yield "fermata"
    counts = (bar.meter.count_at(bar.start + note.onset) for note in bar.notes)
    if any(count == Count(count.number, Fraction(1, 2)) for count in counts):
        yield "half-count"


def _flag_signs(meter: Meter) -> tuple[str, str]:
    """Return the signs of an eighth and of a sixteenth note, by what they are to those who count."""
    if meter.counts_units:
        return ("flag-count", "flags-half-count") if meter.unit == 8 else ("flag", "flags")
    if all(beat == 1 for beat in meter.beats):
        return "half-beat", "quarter-beat"
    return "flag", "flags"
