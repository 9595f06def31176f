"""The front door: read, check, format, export and arrange lessons. The only room that knows every stage.

Front ends import nothing below this room but `fretloom.errors`. The names are imported on first use,
so that a command only pays for what it needs.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fretloom.api.advising import (
        capos_as_json,
        capos_as_text,
        hands,
        hands_as_json,
        hands_as_text,
        sounds,
        sounds_as_json,
        sounds_as_text,
        suggest_capos,
        suggest_voicings,
        voicings_as_json,
        voicings_as_text,
    )
    from fretloom.api.arranging import transpose, with_easiest_capo
    from fretloom.api.checking import check, faults, reading_faults
    from fretloom.api.exporting import (
        FORMATS,
        Content,
        Format,
        LeftOut,
        Option,
        Output,
        export,
        export_json,
        export_musicxml,
        export_mxl,
        export_options,
        export_tab,
        left_out_as_text,
        write,
    )
    from fretloom.api.reading import Examined, examine, expand, link, load, loads
    from fretloom.api.reporting import (
        finding_as_annotation,
        finding_as_data,
        finding_as_text,
        findings_as_json,
        findings_summary,
        rule_page,
        rules_list,
    )
    from fretloom.api.writing import dumps, lesson_from_json, lesson_to_json
    from fretloom.diagnostics import Diagnostic
    from fretloom.notation.model.lesson import Lesson
    from fretloom.performance.events import Timeline
    from fretloom.rule_facts import Severity

_PLACES = {
    name: f"fretloom.{module}"
    for module, names in {
        "api.advising": "capos_as_json capos_as_text hands hands_as_json hands_as_text sounds "
        "sounds_as_json sounds_as_text suggest_capos suggest_voicings voicings_as_json "
        "voicings_as_text",
        "api.arranging": "transpose with_easiest_capo",
        "api.checking": "check faults reading_faults",
        "api.exporting": "FORMATS Content Format LeftOut Option Output export export_json export_musicxml "
        "export_mxl export_options export_tab left_out_as_text write",
        "api.reading": "Examined examine expand link load loads",
        "api.reporting": "finding_as_annotation finding_as_data finding_as_text findings_as_json "
        "findings_summary rule_page rules_list",
        "api.writing": "dumps lesson_from_json lesson_to_json",
        "diagnostics": "Diagnostic",
        "notation.model.lesson": "Lesson",
        "performance.events": "Timeline",
        "rule_facts": "Severity",
    }.items()
    for name in names.split()
}

__all__ = [
    "FORMATS",
    "Content",
    "Diagnostic",
    "Examined",
    "Format",
    "LeftOut",
    "Lesson",
    "Option",
    "Output",
    "Severity",
    "Timeline",
    "capos_as_json",
    "capos_as_text",
    "check",
    "dumps",
    "examine",
    "expand",
    "export",
    "export_json",
    "export_musicxml",
    "export_mxl",
    "export_options",
    "export_tab",
    "faults",
    "finding_as_annotation",
    "finding_as_data",
    "finding_as_text",
    "findings_as_json",
    "findings_summary",
    "hands",
    "hands_as_json",
    "hands_as_text",
    "left_out_as_text",
    "lesson_from_json",
    "lesson_to_json",
    "link",
    "load",
    "loads",
    "reading_faults",
    "rule_page",
    "rules_list",
    "sounds",
    "sounds_as_json",
    "sounds_as_text",
    "suggest_capos",
    "suggest_voicings",
    "transpose",
    "voicings_as_json",
    "voicings_as_text",
    "with_easiest_capo",
    "write",
]


def __getattr__(name: str) -> object:
    if name not in _PLACES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    found: object = getattr(import_module(_PLACES[name]), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return __all__
