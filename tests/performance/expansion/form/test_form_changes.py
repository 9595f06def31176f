"""Playings that take other bars, other patterns or other words, and repeats left out."""

from __future__ import annotations

import pytest
from timeline_lessons import expanded, messages, rules

REPEATED = """\
section verse using plain
  C
  repeat 2
    E | A
    ending 1: B7
    ending 2: D
  end
  Am
"""


def order(body: str) -> list[str]:
    """Return the first voicing of each bar played."""
    expansion = expanded(body)
    assert messages(expansion) == []
    return [one.bar.voicings[0].voicing.name for one in expansion.timeline.bars]


def patterns(body: str) -> list[str]:
    expansion = expanded(body)
    assert messages(expansion) == []
    return [one.bar.pattern for one in expansion.timeline.bars]


def test_without_repeats_the_last_ending_is_taken() -> None:
    """Once through; the next playing repeats again."""
    body = REPEATED + "form\n  verse\n    but without repeats\n  verse\n"
    once, twice = ["C", "E", "A", "D", "Am"], ["C", "E", "A", "B7", "E", "A", "D", "Am"]
    assert order(body) == once + twice


def test_nested_repeats_are_all_taken_once() -> None:
    """A repeat in a repeat."""
    body = (
        "section verse using plain\n  repeat 2\n    C\n    repeat 3\n      E\n    end\n  end\n"
        "form\n  verse\n    but without repeats\n"
    )
    assert order(body) == ["C", "E"]


def test_there_must_be_a_repeat() -> None:
    """Otherwise the line says nothing."""
    body = "section verse using plain\n  C\nform\n  verse\n    but without repeats\n"
    assert rules(expanded(body)) == ["no-such-bar"]


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("only bars 2-3", ["E", "A"]),
        ("only from bar 3", ["A", "B7"]),
        ("only last bar", ["B7"]),
        ("only last 3 bars", ["E", "A", "B7"]),
        ("without last 2 bars", ["C", "E"]),
        ("last 2 bars: D | D | D", ["C", "E", "D", "D", "D"]),
    ],
)
def test_a_part_of_a_section(line: str, left: list[str]) -> None:
    """By its bars, from the front or from the end."""
    body = f"section verse using plain\n  C | E | A | B7\nform\n  verse\n    but {line}\n"
    assert order(body) == left


def test_a_pickup_goes_with_the_first_bar() -> None:
    """It is left out where the first bar is."""
    body = (
        "section verse using plain\n  pickup 1: Am\n  C | E\nform\n  verse\n    but only bar {}\n"
    )
    assert order(body.format(1)) == ["Am", "C"]
    assert order(body.format(2)) == ["E"]


def test_more_bars_than_there_are_from_the_end() -> None:
    """Two bars have no last three."""
    body = "section verse using plain\n  C | E\nform\n  verse\n    but last 3 bars: C\n"
    (message,) = messages(expanded(body))
    assert message == "there is no run of the last 3 bars in verse: it has 2 bars"


def test_a_pattern_from_a_line_on() -> None:
    """`using` on its own line; a bar's own pattern comes before it, a playing's before both."""
    body = (
        "section verse using plain\n  C\n  using bassline\n  E | A using pinched\n  B7\n"
        "form\n  verse\n  verse\n    but using pinched\n  verse\n    but bars 1-2 using pinched\n"
    )
    first = ["plain", "bassline", "pinched", "bassline"]
    third = ["pinched", "pinched", "pinched", "bassline"]
    assert patterns(body) == [*first, *["pinched"] * 4, *third]


def test_a_pattern_of_several_bars_begins_anew_at_its_line() -> None:
    """And at the first bar of a run that a playing gives it."""
    body = (
        "patterns\n  two  p , p , p , p | p5 , p5 , p5 , p5\n"
        "section verse using plain\n  C\n  using two\n  C | C\n"
        "form\n  verse\n  verse\n    but bars 1-2 using two\n"
    )
    expansion = expanded(body)
    assert messages(expansion) == []
    fives = [all(note.string == 5 for note in one.bar.notes) for one in expansion.timeline.bars]
    assert fives == [False, False, True, False, True, True]


def sung(body: str) -> list[str]:
    expansion = expanded(body)
    assert messages(expansion) == []
    return [one.sung.text if one.sung else "" for one in expansion.timeline.bars]


def test_words_of_the_time_that_it_is() -> None:
    """The first and the second verse, then every other time."""
    body = (
        'section verse using plain\n  C | E\n  words 1: "one" | "two"\n  words 2: "three" | -\n'
        '  words: "any"\nform\n  verse x3\n'
    )
    assert sung(body) == ["one", "two", "three", "", "any", ""]


def test_words_of_another_time() -> None:
    """The first verse again at the end."""
    body = (
        'section verse using plain\n  C\n  words 1: "one"\n  words 2: "two"\n'
        "form\n  verse\n  verse\n  verse\n    but words 1\n"
    )
    assert sung(body) == ["one", "two", "one"]


def test_in_a_repeat_each_pass_is_a_time() -> None:
    """The second verse of a song is often the second pass; an ending belongs to its pass."""
    body = (
        'section verse using plain\n  repeat 2\n  C\n  words 1: "one"\n  words 2: "two"\n'
        '  words 3: "three"\n  words 4: "four"\n  ending 1: E\n  words 1: "la"\n  words 3: "lo"\n'
        '  ending 2: A\n  words: "end"\n  end\n  B7\n  words 2: "last"\nform\n  verse x2\n'
    )
    assert sung(body) == ["one", "la", "two", "end", "", "three", "lo", "four", "end", "last"]


