"""What every format returns: `write(reading, options)` gives outputs, each with what it leaves out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from itertools import groupby
from pathlib import PurePath
from typing import TypeAlias

from fretloom import extensions
from fretloom.errors import ExtensionFaulty, FretloomError
from fretloom.notation.model.lesson import Lesson
from fretloom.performance.events import PlayedBar
from fretloom.text import agreeing, listed
from fretloom.values import evolve, frozen

#: Text or bytes, whole or in pieces (sound is long).
Content: TypeAlias = str | bytes | Iterable[str] | Iterable[bytes]
#: So many places of one thing are named; further ones are counted.
_MOST_PLACES = 8


@frozen
class LeftOut:
    """Something the lesson has and an output cannot carry.

    Args:
        what: in plain words, as it follows "left out:".
        bar: the number of the first bar that has it, as a player counts, 0 for a pickup at the very
            start; None if it is about the whole lesson.
        section: title of that place's section, or its name; None as for `bar`.
    """

    what: str
    bar: int | None = None
    section: str | None = None


@frozen
class Output:
    """One result of an export.

    Args:
        name: what its file is called if the caller names none.
        content: text or bytes, or an iterator of pieces, to be read once.
        left_out: what the lesson has and this output cannot carry; what is written in the same way
            has one entry, at its first place.
    """

    name: str
    content: Content
    left_out: tuple[LeftOut, ...] = ()

    @property
    def text(self) -> str:
        """Return the whole content as text; an iterator is used up.

        Raises:
            TypeError: it is not text.
        """
        pieces = (self.content,) if isinstance(self.content, str | bytes) else tuple(self.content)
        if not all(isinstance(piece, str) for piece in pieces):
            raise TypeError(f"{self.name} is not text: take `data`")
        return "".join(piece for piece in pieces if isinstance(piece, str))

    @property
    def data(self) -> bytes:
        """Return the whole content as bytes, text as UTF-8; an iterator is used up."""
        from fretloom.files import pieces

        return b"".join(pieces(self.content))


class MadeAnew:
    """Pieces of an output that are made when they are read, each time anew."""

    def __init__(self, make: Callable[[], Iterator[bytes]]) -> None:
        """Take what makes them."""
        self._make = make

    def __iter__(self) -> Iterator[bytes]:
        return self._make()


def left_out_at(what: str, played: PlayedBar) -> LeftOut:
    """Return what is left out of a bar, with its place."""
    return LeftOut(what, played.number, played.title or played.section)


def file_name(lesson: Lesson, ending: str) -> str:
    """Return the name of a lesson's file with another ending; `lesson` if it has no file."""
    name = lesson.source.name if lesson.source is not None else ""
    stem = "" if name.startswith("<") else PurePath(name).stem
    return (stem or "lesson") + ending


def in_words(left_out: Iterable[LeftOut]) -> tuple[str, ...]:
    """Return a line for each thing left out: `the order of a roll, in bars 3 and 7 (verse) and 2 more`."""
    places: dict[str, list[LeftOut]] = {}
    for one in left_out:
        found = places.setdefault(one.what, [])
        if one.bar is not None:
            found.append(one)
    return tuple(what + _places(found) for what, found in places.items())


def _places(found: list[LeftOut]) -> str:
    if not found:
        return ""
    groups = [
        _in_section(section, [one.bar for one in together if one.bar is not None])
        for section, together in groupby(found[:_MOST_PLACES], lambda one: one.section)
    ]
    more = len(found) - _MOST_PLACES
    return f", in {listed([*groups, f'{more} more'] if more > 0 else groups)}"


def _in_section(section: str | None, bars: list[int]) -> str:
    """Say some bars of a section: `bars 3, 7 and 12 (Verse)`; bar 0 is the pickup."""
    said = ["the pickup"] if 0 in bars else []
    numbers = [number for number in bars if number]
    if numbers:
        said.append(f"{agreeing(len(numbers), 'bar', 'bars')} {listed(numbers)}")
    where = " and ".join(said)
    return f"{where} ({section})" if section else where


def outputs_of(row: object, name: str, write: Callable[[], object]) -> tuple[Output, ...]:
    """Return what a format writes; pieces that are made when they are read may still fail.

    Raises:
        ExtensionFaulty: it fails, or does not return outputs.
        FretloomError: it says itself why it cannot carry the lesson.
    """
    with of_another_package(row, name):
        outputs = write()
    if not (isinstance(outputs, tuple) and all(isinstance(one, Output) for one in outputs)):
        raise _failed(row, name, "does not return a tuple of Output")
    return tuple(evolve(one, content=_content(row, name, one.content)) for one in outputs)


def _content(row: object, name: str, content: Content) -> Content:
    if isinstance(content, str | bytes):
        _check(row, name, content)
        return content
    if not isinstance(content, Iterable):
        raise _failed(row, name, "gives neither text nor bytes")
    return _OthersPieces(row, name, content)


class _OthersPieces:
    """Pieces of another package's output; whatever goes wrong while they are made names it."""

    def __init__(self, row: object, name: str, content: Iterable[str] | Iterable[bytes]) -> None:
        self._row, self._name, self._content = row, name, content

    def __iter__(self) -> Iterator[bytes]:
        with of_another_package(self._row, self._name):
            pieces = iter(self._content)
        while True:
            with of_another_package(self._row, self._name):
                piece = next(pieces, None)
            if piece is None:
                return
            _check(self._row, self._name, piece)
            yield piece  # type: ignore[misc]  # All are of one kind; `Content` says which.


def _check(row: object, name: str, piece: object) -> None:
    """Refuse what cannot be put into a file."""
    if not isinstance(piece, str | bytes):
        raise _failed(row, name, "gives neither text nor bytes")
    if isinstance(piece, str):
        with of_another_package(row, name):
            piece.encode("utf-8")


@contextmanager
def of_another_package(row: object, name: str) -> Iterator[None]:
    """Have whatever another package raises name it; what it raises on purpose is its own message."""
    try:
        yield
    except FretloomError:
        raise
    except (Exception, SystemExit) as error:
        raise _failed(row, name, f"failed: {extensions.why(error)}") from error


def _failed(row: object, name: str, what: str) -> ExtensionFaulty:
    return extensions.failed("format", name, extensions.FORMATS, row, what)
