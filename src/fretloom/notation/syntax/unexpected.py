"""Turns what the parser did not expect into a sentence for a teacher, without names of the grammar."""

from __future__ import annotations

import re

from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.parsing.tables import END, tables
from fretloom.notation.syntax.parsing.tree import Unexpected
from fretloom.trade.guitar.voicing import is_no_chord
from fretloom.values import frozen

#: What the terminals of the grammar are called in front of a teacher.
CALLED = {
    "STRING": 'a text in quotes such as "Verse"',
    "NAME": "a name",
    "NUMBER": "a number",
    "FRACTION": "a length such as 3/8",
    "METER": "a meter such as 4/4",
    "UNIT": "mm",
    "COUNT": "a count such as 3 or 2&",
    "TIMES": "x2",
    "FRETS": "the frets such as x32010",
    "HANDS": "a finger for every string such as .231..",
    "HAND": "a fretting finger (1, 2, 3, 4 or T)",
    "PLACE": "string@fret such as 6@2",
    "FINGER": "a picking finger (p, i, m, a or c)",
    "PLUCK": "a pluck such as p, i2 or a@3",
    "DEGREE": "a degree of loudness (ppp, pp, p, mp, mf, f, ff or fff)",
    "SWELL": "crescendo or diminuendo",
    "SPEED_RAMP": "ritardando or accelerando",
    "A_TEMPO": "",
    "FREE_TIME": "",
    "SLAP": "",
    "SLOW": "",
    "BRUSH": "",
    "ODD": "",
    "HOLD": "",
    "REST": "",
    "SAME": "",
    "AS_WRITTEN": "",
    "WORD": "a word",
    "LPAR": "",
    "LSQB": "",
}
#: By the last keyword before the fault: a line that is right.
LIKE_THIS = {
    "notation": "notation 1",
    "lesson": 'lesson "Kiln Lane Shuffle"',
    **{field.name: field.like_this for field in FIELDS.values()},
    "use": 'use "voicings/open.lesson"',
    "fingers": "fingers .231..",
    "bass": "bass 6 4 5 4 (strings, without commas)",
    "hop": "hop 2 to 6@2 (finger 2 to string 6, fret 2)",
    "like": "like E lift 3",
    "add": "add 2@2:4 (string 2, fret 2, finger 4)",
    "lift": "lift 3 (the number of a finger)",
    "move": "move 3 to 6@3 (finger 3 to string 6, fret 3)",
    "mute": "mute 6 (the number of a string)",
    "up": "up 2",
    "down": "down 2",
    "section": 'section verse 8 bars using plain "Verse"',
    "using": "E using pinched",
    "with": "with a@3 on 3",
    "without": "without p on 4",
    "early": "B7 early on 4&",
    "release": "release on 4&",
    "stop": "stop on 3",
    "pickup": "pickup 1: E, or pickup from 4&: E",
    "last": "last 3: E (an incomplete last bar)",
    "fermata": "E fermata on 4",
    "words": 'words: "Lamps are lit" | "along the lane"; words 2: "Rain comes in" on 1 2& 3 | -',
    "dynamic": "dynamic mf",
    "over": "ritardando to 60 over 2 bars, crescendo to f over 4 bars",
    "only": "but only bars 5-8",
    "repeat": "repeat 2",
    "ending": "ending 1: A | B7",
    "end": "end (alone on its line)",
    "but": "but last bar: C x2; but bars 5-6: ...; but from bar 9: ...; but using filled; but tempo 72; "
    "but dynamic p; but without bars 1-2; but only bars 5-8; but words 1",
    "step": 'step "The thumb alone"',
    "show": "show pattern plain over E at 60; show change A to B7; show section intro from 60 to 96",
}
#: By the start rule, where no keyword stands before the fault.
LINE_LIKE_THIS = {
    "home_line": "p plays 6 5 4",
    "voicing_line": "E 022100 fingers .231.. bass 6 4 5 4, or E7 like E lift 3",
    "pattern_line": "plain p , p m , p i , p m (a name, then the beats between commas)",
    "body_line": "E | C#m7 Bm7 | E:3 E7:1 | A x2 | %",
    "bar": "E | C#m7 Bm7 | E:3 E7:1 | A x2 | %",
    "form_line": "verse x2",
}
#: Words that follow `but` in the form.
_BUT_WORDS = {
    "last", "first", "bar", "bars", "from", "using", "tempo", "without", "only", "dynamic", "words",
    "ritardando", "accelerando", "crescendo", "diminuendo",
}  # fmt: skip
_WORD = re.compile(r"[^\s|,:{}()\[\]]+|\S")
_KEYWORD = re.compile(r"[a-z]+")
_FRETS_APART = re.compile(r"\S+\s+[xX0-9](?:[\s,]+[xX0-9]){2,}")


