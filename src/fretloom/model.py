"""The classes that a lesson is made of, to build lessons and to change them.

A value is frozen and refuses, when it is made, what no text of the notation could say. `evolve`
makes a changed copy; `with_bar`, `with_voicing` and the like change a lesson in one place. The page
"The model" of the documentation has units, ranges and examples.
"""

from __future__ import annotations

from fretloom.notation.editing import (
    with_bar,
    with_form,
    with_pattern,
    with_section,
    with_setting,
    with_voicing,
)
from fretloom.notation.model.details.expression import (
    BackToTempo,
    DynamicChange,
    DynamicRamp,
    FreeTime,
    TempoChange,
    TempoRamp,
)
from fretloom.notation.model.details.sung import SungBar, WordsLine
from fretloom.notation.model.details.technique import Bend, Technique, Trill
from fretloom.notation.model.form import (
    LAST,
    ChangeBars,
    ChangeDynamic,
    ChangePattern,
    ChangeTempo,
    ChangeWords,
    DropBars,
    DynamicRun,
    Form,
    FormEntry,
    KeepBars,
    TempoRun,
    WithoutRepeats,
)
from fretloom.notation.model.heading import Heading, Setting
from fretloom.notation.model.lesson import (
    Edition,
    Home,
    Lesson,
    PatternBlock,
    PickingBlock,
    Use,
    VoicingBlock,
)
from fretloom.notation.model.margin import Margin, Unread
from fretloom.notation.model.pattern import (
    Beat,
    Brush,
    Group,
    Hold,
    Pattern,
    PatternBar,
    Pluck,
    Roll,
    Slap,
    Slur,
    Stroke,
)
from fretloom.notation.model.section import (
    Bar,
    BarLine,
    EndingStart,
    MeterChange,
    Part,
    RepeatEnd,
    RepeatStart,
    Section,
    ShortBar,
    UsingLine,
    With,
    Without,
)
from fretloom.notation.model.step import Prose, Show, Step
from fretloom.notation.model.voicing import Add, Lift, Move, Mute, Shift, VoicingEntry
from fretloom.notation.renaming import with_name
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.tunings import parse_tuning
from fretloom.trade.guitar.voicing import Hop
from fretloom.trade.music.key import Key, parse_key
from fretloom.trade.music.meter import Count, Meter, parse_count, parse_meter
from fretloom.trade.music.pitch import NoteName, Pitch, parse_pitch
from fretloom.trade.music.tempo import Tempo
from fretloom.values import evolve

__all__ = [
    "LAST",
    "Add",
    "BackToTempo",
    "Bar",
    "BarLine",
    "Beat",
    "Bend",
    "Brush",
    "Capo",
    "ChangeBars",
    "ChangeDynamic",
    "ChangePattern",
    "ChangeTempo",
    "ChangeWords",
    "Count",
    "DropBars",
    "DynamicChange",
    "DynamicRamp",
    "DynamicRun",
    "Edition",
    "EndingStart",
    "Form",
    "FormEntry",
    "FreeTime",
    "Group",
    "Heading",
    "Hold",
    "Home",
    "Hop",
    "KeepBars",
    "Key",
    "Lesson",
    "Lift",
    "Margin",
    "Meter",
    "MeterChange",
    "Move",
    "Mute",
    "NoteName",
    "Part",
    "Pattern",
    "PatternBar",
    "PatternBlock",
    "PickingBlock",
    "Pitch",
    "Pluck",
    "Prose",
    "RepeatEnd",
    "RepeatStart",
    "Roll",
    "Section",
    "Setting",
    "Shift",
    "ShortBar",
    "Show",
    "Slap",
    "Slur",
    "Step",
    "Stroke",
    "SungBar",
    "Technique",
    "Tempo",
    "TempoChange",
    "TempoRamp",
    "TempoRun",
    "Trill",
    "Tuning",
    "Unread",
    "Use",
    "UsingLine",
    "VoicingBlock",
    "VoicingEntry",
    "With",
    "Without",
    "WithoutRepeats",
    "WordsLine",
    "evolve",
    "parse_count",
    "parse_key",
    "parse_meter",
    "parse_pitch",
    "parse_tuning",
    "with_bar",
    "with_form",
    "with_name",
    "with_pattern",
    "with_section",
    "with_setting",
    "with_voicing",
]
