"""What is played, as JSON: every bar and every note in performing order.

The format is called `fretloom-music`; `music.schema.json` beside this module describes version 1,
and the reference page of the documentation explains it. Times are quarter notes as exact fractions
in text (`"3/2"`, `"0"`). Empty fields are left out. Each bar and each note has a
line of its own, so that two versions of a lesson can be compared line by line.
"""

from __future__ import annotations

import json
from collections.abc import Iterator

from fretloom.formats.beside import beside_the_music
from fretloom.formats.music_json.fields import filled, place
from fretloom.formats.music_json.manner import (
    manner_fields,
    slapped,
    sung_words,
    technique_fields,
)
from fretloom.formats.music_json.options import MusicJsonOptions
from fretloom.formats.shape import Output, file_name
from fretloom.memory import no_collection
from fretloom.performance.events import (
    PlayedBar,
    Settings,
    SlurredNote,
    TimedBar,
    TimedNote,
    TimedVoicing,
    Timeline,
)
from fretloom.performance.reading import Reading
from fretloom.text import for_machines

FORMAT = "fretloom-music"
VERSION = 1


def write(reading: Reading, _: MusicJsonOptions) -> tuple[Output, ...]:
    """Write what is played as JSON; what a lesson holds beside the music is left out."""
    with no_collection():
        text = to_music_json(reading.timeline)
    left = tuple(beside_the_music(reading, "what is played"))
    return (Output(file_name(reading.lesson, ".json"), text, left),)


def to_music_json(timeline: Timeline) -> str:
    """Write what is played as JSON."""
    fields = [
        f' "{name}": {_dumped(value)}'
        for name, value in _head(timeline.settings).items()
        if value not in ("", None)
    ]
    bars = (_dumped(_bar(played)) for played in timeline.bars)
    lists = {"bars": bars, "notes": _notes(timeline)}
    fields += [f' "{name}": {_listed(lines)}' for name, lines in lists.items()]
    return "{\n" + ",\n".join(fields) + "\n}\n"


def _dumped(value: object) -> str:
    return for_machines(json.dumps(value, ensure_ascii=False))


def _listed(lines: Iterator[str]) -> str:
    joined = ",\n  ".join(lines)
    return f"[\n  {joined}\n ]" if joined else "[]"


def _head(settings: Settings) -> dict[str, object]:
    tuning, capo = settings.tuning, settings.capo
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": settings.title,
        "by": settings.by,
        "rights": settings.rights,
        "tuning": filled(
            {
                "name": tuning.name,
                "pitches": [str(one) for one in tuning.pitches],
                "doubles": [None if one is None else str(one) for one in tuning.doubles],
            }
        ),
        "capo": filled({"fret": capo.fret, "strings": list(capo.strings)}) or None,
        "plays_in": str(settings.plays) if settings.plays else None,
        "sounds_in": str(settings.sounds) if settings.sounds else None,
        "meter": str(settings.meter),
        "tempo": str(settings.tempo.quarters_per_minute),
        "swing": list(settings.swing) if settings.swing else None,
    }


def _bar(played: PlayedBar) -> dict[str, object]:
    bar = played.bar
    where = {
        "bar": played.index,
        "number": played.number,
        "section": played.section,
        "entry": played.entry,
        "playing": played.playing,
        "written": played.written,
        "place": played.place or None,
        "tempo": str(played.tempo.quarters_per_minute),
    }
    sung = {"sung": sung_words(played.sung)}
    return filled(where | manner_fields(played.manner) | _content(bar) | sung)


def _content(bar: TimedBar) -> dict[str, object]:
    return {
        "meter": str(bar.meter),
        "length": str(bar.length),
        "start": str(bar.start) if bar.start else None,
        "kind": bar.kind if bar.kind != "full" else None,
        "voicings": [_voicing(timed) for timed in bar.voicings],
        "rest": bar.rest,
        "cue": bar.cue,
        "pattern": bar.pattern,
        "release": None if bar.release is None else str(bar.release),
        "stop": None if bar.stop is None else str(bar.stop),
        "slaps": [slapped(slap) for slap in bar.slaps],
        "fermata": None if bar.fermata is None else str(bar.fermata),
        "at": place(bar.span),
    }


def _voicing(timed: TimedVoicing) -> dict[str, object]:
    voicing = timed.voicing
    return filled(
        {
            "onset": str(timed.onset),
            "name": voicing.name,
            "symbol": voicing.symbol,
            "frets": voicing.frets_text,
            "fingers": voicing.fingers_text,
            "early": timed.early,
        }
    )


def _notes(timeline: Timeline) -> Iterator[str]:
    """Yield each note as a line; the notes of a shared bar are only worked out once."""
    known: dict[int, list[str]] = {}
    for played in timeline.bars:
        lines = known.get(played.bar.serial)
        if lines is None:
            lines = [_dumped(_note(note))[1:] for note in played.bar.notes]
            known[played.bar.serial] = lines
        for line in lines:
            yield f'{{"bar": {played.index}, {line}'


def _note(note: TimedNote) -> dict[str, object]:
    needed = {
        "onset": str(note.onset),
        "string": note.string,
        "fret": note.fret,
        "finger": note.finger,
        "midi": note.midi,
        "length": str(note.length),
        "ring": str(note.ring),
    }
    more = {
        "fretting": note.fretting,
        "accent": note.accent,
        "harmonic": note.harmonic,
        "dead": note.dead,
        "roll": note.order,
        "gesture": note.gesture,
        "brush": {1: "up", -1: "down"}.get(note.brush),
        "muted": note.muted,
        "then": [_slurred(slurred) for slurred in note.slurs],
        "plucked_at": place(note.pluck_span),
        "bar_at": place(note.bar_span),
    }
    return needed | filled(more | technique_fields(note.technique))


def _slurred(note: SlurredNote) -> dict[str, object]:
    fields = {
        "kind": note.kind,
        "onset": str(note.onset),
        "fret": note.fret,
        "midi": note.midi,
    }
    return fields | filled({"fretting": note.fretting})
