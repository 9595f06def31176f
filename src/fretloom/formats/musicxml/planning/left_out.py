"""What a lesson has that MusicXML, or this profile of it, does not have a place for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import zip_longest

from fretloom.engraving.heads import beyond_the_bar, irregular_rolls
from fretloom.formats.musicxml.planning.page import Page
from fretloom.formats.musicxml.planning.pitches import symbol_of
from fretloom.formats.musicxml.planning.swinging import Swung, swung
from fretloom.formats.musicxml.planning.written import PreparedBar
from fretloom.formats.shape import LeftOut
from fretloom.performance.events import PlayedBar, Timeline
from fretloom.text import ordinal
from fretloom.trade.harmony.key_names import write_key

_REACHED = "how slow or fast it gets before another tempo"
_ENDS = "how slow or fast it gets at the end"
#: Makes an entry of what is left out of a bar.
_At = Callable[[str, PlayedBar], LeftOut]


def left_out(
    timeline: Timeline,
    bars: Sequence[PreparedBar],
    page: Page,
    cut: Sequence[str],
    numbers: Mapping[int, int],
    *,
    words: bool,
) -> tuple[LeftOut, ...]:
    """Return what the score of these bars leaves out; a measure of the page counts once.

    Args:
        cut: words of the head that have not found room. numbers: the number on the page of each bar,
            by its `index`. words: whether the song's are written.
    """

    def at(what: str, played: PlayedBar) -> LeftOut:
        return LeftOut(what, numbers[played.index], played.title or played.section)

    settings = timeline.settings
    whole = [
        LeftOut(f"the end of the {words}, which the head of the page has no room for")
        for words in cut
    ]
    if any(settings.tuning.doubles):
        what = "the second strings of the courses: the staves show the first of each, the head names the second"
        whole.append(LeftOut(what))
    for key in dict.fromkeys((settings.plays, settings.sounds)):
        if key is not None and key.with_signature != key:
            written = write_key(key.with_signature, settings.names)
            what = f"the key {write_key(key, settings.names)}, which has no signature: the score says {written}"
            whole.append(LeftOut(what))
    if any(one is not None and not one.note for one in _swung(timeline)):
        whole.append(LeftOut("that quarter notes swing, for programs that play: the head says it"))
    if words:
        whole += _unsung(timeline)
    found = (*_in_bars(bars, at), *_tempos(bars, at), *_diagrams(bars, page, at))
    return (*whole, *dict.fromkeys(found))


def _in_bars(bars: Sequence[PreparedBar], at: _At) -> Iterator[LeftOut]:
    seen: set[int] = set()
    for bar in bars:
        if bar.key.serial in seen:
            continue
        seen.add(bar.key.serial)
        played = bar.played
        if irregular_rolls(played.bar):
            what = "the order of rolls that go neither straight up nor straight down"
            yield at(what, played)
        if beyond_the_bar(played.bar):
            yield at("notes that begin after the end of their bar", played)
        if _slurs_lost(bar):
            yield at("slurs beyond eight at once", played)
        if bar.music.cut_short:
            yield at("how long notes are held beyond two at once of a hand", played)
        if played.bar.fermata is not None and bar.voices and not _waits(bar):
            yield at("where a beat waits while nothing is written", played)


def _waits(bar: PreparedBar) -> bool:
    return any(chord.fermata is not None for voice in bar.voices for chord in voice.chords)


def _tempos(bars: Sequence[PreparedBar], at: _At) -> Iterator[LeftOut]:
    """Yield where the tempo changes to one that no bar has: the next one has its own, or there is none."""
    seen: set[object] = set()
    for bar, after in zip_longest(bars, bars[1:]):
        reached, where = bar.played.manner.tempo_to, (bar.played.section, bar.played.written)
        next_tempo = None if after is None else after.played.tempo
        if reached is not None and reached != next_tempo and where not in seen:
            seen.add(where)
            yield at(_REACHED if after is not None else _ENDS, bar.played)


def _swung(timeline: Timeline) -> Iterator[Swung | None]:
    meters = dict.fromkeys(played.bar.meter for played in timeline.bars)
    return (swung(timeline.settings.swing, meter) for meter in meters)


def _unsung(timeline: Timeline) -> Iterator[LeftOut]:
    """Yield the words of a time that never comes."""
    sung = {(one.section, one.sung.verse) for one in timeline.bars if one.sung is not None}
    for section in timeline.sections:
        verses = {one.verse for bar in section.bars for one in bar.sung}
        for verse in sorted(one for one in verses if one is not None):
            if (section.name, verse) not in sung:
                words = (
                    f"the words of {section.title or section.name} for the {ordinal(verse)} time"
                )
                yield LeftOut(f"{words}, which is not played")


def _slurs_lost(bar: PreparedBar) -> bool:
    chords = [chord for voice in bar.voices for chord in voice.chords]
    slurs = [chord.slurs for chord in chords]
    slurs += [grace.slurs for chord in chords for grace in chord.graces]
    return any(ends.lost for heads in slurs for ends in heads)


def _diagrams(bars: Sequence[PreparedBar], page: Page, at: _At) -> Iterator[LeftOut]:
    """Yield the voicings whose name is written as words: a `frame` needs a `harmony`."""
    for bar in bars:
        for named in bar.named:
            voicing = named.taken.voicing
            if named.fresh and symbol_of(voicing.symbol, page) is None:
                what = f"the diagram of {voicing.name}, which is not a chord symbol"
                yield at(what, bar.played)
