"""Prepares a bar for writing: voices, written values, beams, spelled pitches, accidentals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import lcm

from fretloom.engraving.beams import engraved
from fretloom.engraving.rhythm import Piece
from fretloom.engraving.values import TooFine
from fretloom.engraving.voices import Chord, Voice, held_over, voices_of
from fretloom.formats.musicxml.planning.page import Page
from fretloom.formats.musicxml.planning.pitches import Named, named
from fretloom.formats.musicxml.planning.signs import with_signs
from fretloom.formats.musicxml.planning.slurs import SlurEnds, slur_ends
from fretloom.formats.musicxml.planning.written import (
    BarKey,
    Music,
    PreparedBar,
    Resumes,
    Tied,
    WrittenChord,
    WrittenGrace,
    WrittenVoice,
)
from fretloom.performance.events import TimedBar

#: MusicXML 4.0, `divisions`: the standard recommends no more than this (as MIDI files allow).
MOST_DIVISIONS = 16383


def prepare(bar: TimedBar, page: Page, key: BarKey, numbers: dict[object, int]) -> Music:
    """Prepare the voices of a bar.

    Args:
        numbers: of what the chords of the piece look like; those of the bar are added to it.
        key: `resumes` says whether the fingers and the thumb pluck at the very start of the next
            bar; a note that rings over the bar line is marked where they do not. None marks no note.

    Raises:
        TooFine: a note is too short to be written.
    """
    before = [(one.thumb, one.head) for one in key.tied]
    found = voices_of(bar, before, goes_on=not key.last)
    names = named(found.voices, bar, page, {one.head.string: one.pitch for one in key.tied})
    written = tuple(
        WrittenVoice(voice.thumb, _chords(bar, voice, names[index], key.resumes), voice.beside)
        for index, voice in enumerate(found.voices)
    )
    written = with_signs(written, bar, page)
    spelled = {
        head.string: pitch
        for voice in written
        for head, pitch in zip(voice.chords[-1].chord.heads, voice.chords[-1].pitches, strict=True)
    }
    tied_on = tuple(
        Tied(thumb, head, spelled[head.string]) for thumb, head in held_over(found.voices)
    )
    looks = tuple(
        [
            tuple([numbers.setdefault(chord.looks, len(numbers)) for chord in voice.chords])
            for voice in written
        ]
    )
    return Music(written, looks, tied_on, found.cut_short)


def divisions_of(bars: Sequence[PreparedBar]) -> int:
    """Return how many parts of a quarter note the file counts in.

    Raises:
        TooFine: the file would have to count more finely than readers can.
    """
    parts = 1
    for prepared in {bar.key: bar for bar in bars}.values():
        parts = lcm(parts, *(length.denominator for length in _lengths(prepared)))
    parts = lcm(parts, *(one.taken.onset.denominator for bar in bars for one in bar.named))
    parts = lcm(
        parts, *(onset.denominator for bar in bars for one in bar.words for onset, _ in one.loose)
    )
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
    yield from (slap.onset for slap in bar.slaps)
    for voice in prepared.voices:
        for chord in voice.chords:
            yield from (piece.length for piece in chord.values)


def _chords(
    bar: TimedBar, voice: Voice, names: list[tuple[Named, ...]], resumes: Resumes | None
) -> tuple[WrittenChord, ...]:
    silent = tuple(not chord.heads for chord in voice.chords)
    values, beams = engraved(bar.meter, bar.start, voice.edges, silent)
    last = len(voice.chords) - 1
    marked = resumes is not None and not resumes[voice.thumb]
    slurs = iter(slur_ends([heads for chord in voice.chords for heads in chord.groups]))
    return tuple(
        WrittenChord(
            chord=chord,
            values=values[index],
            beams=beams[index],
            pitches=names[index][-1].pitches,
            signs=names[index][-1].signs,
            graces=(
                _graces(chord, names[index], slurs, _stolen_from(voice, values, index))
                if chord.graces
                else ()
            ),
            slurs=next(slurs),
            rings=(
                _rings(chord, bar.length)
                if marked and index == last
                else (False,) * len(chord.heads)
            ),
        )
        for index, chord in enumerate(voice.chords)
    )


def _graces(
    chord: Chord,
    names: tuple[Named, ...],
    slurs: Iterator[tuple[SlurEnds, ...]],
    steals: tuple[str, int] | None,
) -> tuple[WrittenGrace, ...]:
    return tuple(
        WrittenGrace(heads, name.pitches, name.signs, next(slurs), steals)
        for heads, name in zip(chord.graces, names, strict=False)
    )


def _stolen_from(
    voice: Voice, values: Sequence[Sequence[Piece]], index: int
) -> tuple[str, int] | None:
    """Return from which note the grace notes of a chord take their time, and how much in per cent."""
    chord = voice.chords[index]
    said = next(one for head in chord.heads if (one := head.technique) is not None and one.grace)
    if said.grace == "on-beat":
        return "steal-time-following", _per_cent(said.grace_length, values[index][0])
    if not index or not voice.chords[index - 1].heads:
        return None
    return "steal-time-previous", _per_cent(said.grace_length, values[index - 1][-1])


def _per_cent(length: Fraction, of: Piece) -> int:
    """Return a share of a value in whole per cents: readers take no others, though the schema does."""
    return max(1, min(100, round(100 * length / of.length)))


def _rings(chord: Chord, length: Fraction) -> tuple[bool, ...]:
    return tuple(not (head.tied_on or head.tied_from) and head.end > length for head in chord.heads)
