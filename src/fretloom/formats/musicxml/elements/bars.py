"""Writes the measures of a part (MusicXML 4.0 `measure`, `barline`)."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from typing import Literal

from fretloom.formats.musicxml.elements import pace as paces
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
from fretloom.formats.musicxml.planning.pace import BarPace
from fretloom.formats.musicxml.planning.page import Page
from fretloom.formats.musicxml.planning.staves import Staff
from fretloom.formats.musicxml.planning.swinging import swung
from fretloom.formats.musicxml.planning.written import NO_FINGERS, NamedVoicing, PreparedBar
from fretloom.formats.xml import Element, written
from fretloom.performance.events import Settings
from fretloom.trade.music.meter import Meter
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

    def measures(self, bars: Sequence[PreparedBar], pace: Sequence[BarPace]) -> Iterator[Element]:
        """Yield a `measure` for each bar; it may be dropped before the next one is asked for."""
        lets_ring = any(bar.lets_ring for bar in bars)
        known: dict[object, str] = {}
        before: PreparedBar | None = None
        for place, (bar, numbering) in enumerate(zip(bars, _numberings(bars), strict=True)):
            measure = Element("measure", numbering)
            self._opening(measure, bar, before, pace[place])
            if self._leads:
                if before is None and lets_ring:
                    write_words(measure, self._top, "let ring")
                self._words_between(measure, bar)
            measure.put(self._music(bar, known))
            if self._leads:
                paces.end(measure, self._top, pace[place], self._loudness)
            if place + 1 == len(bars):
                _right_barline(measure, "light-heavy")
            elif bars[place + 1].played.first:
                _right_barline(measure, "light-light")
            before = bar
            yield measure

    def _opening(
        self, measure: Element, bar: PreparedBar, before: PreparedBar | None, pace: BarPace
    ) -> None:
        """Write what stands at the start of a bar: attributes, section, tempo and loudness."""
        played = bar.played
        if before is None:
            if self._leads:
                write_first_print(measure, self.page)
            write_first_attributes(
                measure, self.staves, self.page, played.bar.meter, self.divisions
            )
        elif before.played.bar.meter != played.bar.meter:
            write_time(measure.add("attributes"), self.staves, played.bar.meter)
            self._swing_again(measure, before.played.bar.meter, played.bar.meter)
        if self._leads:
            if played.first:
                write_rehearsal(measure, self._top, played.title or played.section)
            swing = None if before else swung(self.settings.swing, played.bar.meter)
            paces.begin(measure, self._top, pace, self._loudness, swing)

    def _swing_again(self, measure: Element, before: Meter, meter: Meter) -> None:
        """Write that nothing swings from here on, or what does, where the meter changes that."""
        swing = swung(self.settings.swing, meter)
        if self._leads and swing != swung(self.settings.swing, before):
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
        if key not in known:
            music = Element("measure")
            above = self._above(bar)
            for place, writer in enumerate(self._writers):
                if place:
                    writer.move(music, "backup", bar.played.bar.length)
                _write_staff(music, writer, bar, {} if place else above)
            known[key] = "".join([written(one, depth=1) for one in music.children])
        return known[key]

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
        for at, text in bar.words.loose:
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


def _numberings(bars: Sequence[PreparedBar]) -> Iterator[dict[str, str]]:
    """Yield the number of each bar; a pickup is not counted."""
    upbeats = 0
    for place, bar in enumerate(bars):
        if bar.played.bar.kind != "pickup":
            yield {"number": str(bar.played.number)}
        elif place == 0:
            yield {"number": "0", "implicit": "yes"}
        else:
            upbeats += 1
            yield {"number": f"X{upbeats}", "implicit": "yes"}


def _write_staff(measure: Element, writer: StaffWriter, bar: PreparedBar, above: _Above) -> None:
    """Write the voices of one staff, and `above` before the notes that begin at its places."""
    length = bar.played.bar.length
    waiting = dict(above)
    _write_loose(measure, writer, bar, waiting)
    if not bar.voices:
        _write_all(measure, waiting.pop(Fraction(0), []))
        writer.rest_bar(measure, length, bar.played.bar.fermata is not None)
    for place, voice in enumerate(bar.voices):
        if place:
            writer.move(measure, "backup", length)
        for chord_at, chord in enumerate(voice.chords):
            lyric = bar.words.at((place, chord_at)) if bar.words.lyrics else None
            at = bar.hands.at(chord.chord.start) if writer.staff.fingers else NO_FINGERS
            for index, piece in enumerate(chord.values):
                if waiting:
                    _write_all(measure, waiting.pop(piece.start, []))
                writer.write_value(measure, voice, chord, index, at, lyric)


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


def _right_barline(measure: Element, style: str) -> None:
    barline = measure.add("barline", {"location": "right"})
    barline.add("bar-style", text=style)
