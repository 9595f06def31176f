"""The teacher's script: its scenes in order, each thing said once, and the minutes right."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from lesson_pool import LESSONS, Made
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api import examine, load
from fretloom.characters import nothing_hidden
from fretloom.formats.students.script.options import ScriptOptions
from fretloom.formats.students.script.page import write
from fretloom.formats.students.script.scene import PlayedThing, Scene, time_words
from fretloom.formats.students.script.scenes import scenes
from fretloom.formats.students.telling.listener import listener_of
from fretloom.formats.students.words.teller import Teller
from fretloom.notation.model.step import Prose
from fretloom.performance.reading import Reading, read_through

HEAD = """lesson "Weir"
  plays in E
  tempo 60
voicings
  E  022100  fingers .231..  bass 6 4 5 4
  A  002220  fingers ..123.  bass 5 4 6 4
  F  133211  fingers 134211  bass 6 4 5 4
patterns
  plain  p , p m , p i , p m
  other "Other way"  p , i , m , i
"""


def made(body: str) -> dict[str, Scene]:
    return of(reading_of(HEAD + body))


def of(reading: Reading) -> dict[str, Scene]:
    """Return the scenes of a lesson by their titles."""
    teller = Teller(reading, listener_of(reading.timeline.settings))
    found = list(scenes(teller))
    return {one.title: one for one in found}


def test_scenes_in_order():
    """Patterns stand before the section that has them first; a playing as before has no scene."""
    body = (
        "section verse using plain\n  E | A\nsection bridge using other\n  F | E\n"
        "form\n  verse\n  bridge\n  verse\n  verse\n    but last bar: E x2\n"
    )
    assert list(made(body)) == [
        *(
            "Play it through",
            "Get ready",
            "The picking: Plain",
            "Verse",
            "The picking: Other way",
            "Bridge",
        ),
        *("Verse 3: what is new", "The way through", "The ending", "Play it together"),
    ]


def test_a_song_that_is_one_section_needs_no_road():
    assert list(made("section verse using plain\n  E | A\n")) == [
        *("Play it through", "Get ready", "The picking: Plain", "Verse", "Play it together"),
    ]


def test_a_lesson_without_bars():
    assert list(made("")) == ["Play it through", "Get ready"]
    assert made("")["Play it through"].plays == ()


def test_shapes_and_changes_are_said_where_they_come_first():
    body = "section verse using plain\n  E | A | E | A\nsection bridge using plain\n  E | F | E\n"
    found = made(body)
    verse, bridge = found["Verse"], found["Bridge"]
    assert [re.split(r"[.:] ", one)[0] for one in verse.says] == [
        *(
            "Verse has 4 bars.",
            "E",
            "A",
            "From E to A",
            "From A to E",
            "Bar 1",
            "Bar 2",
            "Bar 3",
            "Bar 4",
        ),
    ]
    assert [re.split(r"[.:] ", one)[0] for one in bridge.says][:4] == [
        *("Bridge has 3 bars.", "F", "From E to F", "From F to E"),
    ]
    assert (
        bridge.screen == "The fretting hand from close by, the diagram of F, and the tab of Bridge"
    )


def test_bars_in_another_place_than_before_are_new_once():
    body = (
        "section verse using plain\n  E | A | F | A\nform\n  verse\n  verse\n    but without bars 1-2\n"
        "  verse\n    but without bars 1-2\n"
    )
    found = made(body)
    assert found["Verse 2: what is new"].says == ("Bars 1 and 2: as bars 3 and 4 of Verse 1.",)
    assert "Verse 3: what is new" not in found


def test_only_what_is_new_is_said_of_a_later_playing():
    body = "section verse using plain\n  E | A | E | A\nform\n  verse\n  verse\n    but last bar: E x2\n"
    scene = made(body)["Verse 2: what is new"]
    assert scene.says == ("Bars 4 and 5: E.",)
    assert scene.plays == (
        PlayedThing("Verse 2, bars 4 and 5, at 60 quarter notes a minute", Fraction(8)),
    )


def test_the_ending_is_that_of_the_last_playing():
    body = "section verse using plain\n  E | A | E | F | A { p, -, -, - } fermata on 1\nform\n  verse x2\n"
    scene = made(body)["The ending"]
    assert scene.says == (
        "The song ends with Verse 2.",
        "Bar 5: A, with a picking of its own, wait on count 1. 1: thumb string 5.",
    )


def test_playing_takes_as_long_as_the_bars():
    """Reckoned by hand: 4 bars of four quarters at 60 are 16 seconds, at 40 they are 24."""
    body = 'section verse using plain\n  E | A | E | A\nstep "Go"\n  show section verse from 40 to 60\n'
    found = made(body)
    assert found["Play it through"].plays[0].seconds == 16
    plays = {one.text: one.seconds for one in found["Verse"].plays}
    assert plays["Verse at 40 quarter notes a minute"] == 24
    assert plays["Verse at 60 quarter notes a minute"] == 16
    assert plays["The strings of E and A one by one"] == 12
    assert plays["E to A, three times, at 40 quarter notes a minute"] == 18


def test_a_pattern_is_played_slowly_and_then_as_in_the_song():
    body = 'section verse using plain\n  E | A\nstep "Go"\n  show pattern plain over E at 48\n'
    [played] = made(body)["The picking: Plain"].plays
    assert (
        played.text
        == "Plain over E, four times at 48 quarter notes a minute, and four times at 60 quarter notes a minute"
    )
    assert played.seconds == 4 * 5 + 4 * 4


def test_a_start_above_the_goal_is_no_slower_way():
    body = 'section verse using plain\n  E | A\nstep "Go"\n  show pattern plain over E at 90\n'
    [played] = made(body)["The picking: Plain"].plays
    assert played == PlayedThing(
        "Plain over E, four times at 60 quarter notes a minute", Fraction(16)
    )


def test_tempo_changes_of_the_song_count():
    body = "section verse using plain\n  E\n  tempo 120\n  A\n"
    assert made(body)["Play it through"].plays[0].seconds == 4 + 2


def test_speaking_goes_by_words():
    scene = Scene(title="A", screen="b", says=("one two three", "four"))
    assert scene.speaking(120) == 2
    assert scene.playing == 0


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (Fraction(1), "10 seconds"),
        (Fraction(10), "10 seconds"),
        (Fraction(101, 10), "20 seconds"),
        (Fraction(60), "1 minute"),
        (Fraction(61), "1 minute 10 seconds"),
        (Fraction(130), "2 minutes 10 seconds"),
    ],
)
def test_times_are_rounded_up_to_ten_seconds(seconds: Fraction, words: str) -> None:
    assert time_words(seconds) == words


def test_the_keys_and_the_capo():
    def says(head: str) -> tuple[str, ...]:
        text = HEAD.replace("  plays in E\n", head) + "section verse using plain\n  E\n"
        return of(reading_of(text))["Play it through"].says

    assert "It is in E." in says("  plays in E\n")
    assert "The hands play in E; with the capo at fret 3 it sounds in G." in says(
        "  capo 3\n  plays in E\n"
    )
    assert says('  by "The ferry"\n  plays in E\n')[0] == "This is Weir, by The ferry."


def test_the_teachers_own_words_stand_where_they_belong():
    body = (
        "section verse using plain\n  E | A\n"
        'step "a"\n  Of the pattern.\n  show pattern plain over E\n'
        'step "b"\n  Of the shape.\n  show voicing A\n'
        'step "c"\n  Of the change.\n  show change E to A\n'
        'step "d"\n  Of the bars.\n  show bar 1 of verse\n'
        'step "e"\n  Of the song.\n  show form\n'
        'step "f"\n  Of nothing.\n'
    )
    found = made(body)
    assert found["The picking: Plain"].says[0] == "Of the pattern."
    verse = found["Verse"].says
    assert verse[1] == "Of the bars."
    assert verse[verse.index("Of the shape.") + 1].startswith("A. ")
    assert verse[verse.index("Of the change.") + 1].startswith("From E to A. ")
    assert found["Play it together"].says[0] == "Of the song."
    assert "Of nothing." in found["Get ready"].says


def test_the_page():
    """Its minutes are those of the scenes; at another rate speaking takes longer."""
    reading = examine(load(EXAMPLES / "kiln-lane-shuffle.lesson")).reading
    [output] = write(reading, ScriptOptions())
    assert output.name == "kiln-lane-shuffle.script.md"
    found = of(reading)
    whole = sum(one.speaking(140) + one.playing for one in found.values())
    said = re.search(
        r"About (\d+) minutes: (\d+) minutes of speaking and (\d+) minutes", output.text
    )
    assert said is not None
    minutes, speaking, playing = map(int, said.groups())
    assert minutes == -(-whole // 60)
    assert speaking + playing == minutes
    [slow] = write(reading, ScriptOptions(rate=70))
    assert (
        f"{2 * speaking - 1} minutes of speaking" in slow.text
        or f"{2 * speaking} minutes of speaking" in slow.text
    )
    assert len(re.findall(r"^## \d+: ", output.text, re.MULTILINE)) == len(found)


@LESSONS.law(most=60)
def test_any_lesson_has_a_script(made: Made) -> None:
    """Every shape and every text of a step comes once; playing is no shorter than the song."""
    reading = read_through(made.read)
    [output] = write(reading, ScriptOptions(strings="names", finger_words="figures"))
    assert output.text.count("\n## ") >= 2
    teller = Teller(reading, listener_of(reading.timeline.settings))
    found = list(scenes(teller))
    said = [text for one in found for text in one.says]
    if not reading.timeline.bars:
        return
    prose = [
        line.text
        for step in reading.material.steps
        for line in step.lines
        if isinstance(line, Prose)
    ]
    assert all(any(nothing_hidden(text)[:12] in one for one in said) for text in prose)
    shapes = [f"{teller.names[one.voicing.name]}. " for one in teller.shapes]
    assert all(sum(text.startswith(one) for text in said) >= 1 for one in shapes)
    assert sum(one.playing for one in found) >= found[0].playing > 0


def test_no_change_is_shown_faster_than_it_is_played():
    body = 'section verse using plain\n  E | A\nstep "Go"\n  show section verse from 90 to 120\n'
    plays = [one.text for one in made(body)["Verse"].plays]
    assert "E to A, three times, at 60 quarter notes a minute" in plays
    assert "Verse at 60 quarter notes a minute" in plays
