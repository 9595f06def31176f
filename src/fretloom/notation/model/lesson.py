"""The whole of a lesson as written: blocks in their order, and views of them by kind."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import TypeVar

from attrs import field

from fretloom.diagnostics import Diagnostic
from fretloom.notation.editions import FIRST, present
from fretloom.notation.model.form import Form
from fretloom.notation.model.heading import Heading
from fretloom.notation.model.limits import (
    Comment,
    Opening,
    Quoted,
    StringNumber,
)
from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.notation.model.pattern import Pattern
from fretloom.notation.model.section import Section
from fretloom.notation.model.step import Step
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.shapes import shaped
from fretloom.source import Source, Span
from fretloom.trade.guitar.plucking import PickingFinger
from fretloom.values import frozen

T = TypeVar("T")


def _wrong_home(home: Home) -> str:
    return "" if home.strings else "strings: a finger plays some string"


@shaped()
@frozen(kw_only=True)
class Edition:
    """`notation 1`, the first line of a text: which edition of the notation it is written in.

    A lesson that was read is one of the present edition, whichever its text is of.
    """

    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Use:
    """`use "voicings/open.lesson"`: that file's voicings and patterns can be used here."""

    path: Quoted
    margin: Margin = BARE
    path_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_home)
@frozen(kw_only=True)
class Home:
    """`p plays 6 5 4`: the strings a picking finger plays."""

    finger: PickingFinger
    strings: tuple[StringNumber, ...]
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class PickingBlock:
    """The `picking` block; `opening` as in `Heading`."""

    lines: tuple[Home | Unread, ...] = ()
    tail: tuple[Comment, ...] = ()
    margin: Margin = BARE
    opening: Opening = ""
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class VoicingBlock:
    """A `voicings` block; `opening` as in `Heading`."""

    lines: tuple[VoicingEntry | Unread, ...] = ()
    tail: tuple[Comment, ...] = ()
    margin: Margin = BARE
    opening: Opening = ""
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class PatternBlock:
    """A `patterns` block; `opening` as in `Heading`."""

    lines: tuple[Pattern | Unread, ...] = ()
    tail: tuple[Comment, ...] = ()
    margin: Margin = BARE
    opening: Opening = ""
    span: Span | None = field(default=None, eq=False, repr=False)


Block = (
    Edition
    | Heading
    | Use
    | PickingBlock
    | VoicingBlock
    | PatternBlock
    | Section
    | Form
    | Step
    | Unread
)


def with_edition(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    """Return blocks with the line that names the edition, if their text cannot do without."""
    if present() == FIRST or not blocks or isinstance(blocks[0], Edition):
        return blocks
    return (Edition(), *blocks)


@shaped()
@frozen(kw_only=True)
class Lesson:
    """A lesson (or a file of voicings and patterns): its blocks in written order.

    Spans, `source`, `faults` and `linked` do not count in comparisons. A lesson made from another
    one with other blocks (by `evolve`) has neither source nor faults: it is checked as if it had
    been read from its own canonical text, and findings point into that.

    Args:
        blocks: everything in the file, in order.
        tail: comments after the last block.
        source: the text it was read from, if it was.
        faults: what could not be understood while reading (see `fretloom.check` for all findings).
        linked: lessons that `use` and `based on` name, by the path as written; filled by the loader.
        as_read: the blocks and the tail that `source` says; filled where a source is given.
    """

    blocks: tuple[Block, ...] = ()
    tail: tuple[Comment, ...] = ()
    source: Source | None = field(default=None, eq=False, repr=False)
    faults: tuple[Diagnostic, ...] = field(default=(), eq=False, repr=False)
    linked: Mapping[str, Lesson] = field(factory=dict, eq=False, repr=False)
    as_read: tuple[object, object] | None = field(default=None, eq=False, repr=False)

    def __attrs_post_init__(self) -> None:
        read = self.as_read or (self.blocks, self.tail)
        kept = self.source is not None and read[0] is self.blocks and read[1] is self.tail
        if not kept:
            object.__setattr__(self, "source", None)
            object.__setattr__(self, "faults", ())
        object.__setattr__(self, "as_read", read if kept else None)

    def _of(self, kind: type[T]) -> Iterator[T]:
        return (block for block in self.blocks if isinstance(block, kind))

    @cached_property
    def heading(self) -> Heading | None:
        """The first `lesson` block."""
        return next(self._of(Heading), None)

    @cached_property
    def uses(self) -> tuple[Use, ...]:
        """All `use` lines."""
        return tuple(self._of(Use))

    @cached_property
    def homes(self) -> tuple[Home, ...]:
        """All lines of the `picking` block."""
        return tuple(
            line
            for block in self._of(PickingBlock)
            for line in block.lines
            if isinstance(line, Home)
        )

    @cached_property
    def voicings(self) -> tuple[VoicingEntry, ...]:
        """All voicings this file defines, in order."""
        return tuple(
            line
            for block in self._of(VoicingBlock)
            for line in block.lines
            if isinstance(line, VoicingEntry)
        )

    @cached_property
    def patterns(self) -> tuple[Pattern, ...]:
        """All patterns this file defines, in order."""
        return tuple(
            line
            for block in self._of(PatternBlock)
            for line in block.lines
            if isinstance(line, Pattern)
        )

    @cached_property
    def sections(self) -> tuple[Section, ...]:
        """All sections, in order."""
        return tuple(self._of(Section))

    @cached_property
    def form(self) -> Form | None:
        """The first `form` block; None means the sections as written."""
        return next(self._of(Form), None)

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """All steps, in order."""
        return tuple(self._of(Step))

    @property
    def title(self) -> str:
        """The title, or "" for a file of voicings and patterns."""
        return self.heading.title if self.heading else ""
