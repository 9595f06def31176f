"""What stands at the notes: slurs, rolls, accents, harmonics, fingers, ringing, rests."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from attrs import evolve
from lxml import etree
from musicxml_laws import check_everything
from musicxml_pieces import C, bar, note, plucks, settings, timeline
from musicxml_reading import Note, bars_of
from writing_scores import left_out_of, to_musicxml

from fretloom.formats.shape import LeftOut
from fretloom.performance.manner import NoteTechnique

OF = settings()
#: Nine strings: one more than slurs have numbers for.
NINE = settings(strings="E1 A1 D2 G2 C3 F3 A3 D4 G4")


def written(*notes: Any, **more: Any) -> list[Note]:
    """Export one bar, all laws checked, and return its notes and rests."""
    data = check_everything(timeline([bar(notes, C, **more)], OF))
    return bars_of(data)[0].notes


def on_staff(notes: list[Note], staff: str) -> list[Note]:
    return [one for one in notes if one.staff == staff and not one.rest]


@pytest.mark.parametrize(("kind", "letter"), [("hammer-on", "H"), ("pull-off", "P")])
def test_hammer_ons_and_pull_offs_are_pairs_with_a_slur(kind: str, letter: str):
    """MusicXML 4.0 `hammer-on`, `pull-off`: start with its letter, stop without, slurred alike."""
    notes = written(note(0, 2, 1, "m", of=OF, slurs=((kind, "1/2", 3),)))
    for staff, number in (("1", "1"), ("2", "2")):
        first, second = on_staff(notes, staff)[:2]
        start = first.element.find(f"notations/technical/{kind}")
        stop = second.element.find(f"notations/technical/{kind}")
        assert (start.get("type"), start.text, start.get("number")) == ("start", letter, number)
        assert (stop.get("type"), stop.text, stop.get("number")) == ("stop", None, number)
        assert first.element.find("notations/slur").get("type") == "start"
        assert second.element.find("notations/technical/pluck") is None


def test_a_slide_is_a_slide_and_no_glissando():
    """MusicXML 4.0 `slide`: continuous between two notes."""
    notes = written(note(0, 2, 1, "m", of=OF, slurs=(("slide", "1/2", 3),)))
    slides = [one.element.find("notations/slide").get("type") for one in on_staff(notes, "1")[:2]]
    assert slides == ["start", "stop"]


def test_a_chain_of_slurs_on_two_strings_at_once_keeps_its_numbers_apart():
    """Numbers open at one time differ, odd on notation and even on tablature."""
    chain = (("hammer-on", "1/2", 3), ("pull-off", "1", 1))
    notes = written(note(0, 2, 1, "m", of=OF, slurs=chain), note(0, 1, 0, "a", of=OF, slurs=chain))
    numbers = {
        staff: {
            slur.get("number")
            for one in on_staff(notes, staff)
            for slur in one.element.iter("slur")
        }
        for staff in "12"
    }
    assert len(numbers["1"]) == len(numbers["2"]) == 3
    assert all(int(number) % 2 for number in numbers["1"])
    assert all(int(number) % 2 == 0 for number in numbers["2"])


def rolled(strings: tuple[int, ...], brush: int = 0) -> list[Any]:
    return [
        note(0, string, C.fret(string) or 0, "p" if string > 3 else "ami"[string - 1], of=OF,
             gesture=0, order=order, brush=brush)
        for order, string in enumerate(strings)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("strings", "brush", "direction"),
    [
        ((5, 3, 2, 1), 0, None),
        ((1, 2, 3, 5), 0, "down"),
        ((5, 4, 3), 1, "up"),
        ((1, 2, 3), -1, "down"),
    ],
)
def test_rolls_and_brushes_are_arpeggios_on_notation_only(strings, brush: int, direction):
    """MusicXML 4.0 `arpeggiate`: every note of the chord; an arrow for brushes and downward rolls."""
    notes = written(*rolled(strings, brush))
    marks = [one.element.find("notations/arpeggiate") for one in on_staff(notes, "1")]
    assert {mark.get("direction") for mark in marks} == {direction}
    assert len({mark.get("number") for mark in marks}) == 1
    assert not [
        one for one in on_staff(notes, "2") if one.element.find("notations/arpeggiate") is not None
    ]


def test_a_roll_there_and_back_is_reported():
    """The sign says up or down; any other order is left out, and is reported as left out."""
    what = "the order of rolls that go neither straight up nor straight down"
    same = bar(tuple(rolled((5, 1, 3))))
    piece = timeline([bar(), same, bar(), same, same], OF)
    assert left_out_of(piece, ring_ties=True) == (LeftOut(what, 2, "Verse"),)


def test_a_seventeenth_roll_of_a_bar_begins_the_numbers_anew():
    """`number` of `arpeggiate` goes from 1 to 16 (MusicXML 4.0 `number-level`); later rolls have one too."""
    notes = [
        note(
            Fraction(place, 8), string, 0, "i", of=OF, length="1/8", gesture=place, order=3 - string
        )
        for place in range(17)
        for string in (3, 2)
    ]
    marks = [one.element.find("notations/arpeggiate") for one in on_staff(written(*notes), "1")]
    numbers = [int(mark.get("number")) for mark in marks if mark is not None]
    assert numbers == [number for number in [*range(1, 17), 1] for _ in range(2)]


def test_an_accent_stands_on_notation_only():
    """MusicXML 4.0 `accent`; tablature has no articulations here."""
    notes = written(note(0, 1, 0, "a", of=OF, accent=True))
    found = [
        one.element.find("notations/articulations/accent") is not None
        for one in on_staff(notes, "1") + on_staff(notes, "2")
    ]
    assert found == [True, False]


def test_an_accented_chord_has_one_accent():
    """The accent is the chord's, and so is its sign."""
    notes = written(*(note(0, string, 0, "i", of=OF, accent=True) for string in (3, 2, 1)))
    signs = [one.element.find("notations/articulations/accent") for one in on_staff(notes, "1")]
    assert sum(sign is not None for sign in signs) == 1


