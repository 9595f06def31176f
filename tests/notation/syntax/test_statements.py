"""Lines of sections and of the form that are written as they are read."""

from __future__ import annotations

import pytest

import fretloom
from fretloom.errors import ModelError
from fretloom.model import Part

SECTION = 'lesson "T"\n\nsection verse  using plain\n  C\n  {}\n'
FORM = 'lesson "T"\n\nform\n  verse\n    {}\n'


@pytest.mark.parametrize(
    "line",
    [
        "using pinched", "tempo 72", "ritardando to 60 over 2 bars", "accelerando to 50 to 3/8 over 1 bar",
        "a tempo", "free time", "dynamic mf", "crescendo to f over 4 bars", "diminuendo to ppp over 1 bar",
        'words: "Lamps are lit" | "a-long" on 1 2&', 'words 2: - | "low"', "C fermata on 4", "| words | C", "| free time",
        "last to 3&: C", "last before 4&: C", "last 7/2: C",
        "C with body-slap! on 2& fermata on 4",
    ],
)  # fmt: skip
def test_lines_of_sections(line: str) -> None:
    """The canonical text is the line itself."""
    text = SECTION.format(line)
    lesson = fretloom.loads(text)
    assert lesson.faults == () or line == "| words | C"
    assert fretloom.dumps(lesson) == text


@pytest.mark.parametrize(
    ("line", "canonical"),
    [
        ("rit. to 60 over 2 bars", "ritardando to 60 over 2 bars"),
        ("rall to 60 over 1 bars", "ritardando to 60 over 1 bar"),
        ("accel. to 120 over 2 bars", "accelerando to 120 over 2 bars"),
        ("cresc. to f over 2 bars", "crescendo to f over 2 bars"),
        ("decrescendo to p over 2 bars", "diminuendo to p over 2 bars"),
        ("dim to p over 2 bars", "diminuendo to p over 2 bars"),
        ("a  tempo", "a tempo"),
    ],
)
def test_short_words_are_written_out(line: str, canonical: str) -> None:
    """As scores have them, in full."""
    lesson = fretloom.loads(SECTION.format(line))
    assert fretloom.dumps(lesson) == SECTION.format(canonical)


@pytest.mark.parametrize(
    "line",
    [
        "but last 2 bars: A | E", "but last bar: C", "but without last 3 bars", "but only bars 5-8", "but only from bar 5",
        "but without repeats", "but using filled", "but bars 5-8 using filled", "but last 2 bars using filled",
        "but bar 3 tempo 60 to 3/8", "but dynamic p", "but from bar 5 dynamic p", "but words 2",
        "but ritardando to 60 over last 2 bars", "but crescendo to f over bars 5-8", "but diminuendo to p over last bar",
    ],
)  # fmt: skip
def test_lines_of_the_form(line: str) -> None:
    """Each change comes back as it was."""
    lesson = fretloom.loads(FORM.format(line))
    assert lesson.faults == ()
    assert fretloom.dumps(lesson) == FORM.format(line)


def test_a_word_of_a_bar_is_no_voicing() -> None:
    """`fermata` means something in a bar."""
    with pytest.raises(ModelError, match="means something else in a bar"):
        Part(voicing="fermata")


@pytest.mark.parametrize(
    ("text", "example", "other"),
    [
        ("picking\n  p plays\n", "p plays 6 5 4", "plays in"),
        ("picking\n  p plays in E\n", "p plays 6 5 4", "plays in E"),
        ('step "a"\n  show section\n', "show section intro", "8 bars"),
        ('step "a"\n  show pattern plain over\n', "show pattern plain over E", "ritardando"),
    ],
)
def test_the_example_is_one_of_the_same_block(text: str, example: str, other: str) -> None:
    """Some words stand in several blocks, and mean something else there."""
    (found,) = fretloom.loads(text).faults
    assert example in found.hint
    assert other not in found.hint


def test_a_hand_that_moves_by_nothing_is_told_so() -> None:
    """Not that open strings cannot move."""
    for word in ("up", "down"):
        lesson = fretloom.loads(f"voicings\n  E  022100\n  F  like E  {word} 0\n")
        assert [one.message for one in lesson.faults] == [f"{word} 0 moves nothing"]
