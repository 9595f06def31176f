"""Chord symbols and chord diagrams."""

from __future__ import annotations

from fractions import Fraction

import pytest
from lxml import etree
from musicxml_laws import check_everything
from musicxml_pieces import G7, C, F, bar, plucks, settings, timeline, voicing
from musicxml_reading import bars_of
from writing_scores import left_out_of, to_musicxml

from fretloom.formats.shape import LeftOut
from fretloom.performance.events import TimedVoicing


def harmonies(*held, **of):
    """Export a bar for each voicing and return the `harmony` elements."""
    wanted = settings(**of)
    bars = [bar(plucks("- , p4", one, wanted), one) for one in held]
    return list(etree.fromstring(check_everything(timeline(bars, wanted))).iter("harmony"))


def test_a_frame_is_the_voicing():
    """Frets counted from the capo and not from the window (MusicXML 4.0 `frame`, `first-fret`)."""
    [one] = harmonies(voicing("A", "x77655", ".34211"), capo=2)
    frame = one.find("frame")
    notes = [
        (int(n.findtext("string")), int(n.findtext("fret"))) for n in frame.findall("frame-note")
    ]
    assert notes == [(5, 7), (4, 7), (3, 6), (2, 5), (1, 5)]
    assert (frame.findtext("first-fret"), frame.find("first-fret").get("text")) == ("5", "5fr.")
    assert int(frame.findtext("frame-frets")) >= 3
    barres = {
        n.findtext("string"): n.find("barre").get("type")
        for n in frame
        if n.find("barre") is not None
    }
    assert barres == {"2": "start", "1": "stop"}


def test_a_frame_near_the_end_of_the_neck_is_that_of_a_drawn_diagram():
    """It ends with the shape: no guitar has fewer frets than the shape needs (common practice, no source)."""
    [one] = harmonies(voicing("A", "x-x-x-22-22-21", "...231"))
    assert one.find("frame").findtext("first-fret") == "19"
    assert one.find("frame").findtext("frame-frets") == "4"


def test_open_and_muted_strings_differ():
    """An open string is fret 0, a muted one has no note and is drawn as x (MusicXML 4.0 `frame`)."""
    frame = harmonies(C)[0].find("frame")
    assert frame.get("unplayed") == "x"
    assert [n.findtext("string") for n in frame.findall("frame-note")] == ["5", "4", "3", "2", "1"]
    assert [n.findtext("fret") for n in frame.findall("frame-note")] == ["3", "2", "0", "1", "0"]
    assert [n.findtext("fingering") for n in frame.findall("frame-note")] == [
        "3",
        "2",
        None,
        "1",
        None,
    ]
    assert frame.find("first-fret") is None


def test_a_full_barre_goes_from_the_lowest_string_to_the_highest():
    """A barre starts on the lower-pitched string (MusicXML 4.0 `barre`)."""
    frame = harmonies(F)[0].find("frame")
    barres = [
        (n.findtext("string"), n.find("barre").get("type"))
        for n in frame
        if n.find("barre") is not None
    ]
    assert barres == [("6", "start"), ("1", "stop")]


def test_a_barre_has_its_finger_once():
    """Where it starts; the fingers beside it have theirs (common practice of chord diagrams)."""
    notes = harmonies(F)[0].findall("frame/frame-note")
    fingers = {n.findtext("string"): n.findtext("fingering") for n in notes}
    assert fingers == {"6": "1", "5": "3", "4": "4", "3": "2", "2": None, "1": None}


def test_a_diagram_stands_where_its_voicing_is_first_taken():
    """Later `harmony` elements have no frame: one that is not printed only makes the file longer."""
    found = harmonies(C, G7, C)
    assert [one.get("print-frame") for one in found] == ["yes", "yes", None]
    assert [one.find("frame") is not None for one in found] == [True, True, False]


def test_no_chord_has_no_diagram():
    """N.C. says that nothing is played."""
    [one] = harmonies(voicing("N.C.", "x32010"))
    assert one.find("frame") is None
    assert one.get("print-frame") is None


def test_a_voicing_that_goes_on_is_not_named_again():
    """One name for a run of bars."""
    assert len(harmonies(C, C, G7)) == 2


def test_frames_have_as_many_strings_as_the_instrument():
    """A ukulele has four."""
    [one] = harmonies(voicing("F", "2010", "2.1."), strings="G4 C4 E4 A4")
    assert one.findtext("frame/frame-strings") == "4"