def test_a_natural_harmonic_is_written_at_its_sounding_pitch():
    """Touched at fret 7 the string sounds an octave and a fifth higher (physics); fret 7 on tablature."""
    touched = evolve(note(0, 1, 7, "a", of=OF, harmonic=True), midi=64 + 19)
    notes = written(touched)
    assert on_staff(notes, "1")[0].midi == 83
    tab = on_staff(notes, "2")[0]
    assert tab.text("notations/technical/fret") == "7"
    assert [one.tag for one in tab.element.find("notations/technical/harmonic")] == [
        "natural",
        "sounding-pitch",
    ]


def test_a_dead_note_has_a_cross_for_a_head():
    """MusicXML 4.0 `notehead-value` x, on both staves."""
    notes = written(note(0, 1, 0, "a", of=OF, dead=True))
    assert [one.text("notehead") for one in on_staff(notes, "1") + on_staff(notes, "2")] == [
        "x",
        "x",
    ]


def test_fingers_stand_on_notation_and_not_on_open_strings():
    """`fingering` is the fretting finger and `pluck` the picking one (MusicXML 4.0 `common.mod`)."""
    notes = written(*plucks("p5+a1", C, OF))
    found = [
        (one.text("notations/technical/fingering"), one.text("notations/technical/pluck"))
        for one in on_staff(notes, "1")
    ]
    assert found == [(None, "a"), ("3", "p")]
    assert on_staff(notes, "2")[0].element.find("notations/technical/pluck") is None


def test_tablature_alone_carries_the_fingers():
    """Nothing is lost when there is no notation."""
    data = check_everything(timeline([bar(plucks("p5", C, OF))], OF), layout="tab")
    technical = etree.fromstring(data).find(".//note/notations/technical")
    assert [one.tag for one in technical] == ["fingering", "pluck", "string", "fret"]


