"""Techniques behind a pluck, in the elements that MusicXML 4.0 has for them."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest
from musicxml_lesson import lower, piece, root_of, upper, words_in, written
from musicxml_reading import Bar, Note
from writing_scores import left_out_of

from fretloom.formats.shape import LeftOut


def bar_of(beats: str, **options: Any) -> Bar:
    """Return a bar over Am with these beats."""
    return written(f"Am {{ {beats} }}", **options)[0]


def first(beats: str, staff: int = 1) -> Note:
    """Return the first note of a bar on a staff."""
    return (upper if staff == 1 else lower)(bar_of(beats))[0]


def lengths(bars: list[Bar], voice: str) -> list[tuple[int, Fraction, Fraction, tuple[str, ...]]]:
    """Return (bar, onset, length, ties) of the notes of a voice."""
    return [
        (note.measure, note.onset, note.duration, tuple(tie.get("type") for tie in note.element.findall("tie")))
        for bar in bars
        for note in bar.notes
        if note.voice == voice and not note.rest
    ]  # fmt: skip


@pytest.mark.parametrize("staff", [1, 2])
@pytest.mark.parametrize(
    ("word", "bends"),
    [
        ("bend-quarter", [("0.5", None)]),
        ("bend-full", [("2", None)]),
        ("bend-half-release", [("1", None), ("-1", "release")]),
        ("prebend-full-and-half", [("3", "pre-bend")]),
        ("prebend-full-release", [("2", "pre-bend"), ("-2", "release")]),
    ],
)
def test_bends_stand_on_both_staves(word: str, bends: list[tuple[str, str | None]], staff: int):
    """`bend-alter` in semitones; a release goes back (MusicXML 4.0 `bend-alter`)."""
    note = first(f"m2@3.{word} , - , - , -", staff)
    found = note.element.findall("notations/technical/bend")
    kinds = [next((one.tag for one in bend if one.tag != "bend-alter"), None) for bend in found]
    assert [
        (bend.findtext("bend-alter"), kind) for bend, kind in zip(found, kinds, strict=True)
    ] == bends


def test_a_bend_after_a_hammer_on_is_bent_at_the_note_it_leads_to():
    """What the fretting hand does, it does to the last note of the pluck."""
    bends = [
        one.element.find("notations/technical/bend") is not None
        for one in upper(bar_of("m2@3h5.bend-half , i , - , -"))[:2]
    ]
    assert bends == [False, True]


def test_vibrato_is_a_wavy_line_over_the_whole_note():
    """`wavy-line` for vibrato, with SMuFL's glyph of it (MusicXML 4.0 `wavy-line`); over a tie from first to last."""
    lines = [
        [one.get("type") for one in note.element.findall("notations/ornaments/wavy-line")]
        for note in upper(bar_of("- , [- m2@3.vibrato.to-4] , - , -"))
    ]
    assert [kind for kinds in lines for kind in kinds] == ["start", "stop"]
    assert len(lines) == 2
    [whole] = upper(bar_of("m2@3.vibrato , - , - , -"))
    marks = whole.element.findall("notations/ornaments/wavy-line")
    assert [(one.get("type"), one.get("smufl")) for one in marks] == [
        ("start", "guitarVibratoStroke"),
        ("stop", "guitarVibratoStroke"),
    ]
    assert first("m2@3.vibrato , - , - , -", 2).element.find("notations/ornaments") is None


@pytest.mark.parametrize(("fret", "step"), [(4, "half"), (5, "whole"), (6, None), (2, None)])
def test_a_trill_names_the_fret_it_goes_to(fret: int, step: str | None):
    """`trill-step` knows half and whole tones upwards only; the words name any fret."""
    bar = bar_of(f"- , m2@3.trill-{fret} , - , -")
    trill = upper(bar)[0].element.find("notations/ornaments/trill-mark")
    assert (trill.get("start-note"), trill.get("trill-step")) == ("main", step)
    [(at, words)] = [one for one in words_in(bar) if "trill" in one[1]]
    assert (at, words[:15]) == (1, f"trill to fret {fret}")
    assert re.fullmatch("( with finger [1-4])?", words[15:])