def test_changed_bars_keep_their_words() -> None:
    """Place for place; bars left out take theirs along."""
    body = (
        'section verse using plain\n  C | E | A\n  words: "one" | "two" | "three"\n'
        "form\n  verse\n    but bar 2: B7\n  verse\n    but without bar 2\n"
    )
    assert sung(body) == ["one", "two", "three", "one", "three"]


def test_syllables_have_exact_places() -> None:
    """A count each, in quarter notes from the bar's start; in a pickup from where it starts."""
    body = (
        'section verse using plain\n  pickup from 4: C { m }\n  words: "The" on 4&\n  C\n'
        '  words: "a-long" on 1 2&\n'
    )
    expansion = expanded(body)
    assert messages(expansion) == []
    found = [
        [(str(one.onset), one.text) for one in bar.sung.syllables]
        for bar in expansion.timeline.bars
    ]
    assert found == [[("1/2", "The")], [("0", "a-"), ("3/2", "long")]]


@pytest.mark.parametrize(
    ("body", "rule"),
    [
        ('  words: "one"\n  C\n', "words-misplaced"),
        ('  C\n  words: "one" | "two"\n', "words-misplaced"),
        ('  C\n  words: "one"\n  words: "two"\n', "words-misplaced"),
        ('  C\n  words: "one" on 5\n', "count-outside-bar"),
        ('  C\n  words: "one two" on 3 1\n', "words-misplaced"),
    ],
)
def test_words_that_have_no_place(body: str, rule: str) -> None:
    """Before any bars, for more bars than there are, twice, on a count that is not there."""
    assert rules(expanded("section verse using plain\n" + body)) == [rule]


@pytest.mark.parametrize(
    ("one", "other", "found"),
    [
        ("bars 1-2 tempo 60", "bar 2 tempo 70", ["changes-overlap"]),
        ("bars 1-2 tempo 60", "ritardando to 50 over last 2 bars", ["changes-overlap"]),
        ("bars 1-2 dynamic p", "bars 2-3 dynamic f", ["changes-overlap"]),
        ("bars 1-2 using pinched", "bar 2 using bassline", ["changes-overlap"]),
        ("bars 1-2 using pinched", "bar 2 tempo 60", []),
        ("bars 1-2 dynamic p", "bar 3 dynamic f", []),
    ],
)
def test_two_changes_of_one_kind_cannot_be_for_one_bar(
    one: str, other: str, found: list[str]
) -> None:
    """A bar has one tempo, one loudness and one pattern; they do not disturb one another."""
    body = (
        f"section verse using plain\n  C | C | C\nform\n  verse\n    but {one}\n    but {other}\n"
    )
    assert rules(expanded(body, "tempo 90")) == found


def test_a_fault_in_equal_entries_is_said_at_each() -> None:
    """Each line has to be mended."""
    body = "section verse using plain\n  C\nform\n  verse\n    but bar 2: E\n  verse\n    but bar 2: E\n"
    assert [one.span.line for one in expanded(body).diagnostics if one.span] == [20, 22]


def test_more_lines_of_words_than_are_read() -> None:
    """The sixty-fifth is too many, and is said once."""
    lines = "".join(f'  words {number}: "la"\n' for number in range(1, 70))
    assert rules(expanded(f"section verse using plain\n  C\n{lines}")) == ["too-many-bars"]


def test_changed_bars_have_the_pattern_of_the_section_there() -> None:
    """A `using` line counts for what a playing puts in its place."""
    body = (
        "section verse using plain\n  C\n  using bassline\n  E\nform\n  verse\n    but bar 2: A\n"
    )
    assert patterns(body) == ["plain", "bassline"]


def test_in_a_repeat_inside_another_every_pass_is_a_time() -> None:
    """Two times two: four times in one playing, and the second playing begins with the fifth."""
    words = "".join(f'  words {number}: "{number}"\n' for number in range(1, 9))
    body = (
        "section verse using plain\n  repeat 2\n  repeat 2\n  C\n" + words + "  end\n  end\n"
        "form\n  verse x2\n"
    )
    assert sung(body) == ["1", "2", "3", "4", "5", "6", "7", "8"]


def test_a_playing_without_repeats_is_one_time() -> None:
    """Before one with its repeats, and after."""
    words = "".join(f'  words {number}: "{number}"\n' for number in range(1, 9))
    body = (
        "section verse using plain\n  repeat 2\n  C\n" + words + "  end\n"
        "form\n  verse\n    but without repeats\n  verse\n  verse\n    but without repeats\n"
    )
    assert sung(body) == ["1", "2", "3", "4"]


def test_words_of_another_time_go_on_with_the_passes() -> None:
    """The passes of a repeat sing that time and those after it."""
    words = "".join(f'  words {number}: "{number}"\n' for number in range(1, 5))
    body = (
        "section verse using plain\n  repeat 2\n  C\n" + words + "  end\n"
        "form\n  verse\n    but words 3\n"
    )
    assert sung(body) == ["3", "4"]
