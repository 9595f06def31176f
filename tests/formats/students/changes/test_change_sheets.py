"""The changes of a song as a format."""

from __future__ import annotations

import pytest
from lesson_pool import LESSONS, Made
from lxml import etree

from fretloom.api import examine, export, loads
from fretloom.errors import FretloomError
from fretloom.formats.students.changes.options import ChangeOptions
from fretloom.formats.students.changes.sheet import write
from fretloom.performance.hands.hardest import hands
from fretloom.performance.reading import read_through
from fretloom.performance.showing.change_use import used_changes

SVG = "{http://www.w3.org/2000/svg}"
LESSON = """\
lesson "Lamps on Kiln Lane"
  plays in E
  meter 4/4
  tempo 60

voicings
  E    022100  fingers .231..  bass 6 4 5 4
  A    x02220  fingers ..123.  bass 5 4
  C#m7 x46454  fingers .13121  bass 5 4

patterns
  step  p , p m , p i , p m

section verse using step
  E | A | E | C#m7 | A | E
"""


def outputs(options: object = None, text: str = LESSON):
    return export(loads(text, path="lamps.lesson"), "changes", options)


def titles(text: str) -> list[str]:
    return [one.text for one in etree.fromstring(text.encode()).iterfind(f".//{SVG}svg/{SVG}title")]


def test_the_hardest_change_comes_first():
    """In the order of the estimate of the hand; each change once."""
    [sheet] = outputs()
    assert sheet.name == "lamps.changes.svg"
    times = {
        (one.before, one.after): one.change.time
        for one in hands(loads_timeline(LESSON)).changes
    }  # fmt: skip
    drawn = [tuple(one.replace("♯", "#").split(" to ")) for one in titles(sheet.text)]
    assert sorted(drawn) == sorted(times)
    assert [times[names] for names in drawn] == sorted(times.values(), reverse=True)
    assert len(drawn) == 4
    assert etree.fromstring(sheet.data).findtext(f"{SVG}title") == "Changes of Lamps on Kiln Lane"


def loads_timeline(text: str):
    return examine(loads(text)).reading.timeline


def test_changes_can_come_in_the_order_of_the_song():
    [sheet] = outputs(ChangeOptions(order="played"))
    assert titles(sheet.text) == ["E to A", "A to E", "E to C♯m7", "C♯m7 to A"]


def test_each_change_can_have_a_file():
    found = outputs(ChangeOptions(each=True, order="played"))
    assert [one.name for one in found] == [
        "lamps-E-to-A.changes.svg",
        "lamps-A-to-E.changes.svg",
        "lamps-E-to-C-sharp-m7.changes.svg",
        "lamps-C-sharp-m7-to-A.changes.svg",
    ]
    assert etree.fromstring(found[0].data).findtext(f"{SVG}desc").startswith("E to A. ")


def test_options_reach_the_drawing():
    """Mirrored, lying and how many stand in a row give other pictures."""
    every = (
        ChangeOptions(),
        ChangeOptions(mirrored=True),
        ChangeOptions(lying=True),
        ChangeOptions(abreast=2),
    )
    assert len({outputs(one)[0].text for one in every}) == len(every)


def test_strings_of_all_pictures_stand_in_columns():
    """Where one has the number of a fret beside it, all have room for one."""
    text = LESSON.replace("x46454", "x79787").replace("C#m7", "high")
    root = etree.fromstring(outputs(ChangeOptions(abreast=1), text)[0].data)
    lefts = {
        line.get("d").split()[0]
        for line in root.iterfind(f"{SVG}svg/{SVG}path")
        if line.get("stroke-width") == "0.6"
    }
    assert len(lefts) == 1


def test_shapes_without_fingers_are_told():
    """Their changes are left out; where none is left, the export is refused."""
    text = LESSON.replace("A    x02220  fingers ..123.", "A    1-x-x-x-x-12")
    [sheet] = export(loads(text), "changes", despite_errors=True)
    assert titles(sheet.text) == ["E to C♯m7"]
    assert [one.what for one in sheet.left_out] == [
        "the shape A, which has no fingers that are known"
    ]
    with pytest.raises(FretloomError, match="never changes between two shapes"):
        outputs(text=LESSON.replace("E | A | E | C#m7 | A | E", "E | E"))


def test_pictures_say_the_change_as_a_teacher_does():
    root = etree.fromstring(outputs(ChangeOptions(order="played"))[0].data)
    said = [one.text for one in root.iterfind(f".//{SVG}svg/{SVG}desc")]
    assert said[1].startswith("A to E. ")
    assert "index finger" in said[1]
    assert said[2].startswith("E to C sharp m7. ")


@LESSONS.law(most=30)
def test_every_change_of_a_lesson_has_its_picture(made: Made):
    """As many as the song makes between shapes whose fingers are known, or a message."""
    expected = [
        one for one in used_changes(made.timeline)
        if any(fret is not None for fret in one.before.frets)
        and any(fret is not None for fret in one.after.frets)
    ]  # fmt: skip
    try:
        [sheet] = write(read_through(made.read), ChangeOptions())
    except FretloomError as refused:
        assert "never changes" in str(refused)
        assert not expected
    else:
        assert len(titles(sheet.text)) == len(expected)
