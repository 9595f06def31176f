"""A text says in which edition of the notation it is written; older ones are read for ever, a later one is one finding."""

from __future__ import annotations

from pathlib import Path

import pytest

import fretloom
from fretloom.collection.naming.names import Names
from fretloom.collection.naming.renaming import renaming
from fretloom.errors import FretloomError
from fretloom.frontends.command.main import main
from fretloom.model import with_setting
from fretloom.notation import editions
from fretloom.notation.editions import OlderEdition, present

LESSON = """\
lesson "Two cups"
  meter 4/4

voicings
  C  x32010  fingers .32.1.  bass 5 4 5 4

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | C
"""
#: The same in an edition that never was: `pace` for tempo, `hush` for a rest, and a thumb that was `t`.
FIRST_EDITION = """\
# For Tuesday
lesson "Two cups"  # and saucers
  pace 96   # gently

voicings
  C  x32010  fingers .32.1.  bass 5 4 5 4

patterns
  plain  t , t m , t i , t m
         # in the middle
         | t , t m , t i , t

section tune  using plain
  C { t , t m , t i , t m } | hush | C  # and breathe
"""


def _newer(block: str, statement: str) -> str:
    words = {"lesson": ("pace ", "tempo "), "section": ("hush", "rest"), "patterns": (" t", " p")}
    old, new = words.get(block, ("", ""))
    statement = statement.replace(old, new) if old else statement
    return statement.replace(" t ", " p ") if block == "section" else statement


@pytest.fixture
def second(monkeypatch: pytest.MonkeyPatch) -> None:
    """A second edition, which writes some things otherwise than the first."""
    older = OlderEdition(says="the thumb was t", newer=_newer)
    monkeypatch.setattr(editions, "OLDER", (older,))


def _rules(text: str) -> list[str]:
    return [one.rule for one in fretloom.check(fretloom.loads(text))]


def test_there_is_one_edition() -> None:
    """Who changes this makes sure that lessons of edition 1 are read as they were."""
    assert present() == 1


@pytest.mark.parametrize("head", ["", "notation 1\n\n", "# Tuesday\nnotation 1  # so far\n\n"])
def test_the_line_is_kept_as_it_is_and_is_not_needed(head: str) -> None:
    """With its comments; the lesson is the same apart from it."""
    lesson = fretloom.loads(head + LESSON)
    assert fretloom.check(lesson) == []
    assert fretloom.dumps(lesson) == head + LESSON
    assert lesson.blocks[bool(head) :] == fretloom.loads(LESSON).blocks
    assert fretloom.lesson_from_json(fretloom.lesson_to_json(lesson)) == lesson


def test_a_file_of_voicings_can_say_it_too() -> None:
    """It has no heading."""
    assert _rules("notation 1\n\nvoicings\n  C  x32010\n") == []


@pytest.mark.parametrize("head", ["notation 2\n", "# Tuesday\n\n notation 1\nnotation 2\n", "\ufeffnotation 999999  # later\r\n", f"notation {'9' * 38}\n", f"notation {'1' * 5_000}\n"])  # fmt: skip
def test_a_later_edition_is_one_finding(head: str) -> None:
    """Whatever else stands there is not read, and so not found fault with."""
    head = head.replace(" notation 1\n", "")
    lesson = fretloom.loads(head + "blocks of (the) future: {{\n" * 40)
    (found,) = fretloom.check(lesson)
    assert (found.rule, found.span.text[:8], found.music_undefined) == ("later-edition", "notation", True)  # fmt: skip
    assert found.message.endswith("of the notation, and this fretloom reads edition 1 alone")
    with pytest.raises(FretloomError):
        fretloom.dumps(lesson)


def test_a_later_edition_in_a_file_that_is_used_is_one_finding(tmp_path: Path) -> None:
    """The names that would be in it are not missed as well."""
    (tmp_path / "open.lesson").write_text("notation 2\nvoicings\n  C  x32010\n")
    song = LESSON.replace(
        "voicings\n  C  x32010  fingers .32.1.  bass 5 4 5 4", 'use "open.lesson"'
    )
    (found,) = fretloom.check(fretloom.loads(song, path=tmp_path / "a.lesson"))
    assert found.rule == "linked-file-faulty"
    assert "edition 2 of the notation" in found.message


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("notation 0\n" + LESSON, "bad-value"),
        ("notation 1.5\n" + LESSON, "bad-value"),
        ("notation one\n" + LESSON, "not-understood"),
        ("notation\n" + LESSON, "not-understood"),
        ("notation 1 2\n" + LESSON, "not-understood"),
        (LESSON + "\nnotation 1\n", "not-understood"),
        (LESSON + "\nnotation 2\n", "not-understood"),
        ("notation 1\nnotation 1\n" + LESSON, "not-understood"),
        (LESSON.replace("  meter", "  notation 1\n  meter"), "not-understood"),
        ("  notation 1\n" + LESSON, "not-understood"),
        ("  notation 2\n" + LESSON, "not-understood"),
        ("notaton 1\n" + LESSON, "unknown-word"),
    ],
)
def test_a_line_that_is_wrong_or_in_the_wrong_place_is_one_finding(text: str, rule: str) -> None:
    """It opens nothing, and the rest is read as ever."""
    assert _rules(text) == [rule]


