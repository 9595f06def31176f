"""Bars that look alike on paper are known to be."""

from __future__ import annotations

from attrs import evolve
from reading_through import reading_of
from timelines import bar, note

from fretloom.performance.showing.looks import BarLooks


def test_bars_of_the_same_notes_look_alike_however_long_they_ring():
    looks = BarLooks()
    one = bar("4/4", note(0, 5, 3, "p"), chord="C", frets="x32010")
    other = evolve(one, notes=tuple(evolve(each, ring=each.ring * 2) for each in one.notes))
    assert looks.of(one) == looks.of(other)


def test_whatever_a_student_sees_tells_bars_apart():
    looks = BarLooks()
    one = bar("4/4", note(0, 5, 3, "p"), chord="C", frets="x32010")
    (plucked,) = one.notes
    others = [
        evolve(one, notes=(evolve(plucked, **{name: value}),))
        for name, value in [
            ("fret", 2), ("string", 4), ("finger", "i"), ("onset", 1), ("length", 3),
            ("accent", True), ("dead", True), ("harmonic", True), ("brush", 1), ("order", 0), ("fretting", "3"),
        ]
    ]  # fmt: skip
    others += [
        evolve(one, release=1),
        evolve(one, stop=2),
        evolve(one, fermata=1),
        evolve(one, rest=True),
    ]
    others.append(bar("3/4", note(0, 5, 3, "p"), chord="C", frets="x32010"))
    others.append(bar("4/4", note(0, 5, 3, "p"), chord="Cx", frets="x32010"))
    keys = {looks.of(each) for each in (one, *others)}
    assert len(keys) == 1 + len(others)


def test_the_bars_of_a_repeat_look_alike():
    text = 'lesson "A"\nvoicings\n  C x32010\npatterns\n  p1 p , i , p , i\nsection a using p1\n  C x2 | C\n'
    looks = BarLooks()
    bars = reading_of(text).timeline.bars
    assert len({looks.of(one.bar) for one in bars}) == 1
