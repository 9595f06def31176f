"""Lessons that were built without a text."""

from __future__ import annotations

from pathlib import Path

from attrs import evolve

from fretloom import api
from fretloom.api.reading import with_text

LESSON = """lesson "Two cups"

use "open.lesson"

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | C
"""


def test_a_lesson_without_a_text_keeps_the_files_it_uses(tmp_path: Path) -> None:
    """Written out to get one, it still has the voicings of the file that it names."""
    (tmp_path / "open.lesson").write_text("voicings\n  C  x32010  fingers .32.1.  bass 5 4 5 4\n")
    loaded = api.loads(LESSON, root=tmp_path)
    built = evolve(api.lesson_from_json(api.lesson_to_json(loaded)), linked=loaded.linked)
    assert built.source is None
    assert with_text(built).linked == loaded.linked
    assert api.check(built) == []
    assert len(api.expand(built).bars) == 2


def test_a_lesson_with_a_text_is_left_as_it_is() -> None:
    """Its findings point into the text that its author wrote."""
    loaded = api.loads(LESSON)
    assert with_text(loaded) is loaded
