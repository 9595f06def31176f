"""How a tab shows loudness and speed, and the words that are sung."""

from __future__ import annotations

import pytest
from attrs import evolve
from reading_song import marks, page, rows, section
from timeline_lessons import expanded

from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab


@pytest.mark.parametrize(
    ("lines", "found"),
    [
        (("dynamic mf", "E | A"), ["moderately loud (mf)"]),
        (("E", "dynamic p", "A"), ["soft (p)"]),
        (("dynamic p", "E", "dynamic p", "A"), ["soft (p)"]),
        (("crescendo to f over 2 bars", "E | A | E"), ["crescendo to loud (f) over 2 bars"]),
        (
            ("diminuendo to p over 1 bar", "E", "diminuendo to pp over 1 bar", "A"),
            ["diminuendo to soft (p)", "over 1 bar diminuendo to very soft (pp) over 1 bar"],
        ),
        (("ritardando to 60 over 2 bars", "E | A | E"), ["ritardando to 60 over 2 bars"]),
        (("tempo 72", "E", "a tempo", "A"), ["tempo 72 a tempo"]),
        (("free time", "E", "tempo 90", "A"), ["free time tempo 90"]),
        (("free time", "E", "a tempo", "A"), ["free time a tempo"]),
        (("tempo 72", "E", "free time", "A", "tempo 72", "E"), ["tempo 72 free time tempo 72"]),
        (("E", "using bassline", "A | E", "using plain", "A"), ["pattern bassline pattern plain"]),
        (("E | A using bassline | E",), []),
    ],
)
def test_what_changes_stands_over_the_bar_where_it_does_and_only_there(
    lines: tuple[str, ...], found: list[str]
) -> None:
    """What a section asks for, once through; a bar's own pattern is seen in the bar."""
    assert marks(page(section(*lines), width=200)) == found


def test_played_through_each_bar_says_what_has_changed_since_the_bar_before() -> None:
    """What goes on is not said again, and a tempo in the middle of a change is nobody's business."""
    body = section(
        "dynamic p",
        "E | A",
        "ritardando to 60 over 2 bars",
        "crescendo to f over 2 bars",
        "E | A",
        form="verse\nverse\n  but dynamic mp\n  but tempo 70",
    )
    growing = "ritardando to 60 over 2 bars, crescendo to loud (f) over 2 bars"
    assert marks(page(body, width=300, unrolled=True)) == [
        f"soft (p) {growing}",
        f"tempo 70, moderately soft (mp) {growing}",
    ]


def test_two_changes_of_tempo_in_a_row_are_told_apart_as_they_are_played() -> None:
    """They differ in how fast they go."""
    body = section("ritardando to 60 over 1 bar", "E", "ritardando to 50 over 2 bars", "A | E")
    wanted = ["ritardando to 60 over 1 bar", "ritardando to 50 over 2 bars"]
    assert " ".join(marks(page(body, width=300, unrolled=True))) == " ".join(wanted)


def test_a_tempo_is_said_where_the_tempo_of_the_start_comes_back() -> None:
    """In the next section it is said in figures."""
    body = "section verse  using plain\n  tempo 72\n  E\n  tempo 60\n  A\n  tempo 72\n  E\n"
    body += "section after  using plain\n  E\n"
    found = marks(page(body, width=300, unrolled=True))
    assert found == ["tempo 72 tempo 60 a tempo", "tempo 90"]


def test_long_words_over_a_narrow_bar_go_on_in_another_line() -> None:
    """The bar does not get as wide as they are, and nothing is lost."""
    lines = page(
        section(
            "tempo 40 to 3/8",
            "accelerando to 60 to 3/8 over 1 bar",
            "E { p, -, -, - }",
            "crescendo to ff over 1 bar",
            "A { p, -, -, - }",
        ),
        width=60,
    )
    assert all(len(line) <= 60 for line in lines)
    text = " ".join(marks(lines))
    assert all(word in text for word in ("tempo 40", "accelerando", "dotted", "crescendo", "(ff)"))


@pytest.mark.parametrize("length", range(12, 32))
def test_words_over_bars_are_not_broken_and_stand_over_their_own_bar(length: int) -> None:
    """A bar gets as wide as the longest word over it; what follows is over the next bar."""
    name = ("thumb" * 7)[:length]
    body = f"patterns\n  {name}  p , p , p , p\n"
    body += section("E", f"using {name}", "A", "dynamic p", "E { p, -, -, - }")
    lines = page(body, width=200)
    assert name in " ".join(marks(lines)).split()
    top = next(line for line in lines if line.startswith("e|"))
    bar_lines = [place for place, sign in enumerate(top) if sign == "|"]
    soft = next(line for line in lines if "soft (p)" in line)
    assert soft.index("soft (p)") == bar_lines[2] + 1


