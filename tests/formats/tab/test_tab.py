"""Tab in plain text: what stands where, and how it looks."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from attrs import evolve
from reading_tab import bar_columns, columns_of, tab_systems
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
        ("hammer-on", 0, 2, "0h2", "hammer-on"),
        ("pull-off", 2, 0, "2p0", "pull-off"),
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


def test_lines_are_broken_at_bar_lines_and_a_wide_bar_stands_alone() -> None:
    """A bar of sixteenths with two digits is wider than 40 columns and is not cut."""
    wide = bar("4/4", *(note(Fraction(n, 4), 3, 12, "i") for n in range(16)))
    small = bar("2/4", note(0, 3, 1, "i"))
    systems = tab_systems("\n".join(lines_of(small, wide, small, width=40)))
    assert [len(bar_columns(system[0])) for system in systems] == [2, 2, 2]
    assert len(systems[1][0]) > 40


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
