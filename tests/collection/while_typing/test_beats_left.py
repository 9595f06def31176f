"""How many beats are left in bars that are being typed."""

from __future__ import annotations

import pytest
from places import EXAMPLES

from fretloom.collection.while_typing.beats_left import beats_left
from fretloom.limits import LIMITS
from fretloom.source import Source
from fretloom.trade.music.meter import Meter, parse_meter

FOUR = Meter((4,), 4)


def _left(text: str, heading: Meter = FOUR) -> list[tuple[str, str]]:
    found = beats_left(Source("", text), heading, 1, 10**9)
    return [(text[: one.at].rpartition("\n")[2].lstrip(), one.words) for one in found]


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("plain p , p m", [("plain p , p m", "2 beats left")]),
        ("plain p , p m ,", [("plain p , p m ,", "2 beats left")]),
        ("plain p , p , p , p", []),
        ("plain p , p , p , p , p", [("plain p , p , p , p , p", "1 beat too many")]),
        ("waltz in 3/4: p , i", [("waltz in 3/4: p , i", "1 beat left")]),
        ('waltz "in 2/4" in 6/8 in 6 p', [('waltz "in 2/4" in 6/8 in 6 p', "5 beats left")]),
        ("two p , p , p , p | p", [("two p , p , p , p | p", "3 beats left")]),
        ("plain ", []),
        ("plain p , p # in 2/4", [("plain p , p", "2 beats left")]),
    ],
)
def test_a_pattern_says_what_its_bars_lack(line: str, left: list[tuple[str, str]]) -> None:
    """By its own meter; nothing before the first beat."""
    assert _left(f"patterns\n  {line}\n") == left


def test_a_line_that_goes_on_with_a_pattern_has_its_meter() -> None:
    """The meter stands where the pattern begins."""
    text = "patterns\n  waltz in 3/4: p , i , i\n  # between\n    | p , i , i , i\n"
    assert _left(text) == [("| p , i , i , i", "1 beat too many")]


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("C { p , p }", [("C { p , p", "2 beats left")]),
        ("C { p , p , p", [("C { p , p , p", "1 beat left")]),
        ("C:3 D:1 | C:2 D:1", [("C:3 D:1 | C:2 D:1", "1 beat left")]),
        ("C:3 D | C", []),
        ('"a { b" C { p , p , p , p }', []),
        ("pickup 1: C { p }", []),
        ('words: "a" | -', []),
    ],
)
def test_a_bar_says_what_it_lacks(line: str, left: list[tuple[str, str]]) -> None:
    """In what is written out, and where every voicing has its share."""
    assert _left(f"section a\n  {line}\n") == left


def test_the_meter_is_the_nearest_above() -> None:
    """Of a line of the section, of the section, or of the heading, which the caller knows."""
    bar = "  C { p , p }\n"
    text = f"section a in 3/4\n{bar}  meter 5/4\n{bar}section b\n{bar}"
    assert [words for _, words in _left(text, parse_meter("6/4"))] == [
        "1 beat left",
        "3 beats left",
    ]


def test_only_the_lines_asked_for_are_told() -> None:
    """What an editor shows of a long text."""
    source = Source("", "section a\n" + "  C { p }\n" * 5)
    assert len(beats_left(source, FOUR, 2, 3)) == 2
    assert len(beats_left(source, FOUR, -5, 99)) == 5


def test_a_line_of_odd_white_space_is_a_line() -> None:
    """Some of it ends a line elsewhere, and none of it is a word."""
    assert _left("\u2028\nsection a\n\x0b\n  C { p }\n") == [("C { p", "3 beats left")]


def test_a_lesson_that_is_right_lacks_nothing() -> None:
    """No hint in any example."""
    from fretloom import examine, load

    for file in sorted(EXAMPLES.glob("*.lesson")):
        meter = examine(load(file, root=EXAMPLES)).timeline.settings.meter
        assert beats_left(Source("", file.read_text("utf-8")), meter, 1, 10**9) == (), file.name


def test_a_text_that_is_not_read_has_no_hints_and_a_huge_one_so_many() -> None:
    """However many lines an editor asks about."""
    line = "  C { p , p }\n"
    assert len(_left("section a\n" + line * (LIMITS.outlined + 10))) == LIMITS.outlined
    assert _left("section a\n" + line + "\n" * LIMITS.lines) == []
