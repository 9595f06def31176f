"""How long a note is written that rings on: as far as one value says it.

The rule is that of the house (docs/explanation/notation-decisions.md); common practice of engraving,
no source.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from timelines import bar, note

from fretloom.engraving.lengths import written_ends
from fretloom.engraving.rhythm import written_values
from fretloom.engraving.voices import voices_of
from fretloom.performance.events import SlurredNote, TimedBar
from fretloom.performance.manner import NoteTechnique, TimedSlap
from fretloom.trade.music.meter import Meter, parse_meter

#: A brush away from string 1 over five strings, at the place of its key.
BRUSHES = {
    at: [
        note(at, string, 0, "i", order=5 - string, gesture=at, brush=-1)
        for string in range(5, 0, -1)
    ]
    for at in (0, 2)
}
METERS = [
    "2/4",
    "3/4",
    "4/4",
    "5/4",
    "2/2",
    "3/2",
    "6/4",
    "3/8",
    "5/8",
    "6/8",
    "7/8",
    "9/8",
    "12/8",
    "3+3+2/8",
]


def meter_of(text: str) -> Meter:
    signature, _, pulses = text.partition(" in ")
    return parse_meter(signature, int(pulses) if pulses else None)


def ends(meter: str, edges: str, rests: str = "", start: str = "0") -> str:
    """Where each note ends, in quarter notes from the bar's start."""
    places = tuple(Fraction(edge) for edge in edges.split())
    kinds = tuple("rest" if str(at) in rests.split() else "note" for at in range(len(places) - 1))
    found = written_ends(meter_of(meter), Fraction(start), places, kinds)
    return " ".join(
        str(right if end is None else end) for end, right in zip(found, places[1:], strict=True)
    )


@pytest.mark.parametrize(
    ("meter", "edges", "expected"),
    [
        ("4/4", "0 4", "4"),
        ("4/4", "0 3 4", "3 4"),
        ("4/4", "0 1 3 4", "1 3 4"),
        ("4/4", "0 3/2 4", "3/2 2"),
        ("4/4", "0 1 4", "1 2"),
        ("4/4", "0 1/2 4", "1/2 1"),
        ("4/4", "0 1/2 3/2 4", "1/2 1 2"),
        ("4/4", "0 7/2 4", "2 4"),
        ("4/4", "0 2 7/2 4", "2 7/2 4"),
        ("4/4", "0 5/2 4", "2 3"),
        ("4/4", "0 1 5/2 4", "1 2 3"),
        ("4/4", "0 5/4 4", "1 2"),
        ("4/4", "0 7/4 4", "3/2 2"),
        ("4/4", "0 1/4 4", "1/4 1"),
        ("4/4", "0 1/4 1/2 4", "1/4 1/2 1"),
        ("4/4", "0 1/3 2/3 4", "1/3 2/3 1"),
        ("4/4", "0 1/3 4", "1/3 1"),
        ("4/4", "0 4/3 4", "1 2"),
        ("2/4", "0 1/2 3/2 2", "1/2 1 2"),
        ("3/4", "0 1 3", "1 3"),
        ("3/4", "0 5/2 3", "2 3"),
        ("3/4", "0 1/2 3", "1/2 1"),
        ("2/2", "0 1 3 4", "1 3 4"),
        ("2/2", "0 1 4", "1 2"),
        ("2/2", "0 1/2 4", "1/2 1"),
        ("6/4", "0 1 6", "1 3"),
        ("6/4", "0 1/2 6", "1/2 1"),
        ("5+3/8", "0 1/2 4", "1/2 5/2"),
        ("1/4", "0 5/7 6/7 1", "4/7 6/7 1"),
        ("1/4", "0 1/3 4/7 13/21 2/3 1", "1/3 11/21 13/21 2/3 1"),
        ("6/8", "0 3", "3"),
        ("6/8", "0 2 3", "3/2 3"),
        ("6/8", "0 1/2 3", "1/2 3/2"),
        ("6/8", "0 1 3", "1 3/2"),
        ("6/8 in 6", "0 1/2 2 3", "1/2 3/2 3"),
        ("12/8", "0 3/2 6", "3/2 3"),
        ("12/8", "0 9/2 6", "3 6"),
        ("2+2+3/8", "0 2 7/2", "2 7/2"),
        ("2+2+3/8", "0 1 7/2", "1 2"),
        ("2+2+3/8", "0 1/2 7/2", "1/2 1"),
        ("2+2+3/8", "0 5/2 7/2", "2 7/2"),
        ("5/8", "0 5/2", "5/2"),
        ("7/8", "0 7/2", "7/2"),
        ("9/8", "0 9/2", "9/2"),
        ("5/4", "0 5", "5"),
    ],
)
def test_a_note_lasts_as_long_as_one_value_says(meter: str, edges: str, expected: str):
    """From a beat to the half bar, off the beat to the next one; only a whole odd bar is tied."""
    assert ends(meter, edges) == expected


def test_a_rest_keeps_its_length_and_a_held_note_too():
    """Only notes that ring on are written shorter than they have room."""
    edges = (Fraction(0), Fraction(1, 2), Fraction(4))
    found = written_ends(parse_meter("4/4"), Fraction(0), edges, ("rest", "held"))
    assert found == (None, None)


def test_a_pickup_is_written_as_the_end_of_a_bar():
    """A bar of one and a half quarters begins on the half of beat 3."""
    assert ends("4/4", "0 1/2 3/2", start="5/2") == "1/2 3/2"
    assert ends("4/4", "0 3/2", start="5/2") == "3/2"


