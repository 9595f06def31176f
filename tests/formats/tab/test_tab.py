"""Tab in plain text: what stands where, and how it looks."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from attrs import evolve
from reading_tab import bar_columns, columns_of, frets_of, tab_systems
from rewrite_tab import written
from timelines import bar, note, timeline

from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab
from fretloom.performance.events import SlurredNote, TimedBar

GOLDEN = Path(__file__).parent / "golden"


@pytest.mark.parametrize("path", sorted(GOLDEN.glob("*.lesson")), ids=lambda path: path.stem)
def test_a_lesson_looks_as_it_did_when_we_last_looked_at_it(path: Path) -> None:
    """The expected tab stands beside each lesson; `rewrite_tab.py` there writes it anew."""
    assert written(path) == path.with_suffix(".txt").read_text(encoding="utf-8")


def lines_of(*bars: TimedBar, width: int = 78) -> list[str]:
    return to_tab(timeline(bars), TabOptions(width=width)).splitlines()


def legend_of(*bars: TimedBar) -> list[str]:
    """Return the signs that the legend explains."""
    lines = lines_of(*bars)
    rows = lines[lines.index("Signs") + 2 :]
    return [line[2:].split("  ")[0] for line in rows if line[2:3].strip()]


def counts_of(*bars: TimedBar) -> list[str]:
    """Return the words of the count over the first system."""
    lines = lines_of(*bars)
    first = next(place for place, line in enumerate(lines) if line.startswith("e|"))
    return lines[first - 1].split()


def test_count_of_an_alternating_thumb_pattern() -> None:
    """Each pluck has its count. Source: radioyur.com, Basic Finger-Picking Folk Pattern."""
    plucks = [(0, 5, 3, "p"), (0, 1, 0, "m"), (1, 4, 2, "p"), ("3/2", 2, 1, "i"), (2, 5, 3, "p")]
    plucks += [("5/2", 1, 0, "m"), (3, 4, 2, "p"), ("7/2", 2, 1, "i")]
    assert counts_of(bar("4/4", *(note(*one) for one in plucks))) == [
        "1",
        "2",
        "&",
        "3",
        "&",
        "4",
        "&",
    ]


@pytest.mark.parametrize(
    ("meter", "count"),
    [("6/8", "1 2 3 4 5 6"), ("3/4", "1 & 2 & 3 &"), ("2+2+2/8", "1 & 2 & 3 &")],
)
def test_six_eighths_are_counted_as_the_meter_says(meter: str, count: str) -> None:
    """6/8 counts eighths, 3/4 quarters. Standard theory; no single source."""
    plucks = [
        note(Fraction(place, 2), string, 0, finger)
        for place, (string, finger) in enumerate(zip((6, 3, 2, 1, 2, 3), "pimami", strict=True))
    ]
    assert counts_of(bar(meter, *plucks)) == count.split()


@pytest.mark.parametrize(
    ("shares", "count"),
    [
        (2, "1 & 2"),
        (3, "1 trip let 2"),
        (4, "1 e & a 2"),
        (5, "1 . . . . 2"),
        (6, "1 . . & . . 2"),
        (8, "1 . e . & . a . 2"),
    ],
)
def test_division_of_a_beat_can_be_read_from_the_count(shares: int, count: str) -> None:
    """Shares without a word of their own are dots. Common practice for the words, ours for the dots."""
    plucks = [note(Fraction(place, shares), 3, 0, "i") for place in range(shares)]
    assert counts_of(bar("2/4", *plucks)) == count.split()


def test_a_beat_divided_too_finely_has_a_sign_for_each_pluck_only() -> None:
    """Five in the time of the first half, three in that of the second: thirty shares nobody can count."""
    places = [Fraction(place, 10) for place in range(5)] + [Fraction(3 + n, 6) for n in range(3)]
    plucks = [note(place, 3, 0, "i") for place in places]
    assert counts_of(bar("2/4", *plucks)) == ["1", ",", ",", ",", ",", "&", ",", ",", "2"]


def test_two_digit_frets_and_one_digit_frets_of_an_instant_start_in_one_column() -> None:
    """Source: donaldsauter.com, Ascii Tablature - General comments (rhythm over every fret)."""
    plucks = [(0, 1, 12, "a"), (0, 5, 0, "p"), (1, 1, 10, "a"), ("3/2", 2, 9, "m")]
    plucks += [(2, 1, 12, "a"), (3, 5, 0, "p")]
    one = bar("4/4", *(note(*pluck) for pluck in plucks))
    other = bar("4/4", *(note(*pluck) for pluck in plucks[:-1]))
    text = to_tab(timeline([one, other] * 8), TabOptions(width=72))
    for system in tab_systems(text):
        assert len(system) == 6
        assert len(system[0]) <= 72
        assert len({tuple(bar_columns(line)) for line in system}) == 1
        highest, fifth = columns_of(system[0]), columns_of(system[4])
        assert highest[min(highest)] == "12"
        assert fifth[min(highest)] == "0"


def test_string_one_is_the_top_line() -> None:
    """The names run from string 1 down, the first of two equal letters small."""
    names = [line[0] for line in lines_of(bar("4/4", note(0, 1, 3, "a"))) if line[1:2] == "|"]
    assert names == ["e", "B", "G", "D", "A", "E"]


def test_fingers_of_a_pinch_stand_over_one_another_and_the_thumb_below() -> None:
    """All fingers of an instant are in its column, those of higher strings higher."""
    pinch = [note(0, 6, 0, "p"), note(0, 3, 1, "i"), note(0, 1, 0, "a")]
    lines = lines_of(bar("4/4", *pinch))
    last = max(place for place, line in enumerate(lines) if line.startswith("E|"))
    assert [line.strip() for line in lines[last + 1 : last + 4]] == ["a", "i", "p"]
    assert len({len(line) for line in lines[last + 1 : last + 4]}) == 1


@pytest.mark.parametrize(
    ("kind", "fret", "to", "sign", "meaning"),
    [
        ("hammer-on", 0, 2, "0H2", "hammer-on"),
        ("pull-off", 2, 0, "2P0", "pull-off"),
        ("slide", 3, 5, "3/5", "slide up"),
        ("slide", 12, 9, "12\\9", "slide down"),
    ],
)
def test_slurs_have_their_sign_and_their_line_in_the_legend(
    kind: str, fret: int, to: int, sign: str, meaning: str
) -> None:
    """The signs are those in general use for text tab; common practice, no source."""
    slur = SlurredNote(kind=kind, onset=Fraction(1, 4), fret=to, midi=60)
    lines = lines_of(bar("4/4", note(0, 3, fret, "i", slurs=(slur,))))
    [line] = [line for line in lines if line.startswith("G|")]
    assert sign in line.replace("-", "")
    assert sum(meaning in line for line in lines) == 1


@pytest.mark.parametrize(
    ("notes", "signs"),
    [
        ([{"accent": True}], [">"]),
        ([{"dead": True}], ["X"]),
        ([{"fret": 12, "harmonic": True}], ["<12>"]),
        ([{"string": n, "order": 4 - n, "gesture": 0} for n in (4, 3)], ["{", "{...}"]),
        (
            [{"string": n, "order": 6 - n, "gesture": 0, "brush": 1} for n in (6, 5, 4)],
            ["{", "i6-4"],
        ),
        (
            [{"string": n, "order": 6 - n, "gesture": 0, "brush": int(n > 4)} for n in (6, 5, 4)],
            ["{", "{...}", "i6-5"],
        ),
        ([{"onset": "1/2"}], ["&"]),
        ([{"onset": "1/2"}, {"onset": "3/4"}], ["e & a"]),
        ([{"onset": "1/3"}], ["trip let"]),
        ([{"onset": "1/5"}], ["."]),
        ([{"onset": "1/2"}, {"onset": "1/30"}], ["&", ","]),
    ],
)
def test_each_sign_has_its_line_in_the_legend_and_no_other(
    notes: list[dict[str, Any]], signs: list[str]
) -> None:
    """Frets and the finger i are always there; what else is drawn adds its own lines, in order."""
    usual: dict[str, Any] = {"onset": 0, "string": 3, "fret": 2, "finger": "i"}
    placed = sorted((note(**(usual | one)) for one in notes), key=lambda one: one.onset)
    assert sorted(legend_of(bar("4/4", *placed))) == sorted(["0 1 2", "i", *signs])


def test_what_rings_on_has_its_line_in_the_legend() -> None:
    """A fret in brackets is explained."""
    rung = evolve(note(3, 3, 2, "i"), ring=Fraction(3))
    assert "(2)" in legend_of(bar("4/4", rung), bar("4/4", note(1, 2, 1, "m")))


@pytest.mark.parametrize(
    ("more", "signs"),
    [
        ({"release": Fraction(2)}, ["(open)"]),
        ({"stop": Fraction(2)}, ["(stop)"]),
        ({"rest": True, "notes": (), "voicings": ()}, ["rest"]),
        ({}, []),
    ],
)
def test_what_the_whole_hand_does_has_its_line_in_the_legend(
    more: dict[str, Any], signs: list[str]
) -> None:
    """It is known from the music, not from the words: a voicing may be called `rest` as well."""
    one = bar("4/4", note(0, 3, 2, "i"), chord="rest", frets="000200")
    found = legend_of(evolve(one, **more))
    assert [sign for sign in found if sign not in ("0 1 2", "i")] == signs


def test_what_rings_into_a_bar_that_is_damped_at_once_is_not_shown() -> None:
    """A stop on 1 ends all sound before the bar begins."""
    rung = bar("4/4", evolve(note(3, 3, 2, "i"), ring=Fraction(3)))
    silent = bar("4/4")
    assert "(2)" in "".join(lines_of(rung, silent)).replace("-", "")
    assert "(2)" not in "".join(lines_of(rung, evolve(silent, stop=Fraction(0)))).replace("-", "")


@pytest.mark.parametrize(
    ("bars", "pickup", "words"),
    [
        (4, True, "pickup, bars 1-4"),
        (3, True, "pickup, bars 1-3"),
        (1, True, "pickup, bar 1"),
        (0, True, "pickup"),
        (4, False, "bars 1-4"),
        (1, False, "bar 1"),
    ],
)
def test_a_system_says_which_bars_it_holds(bars: int, pickup: bool, words: str) -> None:
    """The pickup has no number, the others theirs."""
    written = [bar("4/4", note(0, 3, place % 5, "i")) for place in range(bars)]
    up = as_pickup(bar("4/4", note(0, 3, 1, "i")))
    piece = timeline([up, *written] if pickup else written)
    if pickup:
        (section,) = piece.sections
        numbered = tuple(evolve(one, number=one.number - 1) for one in section.bars)
        piece = evolve(piece, sections=(evolve(section, bars=numbered),))
    lines = to_tab(piece, TabOptions(width=400)).splitlines()
    assert [line for line in lines if line.startswith(("bar", "pickup"))] == [words]


def as_pickup(one: TimedBar) -> TimedBar:
    """Return the bar as a pickup of one quarter."""
    return evolve(one, kind="pickup", length=Fraction(1), start=Fraction(3))


def test_the_legend_has_only_the_signs_that_are_used() -> None:
    """A plain bar needs no word about slurs, rolls, repeats or sixteenths."""
    lines = lines_of(bar("4/4", note(0, 3, 2, "i")))
    legend = lines[lines.index("Signs") :]
    assert [line.split("  ")[1] for line in legend[2:]] == ["0 1 2", "i"]


def test_a_bar_like_the_one_before_is_a_percent_sign() -> None:
    """Two or three equal bars are written once and repeated by the sign."""
    one = bar("4/4", note(0, 3, 2, "i"), chord="E", frets="022100")
    other = bar("4/4", note(0, 3, 1, "i"), chord="E", frets="022100")
    [system] = tab_systems("\n".join(lines_of(one, one, other)))
    assert [line.count("%") for line in system] == [0, 0, 1, 0, 0, 0]


def test_a_long_run_of_one_bar_is_a_repeat_with_its_number() -> None:
    """Nobody writes sixteen percent signs in a row."""
    lines = lines_of(*[bar("4/4", note(0, 3, 2, "i"))] * 16)
    assert any("16 times" in line for line in lines)
    assert any(line.startswith("G|:") and line.endswith(":|") for line in lines)
    assert "bars 1-16" in lines


def test_a_percent_sign_never_begins_a_line() -> None:
    """The reader would have to look back up the page."""
    one, two = (
        bar("4/4", *(note(Fraction(n, 2), 3, fret, "i") for n in range(8))) for fret in (1, 2)
    )
    for system in tab_systems("\n".join(lines_of(one, two, two, two, one, one, width=40))):
        assert "%" not in "".join(line.split("|")[1] for line in system)


def test_a_bar_that_is_wider_than_the_page_goes_on_in_the_next_line() -> None:
    """A bar of sixteenths with two digits on 40 columns: cut between notes, without a bar line there."""
    wide = bar("4/4", *(note(Fraction(n, 4), 3, 12, "i") for n in range(16)))
    small = bar("2/4", note(0, 3, 1, "i"))
    lines = lines_of(small, wide, small, width=40)
    systems = tab_systems("\n".join(lines))
    assert [len(bar_columns(system[0])) for system in systems] == [2, 1, 2, 2]
    assert [line for line in lines if line.startswith("bar")] == [
        "bar 1",
        "bar 2",
        "bar 2, continued",
        "bar 3",
    ]
    assert frets_of(systems, 3) == ["1", *["12"] * 16, "1"]
    assert all(len(line) <= 40 for line in lines)


def test_a_name_that_is_wider_than_the_page_is_cut_over_the_strings() -> None:
    """It stands whole in the list of voicings."""
    name = "the-shape-that-" * 5 + "rings"
    lines = lines_of(bar("4/4", note(0, 3, 2, "i"), chord=name, frets="022100"), width=40)
    assert all(len(line) <= 40 for line in lines)
    assert "\u2026" in "".join(lines)
    assert name in "".join(lines)


def test_cues_wrap_in_the_room_they_have() -> None:
    """A long cue goes on in a second line over its bar and loses no word."""
    words = "Walk along the wall until the old kiln is in view and wait there"
    plain = bar("4/4", note(0, 3, 2, "i"))
    lines = lines_of(evolve(plain, cue=words), evolve(plain, cue="Now go"), width=60)
    found = " ".join(" ".join(lines).split())
    assert all(word in found for word in words.split())
    assert all(len(line) <= 60 for line in lines)


def test_text_from_the_lesson_cannot_steer_a_terminal() -> None:
    """Control characters and invisible marks are left out of titles and cues."""
    one = evolve(bar("4/4", note(0, 3, 2, "i")), cue="la\x1b[2Jla\u202e")
    text = to_tab(timeline([one], title="Air\x07\u200b\nof Kiln Lane"), TabOptions())
    assert text.startswith("Air of Kiln Lane\n====")
    assert not set(text) & {"\x1b", "\x07", "\u202e", "\u200b"}


def test_wide_signs_take_two_columns() -> None:
    """What follows a title in an East Asian script still stands in its column."""
    text = to_tab(timeline([bar("4/4", note(0, 3, 2, "i"))], title="日本"), TabOptions())
    assert text.splitlines()[1] == "===="
