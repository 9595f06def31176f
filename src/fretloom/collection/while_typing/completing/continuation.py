"""What is offered to somebody who types: a text, what it is, and a few words on it."""

from __future__ import annotations

from typing import Literal

from fretloom.source import Span
from fretloom.values import frozen

ContinuationKind = Literal[
    "block", "field", "word", "value", "voicing", "pattern", "section", "shape", "rule", "file"
]


@frozen(kw_only=True)
class Continuation:
    """One text that may follow.

    Args:
        text: what is written if it is taken.
        kind: what it is.
        detail: a few plain words beside it.
        says: more about it, as Markdown.
        rank: likely ones first; those of one rank go by their text.
    """

    text: str
    kind: ContinuationKind
    detail: str = ""
    says: str = ""
    rank: int = 0


@frozen
class Continuations:
    """What may follow at a place; `span` is what is there of it already, and goes when one is taken."""

    span: Span
    offers: tuple[Continuation, ...] = ()
