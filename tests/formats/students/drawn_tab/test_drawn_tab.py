"""A song as drawn tab."""

from __future__ import annotations

import pytest
from drawn_bars import HEAD
from lxml import etree

from fretloom.api import export, loads
from fretloom.errors import FretloomError
from fretloom.formats.students.drawn_tab.options import DrawnTabOptions

SVG = "{http://www.w3.org/2000/svg}"
SONG = f"""{HEAD}section verse 4 bars using step "Verse"
  E | E | E | B7

section close using step
  E

form
  verse
  verse
    but last bar: E x2
  verse
    but tempo 80
  close
"""


def root_of(text: str, options: DrawnTabOptions | None = None) -> etree._Element:
    [output] = export(loads(text), "drawn-tab", options or DrawnTabOptions())
    return etree.fromstring(output.text.encode())


def test_each_section_stands_once_and_later_only_what_is_new():
    """In the order of the form."""
    root = root_of(SONG)
    around = [one.text for one in root.findall(f"{SVG}text")]
    assert around == [
        "Lamps on Kiln Lane",
        "Verse 1",
        "Verse 2",
        "The end is new: E, 2 times.",
        "Verse 3",
        "At tempo 80. 4 bars as before.",
        "Close",
    ]
    titles = [one.findtext(f"{SVG}title") for one in root.findall(f"{SVG}svg")]
    bars = ["Bar 1", "Bar 2", "Bar 3", "Bar 4", "Bar 8", "Bar 9", "Bar 14"]
    assert list(dict.fromkeys(titles)) == bars


def test_playings_that_are_as_before_are_one_part():
    """What follows them is at its own place."""
    root = root_of(SONG.replace("    but tempo 80\n", "  verse\n  verse\n"))
    around = [one.text for one in root.findall(f"{SVG}text")]
    assert around[-2:] == ["4 bars, 3 times. 4 bars as before.", "Close"]
    titles = [one.findtext(f"{SVG}title") for one in root.findall(f"{SVG}svg")]
    assert titles[-1] == "Bar 22"


def test_all_lies_inside_and_nothing_on_anything():
    """Bars stand side by side, lines one below the other."""
    root = root_of(SONG)
    width, height = (float(one) for one in root.get("viewBox").split()[2:])
    boxes = [
        [float(one.get(name)) for name in ("x", "y", "width", "height")]
        for one in root.findall(f"{SVG}svg")
    ]
    for x, y, wide, high in boxes:
        assert x >= 0 and y >= 0
        assert x + wide <= width + 0.02 and y + high <= height + 0.02
    assert width == pytest.approx(176, abs=0.6)


def test_a_file_for_each_part():
    """Numbered; what is left out is listed once."""
    outputs = export(loads(SONG), "drawn-tab", DrawnTabOptions(each=True))
    assert [one.name for one in outputs] == [f"lesson-{number}.tab.svg" for number in (1, 2, 3)]
    assert all(not one.left_out for one in outputs[1:])


def test_letters_may_be_left_out():
    """It says so."""
    [output] = export(loads(SONG), "drawn-tab", DrawnTabOptions(without_letters=True))
    assert ">m</text>" not in output.text
    assert any("letters of the picking fingers" in one.what for one in output.left_out)


def test_hostile_words_never_become_markup():
    """Titles, cues, names."""
    hostile = SONG.replace("Lamps on Kiln Lane", "<script>x</script> & Co").replace(
        "  E | E", '  "<b>loud</b> &amp;" E | E'
    )
    root = root_of(hostile)
    assert root.find(f".//{SVG}script") is None
    assert root.findtext(f"{SVG}title") == "<script>x</script> & Co"
    assert "<b>loud</b> &amp;" in [one.text for one in root.iter(f"{SVG}text")]


def test_without_bars_there_is_nothing_to_draw():
    """It says so in a sentence."""
    with pytest.raises(FretloomError, match="no bar is played"):
        export(loads('lesson "Empty"\n'), "drawn-tab")
