"""How a tab shows playings of a section that differ from how it is written."""

from __future__ import annotations

import pytest
from reading_song import marks, order, page, rows, section, titles


def test_a_section_once_through_says_nothing_of_what_the_form_changes() -> None:
    """The order says it, in words, and no bars are written for it."""
    lines = page(section("E | A", form="verse\n  but dynamic p\n  but tempo 60"))
    assert marks(lines) == []
    assert titles(lines)[1:] == ["Verse, 2 bars, pattern plain", "Order", "Signs"]
    assert order(lines) == "1. Verse: soft (p); at tempo 60"


@pytest.mark.parametrize(
    ("buts", "numbers"),
    [
        (("bars 5-6 using bassline", "only bars 5-8"), ["bars 5-6"]),
        (("only from bar 5", "using bassline"), ["bars 5-8"]),
        (("bar 3: B7",), ["bar 3"]),
        (("bars 3-4: B7 | E",), ["bars 3-4"]),
        (("bar 3: B7 | E",), ["in place of bar 3"]),
        (("last 2 bars: B7",), ["in place of bars 7-8"]),
        (("last bar: B7 x2",), ["in place of bar 8"]),
        (("bar 2: B7", "bar 5: B7"), ["bar 2", "bar 5"]),
        (("without bars 1-2", "bar 3: B7"), ["bar 3"]),
        (("bars 1-2: B7 x5", "bar 4: B7"), ["in place of bars 1-2", "bar 4"]),
        (("without bars 1-2",), []),
        (("dynamic p", "words 2", "bars 1-2 tempo 60"), []),
    ],
)
def test_bars_that_differ_are_numbered_as_their_section_is(
    buts: tuple[str, ...], numbers: list[str]
) -> None:
    """Where other bars are played than are written, it is said which they replace."""
    form = "verse\nverse" + "".join(f"\n  but {one}" for one in buts)
    bars = ("E | A | D | E", "A | D | E | A", 'words: "one"', 'words 2: "two"')
    lines = page(section(*bars, form=form), width=300)
    places = [line for line in lines if line.startswith(("bar ", "bars ", "in place"))]
    assert places == ["bars 1-4", "bars 5-8", *numbers]


def test_a_bar_inside_a_repeat_that_differs_is_shown_once() -> None:
    """It is played three times and looks the same each time."""
    form = "verse\nverse\n  but bar 2: B7"
    lines = page(section("repeat 3", "E | A", "end", "D", form=form), width=300)
    assert [line for line in lines if line.startswith("bar")] == ["bars 1-3", "bar 2"]


def test_other_slaps_are_other_bars() -> None:
    """Though the strings are plucked alike."""
    body = section("E { p, -, p, - }", form="verse\nverse\n  but bar 1: E { p, slap, p, - }")
    assert [line for line in page(body) if line.startswith("bar")] == ["bar 1", "bar 1"]
    body = "patterns\n  knock  p , p m+body-slap , p i , p m\n"
    body += section("E | A", form="verse\nverse\n  but bar 2 using knock")
    assert [line for line in page(body) if line.startswith("bar")] == ["bars 1-2", "bar 2"]


def test_a_change_in_a_line_played_twice_has_the_words_of_both_times() -> None:
    """In a line played once, those of that time."""
    bars = ("E | A", 'words 1: "one" | "more"', 'words 2: "two" | "less"')
    twice = page(section(*bars, form="verse x2\n  but bar 2: same with a on 2"))
    assert [row.split() for row in rows(twice)[2:]] == [["1.", "more"], ["2.", "less"]]
    once = page(section(*bars, form="verse\nverse\n  but bar 2: same with a on 2"))
    assert [row.split() for row in rows(once)[2:]] == [["less"]]


@pytest.mark.parametrize(
    ("title", "names"),
    [
        (
            '"Round 5"',
            ["Round 5, 1st to 3rd time", "Close", "Round 5, 4th time", "Round 5, 5th and 6th time"],
        ),
        ('"Tune"', ["Tune 1 to 3", "Close", "Tune 4", "Tune 5 and 6"]),
    ],
)
def test_playings_are_named_as_a_student_does(title: str, names: list[str]) -> None:
    """With their numbers, in words where the title ends in one; a section that is played once has none."""
    body = (
        f"section tune {title} using plain\n  E\nsection close using plain\n  E\n"
        "form\n  tune x3\n  close\n  tune\n  tune x2\n"
    )
    lines = page(body)
    start = lines.index("Order") + 2
    assert [line[4:] for line in lines[start : lines.index("", start)]] == names


