"""What stands on which staff in each layout."""

from __future__ import annotations

from typing import Any

import pytest
from lxml import etree
from musicxml_laws import check_everything
from musicxml_lesson import piece
from musicxml_reading import Bar, bars_of, schema

from fretloom.formats.musicxml.planning.staves import LAYOUTS
from fretloom.performance.events import Timeline

#: Everything that a score can hold at a note, over it, or between bars.
BODY = """\
dynamic p
crescendo to f over 1 bar
"hold the hand still" Am { p+m2@1h3.vibrato , i , slap , p.damped a1@5.bend-half } | E7 { [p i m] , (p i) , p! , m.ring } release on 4
words: "Lad-" on 1 | "der up" on 1 2
ritardando to 60 over 1 bar
Am { p.for-5 , - , a1@12* i , m.ghost } | Am { - , m , p , i } fermata on 4"""

#: What stands on a staff that has digits and techniques only.
DIGITS = {
    "string", "fret", "hammer-on", "pull-off", "slur", "slide", "bend", "harmonic", "tuplet", "notehead",
}  # fmt: skip
#: What stands once in a score, on the staff that leads.
ONCE = {
    "rehearsal", "words", "metronome", "sound", "dynamics", "wedge", "harmony", "lyric", "fingering", "pluck",
    "beam", "tied", "rest", "accent", "staccato", "wavy-line", "arpeggiate", "fermata", "measure-numbering",
    "system-layout", "swing",
}  # fmt: skip
#: Elements that are looked for: all of these, on each staff.
KINDS = DIGITS | ONCE | {"accidental", "stem-up", "stem-none"}
NOTATION = (KINDS - DIGITS) - {"stem-none"} | {
    "hammer-on",
    "slur",
    "bend",
    "harmonic",
    "tuplet",
    "notehead",
}

#: For each layout what stands on each staff from the top.
STANDS = {
    "notation-and-tab": (NOTATION, DIGITS | {"stem-none"}),
    "two-parts": (NOTATION, DIGITS | {"stem-none"}),
    "notation": (NOTATION | {"string", "fret"},),
    "tab": ((NOTATION | {"string", "fret"}) - {"accidental"},),
}


def everything() -> Timeline:
    """Return a piece with all of it, swung."""
    from attrs import evolve

    found = piece(BODY)
    return evolve(found, settings=evolve(found.settings, swing=(2, 1)))


def shown(bars: list[Bar], staff: str) -> set[str]:
    """Return which kinds of element stand on a staff."""
    found: set[str] = set()
    for bar in bars:
        for note in bar.notes:
            if note.staff == staff:
                found |= {one.tag for one in note.element.iter()}
                stem = note.text("stem")
                found |= {"stem-none" if stem == "none" else "stem-up" if stem == "up" else ""}
                if note.rest and note.element.get("print-object") == "no":
                    found.discard("rest")
        for element in bar.element:
            if element.tag in ("direction", "harmony", "print", "sound") and (
                (element.findtext("staff") or "1") == staff
            ):
                frame = {"string", "fret"}  # Those of a chord diagram.
                found |= {one.tag for one in element.iter()} - frame
    return found & KINDS


@pytest.mark.parametrize("layout", LAYOUTS)
def test_each_kind_of_element_stands_where_it_belongs(layout: str) -> None:
    """Rhythm and words stand once; under notation there are digits and techniques only."""
    data = check_everything(everything(), layout=layout)
    root = etree.fromstring(data)
    staves = [
        shown(bars_of(data, part), staff)
        for part, staves in enumerate(LAYOUTS[layout])
        for staff in [one.number or "1" for one in staves]
    ]
    missing = {"slide", "pull-off"}  # Not in this piece.
    assert staves == [wanted - missing for wanted in STANDS[layout]]
    assert len(root.findall("part")) == len(LAYOUTS[layout])


