"""Bars that are wider than the page."""

from __future__ import annotations

from reading_song import page, section
from reading_tab import bar_columns, tab_systems

WIDE = "E { p m i m p m i m , p m i m p m i m , p m i m p m i m , p m i m p m i m }"


def test_the_signs_around_a_wide_bar_stand_once() -> None:
    """The repeat begins with its first piece and ends with its last, its cue and words stand over the first."""
    lines = page(section("repeat 3", f'"Lamps are lit" {WIDE}', "end"), width=40)
    systems = tab_systems("\n".join(lines))
    ends = [(system[0][:3] == "e|:", system[0][-2:] == ":|") for system in systems]
    assert ends == [(True, False), *[(False, False)] * (len(systems) - 2), (False, True)]
    assert len(systems) > 1
    text = "\n".join(lines)
    assert text.count("Lamps are lit") == text.count("3 times") == 1
    tempo = page(section("tempo 60", WIDE), width=40)
    assert "\n".join(tempo).count("tempo 60") == 1


def test_a_wide_bar_is_cut_before_a_count() -> None:
    """So each of its lines begins with one, and each pluck is on one of them."""
    lines = page(section(WIDE), width=40)
    over = [lines[n - 1] for n, line in enumerate(lines) if line.startswith("e|")]
    assert over[0].split()[0] == "1"
    assert all(one.index(one.split()[0]) <= 3 for one in over)
    fingers = [line.split() for line in lines if line.strip() and set(line) <= set(" im")]
    assert sum(map(len, fingers)) == 3 * 8
    assert all(len(bar_columns(system[0])) < 3 for system in tab_systems("\n".join(lines)))


def test_a_wide_bar_is_not_cut_between_two_counts_where_it_need_not_be() -> None:
    """There would be room for half of the last beat."""
    lines = page(section("meter 5/4", "E { p m i m , p m i m , p , p , p }"), width=40)
    over = [lines[n - 1].split() for n, line in enumerate(lines) if line.startswith("e|")]
    assert over[1] == ["5"]


def test_what_stands_behind_the_table_goes_below_it_where_it_has_no_room() -> None:
    """The thumb's strings, on a page of 40 columns."""
    for width, alone in ((40, True), (78, False)):
        (thumb,) = (line for line in page(section("E"), width=width) if "thumb 6" in line)
        assert (thumb.strip().startswith("thumb")) == alone