def test_rests_follow_and_meet():
    """The thumb's four quarters, and above them what a student counts: and, and."""
    played = bar(
        "4/4",
        *(note(at, 6, 0, "p") for at in range(4)),
        note("3/2", 3, 0, "i"),
        note("5/2", 2, 0, "m"),
    )
    fingers, thumb = voices_of(played).voices
    assert [(chord.start, bool(chord.heads)) for chord in fingers.chords] == [
        (0, False), (Fraction(3, 2), True), (2, False), (Fraction(5, 2), True), (3, False),
    ]  # fmt: skip
    assert all(chord.heads for chord in thumb.chords)


def of_fingers(played: TimedBar) -> list[tuple[object, int, bool]]:
    """Where each chord of the fingers' voice begins, how many notes it has, and whether it is hidden."""
    return [(one.start, len(one.heads), one.hidden) for one in voices_of(played).voices[0].chords]


def test_a_rest_behind_a_note_goes_on_where_all_strings_are_damped():
    """One rest and not two."""
    played = evolve(bar("4/4", note("3/2", 3, 0, "i")), stop=Fraction(3))
    assert of_fingers(played) == [(0, 0, False), (Fraction(3, 2), 1, False), (2, 0, False)]


def test_a_gap_for_a_held_note_is_not_a_rest():
    """What is out of sight is not joined to a rest before or behind it."""
    held = NoteTechnique(held=Fraction(2))
    across = note(1, 1, 0, "a", ring=Fraction(2), technique=held)
    played = bar("4/4", across, note(2, 3, 0, "i"))
    assert of_fingers(played)[:3] == [(0, 0, False), (1, 0, True), (2, 1, False)]
    first = note(0, 1, 0, "a", ring=Fraction(2), technique=held)
    slap = TimedSlap(onset=Fraction(1, 2), length=Fraction(1, 2))
    damped = evolve(bar("4/4", first, note(1, 3, 0, "i")), slaps=(slap,))
    assert of_fingers(damped)[:3] == [(0, 0, True), (Fraction(1, 2), 0, False), (1, 1, False)]


def test_a_damped_note_is_not_held():
    """It is short anyway: one value, and a rest."""
    short = note("1/2", 3, 0, "i", ring=Fraction(1), technique=NoteTechnique(lasting="damped"))
    assert of_fingers(bar("4/4", short)) == [
        (0, 0, False),
        (Fraction(1, 2), 1, False),
        (1, 0, False),
    ]


def test_a_slur_is_not_parted_by_a_rest():
    """The plucked note lasts up to the one that the hammer makes, even over a beat."""
    hammered = SlurredNote(kind="hammer-on", onset=Fraction(3, 2), fret=2, midi=57)
    plucked = note("1/2", 3, 0, "i", slurs=(hammered,))
    [voice] = voices_of(bar("4/4", plucked)).voices
    assert [(chord.start, bool(chord.heads)) for chord in voice.chords] == [
        (0, False), (Fraction(1, 2), True), (Fraction(3, 2), True), (2, False),
    ]  # fmt: skip


def test_the_other_hand_has_no_rest_in_sight_under_a_brush():
    """What sounds over all strings leaves nothing over; a rest elsewhere is seen."""
    played = bar("4/4", note(0, 6, 0, "p"), *BRUSHES[2], note(3, 6, 0, "p"))
    fingers = voices_of(played).voices[0]
    assert [(chord.start, chord.hidden) for chord in fingers.chords if not chord.heads] == [
        (0, False)
    ]
    brushed = bar("4/4", *BRUSHES[0], note(2, 6, 0, "p"))
    assert not any(
        chord.hidden for one in voices_of(brushed).voices for chord in one.chords if chord.heads
    )
    plucked = [
        note(0, string, 0, finger) for string, finger in ((4, "i"), (3, "m"), (2, "a"), (1, "c"))
    ]
    assert not voices_of(bar("4/4", *plucked, note(2, 6, 0, "p"))).voices[1].chords[0].hidden
    hidden = [
        (chord.start, chord.hidden)
        for chord in voices_of(brushed).voices[1].chords
        if not chord.heads
    ]
    assert hidden == [(0, True)]


@given(st.sampled_from(METERS), st.sets(st.integers(1, 47), max_size=6), st.sampled_from([2, 3, 4]))
def test_only_a_whole_bar_is_tied(meter: str, cuts: set[int], parts: int):
    """Whatever is plucked when, a note that does not fill an odd bar is one value and ends in its bar."""
    length = parse_meter(meter).length
    inner = sorted({Fraction(cut, parts) for cut in cuts if Fraction(cut, parts) < length})
    edges = (Fraction(0), *inner, length)
    kinds = ("note",) * (len(edges) - 1)
    ends = written_ends(parse_meter(meter), Fraction(0), edges, kinds)
    found = [right if end is None else end for end, right in zip(ends, edges[1:], strict=True)]
    with_rests = sorted({*edges, *found})
    silent = tuple(at not in edges for at in with_rests[:-1])
    spans = written_values(parse_meter(meter), Fraction(0), tuple(with_rests), silent)
    for (left, right), rest, span in zip(pairwise(with_rests), silent, spans, strict=True):
        assert rest or len(span) == 1 or (left, right) == (0, length)
    for begin, after, end in zip(edges, edges[1:], found, strict=False):
        assert begin < end <= after
