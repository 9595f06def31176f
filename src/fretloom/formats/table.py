"""The table of formats: one row each; the library, the command and its page are made from it."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import nullcontext
from functools import cache
from importlib import import_module

from attrs import field
from attrs.validators import matches_re

from fretloom import extensions
from fretloom.errors import ExtensionFaulty, FretloomError
from fretloom.formats.options import FormatOptions, Option, as_options, chosen, declared
from fretloom.formats.shape import Output, of_another_package, outputs_of
from fretloom.performance.reading import Reading
from fretloom.values import frozen


@frozen(kw_only=True)
class Format:
    """A format: what it is called and where it is written.

    Args:
        name: what the library and the command call it: small letters, digits and hyphens.
        ending: that of its files, with the dot.
        says: what it is, in a line without a full stop.
        module: has `write(reading, options)`, which returns a tuple of `Output`.
        options: module and name of the class of its options, a `FormatOptions`.
        binary: whether it must not go to a terminal.
    """

    name: str = field(validator=matches_re(r"[a-z][a-z0-9-]*"))
    ending: str = field(validator=matches_re(r"\.[a-z0-9.-]+"))
    says: str
    module: str
    options: str
    binary: bool = False

    @property
    def options_class(self) -> type[FormatOptions]:
        """The class of its options."""
        module, _, name = self.options.rpartition(".")
        ours = FORMATS.get(self.name) is self
        with nullcontext() if ours else of_another_package(self, self.name):
            found: type[FormatOptions] = getattr(import_module(module), name)
            if not issubclass(found, FormatOptions):
                raise TypeError(f"{name} is not a class of FormatOptions")
        return found

    def checked(self, options: FormatOptions | None) -> FormatOptions:
        """Return options if they are this format's, and its defaults for None.

        Raises:
            TypeError: they are of another class.
        """
        wanted = self.options_class
        if options is None:
            return wanted()
        if not isinstance(options, wanted):
            made = as_options(options, wanted)
            if made is not None:
                return made
            given = type(options).__name__
            raise TypeError(f"options of {self.name} are {wanted.__name__}, not {given}")
        return options

    def chosen(self, given: Mapping[str, object]) -> FormatOptions:
        """Return its options with the values given, and defaults for the others.

        Raises:
            FretloomError: the format does not take an option or its value.
        """
        return chosen(self.options_class, given, self.name)

    def write(self, reading: Reading, options: FormatOptions) -> tuple[Output, ...]:
        """Write a lesson with options of this format.

        Raises:
            FretloomError: the format cannot carry the lesson at all.
            ExtensionFaulty: it is one of another package, and fails.
        """
        if FORMATS.get(self.name) is not self:
            written = lambda: import_module(self.module).write(reading, options)  # noqa: E731
            return outputs_of(self, self.name, written)
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
        name="svg",
        ending=".svg",
        says="pictures of the engraved score, a file a page, for paper and for web pages",
        module="fretloom.formats.pictures.svg",
        options="fretloom.formats.pictures.options.PictureOptions",
    ),
    Format(
        name="pdf",
        ending=".pdf",
        says="the same score as a document to print",
        module="fretloom.formats.pictures.pdf",
        options="fretloom.formats.pictures.options.PictureOptions",
        binary=True,
    ),
    Format(
        name="png",
        ending=".png",
        says="the same pictures made of dots, for what shows no SVG",
        module="fretloom.formats.pictures.png",
        options="fretloom.formats.pictures.options.DotsOptions",
        binary=True,
    ),
    Format(
        name="shapes",
        ending=".shapes.svg",
        says="chord diagrams as a drawing (SVG), with what the thumb plays",
        module="fretloom.formats.students.shapes.sheet",
        options="fretloom.formats.students.shapes.options.ShapeOptions",
    ),
    Format(
        name="shapes-text",
        ending=".shapes.txt",
        says="the same in plain text",
        module="fretloom.formats.students.shapes.text",
        options="fretloom.formats.students.shapes.options.TextShapeOptions",
    ),
    Format(
        name="changes",
        ending=".changes.svg",
        says="the changes of shape as drawings (SVG), with the places where the fingers come from",
        module="fretloom.formats.students.changes.sheet",
        options="fretloom.formats.students.changes.options.ChangeOptions",
    ),
    Format(
        name="words",
        ending=".words.md",
        says="the whole lesson in words (Markdown, plain text, or to be heard)",
        module="fretloom.formats.students.words.page",
        options="fretloom.formats.students.words.options.WordsOptions",
    ),
    Format(
        name="drawn-tab",
        ending=".tab.svg",
        says="the song as drawn tab (SVG), to time scale, with stems, counts and words",
        module="fretloom.formats.students.drawn_tab.page",
        options="fretloom.formats.students.drawn_tab.options.DrawnTabOptions",
    ),
    Format(
        name="practice",
        ending=".practice.txt",
        says="what to practise, step by step and day by day, in plain text with boxes to tick",
        module="fretloom.formats.students.practice.document",
        options="fretloom.formats.students.practice.options.PracticeOptions",
    ),
    Format(
        name="script",
        ending=".script.md",
        says="the teacher's own script: what to say, to play and to show, with the minutes (Markdown)",
        module="fretloom.formats.students.script.page",
        options="fretloom.formats.students.script.options.ScriptOptions",
    ),
    Format(
        name="handout",
        ending=".handout.html",
        says="all a student takes home, as one page for paper and for the phone",
        module="fretloom.formats.students.handout.html",
        options="fretloom.formats.students.handout.options.HandoutOptions",
    ),
    Format(
        name="handout-pdf",
        ending=".handout.pdf",
        says="the same page as a document to print",
        module="fretloom.formats.students.handout.pdf",
        options="fretloom.formats.students.handout.options.HandoutOptions",
        binary=True,
    ),
    Format(
        name="wav",
        ending=".wav",
        says="the lesson as it sounds on a guitar",
        module="fretloom.formats.sound.recording.wav",
        options="fretloom.formats.sound.recording.options.RecordingOptions",
        binary=True,
    ),
    Format(
        name="flac",
        ending=".flac",
        says="the same, in a third of the size",
        module="fretloom.formats.sound.recording.flac",
        options="fretloom.formats.sound.recording.options.RecordingOptions",
        binary=True,
    ),
    Format(
        name="ogg",
        ending=".ogg",
        says="the same, small (Ogg Vorbis), for mail and for web pages",
        module="fretloom.formats.sound.recording.ogg",
        options="fretloom.formats.sound.recording.options.RecordingOptions",
        binary=True,
    ),
    Format(
        name="midi",
        ending=".mid",
        says="what is played as a Standard MIDI File, for players, synthesisers and sequencers",
        module="fretloom.formats.sound.midi.document",
        options="fretloom.formats.sound.midi.options.MidiOptions",
        binary=True,
    ),
    Format(
        name="captions",
        ending=".vtt",
        says="bar, chord, count and words as they come, as captions (WebVTT), with the sections as chapters",
        module="fretloom.formats.sound.captions.document",
        options="fretloom.formats.sound.captions.options.CaptionOptions",
    ),
    Format(
        name="json",
        ending=".json",
        says="what is played as JSON, for other programs",
        module="fretloom.formats.music_json.document",
        options="fretloom.formats.music_json.options.MusicJsonOptions",
    ),
    Format(
        name="playback",
        ending=".playback.json",
        says="what is heard and when, in seconds, as JSON: every string from its pluck to its end",
        module="fretloom.formats.sound.playback_json.document",
        options="fretloom.formats.sound.playback_json.options.PlaybackOptions",
    ),
)

#: The formats of this package by name.
FORMATS: dict[str, Format] = {row.name: row for row in _ROWS}


def format_named(name: str) -> Format:
    """Return a format.

    Raises:
        FretloomError: the format is unknown.
    """
    if not isinstance(name, str):
        raise TypeError(f"to is the name of a format, not {type(name).__name__}")
    found = FORMATS.get(name) or all_formats().get(name)
    if found is None:
        known = ", ".join(all_formats())
        raise FretloomError(f"there is no format {name[:40]!r}; choose one of {known}")
    return found


@cache
def all_formats() -> dict[str, Format]:
    """Return the formats of this package and those that others offer, by name.

    Raises:
        ExtensionFaulty: one cannot be loaded, or has the name or the ending of another.
    """
    found = dict(FORMATS)
    for offer in extensions.offers(extensions.FORMATS):
        row = offer.load(Format)
        for other in found.values():
            if row.name == other.name or row.ending == other.ending:
                same = f"the format {other.name} has the same name or the same ending"
                raise ExtensionFaulty(f"{offer} cannot be used: {same}")
        found[row.name] = row
    return found


def all_options() -> dict[Option, tuple[str, ...]]:
    """Return the options of all formats, each with the names of the formats that take it."""
    found: dict[Option, tuple[str, ...]] = {}
    for row in all_formats().values():
        for option in declared(row.options_class):
            found[option] = (*found.get(option, ()), row.name)
    return found
