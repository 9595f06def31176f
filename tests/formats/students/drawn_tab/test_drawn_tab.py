"""A song as drawn tab."""

from __future__ import annotations

from itertools import groupby

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
    # Each bar and the letters of each line; the two bars of verse 2 stand in the place of bar 4.
    assert [title for title, _ in groupby(titles)] == [
        "Bar 1", "Bar 2", "Bar 3", "Bar 4", "Bar 1",
    ]  # fmt: skip


def test_playings_that_are_as_before_are_one_part():
    """What follows them counts from 1."""
    root = root_of(SONG.replace("    but tempo 80\n", "  verse\n  verse\n"))
    around = [one.text for one in root.findall(f"{SVG}text")]
    assert around[-2:] == ["4 bars, 3 times. 4 bars as before.", "Close"]
    titles = [one.findtext(f"{SVG}title") for one in root.findall(f"{SVG}svg")]
    assert titles[-3:] == ["Bar 4", "Bar 1", "Bar 1"]


def test_every_section_counts_from_1_as_the_words_over_its_bars_do():
    """A bar to go back to has the number that its line says."""
    second = "section second using step\n  E\n  repeat 2\n    E | B7\n    ending 1: E\n    ending 2: B7\n  end\n"
    root = root_of(f"{HEAD}section first using step\n  E | B7\n\n{second}")
    drawings = root.findall(f"{SVG}svg")
    titles = [one.findtext(f"{SVG}title") for one in drawings]
    assert [title for title, _ in groupby(titles)] == [
        "Bar 1", "Bar 2", "Bar 1", "Bar 2", "Bar 3", "Bar 4", "Bar 5",
    ]  # fmt: skip
    words = {
        one.findtext(f"{SVG}title"): " ".join(text.text for text in one.findall(f"{SVG}text"))
        for one in drawings
    }
    assert "bars 2 to 5 twice" in words["Bar 2"]
    assert "then back to bar 2" in words["Bar 4"]


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
