"""Prepares a bar for writing: voices, written values, beams, spelled pitches, accidentals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import islice
from math import lcm

from fretloom.engraving.beams import Beams, engraved
from fretloom.engraving.rhythm import Piece
from fretloom.engraving.spelling import accidentals, in_signature, spell_in_key
from fretloom.engraving.values import TooFine
from fretloom.engraving.voices import Chord, Voice, voices_of
from fretloom.errors import SymbolError
from fretloom.formats.musicxml.planning.page import Page, Transposition, moved
from fretloom.formats.musicxml.planning.slurs import SlurEnds, slur_ends
from fretloom.performance.events import PlayedBar, TimedBar, TimedVoicing
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.trade.music.pitch import NoteName, Pitch
from fretloom.values import frozen

#: MusicXML 4.0, `divisions`: the standard recommends no more than this (as MIDI files allow).
MOST_DIVISIONS = 16383
#: Whether the fingers and the thumb pluck at the start of the bar that follows.
Resumes = tuple[bool, bool]


@frozen
class WrittenChord:
    """A chord or rest with all that is written at it.

    `pitches` and the fields after it have an entry for each of the `heads`. `signs` says which
    heads need an accidental, `rings` which are marked to ring on, `slurs` which slurs end and begin
    there.
    """

    chord: Chord
    values: tuple[Piece, ...]
    beams: tuple[Beams, ...]
    pitches: tuple[Pitch, ...]
    signs: tuple[bool, ...]
    rings: tuple[bool, ...]
    slurs: tuple[SlurEnds, ...]

    @property
    def looks(self) -> tuple[object, ...]:
        """What its heads look like: equal for chords that are written alike, wherever they stand."""
        return (self.chord.heads, self.pitches, self.signs, self.rings, self.slurs)


@frozen
class WrittenVoice:
    """A voice ready to be written."""

    thumb: bool
    chords: tuple[WrittenChord, ...]


@frozen
class NamedVoicing:
    """A voicing whose name stands over the staff; `fresh` where its diagram is printed as well.

    `printed` is what a student reads where the name is not a chord symbol.
    """

    taken: TimedVoicing
    fresh: bool
    printed: str


@frozen
class PreparedBar:
    """A bar as played, its voices, and the voicings whose names stand over it.

    Bars with equal `key` have equal voices.
    """

    key: tuple[int, Resumes | None]
    played: PlayedBar
    voices: tuple[WrittenVoice, ...]
    named: tuple[NamedVoicing, ...] = ()

    @property
    def lets_ring(self) -> bool:
        """Whether a note sounds on over the bar line."""
        bar = self.played.bar
        return any(note.onset + note.ring > bar.length for note in bar.notes)


def symbol_of(text: str, page: Page) -> ChordSymbol | None:
    """Read a chord symbol; None if it is empty or not a chord that fretloom knows."""
    return _read(text, page.naming)


@lru_cache(maxsize=1024)
def _read(text: str, naming: str) -> ChordSymbol | None:
    try:
        return parse_symbol(text, naming) if text else None
    except SymbolError:
        return None


def on_page(name: NoteName, page: Page) -> NoteName:
    """Return a root or bass as the page shows it."""
    return moved(name, page.chord_move) if page.chord_move else name


def prepare(bar: TimedBar, page: Page, resumes: Resumes | None) -> tuple[WrittenVoice, ...]:
    """Prepare the voices of a bar.

    Args:
        resumes: whether the fingers and the thumb pluck at the very start of the next bar; a note
            that rings over the bar line is marked where they do not. None marks no note.

    Raises:
        TooFine: a note is too short to be written.
    """
    voices = voices_of(bar)
    pitches = [[_pitches(chord, bar, page) for chord in voice.chords] for voice in voices]
    signs = _signs(voices, pitches, page.fifths)
    return tuple(
        WrittenVoice(voice.thumb, _chords(bar, voice, pitches[index], signs[index], resumes))
        for index, voice in enumerate(voices)
    )


def divisions_of(bars: Sequence[PreparedBar]) -> int:
    """Return how many parts of a quarter note the file counts in.

    Raises:
        TooFine: the file would have to count more finely than readers can.
    """
    parts = 1
    for prepared in {bar.key: bar for bar in bars}.values():
        parts = lcm(parts, *(length.denominator for length in _lengths(prepared)))
    parts = lcm(parts, *(one.taken.onset.denominator for bar in bars for one in bar.named))
    if parts > MOST_DIVISIONS:
        raise TooFine(
            f"the piece divides a quarter note into {parts} equal parts in all, but a "
            f"notation file counts at most {MOST_DIVISIONS}: use fewer different divisions of a beat"
        )
    return parts


def _lengths(prepared: PreparedBar) -> Iterator[Fraction]:
    bar = prepared.played.bar
    yield bar.length
    if bar.release is not None:
        yield bar.release
    for voice in prepared.voices:
        for chord in voice.chords:
            yield from (piece.length for piece in chord.values)


def _pitches(chord: Chord, bar: TimedBar, page: Page) -> tuple[Pitch, ...]:
    if not chord.heads:
        return ()
    held = _symbol_at(chord.start, bar)
    shift, fifths, naming, move = page.shift, page.fifths, page.naming, page.chord_move
    return tuple(_spelled(head.midi - shift, fifths, held, naming, move) for head in chord.heads)


def _symbol_at(onset: Fraction, bar: TimedBar) -> str:
    """Return the symbol of the voicing that is held at a place."""
    symbol = ""
    for taken in bar.voicings:
        if not taken.onset or taken.onset <= onset:
            symbol = taken.voicing.symbol
    return symbol


@lru_cache(maxsize=4096)
def _spelled(midi: int, fifths: int, held: str, naming: str, move: Transposition | None) -> Pitch:
    symbol = _read(held, naming)
    names = symbol.notes if symbol is not None and symbol.quality is not None else ()
    return spell_in_key(midi, fifths, tuple(moved(name, move) if move else name for name in names))


def _signs(
    voices: tuple[Voice, ...], pitches: list[list[tuple[Pitch, ...]]], fifths: int
) -> list[list[tuple[bool, ...]]]:
    """Find the accidentals, in order of time over both voices of the staff."""
    signs: list[list[tuple[bool, ...]]] = [
        [(False,) * len(chord) for chord in voice] for voice in pitches
    ]
    if all(in_signature(pitch, fifths) for voice in pitches for chord in voice for pitch in chord):
        return signs
    order = sorted(
        (chord.start, voice_at, chord_at)
        for voice_at, voice in enumerate(voices)
        for chord_at, chord in enumerate(voice.chords)
    )
    in_time = [pitch for _, voice, chord in order for pitch in pitches[voice][chord]]
    needed = iter(accidentals(in_time, fifths))
    for _, voice_at, chord_at in order:
        signs[voice_at][chord_at] = tuple(islice(needed, len(pitches[voice_at][chord_at])))
    return signs


def _chords(
    bar: TimedBar,
    voice: Voice,
    pitches: list[tuple[Pitch, ...]],
    signs: list[tuple[bool, ...]],
    resumes: Resumes | None,
) -> tuple[WrittenChord, ...]:
    silent = tuple(not chord.heads for chord in voice.chords)
    values, beams = engraved(bar.meter, bar.start, voice.edges, silent)
    last = len(voice.chords) - 1
    marked = resumes is not None and not resumes[voice.thumb]
    slurs = slur_ends(voice.chords)
    return tuple(
        WrittenChord(
            chord,
            values[index],
            beams[index],
            pitches[index],
            signs[index],
            _rings(chord, bar.length, index == last and marked),
            slurs[index],
        )
        for index, chord in enumerate(voice.chords)
    )


def _rings(chord: Chord, length: Fraction, open_end: bool) -> tuple[bool, ...]:
    return tuple(open_end and head.end > length for head in chord.heads)
