"""What is heard as JSON, by its schema and by hand."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

from jsonschema import Draft202012Validator
from lesson_pool import LESSONS, Made
from reading_through import reading_of
from timeline_lessons import HEAD

from fretloom.formats.sound.playback_json.document import to_playback_json, write
from fretloom.formats.sound.playback_json.options import PlaybackOptions
from fretloom.performance.playback.play import play
from fretloom.report.documents import schema


def document(body: str, *fields: str, **options: Any) -> dict[str, Any]:
    head = HEAD.format(fields="".join(f"  {one}\n" for one in fields))
    (output,) = write(reading_of(head + body), PlaybackOptions(**options))
    assert output.name == "weir.playback.json"
    found: dict[str, Any] = json.loads(output.text)
    return found


def test_bars_and_strings_in_seconds():
    found = document(
        "section verse\n  E { p, m2@3h5, -, slap }\n", "tempo 96", "capo 2", count_in=True
    )
    assert found["seconds"] == 5
    assert [bar["kind"] for bar in found["bars"]] == ["count-in", "full"]
    assert found["bars"][1] == {
        "kind": "full", "number": 1, "section": "verse", "place": 1, "at": "4", "start": 2.5,
        "end": 5, "counts": [[2.5, 0], [3.125, 2], [3.75, 2], [4.375, 2]],
    }  # fmt: skip
    low, high = found["sounds"]
    assert low == {
        "bar": 2, "string": 6, "fret": 0, "finger": "p", "midi": 42, "at": "4", "start": 2.5,
        "end": 4.375, "loudness": 86, "ends": "damped",
    }  # fmt: skip
    assert high["moves"] == [
        {"kind": "hammer-on", "start": 3.4375, "end": 3.4375, "fret": 5, "midi": 66}
    ]
    assert found["slaps"] == [
        {"bar": 2, "at": "7", "start": 4.375, "place": "strings", "loudness": 80}
    ]


def test_signs_that_are_heard_are_named():
    found = document("section verse\n  E { px, i3@12*, m2@3.vibrato, m2@3.prebend-half }\n")
    dead, harmonic, shaken, bent = found["sounds"]
    assert dead["dead"] and harmonic["harmonic"] and shaken["vibrato"]
    assert "dead" not in shaken and "mate" not in shaken
    assert bent["midi"] == 63


def test_tempos_are_exact_where_they_begin():
    found = document("section verse using plain\n  E\n  tempo 120\n  E\n", "tempo 60")
    assert found["tempos"] == [
        {"at": "0", "second": 0, "quarters_per_minute": "60"},
        {"at": "4", "second": 4, "quarters_per_minute": "120"},
    ]


@LESSONS.law(most=40)
def test_whatever_is_written_fits_the_schema(made: Made) -> None:
    timeline = made.timeline
    playback = play(timeline.bars, timeline.settings)
    found = json.loads(to_playback_json(playback, timeline.settings.title))
    Draft202012Validator(schema("playback")).validate(found)
    assert len(found["sounds"]) == len(playback.sounds)
    for line, sound in zip(found["sounds"], playback.sounds, strict=True):
        assert Fraction(line["at"]) == sound.at
        assert abs(line["start"] - float(playback.clock.seconds(sound.at))) < 1e-6
