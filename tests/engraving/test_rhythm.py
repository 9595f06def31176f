"""Written values show the beat: splits, dots, tuplets, beams.

How notes are split and beamed is common practice, no source, but for the names of values
(MusicXML 4.0 `note-type-value`).
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.engraving.beams import engraved
from fretloom.engraving.rhythm import written_values
from fretloom.engraving.values import TooFine, value_of
from fretloom.trade.music.meter import Meter, parse_meter

SHORT = {"whole": "1", "half": "2", "quarter": "4", "eighth": "8", "16th": "16", "32nd": "32"}


def meter_of(text: str) -> Meter:
    """Read a meter with how it is counted, as a lesson has it: `6/8 in 6`."""
    signature, _, pulses = text.partition(" in ")
    return parse_meter(signature, int(pulses) if pulses else None)


def values(meter: str, edges: str, rests: str = "", start: str = "0") -> str:
    """Write a voice as text: `4. 8~4` is a dotted quarter, then an eighth tied to a quarter."""
    places = tuple(Fraction(edge) for edge in edges.split())
    silent = tuple(str(place) in rests.split() for place in range(len(places) - 1))
    spans = written_values(meter_of(meter), Fraction(start), places, silent)
    return " ".join("~".join(SHORT[p.value] + "." * p.dots for p in span) for span in spans)


def ratios(meter: str, edges: str) -> list[str]:
    """Return the tuplet ratio of each value of a voice, the outermost first."""
    places = tuple(Fraction(edge) for edge in edges.split())
    spans = written_values(meter_of(meter), Fraction(0), places, (False,) * (len(places) - 1))
    return [
        " ".join(f"{t.actual}:{t.normal}" for t in piece.path) for span in spans for piece in span
    ]


@pytest.mark.parametrize(
    ("meter", "edges", "expected"),
    [
        ("4/4", "0 4", "1"),
        ("4/4", "0 3 4", "2. 4"),
        ("4/4", "0 1 3 4", "4 2 4"),
        ("4/4", "0 3/2 5/2 4", "4. 8~8 4."),
        ("4/4", "0 1/2 3/2 2 4", "8 4 8 2"),
        ("4/4", "0 5/2 4", "2~8 4."),
        ("4/4", "0 1/2 2 4", "8 4. 2"),
        ("4/4", "0 1/2 5/2 4", "8 4.~8 4."),
        ("2/2", "0 1 3 4", "4 2 4"),
        ("3/2", "0 1 6", "4 4~1"),
        ("2/2", "0 1/2 7/4 4", "8 8~8. 16~2"),
        ("4/4 in 2", "0 1 5/2 3 4", "4 4~8 8 4"),
        ("6/8 in 6", "0 1 2 3", "4 8~8 4"),
        ("6/4", "0 2 6", "2 4~2."),
        ("3/4", "0 1 3", "4 2"),
        ("3/4", "0 1/2 3", "8 8~2"),
        ("6/8", "0 3", "2."),
        ("6/8", "0 1/2 2 3", "8 4~8 4"),
        ("6/8", "0 2 3", "4.~8 4"),
        ("6/8", "0 3/4 3/2 3", "8. 8. 4."),
        ("6/8", "0 3/8 3/4 9/8 3/2 3", "16. 16. 16. 16. 4."),
        ("12/8", "0 3 6", "2. 2."),
        ("12/8", "0 3/2 9/2 6", "4. 4.~4. 4."),
        ("2+2+3/8", "0 2 7/2", "2 4."),
        ("2+2+3/8", "0 1 7/2", "4 4~4."),
        ("5/4", "0 5", "2.~2"),
        ("9/8", "0 9/2", "2.~4."),
        ("7/8", "0 7/2", "2~4."),
        ("3+2/8", "0 5/2", "4.~4"),
        ("3+2/4", "0 1 5", "4 2~2"),
        ("4/4", "0 1/4 1 4", "16 8. 4~2"),
    ],
)
def test_notes_are_split_so_that_the_beats_show(meter: str, edges: str, expected: str):
    """A bar of four shows its middle, compound and mixed meters show every beat."""
    assert values(meter, edges) == expected


@pytest.mark.parametrize(
    ("meter", "edges", "expected"),
    [
        ("4/4", "0 4", "1"),
        ("4/4", "0 3/2 4", "4~8 8~2"),
        ("4/4", "0 3 4", "2~4 4"),
        ("3/4", "0 2 3", "4~4 4"),
        ("6/8", "0 3/2 3", "4. 4."),
        ("6/8", "0 5/2 3", "4.~4 8"),
    ],
)
def test_rests_are_not_syncopated(meter: str, edges: str, expected: str):
    """The first stretch is a rest: it fills up beat after beat, dotted only for dotted beats."""
    assert values(meter, edges, rests="0") == expected


@pytest.mark.parametrize(
    ("meter", "edges", "expected"),
    [
        ("1/4", "0 1/3 2/3 1", ["3:2"] * 3),
        ("1/4", "0 2/3 1", ["3:2"] * 2),
        ("1/4", "0 1/5 2/5 3/5 4/5 1", ["5:4"] * 5),
        ("1/4", "0 1/6 1/3 1/2 2/3 5/6 1", ["6:4"] * 6),
        ("1/4", "0 1/7 2/7 3/7 4/7 5/7 6/7 1", ["7:4"] * 7),
        ("1/4", "0 1/9 2/9 1/3 4/9 5/9 2/3 7/9 8/9 1", ["9:8"] * 9),
        ("1/4", "0 1/6 1/3 2/3 1", ["3:2"] * 4),
        ("1/4", "0 1/2 2/3 5/6 1", ["", "3:2", "3:2", "3:2"]),
        ("1/4", "0 1/9 2/9 1/3 2/3 1", ["3:2 3:2"] * 3 + ["3:2"] * 2),
        ("6/8", "0 1/2 1 3/2 3", [""] * 4),
        ("6/8", "0 3/10 6/10 9/10 12/10 3/2 3", ["5:3"] * 5 + [""]),
        ("6/8", "0 1/2 2/3 5/6 1 3", ["", "3:2", "3:2", "3:2", "", ""]),
        ("2/2", "0 2/3 4/3 2 4", ["3:2"] * 3 + [""]),
        ("4/4 in 2", "0 2/3 4/3 2 4", ["3:2"] * 3 + [""]),
    ],
)
def test_tuplets_are_found_from_onsets_alone(meter: str, edges: str, expected: list[str]):
    """Three in a beat is 3:2, five 5:4 (5:3 in a dotted beat), groups are found where they are."""
    assert ratios(meter, edges) == expected


def test_a_note_that_leaves_a_triplet_is_tied_there():
    """The last third of a beat that lasts on is a triplet eighth tied to what follows."""
    assert values("2/4", "0 1/3 2/3 2") == "8 8 8~4"


def test_values_fill_each_note_exactly():
    """Odd lengths and starts, such as a bar that begins inside a triplet."""
    edges = (Fraction(0), Fraction(1, 3), Fraction(5, 6), Fraction(4, 3))
    spans = written_values(parse_meter("4/4"), Fraction(8, 3), edges, (False, True, False))
    assert [sum(p.length for p in span) for span in spans] == [
        Fraction(1, 3), Fraction(1, 2), Fraction(1, 2),
    ]  # fmt: skip


def beams(meter: str, edges: str, rests: str = "") -> list[str]:
    places = tuple(Fraction(edge) for edge in edges.split())
    silent = tuple(str(place) in rests.split() for place in range(len(places) - 1))
    found = engraved(meter_of(meter), Fraction(0), places, silent)[1]
    return ["/".join(one) for span in found for one in span]


@pytest.mark.parametrize(
    ("meter", "edges", "rests", "expected"),
    [
        ("2/4", "0 1/2 1 3/2 2", "", ["begin", "end", "begin", "end"]),
        ("2/4", "0 1/2 1 3/2 2", "0", ["", "", "begin", "end"]),
        ("1/4", "0 1/2 3/4 1", "", ["begin", "continue/begin", "end/end"]),
        ("1/4", "0 3/4 1", "", ["begin", "end/backward hook"]),
        ("1/4", "0 1/4 1", "", ["begin/forward hook", "end"]),
        ("6/8", "0 1/2 1 3/2 2 5/2 3", "", ["begin", "continue", "end"] * 2),
        ("3/8", "0 1/2 1 3/2", "", ["begin", "continue", "end"]),
        ("7/8", "0 1/2 1 3/2 2 5/2 3 7/2", "", ["begin", "end"] * 2 + ["begin", "continue", "end"]),
        ("3+2/8", "0 1/2 1 3/2 2 5/2", "", ["begin", "continue", "end", "begin", "end"]),
        ("6/8 in 6", "0 1/2 1 3/2 2 5/2 3", "", ["begin", "continue", "end"] * 2),
        (
            "9/8",
            "0 1/2 1 3/2 3 7/2 4 9/2",
            "",
            ["begin", "continue", "end", "", *["begin", "continue", "end"]],
        ),
        ("4/4", "0 1/2 1 3/2 2 5/2 3 7/2 4", "", ["begin", "continue", "continue", "end"] * 2),
        ("4/4 in 2", "0 1/2 1 3/2 2 4", "", ["begin", "continue", "continue", "end", ""]),
        ("4/4", "0 1/2 1 3/2 2 4", "2", ["begin", "end", "", "", ""]),
        ("4/4", "0 1/2 1 3/2 2 4", "0", ["", "begin", "continue", "end", ""]),
        ("4/4", "1/2 1 3/2 2 5/2", "", ["begin", "continue", "end", ""]),
        (
            "4/4",
            "0 1/2 3/4 1 3/2 2 4",
            "",
            ["begin", "continue/begin", "end/end", "begin", "end", ""],
        ),
        ("4/4", "0 1/3 2/3 1 3/2 2 4", "", ["begin", "continue", "end", "begin", "end", ""]),
        ("4/4", "0 3/4 1 3/2 2 4", "", ["begin", "end/backward hook", "begin", "end", ""]),
        ("3/4", "0 1/2 1 3/2 2 5/2 3", "", ["begin", "end"] * 3),
        ("2/2", "0 1/2 1 3/2 2 4", "", ["begin", "continue", "continue", "end", ""]),
    ],
)
def test_beams_join_the_notes_of_a_beat(meter: str, edges: str, rests: str, expected: list[str]):
    """Rests and groups part them: half a bar of 4/4 that has eighths alone, the threes of 6/8 however
    they are counted, the groups of 7/8 (2+2+3, as music21 beams it, too).
    """
    assert beams(meter, edges, rests) == expected


def test_every_value_has_its_length():
    """Names double and halve; a dot adds half (MusicXML 4.0 `dot`)."""
    assert value_of(Fraction(4)) == ("whole", 0)
    assert value_of(Fraction(3, 8)) == ("16th", 1)
    assert value_of(Fraction(5, 8)) is None


def test_a_value_below_a_1024th_is_refused():
    """MusicXML has no shorter note."""
    with pytest.raises(TooFine, match="no note value"):
        value_of(Fraction(1, 512))
