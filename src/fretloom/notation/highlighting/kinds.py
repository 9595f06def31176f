"""The kinds of things that a text is coloured by, and which terminal of the grammar is of which kind."""

from __future__ import annotations

import re
from enum import Enum

from fretloom.notation.syntax.parsing.scanning import UNFIT
from fretloom.notation.syntax.parsing.tables import tables


class TextKind(Enum):
    """What a piece of a text is; the value is a word for it."""

    OPENER = "opener"  # the word that opens a block
    WORD = "word"  # any other word of the notation
    DEFINED = "defined"  # a name where it is given to a voicing, a pattern or a section
    NAME = "name"  # a name where it is used
    TEXT = "text"  # in quotes
    ESCAPE = "escape"  # a sign in quotes with a backslash before it
    NUMBER = "number"
    VALUE = "value"  # a word that a line of the heading sets
    FRETS = "frets"
    FRETTING = "fretting"  # fretting fingers
    PLUCK = "pluck"  # picking fingers, with what they pluck
    TECHNIQUE = "technique"  # a word behind a pluck
    MARK = "mark"  # a sign that is played: -, %, +
    SIGN = "sign"  # a sign that divides
    PROSE = "prose"
    COMMENT = "comment"
    ALLOWING = "allowing"  # in a comment: `allow` and the rules
    FAULT = "fault"  # what cannot stand where it does


#: Kinds of the terminals that are patterns, and of signs that are played.
_OF_TERMINALS = {
    "NAME": TextKind.NAME,
    "STRING": TextKind.TEXT,
    "WORD": TextKind.VALUE,
    "UNIT": TextKind.WORD,
    **dict.fromkeys(("NUMBER", "FRACTION", "METER", "COUNT", "TIMES", "PLACE"), TextKind.NUMBER),
    "FRETS": TextKind.FRETS,
    **dict.fromkeys(("HANDS", "HAND"), TextKind.FRETTING),
    **dict.fromkeys(("FINGER", "PLUCK", "BRUSH", "SLAP", "SLOW"), TextKind.PLUCK),
    **dict.fromkeys(("DEGREE", "SWELL", "SPEED_RAMP", "A_TEMPO", "FREE_TIME"), TextKind.WORD),
    **dict.fromkeys(("HOLD", "SAME", "PLUS"), TextKind.MARK),
    **dict.fromkeys(("ODD", UNFIT), TextKind.FAULT),
}
#: Rules in which the first name is given, not used.
DEFINING = frozenset(("voicing_line", "pattern_line", "section_line"))
#: The rule that reads the opening line of a block, and the one that reads the lines in it.
OPENING_RULES = {name: f"{name}_line" for name in ("notation", "lesson", "use", "section", "step")}
LINE_RULES = {
    "lesson": "setting_line",
    "picking": "home_line",
    "voicings": "voicing_line",
    "patterns": "pattern_line",
    "section": "body_line",
    "form": "form_line",
    "step": "show_line",
}
#: Where the words of technique begin in a pluck, and the signs that a backslash gives in a text.
TECHNIQUES = r"\.(?=[^\W\d_])"
ESCAPED = r"\\."


def kind_of(terminal: str) -> TextKind:
    """Return the kind of a terminal: the words of the grammar are `WORD`, its signs `SIGN`."""
    found = _OF_TERMINALS.get(terminal)
    if found is not None:
        return found
    text, is_pattern = tables().terminals[terminal]
    if is_pattern:
        raise ValueError(f"the terminal {terminal} has no kind")
    return TextKind.WORD if re.match(r"\w", text) else TextKind.SIGN
