"""Writes what the hands do with a note beyond plucking it: bends, vibrato, trills, harmonics, damping."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fretloom.engraving.heads import Head, last_onset
from fretloom.formats.musicxml.elements.directions import decimal
from fretloom.formats.musicxml.elements.notations import Notations
from fretloom.notation.model.details.technique import Bend
from fretloom.performance.events import TimedBar, TimedNote
from fretloom.performance.manner import NO_TECHNIQUE, TimedSlap

#: SMuFL, "Multi-segment lines" and guitar glyphs: the wavy line of a vibrato on a fretted string.
_VIBRATO = "guitarVibratoStroke"
#: What MusicXML calls accidentals (`accidental-value`), by semitones.
ACCIDENTALS = {-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}
#: What `trill-step` calls the distance of a trill, in semitones; it knows no others.
_STEPS = {1: "half", 2: "whole"}


def write_harmonic(marks: Notations, head: Head) -> None:
    """Write that a note is a harmonic; its pitch is the one that sounds."""
    harmonic = marks.technical.add("harmonic")
    harmonic.add("artificial" if head.artificial else "natural")
    harmonic.add("sounding-pitch")


def write_bend(marks: Notations, bend: Bend) -> None:
    """Write a bend, and its release as a second one that goes back."""
    element = marks.technical.add("bend")
    element.add("bend-alter", text=decimal(bend.semitones))
    if bend.before:
        element.add("pre-bend")
    if bend.release:
        back = marks.technical.add("bend")
        back.add("bend-alter", text=decimal(-bend.semitones))
        back.add("release")


def write_ornaments(
    marks: Notations, head: Head, first: bool, last: bool, goal: int | None
) -> None:
    """Write a trill at the first value of a note, a vibrato from the first to the last.

    `goal` is the alteration of the note that it is trilled with, where that has to be shown.
    """
    if head.technique is None:
        return
    trill = head.technique.trill
    if trill is not None and first:
        sign = marks.ornaments.add("trill-mark", {"start-note": "main"})
        step = _STEPS.get(trill.midi - head.midi)
        if step:
            sign.set("trill-step", step)
        if goal is not None:
            marks.ornaments.add("accidental-mark", {"placement": "above"}, ACCIDENTALS[goal])
    if head.technique.vibrato:
        for end in ("start",) * first + ("stop",) * last:
            marks.ornaments.add("wavy-line", {"type": end, "smufl": _VIBRATO})


def write_slap(marks: Notations) -> None:
    """Write a slap on the body with the standard's sign for tapping on the guitar."""
    marks.technical.add("golpe")


def write_articulations(marks: Notations, heads: Sequence[Head], place: int) -> None:
    """Write accent and damping; one sign is for the whole chord and goes to the first head that has it."""
    head, before = heads[place], heads[:place]
    if head.accent and not any(other.accent for other in before):
        marks.articulations.add("accent")
    if _damped(head) and not any(_damped(other) for other in before):
        marks.articulations.add("staccato")


def _damped(head: Head) -> bool:
    return head.technique is not None and head.technique.lasting == "damped"


def in_words(bar: TimedBar) -> Iterator[tuple[Fraction, str]]:
    """Yield what stands in words over the staff, with its place: what no sign of a note can say."""
    rolled: set[int | None] = set()
    for note in bar.notes:
        if note.technique is NO_TECHNIQUE:
            continue
        at = last_onset(note)
        if at < bar.length:
            yield from ((at, words) for words in _of_note(note, rolled))
    for slap in bar.slaps:
        if slap.onset < bar.length:
            yield slap.onset, _slap(slap)


def _of_note(note: TimedNote, rolled: set[int | None]) -> Iterator[str]:
    technique = note.technique
    if technique.slow and note.gesture not in rolled:
        rolled.add(note.gesture)
        yield "slow roll"
    if technique.trill is not None:
        finger = technique.trill.fretting
        with_finger = f" with finger {finger}" if finger else ""
        yield f"trill to fret {technique.trill.fret}{with_finger}"
    if technique.touch is not None:
        yield f"A.H. {technique.touch}"


def _slap(slap: TimedSlap) -> str:
    return ("body slap" if slap.place == "body" else "slap") + "!" * slap.accent