def test_tablature_alone_shows_the_rhythm() -> None:
    """Stems and beams as on notation, the thumb's down; rests are seen; no sign of pitch."""
    (bar, *_) = bars_of(check_everything(piece("Am { p , - m , p i , [p m i] }"), layout="tab"))
    stems = {(note.voice, note.text("stem")) for note in bar.notes if not note.rest}
    assert stems == {("1", "up"), ("2", "down")}
    rests = [note for note in bar.notes if note.rest]
    assert rests
    assert all(rest.element.get("print-object") is None for rest in rests)
    beams = [one.text for note in bar.notes for one in note.element.iter("beam")]
    assert beams.count("begin") == beams.count("end") >= 1
    (bracket, *_) = bar.element.findall(".//tuplet[@type='start']")
    assert bracket.get("show-number") is None


def test_a_digit_that_goes_on_is_in_parentheses_where_tablature_is_alone() -> None:
    """With its tie (common practice); under notation it is not shown again."""
    held = "Am { p , a.for-4 , - , - } | Am { - , p , - , - }"
    bars = bars_of(check_everything(piece(held), layout="tab"))
    on = [n for bar in bars for n in bar.notes if n.element.find("tie[@type='stop']") is not None]
    assert on
    for note in on:
        assert note.element.get("print-object") is None
        assert note.element.find("notehead").get("parentheses") == "yes"
        assert note.element.find("notations/tied[@type='stop']") is not None


def test_notes_that_go_on_are_tied_for_the_ear_alone_under_notation() -> None:
    """`tie` on both staves, `tied` on notation: a curve between digits is a hammer-on."""
    bars = bars_of(check_everything(piece("Am { p , a.for-4 , - , - } | Am { - , p , - , - }")))
    for staff, seen in (("1", True), ("2", False)):
        notes = [n for bar in bars for n in bar.notes if n.staff == staff and not n.rest]
        tied = [n for n in notes if n.element.find("tie") is not None]
        assert len(tied) >= 2
        assert all((n.element.find("notations/tied") is not None) == seen for n in tied)


def test_the_second_part_has_bar_lines_attributes_and_digits() -> None:
    """Nothing that the first part says is said again; the bars of both are as long."""
    data = check_everything(everything(), layout="two-parts")
    first, second = etree.fromstring(data).findall("part")
    assert {one.tag for measure in second for one in measure} == {
        "attributes", "note", "backup", "forward", "barline",
    }  # fmt: skip
    for one, other in zip(first, second, strict=True):
        assert one.get("number") == other.get("number")
        lines = (
            [etree.tostring(line) for line in measure.findall("barline")]
            for measure in (one, other)
        )
        assert len({tuple(each) for each in lines}) == 1


def test_two_parts_are_one_instrument() -> None:
    """Their bar lines are joined (MusicXML 4.0 `part-group`), and the meter is printed once."""
    root = etree.fromstring(check_everything(everything(), layout="two-parts"))
    start, stop = root.findall("part-list/part-group")
    assert [(one.get("type"), one.findtext("group-barline")) for one in (start, stop)] == [
        ("start", "yes"),
        ("stop", None),
    ]
    assert [one.tag for one in root.find("part-list")][0::3] == ["part-group", "part-group"]
    hidden = [
        part.find("measure/attributes/time").get("print-object") for part in root.findall("part")
    ]
    assert hidden == [None, "no"]
    alone = etree.fromstring(check_everything(everything(), layout="tab"))
    assert alone.find("part/measure/attributes/time").get("print-object") is None
    assert alone.find("part-list/part-group") is None


def test_a_bar_of_rest_under_notation_shows_no_rest() -> None:
    """In a part of its own the bar is filled by a rest that is not printed."""
    resting: Any = piece("Am | rest")
    (_, bar) = bars_of(check_everything(resting, layout="two-parts"), 1)
    assert [note.element.get("print-object") for note in bar.notes] == ["no"]
    (_, alone) = bars_of(check_everything(resting, layout="tab"))
    assert [note.element.get("print-object") for note in alone.notes] == [None]


@pytest.mark.parametrize("layout", LAYOUTS)
def test_each_layout_is_valid(layout: str) -> None:
    """The W3C schema of MusicXML 4.0."""
    assert schema().validate(etree.fromstring(check_everything(everything(), layout=layout)))
