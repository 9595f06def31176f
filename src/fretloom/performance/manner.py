"""How notes and bars are played beyond when and where: techniques, loudness, speed, and what is sung."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from attrs import field

from fretloom.notation.model.details.technique import Bend, Grace, Lasting
from fretloom.notation.model.pattern import SlapPlace
from fretloom.source import Span
from fretloom.trade.music.loudness import Dynamic
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen


@frozen(kw_only=True)
class TrilledNote:
    """The other note of a trill: its fret, counted from the capo, its MIDI number, and its finger if known."""

    fret: int
    midi: int
    fretting: str | None = None


@frozen(kw_only=True)
class NoteTechnique:
    """What is asked of one note, in exact terms.

    Args:
        held: for how long it is to be held, in quarter notes from its onset; None if that is not said.
            Its `ring` is no longer than this. It may cross the bar line.
        lasting: "ring" (let ring), "damped" (stopped at the end of its place) or "".
        bend: how far, in semitones, and whether it is bent before it is plucked or released.
        vibrato, ghost: as written. trill: the note that it alternates with.
        grace: "on-beat" or "before" where the notes of the pluck but the last of its slurs are grace
            notes, each `grace_length` quarter notes long. All of them have the onset of the main
            note, on the beat or before it as the word says.
        touch: the fret over which the picking hand touches the string (an artificial harmonic).
        slow: it is part of a slow roll, spread freely over the note's length.
    """

    held: Fraction | None = None
    lasting: Lasting = ""
    bend: Bend | None = None
    vibrato: bool = False
    trill: TrilledNote | None = None
    ghost: bool = False
    grace: Grace = ""
    grace_length: Fraction = Fraction(0)
    touch: int | None = None
    slow: bool = False


NO_TECHNIQUE = NoteTechnique()


@frozen(kw_only=True)
class TimedSlap:
    """A slap on the strings (which damps them) or on the body, without a pitch; times as for notes."""

    onset: Fraction
    length: Fraction
    place: SlapPlace = "strings"
    accent: bool = False
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Manner:
    """What is asked of a bar as a whole.

    Args:
        tempo: at its start; None where the section does not say. tempo_change: the word, if it
            changes evenly in the course of the bar. tempo_to: what it is then at the bar's end; as
            a section asks for it, in the last bar of the change only.
        dynamic: how loud from its start on, "" where nothing is said. dynamic_to: at its end, if it
            grows or falls in the course of the bar, as in `swell`.
        free: no steady beat.
    """

    tempo: Tempo | None = None
    tempo_change: Literal["", "ritardando", "accelerando"] = ""
    tempo_to: Tempo | None = None
    dynamic: Dynamic | Literal[""] = ""
    swell: Literal["", "crescendo", "diminuendo"] = ""
    dynamic_to: Dynamic | Literal[""] = ""
    free: bool = False


@frozen(kw_only=True)
class SungSyllable:
    """A syllable and when it is sung, in quarter notes from the bar's start."""

    onset: Fraction
    text: str


@frozen(kw_only=True)
class Sung:
    """The words sung in a bar; `syllables` is empty where it is not said when each is sung.

    `verse` is the time that they are the words of, None for every time without words of its own.
    """

    text: str
    syllables: tuple[SungSyllable, ...] = ()
    verse: int | None = None
    span: Span | None = field(default=None, eq=False, repr=False)
