"""Writes the words of the song under a note (MusicXML 4.0 `lyric`)."""

from __future__ import annotations

from fretloom.formats.musicxml.planning.singing import Lyric
from fretloom.formats.xml import Element


def write_lyric(note: Element, lyric: Lyric) -> None:
    """Write the syllables that are sung to a note; several are joined as the standard's `elision` does."""
    element = note.add("lyric", {"number": str(lyric.verse)})
    if lyric.times:
        element.set("time-only", ",".join(map(str, lyric.times)))
    for place, syllable in enumerate(lyric.syllables):
        if place:
            element.add("elision", text=" ")
        element.add("syllabic", text=syllable.syllabic)
        element.add("text", text=syllable.text)
