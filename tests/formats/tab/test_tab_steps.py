"""The teacher's steps at the end of a tab."""

from __future__ import annotations

import fretloom

LESSON = """\
lesson "Lamps on Kiln Lane"
  plays in E
  meter {meter}
  tempo {tempo}

voicings
  E     022100  fingers .231..
  A.low 002220  fingers ..123.
  A.bar 577655  fingers 134211

patterns
  step  {beats}

section verse using step "The verse"
  E x2 | A.low | A.bar

"""
STEPS = """\
step "The thumb <alone>"
  Count aloud.
  Then play.
  show pattern step over A.bar at 60
  show pattern step

step "Change"
  show voicing A.low
  show change E to A.low
  show bars 2-3 of verse from 60 to 90
  show bar 4 of verse
  show section verse at 66
  show form
"""


def steps(width: int = 78, steps: str = STEPS, meter: str = "4/4", tempo: str = "90") -> str:
    """Return what stands between the tab's order and its signs."""
    beats = "p , m , i , m" if meter == "4/4" else "p m i , p m i"
    lesson = fretloom.loads(LESSON.format(meter=meter, tempo=tempo, beats=beats) + steps)
    text = fretloom.export_tab(lesson, fretloom.TabOptions(width=width))
    return text.split("\nSteps\n")[-1].split("\nSigns\n")[0] if "\nSteps\n" in text else ""


def test_a_step_is_its_title_its_text_and_what_it_shows():
    """Names as students read them, tempos as one says them, the change of hands in words, the usual caution."""
    assert (
        steps()
        == """\
-----
Warm up first. Rest before the hand tires, stop if it hurts; ask a teacher or
clinician.

 1. The thumb <alone>
    Count aloud. Then play.
    -> Pattern step over A at fret 5, 60 quarter notes a minute
    -> Pattern step

 2. Change
    -> Shape A
    -> From E to A: 1, 2 and 3 move
    -> The verse, bars 2 to 3, from 60 up to 90 quarter notes a minute
    -> The verse, bar 4
    -> The verse, 66 quarter notes a minute
    -> The whole song
"""
    )


def test_a_tempo_is_said_in_the_notes_of_the_lesson():
    """A step counts quarter notes: 72 of them are 48 dotted ones (3/2)."""
    shown = steps(steps='step "Six"\n  show form from 72 to 99\n', meter="6/8", tempo="30 to 3/8")
    assert "-> The whole song, from 48 up to 66 dotted quarter notes a minute" in shown


def test_a_tempo_that_climbs_nowhere_is_one_tempo():
    """From 60 to 60 is 60."""
    assert "-> The whole song, 60 quarter" in steps(steps='step "One"\n  show form from 60 to 60\n')


def test_a_change_without_known_fingers_is_named_only():
    """No hand can hold the second shape, so nothing is said of fingers."""
    text = LESSON.format(meter="4/4", tempo="90", beats="p , m , i , m")
    text = text.replace("577655  fingers 134211", "1-19-1-19-1-19")
    lesson = fretloom.loads(text + 'step "Wide"\n  show change E to A.bar\n')
    tab = fretloom.export_tab(lesson, despite_errors=True)
    assert "-> From E to A at fret 1\n" in tab


def test_long_lines_are_broken_under_their_beginning():
    """Nothing is wider than the page."""
    lines = steps(width=40).splitlines()
    assert max(map(len, lines)) <= 40
    assert "    -> The verse, bars 2 to 3, from 60" in lines
    assert "       up to 90 quarter notes a minute" in lines


def test_a_lesson_without_steps_has_no_such_part():
    """Nor a heading for it."""
    assert steps(steps="") == ""
