"""What is changed for verovio, and that nothing else is."""

from __future__ import annotations

from xml.etree import ElementTree

from fretloom.formats.pictures.prepare import prepared

TAB = "<attributes><clef number='2'><sign>TAB</sign></clef></attributes>"


def changed(measure: str) -> ElementTree.Element:
    score = f"<score-partwise><part><measure>{TAB}{measure}</measure></part></score-partwise>"
    return ElementTree.fromstring(prepared(score.encode())).find("part/measure")


def note(fret: int, inside: str = "", staff: int = 2, more: str = "") -> str:
    return (
        f"<note{more}>{inside}<pitch/><duration>2</duration><voice>5</voice><staff>{staff}</staff>"
        f"<notations><tied type='stop'/><technical><fret>{fret}</fret></technical></notations></note>"
    )


HIDDEN = ' print-object="no"'


def test_time_goes_on_where_a_digit_is_hidden():
    measure = changed(note(0) + note(0, more=HIDDEN) + note(1))
    assert [one.tag for one in measure] == ["attributes", "note", "forward", "note"]
    assert [one.tag for one in measure[2]] == ["duration", "voice", "staff"]


def test_a_hidden_chord_is_time_once():
    measure = changed(note(0, more=HIDDEN) + note(1, "<chord/>", more=HIDDEN))
    assert [one.tag for one in measure] == ["attributes", "forward"]


def test_what_is_seen_of_a_chord_stays():
    """The first note that is seen becomes the first of the chord."""
    measure = changed(note(0, more=HIDDEN) + note(1, "<chord/>") + note(2, "<chord/>"))
    assert [one.findtext(".//fret") for one in measure.iter("note")] == ["1", "2"]
    assert [one.find("chord") is not None for one in measure.iter("note")] == [False, True]


def test_ties_are_for_the_notation():
    measure = changed(note(0, staff=1) + note(0))
    assert [len(one.findall(".//tied")) for one in measure.iter("note")] == [1, 0]


def test_degrees_are_said_once():
    """Where the kind has a text, which is all that stands behind the root."""
    for text, left in ((' text="add9"', 0), ("", 1)):
        measure = changed(f"<harmony><kind{text}>major</kind><degree/></harmony>")
        assert len(measure.findall("harmony/degree")) == left
