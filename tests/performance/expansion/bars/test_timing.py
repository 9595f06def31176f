"""When which string is plucked: the timing the notation promises, and every way to write a beat."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from timeline_lessons import bars_of, expanded_text, plucked, rings

from fretloom.performance.expansion.expand import Expansion

WHOLE_LESSON = Path(__file__).with_name("kiln_lane_shuffle.lesson").read_text(encoding="utf-8")


def _kiln_lane() -> Expansion:
    return expanded_text(WHOLE_LESSON)


def _bar(section: str, number: int):
    expansion = _kiln_lane()
    assert expansion.diagnostics == ()
    (found,) = (one for one in expansion.timeline.sections if one.name == section)
    return found.bars[number - 1].bar


def test_bar_4_of_the_verse() -> None:
    """The example the notation's design gives in full: B7 with the hop of the middle finger."""
    bar = _bar("verse", 4)
    notes = [(note.onset, note.string, note.fret, note.finger) for note in bar.notes]
    half = Fraction(1, 2)
    assert notes == [
        (0, 5, 2, "p"),
        (1, 4, 1, "p"),
        (1 + half, 2, 0, "m"),
        (2, 6, 2, "p"),
        (2 + half, 3, 2, "i"),
        (3, 4, 1, "p"),
        (3 + half, 2, 0, "m"),
    ]
    # Scientific pitch: D3 F#3 D4 A2 C4 F#3 D4, sounding with the capo at 3.
    assert [note.midi for note in bar.notes] == [50, 54, 62, 45, 60, 54, 62]
    assert rings(bar)[0, 5] == 2


def test_a_split_starts_the_bass_order_anew() -> None:
    """In `E:2 B7:2` beats 1 and 2 lie over E, 3 and 4 over B7 from its first bass string."""
    bar = _bar("close", 1)
    assert [(one.onset, one.voicing.name) for one in bar.voicings] == [(0, "E"), (2, "B7")]
    thumb = [(note.onset, note.string) for note in bar.notes if note.finger == "p"]
    assert thumb == [(0, 6), (1, 4), (2, 5), (3, 4)]


def _one(beats: str, *fields: str, voicing: str = "E") -> list[str]:
    (bar,) = bars_of(f"section verse\n  {voicing} {{ {beats} }}\n", *fields)
    return plucked(bar)


@pytest.mark.parametrize(
    ("beats", "notes"),
    [
        ("p, -, -, -", ["0 p6@0"]),
        ("p i m, -, -, -", ["0 p6@0", "1/3 i3@1", "2/3 m2@0"]),
        ("[p i] m, -, -, -", ["0 p6@0", "1/4 i3@1", "1/2 m2@0"]),
        ("[p [i m]] -, -, -, -", ["0 p6@0", "1/4 i3@1", "3/8 m2@0"]),
        ("p+a, -, -, -", ["0 p6@0", "0 a1@0"]),
        ("- p, -, -, -", ["1/2 p6@0"]),
        ("p5, p, i2, a@3", ["0 p5@2", "1 p6@0", "2 i2@0", "3 a1@3"]),
        (
            "p p p p p, -, p, -",
            ["0 p6@0", "1/5 p4@2", "2/5 p5@2", "3/5 p4@2", "4/5 p6@0", "2 p4@2"],
        ),
    ],
)
def test_ways_to_write_a_beat(beats: str, notes: list[str]) -> None:
    """Items share their beat, groups their item, exactly."""
    assert _one(beats) == notes


@pytest.mark.parametrize(
    ("meter", "beats", "onsets"),
    [
        ("6/8", "p i m, p i m", "0 1/2 1 3/2 2 5/2"),
        ("6/8 in 6", "p, i, m, p, i, m", "0 1/2 1 3/2 2 5/2"),
        ("12/8", "p, p, p, p", "0 3/2 3 9/2"),
        ("2+2+3/8", "p i, p i, p i m", "0 1/2 1 3/2 2 5/2 3"),
        ("3/4", "p, i, m", "0 1 2"),
        ("2/2", "p, p", "0 2"),
    ],
)
def test_beats_are_those_of_the_meter(meter: str, beats: str, onsets: str) -> None:
    """A comma separates what the foot taps."""
    assert " ".join(note.split()[0] for note in _one(beats, f"meter {meter}")) == onsets


