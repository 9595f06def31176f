"""Chord diagrams of a lesson, drawn and in plain text."""

from __future__ import annotations

import pytest
from lxml import etree

from fretloom.api import export, loads
from fretloom.errors import FretloomError
from fretloom.formats.students.shapes.options import ShapeOptions, TextShapeOptions

SVG = "{http://www.w3.org/2000/svg}"
LESSON = """\
lesson "Lamps on Kiln Lane"
  plays in E
  meter 4/4
  tempo 60

voicings
  E    022100  fingers .231..  bass 6 4 5 4
  C#m7 x46454  fingers .13121  bass 5 4
  B7   x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2
  D    xx0232  fingers ...132

patterns
  step  p , p m , p i , p m

section verse using step
  E | C#m7 | B7 | E
"""


def outputs(to: str, options: object = None, text: str = LESSON):
    return export(loads(text, path="lamps.lesson"), to, options)


def titles(text: str) -> list[str]:
    return [one.text for one in etree.fromstring(text.encode()).iterfind(f".//{SVG}svg/{SVG}title")]


def test_a_sheet_has_each_shape_that_is_played_in_order_of_appearance():
    """One file; what is never taken is told."""
    [sheet] = outputs("shapes")
    assert sheet.name == "lamps.shapes.svg"
    assert titles(sheet.text) == ["E", "C♯m7", "B7"]
    assert [one.what for one in sheet.left_out] == ["the shape D, which no bar takes"]


def test_each_shape_can_have_a_file():
    """Names without signs that a file system may refuse, no two alike."""
    found = outputs("shapes", ShapeOptions(each=True))
    assert [one.name for one in found] == [
        "lamps-E.shapes.svg",
        "lamps-C-sharp-m7.shapes.svg",
        "lamps-B7.shapes.svg",
    ]
    assert etree.fromstring(found[1].data).findtext(f"{SVG}title") == "C♯m7"
    assert [len(one.left_out) for one in found] == [1, 0, 0]


def test_names_that_differ_in_case_alone_have_different_files():
    """Some file systems do not tell them apart."""
    text = LESSON.replace("D    xx0232  fingers ...132", "e    022000  fingers .23...")
    text = text.replace("E | C#m7 | B7 | E", "e | C#m7 | E")
    names = [one.name for one in outputs("shapes", ShapeOptions(each=True), text)]
    assert [names[0], names[-1]] == ["lamps-e.shapes.svg", "lamps-E-2.shapes.svg"]


def test_where_no_chord_is_played_there_is_no_shape():
    """A bar of N.C. has none."""
    text = LESSON.replace("E | C#m7 | B7 | E", "E | rest | N.C. { p6@0 , - , - , - }")
    assert titles(outputs("shapes", None, text)[0].text) == ["E"]


def test_options_reach_the_drawing():
    """Mirrored, lying and how many stand in a row give other pictures."""
    texts = [
        outputs("shapes", one)[0].text
        for one in (
            None,
            ShapeOptions(mirrored=True),
            ShapeOptions(lying=True),
            ShapeOptions(abreast=1),
        )
    ]
    assert len(set(texts)) == 4
    narrow = etree.fromstring(texts[3].encode())
    assert {one.get("x") for one in narrow.findall(f"{SVG}svg")} == {"0"}


def test_the_same_shapes_in_plain_text():
    """A picture that can be read anywhere."""
    [text] = outputs("shapes-text", TextShapeOptions(width=60))
    assert text.name == "lamps.shapes.txt"
    assert (
        text.text.split("\n\n", 2)[2]
        == """\
E                       C#m7
   E  A  D  G  B  E        E  A  D  G  B  E
   o           o (o)       x
   ================        ----------------
 1 |  |  |  1  |  |      4 |  1  -  1  - (1)
 2 |  2  3  |  |  |      5 |  |  |  |  2  |
 3 |  |  |  |  |  |      6 |  |  3  |  |  |
 4 |  |  |  |  |  |      7 |  |  |  |  |  |
 p 1  3  2               p    1  2
 p       4               p    3  4

B7
   E  A  D  G  B  E
               o
   ================
 1 |  |  1  |  |  |
 2[2] 2  |  3  | (4)
 3 |  |  |  |  |  |
 4 |  |  |  |  |  |
 p 3  1  2
 p       4
"""
    )


def test_plain_text_is_mirrored_too():
    """The thick string on the right."""
    [text] = outputs("shapes-text", TextShapeOptions(mirrored=True))
    assert "on the right" in text.text
    assert "   E  B  G  D  A  E" in text.text
    assert " 2 |  |  |  3  2  |" in text.text


def test_plain_text_calls_no_high_string_thick():
    """The fourth string of a ukulele with a high G is thinner than the third (g' c' e' a': common practice, no source)."""
    text = """\
lesson "Four Strings"
  instrument ukulele
  tuning G4 C4 E4 A4
  meter 4/4

voicings
  C  0003

section verse
  C { p4, i3, m2, a1 }
"""
    [written] = outputs("shapes-text", None, text)
    assert "string 4 on the left" in " ".join(written.text.split())
    [drawn] = outputs("shapes", None, text)
    assert "From string 4: string 4 open" in drawn.text
    assert "thick" not in written.text + drawn.text
    low = outputs("shapes-text", None, text.replace("G4 C4", "G3 C4"))
    assert "the thick string on the left" in " ".join(low[0].text.split())


@pytest.mark.parametrize("to", ["shapes", "shapes-text"])
def test_a_lesson_without_shapes_is_told(to: str):
    """Nothing to draw."""
    text = LESSON.replace("E | C#m7 | B7 | E", "rest | rest")
    with pytest.raises(FretloomError, match="no voicing with frets is played"):
        outputs(to, text=text)
