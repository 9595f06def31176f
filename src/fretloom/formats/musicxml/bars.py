"""Writes the measures of a part (MusicXML 4.0 `measure`, `barline`).

Imports lxml: import this module inside functions only.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from copy import deepcopy
from fractions import Fraction

from lxml.etree import Element, SubElement, _Element

from fretloom.formats.musicxml.chords import write_harmony
from fretloom.formats.musicxml.directions import (
    write_rehearsal,
    write_swing,
    write_tempo,
    write_words,
)
from fretloom.formats.musicxml.head import write_first_attributes, write_time
from fretloom.formats.musicxml.marks import Marks
from fretloom.formats.musicxml.notes import Staff, StaffWriter
from fretloom.formats.musicxml.page import Page
from fretloom.formats.musicxml.prepare import PreparedBar
from fretloom.performance.events import Settings, TimedVoicing

#: What stands over the staff at a place of the bar: chord symbols, "release".
_Above = dict[Fraction, list[Callable[[_Element], None]]]


class PartWriter:
    """Writes one part: its bars in performing order, each on all its staves."""

    def __init__(
        self,
        settings: Settings,
        page: Page,
        staves: Sequence[Staff],
        divisions: int,
        places: bool,
        left_out: set[str],
    ) -> None:
        """`places` keeps string and fret on notation; what cannot be said goes to `left_out`."""
        self._settings = settings
        self._page = page
        self._staves = staves
        self._divisions = divisions
        self._left_out = left_out
        self._writers = [StaffWriter(staff, divisions, Marks(left_out, places)) for staff in staves]
        self._lets_ring = False
        self._upbeats = 0
        self._printed: set[str] = set()
        self._known: dict[object, list[_Element]] = {}

    @property
    def _top(self) -> str:
        return self._staves[0].number

    def measures(self, bars: Sequence[PreparedBar]) -> Iterator[_Element]:
        """Yield a `measure` for each bar; it may be forgotten before the next is asked for."""
        self._lets_ring = any(bar.lets_ring for bar in bars)
        before: PreparedBar | None = None
        for place, bar in enumerate(bars):
            measure = Element("measure", self._numbering(bar, before is None))
            self._opening(measure, bar, before)
            self._music(measure, bar)
            if place + 1 == len(bars):
                _right_barline(measure, "light-heavy")
            elif bars[place + 1].played.first:
                _right_barline(measure, "light-light")
            before = bar
            yield measure

    def _numbering(self, bar: PreparedBar, first: bool) -> dict[str, str]:
        """Number a bar; an upbeat is not counted."""
        if bar.played.bar.kind != "pickup":
            return {"number": str(bar.played.number)}
        if first:
            return {"number": "0", "implicit": "yes"}
        self._upbeats += 1
        return {"number": f"X{self._upbeats}", "implicit": "yes"}

    def _opening(self, measure: _Element, bar: PreparedBar, before: PreparedBar | None) -> None:
        """Write what stands at the start of a bar: attributes, section, tempo, capo, cue."""
        played = bar.played
        if before is None:
            SubElement(SubElement(measure, "print"), "measure-numbering").text = "system"
            write_first_attributes(
                measure, self._staves, self._page, played.bar.meter, self._divisions
            )
        elif before.played.bar.meter != played.bar.meter:
            write_time(SubElement(measure, "attributes"), self._staves, played.bar.meter)
        if played.first:
            write_rehearsal(measure, self._top, played.title or played.section)
        if before is None or before.played.tempo != played.tempo:
            write_tempo(measure, self._top, played.tempo)
        if before is None:
            self._first_words(measure)
        if played.bar.cue:
            write_words(measure, self._top, played.bar.cue, italic=True)

    def _first_words(self, measure: _Element) -> None:
        if self._settings.swing is not None:
            write_swing(measure, self._top, self._settings.swing)
        if self._page.capo_words:
            write_words(measure, self._top, self._page.capo_words)
        if self._lets_ring:
            write_words(measure, self._top, "let ring")

    def _music(self, measure: _Element, bar: PreparedBar) -> None:
        """Write the notes, or copy them from an equal bar before."""
        fresh = tuple(taken.voicing.name not in self._printed for taken in bar.named)
        key = (bar.key, tuple(id(taken) for taken in bar.named), fresh)
        known = self._known.get(key)
        if known is not None:
            measure.extend(deepcopy(element) for element in known)
            return
        start = len(measure)
        above = self._above(bar)
        for place, writer in enumerate(self._writers):
            if place:
                writer.move(measure, "backup", bar.played.bar.length)
            _write_staff(measure, writer, bar, {} if place else above)
        self._known[key] = list(measure)[start:]

    def _above(self, bar: PreparedBar) -> _Above:
        above: _Above = {}
        for taken in bar.named:
            above.setdefault(taken.onset, []).append(self._harmony(taken))
        release = bar.played.bar.release
        if release is not None and release < bar.played.bar.length:
            above.setdefault(release, []).append(self._words("release"))
        return above

    def _harmony(self, taken: TimedVoicing) -> Callable[[_Element], None]:
        fresh = taken.voicing.name not in self._printed
        self._printed.add(taken.voicing.name)
        return lambda measure: write_harmony(
            measure, taken.voicing, self._page, self._top, fresh, self._left_out
        )

    def _words(self, text: str) -> Callable[[_Element], None]:
        return lambda measure: write_words(measure, self._top, text, italic=True)


def _write_staff(measure: _Element, writer: StaffWriter, bar: PreparedBar, above: _Above) -> None:
    """Write the voices of one staff, and `above` before the notes that begin at its places."""
    length = bar.played.bar.length
    waiting = dict(above)
    _write_loose(measure, writer, bar, waiting)
    if not bar.voices:
        _write_all(measure, waiting.pop(Fraction(0), []))
        writer.rest_bar(measure, length)
    for place, voice in enumerate(bar.voices):
        if place:
            writer.move(measure, "backup", length)
        for chord in voice.chords:
            for index, piece in enumerate(chord.values):
                if waiting:
                    _write_all(measure, waiting.pop(piece.start, []))
                writer.write_value(measure, voice.thumb, chord, index)


def _write_loose(measure: _Element, writer: StaffWriter, bar: PreparedBar, above: _Above) -> None:
    """Write what stands over a place where no voice begins a value."""
    if all(not onset for onset in above):
        return
    begun = {Fraction(0)}
    for voice in bar.voices:
        begun |= {piece.start for chord in voice.chords for piece in chord.values}
    for onset in sorted(set(above) - begun):
        writer.move(measure, "forward", onset)
        _write_all(measure, above.pop(onset))
        writer.move(measure, "backup", onset)


def _write_all(measure: _Element, writers: Sequence[Callable[[_Element], None]]) -> None:
    for write in writers:
        write(measure)


def _right_barline(measure: _Element, style: str) -> None:
    barline = SubElement(measure, "barline", {"location": "right"})
    SubElement(barline, "bar-style").text = style