@pytest.mark.parametrize(
    ("key", "pluck", "sign"),
    [
        ("C", "m2@1.trill-2", "flat"),
        ("C", "m2@1.trill-3", None),
        ("C", "m2@3.trill-4", "flat"),
        ("C", "m2@3.trill-5", None),
        ("G", "i3@4.trill-6", "sharp"),
        ("G", "i3@4.trill-5", None),
        ("Eb", "m2@1.trill-3", None),
        ("D", "m2@3.trill-4", "flat"),
        ("D", "a1@0.trill-1", "natural"),
        ("D", "a1@0.trill-2", None),
        ("C", "m2@3.trill-7", None),
        ("C", "m2@3.trill-2", None),
    ],
)
def test_an_accidental_stands_over_a_trill_where_the_key_does_not_say_its_goal(
    key: str, pluck: str, sign: str | None
):
    """The next step upwards, as the key signature has it, unless a sign says otherwise (MusicXML 4.0 `accidental-mark`)."""
    [bar] = written(f"Am {{ -, {pluck}, -, - }}", key)
    assert upper(bar)[0].text("notations/ornaments/accidental-mark") == sign


def test_a_slap_on_the_body_is_a_sign_where_a_note_or_a_rest_begins():
    """MusicXML 4.0 `golpe`: tapping on the guitar; the words say where, and hold where nothing begins."""
    bar = bar_of("p+body-slap , [body-slap m] , p i , - body-slap")
    signs = [note.onset for note in bar.notes if note.element.find(".//golpe") is not None]
    assert sorted(signs) == [0, 1]
    words = [at for at, text in words_in(bar) if text == "body slap"]
    assert sorted(words) == [0, 1, Fraction(7, 2)]
    assert {note.staff for note in bar.notes if note.element.find(".//golpe") is not None} == {"1"}


@pytest.mark.parametrize("staff", [1, 2])
def test_a_ghost_note_is_in_parentheses(staff: int):
    """MusicXML 4.0 `notehead`, `parentheses`; a dead one keeps its cross."""
    heads = [
        first(f"m2{mark}.ghost , - , - , -", staff).element.find("notehead") for mark in ("", "x")
    ]
    assert [(one.text, one.get("parentheses")) for one in heads] == [
        ("normal", "yes"),
        ("x", "yes"),
    ]


def test_both_notes_of_a_ghost_slur_are_in_parentheses():
    """All that the pluck gives is only hinted at."""
    heads = [one.element.find("notehead") for one in upper(bar_of("m2@1h3.ghost , i , - , -"))[:2]]
    assert [one.get("parentheses") for one in heads] == ["yes", "yes"]


@pytest.mark.parametrize(
    ("word", "sign"),
    [("trill-5", "ornaments/trill-mark"), ("bend-half", "technical/bend")],
)
def test_a_note_of_two_values_has_its_sign_once(word: str, sign: str):
    """At the first of them."""
    bar = bar_of(f"- , [- m2@3.{word}.to-4] , - , -")
    assert [one.element.find(f"notations/{sign}") is not None for one in upper(bar)] == [
        True,
        False,
    ]


def test_an_artificial_harmonic_sounds_as_written_and_names_the_fret_that_is_touched():
    """Twelve frets above the stopped one it sounds an octave higher (the harmonic series)."""
    bar = bar_of("m2@3.harmonic-15 , - , - , -")
    note, tab = upper(bar)[0], lower(bar)[0]
    assert note.midi == 59 + 3 + 12
    assert tab.text("notations/technical/fret") == "3"
    for one in (note, tab):
        assert [x.tag for x in one.element.find("notations/technical/harmonic")] == [
            "artificial",
            "sounding-pitch",
        ]
    assert words_in(bar)[-1] == (0, "A.H. 15")


@pytest.mark.parametrize("staff", [1, 2])
def test_a_grace_note_is_slurred_to_its_note_and_takes_its_time(staff: int):
    """An eighth of a quarter note before a half note is 6 per cent of it, in whole ones (MusicXML 4.0 `grace`)."""
    bar = bar_of("m2@1h3!.grace , - , i , -")
    notes = (upper if staff == 1 else lower)(bar)[:2]
    assert [(one.onset, one.duration, one.midi) for one in notes] == [(0, 0, 60), (0, 2, 62)]
    grace = notes[0].element.find("grace")
    assert dict(grace.attrib) == {"steal-time-following": "6", "slash": "yes"}
    ends = [one.element.find("notations/technical/hammer-on").get("type") for one in notes]
    assert ends == ["start", "stop"]
    assert [one.element.find("notations/slur").get("type") for one in notes] == ["start", "stop"]
    if staff == 1:
        accents = [one.element.find("notations/articulations/accent") is not None for one in notes]
        assert accents == [False, True]