def test_syllables_stand_at_their_counts() -> None:
    """In the middle of a bar as well, between the numbers, and where nothing is plucked."""
    lines = page(section("E { p, -, -, - }", 'words: "Lamps a-long the" on 1 2& 3 4'))
    first = next(place for place, line in enumerate(lines) if line.startswith("e|"))
    count, sung = lines[first - 1], rows(lines)[0]
    assert count.split() == ["1", "2", "&", "3", "4"]
    assert sung.split() == ["Lamps", "a-", "long", "the"]
    for word, number in zip(sung.split(), ("1", "&", "3", "4"), strict=True):
        assert sung.index(word) == count.index(number)


def test_a_bar_gets_wider_for_its_syllables() -> None:
    """Each has its place, and none runs into the next."""
    lines = page(section("E", 'words: "Thoroughfares straight brought" on 1 1& 2'))
    assert rows(lines)[0].split() == ["Thoroughfares", "straight", "brought"]
    first = next(place for place, line in enumerate(lines) if line.startswith("e|"))
    assert lines[first - 1].index("2") == rows(lines)[0].index("brought")


def test_words_without_counts_begin_with_their_bar_and_wrap() -> None:
    """They are not cut, and do not run into the next bar."""
    text = "and nobody is out of doors tonight but the two of us"
    lines = page(section("E | A", f'words: "{text}" | "home"'))
    first, second = rows(lines)
    assert " ".join(f"{first} {second}".split()) == (
        "and nobody is out of doors tonight home but the two of us"
    )
    top = next(line for line in lines if line.startswith("e|"))
    assert first.index("home") > top.index("|", 2)


def test_a_word_longer_than_a_bar_may_be_is_not_cut() -> None:
    """The bar is as wide as it is."""
    long = "Donau" + "dampf" * 8
    lines = page(section("E | A", f'words: "{long} ahoy" | "home"'), width=60)
    assert long in " ".join(rows(lines)).split()


def test_words_whose_syllables_have_no_place_stand_whole() -> None:
    """Where a count was wrong, the bar has its words from its start on."""
    piece = expanded(section("E", 'words: "Lamps a-long" on 1 2 3')).timeline
    (played,) = piece.bars
    assert played.sung is not None
    cut = evolve(played.sung, syllables=played.sung.syllables[:2])
    piece = evolve(piece, bars=(evolve(played, sung=cut),))
    assert "   Lamps a-long" in to_tab(piece, TabOptions(unrolled=True)).splitlines()


def test_each_time_has_a_row_with_its_number() -> None:
    """Words for every other time have a star, which the legend explains; alone they have none."""
    both = ("E", 'words 1: "one"', 'words 2: "two"', 'words: "la"')
    lines = page(section(*both))
    assert [row.split() for row in rows(lines)] == [["1.", "one"], ["2.", "two"], ["*", "la"]]
    assert any(line.startswith("  *  ") for line in lines)
    lines = page(section("E", 'words 10: "ten"', 'words 9: "nine"'))
    assert rows(lines) == ["9. nine", "10 ten"]
    alone = page(section("E", 'words: "la"'))
    assert rows(alone) == ["   la"]
    assert not any(line.startswith("  *") for line in alone)


def test_played_through_only_the_words_of_that_time_are_there() -> None:
    """The second time has its own, the third those for every other time."""
    body = section("E", 'words 2: "two"', 'words: "la"', form="verse x3\nverse\n  but words 2")
    lines = page(body, unrolled=True)
    assert [row.split() for row in rows(lines)] == [["la"], ["two"], ["la"], ["two"]]
    assert not any(line.startswith("  *") for line in lines)


def test_a_bar_with_words_is_written_out() -> None:
    """A percent sign has no room for them; without words it comes back."""
    lines = page(section("E | E | E", 'words: "one" | "one"'), width=200)
    [line] = [line for line in lines if line.startswith("G|")]
    assert [bar.strip("-") == "%" for bar in line.split("|")[1:-1]] == [False, False, False]
    lines = page(section("E | E | E", 'words: "one"'), width=200)
    assert "%" in next(line for line in lines if line.startswith("G|"))
