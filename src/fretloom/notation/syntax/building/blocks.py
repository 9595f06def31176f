"""Knows the blocks: the words that open them, and how to read the lines in each."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, cast

from fretloom.diagnostics import Diagnostic
from fretloom.limits import LIMITS
from fretloom.notation.editions import present
from fretloom.notation.model.form import Form, FormEntry
from fretloom.notation.model.heading import Heading
from fretloom.notation.model.lesson import (
    Block,
    Edition,
    PatternBlock,
    PickingBlock,
    Use,
    VoicingBlock,
)
from fretloom.notation.model.margin import Margin, Unread
from fretloom.notation.model.section import RepeatEnd, RepeatStart, SectionLine
from fretloom.notation.model.step import Prose, Step
from fretloom.notation.model.words import misspelt_show
from fretloom.notation.syntax import synonyms
from fretloom.notation.syntax.building.form import form_line, show_line
from fretloom.notation.syntax.building.heading import setting
from fretloom.notation.syntax.building.patterns import pattern
from fretloom.notation.syntax.building.sections import body_line, section
from fretloom.notation.syntax.building.voicings import home, voicing
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.tree import text_of, whole
from fretloom.notation.syntax.reader import Reader, token_span
from fretloom.notation.syntax.slips.beats import NAMELESS
from fretloom.text import near_names
from fretloom.values import evolve, frozen

_PLAIN_OPENERS: dict[str, type] = {
    "picking": PickingBlock,
    "voicings": VoicingBlock,
    "patterns": PatternBlock,
    "form": Form,
}


def open_block(reader: Reader, line: Line, margin: Margin, word: str) -> Block:
    """Read the line that opens a block; what is unclear is noted, and the block is opened all the same."""
    if word in _PLAIN_OPENERS:
        rest = line.statement[len(line.word) :].strip()
        if rest:
            start = line.statement.index(rest, len(line.word))
            message = f"`{word}` has to be alone on its line"
            hint = (
                "put what follows on the next line, indented" if rest != ":" else "remove the colon"
            )
            reader.fault("not-understood", line.span(start), message, hint)
        return cast("Block", _PLAIN_OPENERS[word](margin=margin, span=line.span()))
    if word == "section":
        read = section(reader, line, margin) if reader.has_room("Section", line) else None
        return read if read is not None else unread_opening(line, margin)
    if word == "notation":
        return _edition(reader, line, margin)
    tree = reader.tree(line, f"{word}_line")
    if tree is None and word != "use":
        opened = Heading if word == "lesson" else Step
        return cast("Block", opened(title="", margin=margin, span=line.span()))
    if tree is None:
        return unread_opening(line, margin)
    token = tree.token(0)
    text, place = text_of(token), token_span(line, token)
    if word == "lesson":
        return Heading(title=text, margin=margin, title_span=place, span=line.span())
    if word == "use":
        return Use(path=text, margin=margin, path_span=place, span=line.span())
    return Step(title=text, margin=margin, span=line.span())


def _edition(reader: Reader, line: Line, margin: Margin) -> Block:
    """Read the line that names the edition; it stands first."""
    tree = reader.tree(line, "notation_line")
    if tree is None:
        return unread_opening(line, margin)
    number = tree.token(0)
    if not whole(number):
        message = f"an edition of the notation is a whole number from 1 on, not {number.text}"
        reader.fault("bad-value", token_span(line, number), message, f"write notation {present()}")
        return unread_opening(line, margin)
    return Edition(margin=margin, span=line.span())


def misplaced_edition(reader: Reader, line: Line, *, first: bool = False) -> None:
    """Note that the edition is named where nobody looks for it; `first` says that only the margin is wrong."""
    message = "the edition of the notation is named in the first line of a file, and nowhere else"
    hint = "move this line to the top, or remove it"
    if first:
        message = "the edition of the notation is named in column one"
        one = line.source.position(line.start)[1] == 2
        hint = f"remove the {'space' if one else 'spaces'} before it"
    reader.fault("not-understood", line.span(), message, hint)


def with_opening(block: Block, statement: str) -> Block:
    """Keep the opening line of a block as it stands, because it was not understood."""
    if isinstance(block, Unread):
        return evolve(block, text=statement)
    # A misspelled `use` is read all the same, and written right.
    return block if isinstance(block, Use | Edition) else evolve(block, opening=statement)


def unread_opening(line: Line, margin: Margin) -> Unread:
    """Keep an opening line that was not understood, with the name that it tried to give."""
    words = "".join(filter(str.isprintable, line.statement)).split()
    named = words[:1] == ["section"] and len(words) > 1 and words[1][0].isalpha()
    return Unread(line.statement, words[1] if named else "", margin)


@frozen
class _Kind:
    """How the lines of a block are read: the reader of one, and whether its first word is a name."""

    read: Callable[[Reader, Line, Margin], object | None]
    field: str
    named: bool = False


def _meant_field(line: Line) -> str:
    """Return the field of the heading that a line means, "" if that cannot be guessed."""
    word = line.word.lower().rstrip(":")
    if word in FIELDS:
        return word
    near = near_names(word, FIELDS, 1, 0.6)
    return synonyms.FIELDS.get(word) or (near[0] if near else "")


def _setting(reader: Reader, line: Line, margin: Margin) -> object | None:
    if line.word in FIELDS:
        return setting(reader, line, margin)
    meant = _meant_field(line)
    span = line.span(0, len(line.word))
    known = "write one of " + ", ".join(FIELDS)
    hint = f"write it like this: {FIELDS[meant].like_this}" if meant else known
    reader.fault("unknown-word", span, f"`{line.word}` is not a line of the heading", hint)
    return None


def _prose_or_show(reader: Reader, line: Line, margin: Margin) -> object | None:
    if line.word == "show":
        return show_line(reader, line, margin)
    if misspelt_show(line.statement):
        span = line.span(0, len(line.word))
        message = f"`{line.word}` shows nothing: such a line begins with the word show"
        rest = line.statement[len(line.word) :].strip()
        reader.fault("unknown-word", span, message, f"write show {rest}")
        reader.meant[span.start] = "show"
        return None
    span = line.span()
    # As it was written: prose keeps every kind of space.
    return Prose(text=span.text, margin=margin, span=span)


_KINDS: dict[type, _Kind] = {
    Heading: _Kind(_setting, "settings"),
    PickingBlock: _Kind(home, "lines"),
    VoicingBlock: _Kind(voicing, "lines", named=True),
    PatternBlock: _Kind(pattern, "lines", named=True),
    Form: _Kind(form_line, "entries"),
    Step: _Kind(_prose_or_show, "lines"),
}


class BlockBuilder:
    """Collects the lines of one block."""

    def __init__(self, reader: Reader, block: Block) -> None:
        self.reader = reader
        self.block = block
        self.lines: list[Any] = []
        self.unread: list[str] = []
        self.depth = 0
        self.texts: list[str] = []

    @property
    def takes_lines(self) -> bool:
        """Whether lines can belong to the block (not to `use` and `notation`)."""
        return not isinstance(self.block, Use | Edition)

    @property
    def takes_tail(self) -> bool:
        """Whether comments after its last line can belong to the block."""
        return not isinstance(self.block, Use | Edition | Unread)

    @property
    def named(self) -> bool:
        """Whether the lines of the block begin with names of the teacher's own."""
        kind = _KINDS.get(type(self.block))
        return kind is not None and kind.named

    def takes(self, line: Line) -> bool:
        """Whether a line makes sense in this block; this does not note any fault."""
        if isinstance(self.block, Use | Unread | Step) or not self.takes_lines:
            return False
        return not self.faults_in(line)

    def faults_in(self, line: Line) -> list[Diagnostic]:
        """Return what would be wrong with a line in this block; this does not note it."""
        kind = _KINDS.get(type(self.block))
        with self.reader.attempt() as attempt:
            if kind is None:
                body_line(self.reader, line, Margin())
            else:
                kind.read(self.reader, line, Margin())
        return attempt.faults

    def skip(self, line: Line, margin: Margin, name: str = "") -> None:
        """Keep a line that cannot be read, as it is; `name` is what it names, if not its first word."""
        if isinstance(self.block, Unread):
            self.add_unread(line, margin)
            return
        kind = _KINDS.get(type(self.block))
        self.texts.append(line.statement)
        self.lines.append(
            Unread(line.statement, (name or line.word) if kind and kind.named else "", margin)
        )

    def add(self, line: Line, margin: Margin) -> None:
        """Read one line into the block."""
        if isinstance(self.block, Unread):
            self.add_unread(line, margin)
            return
        kind = _KINDS.get(type(self.block))
        self.texts.append(line.statement)
        if kind is None:
            self.lines.append(self._not_too_deep(body_line(self.reader, line, margin), line))
            return
        read = None
        if not kind.named or self.reader.has_room(type(self.block).__name__, line):
            read = kind.read(self.reader, line, margin)
        if read is None:
            name = line.word if kind.named else _meant_field(line) if kind.read is _setting else ""
            if kind.read is pattern and NAMELESS.match(line.statement):
                name = ""  # It may be any.
            read = Unread(line.statement, name, margin)
        self.lines.append(read)

    def _not_too_deep(self, read: SectionLine, line: Line) -> SectionLine:
        """Return a line of a section, unread if it opens a repeat inside too many others."""
        self.depth += isinstance(read, RepeatStart) - isinstance(read, RepeatEnd)
        if not isinstance(read, RepeatStart) or self.depth <= LIMITS.repeats_deep:
            return read
        message = f"repeats are nested more than {LIMITS.repeats_deep:,} deep here"
        hint = "write fewer repeats inside one another"
        self.reader.fault("nested-too-deep", line.span(), message, hint)
        return Unread(line.statement, margin=read.margin)

    def add_unread(self, line: Line, margin: Margin) -> None:
        """Keep a line of a block whose opening was not understood, and its comments."""
        whole = f"{line.statement}  {margin.beside}" if margin.beside else line.statement
        self.unread += [*margin.above, whole]

    def finish(self, tail: tuple[str, ...]) -> Block:
        """Return the block with its lines, and the comments after the last of them."""
        block = self.block
        if isinstance(block, Unread):
            return evolve(block, text="\n  ".join((block.text, *self.unread, *tail)))
        if isinstance(block, Use | Edition):
            return block
        kind = _KINDS.get(type(block))
        field = kind.field if kind else "lines"
        lines = self._with_buts() if isinstance(block, Form) else self.lines
        return cast("Block", evolve(cast("Any", block), **{field: tuple(lines), "tail": tail}))

    def _with_buts(self) -> list[FormEntry | Unread]:
        """Hang every `but` on the entry above it."""
        entries: list[FormEntry | Unread] = []
        buts: list[list[Any]] = []
        for read, text in zip(self.lines, self.texts, strict=True):
            entry = isinstance(read, FormEntry)
            if entry or (isinstance(read, Unread) and text.split()[:1] != ["but"]):
                entries.append(read)
                buts.append([])
            elif entries and isinstance(entries[-1], FormEntry):
                buts[-1].append(read)
            else:
                if not entries and not isinstance(read, Unread):
                    self._belongs_to_nothing(read)
                entries.append(Unread(text, margin=read.margin))
                buts.append([])
        return [
            evolve(entry, buts=tuple(changes))
            if changes and isinstance(entry, FormEntry)
            else entry
            for entry, changes in zip(entries, buts, strict=True)
        ]

    def _belongs_to_nothing(self, but: Any) -> None:
        message = "this `but` belongs to nothing: there is no section on a line above it"
        hint = "write the section's name on the line above"
        self.reader.fault("not-understood", but.span, message, hint)
