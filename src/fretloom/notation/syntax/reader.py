"""What every reader of a line needs: trees, spans of their tokens, and a place for faults."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import lru_cache

from attrs import field

from fretloom.characters import look_alike
from fretloom.diagnostics import Diagnostic, Edit
from fretloom.errors import SymbolError
from fretloom.limits import LIMITS
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.driver import parse
from fretloom.notation.syntax.parsing.tree import Token, Tree, Unexpected
from fretloom.notation.syntax.slips.find import all_hidden, find_hidden, find_slip
from fretloom.notation.syntax.slips.slip import Slip
from fretloom.rule_facts import Severity
from fretloom.source import Source, Span
from fretloom.values import evolve, frozen

#: So many lines are kept as they were parsed, if they have no more characters than this.
_LINES_KEPT, _SHORT_LINE = 1_024, 200
#: What a block names, in a message.
_NAMED = {"VoicingBlock": "voicings", "PatternBlock": "patterns", "Section": "sections"}


@frozen
class Attempt:
    """The faults of something that was tried; they only count if they are noted afterwards."""

    faults: list[Diagnostic] = field(factory=list)

    @property
    def failed(self) -> bool:
        """Whether there was a fault."""
        return bool(self.faults)


class Reader:
    """Reads the lines of one source, and notes what is wrong with them.

    `naming` is how the lesson names its notes; `strings` how many strings its tuning has, None if
    the file does not say (a file of voicings, or a lesson based on another). By the place of a fault,
    `expected` holds where the parser stopped and what could have stood there, `meant` what can only
    have been meant; `explained` are the places of faults that say from what slip they come.
    """

    def __init__(self, source: Source, naming: str = "english", strings: int | None = None) -> None:
        self.source = source
        self.naming = naming
        self.strings = strings
        self.expected: dict[int, tuple[int, frozenset[str]]] = {}
        self.meant: dict[int, str] = {}
        self.explained: set[int] = set()
        self._noted: list[Diagnostic] = []
        self._named: Counter[str] = Counter()

    @property
    def faults(self) -> tuple[Diagnostic, ...]:
        """What has been noted so far (in the innermost attempt, while something is tried)."""
        return tuple(self._noted)

    @property
    def count(self) -> int:
        """How many faults have been noted."""
        return len(self._noted)

    @contextmanager
    def attempt(self) -> Iterator[Attempt]:
        """Collect faults separately while something is tried; `note` adds those that are wanted."""
        outer, tried = self._noted, Attempt()
        self._noted = tried.faults
        try:
            yield tried
        finally:
            self._noted = outer

    def note(self, faults: Iterable[Diagnostic]) -> None:
        """Note faults of an attempt that count."""
        self._noted.extend(faults)

    def since(self, count: int) -> tuple[Diagnostic, ...]:
        """Return the faults after the first `count`."""
        return tuple(self._noted[count:])

    def replace(self, count: int, faults: Iterable[Diagnostic]) -> None:
        """Put faults in place of those after the first `count`."""
        self._noted[count:] = faults

    def cut(self, most: int) -> None:
        """Forget all faults except the first ones."""
        del self._noted[most:]

    def fault(
        self,
        rule: str,
        span: Span,
        message: str,
        hint: str = "",
        edits: tuple[Edit, ...] = (),
        harmless: bool = False,
    ) -> None:
        """Note an error; `harmless` says that this one does not change the music, though its rule can."""
        hint = (look_alike(span.text) if span.text[:1] != '"' else "") or hint
        found = Diagnostic(
            rule=rule, severity=Severity.ERROR, message=message, span=span, hint=hint, edits=edits
        )
        self._noted.append(evolve(found, music_undefined=False) if harmless else found)

    def has_room(self, block: str, line: Line) -> bool:
        """Count a line that gives a name; a fault is noted at the first beyond the limit."""
        self._named[block] += 1
        if self._named[block] == LIMITS.names + 1:
            message = f"there are more than {LIMITS.names:,} {_NAMED[block]} up to here"
            hint = "leave out those that are not needed, or make several lessons of this one"
            self.fault("too-large", line.span(), message, hint)
        return self._named[block] <= LIMITS.names

    def symbol_fault(self, rule: str, span: Span, error: SymbolError, hint: str = "") -> None:
        """Note that a word of the music is not understood, at the place where it goes wrong.

        `hint` is for errors without a hint of their own.
        """
        start = min(span.start + error.position, max(span.end - 1, span.start))
        place = Span(span.source, start, span.end)
        self.fault(rule, place, error.message, error.hint or hint)

    def tree(self, line: Line, start: str, begin: int = 0, end: int | None = None) -> Tree | None:
        """Parse a line (or a piece of it) by a rule of the grammar; None after noting a fault.

        Token positions in the tree are offsets into the whole statement.
        """
        short = len(line.statement) <= _SHORT_LINE
        read = (_kept if short else _looked_at)(line.statement, start, begin, end)
        if isinstance(read, Slip):
            slip = read
            span = line.span(begin + slip.start, begin + slip.end)
            self.fault(slip.rule, span, slip.message, slip.hint)
            if slip.meant:
                self.meant[span.start] = slip.meant
            if slip.rule == "not-understood":
                self.explained.add(span.start)
            return None
        if isinstance(read, Tree):
            return read
        from fretloom.notation.syntax.unexpected import say_unexpected

        # Blanks instead of what stands before a piece keep its offsets true.
        said = say_unexpected(read, " " * begin + line.statement[begin:end], start)
        span = line.span(said.start, said.end)
        self.expected[span.start] = (line.start + read.start, read.wanted)
        self.fault(said.rule, span, said.message, said.hint)
        return None


def _looked_at(text: str, start: str, begin: int, end: int | None) -> Slip | Tree | Unexpected:
    """Return the first slip in a piece of a statement; without one, what parsing it gives."""
    return find_slip(text[begin:end], start) or parse(text[:end], start, begin)


#: The same, for lines that were met before: in an editor all but one, and many of a collection.
_kept = lru_cache(maxsize=_LINES_KEPT)(_looked_at)


def token_span(line: Line, token: Token) -> Span:
    """Return where a token stands."""
    return line.span(token.start, token.end)


def tree_span(line: Line, tree: Tree) -> Span:
    """Return the span from a tree's first token to its last (its keywords have no tokens)."""
    return line.span(tree.start or 0, tree.end)