def test_six_eighths_in_two_meters() -> None:
    """Case c01 (after MarkCWirt/MIDIUtil#14): the same six eighths in 6/8 and in 3/4."""
    compound = _one("p i m, a m i", "meter 6/8")
    simple = _one("p i, m a, m i", "meter 3/4")
    assert compound == simple
    assert len(compound) == 6


def test_groups_of_seven_eighths() -> None:
    """Case c03 (after cuthbertLab/music21#992): the grouping decides where the beats fall."""
    for groups, onsets in (("2+2+3", "0 1 2"), ("3+2+2", "0 3/2 5/2"), ("2+3+2", "0 1 5/2")):
        notes = _one("p, p, p", f"meter {groups}/8")
        assert " ".join(note.split()[0] for note in notes) == onsets


def test_swing_changes_nothing_here() -> None:
    """Case c05 (MusicXML 4.0, `swing`): swing changes when eighths sound, not what is written."""
    assert _one("p i, p i, p i, p i", "swing 2:1") == _one("p i, p i, p i, p i")


def test_an_alternating_bass_with_a_pinch() -> None:
    """Case g01 (a folk picking page and a magazine article on the style): C, MIDI numbers."""
    (bar,) = bars_of("section verse\n  C { p5+m1, p4 i2, p5 m1, p4 i2 }\n")
    at: dict[Fraction, list[int]] = {}
    for note in bar.notes:
        at.setdefault(note.onset, []).append(note.midi)
    assert list(at.values()) == [[48, 64], [52], [60], [48], [64], [52], [60]]
    assert [str(onset) for onset in at] == ["0", "1", "3/2", "2", "5/2", "3", "7/2"]


@pytest.mark.parametrize(
    ("voicing", "order", "midi"),
    [
        ("xx0232", "4 3 4 3", [50, 57, 50, 57]),
        ("xx0232", "4 5 4 5", [50, 45, 50, 45]),
        ("2x0232", "6 4 6 4", [42, 50, 42, 50]),
    ],
)
def test_basses_that_teachers_play_on_d(voicing: str, order: str, midi: list[int]) -> None:
    """Case g03 (two tutorial pages): string 5 open is the fifth although the shape leaves it out."""
    name = "D/F#" if voicing.startswith("2") else "D"
    text = f"voicings\n  {name}.two {voicing} bass {order}\nsection verse\n  {name}.two using bassline\n"
    (bar,) = bars_of(text)
    assert [note.midi for note in bar.notes] == midi
    assert not any(note.muted for note in bar.notes)


def test_a_roll_shares_its_onset() -> None:
    """A roll is one gesture at one instant, its order kept."""
    (bar,) = bars_of("section verse\n  E { (p i m a), -, -, - }\n")
    assert [(note.onset, note.order, note.gesture, note.finger) for note in bar.notes] == [
        (0, 0, 0, "p"), (0, 1, 0, "i"), (0, 2, 0, "m"), (0, 3, 0, "a"),
    ]  # fmt: skip


def test_a_brush_skips_what_is_not_played() -> None:
    """The thumb passes over strings that the voicing leaves out."""
    (bar,) = bars_of("section verse\n  D { p6-3, i1-3, -, - }\n")
    assert plucked(bar) == ["0 p4@0", "0 p3@2", "1 i1@2", "1 i2@3", "1 i3@2"]
    assert [note.brush for note in bar.notes] == [1, 1, -1, -1, -1]
    assert [note.gesture for note in bar.notes] == [0, 0, 1, 1, 1]


