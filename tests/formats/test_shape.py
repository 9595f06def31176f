"""The shape of formats: the table, what outputs are called, and how what is left out is said."""

from __future__ import annotations

import re

import pytest
from places import EXAMPLES

from fretloom.api import examine, load, loads
from fretloom.errors import FretloomError
from fretloom.formats.shape import LeftOut, Output, file_name, in_words
from fretloom.formats.table import FORMATS, Format, all_options, format_named

LESSON = EXAMPLES / "kiln-lane-shuffle.lesson"


@pytest.mark.parametrize("form", FORMATS.values(), ids=FORMATS)
def test_every_format_gives_named_outputs_of_its_kind(form: Format) -> None:
    """The first output has the lesson's name and the format's ending; only binary ones are not text."""
    outputs = form.write(examine(load(LESSON)).reading, form.chosen({}))
    assert outputs[0].name in (
        f"kiln-lane-shuffle{form.ending}",
        f"kiln-lane-shuffle-1{form.ending}",
    )
    for output in outputs:
        assert isinstance(output, Output)
        data = output.data
        assert (b"\0" in data) == form.binary


@pytest.mark.parametrize("form", FORMATS.values(), ids=FORMATS)
def test_the_options_of_a_format_are_described_where_they_are_declared(form: Format) -> None:
    """The docstring of their class names each of them."""
    options = form.options_class
    for name in options.__annotations__:
        assert re.search(rf"\b{name}:", options.__doc__)


def test_formats_have_names_and_endings_of_their_own() -> None:
    """No two share one, so that the ending of a file says the format."""
    assert [row.name for row in FORMATS.values()] == list(FORMATS)
    assert len({row.ending for row in FORMATS.values()}) == len(FORMATS)


def test_an_option_of_one_name_is_one_option() -> None:
    """Formats that share an option mean the same by it."""
    names = [option.name for option in all_options()]
    assert len(set(names)) == len(names)
    assert {option.name: names for option, names in all_options().items()}["layout"] == (
        "musicxml",
        "mxl",
        "svg",
        "pdf",
        "png",
    )


def test_an_unknown_format_is_refused() -> None:
    """The message lists those there are."""
    with pytest.raises(
        FretloomError,
        match="'gif'; choose one of tab, musicxml, mxl, svg, pdf, png, shapes, shapes-text, changes, words, drawn-tab, practice, script, handout, handout-pdf, wav, flac, ogg, midi, captions, json, playback",
    ):
        format_named("gif")


def test_a_lesson_without_a_file_has_a_name_for_its_output() -> None:
    """A text that was never saved is simply a lesson."""
    assert file_name(loads('lesson "Air"\n'), ".txt") == "lesson.txt"
    assert file_name(loads('lesson "Air"\n', path="a/b/air.v2.lesson"), ".txt") == "air.v2.txt"


def test_what_is_left_out_is_said_once_with_its_first_places() -> None:
    """Equal things share a line; what is about the whole lesson has no place."""
    rolls = [LeftOut("rolls", bar, "Verse") for bar in (0, 2, 5, 6)]
    rolls += [
        LeftOut("rolls", 9, "Bridge"),
        *(LeftOut("rolls", bar, None) for bar in range(11, 20)),
    ]
    found = [LeftOut("courses"), *rolls[:2], LeftOut("slurs", 3, "Verse"), *rolls[2:]]
    assert in_words(found) == (
        "courses",
        "rolls, in the pickup and bars 2, 5 and 6 (Verse), bar 9 (Bridge), bars 11, 12 and 13 and 6 more",
        "slurs, in bar 3 (Verse)",
    )
    assert in_words(rolls[:2]) == ("rolls, in the pickup and bar 2 (Verse)",)


def test_what_is_chosen_for_a_recording_is_taken_for_its_captions() -> None:
    """Of two formats that are heard; options of other formats are refused."""
    from fretloom.formats.sound.captions.options import CaptionOptions
    from fretloom.formats.sound.recording.options import RecordingOptions
    from fretloom.formats.tab.options import TabOptions

    taken = format_named("captions").checked(RecordingOptions(times=2, tempos=(60,)))
    assert taken == CaptionOptions(times=2, tempos=(60,))
    with pytest.raises(TypeError, match="options of captions are CaptionOptions, not TabOptions"):
        format_named("captions").checked(TabOptions())
