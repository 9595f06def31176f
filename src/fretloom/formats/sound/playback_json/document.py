"""What is heard, as JSON: bars, tempos, and every string from its pluck to its end, in seconds.

The format is called `fretloom-playback`; `playback.schema.json` beside this module describes version 1, and the
reference page of the documentation explains it. Seconds are numbers with six decimals at most; positions are quarter
notes as exact fractions in text. Empty fields are left out. Each bar and each string has a line of its own.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction

from fretloom.formats.beside import beside_the_music
from fretloom.formats.shape import Output, file_name
from fretloom.formats.sound.choice import chosen_playback
from fretloom.formats.sound.playback_json.options import PlaybackOptions
from fretloom.memory import no_collection
from fretloom.performance.playback.sounds import (
    BarTime,
    FretMove,
    Playback,
    SlapSound,
    StringSound,
)
from fretloom.performance.reading import Reading
from fretloom.text import for_machines

FORMAT = "fretloom-playback"
VERSION = 1


def write(reading: Reading, options: PlaybackOptions) -> tuple[Output, ...]:
    """Write what is heard as JSON.

    Raises:
        FretloomError: the lesson does not have what was chosen.
    """
    with no_collection():
        text = to_playback_json(chosen_playback(reading, options), reading.timeline.settings.title)
    left = tuple(beside_the_music(reading, "what is heard"))
    return (Output(file_name(reading.lesson, ".playback.json"), text, left),)


def to_playback_json(playback: Playback, title: str) -> str:
    """Write what is heard as JSON."""
    fields = [
        f' "format": {_dumped(FORMAT)}',
        f' "version": {VERSION}',
        f' "title": {_dumped(title)}',
        f' "seconds": {_number(playback.seconds)}',
    ]
    lists = {
        "tempos": map(_dumped, _tempos(playback)),
        "bars": (_dumped(_bar(bar, playback)) for bar in playback.bars),
        "sounds": (_dumped(_sound(one, playback)) for one in playback.sounds),
        "slaps": (_dumped(_slap(one, playback)) for one in playback.slaps),
    }
    fields += [f' "{name}": {_listed(lines)}' for name, lines in lists.items()]
    return "{\n" + ",\n".join(fields) + "\n}\n"


def _dumped(value: object) -> str:
    return for_machines(json.dumps(value, ensure_ascii=False))


def _listed(lines: Iterator[str]) -> str:
    joined = ",\n  ".join(lines)
    return f"[\n  {joined}\n ]" if joined else "[]"


def _number(value: Fraction) -> int | float:
    """Return a number with six decimals at most, whole ones without any."""
    rounded = round(value, 6)
    return int(rounded) if rounded.denominator == 1 else float(rounded)


def _tempos(playback: Playback) -> Iterator[dict[str, object]]:
    for span in playback.clock.spans:
        yield {
            "at": str(span.start),
            "second": _number(span.seconds),
            "quarters_per_minute": str(span.quarters),
        }


def _bar(bar: BarTime, playback: Playback) -> dict[str, object]:
    second = playback.clock.seconds
    counts = [[_number(second(at)), strong] for at, strong in bar.counts]
    times = {
        "at": str(bar.start),
        "start": _number(second(bar.start)),
        "end": _number(second(bar.end)),
    }
    if bar.played is None:
        return {"kind": "count-in", **times, "counts": counts}
    played = bar.played
    where = {"number": played.number, "section": played.section, "place": played.place}
    if bar.answer:
        times["answer"] = True
    return {"kind": played.bar.kind, **where, **times, "counts": counts}


def _sound(one: StringSound, playback: Playback) -> dict[str, object]:
    second, note = playback.clock.seconds, one.note
    fields: dict[str, object] = {
        "bar": one.bar + 1,
        "string": one.string,
        "fret": note.fret,
        "finger": note.finger,
        "midi": _number(one.midi),
        "at": str(one.at),
        "start": _number(second(one.at)),
        "end": _number(second(one.until)),
        "loudness": one.loudness,
        "ends": one.ends,
    }
    more = {
        "mate": one.mate,
        "dead": note.dead,
        "harmonic": note.harmonic or note.technique.touch is not None,
        "vibrato": note.technique.vibrato,
    }
    fields |= {name: True for name, there in more.items() if there}
    if one.moves:
        fields["moves"] = [_move(move, playback) for move in one.moves]
    return fields


def _move(move: FretMove, playback: Playback) -> dict[str, object]:
    second = playback.clock.seconds
    return {
        "kind": move.kind,
        "start": _number(second(move.at)),
        "end": _number(second(move.until)),
        "fret": move.fret,
        "midi": _number(move.midi),
    }


def _slap(one: SlapSound, playback: Playback) -> dict[str, object]:
    return {
        "bar": one.bar + 1,
        "at": str(one.at),
        "start": _number(playback.clock.seconds(one.at)),
        "place": one.slap.place,
        "loudness": one.loudness,
    }