def test_notation_alone_keeps_string_and_fret_out_of_sight():
    """A second `notations` that is not printed (MusicXML 4.0 `print-object`)."""
    data = check_everything(timeline([bar(plucks("p5", C, OF))], OF), layout="notation")
    hidden = etree.fromstring(data).findall(".//note/notations")[1]
    assert hidden.get("print-object") == "no"
    assert [one.text for one in hidden.find("technical")] == ["5", "3"]


def ringing() -> Any:
    """A note alone at the start of a bar that rings two bars long; the next bar is silent."""
    first = bar((note(0, 1, 0, "a", of=OF, length=1, ring=8),))
    return timeline([first, bar(held=None), bar(plucks("p5", C, OF))], OF)


def test_ringing_on_is_said_once_in_words():
    """Written lengths end at the bar line; the words stand over the first bar."""
    root = etree.fromstring(check_everything(ringing()))
    assert [words.text for words in root.iter("words")] == ["let ring"]
    assert root.find(".//tied") is None


@pytest.mark.parametrize(("ring", "said"), [("1/2", 0), ("3/4", 1)])
def test_only_what_rings_beyond_its_place_is_said_to_ring(ring: str, said: int):
    """Within the bar as well; a note that ends with its place has no such word."""
    score = timeline([bar((note(0, 1, 0, "a", of=OF, length="1/2", ring=ring),))], OF)
    root = etree.fromstring(check_everything(score))
    assert [one.text for one in root.iter("words")].count("let ring") == said


def test_ringing_on_is_one_let_ring_tie_if_asked():
    """`tied` of type let-ring and no `tie` (MusicXML 4.0 `tied`); the written length is the same."""
    root = etree.fromstring(check_everything(ringing(), ring_ties=True))
    ties = [
        (tied.get("type"), tied.getparent().getparent().findtext("staff"))
        for tied in root.iter("tied")
    ]
    assert ties == [("let-ring", "1")]
    assert root.find(".//tie") is None


def test_a_note_lasts_to_the_next_of_its_voice_or_the_bar_line():
    """The thumb's note goes on under the fingers."""
    notes = written(*plucks("p5 i3 , m2 , p4 , -", C, OF))
    lengths = {(one.voice, one.onset): one.duration for one in notes if one.staff == "1"}
    assert lengths == {
        ("1", 0): Fraction(1, 2), ("1", Fraction(1, 2)): Fraction(1, 2),
        ("1", 1): Fraction(1), ("1", 2): Fraction(2), ("2", 0): Fraction(2), ("2", 2): Fraction(2),
    }  # fmt: skip


def test_damping_is_a_rest_in_every_voice():
    """From the stop to the bar line nothing is written as sounding."""
    notes = written(*plucks("p5 i3 , m2", C, OF), stop=Fraction(3))
    rests = [(one.voice, one.onset, one.duration) for one in notes if one.rest and one.onset >= 2]
    assert rests == [("1", 3, 1), ("2", 3, 1)]


def test_a_silent_bar_is_one_rest():
    """`rest` of the whole bar in notation (MusicXML 4.0 `rest`, `measure`), a gap in tablature."""
    data = check_everything(timeline([bar(held=None, rest=True)], OF))
    [rest] = etree.fromstring(data).findall(".//note")
    assert rest.find("rest").get("measure") == "yes"


def test_the_hand_letting_go_is_said_in_words():
    """`release` stands at its count."""
    data = check_everything(
        timeline([bar(plucks("p5 , i3 , m2 , p4", C, OF), release=Fraction(3))], OF)
    )
    above = [(at, one.findtext("direction-type/words")) for at, one in bars_of(data)[0].above]
    assert (3, "release") in above


def test_cues_and_sections_stand_over_their_bar():
    """Cue as words, section as a rehearsal mark."""
    data = check_everything(timeline([bar(cue="Lamps & <lit>")], OF))
    root = etree.fromstring(data)
    assert [one.text for one in root.iter("words")] == ["Lamps & <lit>"]
    assert [one.text for one in root.iter("rehearsal")] == ["Verse"]


