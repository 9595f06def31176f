"""Puts signs that belong to a place of a bar, or need its key, to the notes where they stand."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from attrs import evolve

from fretloom.engraving.heads import Head
from fretloom.engraving.spelling import signature_alter
from fretloom.formats.musicxml.planning.page import Page
from fretloom.formats.musicxml.planning.written import WrittenChord, WrittenVoice
from fretloom.performance.events import TimedBar
from fretloom.trade.music.pitch import STEPS, Pitch

_Voices = tuple[WrittenVoice, ...]


def with_signs(voices: _Voices, bar: TimedBar, page: Page) -> _Voices:
    """Return the voices of a bar with its fermata, its slaps on the body and the goals of its trills."""
    if bar.fermata is not None:
        voices = _with_fermata(voices, bar.fermata)
    for slap in bar.slaps:
        if slap.place == "body":
            voices = _with_slap(voices, slap.onset)
    if any(note.technique.trill is not None for note in bar.notes):
        voices = tuple(_with_trills(voice, page) for voice in voices)
    return voices


def _with_fermata(voices: _Voices, at: Fraction) -> _Voices:
    """Put the fermata on a note that begins at its place or goes on there, or else on a rest."""
    found = [
        (not chord.chord.heads, -start, voice_at, chord_at, index)
        for voice_at, chord_at, index, chord, start, end in _values(voices)
        if start <= at < end and not chord.chord.hidden
    ]
    if not found:
        return voices
    *_, voice_at, chord_at, index = min(found)
    changed = evolve(voices[voice_at].chords[chord_at], fermata=index)
    return _replaced(voices, voice_at, chord_at, changed)


def _with_slap(voices: _Voices, at: Fraction) -> _Voices:
    """Put a slap on the body to a note or rest that begins there; without one, only words say it."""
    found = [
        (not chord.chord.heads, voice_at, chord_at, index)
        for voice_at, chord_at, index, chord, start, _ in _values(voices)
        if start == at and not chord.chord.hidden
    ]
    if not found:
        return voices
    _, voice_at, chord_at, index = min(found)
    chord = voices[voice_at].chords[chord_at]
    return _replaced(voices, voice_at, chord_at, evolve(chord, slaps=(*chord.slaps, index)))


def _values(
    voices: _Voices,
) -> Iterator[tuple[int, int, int, WrittenChord, Fraction, Fraction]]:
    """Yield each value of a bar: its voice, chord and number, the chord itself, where it begins and ends."""
    for voice_at, voice in enumerate(voices):
        for chord_at, chord in enumerate(voice.chords):
            for index, piece in enumerate(chord.values):
                end = piece.start + piece.length
                yield voice_at, chord_at, index, chord, piece.start, end


def _replaced(voices: _Voices, voice_at: int, chord_at: int, chord: WrittenChord) -> _Voices:
    voice = voices[voice_at]
    chords = (*voice.chords[:chord_at], chord, *voice.chords[chord_at + 1 :])
    changed = evolve(voice, chords=chords)
    return (*voices[:voice_at], changed, *voices[voice_at + 1 :])


def _with_trills(voice: WrittenVoice, page: Page) -> WrittenVoice:
    return evolve(voice, chords=tuple(_trilled(chord, page) for chord in voice.chords))


def _trilled(chord: WrittenChord, page: Page) -> WrittenChord:
    goals = tuple(map(_goal, chord.chord.heads, chord.pitches, (page,) * len(chord.pitches)))
    return evolve(chord, trills=goals) if any(goal is not None for goal in goals) else chord


def _goal(head: Head, pitch: Pitch, page: Page) -> int | None:
    """Return how the upper neighbour that a note is trilled with is altered, if the key does not say it.

    A trill goes to the neighbour unless something else is said; for any other note there are only words.
    """
    if head.technique is None or head.technique.trill is None:
        return None
    place = STEPS.index(pitch.step) + 1
    step, octave = STEPS[place % 7], pitch.octave + place // 7
    goal = head.technique.trill.midi - page.shift
    alter = goal - Pitch(step, 0, octave).midi
    if abs(alter) > 1 or alter == signature_alter(step, page.fifths):
        return None
    return alter
