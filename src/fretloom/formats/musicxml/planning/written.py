"""What is known of a bar before it is written: its voices with all that stands at their notes."""

from __future__ import annotations

from fractions import Fraction

from fretloom.engraving.beams import Beams
from fretloom.engraving.heads import Head
from fretloom.engraving.rhythm import Piece
from fretloom.engraving.voices import Chord
from fretloom.formats.musicxml.planning.singing import Stack
from fretloom.formats.musicxml.planning.slurs import SlurEnds
from fretloom.performance.events import PlayedBar, TimedVoicing
from fretloom.trade.music.pitch import Pitch
from fretloom.values import frozen

#: Whether the fingers and the thumb pluck at the start of the bar that follows.
Resumes = tuple[bool, bool]


@frozen
class WrittenGrace:
    """Grace notes that stand together: an entry of each field for each head.

    `steals` is an attribute of MusicXML's `grace` and its value: from which note they take their
    time, and how much of it in per cent; None where no note is there to take it from.
    """

    heads: tuple[Head, ...]
    pitches: tuple[Pitch, ...]
    signs: tuple[bool, ...]
    slurs: tuple[SlurEnds, ...]
    steals: tuple[str, int] | None = None


@frozen(kw_only=True)
class WrittenChord:
    """A chord or rest with all that is written at it.

    `pitches` and the fields after it have an entry for each of the `heads`. `signs` says which
    heads need an accidental, `rings` which are marked to ring on, `slurs` which slurs end and begin
    there. `fermata` is the number of the value at which the beat waits, `slaps` those at which the
    body is slapped. `trills` has, if not empty, the alteration of the note that a head is trilled
    with where the key does not say it.
    """

    chord: Chord
    values: tuple[Piece, ...]
    beams: tuple[Beams, ...]
    pitches: tuple[Pitch, ...]
    signs: tuple[bool, ...]
    rings: tuple[bool, ...]
    slurs: tuple[SlurEnds, ...]
    graces: tuple[WrittenGrace, ...] = ()
    fermata: int | None = None
    slaps: tuple[int, ...] = ()
    trills: tuple[int | None, ...] = ()

    @property
    def looks(self) -> tuple[object, ...]:
        """All that is written of it: equal for chords that are written alike, wherever they stand."""
        shown = (self.pitches, self.signs, self.rings, self.slurs, self.graces)
        seldom = (self.fermata, self.slaps, self.trills)
        values = tuple([piece.looks for piece in self.values])
        return (self.chord.heads, self.chord.hidden, values, self.beams, *shown, *seldom)


@frozen
class WrittenVoice:
    """A voice ready to be written; `beside` marks the further one of a hand."""

    thumb: bool
    chords: tuple[WrittenChord, ...]
    beside: bool = False

    @property
    def number(self) -> int:
        """Its place among the voices of a staff: fingers, thumb, and the further ones of both."""
        return self.thumb + 2 * self.beside


@frozen
class Tied:
    """A head that goes on from the bar before, and what it is called there."""

    thumb: bool
    head: Head
    pitch: Pitch


@frozen
class Music:
    """The voices of a bar, what goes on into the next one, and whether held notes are cut short.

    `looks` has for each chord of each voice a number, the same for chords of a piece that are written
    alike.
    """

    voices: tuple[WrittenVoice, ...]
    looks: tuple[tuple[int, ...], ...]
    tied_on: tuple[Tied, ...] = ()
    cut_short: bool = False


@frozen
class NamedVoicing:
    """A voicing whose name stands over the staff; `fresh` where its diagram is printed as well.

    `printed` is what a student reads where the name is not a chord symbol.
    """

    taken: TimedVoicing
    fresh: bool
    printed: str


@frozen
class BarKey:
    """What the voices of a bar depend on: the bar, what goes on into it, and what follows.

    `resumes` is None where ringing over the bar line is not marked; `last` says that no bar follows.
    """

    serial: int
    resumes: Resumes | None
    tied: tuple[Tied, ...] = ()
    last: bool = False


@frozen
class PrintedFingers:
    """What is printed of the fingers at a bar.

    Args:
        letters: whether p i m a stand at its plucks. simile: whether that word stands at its start.
        pattern: the name of a pattern that begins with it, "" for none.
        fretting: the stopped notes that have their finger, as (onset, string, fret); None for all.
    """

    letters: bool = True
    simile: bool = False
    pattern: str = ""
    fretting: tuple[tuple[Fraction, int, int], ...] | None = None

    def at(self, onset: Fraction) -> FingersAt:
        """Return what is printed at the notes of a place."""
        if self.fretting is None:
            return _EVERY_FINGER
        here = tuple([(string, fret) for at, string, fret in self.fretting if at == onset])
        if here:
            return FingersAt(self.letters, here)
        return _LETTERS if self.letters else NO_FINGERS


@frozen
class FingersAt:
    """What is printed of the fingers at a chord; `fretting` names its notes by string and fret."""

    letters: bool = True
    fretting: tuple[tuple[int, int], ...] | None = None

    def fingers(self, head: Head) -> bool:
        """Whether a note has its fretting finger."""
        return self.fretting is None or (head.string, head.fret) in self.fretting


_EVERY_FINGER, _LETTERS, NO_FINGERS = FingersAt(), FingersAt(True, ()), FingersAt(False, ())
ALL_FINGERS = PrintedFingers()


@frozen
class PreparedBar:
    """A bar as played, its voices, the voicings whose names stand over it and the words below it.

    Bars with equal `key` have equal voices. `hands` is what is printed of the fingers.
    """

    key: BarKey
    played: PlayedBar
    music: Music
    named: tuple[NamedVoicing, ...] = ()
    words: Stack = ()
    hands: PrintedFingers = ALL_FINGERS

    @property
    def voices(self) -> tuple[WrittenVoice, ...]:
        """What is written on each staff."""
        return self.music.voices

    @property
    def lets_ring(self) -> bool:
        """Whether a note sounds on beyond its place in the pattern that is not written so."""
        return any(
            note.ring > note.length for note in self.played.bar.notes if note.technique.held is None
        )
