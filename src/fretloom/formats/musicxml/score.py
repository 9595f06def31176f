"""Puts a whole score together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.engraving.values import TooFine
from fretloom.errors import FretloomError
from fretloom.formats.beside import beside_the_music
from fretloom.formats.musicxml.elements.bars import PartWriter
from fretloom.formats.musicxml.elements.head import head_of
from fretloom.formats.musicxml.folding.fold import folded
from fretloom.formats.musicxml.folding.passes import written_out
from fretloom.formats.musicxml.folding.sheet import Measure, measures_of, page_numbers
from fretloom.formats.musicxml.front.credits import front_of
from fretloom.formats.musicxml.options import ScoreOptions
from fretloom.formats.musicxml.planning.hands import with_hands
from fretloom.formats.musicxml.planning.left_out import left_out
from fretloom.formats.musicxml.planning.pace import paces
from fretloom.formats.musicxml.planning.page import Page, page_of
from fretloom.formats.musicxml.planning.prepare import divisions_of, prepare
from fretloom.formats.musicxml.planning.singing import Stack, goes_on, placed
from fretloom.formats.musicxml.planning.staves import LAYOUTS
from fretloom.formats.musicxml.planning.written import (
    BarKey,
    Music,
    NamedVoicing,
    PreparedBar,
    Resumes,
    Tied,
)
from fretloom.formats.shape import LeftOut
from fretloom.formats.xml import DECLARATION, NO_CHARACTER, Element, start_tag, written
from fretloom.memory import no_collection
from fretloom.performance.events import PlayedBar, TimedBar, TimedVoicing, Timeline
from fretloom.performance.printed_names import printed_names
from fretloom.performance.reading import Reading
from fretloom.trade.guitar.voicing import Voicing


def score_of_lesson(
    reading: Reading, options: ScoreOptions, carrier: str = "a notation file"
) -> tuple[bytes, tuple[LeftOut, ...]]:
    """Return the score of a lesson, and what of it a file of that kind does not carry; raises as `score_of`."""
    score, left = score_of(reading.timeline, options)
    told = beside_the_music(
        reading, carrier, ("instrument", "titles of sections", "titles of patterns")
    )
    return score, (*told, *left)


def score_of(timeline: Timeline, options: ScoreOptions) -> tuple[bytes, tuple[LeftOut, ...]]:
    """Return the `score-partwise` of a timeline in UTF-8, and what it cannot carry.

    The same timeline gives the same bytes every time. Bars are written one after the other, so that
    a long piece takes little more memory than its file.

    Raises:
        FretloomError: nothing is played, a text has a character that XML cannot hold, or a beat is
            divided too finely.
    """
    if not timeline.bars:
        raise FretloomError("the lesson has no bars, so there is nothing to write down")
    _check_texts(timeline)
    if options.words == "none":
        silent = tuple(evolve(played, sung=None) for played in timeline.bars)
        timeline = evolve(timeline, bars=silent)
    with no_collection():
        front = front_of(timeline.settings, options.concert)
        page = evolve(page_of(timeline.settings, options.concert), top=front.staff)
        bars = _prepared(timeline.bars, page, options.ring_ties)
        divisions = divisions_of(bars)
        sings = any(played.sung is not None for played in timeline.bars)
        parts = {
            f"P{number}": PartWriter(timeline.settings, page, staves, divisions, sings)
            for number, staves in enumerate(LAYOUTS[options.layout], start=1)
        }
        head = head_of(timeline.settings, options.encoding_date, list(parts), front)
        sheet = _sheet(timeline, bars, options)
        score = "".join(_pieces(head, parts, sheet, bars)).encode()
        words, numbers = options.words == "song", page_numbers(sheet, bars)
        return score, left_out(timeline, bars, page, front.cut, numbers, words=words)


def _sheet(timeline: Timeline, bars: Sequence[PreparedBar], options: ScoreOptions) -> list[Measure]:
    """Return the measures of the page: each bar of the performance, or as few as say the same."""
    pace, folds = list(paces([bar.played for bar in bars])), options.form == "folded"
    signs = folded(bars, pace, timeline.sections) if folds else written_out(range(len(bars)))
    sheet = measures_of(bars, pace, signs, folds)
    first = options.fingers == "first"
    shown = with_hands([one.bar for one in sheet], timeline.patterns, first=first)
    return [evolve(one, bar=bar) for one, bar in zip(sheet, shown, strict=True)]


def _pieces(
    head: Sequence[Element | str],
    parts: Mapping[str, PartWriter],
    sheet: Sequence[Measure],
    bars: Sequence[PreparedBar],
) -> Iterator[str]:
    """Yield the text of a score; the elements of a bar are dropped when they are written."""
    yield DECLARATION
    yield f"{start_tag('score-partwise', {'version': '4.0'})}\n"
    yield from map(written, head)
    lets_ring = any(bar.lets_ring for bar in bars)
    for part_id, writer in parts.items():
        yield f"{start_tag('part', {'id': part_id})}\n"
        yield from map(written, writer.measures(sheet, lets_ring))
        yield "</part>\n"
    yield "</score-partwise>\n"


def _prepared(bars: tuple[PlayedBar, ...], page: Page, ring_ties: bool) -> list[PreparedBar]:
    """Prepare each bar once, however often it is played."""
    known: dict[BarKey, Music] = {}
    numbers: dict[object, int] = {}
    prepared: list[PreparedBar] = []
    held: Voicing | None = None
    printed: set[str] = set()
    names = printed_names(
        list({one.voicing.name: one.voicing for bar in bars for one in bar.bar.voicings}.values())
    )
    tied: tuple[Tied, ...] = ()
    inside = False  # Whether a word that is sung goes on in the next bar.
    for place, played in enumerate(bars):
        after = bars[place + 1].bar if place + 1 < len(bars) else None
        key = BarKey(played.bar.serial, _resumes(after) if ring_ties else None, tied, after is None)
        music = known.get(key)
        if music is None:
            music = known[key] = _music(played, page, key, numbers)
        tied = music.tied_on
        taken, held = _taken(played, held)
        named = tuple(
            NamedVoicing(one, one.voicing.name not in printed, names[one.voicing.name])
            for one in taken
        )
        printed |= {one.voicing.name for one in taken}
        inside = inside and not played.first
        words = _words(played, music, inside)
        inside = goes_on(played.sung, inside)
        prepared.append(PreparedBar(key, played, music, named, words))
    return prepared


def _music(played: PlayedBar, page: Page, key: BarKey, numbers: dict[object, int]) -> Music:
    try:
        return prepare(played.bar, page, key, numbers)
    except TooFine as error:
        raise TooFine(f"bar {played.number} ({played.section}): {error}") from None


def _words(played: PlayedBar, music: Music, inside: bool) -> Stack:
    """Put the words of a bar to where notes begin: to the fingers' first, then to the thumb's."""
    if played.sung is None:
        return ()
    chords: dict[Fraction, tuple[int, int]] = {}
    for voice_at, voice in enumerate(music.voices):
        for chord_at, chord in enumerate(voice.chords):
            if any(not head.tied_from for head in chord.chord.heads):
                chords.setdefault(chord.chord.start, (voice_at, chord_at))
    return (placed(played.sung, chords, inside),)


def _taken(
    played: PlayedBar, held: Voicing | None
) -> tuple[tuple[TimedVoicing, ...], Voicing | None]:
    """Return the voicings to be named over a bar, and the one held at its end.

    A voicing that goes on is not named again, except at the start of a section.
    """
    named: list[TimedVoicing] = []
    if played.first or played.bar.rest:
        held = None
    for taken in played.bar.voicings:
        if taken.voicing != held and taken.onset < played.bar.length:
            named.append(taken)
        held = taken.voicing
    return tuple(named), held


def _resumes(bar: TimedBar | None) -> Resumes:
    """Return whether the fingers and the thumb pluck at the very start of a bar."""
    if bar is None:
        return False, False
    first = {note.finger == "p" for note in bar.notes if note.onset == 0}
    return False in first, True in first


def _check_texts(timeline: Timeline) -> None:
    settings = timeline.settings
    texts = {"title": settings.title, "author": settings.by, "rights": settings.rights}
    texts |= {"instrument": settings.instrument}
    for played in timeline.bars:
        texts |= {"section's name": played.title + played.section, "cue": played.bar.cue}
        texts |= {"words of the song": "" if played.sung is None else played.sung.text}
        for where, text in texts.items():
            bad = NO_CHARACTER.search(text)
            if bad:
                raise FretloomError(
                    f"the {where} {NO_CHARACTER.sub('?', text)!r} holds the character "
                    f"U+{ord(bad[0]):04X}, which a MusicXML file cannot carry: remove it"
                )
        texts = {}
