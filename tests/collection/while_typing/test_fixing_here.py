"""What can be done about findings at a place."""

from __future__ import annotations

from pathlib import Path

from typed_lessons import typed

from fretloom import apply_edits, check, loads
from fretloom.collection.while_typing.fixing_here import ways_out

LESSON = """voicings
  C  x32010  fingers .32.1.
  D  xx0232  fingers ...132
patterns
  plain  p , p m , p i , p m
section a  using plain
  C
"""


def _ways(text: str, first: int = 0, last: int | None = None) -> list[tuple[str, str, bool]]:
    lesson, _ = typed(text)
    found = ways_out(lesson, first, len(text) if last is None else last)
    return [(one.title, apply_edits(text, one.edits), one.sure) for one in found]


def test_a_sure_change_is_offered_by_what_it_does() -> None:
    """It mends the finding that it belongs to."""
    text = LESSON.replace("using plain", "using plainn")
    ((title, after, sure),) = [one for one in _ways(text) if one[2]]
    assert (after, sure) == (LESSON, True)
    assert title == "Write plain"


def test_a_finding_can_be_allowed_and_the_reason_is_the_teachers() -> None:
    """Without a reason the comment does not count, and a finding says so; with one it does."""
    ((title, after, sure),) = _ways(LESSON)
    assert (title, sure) == ("Allow unused-voicing here, and say why", False)
    assert "...132  # allow unused-voicing: \n" in after
    assert {one.rule for one in check(loads(after))} == {"unused-voicing", "waiver-without-reason"}
    assert check(loads(after.replace("voicing: \n", "voicing: for next week\n"))) == []


def test_beside_a_comment_it_goes_on_the_line_above() -> None:
    """With the indentation and the line end that the text has."""
    text = LESSON.replace("...132", "...132  # soon").replace("\n", "\r\n")
    ((_, after, _),) = _ways(text)
    assert "\r\n  # allow unused-voicing: \r\n  D  xx0232  fingers ...132  # soon\r\n" in after
    assert check(loads(after.replace("voicing: ", "voicing: for next week"))) == []


def test_only_findings_that_are_touched_count() -> None:
    """The place may be where one begins or ends."""
    start = LESSON.index("D  xx")
    assert len(_ways(LESSON, start, start)) == 1
    assert _ways(LESSON, start + 3, len(LESSON)) == []


def test_what_makes_a_lesson_wrong_cannot_be_allowed() -> None:
    """There is no comment for it."""
    assert not [
        one for one in _ways(LESSON.replace("\n  C\n", "\n  X\n")) if "Allow unknown" in one[0]
    ]


def test_a_chord_without_a_voicing_gets_shapes() -> None:
    """The first of them is what teachers show (common practice, no source); after it nothing is missing."""
    text = LESSON.replace("\n  C\n", "\n  C | D | Am7\n")
    ways = [one for one in _ways(text) if one[0].startswith("Add ")]
    assert [sure for *_, sure in ways] == [False] * 3
    title, after, _ = ways[0]
    assert title == "Add Am7  x02010  fingers ..2.1.  bass 5 4 5 4"
    assert after == text.replace(
        "...132\n", "...132\n  Am7  x02010  fingers ..2.1.  bass 5 4 5 4\n"
    )
    assert not [one for one in check(loads(after)) if one.severity.value == "error"]
    assert _ways(LESSON.replace("\n  C\n", "\n  walk\n")) == []


def test_many_missing_voicings_are_not_looked_for() -> None:
    """One who selects a whole text does not wait for them."""
    text = LESSON.replace("\n  C\n", "\n  C | D | Em | Fm | Gm | Am\n")
    assert not [one for one in _ways(text) if one[0].startswith("Add ")]


def test_what_is_wrong_in_another_file_is_not_done_here() -> None:
    """A finding there may have the same place."""
    base = Path("base.lesson").absolute()
    text = 'lesson "Base"\n\n' + LESSON.replace("using plain", "using plainn").replace(
        "C\n", "C | D\n"
    )
    lesson, _ = typed('lesson "A"\n  based on "base.lesson"\n', others={base: text})
    (found,) = lesson.findings
    assert (found.span.source.name, len(found.edits)) == (str(base), 1)
    assert ways_out(lesson, 0, 999) == ()
