"""What the answers of `fretloom` hold: the classes inside its own.

The page "Answers" of the documentation shows them. The parts of a lesson as written are in `fretloom.model`.
"""

from __future__ import annotations

from fretloom.arranging.capo_places import CapoPlace
from fretloom.arranging.easing.eased import PickingEased, ShapeEased, TempoEased
from fretloom.arranging.easing.fits import LevelFit, PickingBeyond, VoicingBeyond
from fretloom.arranging.easing.heard_otherwise import HeardOtherwise, NoteChanged
from fretloom.arranging.easing.load import Load
from fretloom.arranging.remarks import (
    CommonShapeTaken,
    FretNamed,
    LineLost,
    NamedInWords,
    NoLongerNeeded,
    NutBarred,
    Remark,
)
from fretloom.performance.events import Difference, FormLine, WrittenBar, WrittenSection
from fretloom.performance.hands.hardest import HeldVoicing, MadeChange
from fretloom.performance.manner import (
    Manner,
    NoteTechnique,
    Sung,
    SungSyllable,
    TimedSlap,
    TrilledNote,
)
from fretloom.performance.printed_names import PatternInPrint
from fretloom.performance.sounding.names import Sound
from fretloom.performance.sounding.strings import HeardString
from fretloom.practising.novelty import NewThing
from fretloom.practising.plan import (
    ChangeDrill,
    PathPart,
    PathStep,
    PracticeSession,
    SessionItem,
)
from fretloom.practising.tempos import PracticeTempos
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.trade.harmony.degrees import Degree
from fretloom.trade.harmony.fit import Fit
from fretloom.trade.harmony.heard.mistaken import Mistaken
from fretloom.trade.harmony.key_guess import KeyGuess
from fretloom.trade.harmony.naming import ChordName
from fretloom.trade.harmony.quality import Quality
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Count, Meter
from fretloom.trade.music.pitch import NoteName, Pitch
from fretloom.trade.music.tempo import Tempo
from fretloom.trade.playability.effort import Effort
from fretloom.trade.playability.moving.changes import Change, FingerMove
from fretloom.trade.playability.moving.haste import Haste
from fretloom.trade.playability.moving.skills import Skill
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import Held, Verdict

__all__ = [
    "Capo",
    "CapoPlace",
    "Change",
    "ChangeDrill",
    "ChordName",
    "ChordSymbol",
    "CommonShapeTaken",
    "Count",
    "Degree",
    "Difference",
    "Effort",
    "FingerMove",
    "Fit",
    "FormLine",
    "FretNamed",
    "Hand",
    "Haste",
    "HeardOtherwise",
    "HeardString",
    "Held",
    "HeldVoicing",
    "Hop",
    "Key",
    "KeyGuess",
    "LevelFit",
    "LineLost",
    "Load",
    "MadeChange",
    "Manner",
    "Meter",
    "Mistaken",
    "NamedInWords",
    "Neck",
    "NewThing",
    "NoLongerNeeded",
    "NoteChanged",
    "NoteName",
    "NoteTechnique",
    "NutBarred",
    "PathPart",
    "PathStep",
    "PatternInPrint",
    "PickingBeyond",
    "PickingEased",
    "Pitch",
    "PracticeSession",
    "PracticeTempos",
    "Quality",
    "Remark",
    "SessionItem",
    "ShapeEased",
    "Skill",
    "Sound",
    "Sung",
    "SungSyllable",
    "Tempo",
    "TempoEased",
    "TimedSlap",
    "TrilledNote",
    "Tuning",
    "Verdict",
    "Voicing",
    "VoicingBeyond",
    "WrittenBar",
    "WrittenSection",
]
