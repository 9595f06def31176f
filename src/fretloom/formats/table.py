"""The table of formats: one row each; `api.FORMATS`, the command and its page are made from it."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module

from fretloom.errors import FretloomError
from fretloom.formats.options import Option, chosen, declared
from fretloom.formats.shape import Output
from fretloom.performance.reading import Reading
from fretloom.values import frozen


@frozen(kw_only=True)
class Format:
    """A format: what it is called and where it is written.

    Args:
        name: what the library and the command call it. ending: that of its files.
        says: what it is, in a line without a full stop.
        module: has `write(reading, options)`. options: name and module of the class of its options.
        binary: whether it must not go to a terminal.
    """

    name: str
    ending: str
    says: str
    module: str
    options: str
    binary: bool = False

    @property
    def options_class(self) -> type:
        """The class of its options."""
        module, _, name = self.options.rpartition(".")
        found: type = getattr(import_module(module), name)
        return found

    def chosen(self, given: Mapping[str, object]) -> object:
        """Return its options with the values given, and defaults for the others.

        Raises:
            FretloomError: the format does not take an option or its value.
        """
        return chosen(self.options_class, given, self.name)

    def write(self, reading: Reading, options: object) -> tuple[Output, ...]:
        """Write a lesson with options from `chosen`.

        Raises:
            FretloomError: the format cannot carry the lesson at all.
        """
        outputs: tuple[Output, ...] = import_module(self.module).write(reading, options)
        return outputs


_ROWS = (
    Format(
        name="tab",
        ending=".txt",
        says="tab in plain text, to be printed, mailed or read in any editor",
        module="fretloom.formats.tab.page",
        options="fretloom.formats.tab.options.TabOptions",
    ),
    Format(
        name="musicxml",
        ending=".musicxml",
        says="MusicXML 4.0, for notation programs",
        module="fretloom.formats.musicxml.document",
        options="fretloom.formats.musicxml.options.ScoreOptions",
    ),
    Format(
        name="mxl",
        ending=".mxl",
        says="the same, compressed",
        module="fretloom.formats.musicxml.mxl",
        options="fretloom.formats.musicxml.options.ScoreOptions",
        binary=True,
    ),
    Format(
        name="json",
        ending=".json",
        says="what is played as JSON, for other programs",
        module="fretloom.formats.music_json.document",
        options="fretloom.formats.music_json.options.MusicJsonOptions",
    ),
)

#: The formats by name.
FORMATS: dict[str, Format] = {row.name: row for row in _ROWS}


def format_named(name: str) -> Format:
    """Return a format.

    Raises:
        FretloomError: the format is unknown.
    """
    if name not in FORMATS:
        raise FretloomError(f"there is no format {name!r}; choose one of {', '.join(FORMATS)}")
    return FORMATS[name]


def all_options() -> dict[Option, tuple[str, ...]]:
    """Return the options of all formats, each with the names of the formats that take it."""
    found: dict[Option, tuple[str, ...]] = {}
    for row in _ROWS:
        for option in declared(row.options_class):
            found[option] = (*found.get(option, ()), row.name)
    return found
