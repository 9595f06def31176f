"""What rules and formats of other packages are made of (docs/howto/own-rules-and-formats.md).

A package offers a rule by an entry point of the group `fretloom.rules` that leads to an `OwnRule`,
and a format by one of the group `fretloom.formats` that leads to a `Format`.
"""

from __future__ import annotations

from fretloom.diagnostics import Diagnostic, Edit, Related
from fretloom.formats.options import FormatOptions, date, number, one_of, switch
from fretloom.formats.shape import LeftOut, Output, file_name, left_out_at
from fretloom.formats.table import Format
from fretloom.notation.model.lesson import Lesson
from fretloom.performance.events import Timeline
from fretloom.performance.place_words import bar_words
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.rules.own import OwnRule
from fretloom.source import Source, Span

__all__ = [
    "Diagnostic",
    "Edit",
    "Format",
    "FormatOptions",
    "LeftOut",
    "Lesson",
    "Output",
    "OwnRule",
    "Reading",
    "Related",
    "Severity",
    "Source",
    "Span",
    "Timeline",
    "bar_words",
    "date",
    "file_name",
    "left_out_at",
    "number",
    "one_of",
    "switch",
]