def test_an_upbeat_is_bar_zero_and_the_short_last_bar_is_not_padded():
    """b07 of the standard's reading: 0 implicit, then 1 to 8, lengths 1 4 4 4 4 4 4 4 3 (MusicXML 4.0 `measure`)."""
    up = bar(length=Fraction(1), start=Fraction(3), kind="pickup")
    last = bar(length=Fraction(3), kind="last")
    data = check_everything(timeline([up, *[bar()] * 7, last], OF))
    bars = bars_of(data)
    assert [one.element.get("number") for one in bars] == list("012345678")
    assert [one.element.get("implicit") for one in bars] == ["yes"] + [None] * 8
    assert [one.end for one in bars] == [1, 4, 4, 4, 4, 4, 4, 4, 3]


def test_a_shared_bar_is_written_in_full_each_time():
    """Repetition saves work and no notes: two equal bars are equal in the file."""
    same = bar(plucks("p5+a1 i3 , m2 , p4 i3 m2 , a1", C, OF))
    bars = bars_of(check_everything(timeline([bar(), same, same, same], OF), fingers="all"))
    texts = [
        [etree.tostring(one.element, with_tail=False) for one in each.notes] for each in bars[1:]
    ]
    assert texts[0] == texts[1] == texts[2]


def test_notes_after_the_end_of_their_bar_are_left_out_and_reported():
    """A bar that is too full cannot be written; what fits is."""
    late = (note(0, 1, 0, "a", of=OF), note(3, 2, 1, "m", of=OF))
    short = bar(late, length=Fraction(2), kind="last")
    data = to_musicxml(timeline([short], OF))
    assert [one.midi for one in bars_of(data)[0].notes if one.staff == "1"] == [64]
    assert left_out_of(timeline([short], OF)) == (
        LeftOut("notes that begin after the end of their bar", 1, "Verse"),
    )


def test_a_slur_beyond_the_end_of_its_bar_does_not_begin():
    """What has no end would be open in every bar that follows (MusicXML 4.0 `slur`, `type`)."""
    whole = note(0, 1, 0, "a", of=OF, slurs=(("hammer-on", "1/2", 2),))
    late = note(1, 2, 1, "m", of=OF, slurs=(("hammer-on", "5/2", 3),))
    short = bar((whole, late), length=Fraction(2), kind="last")
    score = etree.fromstring(to_musicxml(timeline([short], OF), layout="notation"))
    assert [slur.get("type") for slur in score.iter("slur")] == ["start", "stop"]


def test_a_ninth_slur_at_once_is_left_out_and_reported():
    """Sixteen numbers for two staves (MusicXML 4.0 `number-level`) are eight slurs on each."""
    notes = tuple(
        note(0, string, 1, "i", of=NINE, slurs=(("hammer-on", "1/2", 3),))
        for string in range(9, 0, -1)
    )
    piece = timeline([bar(notes, held=None)], NINE)
    slurs = [
        (one.get("type"), int(one.get("number")))
        for one in etree.fromstring(to_musicxml(piece, layout="notation")).iter("slur")
    ]
    assert sorted(slurs) == sorted(
        (kind, number) for kind in ("start", "stop") for number in range(1, 17, 2)
    )
    assert left_out_of(piece) == (LeftOut("slurs beyond eight at once", 1, "Verse"),)


def test_a_ninth_slur_from_grace_notes_is_reported_too():
    """They take numbers as all slurs do."""
    grace = NoteTechnique(grace="on-beat", grace_length=Fraction(1, 8))
    notes = tuple(
        note(0, string, 1, "i", of=NINE, slurs=(("hammer-on", "0", 3),), technique=grace)
        for string in range(9, 0, -1)
    )
    left_out = left_out_of(timeline([bar(notes, held=None)], NINE))
    assert left_out == (LeftOut("slurs beyond eight at once", 1, "Verse"),)
