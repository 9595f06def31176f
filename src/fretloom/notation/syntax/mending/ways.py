"""A way in which a faulty statement may have been meant, and what is known about the fault."""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Iterable, Iterator
from functools import lru_cache

from fretloom.notation.syntax.parsing.tables import tables
from fretloom.values import frozen

_PLUCK = re.compile(r"[pimac]\d?(?:@\d\S*)?$")
_LITERAL = re.compile(r"[a-z]+")
#: Words that may have been read as a name, where the name was left out.
_AFTER_NAMES = frozenset(("from", "at", "to", "over", "of", "like", "add"))
_TEXT = re.compile(r'"(?:[^"\\]|\\.)*"')


def blanked(text: str) -> str:
    """Return the text with everything in quotes made blank, so that offsets stay true."""
    if '"' not in text:
        return text
    return _TEXT.sub(lambda match: " " * len(match[0]), text)


@lru_cache(maxsize=1)
def keywords() -> tuple[str, ...]:
    """Return all words of the notation."""
    literals = (text for text, pattern in tables().terminals.values() if not pattern)
    return tuple(text for text in literals if _LITERAL.fullmatch(text))


@frozen
class Way:
    """Pieces `(start, end, text)` to put into a statement, and in the imperative what that does."""

    title: str
    pieces: tuple[tuple[int, int, str], ...]

    def made_in(self, statement: str) -> str:
        """Return the statement with the pieces put in."""
        for start, end, text in reversed(self.pieces):
            statement = statement[:start] + text + statement[end:]
        return statement


@frozen
class Case:
    """A fault from `start` to `end` of a statement.

    `at` is where the parser stopped, `wanted` the terminals that could have stood there; `block` is
    the word that opens the block, "" outside of any; `elsewhere` are the words of all other lines, and
    `alone` says that the line has no other fault. `meant` is what the text at fault can only have
    meant, "" if that is not known.
    """

    rule: str
    statement: str
    start: int
    end: int
    at: int
    wanted: frozenset[str]
    block: str
    elsewhere: Container[str]
    alone: bool
    meant: str = ""

    @property
    def word(self) -> str:
        """The text at fault."""
        return self.statement[self.start : self.end]

    @property
    def first(self) -> str:
        """The first word of the statement, with its colon."""
        return re.split(r"[ \t]", self.statement, maxsplit=1)[0]

    @property
    def bare(self) -> str:
        """The statement with all that stands in quotes made blank."""
        return blanked(self.statement)

    def fits(self, word: str, start: int, end: int) -> bool:
        """Whether a keyword can be put in place of a piece: its neighbours are no words of chance."""
        if self.statement[max(start - 1, 0) : start + 1].isalnum() and start:
            return False
        if start < end and self.statement[end : end + 1].isdigit():
            return False
        before = self.statement[:start].split()[-1:]
        after = self.statement[end:].split()[:1]
        if word == "bar":
            return bool(before) and before[0] in ("but", "last", "first", "from", "without")
        if [word] in (before, after):
            return False
        picking = word in ("on", "with", "without", "plays")
        replaced = start < end and self.statement[start:end] not in keywords()
        return all(
            self._known(one, picking)
            or (replaced and one.rstrip(":,") in keywords() and one not in _AFTER_NAMES)
            for one in after
        ) and all(
            self._known(one, picking)
            or (one in keywords() and one not in _AFTER_NAMES)
            or (start < end and self._gives(one, start))
            for one in before
        )

    def _gives(self, word: str, end: int) -> bool:
        """Whether what stands before an offset is the name of the section that the line begins."""
        return not self.block and self.statement[:end].split() == ["section", word]

    def _known(self, word: str, picking: bool) -> bool:
        if picking and _PLUCK.match(word):
            return True
        return not word[0].isalpha() or word.rstrip(":,") in self.elsewhere

    def near(self, pattern: re.Pattern[str], least: int = 1) -> Iterator[re.Match[str]]:
        """Yield what a pattern finds outside quotes that overlaps the fault or touches it."""
        for match in pattern.finditer(self.bare):
            if (
                match.start() <= max(self.end, self.at) + least
                and match.end() >= self.start - least
            ):
                yield match


#: Yields ways in which a statement may have been meant.
Guess = Callable[[Case], Iterable[Way]]


def put(case: Case, start: int, end: int, text: str, title: str = "") -> Way:
    """Return the change that puts a text in place of another."""
    old = case.statement[start:end]
    if not title:
        title = f"write {text.strip()}" if text.strip() else f"remove {old.strip()}"
    return Way(title, ((start, end, text),))


def each(
    case: Case, pattern: re.Pattern[str], text: Callable[[re.Match[str]], str], title: str
) -> Iterator[Way]:
    """Yield the change that replaces all that a pattern finds outside quotes, if it finds anything."""
    found = [(one.start(), one.end(), text(one)) for one in pattern.finditer(case.bare)]
    changed = tuple(one for one in found if case.statement[one[0] : one[1]] != one[2])
    if changed:
        yield Way(title, changed)
