"""The teacher's own words, from the steps of the lesson, at the scenes where they belong."""

from __future__ import annotations

from collections.abc import Sequence

from fretloom.formats.students.telling.pieces import ShownStep
from fretloom.formats.students.words.teller import Teller
from fretloom.notation.model.step import Show, Step


class OwnWords:
    """The text of each step, to be had once: where the first thing that it shows is taught."""

    def __init__(self, teller: Teller) -> None:
        self._steps = teller.reading.material.steps
        self._shown = teller.pieces.steps(self._steps)
        self._used: set[int] = set()

    def of(self, kind: str, name: str, over: str = "") -> tuple[str, ...]:
        """Return what the steps say that first show this: a pattern, a shape, a change, a section or its bars."""
        return self._taken([
            number for number, step in enumerate(self._steps)
            if (show := _first(step)) is not None and _key(show) == (kind, name, over)
        ])  # fmt: skip

    def of_song(self) -> tuple[str, ...]:
        """Return what the steps say that show the whole song, and all that found no other place."""
        return self._taken(range(len(self._steps)))

    def beside(self) -> tuple[str, ...]:
        """Return what the steps say that show nothing."""
        return self._taken([at for at, step in enumerate(self._steps) if _first(step) is None])

    def _taken(self, numbers: Sequence[int]) -> tuple[str, ...]:
        new = [number for number in numbers if number not in self._used]
        self._used.update(new)
        return tuple(text for number in new for text in self._text(self._shown[number]))

    def _text(self, step: ShownStep) -> tuple[str, ...]:
        return step.text


def _first(step: Step) -> Show | None:
    return next((line for line in step.lines if isinstance(line, Show)), None)


def _key(show: Show) -> tuple[str, str, str]:
    if show.kind in ("section", "bars"):
        return ("section", show.name, "")
    return (show.kind, show.name, show.over if show.kind == "change" else "")
