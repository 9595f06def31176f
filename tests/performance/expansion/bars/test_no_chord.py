"""Bars without a chord."""

from __future__ import annotations

import pytest

from fretloom.api import check, dumps, expand, export_musicxml, export_tab, loads

LESSON = """lesson "Two cups"
  meter 4/4

voicings
  C  x32010
{voicing}
patterns
  plain  p , m , p , i

section t  using plain
  C | {bar} | C
"""


def played(bar: str, voicing: str = "") -> list[list[tuple[int, int]]]:
    """String and fret of each note, bar by bar."""
    lesson = loads(LESSON.format(bar=bar, voicing=voicing))
    assert [one.message for one in check(lesson) if one.severity.value == "error"] == []
    return [[(note.string, note.fret) for note in one.bar.notes] for one in expand(lesson).bars]


@pytest.mark.parametrize("bar", ["N.C.", "n.c.", "NC", "N.C", "no chord", "No Chord"])
@pytest.mark.parametrize("voicing", ["", "  NC  xxxxxx\\n", "  n.c.  xxxxxx\\n"])
def test_all_ways_to_write_it_are_one_thing(bar, voicing):
    """Silent, with or without a voicing of its own; canonical text writes N.C. (common practice, no source)."""
    voicing = voicing.replace("\\n", "\n")
    before, silent, after = played(bar, voicing)
    assert (len(before), silent, len(after)) == (4, [], 4)
    text = dumps(loads(LESSON.format(bar=bar, voicing=voicing)))
    assert "C | N.C. | C" in text
    assert ("N.C.  xxxxxx" in text) == bool(voicing)


def test_it_can_share_a_bar():
    """The first half of the pattern sounds."""
    assert played("C:2 no chord:2")[1] == [(5, 3), (2, 1)]


def test_what_names_its_fret_sounds():
    """A line without a chord under it; plucks without a fret have none."""
    assert played("N.C. { i1@3, m, p6@0, - }")[1] == [(1, 3), (6, 0)]


def test_dead_notes_sound():
    """The rhythm goes on over damped strings, plucked or brushed (common practice, no source)."""
    assert played("N.C. { m!x, p6-4x, -, i }")[1] == [(2, 0), (6, 0), (5, 0), (4, 0)]


def test_what_rang_before_it_stops():
    """The first C ends with its bar, its open string too."""
    first = expand(loads(LESSON.format(bar="N.C.", voicing=""))).bars[0].bar
    assert all(note.onset + note.ring <= 4 for note in first.notes)


def test_it_needs_no_pattern():
    """There is nothing that a pattern could say."""
    text = LESSON.format(bar="N.C.", voicing="").replace("t  using plain", "t")
    text = text.replace("C | N.C. | C", "C using plain | N.C. | C using plain")
    assert [one for one in check(loads(text)) if one.severity.value == "error"] == []


def test_it_is_printed_over_its_bar_and_not_in_the_table():
    """In tab and in MusicXML, where the kind is `none` (MusicXML 4.0)."""
    lesson = loads(LESSON.format(bar="n.c.", voicing=""))
    assert export_tab(lesson).count("N.C.") == 1
    assert b'<kind text="N.C.">none</kind>' in export_musicxml(lesson)


def test_a_line_of_voicings_called_no_chord():
    """The words have a space; the message says what to do."""
    (found,) = [
        one
        for one in check(loads(LESSON.format(bar="N.C.", voicing="  no chord xxxxxx")))
        if one.severity.value == "error"
    ]
    assert found.message == "`no chord` is written N.C., and no string is played"
