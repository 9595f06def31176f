"""What a house style asks for is found missing where it is, and nowhere else."""

from __future__ import annotations

from pathlib import Path

import pytest
from rule_lessons import HEAD, lesson

from fretloom.api import HouseStyle, check, examine, load, loads
from fretloom.errors import FretloomError

STEPS = 'step "The shape"\n  show voicing C\n'


def _asked(text: str, **style: object) -> list[tuple[str, int, str]]:
    found = check(loads(text), style=HouseStyle(**style))  # type: ignore[arg-type]
    return [(one.rule, one.span.line, one.message) for one in found]


def test_nothing_is_asked_for_without_a_style() -> None:
    bare = lesson(voicings="voicings\n  C  x32010\n")
    assert check(loads(bare)) == []
    assert _asked(bare) == []


def test_lines_that_a_heading_lacks_are_one_finding() -> None:
    (found,) = check(
        loads(lesson()), style=HouseStyle(heading=("tempo", "meter", "by", "plays in"))
    )
    assert (found.rule, found.span.text) == ("heading-lacks-line", '"Two cups"')
    assert (
        found.message
        == "the heading lacks 3 lines that all lessons here have: by, plays in and tempo"
    )
    assert found.hint == 'add by "...", plays in E and tempo 96'
    assert _asked(lesson(HEAD + "  tempo 90\n"), heading=("tempo", "meter")) == []


def test_a_line_that_cannot_be_read_is_not_lacking_too() -> None:
    assert [rule for rule, *_ in _asked(lesson(HEAD + "  tempo quick\n"), heading=("tempo",))] == [
        "not-understood"
    ]


def test_what_a_lesson_is_based_on_counts(tmp_path: Path) -> None:
    (tmp_path / "base.lesson").write_text(lesson(HEAD + "  tempo 90\n", more=STEPS))
    (tmp_path / "mine.lesson").write_text('lesson "Mine"\n  based on "base.lesson"\n')
    style = HouseStyle(heading=("tempo", "meter"), steps=True, fingers=True)
    assert check(load(tmp_path / "mine.lesson"), style=style) == []


@pytest.mark.parametrize(
    ("voicings", "lines"),
    [
        ("C  x32010  fingers .32.1.", []),
        ("C  x32010  bass 5 4 5 4", [5]),
        ("C  x32010  fingers .32.1.\n  C7  like C  add 3@3:4", []),
        ("C  x32010  fingers .32.1.\n  C7  like C  add 3@3", [6]),
        ("C  x32010  fingers .32.1.\n  Cmaj7  like C  lift 1", []),
        ("C  x32010  fingers .32.1.\n  Em  000000", []),
    ],
)
def test_fingers_are_asked_for_where_a_string_is_held(voicings: str, lines: list[int]) -> None:
    found = _asked(lesson(voicings=f"voicings\n  {voicings}\n"), fingers=True)
    assert [line for rule, line, _ in found if rule == "fingers-left-out"] == lines


def test_steps_are_asked_of_songs_and_not_of_shared_files() -> None:
    assert [rule for rule, *_ in _asked(lesson(), steps=True)] == ["without-steps"]
    assert _asked(lesson(more=STEPS), steps=True) == []
    shared = "voicings\n  C  x32010  fingers .32.1.\n"
    assert _asked(shared, steps=True, heading=("by",), fingers=True) == []


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ("  C  x32010", "  C x32010", 5),
        ("  meter 4/4\n", "   meter 4/4\n", 2),
        ("  C | C\n", "  C  |  C\n", 11),
        ("  C | C\n", "  C | C\n\n\n", 12),
        ("  C | C\n", "  C | C", 11),
        ("  C | C\n", "  C | C\n", None),
        ("\n", "\r\n", None),
    ],
)
def test_the_first_line_that_is_not_canonical_is_named(
    old: str, new: str, line: int | None
) -> None:
    """As `fretloom format` would write it: with the line ends that it has."""
    text = lesson().rstrip("\n") + "\n"
    found = [at for rule, at, _ in _asked(text.replace(old, new), canonical=True)]
    assert found == ([] if line is None else [line])


def test_what_is_formatted_is_canonical_and_what_has_faults_is_not_judged() -> None:
    from fretloom.api import formatted

    loose = lesson().replace("  C  x32010", "    C x32010")
    assert _asked(formatted(loads(loose)), canonical=True) == []
    assert [rule for rule, *_ in _asked(loose.replace("meter", "metre"), canonical=True)] == [
        "unknown-word"
    ]


def test_a_comment_allows_it_and_needs_no_style_to_stand_there() -> None:
    text = lesson(voicings="voicings\n  C  x32010  # allow fingers-left-out: as the hand likes\n")
    assert _asked(text, fingers=True) == []
    assert check(loads(text)) == []
    assert [rule for rule, *_ in _asked(text, steps=True)] == ["without-steps", "waiver-not-needed"]
    (waived,) = examine(loads(text), style=HouseStyle(fingers=True)).waived
    assert waived.reason == "as the hand likes"


def test_examined_lessons_take_another_style() -> None:
    plain = examine(loads(lesson()))
    assert [one.rule for one in check(plain, style=HouseStyle(steps=True))] == ["without-steps"]
    assert check(plain) == []


def test_a_line_that_no_heading_has_is_refused() -> None:
    with pytest.raises(FretloomError, match='begins with "temp"; did you mean tempo'):
        HouseStyle(heading=("tempo", "temp"))
    with pytest.raises(
        FretloomError, match='begins with "qqqqqqqqqq"; there are by, rights, tuning'
    ):
        HouseStyle(heading=("qqqqqqqqqq",))