def test_a_grace_note_before_the_beat_takes_its_time_from_the_note_before():
    """An eighth of a quarter note is 12 per cent of it; with nothing before, nothing is said."""
    found = [
        note.element.find("grace") for note in upper(bar_of("m , m2@1h3.grace-before , i , -"))
    ]
    [grace] = [one for one in found if one is not None]
    assert grace.get("steal-time-previous") == "12"
    alone = first("m2@1h3.grace-before , - , - , -").element.find("grace")
    assert dict(alone.attrib) == {"slash": "yes"}


def test_time_is_taken_from_the_last_value_of_the_note_before():
    """An eighth tied to a quarter, since it is held: from the quarter."""
    bar = bar_of("- , [- m.to-4] , - , m2@1h3.grace-before")
    [grace] = [one.element.find("grace") for one in upper(bar) if one.grace]
    assert grace.get("steal-time-previous") == "12"


def test_several_grace_notes_are_beamed():
    """Sixteenths with two beams, no slash (common practice, no source)."""
    notes = upper(bar_of("m2@0h1p0.grace , - , - , -"))
    assert [one.grace for one in notes] == [True, True, False]
    assert [one.text("type") for one in notes[:2]] == ["16th", "16th"]
    beams = [[beam.text for beam in one.element.findall("beam")] for one in notes[:2]]
    assert beams == [["begin", "begin"], ["end", "end"]]
    assert notes[0].element.find("grace").get("slash") is None


def test_a_grace_note_in_a_roll_stands_before_all_of_it():
    """The roll goes over the main notes."""
    notes = upper(bar_of("(i m2@1h3.grace a) , - , - , -"))
    assert [(one.grace, one.element.find("notations/arpeggiate") is not None) for one in notes] == [
        (True, False), (False, True), (False, True), (False, True),
    ]  # fmt: skip


def test_let_ring_is_a_tie_to_nothing_on_notation():
    """`tied` of type let-ring without `tie`; on tablature it would look like a slur (common practice, no source)."""
    bar = bar_of("m2@3.ring , - , i , -")
    note, tab = upper(bar)[0], lower(bar)[0]
    assert [one.get("type") for one in note.element.findall("notations/tied")] == ["let-ring"]
    assert note.element.find("tie") is None
    assert tab.element.find("notations/tied") is None


def test_a_damped_note_is_as_short_as_its_place_and_has_a_dot():
    """`staccato`, and a rest where nothing follows at once."""
    bar = bar_of("i.damped m , m.damped , - , -")
    found = [
        (one.onset, one.duration, one.element.find("notations/articulations/staccato") is not None)
        for one in upper(bar)
    ]
    assert found == [
        (0, Fraction(1, 2), True),
        (Fraction(1, 2), Fraction(1, 2), False),
        (1, 1, True),
    ]


def test_a_damped_chord_has_one_dot():
    """The sign is for the whole chord."""
    dots = [
        one.element.find("notations/articulations/staccato")
        for one in upper(bar_of("i.damped+m.damped , - , - , -"))
    ]
    assert sum(dot is not None for dot in dots) == 1


def test_a_slow_roll_is_an_arpeggio_with_words():
    """`arpeggiate` has no speed."""
    bar = bar_of("- , (slow p i m a) , - , -")
    assert (1, "slow roll") in words_in(bar)
    rolled = [one for one in upper(bar) if one.element.find("notations/arpeggiate") is not None]
    assert [one.onset for one in rolled] == [1, 1, 1, 1]
    assert [text for _, text in words_in(bar)].count("slow roll") == 1


def test_slaps_stand_in_words_over_their_place():
    """A slap on the strings ends what sounds; one on the body does not."""
    bar = bar_of("p+m , slap! , p+m , body-slap")
    assert {(1, "slap!"), (3, "body slap")} <= set(words_in(bar))
    assert [(one.onset, one.duration) for one in upper(bar) if one.voice == "1"] == [(0, 1), (2, 2)]


def test_slaps_without_any_note_stand_over_a_rest():
    """The places are kept."""
    bar = bar_of("- , slap , - , [body-slap slap]")
    found = [one for one in words_in(bar) if "slap" in one[1]]
    assert found == [(1, "slap"), (3, "body slap"), (Fraction(7, 2), "slap")]


@pytest.mark.parametrize(
    ("at", "beats", "voice"),
    [
        ("1", "p , m , - , -", "2"),
        ("2", "p , m , - , -", "1"),
        ("4", "p , m , - , -", "2"),
        ("4", "- , - , m , -", "1"),
    ],
)
def test_a_fermata_stands_on_the_note_at_its_place_or_the_one_that_goes_on(
    at: str, beats: str, voice: str
):
    """One sign on notation; below the staff, upside down, for the thumb (MusicXML 4.0 `fermata`)."""
    [bar] = written(f"Am {{ {beats} }} fermata on {at}")
    [note] = [one for one in bar.notes if one.element.find("notations/fermata") is not None]
    assert (note.voice, note.rest) == (voice, False)
    kind = note.element.find("notations/fermata").get("type")
    assert kind == ("inverted" if voice == "2" else "upright")


