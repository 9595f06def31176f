"""Names the pitches of a piece to suit its key and its chords, and shows accidentals.

A note of the chord it sounds in has its name there, also where the key's scale has another one (D# in
B7, even in B flat minor). Any other has the scale's name, or is the nearest raised or lowered degree:
in C major F#, C#, G#, Bb, Eb (the harmonic usage of common practice).
"""

from __future__ import annotations

from fretloom.trade.music.pitch import STEP_SEMITONES, NoteName, Pitch

_LINE = "FCGDAEB"
#: Steps a key's scale reaches below and above its signature on the line of fifths.
_SCALE = range(-1, 6)
_CHROMATIC = range(-3, 9)

#: How the lines of a staff were altered last in a bar, by step and octave.
Shown = dict[tuple[str, int], int]


def note_at(fifths: int) -> NoteName:
    """Return the note that lies `fifths` fifths above C (negative: below)."""
    alter, place = divmod(fifths + 1, 7)
    return NoteName(_LINE[place], alter)


def spell_in_key(midi: int, fifths: int, chord: tuple[NoteName, ...] = ()) -> Pitch:
    """Name a MIDI number in the key with this signature, over a chord with these notes.

    Args:
        midi: the note as written. fifths: the key signature. chord: its notes.
    """
    name = _name(midi % 12, fifths, chord)
    octave = (midi - STEP_SEMITONES[name.step] - name.alter) // 12 - 1
    return Pitch(name.step, name.alter, octave)


def _name(pitch_class: int, fifths: int, chord: tuple[NoteName, ...]) -> NoteName:
    in_scale = _within(pitch_class, fifths, _SCALE)
    for name in chord:
        # Nobody writes the B double flat of Cdim7 where the scale has an A (common practice).
        if name.pitch_class == pitch_class and (in_scale is None or abs(name.alter) < 2):
            return name
    if in_scale is not None:
        return in_scale
    usual = _within(pitch_class, fifths, _CHROMATIC)
    assert usual is not None
    return usual


def _within(pitch_class: int, fifths: int, reach: range) -> NoteName | None:
    for away in reach:
        if (7 * (fifths + away)) % 12 == pitch_class:
            return note_at(fifths + away)
    return None


def signature_alter(step: str, fifths: int) -> int:
    """Return what a key signature does to a step: 1 for F in G major."""
    return (fifths + 6 - _LINE.index(step)) // 7


def in_signature(pitch: Pitch, fifths: int) -> bool:
    """Return whether a pitch is as the key signature has it."""
    return pitch.alter == signature_alter(pitch.step, fifths)


def needs_accidental(pitch: Pitch, fifths: int, shown: Shown) -> bool:
    """Return whether the next note in a bar of a staff needs a written accidental.

    An accidental holds for its step and octave to the end of the bar.

    Args:
        fifths: the key signature. shown: what the bar has shown so far; the note is added to it.
    """
    line = (pitch.step, pitch.octave)
    needed = pitch.alter != shown.get(line, signature_alter(pitch.step, fifths))
    shown[line] = pitch.alter
    return needed
