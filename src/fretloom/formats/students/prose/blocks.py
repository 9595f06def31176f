"""What a page of words is made of. All of it is text: no form takes anything in it for its own signs."""

from __future__ import annotations

from typing import TypeAlias

from fretloom.values import frozen


@frozen
class Title:
    """A heading; `level` 1 is the title of the page."""

    text: str
    level: int = 2


@frozen
class Passage:
    """Sentences that belong together."""

    sentences: tuple[str, ...]


@frozen
class Point:
    """One thing of several: `label` is what it is about, "" if the text says so itself."""

    label: str
    text: str = ""


@frozen
class Points:
    """Things in a row, one below the other; `numbered` if their order counts."""

    points: tuple[Point, ...]
    numbered: bool = False


ProseBlock: TypeAlias = Title | Passage | Points