def test_a_fermata_stands_once_over_a_chord_and_rather_on_a_note_than_on_a_rest():
    """The thumb's note goes on where the fingers have a rest."""
    [bar] = written("Am { i+m+a , - , - , - } fermata on 1")
    assert len(bar.element.findall(".//fermata")) == 1
    [bar] = written("Am { p+m.for-1 , - , - , - } fermata on 2")
    [note] = [one for one in bar.notes if one.element.find("notations/fermata") is not None]
    assert (note.voice, note.rest) == ("2", False)


def test_a_fermata_in_a_bar_of_rest_stands_on_the_rest():
    """Nothing is lost."""
    assert len(root_of("rest fermata on 3").findall(".//fermata")) == 1


@pytest.mark.parametrize("layout", ["notation-and-tab", "two-parts", "notation", "tab"])
@pytest.mark.parametrize("bar", ["rest", "Am { p , m , - , - } stop on 3"])
def test_a_fermata_stands_once_in_every_layout(layout: str, bar: str):
    """On tablature that is alone its rest is seen for it."""
    root = root_of(f"{bar} fermata on 4", layout=layout)
    [fermata] = root.findall(".//fermata")
    note = fermata.getparent().getparent()
    assert note.find("rest") is not None
    assert note.get("print-object") is None


def test_a_note_held_as_long_as_its_place_needs_no_tie():
    """Up to a count, or for beats: what follows in its voice is a rest."""
    bars = written("Am { p.for-2, -, m.to-4, - }")
    assert lengths(bars, "1") == [(0, 2, 1, ())]
    assert lengths(bars, "2") == [(0, 0, 2, ())]


def test_a_note_held_across_others_of_its_hand_has_a_voice_of_its_own():
    """Voice 3 is the fingers' second; where it is silent nothing is seen."""
    bars = written("Am { p+a.to-4, i, m, i }")
    assert lengths(bars, "3") == [(0, 0, 3, ())]
    assert [onset for _, onset, _, _ in lengths(bars, "1")] == [1, 2, 3]
    assert not [
        note for note in bars[0].notes if note.rest and note.element.get("print-object") != "no"
    ]


def test_a_note_held_over_the_bar_line_is_tied():
    """Six quarters are a whole note and a half note; on tablature the second has no digit."""
    bars = written("Am { p+a.for-6, i, m, i } | Am { p, i, m, i }")
    assert lengths(bars, "3") == [(0, 0, 4, ("start",)), (1, 0, 2, ("stop",))]
    hidden = [
        note.element.get("print-object")
        for bar in bars
        for note in bar.notes
        if note.voice == "7" and not note.rest
    ]
    assert hidden == [None, "no"]


def test_a_note_tied_over_the_bar_line_has_no_let_ring_tie_besides():
    """It is written as long as it sounds."""
    body = "Am { p , - , a.for-4 , - } | Am { - , - , - , - }"
    ties = [tied.get("type") for tied in root_of(body, ring_ties=True).iter("tied")]
    assert [kind for kind in ties if kind != "let-ring"] == ["start", "stop"]
    assert ties.count("let-ring") == 1  # The thumb's note.


def test_a_note_held_over_two_bar_lines_and_through_a_change_keeps_its_name():
    """A sharp in one chord stays one in the next (the tie leads to the same pitch)."""
    bars = written("E7 { a3@1.for-9 , p , p , p } | Fm { - , p , p , p } | Fm { - , p , p , p }")
    names = [
        note.text("pitch/step")
        for bar in bars
        for note in bar.notes
        if note.midi == 56 and note.staff == "1"
    ]
    assert names == ["G", "G", "G"]


def test_the_last_bar_ties_into_nothing():
    """There is no note for the tie to lead to."""
    assert lengths(written("Am { p+a.for-6, i, m, i }"), "3") == [(0, 0, 4, ())]


def test_notes_held_across_one_another_beyond_two_voices_are_told():
    """The third is written up to the next note of its hand."""
    timeline = piece("Am { a.for-3 , m.for-2 , i , - }")
    assert left_out_of(timeline) == (
        LeftOut("how long notes are held beyond two at once of a hand", 1, "verse"),
    )
