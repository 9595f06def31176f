"""Write, check and publish fingerstyle guitar lessons.

The names below are the public ones (docs/reference/api.md says what is promised of them); they are
imported on first use, so that `import fretloom` costs nothing.
"""

from __future__ import annotations

# As type checkers know it; importing `typing` for it would take most of the time.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from fretloom.api import (
        CapoChoice,
        CapoChoices,
        CaptionOptions,
        ChangeOptions,
        Diagnostic,
        DotsOptions,
        DrawnTabOptions,
        Eased,
        Edit,
        Examined,
        Format,
        FormatOptions,
        FoundVoicing,
        FoundVoicings,
        HandoutOptions,
        Hands,
        HouseStyle,
        IndexEntry,
        LeftOut,
        Lesson,
        LessonFaulty,
        LevelFits,
        MidiOptions,
        MusicJsonOptions,
        Output,
        PictureOptions,
        PlaybackOptions,
        PlayedBar,
        PracticeOptions,
        PracticePath,
        RecordingOptions,
        Related,
        Rule,
        ScoreOptions,
        ScriptOptions,
        Settings,
        Severity,
        ShapeOptions,
        SlurredNote,
        SoundOptions,
        Sounds,
        Source,
        Span,
        TabOptions,
        TextShapeOptions,
        TimedBar,
        TimedNote,
        TimedVoicing,
        Timeline,
        Transposed,
        WordsOptions,
        apply_edits,
        as_data,
        as_json,
        as_text,
        check,
        dumps,
        ease,
        examine,
        expand,
        explain,
        export,
        export_json,
        export_musicxml,
        export_mxl,
        export_tab,
        handout_entry,
        handout_index,
        hands,
        json_schema,
        known_formats,
        known_rules,
        lesson_from_json,
        lesson_to_json,
        levels,
        link,
        load,
        loads,
        play_along,
        practice,
        sounds,
        suggest_capos,
        suggest_voicings,
        to_music21,
        transpose,
        write,
    )
    from fretloom.errors import (
        EditsDoNotFit,
        ExtensionFaulty,
        FretloomError,
        LessonUnreadable,
        ModelError,
        NotWritten,
        SymbolError,
    )

    __version__: str

_EXCEPTIONS = (
    "EditsDoNotFit",
    "ExtensionFaulty",
    "FretloomError",
    "LessonUnreadable",
    "ModelError",
    "NotWritten",
    "SymbolError",
)

__all__ = [
    "CapoChoice",
    "CapoChoices",
    "CaptionOptions",
    "ChangeOptions",
    "Diagnostic",
    "DotsOptions",
    "DrawnTabOptions",
    "Eased",
    "Edit",
    "EditsDoNotFit",
    "Examined",
    "ExtensionFaulty",
    "Format",
    "FormatOptions",
    "FoundVoicing",
    "FoundVoicings",
    "FretloomError",
    "HandoutOptions",
    "Hands",
    "HouseStyle",
    "IndexEntry",
    "LeftOut",
    "Lesson",
    "LessonFaulty",
    "LessonUnreadable",
    "LevelFits",
    "MidiOptions",
    "ModelError",
    "MusicJsonOptions",
    "NotWritten",
    "Output",
    "PictureOptions",
    "PlaybackOptions",
    "PlayedBar",
    "PracticeOptions",
    "PracticePath",
    "RecordingOptions",
    "Related",
    "Rule",
    "ScoreOptions",
    "ScriptOptions",
    "Settings",
    "Severity",
    "ShapeOptions",
    "SlurredNote",
    "SoundOptions",
    "Sounds",
    "Source",
    "Span",
    "SymbolError",
    "TabOptions",
    "TextShapeOptions",
    "TimedBar",
    "TimedNote",
    "TimedVoicing",
    "Timeline",
    "Transposed",
    "WordsOptions",
    "__version__",
    "apply_edits",
    "as_data",
    "as_json",
    "as_text",
    "check",
    "dumps",
    "ease",
    "examine",
    "expand",
    "explain",
    "export",
    "export_json",
    "export_musicxml",
    "export_mxl",
    "export_tab",
    "handout_entry",
    "handout_index",
    "hands",
    "json_schema",
    "known_formats",
    "known_rules",
    "lesson_from_json",
    "lesson_to_json",
    "levels",
    "link",
    "load",
    "loads",
    "play_along",
    "practice",
    "sounds",
    "suggest_capos",
    "suggest_voicings",
    "to_music21",
    "transpose",
    "write",
]

#: Names that will go, each with the one to use instead; they stay for one minor version and half a year at least.
_GOING: dict[str, str] = {}

if not TYPE_CHECKING:  # Else type checkers would take every name for one that is there.

    def __getattr__(name: str) -> object:
        if name == "__version__":
            from fretloom.version import VERSION

            return VERSION
        if name in _GOING:
            from warnings import warn

            instead = _GOING[name]
            warn(
                f"fretloom.{name} will go: use fretloom.{instead}", DeprecationWarning, stacklevel=2
            )
            return globals().get(instead) or __getattr__(instead)
        if name not in __all__:
            raise AttributeError(f"module 'fretloom' has no attribute {name!r}")
        from importlib import import_module

        found: object = getattr(
            import_module("fretloom.errors" if name in _EXCEPTIONS else "fretloom.api"), name
        )
        globals()[name] = found
        return found


def __dir__() -> list[str]:
    return __all__
