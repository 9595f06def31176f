"""What is played, as JSON: complete, exact, in performing order, and as its schema says."""

from __future__ import annotations

import json
from fractions import Fraction
from importlib.resources import files
from typing import Any

from expanding import expand
from jsonschema import Draft202012Validator
from lesson_pool import LESSONS, Made

from fretloom.formats.music_json.document import to_music_json
from fretloom.notation.syntax.read import read
from fretloom.performance.events import Timeline
from fretloom.source import Source

SCHEMA = json.loads(
    (files("fretloom.formats.music_json") / "music.schema.json").read_text(encoding="utf-8")
)
SHUFFLE = """\
lesson "Kiln Lane Shuffle"
  capo 3
  plays in E
  sounds in G

voicings
  A   002220  fingers ..123.  bass 5 4 6 4
  B7  x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2

patterns
  plain  p , p m , p i , p m
  roll   (p i m a) , i3@0h2! , p6-4 , a1@12*

section verse using plain
  A | B7
section close using roll
  A

form
  verse x2
  close
"""


def music(text: str) -> dict[str, Any]:
    """Return the JSON of a lesson, checked against its schema (JSON Schema, draft 2020-12)."""
    return checked(expand(read(Source("shuffle.lesson", text))).timeline)


def checked(timeline: Timeline) -> dict[str, Any]:
    """Return the JSON of what is played, checked against its schema."""
    found: dict[str, Any] = json.loads(to_music_json(timeline))
    Draft202012Validator(SCHEMA).validate(found)
    return found


def test_the_head_says_instrument_keys_and_tempo() -> None:
    """Both keys, the tuning without capo, and the tempo in quarter notes a minute."""
    found = music(SHUFFLE)
    assert (found["plays_in"], found["sounds_in"], found["capo"]) == ("E", "G", {"fret": 3})
    assert found["tuning"]["pitches"] == ["E2", "A2", "D3", "G3", "B3", "E4"]


def test_a_bar_of_plain_picking_has_exact_onsets_strings_frets_and_pitches() -> None:
    """The worked example of the notation: B7 with the hop, capo at 3, sounding D3 F#3 D4 A2 C4 ..."""
    notes = [note for note in music(SHUFFLE)["notes"] if note["bar"] == 2]
    assert [(n["onset"], n["string"], n["fret"], n["finger"], n["midi"]) for n in notes] == [
        ("0", 5, 2, "p", 50),
        ("1", 4, 1, "p", 54),
        ("3/2", 2, 0, "m", 62),
        ("2", 6, 2, "p", 45),
        ("5/2", 3, 2, "i", 60),
        ("3", 4, 1, "p", 54),
        ("7/2", 2, 0, "m", 62),
    ]


def test_a_string_left_by_its_finger_stops_ringing() -> None:
    """The finger that hops from string 5 to string 6 ends the note on string 5."""
    first = next(note for note in music(SHUFFLE)["notes"] if note["bar"] == 2)
    assert first["ring"] == "2"


def test_rolled_notes_share_their_onset_in_the_order_of_the_roll() -> None:
    """`roll` and `gesture` show the gesture, not shifted onsets."""
    rolled = [note for note in music(SHUFFLE)["notes"] if note["bar"] == 5][:4]
    assert [(n["onset"], n["finger"], n["roll"]) for n in rolled] == [
        ("0", "p", 0),
        ("0", "i", 1),
        ("0", "m", 2),
        ("0", "a", 3),
    ]


def test_marks_and_slurs_stand_with_their_pluck() -> None:
    """Accent, hammer-on, brush and harmonic of the pattern `roll`."""
    notes = [note for note in music(SHUFFLE)["notes"] if note["bar"] == 5]
    hammered = next(note for note in notes if "then" in note)
    assert hammered["accent"] is True
    assert [(one["kind"], one["onset"], one["fret"]) for one in hammered["then"]] == [
        ("hammer-on", "3/2", 2)
    ]
    assert [note["string"] for note in notes if note.get("brush") == "up"] == [6, 5, 4]
    assert [note["fret"] for note in notes if note.get("harmonic")] == [12]


def test_each_note_says_where_its_pluck_and_its_bar_are_written() -> None:
    """Line and column count from 1."""
    found = music(SHUFFLE)["notes"]
    assert found[0]["plucked_at"] == {"file": "shuffle.lesson", "line": 11, "column": 10}
    assert found[0]["bar_at"] == {"file": "shuffle.lesson", "line": 15, "column": 3}


def test_bars_say_which_playing_they_belong_to() -> None:
    """`verse x2` is one entry with two playings."""
    bars = music(SHUFFLE)["bars"]
    assert [(bar["bar"], bar["entry"], bar["playing"], bar["written"]) for bar in bars] == [
        (1, 1, 1, 1),
        (2, 1, 1, 2),
        (3, 1, 2, 1),
        (4, 1, 2, 2),
        (5, 2, 1, 1),
    ]


@LESSONS.law(most=60)
def test_every_generated_lesson_gives_notes_in_order_inside_their_bars(made: Made) -> None:
    """Notes come bar by bar, never before the one before them, and start inside the bar."""
    found = checked(made.timeline)
    lengths = {bar["bar"]: Fraction(bar["length"]) for bar in found["bars"]}
    places = [(note["bar"], Fraction(note["onset"])) for note in found["notes"]]
    assert places == sorted(places)
    assert all(0 <= onset < lengths[bar] for bar, onset in places)


def test_the_second_strings_of_courses_are_there() -> None:
    """A twelve-string guitar: octaves on strings 6 to 3, unisons on 2 and 1 (common practice, no source)."""
    found = music(SHUFFLE.replace("\n  capo 3", "\n  tuning 12-string\n  capo 3"))
    assert found["tuning"]["doubles"] == ["E3", "A3", "D4", "G4", "B3", "E4"]
    assert "doubles" not in music(SHUFFLE)["tuning"]