def test_slurs_share_the_length_of_the_pluck() -> None:
    """`i3@0h2p0` on one beat: three notes of a third each from one pluck."""
    (bar,) = bars_of("section verse\n  E { i3@0h2p0, -, -, - }\n")
    (note,) = bar.notes
    assert [(slur.kind, str(slur.onset), slur.midi) for slur in note.slurs] == [
        ("hammer-on", "1/3", 57),
        ("pull-off", "2/3", 55),
    ]


def test_marks() -> None:
    """Accent, dead note and harmonic."""
    (bar,) = bars_of("section verse\n  E { m!, ix, a1@12*, a1@7* }\n")
    accent, dead, octave, twelfth = bar.notes
    assert accent.accent
    assert dead.dead
    assert (octave.harmonic, octave.midi, twelfth.midi) == (True, 76, 83)


@pytest.mark.parametrize(
    ("fret", "above"), [(12, 12), (7, 19), (19, 19), (5, 24), (24, 24), (4, 28), (9, 28), (16, 28), (3, 31)]
)  # fmt: skip
def test_natural_harmonics(fret: int, above: int) -> None:
    """The harmonic series (partials 2 to 6 over the open string), rounded to semitones."""
    (bar,) = bars_of(f"section verse\n  E {{ p6@{fret}*, -, -, - }}\n", "capo 0")
    assert bar.notes[0].midi == 40 + above


def test_with_and_without() -> None:
    """A pluck more takes the walk's next string and leaves the walk alone; one less keeps its place."""
    body = "section verse using bassline\n  E with a@3 on 3 | E with p on 2& | E without p on 2\n"
    added, extra, fewer = bars_of(body)
    assert plucked(added) == ["0 p6@0", "1 p4@2", "2 p5@2", "2 a1@3", "3 p4@2"]
    assert plucked(extra) == ["0 p6@0", "1 p4@2", "3/2 p5@2", "2 p5@2", "3 p4@2"]
    assert plucked(fewer) == ["0 p6@0", "2 p5@2", "3 p4@2"]


def test_plucks_put_in_last_to_the_end_of_their_place() -> None:
    """`with m@1h3 on 2&` has half a beat, and its hammer-on half of that."""
    (bar,) = bars_of("section verse using bassline\n  E with m@1h3 on 2&\n")
    (note,) = (one for one in bar.notes if one.finger == "m")
    assert (note.onset, note.length) == (Fraction(3, 2), Fraction(1, 2))
    assert note.slurs[0].onset == Fraction(7, 4)


def test_sixteenths_are_counted() -> None:
    """`1e&a` for sixteenths."""
    (bar,) = bars_of(
        "section verse using bassline\n  E with a on 1e with a on 2a with a on 3trip\n"
    )
    assert [str(note.onset) for note in bar.notes if note.finger == "a"] == ["1/4", "7/4", "7/3"]


@pytest.mark.parametrize(
    ("split", "changes"),
    [
        ("E A", ["0", "2"]),
        ("E:3 A:1", ["0", "3"]),
        ("E:3 A", ["0", "3"]),
        ("E A B7", ["0", "4/3", "8/3"]),
        ("E:1.5 A:2.5", ["0", "3/2"]),
        ("E:1/2 A B7", ["0", "1/2", "9/4"]),
    ],
)
def test_splits(split: str, changes: list[str]) -> None:
    """Voicings share a bar equally, as written, or what is left."""
    (bar,) = bars_of(f"section verse using bassline\n  {split}\n")
    assert [str(one.onset) for one in bar.voicings] == changes


def test_splits_count_the_beats_of_the_meter() -> None:
    """In 6/8 a beat is a dotted quarter; in 2+2+3/8 the last beat is the long one."""
    (bar,) = bars_of("section verse\n  E:1 A:1 { p, p }\n", "meter 6/8")
    assert [one.onset for one in bar.voicings] == [0, Fraction(3, 2)]
    (bar,) = bars_of("section verse\n  E:2 A:1 { p, p, p }\n", "meter 2+2+3/8")
    assert [one.onset for one in bar.voicings] == [0, 2]


