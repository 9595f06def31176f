"""Puts the words of the song to the notes at which they are sung (MusicXML 4.0 `lyric`)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import count
from typing import Literal

from attrs import evolve

from fretloom.performance.manner import Sung
from fretloom.values import frozen

Syllabic = Literal["single", "begin", "middle", "end"]
#: A chord of a bar: the place of its voice among the voices, and its own in the voice.
ChordPlace = tuple[int, int]


@frozen
class Syllable:
    """A syllable as it stands under a note, and whether its word begins, goes on or ends there."""

    text: str
    syllabic: Syllabic


@frozen
class Lyric:
    """What is sung to one note: the number of the verse, its syllables there, and the times it is sung.

    `times` are those at which the measure is played, from 1; () for each time.
    """

    verse: int
    syllables: tuple[Syllable, ...]
    times: tuple[int, ...] = ()


@frozen(kw_only=True)
class Lyrics:
    """The words of a bar.

    Args:
        verse: their number. lyrics: the syllables under each chord that has some. loose: what stands
            below the staff as words, at its place: what begins with no note, and the words of a bar
            that does not say when they are sung. times: as for each lyric.
    """

    verse: int = 1
    lyrics: tuple[tuple[ChordPlace, tuple[Syllable, ...]], ...] = ()
    loose: tuple[tuple[Fraction, str], ...] = ()
    times: tuple[int, ...] = ()

    def at(self, place: ChordPlace) -> Lyric | None:
        """Return what is sung to a chord."""
        found = next((texts for one, texts in self.lyrics if one == place), None)
        return None if found is None else Lyric(self.verse, found, self.times)


#: What is sung in a measure: the words of each time that has others, one below the other.
Stack = tuple[Lyrics, ...]


def placed(sung: Sung, chords: Mapping[Fraction, ChordPlace], inside: bool) -> Lyrics:
    """Put the words of a bar to its chords.

    A syllable where no note begins stands below the staff at its own place: under another note it
    would be sung at the wrong time.

    Args:
        chords: where notes begin. inside: whether a word goes on from a bar before.
    """
    verse = sung.verse or 1
    if not sung.syllables:
        return Lyrics(verse=verse, loose=((Fraction(0), sung.text),))
    lyrics: dict[ChordPlace, list[Syllable]] = {}
    loose: list[tuple[Fraction, str]] = []
    parts = _parts([one.text for one in sung.syllables], inside)
    for one, syllable in zip(sung.syllables, parts, strict=True):
        if one.onset in chords:
            lyrics.setdefault(chords[one.onset], []).append(syllable)
        else:
            loose.append((one.onset, one.text))
    under = tuple((place, tuple(texts)) for place, texts in lyrics.items())
    return Lyrics(verse=verse, lyrics=under, loose=tuple(loose))


def goes_on(sung: Sung | None, inside: bool) -> bool:
    """Whether a word goes on behind a bar, if it does before it (`inside`)."""
    if sung is None:
        return inside
    return bool(sung.syllables) and _open(sung.syllables[-1].text)


def _open(text: str) -> bool:
    """Whether a word goes on after a syllable, which then ends with a hyphen."""
    return text.endswith("-") and text.strip("-") != ""


def _parts(texts: Sequence[str], inside: bool) -> list[Syllable]:
    found: list[Syllable] = []
    for text in texts:
        further = _open(text)
        syllabic: Syllabic = "single"
        if inside:
            syllabic = "middle" if further else "end"
        elif further:
            syllabic = "begin"
        found.append(Syllable(text.rstrip("-") if further else text, syllabic))
        inside = further
    return found


def stacked(times: Sequence[Stack]) -> Stack:
    """Return the words of a measure that is played several times: below one another, the same verse once.

    They have the number of their verse, or of the time at which they are sung if that is taken.
    """
    sung: dict[Lyrics, list[int]] = {}
    for time, stack in enumerate(times, start=1):
        for one in stack:
            sung.setdefault(one, []).append(time)
    found: list[Lyrics] = []
    taken: set[int] = set()
    for one, when in sung.items():
        at = tuple(when) if len(when) < len(times) else ()
        verse = one.verse if one.verse not in taken else when[0]
        verse = next(number for number in count(verse) if number not in taken)
        taken.add(verse)
        loose = tuple((onset, f"{verse}. {text}") for onset, text in one.loose) if at else one.loose
        found.append(evolve(one, verse=verse, times=at, loose=loose))
    return tuple(found)
