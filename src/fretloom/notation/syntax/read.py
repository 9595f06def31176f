"""Reads a text into a lesson. Whatever is wrong is noted, and the rest is read all the same."""

from __future__ import annotations

from fretloom.diagnostics import Diagnostic, Edit
from fretloom.limits import LIMITS
from fretloom.memory import no_collection
from fretloom.notation.editions import edition_said
from fretloom.notation.model.form import Form
from fretloom.notation.model.lesson import Block, Edition, Lesson, Use, with_edition
from fretloom.notation.model.margin import Margin, Unread
from fretloom.notation.model.step import Step
from fretloom.notation.model.words import OPENERS
from fretloom.notation.syntax.building import beyond, older
from fretloom.notation.syntax.building.blocks import (
    BlockBuilder,
    misplaced_edition,
    open_block,
    unread_opening,
    with_opening,
)
from fretloom.notation.syntax.building.heading import naming_of, strings_of
from fretloom.notation.syntax.lines import Line, Words, joined, split
from fretloom.notation.syntax.reader import Reader, beyond_limits, deleting, note_hidden_comments
from fretloom.notation.syntax.slips.comments import comment_sign
from fretloom.notation.syntax.slips.find import all_hidden, find_hidden, without_hidden
from fretloom.notation.syntax.slips.slip import Slip
from fretloom.shapes import trusted
from fretloom.source import Source, Span
from fretloom.values import evolve


def read(source: Source, *, newest: bool = False) -> Lesson:
    """Read a whole text; `Lesson.faults` says what was not understood. Never raises for bad text.

    A text that does not say of which edition it is, is of the first, or with `newest` of the present one.
    """
    unreadable = beyond_limits(source) or older.later_edition(source)
    if unreadable is not None:
        return Lesson(blocks=(), source=source, faults=(unreadable,))
    with no_collection(), trusted():
        return _Pass(source, newest).run()


