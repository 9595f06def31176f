"""The house style of a collection: what its lessons have that others may leave out."""

from __future__ import annotations

from fretloom.errors import FretloomError
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.text import nearest
from fretloom.values import frozen

#: The family of the rules that only a house style asks for.
FAMILY = "style"


@frozen(kw_only=True)
class HouseStyle:
    """What is asked of each lesson of a collection, besides being right; nothing by default.

    Args:
        heading: lines that a heading has, by the words they begin with: "tempo", "plays in".
        fingers: whether each voicing says its fingers.
        steps: whether each song has steps that say how to practise it.
        canonical: whether each file is in the form that formatting gives it.

    Raises:
        FretloomError: no heading can have such a line.
    """

    heading: tuple[str, ...] = ()
    fingers: bool = False
    steps: bool = False
    canonical: bool = False

    def __attrs_post_init__(self) -> None:
        """Refuse lines that there are not."""
        for words in self.heading:
            if fault := wrong_line(words):
                raise FretloomError(fault)


def wrong_line(words: str) -> str:
    """Say why no line of a heading begins with these words, "" if one does."""
    known = [one.word for one in FIELDS.values()]
    if words in known:
        return ""
    near = nearest(words, known)
    mend = f"did you mean {near}?" if near else f"there are {', '.join(known)}"
    return f'no line of a heading begins with "{words[:60]}"; {mend}'