def test_bars_of_a_playing_are_counted_without_its_pickup() -> None:
    """Each playing from 1."""
    body = "section tune using plain\n  pickup 1: E { p }\n  E | A | D { p , p , p , - }\nform\n  tune x2\n"
    lines = page(body, unrolled=True, width=120)
    assert [line for line in lines if line.startswith(("bar", "pickup"))] == [
        "pickup, bars 1-3"
    ] * 2


def test_what_is_in_place_of_others_says_so_on_each_line() -> None:
    """Also where the bars go on below."""
    lines = page(section("E | A", form="verse\n  but bar 1: B7 | A | B7"), width=40)
    assert [line for line in lines if line.startswith("in place")] == [
        "in place of bar 1",
        "in place of bar 1, continued",
        "in place of bar 1, continued",
    ]


def test_the_same_bars_in_two_playings_are_shown_once() -> None:
    """One of them is softer besides; the order says so."""
    form = "verse\nverse\n  but bar 2: B7\nverse\n  but dynamic p\n  but bar 2: B7"
    lines = page(section("E | A", form=form))
    assert "Verse 2 and 3: B7 in bar 2" in titles(lines)
    assert order(lines).endswith("3. Verse 3: soft (p); B7 in bar 2")
    sung = ("E | A", 'words 2: "one" | "two"', 'words 3: "three" | "four"')
    assert [row.split() for row in rows(page(section(*sung, form=form)))[2:]] == [
        ["2.", "two"],
        ["3.", "four"],
    ]


@pytest.mark.parametrize(
    ("but", "words"),
    [
        ("without bars 1-2", "without bars 1-2"),
        ("only bars 2-3", "only bars 2-3"),
        ("only from bar 2", "only from bar 2 on"),
        ("only last 2 bars", "only the last 2 bars"),
        ("without last bar", "without the last bar"),
        ("without repeats", "without repeats"),
        ("words 2", "with the words of the 2nd time"),
        ("using bassline", "with the pattern bassline"),
        ("bars 2-3 using bassline", "bars 2-3 with the pattern bassline"),
        ("tempo 60", "at tempo 60"),
        ("dynamic pp", "very soft (pp)"),
        ("bar 2 dynamic pp", "bar 2 very soft (pp)"),
        ("ritardando to 60 over last 2 bars", "slowing down to 60 over the last 2 bars"),
        ("accelerando to 120 over bars 1-2", "getting faster to 120 over bars 1-2"),
        ("crescendo to f over bars 2-3", "growing louder over bars 2-3, to loud (f)"),
        ("diminuendo to p over last bar", "growing softer over the last bar, to soft (p)"),
        ("bar 2: B7", "B7 in bar 2"),
        ("bars 2-3: B7 x2", "B7 twice in bars 2-3"),
        ("bars 2-3: B7 | A", "B7 and then A in bars 2-3"),
        ("bar 3: B7:2 A:2 | E x3", "B7 with A and then E 3 times in place of bar 3"),
        ("last bar: E x2", "the last bar twice"),
        ("last bar: same", "the last bar once"),
        ("last bar: same | same | same", "the last bar 3 times"),
        ("last bar: E { p , - , - , - }", "the last bar picked in another way"),
        ("bar 2: same with a on 2", "bar 2 picked in another way"),
        ("last 2 bars: B7", "B7 in place of the last 2 bars"),
        ("from bar 3: B7 | A | E", "B7, A and then E from bar 3 on"),
        ("bar 2: rest", "a bar of rest in bar 2"),
        ("bar 2: B7 | % | %", "B7 3 times in place of bar 2"),
    ],
)
def test_the_order_says_in_plain_words_what_is_different(but: str, words: str) -> None:
    """As a teacher says it, not as the lesson writes it."""
    bars = ("repeat 2", "E | A | D", "end", "E", 'words 2: "two"')
    lines = page(section(*bars, form=f"verse\n  but {but}"))
    assert order(lines) == f"1. Verse: {words}"
