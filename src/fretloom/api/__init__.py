"""The front door: read, check, format, export and arrange lessons. The only room that knows every stage.

Front ends import nothing below this room but `fretloom.errors`. The names are imported on first use,
so that a command only pays for what it needs. Those that `fretloom` gives out as well are promised
(docs/reference/api.md); the others are for our own front ends.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fretloom.api.advising import (
        hands,
        practice,
        practice_page,
        sounds,
        suggest_capos,
        suggest_voicings,
    )
    from fretloom.api.analysing import to_music21
    from fretloom.api.arranging import ease, levels, transpose, with_easiest_capo, with_suggestion
    from fretloom.api.checking import check, faults, reading_faults
    from fretloom.api.exporting import (
        export,
        export_json,
        export_musicxml,
        export_mxl,
        export_options,
        export_tab,
        known_formats,
        left_out_as_text,
        options_named,
        write,
    )
    from fretloom.api.handing_out import handout_entry, handout_index, play_along
    from fretloom.api.reading import Examined, examine, expand, link, load, loads
    from fretloom.api.reporting import (
        explain,
        finding_as_annotation,
        finding_as_data,
        finding_as_text,
        findings_as_json,
        findings_summary,
        known_rules,
        rules_list,
    )
    from fretloom.api.saying import as_data, as_json, as_text, json_schema
    from fretloom.api.soundness import files_named, formatted, need_sound, new_findings, text_of
    from fretloom.api.writing import dumps, lesson_from_json, lesson_to_json
    from fretloom.arranging.easing.eased import Eased
    from fretloom.arranging.easing.fits import LevelFits
    from fretloom.arranging.find_capos import CapoChoice, CapoChoices
    from fretloom.arranging.find_voicings import FoundVoicing, FoundVoicings
    from fretloom.arranging.new_key import Transposed
    from fretloom.arranging.sounds import Sounds
    from fretloom.characters import whole_number
    from fretloom.diagnostics import Diagnostic, Edit, LessonFaulty, Related
    from fretloom.edits import apply_edits
    from fretloom.files import rewrite
    from fretloom.formats.music_json.options import MusicJsonOptions
    from fretloom.formats.musicxml.options import ScoreOptions
    from fretloom.formats.options import FormatOptions, Option
    from fretloom.formats.pictures.options import DotsOptions, PictureOptions
    from fretloom.formats.shape import Content, LeftOut, Output
    from fretloom.formats.sound.captions.options import CaptionOptions
    from fretloom.formats.sound.choice import SoundOptions
    from fretloom.formats.sound.midi.options import MidiOptions
    from fretloom.formats.sound.playback_json.options import PlaybackOptions
    from fretloom.formats.sound.recording.options import RecordingOptions
    from fretloom.formats.students.changes.options import ChangeOptions
    from fretloom.formats.students.drawn_tab.options import DrawnTabOptions
    from fretloom.formats.students.handout.collection.entry import IndexEntry
    from fretloom.formats.students.handout.options import HandoutOptions
    from fretloom.formats.students.practice.options import PracticeOptions
    from fretloom.formats.students.script.options import ScriptOptions
    from fretloom.formats.students.shapes.options import ShapeOptions, TextShapeOptions
    from fretloom.formats.students.words.options import WordsOptions
    from fretloom.formats.tab.options import TabOptions
    from fretloom.formats.table import Format
    from fretloom.notation.excerpt import excerpt
    from fretloom.notation.highlighting.kinds import TextKind
    from fretloom.notation.highlighting.marking import marked
    from fretloom.notation.model.lesson import Lesson
    from fretloom.performance.events import (
        PlayedBar,
        Settings,
        SlurredNote,
        TimedBar,
        TimedNote,
        TimedVoicing,
        Timeline,
    )
    from fretloom.performance.hands.hardest import Hands
    from fretloom.practising.plan import PracticePath
    from fretloom.rule_facts import Rule, Severity
    from fretloom.rules.house_style import HouseStyle
    from fretloom.source import Source, Span
    from fretloom.text import listed, shown_name, visible

_PLACES = {
    name: f"fretloom.{module}"
    for module, names in {
        "api.advising": "hands practice practice_page sounds suggest_capos suggest_voicings",
        "api.analysing": "to_music21",
        "api.arranging": "ease levels transpose with_easiest_capo with_suggestion",
        "api.checking": "check faults reading_faults",
        "api.exporting": "export export_json export_musicxml export_mxl export_options "
        "export_tab known_formats left_out_as_text options_named write",
        "api.handing_out": "handout_entry handout_index play_along",
        "api.reading": "Examined examine expand link load loads",
        "api.reporting": "explain finding_as_annotation finding_as_data finding_as_text "
        "findings_as_json findings_summary known_rules rules_list",
        "api.saying": "as_data as_json as_text json_schema",
        "api.soundness": "files_named formatted need_sound new_findings text_of",
        "api.writing": "dumps lesson_from_json lesson_to_json",
        "arranging.easing.eased": "Eased",
        "arranging.easing.fits": "LevelFits",
        "arranging.find_capos": "CapoChoice CapoChoices",
        "arranging.find_voicings": "FoundVoicing FoundVoicings",
        "arranging.new_key": "Transposed",
        "arranging.sounds": "Sounds",
        "characters": "whole_number",
        "diagnostics": "Diagnostic Edit LessonFaulty Related",
        "edits": "apply_edits",
        "files": "rewrite",
        "formats.music_json.options": "MusicJsonOptions",
        "formats.musicxml.options": "ScoreOptions",
        "formats.sound.captions.options": "CaptionOptions",
        "formats.sound.choice": "SoundOptions",
        "formats.sound.midi.options": "MidiOptions",
        "formats.sound.playback_json.options": "PlaybackOptions",
        "formats.students.changes.options": "ChangeOptions",
        "formats.students.drawn_tab.options": "DrawnTabOptions",
        "formats.students.practice.options": "PracticeOptions",
        "formats.students.handout.collection.entry": "IndexEntry",
        "formats.students.handout.options": "HandoutOptions",
        "formats.students.shapes.options": "ShapeOptions TextShapeOptions",
        "formats.students.script.options": "ScriptOptions",
        "formats.sound.recording.options": "RecordingOptions",
        "formats.students.words.options": "WordsOptions",
        "formats.options": "FormatOptions Option",
        "formats.pictures.options": "DotsOptions PictureOptions",
        "formats.shape": "Content LeftOut Output",
        "formats.tab.options": "TabOptions",
        "formats.table": "Format",
        "notation.excerpt": "excerpt",
        "notation.highlighting.kinds": "TextKind",
        "notation.highlighting.marking": "marked",
        "notation.model.lesson": "Lesson",
        "performance.events": "PlayedBar Settings SlurredNote TimedBar TimedNote "
        "TimedVoicing Timeline",
        "performance.hands.hardest": "Hands",
        "practising.plan": "PracticePath",
        "rule_facts": "Rule Severity",
        "rules.house_style": "HouseStyle",
        "source": "Source Span",
        "text": "listed shown_name visible",
    }.items()
    for name in names.split()
}

__all__ = [
    "CapoChoice",
    "CapoChoices",
    "CaptionOptions",
    "ChangeOptions",
    "Content",
    "Diagnostic",
    "DotsOptions",
    "DrawnTabOptions",
    "Eased",
    "Edit",
    "Examined",
    "Format",
    "FormatOptions",
    "FoundVoicing",
    "FoundVoicings",
    "HandoutOptions",
    "Hands",
    "HouseStyle",
    "IndexEntry",
    "LeftOut",
    "Lesson",
    "LessonFaulty",
    "LevelFits",
    "MidiOptions",
    "MusicJsonOptions",
    "Option",
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
    "TabOptions",
    "TextKind",
    "TextShapeOptions",
    "TimedBar",
    "TimedNote",
    "TimedVoicing",
    "Timeline",
    "Transposed",
    "WordsOptions",
    "apply_edits",
    "as_data",
    "as_json",
    "as_text",
    "check",
    "dumps",
    "ease",
    "examine",
    "excerpt",
    "expand",
    "explain",
    "export",
    "export_json",
    "export_musicxml",
    "export_mxl",
    "export_options",
    "export_tab",
    "faults",
    "files_named",
    "finding_as_annotation",
    "finding_as_data",
    "finding_as_text",
    "findings_as_json",
    "findings_summary",
    "formatted",
    "handout_entry",
    "handout_index",
    "hands",
    "json_schema",
    "known_formats",
    "known_rules",
    "left_out_as_text",
    "lesson_from_json",
    "lesson_to_json",
    "levels",
    "link",
    "listed",
    "load",
    "loads",
    "marked",
    "need_sound",
    "new_findings",
    "options_named",
    "play_along",
    "practice",
    "practice_page",
    "reading_faults",
    "rewrite",
    "rules_list",
    "shown_name",
    "sounds",
    "suggest_capos",
    "suggest_voicings",
    "text_of",
    "to_music21",
    "transpose",
    "visible",
    "whole_number",
    "with_easiest_capo",
    "with_suggestion",
    "write",
]

if not TYPE_CHECKING:  # Else type checkers would take every name for one that is there.

    def __getattr__(name: str) -> object:
        if name not in _PLACES:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        from importlib import import_module

        found: object = getattr(import_module(_PLACES[name]), name)
        globals()[name] = found
        return found


def __dir__() -> list[str]:
    return __all__
