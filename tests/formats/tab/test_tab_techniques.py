"""How a tab shows what is asked of one note: bends, grace notes, lengths, slaps and more."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from attrs import evolve
from timeline_lessons import HEAD
from timelines import bar, note, timeline

import fretloom
from fretloom.api import examine, loads
from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab, write
from fretloom.notation.model.details.technique import Bend
from fretloom.performance.events import SlurredNote, TimedBar
from fretloom.performance.manner import NoteTechnique, TimedSlap, TrilledNote


def lines_of(*bars: TimedBar) -> list[str]:
    return to_tab(timeline(bars), TabOptions(unrolled=True)).splitlines()


def string_of(name: str, *bars: TimedBar) -> str:
    """Return the first line of a string, without its name."""
    return next(line[2:] for line in lines_of(*bars) if line.startswith(f"{name}|"))


def legend_of(*bars: TimedBar) -> list[str]:
    lines = lines_of(*bars)
    rows = lines[lines.index("Signs") + 2 :]
    return [line[2:].split("  ")[0] for line in rows if line[2:3].strip()]


def half(more: int = 1, **said: bool) -> Bend:
    return Bend(Fraction(more), **said)


@pytest.mark.parametrize(
    ("said", "shown", "signs"),
    [
        ({"bend": half()}, "3b(1/2)", ["3b(1/2)"]),
        ({"bend": half(2, release=True)}, "3b(full)r", ["3b(1/2)", "r"]),
        ({"bend": half(3, before=True)}, "b(1+1/2)3", ["b(1/2)3"]),
        ({"bend": half(4, before=True, release=True)}, "b(2)3r", ["b(1/2)3", "r"]),
        ({"bend": Bend(Fraction(1, 2)), "vibrato": True}, "3b(1/4)~", ["3b(1/2)", "~"]),
        ({"trill": TrilledNote(fret=5, midi=60)}, "3tr(5)", ["3tr(5)"]),
        ({"touch": 15}, "3<15>", ["3<15>"]),
        ({"lasting": "damped"}, "3'", ["3'"]),
        ({"lasting": "ring", "vibrato": True}, "3~_", ["~", "3_"]),
        ({"slow": True}, "3", []),
    ],
)
def test_a_technique_stands_at_its_fret_and_in_the_legend(
    said: dict[str, Any], shown: str, signs: list[str]
) -> None:
    """Bends in whole tones, `tr` and `~` as the trade has them; common practice, no source."""
    one = bar("4/4", note(0, 3, 3, "i", technique=NoteTechnique(**said)))
    assert string_of("G", one).strip("-|") == shown
    assert legend_of(one) == ["0 1 2", *signs, "i"]


def test_a_bend_after_a_slur_is_of_the_note_that_is_reached() -> None:
    """Before it is plucked as well: the slur leads to a string that is bent."""
    slur = SlurredNote(kind="hammer-on", onset=Fraction(1), fret=5, midi=60)
    for bend, shown in ((half(), "3H5b(1/2)"), (half(before=True), "3Hb(1/2)5")):
        said = NoteTechnique(bend=bend)
        one = bar("4/4", note(0, 3, 3, "i", slurs=(slur,), technique=said))
        assert string_of("G", one).replace("-", "") == f"{shown}|"


def test_an_artificial_harmonic_is_not_a_natural_one() -> None:
    """Both have the sign of a harmonic; one has the fret before it that is held."""
    held = bar("4/4", note(0, 3, 3, "i", technique=NoteTechnique(touch=15)))
    touched = bar("4/4", note(0, 3, 12, "i", harmonic=True))
    assert string_of("G", held, touched).replace("-", "") == "3<15>|<12>|"


@pytest.mark.parametrize(("grace", "fret_under_the_count"), [("on-beat", "1"), ("before", "3")])
def test_the_grace_note_or_its_main_note_stands_under_the_count(
    grace: str, fret_under_the_count: str
) -> None:
    """On the beat the quick note is played with the thumb, before the beat the main note is."""
    slur = SlurredNote(kind="hammer-on", onset=Fraction(1), fret=3, midi=60)
    said = NoteTechnique(grace=grace, grace_length=Fraction(1, 8))  # type: ignore[arg-type]
    main = note(1, 2, 1, "m", slurs=(slur,), technique=said)
    lines = lines_of(bar("4/4", note(1, 6, 0, "p"), main))
    high = next(line for line in lines if line.startswith("B|"))
    count = lines[next(place for place, line in enumerate(lines) if line.startswith("e|")) - 1]
    assert "g1H3" in high
    assert high[count.index("2")] == fret_under_the_count
    assert count.split() == ["1", "2", "3", "4"]


def test_a_ghost_note_has_its_finger_in_brackets() -> None:
    """Alone, with an accent, and in a roll."""
    soft = NoteTechnique(ghost=True)
    alone = bar(
        "4/4", note(0, 2, 1, "m", technique=soft), note(1, 3, 1, "i", technique=soft, accent=True)
    )
    rolled = [
        note(
            0, string, 1, finger, order=order, gesture=0, technique=NoteTechnique(ghost=order == 1)
        )
        for order, (string, finger) in enumerate([(3, "i"), (2, "m"), (1, "a")])
    ]
    assert "(m) (i)>" in " ".join(" ".join(lines_of(alone)).split())
    assert "   {i(m)a}" in lines_of(bar("4/4", *rolled))


def test_a_slow_roll_is_told_apart_from_a_quick_one() -> None:
    """By the strings and by the fingers."""
    roll = [
        note(0, string, 1, "pima"[order], order=order, gesture=0)
        for order, string in enumerate((4, 3, 2, 1))
    ]
    slow = [evolve(one, technique=NoteTechnique(slow=True)) for one in roll]
    quick_lines, slow_lines = lines_of(bar("4/4", *roll)), lines_of(bar("4/4", *slow))
    assert "   {pima}" in quick_lines
    assert "    {slow pima}" in slow_lines
    assert "e|{1" in "\n".join(quick_lines)
    assert "e|{{1" in "\n".join(slow_lines)


def test_slaps_have_a_row_of_their_own_under_their_counts() -> None:
    """The strings and the body, one of them louder, and an empty bar for the rest."""
    slaps = (
        TimedSlap(onset=Fraction(1), length=Fraction(1)),
        TimedSlap(onset=Fraction(5, 2), length=Fraction(1), place="body", accent=True),
    )
    one = evolve(bar("4/4", note(0, 6, 0, "p")), slaps=slaps)
    lines = lines_of(one)
    place = max(place for place, line in enumerate(lines) if line.startswith("E|"))
    first = next(place for place, line in enumerate(lines) if line.startswith("e|"))
    count, row = lines[first - 1], lines[place + 2]
    assert row.split() == ["S", "B>"]
    assert count.split() == ["1", "2", "3", "&", "4"]
    assert [row.index("S"), row.index("B")] == [count.index("2"), count.index("&")]
    assert legend_of(one) == ["0 1 2", "&", "p", ">", "S", "B"]


def test_a_fermata_stands_over_its_count() -> None:
    """Between the numbers as well, and in a bar of rest."""
    one = evolve(bar("4/4", note(0, 6, 0, "p")), fermata=Fraction(5, 2))
    lines = lines_of(one)
    first = next(place for place, line in enumerate(lines) if line.startswith("e|"))
    assert lines[first - 2].index("(fermata)") == lines[first - 1].index("&")
    silent = TimedBar(meter=one.meter, length=one.length, rest=True, fermata=Fraction(0))
    assert "   rest (fermata)" in lines_of(silent)
    assert "(fermata)" in legend_of(silent)


FINGERS = "which fretting finger takes a fret that a pluck names"


@pytest.mark.parametrize(
    ("lines", "left_out"),
    [
        ("  E { p, m2@3:4, p, - }", [FINGERS]),
        ("  E { p, m2@3h4:4, p, m2@3:4 }", [FINGERS]),
        ("  E { p, m2@1:3.trill-3:4, p, - }", [FINGERS]),
        ("  E { p, m2@1.trill-3:4, p, - }", [FINGERS]),
        ("  E with m2@3:4 on 2 using plain", [FINGERS]),
        ("  E using named", [FINGERS]),
        ("  E { p, m2@3h4, p, m2@1.trill-3 }", []),
    ],
)
def test_fretting_fingers_that_plucks_name_are_reported_as_left_out(
    lines: str, left_out: list[str]
) -> None:
    """Only where the lesson names one in what is shown; a pattern that nobody uses has nothing left out."""
    text = HEAD.format(fields="") + "  named    in 4/4: p , m2@3:4 , p , p\n"
    lesson = loads(f"{text}section verse\n{lines}\nform\n  verse\n")
    (output,) = write(examine(lesson).reading, TabOptions())
    assert [one.what for one in output.left_out if "finger" in one.what] == left_out


def test_a_long_grace_note_near_the_bar_line_does_not_touch_the_next_note() -> None:
    """The three small notes and the main one, a line, and the open string."""
    beats = "{ - m1@10s8h11h14.grace-before - -, p, p, p } with a1@0 on 1trip"
    text = f'lesson "T"\nvoicings\n  C  x32010\nsection tune\n  C {beats}\n'
    tab = to_tab(fretloom.expand(fretloom.loads(text)), TabOptions())
    assert "H14-0" in tab


def test_loudness_that_is_over_is_said_to_be() -> None:
    """The section says nothing itself, and its second playing was soft."""
    text = (
        'lesson "T"\nvoicings\n  C  x32010\nsection tune\n  C { p, p, p, p }\n'
        "form\n  tune\n  tune\n    but dynamic p\n  tune\n"
    )
    tab = to_tab(fretloom.expand(fretloom.loads(text)), TabOptions(unrolled=True))
    assert tab.count("soft (p)") == tab.count("loudness as before") == 1
    assert tab.index("soft (p)") < tab.index("loudness as before")
