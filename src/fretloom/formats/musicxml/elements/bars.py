"""Writes the measures of a part (MusicXML 4.0 `measure`, `barline`)."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from typing import Literal

from fretloom.formats.musicxml.elements import pace as paces
from fretloom.formats.musicxml.elements import signs
from fretloom.formats.musicxml.elements.chords import write_harmony
from fretloom.formats.musicxml.elements.directions import (
    write_rehearsal,
    write_swing,
    write_words,
)
from fretloom.formats.musicxml.elements.head import (
    write_first_attributes,
    write_first_print,
    write_time,
)
from fretloom.formats.musicxml.elements.notes import StaffWriter
from fretloom.formats.musicxml.elements.techniques import in_words
from fretloom.formats.musicxml.folding.measures import words_of_jump
from fretloom.formats.musicxml.folding.sheet import Measure
from fretloom.formats.musicxml.planning.page import Page
from fretloom.formats.musicxml.planning.singing import Lyric
from fretloom.formats.musicxml.planning.staves import Staff
from fretloom.formats.musicxml.planning.swinging import swung
from fretloom.formats.musicxml.planning.written import NO_FINGERS, NamedVoicing, PreparedBar
from fretloom.formats.xml import Element, written
from fretloom.performance.events import Settings
from fretloom.values import frozen

#: What stands over the staff at a place of the bar: chord symbols, "release".
_Above = dict[Fraction, list[Callable[[Element], None]]]


@frozen(eq=False)
class PartWriter:
    """Writes one part: its bars in performing order, each on all its staves.

    `sings` says that words are sung in the piece.
    """

    settings: Settings
    page: Page
    staves: tuple[Staff, ...]
    divisions: int
    sings: bool = False

    @cached_property
    def _writers(self) -> tuple[StaffWriter, ...]:
        return tuple(StaffWriter(staff, self.divisions) for staff in self.staves)

    @property
    def _top(self) -> str:
        return self.staves[0].number

    @property
    def _between(self) -> Literal["above", "below"]:
        """Where words stand that are no chord symbols: between the staves, over tablature that is alone."""
        return "above" if self.staves[0].tab else "below"

    @property
    def _loudness(self) -> paces.Loudness:
        """Where loudness stands: below, but above where words are sung (common practice)."""
        return "above" if self.sings else "below"

    @property
    def _leads(self) -> bool:
        """Whether what stands once in a score stands in this part: words, sections, tempo, chords, loudness."""
        return self.staves[0].fingers

    def measures(self, sheet: Sequence[Measure], lets_ring: bool) -> Iterator[Element]:
        """Yield each `measure`; it may be dropped before the next one is asked for."""
        known: dict[object, str] = {}
        jump = words_of_jump([one.signs for one in sheet])
        before: Measure | None = None
        for place, one in enumerate(sheet):
            measure = Element("measure", one.numbering)
            self._opening(measure, one, before)
            if self._leads:
                if before is None and lets_ring:
                    write_words(measure, self._top, "let ring")
                self._words_between(measure, one.bar)
            measure.put(self._music(one.bar, known))
            if self._leads:
                paces.end(measure, self._top, one.pace, self._loudness)
            signs.end(measure, self._top, one.signs, jump, leads=self._leads)
            last = place + 1 == len(sheet)
            signs.right_barline(measure, one.signs, ends=one.ends, last=last)
            before = one
            yield measure

    def _opening(self, measure: Element, one: Measure, before: Measure | None) -> None:
        """Write what stands at the start of a bar: attributes, section, tempo and loudness."""
        meter = one.bar.played.bar.meter
        if before is None and self._leads:
            write_first_print(measure, self.page)
        signs.left_barline(measure, one.signs)
        if before is None:
            write_first_attributes(measure, self.staves, self.page, meter, self.divisions)
        elif any(other != meter for other in one.meters):
            write_time(measure.add("attributes"), self.staves, meter)
        if before is not None:
            self._swing_again(measure, one)
        signs.begin(measure, self._top, one.signs, leads=self._leads)
        if self._leads:
            if one.title:
                write_rehearsal(measure, self._top, one.title)
            swing = None if before else swung(self.settings.swing, meter)
            paces.begin(measure, self._top, one.pace, self._loudness, meter, swing)

    def _swing_again(self, measure: Element, one: Measure) -> None:
        """Write that nothing swings from here on, or what does, where the meter changes that."""
        if self.settings.swing is None or not self._leads:
            return
        swing = swung(self.settings.swing, one.bar.played.bar.meter)
        if any(swing != swung(self.settings.swing, meter) for meter in one.meters):
            write_swing(measure, self._top, swing)

    def _words_between(self, measure: Element, bar: PreparedBar) -> None:
        """Write the words of a bar under the notation, or over tablature that is alone."""
        hands, placement = bar.hands, self._between
        if hands.pattern:
            write_words(measure, self._top, hands.pattern, placement=placement)
        if hands.simile:
            write_words(measure, self._top, "simile", italic=True, placement=placement)
        if bar.played.bar.cue:
            write_words(measure, self._top, bar.played.bar.cue, italic=True, placement=placement)

    def _music(self, bar: PreparedBar, known: dict[object, str]) -> str:
        """Return the notes as text; an equal bar's are in `known`."""
        key = (bar.key, bar.named, bar.words, bar.hands)
        text = known.get(key)
        if text is None:
            music = Element("measure")
            above = self._above(bar)
            for place, writer in enumerate(self._writers):
                if place:
                    writer.move(music, "backup", bar.played.bar.length)
                _write_staff(music, writer, bar, {} if place else above)
            text = known[key] = "".join([written(one, depth=1) for one in music.children])
        return text

    def _above(self, bar: PreparedBar) -> _Above:
        above: _Above = {}
        if not self._leads:
            return above
        for named in bar.named:
            above.setdefault(named.taken.onset, []).append(self._harmony(named))
        release = bar.played.bar.release
        if release is not None and release < bar.played.bar.length:
            above.setdefault(release, []).append(self._words("release"))
        for at, text in in_words(bar.played.bar):
            above.setdefault(at, []).append(self._words(text))
        for at, text in (one for words in bar.words for one in words.loose):
            above.setdefault(at, []).append(self._sung(text))
        return above

    def _harmony(self, named: NamedVoicing) -> Callable[[Element], None]:
        return lambda measure: write_harmony(measure, named, self.page, self._top)

    def _words(self, text: str) -> Callable[[Element], None]:
        return lambda measure: write_words(
            measure, self._top, text, italic=True, placement=self._between
        )

    def _sung(self, text: str) -> Callable[[Element], None]:
        return lambda measure: write_words(measure, self._top, text, placement="below")


