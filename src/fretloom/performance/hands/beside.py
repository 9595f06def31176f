"""The fingers of notes beside the voicings, named in the performance itself, for every output."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from attrs import evolve

from fretloom.performance.events import TimedBar, TimedNote, Timeline
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings

if TYPE_CHECKING:
    from fretloom.performance.hands.holds import HandWalk, Stop


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
    return evolve(
        timeline,
        bars=tuple(evolve(one, bar=named[one.bar.serial]) for one in timeline.bars),
        sections=tuple(
            evolve(
                section,
                bars=tuple(evolve(one, bar=named[one.bar.serial]) for one in section.bars),
            )
            for section in timeline.sections
        ),
    )


def _leaves_open(bar: TimedBar) -> bool:
    return any(
        (note.fret and not note.fretting)
        or any(slur.fret and not slur.fretting for slur in note.slurs)
        or (note.technique.trill and not note.technique.trill.fretting)
        for note in bar.notes
        if not note.harmonic
    )


def _named(walk: HandWalk, bar: TimedBar) -> TimedBar:
    found: dict[TimedNote, dict[int | None, Stop]] = {}
    for hold in walk.holds(bar):
        for stop in hold.stops:
            if stop.finger:
                found.setdefault(stop.note, {})[stop.slur] = stop
    return evolve(bar, notes=tuple(_note(note, found.get(note, {})) for note in bar.notes))


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
