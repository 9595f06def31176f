"""The fingers of notes beside the voicings, named in the performance itself, for every output."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, TypeVar

from fretloom.performance.events import PlayedBar, TimedBar, TimedNote, Timeline, WrittenBar
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.values import evolve

if TYPE_CHECKING:
    from fretloom.performance.hands.holds import HandWalk, Stop

#: What holds a bar.
Holder = TypeVar("Holder", PlayedBar, WrittenBar)


def name_fingers_beside(timeline: Timeline) -> Timeline:
    """Return a timeline in which every stopped note has its finger, where one can take it.

    Bars that are one object stay one.
    """
    bars = [played.bar for played in timeline.bars]
    bars += [written.bar for section in timeline.sections for written in section.bars]
    if not any(map(_leaves_open, bars)):
        return timeline
    from fretloom.performance.hands.holds import HandWalk  # Most lessons need no hand to be read.

    settings = timeline.settings
    walk = HandWalk(timeline, neck_of_settings(settings), hand_of_settings(settings))
    named: dict[int, TimedBar] = {}
    for bar in bars:
        if bar.serial not in named:
            named[bar.serial] = _named(walk, bar) if _leaves_open(bar) else bar

    def with_named(one: Holder) -> Holder:
        bar = named[one.bar.serial]
        return one if bar is one.bar else evolve(one, bar=bar)

    sections = (evolve(one, bars=tuple(map(with_named, one.bars))) for one in timeline.sections)
    return evolve(timeline, bars=tuple(map(with_named, timeline.bars)), sections=tuple(sections))


def _leaves_open(bar: TimedBar) -> bool:
    return any(map(_is_open, bar.notes))


def _is_open(note: TimedNote) -> bool:
    """Whether a finger of a note, or of what follows from its pluck, is not said."""
    if note.harmonic:
        return False
    if note.fret and not note.fretting:
        return True
    trill = note.technique.trill
    return any(slur.fret and not slur.fretting for slur in note.slurs) or bool(
        trill and not trill.fretting
    )


def _named(walk: HandWalk, bar: TimedBar) -> TimedBar:
    found: dict[TimedNote, dict[int | None, Stop]] = {}
    for hold in walk.holds(bar):
        for stop in hold.stops:
            if stop.finger and _is_open(stop.note):
                found.setdefault(stop.note, {})[stop.slur] = stop
    # The others have what they are found to have; a note is long to compare.
    notes = (_note(one, found.get(one, {})) if _is_open(one) else one for one in bar.notes)
    return evolve(bar, notes=tuple(notes))


def _note(note: TimedNote, stops: Mapping[int | None, Stop]) -> TimedNote:
    if not stops:
        return note
    slurs = tuple(
        evolve(slur, fretting=stops[at].finger) if at in stops else slur
        for at, slur in enumerate(note.slurs)
    )
    fretting = stops[None].finger if None in stops else note.fretting
    technique = note.technique
    if technique.trill is not None and len(note.slurs) in stops:
        trill = evolve(technique.trill, fretting=stops[len(note.slurs)].finger)
        technique = evolve(technique, trill=trill)
    return evolve(note, fretting=fretting, slurs=slurs, technique=technique)
