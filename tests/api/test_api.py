"""The library's front door."""

from __future__ import annotations

import pickle
import subprocess
import sys
from pathlib import Path

import pytest

import fretloom
from fretloom import api

GOOD = """# a comment
lesson "Two cups"
  meter 4/4

voicings
  C  x32010  fingers .32.1.  bass 5 4 5 4

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | C
"""


def test_public_names_are_all_there() -> None:
    """Every public name can be had, and the list is sorted."""
    assert fretloom.__all__ == sorted(fretloom.__all__)
    assert all(getattr(fretloom, name) is not None for name in fretloom.__all__)
    assert set(fretloom.__all__) <= set(dir(fretloom))
    with pytest.raises(AttributeError, match="no attribute 'chords'"):
        _ = fretloom.chords  # type: ignore[attr-defined]


def test_the_front_door_lists_its_names_before_they_are_used() -> None:
    """Editors and the documentation find them by `dir`; each can be had."""
    fresh = "from fretloom import api; print(*dir(api)); [getattr(api, n) for n in api.__all__]"
    done = subprocess.run([sys.executable, "-c", fresh], capture_output=True, text=True, check=True)
    assert set(api.__all__) == set(done.stdout.split())


def test_public_names_survive_the_import_of_every_stage() -> None:
    """No sub-package hides a public function of its name."""
    lesson = fretloom.loads(GOOD)
    fretloom.check(lesson)
    fretloom.export_json(lesson)
    assert callable(fretloom.check)
    assert callable(fretloom.expand)


def test_lesson_is_loaded_checked_and_played(tmp_path: Path) -> None:
    """The three lines of a developer."""
    path = tmp_path / "tune.lesson"
    path.write_text(GOOD)
    lesson = fretloom.load(path)
    assert fretloom.check(lesson) == []
    assert [bar.index for bar in fretloom.expand(lesson).bars] == [1, 2]


def test_byte_order_mark_and_line_ends_do_not_matter() -> None:
    """A text with a mark and any line ends is the same lesson."""
    plain = fretloom.loads(GOOD)
    assert fretloom.loads("\ufeff" + GOOD) == plain
    assert fretloom.loads(GOOD.replace("\n", "\r\n")) == plain
    assert fretloom.loads(GOOD.replace("\n", "\r")) == plain


def test_lesson_without_a_text_is_checked_in_its_canonical_form() -> None:
    """A lesson built by a program has findings with places, too."""
    lesson = fretloom.loads(GOOD.replace("| C", "| D"))
    built = fretloom.Lesson(blocks=lesson.blocks)
    (found,) = fretloom.check(built)
    assert found.rule == "unknown-voicing"
    assert found.span.text == "D"


def test_format_keeps_comments() -> None:
    """Canonical text has every comment."""
    assert fretloom.dumps(fretloom.loads(GOOD)).startswith("# a comment\n")


def test_faulty_lesson_is_not_exported() -> None:
    """The exception carries the faults, and can be pickled with them."""
    lesson = fretloom.loads(GOOD.replace("| C", "| D"))
    with pytest.raises(fretloom.LessonFaulty) as caught:
        fretloom.export_json(lesson, despite_errors=True)
    assert [one.rule for one in caught.value.diagnostics] == ["unknown-voicing"]
    again = pickle.loads(pickle.dumps(caught.value))
    assert str(again) == str(caught.value)


@pytest.mark.parametrize(
    ("chords", "said"),
    [
        ("| D", "has an error that makes it unclear what is played"),
        ("| D | E", "has 2 errors that make it unclear what is played"),
    ],
)
def test_the_refusal_agrees_with_the_number_of_errors(chords: str, said: str) -> None:
    """One error leaves something open, two leave it."""
    lesson = fretloom.loads(GOOD.replace("| C", chords))
    with pytest.raises(fretloom.LessonFaulty) as caught:
        fretloom.export_json(lesson, despite_errors=True)
    assert str(caught.value).endswith(said)


def test_unknown_format_is_refused() -> None:
    """A format that does not exist is the caller's mistake."""
    with pytest.raises(
        fretloom.FretloomError,
        match="tab, musicxml, mxl, svg, pdf, png, shapes, shapes-text, changes, words, drawn-tab, practice, script, handout, handout-pdf, wav, flac, ogg, midi, captions, json, playback",
    ):
        api.export(fretloom.loads(GOOD), to="gif")


def test_wrong_options_are_refused_before_the_lesson_is_looked_at() -> None:
    """The caller's mistake comes first, whatever the lesson."""
    faulty = fretloom.loads(GOOD.replace("| C", "| D"))
    with pytest.raises(TypeError, match="options of tab are TabOptions, not ScoreOptions"):
        fretloom.export(faulty, "tab", fretloom.ScoreOptions())
    with pytest.raises(fretloom.FretloomError, match="its options are width, unrolled"):
        api.options_named("tab", {"widht": 60})


def test_an_export_has_a_name_and_what_it_leaves_out() -> None:
    """What is left out comes with the result, as values."""
    named = fretloom.loads(GOOD.replace(" C", " steps"), path="shed/two-cups.lesson")
    (output,) = api.export(named, to="musicxml")
    assert output.name == "two-cups.musicxml"
    assert output.content == fretloom.export_musicxml(named)
    what = "the diagram of steps, which is not a chord symbol"
    comment = "1 comment, which is not part of a notation file"
    assert output.left_out == (api.LeftOut(comment), api.LeftOut(what, 1, "tune"))
    assert api.left_out_as_text([output]) == (comment, f"{what}, in bar 1 (tune)")


def test_warnings_do_not_stop_an_export() -> None:
    """Only errors do."""
    spare = GOOD.replace("\nsection", "  slow   p , m , p , i\n\nsection")
    assert '"Two cups"' in fretloom.export_json(fretloom.loads(spare))


def test_lesson_goes_through_json_without_loss() -> None:
    """A lesson written as JSON and read back is the same lesson, and is checked as well as one."""
    lesson = fretloom.loads(GOOD)
    again = fretloom.lesson_from_json(fretloom.lesson_to_json(lesson))
    assert again == lesson
    assert fretloom.check(again) == []
    with pytest.raises(fretloom.LessonUnreadable):
        fretloom.lesson_from_json("[]")


def test_written_result_is_complete(tmp_path: Path) -> None:
    """`write` takes text and bytes."""
    fretloom.write(tmp_path / "a.txt", "é\n")
    fretloom.write(tmp_path / "b.mxl", b"\x00\x01")
    assert (tmp_path / "a.txt").read_bytes() == "é\n".encode()
    assert (tmp_path / "b.mxl").read_bytes() == b"\x00\x01"
