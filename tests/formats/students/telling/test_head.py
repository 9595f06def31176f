"""What stands at the head of a student's page."""

from __future__ import annotations

import pytest
from reading_through import reading_of

from fretloom.formats.students.telling.head import head_of


def _head(lines: str):
    text = 'lesson "Kiln Lane"\n' + "".join(f"  {line}\n" for line in lines.split("; "))
    return head_of(reading_of(text).timeline.settings)


def _facts(lines: str) -> dict[str, str]:
    return {fact.label: fact.value for fact in _head(lines).facts}


def test_both_keys_stand_there_with_a_capo():
    facts = _facts("capo 3; plays in E; sounds in G; tempo 96")
    assert facts == {
        "Capo": "fret 3",
        "Hands play in": "E",
        "It sounds in": "G",
        "Tuning": "standard, E A D G B E",
        "Beats in a bar": "4",
        "Tempo": "♩ = 96",
    }


def test_one_key_is_said_once():
    facts = _facts("plays in Bb; sounds in Bb")
    assert facts["Key"] == "B♭"
    assert facts["Capo"] == "none"
    assert "Hands play in" not in facts


def test_a_capo_on_some_strings_names_them():
    assert _facts("capo 2 on 5 4 3")["Capo"] == "fret 2, strings 5, 4 and 3 only"


@pytest.mark.parametrize(
    ("meter", "said"),
    [("3/4", "3"), ("6/8", "2 (6/8)"), ("2+2+3/8", "3 (2+2+3/8)"), ("2/2", "2 (2/2)")],
)
def test_beats_are_counted_and_other_meters_named(meter: str, said: str):
    assert _facts(f"meter {meter}")["Beats in a bar"] == said


def test_a_tempo_is_shown_by_its_note_and_said_in_words():
    (fact,) = [one for one in _head("meter 6/8; tempo 66 to 3/8").facts if one.label == "Tempo"]
    assert fact.value == "♩. = 66"
    assert fact.spoken == "66 dotted quarter notes a minute"


def test_another_tuning_says_how_to_get_there():
    head = _head("tuning open D minor")
    assert head.retuning[1] == "Tune string 3 down 2 half steps, to F3."
    assert len(head.retuning) == 4
    assert _facts("tuning half step down")["Tuning"].endswith("E♭ A♭ D♭ G♭ B♭ E♭")


def test_swing_is_said_and_straight_is_not():
    assert _facts("swing 3:2")["Swing"] == "3 to 2: long, short"
    assert "Swing" not in _facts("swing 1:1")


def test_a_lesson_without_a_title_has_one():
    assert head_of(reading_of("section a\n  C\n").timeline.settings).title == "Lesson"
