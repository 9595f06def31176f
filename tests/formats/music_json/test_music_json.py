"""What is played, as JSON: complete, exact, in performing order, and as its schema says."""

from __future__ import annotations

import json
from fractions import Fraction
from importlib.resources import files
from typing import Any

import pytest
from attrs import fields as fields_of
from expanding import expand
from jsonschema import Draft202012Validator
from lesson_pool import LESSONS, Made

from fretloom.formats.music_json.document import to_music_json
from fretloom.notation.model.details.technique import Bend
from fretloom.notation.syntax.read import read
from fretloom.performance.events import Timeline
from fretloom.performance.manner import (
    Manner,
    NoteTechnique,
    Sung,
    SungSyllable,
    TimedSlap,
    TrilledNote,
)
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


TECHNIQUES = """\
lesson "Kiln Lane Slow Air"
  tempo 90

voicings
  Am  x02210  fingers ..231.

patterns
  plain  p , p m , p i , p m

section verse using plain
  {notes}
"""


def first_note(pluck: str) -> dict[str, Any]:
    """Return the fields of a pluck that a plain one does not have, the places apart."""
    usual = {"bar", "onset", "string", "fret", "finger", "midi", "length", "ring", "fretting"}
    usual |= {"plucked_at", "bar_at"}
    note = music(TECHNIQUES.replace("{notes}", f"Am {{ {pluck} , - , - , - }}"))["notes"][0]
    return {name: value for name, value in note.items() if name not in usual}


@pytest.mark.parametrize(
    ("pluck", "fields"),
    [
        ("m2@3", {}),
        ("m2@3.to-3", {"held": "2"}),
        ("m2@3.for-3/2", {"held": "3/2"}),
        ("m2@3.ring", {"lasting": "ring"}),
        ("m2@3.damped", {"lasting": "damped"}),
        ("m2@3.bend-quarter", {"bend": {"semitones": "1/2"}}),
        ("m2@3.bend-full-release", {"bend": {"semitones": "2", "release": True}}),
        ("m2@3.prebend-half", {"bend": {"semitones": "1", "before": True}}),
        ("m2@3.vibrato", {"vibrato": True}),
        ("m2@3.trill-5:4", {"trill": {"fret": 5, "midi": 64, "fretting": "4"}}),
        ("m2@3.trill-0", {"trill": {"fret": 0, "midi": 59}}),
        ("m2@3.ghost", {"ghost": True}),
        ("m2@3.harmonic-15", {"touch": 15}),
    ],
)
def test_the_words_behind_a_pluck_are_fields_of_its_note(
    pluck: str, fields: dict[str, Any]
) -> None:
    """String 2 is B3, MIDI 59; a held note's length counts from its onset."""
    assert first_note(pluck) == fields


def test_grace_notes_are_told_apart_from_the_note_they_lead_to() -> None:
    """They share its onset; their own length, half of the place at most, stands beside them."""
    fields = first_note("m2@1h3.grace-before")
    assert (fields["grace"], fields["grace_length"]) == ("before", "1/8")
    assert [(one["onset"], one["fret"]) for one in fields["then"]] == [("0", 3)]


def test_an_artificial_harmonic_has_the_number_that_sounds() -> None:
    """Touched 12 frets above the stopped one it sounds an octave higher (the harmonic series)."""
    note = music(TECHNIQUES.replace("{notes}", "Am { m2@3.harmonic-15 , - , - , - }"))["notes"][0]
    assert (note["fret"], note["touch"], note["midi"]) == (3, 15, 59 + 3 + 12)


def test_a_slow_roll_and_slaps_are_told() -> None:
    """On the strings is the usual place of a slap and left out; the roll's notes say that they are slow."""
    found = music(TECHNIQUES.replace("{notes}", "Am { (slow p i m) , slap , body-slap! , p }"))
    slaps = [{k: v for k, v in one.items() if k != "at"} for one in found["bars"][0]["slaps"]]
    assert slaps == [
        {"onset": "1", "length": "1"},
        {"onset": "2", "length": "1", "place": "body", "accent": True},
    ]
    assert [note.get("slow") for note in found["notes"]] == [True, True, True, None]


def test_bars_say_how_fast_and_how_loud_they_are() -> None:
    """90 to 60 over two bars is 75 in the middle; a degree stays in force."""
    lines = (
        "dynamic p\n  crescendo to f over 2 bars\n  ritardando to 60 over 2 bars\n  Am | Am | Am"
    )
    lines += "\n  free time\n  Am fermata on 3"
    names = (
        "tempo",
        "tempo_change",
        "tempo_to",
        "dynamic",
        "swell",
        "dynamic_to",
        "free",
        "fermata",
    )
    bars = music(TECHNIQUES.replace("{notes}", lines))["bars"]
    assert [{name: bar[name] for name in names if name in bar} for bar in bars] == [
        {
            "tempo": "90",
            "tempo_change": "ritardando",
            "tempo_to": "75",
            "dynamic": "p",
            "swell": "crescendo",
        },
        {
            "tempo": "75",
            "tempo_change": "ritardando",
            "tempo_to": "60",
            "dynamic": "p",
            "swell": "crescendo",
            "dynamic_to": "f",
        },
        {"tempo": "60", "dynamic": "f"},
        {"tempo": "60", "dynamic": "f", "free": True, "fermata": "2"},
    ]


def test_bars_say_their_number_in_the_section() -> None:
    """A bar that the form puts in has that of the bar it stands for; a pickup has none."""
    lines = "pickup 1: Am { p }\n  Am | Am\n\nform\n  verse\n    but bar 2: Am\n"
    bars = music(TECHNIQUES.replace("{notes}", lines))["bars"]
    assert [(bar.get("place"), bar.get("written")) for bar in bars] == [
        (None, 1),
        (1, 2),
        (2, None),
    ]


def test_bars_have_the_words_that_are_sung_this_time() -> None:
    """Those of the second time the second time; syllables only where their counts are written."""
    lines = 'Am | Am\n  words 1: "Lamps are lit" on 1 2& 3 | "a-long"\n  words 2: "Rain"'
    lines += "\n\nform\n  verse x2"
    bars = music(TECHNIQUES.replace("{notes}", lines))["bars"]
    assert [bar.get("sung") for bar in bars] == [
        {
            "text": "Lamps are lit",
            "syllables": [
                {"onset": "0", "text": "Lamps"},
                {"onset": "3/2", "text": "are"},
                {"onset": "2", "text": "lit"},
            ],
            "verse": 1,
        },
        {"text": "a-long", "verse": 1},
        {"text": "Rain", "verse": 2},
        None,
    ]


@pytest.mark.parametrize(
    ("made_of", "thing", "elsewhere"),
    [
        (NoteTechnique, "note", set()),
        (Manner, "bar", set()),
        (TimedSlap, "slap", {"span"}),
        (Sung, "sung", {"span"}),
        (SungSyllable, "syllable", set()),
        (Bend, "bend", set()),
        (TrilledNote, "trill", set()),
    ],
)
def test_nothing_that_is_asked_of_notes_and_bars_is_left_out(
    made_of: type, thing: str, elsewhere: set[str]
) -> None:
    """Every field of the value has a field of its name; `span` is `at`."""
    names = {field.name for field in fields_of(made_of)}
    assert names - elsewhere <= set(SCHEMA["$defs"][thing]["properties"])