def test_a_suffix_is_shared_between_the_kind_and_its_degrees():
    """A program prints the kind's text and then the degrees (MusicXML 4.0 `degree`): C and add9."""
    [one] = harmonies(voicing("Cadd9", "x32030"))
    kind = one.find("kind")
    assert (kind.text, kind.get("text"), kind.get("parentheses-degrees")) == ("major", "", "no")
    degree = one.find("degree")
    assert (degree.findtext("degree-value"), degree.findtext("degree-type")) == ("9", "add")
    assert degree.find("degree-type").get("text") == "add"
    assert degree.get("print-object") is None


def test_a_suffix_is_shown_as_it_was_written_with_signs():
    """`kind` has the meaning, its text the teacher's spelling."""
    [one] = harmonies(voicing("Cm7b5", "x3434x"))
    assert (one.findtext("kind"), one.find("kind").get("text")) == ("half-diminished", "m7♭5")


def test_a_slash_bass_is_a_bass():
    """C/Bb: root C, bass B flat."""
    [one] = harmonies(voicing("C/Bb", "x12010"))
    assert (one.findtext("bass/bass-step"), one.findtext("bass/bass-alter")) == ("B", "-1")
    assert one.find("root/root-alter") is None


@pytest.mark.parametrize(
    ("names", "symbol", "step", "alter", "shown", "hidden"),
    [
        ("german", "H7", "B", None, "H", None),
        ("german", "B", "B", "-1", "B", "no"),
        ("german", "Fis", "F", "1", None, None),
        ("romance", "Sol7", "G", None, "Sol", None),
    ],
)
def test_other_countries_see_their_own_letters(names, symbol, step, alter, shown, hidden):
    """The meaning is the standard's, `text` is what is shown (MusicXML 4.0 `root-step`)."""
    [one] = harmonies(voicing(symbol, "x21202"), names=names)
    root = one.find("root/root-step")
    assert (root.text, root.get("text"), one.findtext("root/root-alter")) == (step, shown, alter)
    if hidden:
        assert one.find("root/root-alter").get("print-object") == hidden


def test_a_chord_stands_at_its_beat_even_where_nothing_is_plucked():
    """A change between notes: the cursor goes there and back."""
    of = settings()
    taken = (
        TimedVoicing(onset=Fraction(0), voicing=C),
        TimedVoicing(onset=Fraction(5, 2), voicing=G7),
    )
    data = check_everything(timeline([bar(plucks("p5", C, of), voicings=taken)], of))
    above = [
        (at, one.findtext("root/root-step"))
        for at, one in bars_of(data)[0].above
        if one.tag == "harmony"
    ]
    assert sorted(above) == [(0, "C"), (Fraction(5, 2), "G")]


def test_concert_pitch_moves_the_chords_and_leaves_the_diagrams():
    """Capo 3: C sounds Eb, the frame is still the shape under the capo."""
    of = settings(capo=3)
    data = to_musicxml(timeline([bar(plucks("p5", C, of), C)], of), concert=True)
    one = etree.fromstring(data).find(".//harmony")
    assert (one.findtext("root/root-step"), one.findtext("root/root-alter")) == ("E", "-1")
    assert one.findtext("frame/frame-note/fret") == "3"


def test_a_name_that_is_no_chord_is_shown_and_reported():
    """Its diagram needs a `harmony`, which it cannot have; the words and the fingers remain."""
    of, held = settings(), voicing("Kiln", "x32xxx")
    piece = timeline([bar(plucks("p5", held, of), held), bar(), bar(held=held)], of)
    assert to_musicxml(piece).count(b"<words>Kiln</words>") == 2
    assert left_out_of(piece) == (
        LeftOut("the diagram of Kiln, which is not a chord symbol", 1, "Verse"),
    )


def test_a_bar_once_more_names_a_voicing_only_where_it_is_taken_anew():
    """The notes of an equal bar are copied, its chord symbols are not."""
    of = settings()
    same, other = bar(plucks("p5", C, of), C), bar(plucks("p6", G7, of), G7)
    score = etree.fromstring(to_musicxml(timeline([same, same, other, same], of)))
    frames = [
        [one.get("print-frame") for one in measure.iter("harmony")]
        for measure in score.iter("measure")
    ]
    assert frames == [["yes"], [], ["yes"], [None]]


def test_a_voicing_of_muted_strings_has_no_diagram():
    """A frame without notes is not valid (MusicXML 4.0 `frame`)."""
    [one] = harmonies(voicing("C", "xxxxxx"))
    assert one.find("frame") is None
