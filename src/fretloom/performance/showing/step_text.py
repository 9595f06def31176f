"""What a teacher says in a step, as students read it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fretloom.characters import nothing_hidden
from fretloom.notation.model.step import Prose, Step
from fretloom.performance.printed_names import in_print


def paragraphs(step: Step, names: Mapping[str, str]) -> Iterator[str]:
    """Yield what is said: lines that follow each other are one paragraph.

    `names` has what is printed for each voicing, by its name in the lesson.
    """
    said: list[str] = []
    for line in (*step.lines, None):
        text = nothing_hidden(in_print(line.text, names)) if isinstance(line, Prose) else ""
        if text:
            said.append(text)
        elif said:
            yield " ".join(said)
            said = []