def test_the_walk_goes_on_over_the_same_voicing() -> None:
    """It starts again at another voicing and at a bar line, not where the same one follows."""
    same, back = bars_of("section verse using bassline\n  E E | E A\n")
    assert [note.string for note in same.notes] == [6, 4, 5, 4]
    assert [note.string for note in back.notes] == [6, 4, 5, 4]
    assert [note.fret for note in back.notes] == [0, 2, 0, 2]


def test_early() -> None:
    """`B7 early on 4&` belongs to the bar before: its hand is there, and the thumb with it."""
    body = "section verse using plain\n  E | B7 early on 4\n"
    first, second = bars_of(body)
    assert [(one.onset, one.voicing.name, one.early) for one in first.voicings] == [
        (0, "E", False),
        (3, "B7", True),
    ]
    assert plucked(first)[-2:] == ["3 p5@2", "7/2 m2@0"]
    assert plucked(second)[0] == "0 p5@2"


def test_release() -> None:
    """From the release on everything plucked is open, on strings the voicing mutes as well."""
    (bar,) = bars_of("section verse using bassline\n  B7 release on 3\n")
    assert plucked(bar) == ["0 p5@2", "1 p4@1", "2 p6@0", "3 p4@0"]
    assert rings(bar)[1, 4] == 1


def test_pickup_takes_the_end_of_the_pattern() -> None:
    """A pickup plays what the pattern has there, with the strings the thumb has come to."""
    pickup, full = bars_of("section verse using plain\n  pickup 1: E\n  E\n")
    assert plucked(pickup) == ["0 p4@2", "1/2 m2@0"]
    assert (pickup.start, pickup.length, pickup.kind) == (3, 1, "pickup")
    assert full.start == 0


def test_pickup_from_a_count() -> None:
    """Case e07 (MusicXML 4.0, `implicit`): a section that starts on 4&."""
    pickup, _ = bars_of("section verse using plain\n  pickup from 4&: E\n  E\n")
    assert plucked(pickup) == ["0 m2@0"]
    assert (pickup.start, pickup.length) == (Fraction(7, 2), Fraction(1, 2))
    assert str(pickup.meter.count_at(pickup.start)) == "4&"


def test_pickup_written_out_has_its_own_beats() -> None:
    """In `{ }` stand only the beats of the pickup."""
    pickup, _ = bars_of("section verse using plain\n  pickup 2: E { p, a m }\n  E\n")
    assert plucked(pickup) == ["0 p6@0", "1 a1@0", "3/2 m2@0"]
    pickup, _ = bars_of(
        "section verse\n  pickup from 6: E { a }\n  E { p i m, p i m }\n", "meter 6/8"
    )
    assert (pickup.start, pickup.length) == (Fraction(5, 2), Fraction(1, 2))


def test_pickup_and_last_bar_make_one() -> None:
    """Case c07 (after CPJKU/partitura#52): a pickup of 1, 7 bars and a last one of 3 make 32 quarters."""
    bars = bars_of(
        "section verse using plain\n  pickup 1: E\n  E x7\n  last 3: E\nform\n  verse x2\n"
    )
    assert sum(bar.length for bar in bars) == 64
    assert plucked(bars[8])[-1] == "5/2 i3@1"
    assert bars[:9] == bars[9:] or bars[9] == bars[0]


def test_a_voicing_with_one_thumb_string_walks_on_it() -> None:
    """A bass order of one string is played over and over."""
    (bar,) = bars_of("voicings\n  drone 0xx000 bass 6\nsection verse using bassline\n  drone\n")
    assert [note.string for note in bar.notes] == [6, 6, 6, 6]


def test_partial_capo() -> None:
    """Frets count from the capo on the strings it covers and from the nut on the others."""
    (bar,) = bars_of("section verse\n  E { p6, p4, i3, m2 }\n", "capo 2 on 5 4 3")
    assert [note.midi for note in bar.notes] == [40, 54, 58, 59]
