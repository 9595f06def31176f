"""How a tab shows a whole song: loudness and speed, the words sung, and playings that differ."""

from __future__ import annotations

from itertools import pairwise

import pytest
from attrs import evolve
from timeline_lessons import expanded

from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab


def page(body: str, width: int = 78, unrolled: bool = False) -> list[str]:
    """Return the tab of a lesson with the usual voicings and patterns; there is no error in it."""
    expansion = expanded(body)
    assert [one.message for one in expansion.diagnostics if one.severity.value == "error"] == []
    return to_tab(expansion.timeline, TabOptions(width=width, unrolled=unrolled)).splitlines()


def section(*lines: str, form: str = "verse") -> str:
    head = ["section verse  using plain", *(f"  {line}" for line in lines), "form"]
    return "\n".join([*head, *(f"  {line}" for line in form.split("\n"))]) + "\n"


def marks(lines: list[str]) -> list[str]:
    """Return what stands between the numbers of each line of bars and its chords."""
    found: list[str] = []
    for place, line in enumerate(lines):
        if line.startswith(("bar ", "bars ", "pickup")):
            first = next(n for n in range(place, len(lines)) if lines[n][1:2] == "|")
            found += [" ".join(one.split()) for one in lines[place + 1 : first - 2]]
    return found


def titles(lines: list[str]) -> list[str]:
    return [one for one, rule in pairwise(lines) if one and set(rule) == {"-"}]


def order(lines: list[str]) -> str:
    """Return the order of the sections as one text."""
    start = lines.index("Order") + 2
    return " ".join(" ".join(lines[start : lines.index("", start)]).split())


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


def test_a_section_once_through_says_nothing_of_what_the_form_changes() -> None:
    """The order says it, in words, and no bars are written for it."""
    lines = page(section("E | A", form="verse\n  but dynamic p\n  but tempo 60"))
    assert marks(lines) == []
    assert titles(lines)[1:] == ["verse, 2 bars, pattern plain", "Order", "Signs"]
    assert order(lines) == "1. verse, but soft (p) and at tempo 60"


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


def test_a_long_name_of_a_pattern_is_not_broken() -> None:
    """The bar gets as wide as the name."""
    name = "rolling-thumb-and-three-fingers"
    body = f"patterns\n  {name}  p , p , p , p\n"
    body += section("E { p, -, -, - }", f"using {name}", "A | E")
    assert name in " ".join(marks(page(body, width=40))).split()


def rows(lines: list[str]) -> list[str]:
    """Return the rows below the thumb's, of all lines of bars."""
    found: list[str] = []
    for place, line in enumerate(lines):
        if line.startswith("E|"):
            end = lines.index("", place)
            thumb = max(n for n in range(place, end) if set(lines[n]) <= set(" p") or n == place)
            found += lines[thumb + 1 : end]
    return found


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
    assert places == ["bars 1-8", *numbers]


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


def test_the_same_bars_in_two_playings_are_shown_once() -> None:
    """One of them is softer besides; the order says so."""
    form = "verse\nverse\n  but bar 2: B7\nverse\n  but dynamic p\n  but bar 2: B7"
    lines = page(section("E | A", form=form))
    assert "verse, lines 2 and 3 of the order (bar 2: B7)" in titles(lines)
    assert order(lines).endswith("3. verse, but soft (p) and bar 2: B7")


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
        ("bar 2: B7", "bar 2: B7"),
    ],
)
def test_the_order_says_in_plain_words_what_is_different(but: str, words: str) -> None:
    """As a teacher says it, not as the lesson writes it."""
    bars = ("repeat 2", "E | A | D", "end", "E", 'words 2: "two"')
    lines = page(section(*bars, form=f"verse\n  but {but}"))
    assert order(lines) == f"1. verse, but {words}"