@frozen
class Said:
    """A message about `start` to `end` of a statement."""

    rule: str
    start: int
    end: int
    message: str
    hint: str


def say_unexpected(met: Unexpected, text: str, start_rule: str) -> Said:
    """Say what is where a line stops making sense, what should be there, and how a right line looks."""
    position = met.start
    found = _WORD.match(text, position)
    hint = _hint(text[:position], start_rule)
    before = _last_word(text[:position])
    wanted = _wanted(met, start_rule)
    if start_rule == "voicing_line" and "the frets" in wanted:
        return _no_frets(text, position, hint)
    if found is None:
        missing = f": {wanted} is missing" if wanted else ""
        end = len(text)
        message = (
            f"the line stops too soon after `{before}`{missing}"
            if before
            else "something is missing here"
        )
        return Said("not-understood", max(end - 1, 0), end, message, hint)
    place = f" after `{before}`" if before else ""
    instead = f"; {wanted} should be there" if wanted else ""
    message = f"`{found[0]}` does not fit here{place}{instead}"
    return Said("not-understood", found.start(), found.end(), message, hint)


def _no_frets(text: str, position: int, hint: str) -> Said:
    """Say what is wrong with the frets of a voicing, the most common slip."""
    name = text.split(maxsplit=1)[0]
    rest = text[position:]
    end = position + len(rest.split(maxsplit=1)[0]) if rest.split() else len(text)
    if _FRETS_APART.match(text):
        hint = "write the frets together, without spaces or commas: x32010"
        return Said(
            "bad-frets", position, len(text), f"the frets of {name} are written apart", hint
        )
    if not rest.strip():
        message = f"{name} has no frets"
        hint = f"write {name} and its frets on one line, without a space before a #: {name} x32010"
        return Said("bad-frets", max(position - 1, 0), position, message, hint)
    word = text[position:end]
    if is_no_chord(f"{name} {word}"):
        message = f"`{name} {word}` is written N.C., and no string is played"
        return Said(
            "bad-frets", position, end, message, "leave the line out: a bar N.C. needs none"
        )
    message = f"`{word}` is not a way to write the frets of {name}"
    hint = "write one sign for each string, x or a fret: x32010; past fret 9 put hyphens: x-10-12-12-11-10"
    return Said("bad-frets", position, end, message, hint)


def _last_word(text: str) -> str:
    words = _WORD.findall(text)
    return words[-1] if words else ""


def _hint(before: str, start_rule: str) -> str:
    words = _KEYWORD.findall(before)
    if start_rule == "form_line" and ("but" in words or set(words) & _BUT_WORDS):
        words = ["but"]
    if start_rule == "home_line":
        words = []  # Its one keyword is a word of the heading as well.
    elif start_rule == "show_line":
        words = ["show"]
    for word in reversed(words):
        if word in LIKE_THIS:
            return f"write it like this: {LIKE_THIS[word]}"
    example = LINE_LIKE_THIS.get(start_rule)
    return f"write it like this: {example}" if example else ""


def _wanted(met: Unexpected, start_rule: str) -> str:
    """Name what could come there, if there are only a few things."""
    called = sorted({_called(name, start_rule) for name in met.wanted} - {""})
    if not called or len(called) > 4:
        return ""
    return called[0] if len(called) == 1 else ", ".join(called[:-1]) + " or " + called[-1]


def _called(name: str, start_rule: str) -> str:
    if name == END:
        return "the end of the line"
    if name == "NAME" and start_rule in ("body_line", "bar"):
        return "the name of a voicing or pattern"
    if name in CALLED:
        return CALLED[name]
    return f"`{tables().terminals[name][0]}`"