@pytest.mark.parametrize(("margin", "hint"), [(" ", "remove the space before it"), ("   ", "remove the spaces before it"), ("# Tea\n\n\t", "remove the space before it")])  # fmt: skip
def test_a_first_line_behind_spaces_is_told_to_lose_them(margin: str, hint: str) -> None:
    """It stands at the top already."""
    (found,) = fretloom.check(fretloom.loads(f"{margin}notation 1\n{LESSON}"))
    assert found.hint == hint
    assert found.message == "the edition of the notation is named in column one"


def test_a_number_with_many_digits_is_not_shown() -> None:
    """Python would refuse to read it, and no line is that long."""
    (found,) = fretloom.check(fretloom.loads(f"notation {'9' * 38}\n"))
    assert "written in a later edition of the notation" in found.message


def test_things_can_be_called_so() -> None:
    """It is a word only where it opens a file."""
    text = LESSON.replace("plain", "notation").replace("section tune", "section notation")
    assert _rules(text) == []
    assert _rules(text.replace("  notation  p", "  notation : p")) == []


@pytest.mark.usefixtures("second")
@pytest.mark.parametrize(
    ("head", "first"),
    [
        ("", "notation 2\n\n# For Tuesday\nlesson"),
        ("# Old\nnotation 1  # in the first year\n\n", "# Old\nnotation 2  # in the first year\n\n# For Tuesday\nlesson"),
    ],
)  # fmt: skip
def test_an_older_text_is_read_as_it_was_meant_and_written_anew(head: str, first: str) -> None:
    """By the present edition, which says so; comments stay, and once is enough."""
    lesson = fretloom.loads(head + FIRST_EDITION)
    assert fretloom.check(lesson) == []
    new = fretloom.dumps(lesson)
    assert new.startswith(first)
    for line in (
        "  tempo 96  # gently",
        "  # in the middle",
        "  plain  p , p m , p i , p m | p , p m , p i , p",
        "  C { p, p m, p i, p m } | rest | C  # and breathe",
    ):
        assert line in new.splitlines()
    assert fretloom.dumps(fretloom.loads(new)) == new
    assert fretloom.loads(new) == lesson
    assert fretloom.expand(fretloom.loads(new)) == fretloom.expand(lesson)


@pytest.mark.usefixtures("second")
def test_what_the_first_edition_wrote_is_a_fault_in_the_second() -> None:
    """And the other way round: the line decides."""
    assert _rules("notation 2\n" + LESSON) == []
    assert set(_rules("notation 2\n" + FIRST_EDITION)) >= {"unknown-word"}
    assert _rules("notation 3\n" + LESSON) == ["later-edition"]


@pytest.mark.usefixtures("second")
def test_a_fault_in_an_older_text_is_where_it_stands() -> None:
    """In a statement that was written otherwise it is about all of it, and carries no edit, which would not fit."""
    for old, new, where in (
        ("pace 96", "pace fast", "pace fast"),
        ("pace 96", "pace 96 bpm", "pace 96 bpm"),
        ("| hush", "| hush C", "C { t , t m , t i , t m } | hush C | C"),
        ("section tune", "secton tune", "secton"),
    ):
        faulty = FIRST_EDITION.replace(old, new)
        found = fretloom.check(fretloom.loads(faulty))[0]
        assert found.span.text == where
        assert found.span.source.text == faulty
        assert not found.edits or where == "secton"


@pytest.mark.usefixtures("second")
def test_what_is_built_is_of_the_present_edition() -> None:
    """Its text says so, and reads back as it is."""
    lesson = fretloom.loads("notation 2\n\n" + LESSON)
    built = fretloom.Lesson(blocks=lesson.blocks[1:])
    assert fretloom.dumps(built) == "notation 2\n\n" + LESSON
    assert fretloom.check(built) == []
    assert fretloom.dumps(with_setting(built, "tempo 96")).startswith("notation 2\n")
    assert fretloom.dumps(fretloom.Lesson()) == ""


@pytest.mark.usefixtures("second")
def test_format_brings_a_file_up_to_date_and_rename_asks_for_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where names stand is only sure in a text that is as it is read."""
    monkeypatch.chdir(tmp_path)
    file = tmp_path / "cups.lesson"
    file.write_text(
        FIRST_EDITION.replace("t m ,\n       # in the middle\n       | t , t m", "t m , t i , t m")
    )
    with pytest.raises(FretloomError, match=r"older edition of the notation: say fretloom format cups\.lesson first"):  # fmt: skip
        renaming(Names(tmp_path), file, "C", "C.low")
    assert main(["format", "cups.lesson"]) == 0
    assert file.read_text().startswith("notation 2\n")
    assert main(["format", "--check", "cups.lesson"]) == 0
    assert main(["rename", "cups.lesson", "C", "C.low"]) == 0
    assert "cups.lesson: 3 places" in capsys.readouterr().out


@pytest.mark.usefixtures("second")
def test_a_file_of_another_edition_can_be_used(tmp_path: Path) -> None:
    """Each file is read in its own."""
    (tmp_path / "old.lesson").write_text("patterns\n  steady  t , t m , t i , t m\n")
    song = "notation 2\n\n" + LESSON.replace("voicings", 'use "old.lesson"\n\nvoicings', 1)
    song = song.replace("using plain", "using steady").replace(
        "\npatterns\n  plain  p , p m , p i , p m\n", ""
    )
    assert fretloom.check(fretloom.loads(song, path=tmp_path / "a.lesson")) == []
