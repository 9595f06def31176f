"""How many files may lead from one to the next."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.notation.loading import load_lesson


@pytest.mark.parametrize(("files", "faults"), [(20, 0), (21, 1)])
def test_twenty_files_may_lead_from_one_to_the_next(
    tmp_path: Path, files: int, faults: int
) -> None:
    """The first file counts; a twenty-first is one fault, at the line that names it."""
    for number in range(1, files):
        (tmp_path / f"{number}.lesson").write_text(f'use "{number + 1}.lesson"\n')
    (tmp_path / f"{files}.lesson").write_text("voicings\n  C  x32010\n")
    lesson = load_lesson(tmp_path / "1.lesson")
    deepest = lesson
    while deepest.linked:
        ((_, deepest),) = deepest.linked.items()
    assert [fault.rule for fault in deepest.faults] == ["use-cycle"] * faults
    assert len(lesson.faults) == faults