def _write_staff(measure: Element, writer: StaffWriter, bar: PreparedBar, above: _Above) -> None:
    """Write the voices of one staff, and `above` before the notes that begin at its places."""
    length, fingers = bar.played.bar.length, writer.staff.fingers
    waiting = dict(above)
    _write_loose(measure, writer, bar, waiting)
    if not bar.voices:
        _write_all(measure, waiting.pop(Fraction(0), []))
        writer.rest_bar(measure, length, bar.played.bar.fermata is not None)
    for place, voice in enumerate(bar.voices):
        if place:
            writer.move(measure, "backup", length)
        for chord_at, chord in enumerate(voice.chords):
            lyrics = _lyrics(bar, (place, chord_at)) if bar.words else ()
            at = bar.hands.at(chord.chord.start) if fingers else NO_FINGERS
            for index, piece in enumerate(chord.values):
                if waiting:
                    _write_all(measure, waiting.pop(piece.start, []))
                writer.write_value(
                    measure, voice, chord, index, bar.music.looks[place][chord_at], at, lyrics
                )


def _lyrics(bar: PreparedBar, place: tuple[int, int]) -> tuple[Lyric, ...]:
    """Return what is sung where a chord begins, given by its voice and its number there."""
    sung = (words.at(place) for words in bar.words)
    return tuple(one for one in sung if one is not None)


def _write_loose(measure: Element, writer: StaffWriter, bar: PreparedBar, above: _Above) -> None:
    """Write what stands over a place where neither voice begins a value."""
    if all(not onset for onset in above):
        return
    begun = {Fraction(0)}
    for voice in bar.voices:
        begun |= {piece.start for chord in voice.chords for piece in chord.values}
    for onset in sorted(set(above) - begun):
        writer.move(measure, "forward", onset)
        _write_all(measure, above.pop(onset))
        writer.move(measure, "backup", onset)


def _write_all(measure: Element, writers: Sequence[Callable[[Element], None]]) -> None:
    for write in writers:
        write(measure)