class _Pass:
    """One reading of one text: collects blocks, and comments on their way to their owners."""

    def __init__(self, source: Source, newest: bool) -> None:
        self.lines = list(joined(split(source)))
        if not newest:
            self.lines = older.in_present_edition(self.lines)
        self.reader = Reader(source, naming_of(self.lines), strings_of(self.lines))
        self.source = source
        self.blocks: list[Block] = []
        self.builder: BlockBuilder | None = None
        self.word = ""
        self.words: Words | None = None
        self.inside: list[Block] = []
        self.waiting: list[Line] = []
        self.gap = False

    def run(self) -> Lesson:
        for line in self.lines:
            if len(line.statement) > LIMITS.line:
                self.too_long(line)
            elif line.blank:
                self.gap = True
            elif not line.statement:
                note_hidden_comments(self.reader, line)
                self.waiting.append(line)
            else:
                self.statement(line)
            if self.reader.count > LIMITS.faults:
                self.give_up(line)
                break
        if self.reader.count:
            from fretloom.notation.syntax.mending.one_slip import runs_once
            from fretloom.notation.syntax.mending.renaming import renamed_everywhere

            found = runs_once(self.reader.faults)
            named = renamed_everywhere(found, self.lines)
            self.reader.replace(0, list(older.without_edits(named, self.lines)))
        self.close()
        if not self.blocks and not self.reader.count:
            beyond.note_empty(self.reader)
        return Lesson(
            blocks=with_edition(tuple(self.blocks)),
            tail=tuple(comment.comment for comment in self.waiting),
            source=self.source,
            faults=self.reader.faults,
        )

    def too_long(self, line: Line) -> None:
        """Note a line that is longer than any, and keep it as it is."""
        beyond.note_too_long(self.reader, line)
        self.skip(line)

    def skip(self, line: Line, name: str = "") -> None:
        """Keep a line that is not looked at, in the open block if it is one of its lines."""
        if not line.indented:
            self.close()
            unread = unread_opening(line, self.margin(line))
            self.builder = BlockBuilder(self.reader, unread)
        elif self.builder is not None and self.builder.takes_lines:
            self.builder.skip(line, self.margin(line), name)
        else:
            self.keep(line)

    def give_up(self, line: Line) -> None:
        """Stop reading a text that is hardly a lesson."""
        self.reader.cut(LIMITS.faults)
        beyond.note_too_many(self.reader, line)

    def margin(self, line: Line) -> Margin:
        """Give the comments that wait, and the one beside it, to a line."""
        above = tuple(one.comment for one in (*self.waiting, *line.earlier))
        gap, self.gap = self.gap and (bool(self.blocks) or self.builder is not None), False
        self.waiting.clear()
        return Margin(above, line.comment, gap) if above or line.comment or gap else Margin()

    def statement(self, line: Line) -> None:
        """Read a line that is not empty; where it is faulty, look for one sure change that mends it."""
        before = self.reader.count
        self.understood(line)
        if self.reader.count > before:
            from fretloom.notation.syntax.building.faulty import slips_in

            word = self.word if line.indented else ""
            block = self.builder.block if self.builder is not None else None
            self.words = self.words or Words(self.lines)
            others = self.words.without(line)
            found = slips_in(self.reader, line, word, block, before, others, self.tried)
            self.reader.replace(before, found)

    def tried(self, line: Line) -> list[Diagnostic] | None:
        """Return what would be wrong with a line; None if it would not stand there at all."""
        word = line.word.rstrip(":")
        with self.reader.attempt() as attempt:
            if find_hidden(line.statement) is not None:
                return None
            if (word in OPENERS and not line.indented) or (word == "use" and '"' in line.statement):
                open_block(self.reader, line, Margin(), word)
                return attempt.faults
        block = self.builder.block if self.builder is not None else None
        if not line.indented or block is None or isinstance(block, Unread | Use | Edition):
            return None
        if self.builder is None or (isinstance(block, Step) and word != "show"):
            return None
        return self.builder.faults_in(line)

    def understood(self, line: Line) -> None:
        """Read a line, and note what is wrong with it."""
        word = line.word.rstrip(":")
        in_step = self.builder is not None and isinstance(self.builder.block, Step)
        prose = in_step and line.indented and word != "show"
        hidden = find_hidden(line.statement, prose)
        if hidden is not None:
            self.obscured(line, hidden, prose)
            return
        note_hidden_comments(self.reader, line)
        if not prose and (sign := comment_sign(line.statement)) is not None:
            span = line.span(0, sign.end)
            self.reader.fault(sign.rule, span, sign.message, sign.hint)
            self.reader.meant[span.start] = sign.meant
            self.aside(line)
        elif line.indented:
            self.indented(line, word)
        elif word in OPENERS:
            self.open(line, word)
        else:
            self.stranger(line, word)

    def obscured(self, line: Line, hidden: Slip, prose: bool) -> None:
        """Keep a line in which something is hidden; what it opens is opened, and what it names is known."""
        clean = evolve(line, statement=without_hidden(line.statement, prose))
        word = clean.word.rstrip(":")
        opens = not line.indented and word in OPENERS and word != "use"
        harmless = hidden.in_text and (opens or prose)
        places = all_hidden(line.statement, prose) if hidden.in_text else []
        edits = deleting(self.source, line.start, places)
        span = line.span(hidden.start, hidden.end)
        self.reader.fault(hidden.rule, span, hidden.message, hidden.hint, edits, harmless)
        if opens:
            self.open(clean, word, own=line.statement)
        else:
            self.skip(line, clean.word)

    def aside(self, line: Line) -> None:
        """Keep a line that is for people in the open block, wherever it begins."""
        if self.builder is not None and self.builder.takes_lines:
            self.builder.skip(line, self.margin(line))
        else:
            self.keep(line)

    def keep(self, line: Line) -> None:
        """Keep an indented line that belongs to no block, after the open one if there is one."""
        unread = Unread("  " + line.statement, margin=self.margin(line))
        (self.blocks if self.builder is None else self.inside).append(unread)

    def open(self, line: Line, word: str, own: str = "") -> None:
        """Close the open block and open another one; `own` is how a misspelled line stands there."""
        if word == "notation" and (self.blocks or self.builder is not None):
            misplaced_edition(self.reader, line)
            self.skip(line)
            return
        self.close()
        margin = self.margin(line)
        before = self.reader.count
        self.word = word
        block = open_block(self.reader, line, margin, word)
        if own or self.reader.count > before:
            block = with_opening(block, own or line.statement)
        self.builder = BlockBuilder(self.reader, block)

    def close(self) -> None:
        """Finish the open block; the indented ones that come first of the waiting comments are its own.

        Those of a block without lines wait for what follows it.
        """
        if self.builder is None:
            return
        own = 0
        while own < len(self.waiting) and self.waiting[own].indented and self.builder.takes_tail:
            own += 1
        tail = tuple(one.comment for one in self.waiting[:own])
        del self.waiting[:own]
        self.blocks += [self.builder.finish(tail), *self.inside]
        self.inside.clear()
        self.builder = None

    def indented(self, line: Line, word: str) -> None:
        """Read an indented line into the open block."""
        if self.builder is not None and isinstance(self.builder.block, Step):
            self.builder.add(line, self.margin(line))
        elif word == "use" and '"' in line.statement and self.builder is not None:
            # Many write it into the heading; it says the same there.
            self.inside.append(open_block(self.reader, line, self.margin(line), word))
        elif word == "notation" and edition_said(line.statement) and not self._is_named(line):
            first = not self.blocks and self.builder is None
            misplaced_edition(self.reader, line, first=first)
            self.aside(line)
        elif word in OPENERS and self._opens(line, word):
            message = f"`{word}` opens a block, so it starts in column one"
            hint = "remove the spaces before it"
            margin = Span(self.source, self.source.line_starts()[line.number - 1], line.start)
            edit = Edit(span=margin, text="", title=hint)
            span = line.span(0, len(word))
            self.reader.fault("indented-block", span, message, hint, edits=(edit,))
            self.open(line, word)
        elif self.builder is None or not self.builder.takes_lines:
            message = "this line is indented but does not belong to a block"
            hint = "put `" + "`, `".join(OPENERS[:-1]) + "` or `step` before it, in column one"
            self.reader.fault("outside-a-block", line.span(), message, hint)
            self.keep(line)
        else:
            self.builder.add(line, self.margin(line))

    def _is_named(self, line: Line) -> bool:
        """Whether a line of the open block begins with a name."""
        return self.builder is not None and self.builder.named and self.builder.takes(line)

    def _opens(self, line: Line, word: str) -> bool:
        """Whether an indented line opens a block by mistake, and is not a name."""
        if self._is_named(line):
            return False
        if word in ("lesson", "use", "step"):
            return line.statement.endswith('"') and "," not in line.statement.split('"')[-1]
        if word == "section" and self.builder is not None and isinstance(self.builder.block, Form):
            return len(line.statement.split()) > 2
        if word == "section":
            return len(line.statement.split()) > 1
        return line.statement.rstrip(":") == word

    def stranger(self, line: Line, word: str) -> None:
        """Deal with a line in column one that does not open a known block."""
        from fretloom.notation.syntax.building.faulty import block_of_steps, meant_opening

        if block_of_steps(self.reader, line):
            self.skip(line)
            return
        near, meant = meant_opening(line, self.builder)
        span = line.span(0, len(line.word))
        if near:
            message = f"no block is called `{line.word}`"
            said = " ".join(meant.split()[:2]) if near == "section" else near
            self.reader.fault("unknown-word", span, message, f"did you mean {said}?")
            # The start moves with the length of the line, so that what follows keeps its place.
            start = max(line.start + len(line.statement) - len(meant), 0)
            self.open(evolve(line, statement=meant, start=start), near, line.statement)
        elif self.builder is not None and self.builder.takes(line):
            message = "this line starts in column one, but it does not open a block"
            hint = "put spaces before it so that it belongs to the block above"
            edit = Edit(span=line.span(0, 0), text="  ", title="put two spaces before it")
            self.reader.fault("not-indented", span, message, hint, edits=(edit,))
            self.builder.add(line, self.margin(line))
        else:
            message = f"no block is called `{line.word}`"
            hint = "a lesson starts with a line such as: lesson " + '"Kiln Lane Shuffle"'
            self.reader.fault("unknown-word", span, message, hint)
            self.skip(line)