def deleting(source: Source, start: int, places: Iterable[int]) -> tuple[Edit, ...]:
    """Return the edits that delete single characters; their places count from `start`."""
    spans = (Span(source, start + at, start + at + 1) for at in places)
    return tuple(Edit(span=span, text="", title="delete it") for span in spans)


def note_hidden_comments(reader: Reader, line: Line) -> None:
    """Note what is hidden in the comments of a line; a terminal would obey some of it."""
    for one in (*line.earlier, line):
        found = find_hidden(one.comment, prose=True) if one.comment else None
        if found is not None:
            start = one.comment_start + found.start
            span = Span(reader.source, start, start + 1)
            places = all_hidden(one.comment, prose=True)
            edits = deleting(reader.source, one.comment_start, places)
            reader.fault(found.rule, span, found.message, found.hint, edits, harmless=True)


def beyond_limits(source: Source) -> Diagnostic | None:
    """Return the finding on a text that is too large to be read, None if it is not."""
    length, lines = len(source.text), 0
    if length <= LIMITS.characters and (lines := len(source.line_starts())) <= LIMITS.lines:
        return None
    what = f"{lines:,} lines" if lines else f"{length:,} characters"
    most = LIMITS.lines if lines else LIMITS.characters
    return Diagnostic(
        rule="too-large",
        severity=Severity.ERROR,
        message=f"this text has {what}, and the limit is {most:,}: it was not read",
        span=Span(source, 0, 0),
        hint="a lesson has some hundreds of lines: make several lessons of it, or check which file this is",
    )
