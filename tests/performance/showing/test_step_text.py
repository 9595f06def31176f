"""What a teacher says in a step, as students read it."""

from __future__ import annotations

from fretloom.notation.model.step import Prose, Show, Step
from fretloom.performance.showing.step_text import paragraphs


def test_lines_in_a_row_are_one_paragraph() -> None:
    lines = (Prose(text="One"), Prose(text="two."), Show(kind="form"), Prose(text="Then G.bar."))
    said = paragraphs(Step(title="A", lines=lines), {"G.bar": "G at fret 3"})
    assert list(said) == ["One two.", "Then G at fret 3."]


def test_a_step_may_say_nothing() -> None:
    assert list(paragraphs(Step(title="A", lines=(Show(kind="form"),)), {})) == []
