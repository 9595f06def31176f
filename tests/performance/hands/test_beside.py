"""Notes beside the voicings have a fretting finger in the performance and in every output."""

from __future__ import annotations

from xml.etree import ElementTree

import places
import pytest

from fretloom.api import check, expand, export_json, export_musicxml, load, loads


def _lesson(voicing: str, pattern: str) -> str:
    return f"""lesson "Beside"
  tempo 80

voicings
  {voicing}

patterns
  plain  {pattern}

section tune  using plain
  {voicing.split(maxsplit=1)[0]} x4
"""


C, D = "C  x32010  fingers .32.1.", "D  xx0232  fingers ...132"


@pytest.mark.parametrize(
    ("voicing", "pattern", "fingers"),
    [
        (C, "p , a@3 , p , m", ["4"]),
        (C, "p , m@3p1 , p , i@0h2", ["4", "1", "2"]),
        (C, "p , m@3h5p3 , p , m", ["3", "4", "3"]),
        (D, "p , a@3p2p0 , p , m", ["4", "2"]),
        (D, "p , a@2h3 , p , m", ["2", "4"]),
        (C, "p , m@3s5 , p , m", ["4", "4"]),
    ],
)
def test_fingers_of_ordinary_ornaments(voicing: str, pattern: str, fingers: list[str]) -> None:
    """A free finger takes them, a slide keeps its finger (common practice, no source)."""
    lesson = loads(_lesson(voicing, pattern))
    notes = [note for note in expand(lesson).bars[0].bar.notes if note.literal]
    found = [
        one.fretting for note in notes for one in (note, *note.slurs) if one.fret and one.fretting
    ]
    assert found == fingers
    assert not [one for one in check(lesson) if one.rule.startswith(("hop", "no-finger"))]


def test_a_note_that_no_finger_can_take_has_none() -> None:
    """It is an error of its own."""
    name = "no-finger-free--a-note-far-above-the-barre.lesson"
    lesson = load(places.TESTS / "lessons" / "hands" / name)
    notes = [one for bar in expand(lesson).bars for one in bar.bar.notes if one.literal]
    assert notes
    assert not any(one.fretting for one in notes)


def test_bars_that_sound_alike_stay_one() -> None:
    """Naming fingers does not multiply bars."""
    bars = expand(loads(_lesson(C, "p , a@3 , p , m"))).bars
    assert bars[1].bar is bars[2].bar


def test_the_finger_stands_in_the_files() -> None:
    """In the music as JSON and in MusicXML, as the voicing's own fingers do."""
    lesson = loads(_lesson(C, "p , a@3 , p , m"))
    assert '"fretting": "4"' in export_json(lesson)
    fingerings = ElementTree.fromstring(export_musicxml(lesson)).iter("fingering")
    assert "4" in {one.text for one in fingerings}


@pytest.mark.parametrize(
    ("pattern", "finger"),
    [
        ("p , m@1.trill-3 , p , m", "4"),
        ("p , m@3:4.trill-1 , p , m", "1"),
        ("p , m@1.trill-3:3 , p , m", "3"),
    ],
)
def test_the_other_note_of_a_trill_has_a_finger(pattern: str, finger: str) -> None:
    """The free one beside the shape, the shape's own below, or the one that is written."""
    notes = expand(loads(_lesson(C, pattern))).bars[0].bar.notes
    (trill,) = [note.technique.trill for note in notes if note.technique.trill]
    assert trill.fretting == finger
