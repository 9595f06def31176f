"""Which words make a line that is understood, where they are typed: each is tried in a whole line."""

from __future__ import annotations

import re

from fretloom.collection.while_typing.line_at import LineAt
from fretloom.notation.syntax.building.bars import pieces
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.signs import QUOTED
from fretloom.source import Source

#: What stands above a line that is read by a rule of the grammar, with its indentation.
_ABOVE = {
    "setting_line": 'lesson "A"\n  ',
    "home_line": "picking\n  ",
    "voicing_line": "voicings\n  ",
    "pattern_line": "patterns\n  ",
    "body_line": "section a\n  ",
    "form_line": "form\n  a\n    ",
    "show_line": 'step "S"\n  ',
}
_COUNT = ("on 1",)
_PLUCK = ("on 1", "plays 3")
_FROM_TO = ("to 60 over 2 bars", "to 60 over bar 1")
_LOUDER = ("to f over 2 bars", "to f over bar 1")
_LENGTH = ("over 2 bars", "over bar 1")
#: How a line can end behind a word; it can always end with the word itself.
ENDS: dict[str, tuple[str, ...]] = {
    "accelerando": _FROM_TO, "add": ("2@2",), "at": ("60",), "bar": (": C", "1", "1: C", "1 of a"),
    "bars": (": C", "1-2", "1-2: C", "1-2 of a"), "based": ('on "a.lesson"',), "bass": ("6",),
    "beat": (": C",), "beats": (": C",), "before": ("3: C",), "but": ("using a",), "by": ('"A"',),
    "capo": ("1",), "change": ("A to B",), "crescendo": _LOUDER, "diminuendo": _LOUDER,
    "down": ("2",), "dynamic": ("f",), "early": _COUNT, "ending": ("1: C",), "fermata": _COUNT,
    "fingers": ("1",), "first": ("bar: C",), "from": ("1: C", "bar 1", "bar 1: C", "60 to 70"),
    "hand": ("small",), "hop": ("2 to 6@2",), "in": ("3/4", "3/4: p , p , p", "E", "2"),
    "instrument": ("classical",), "last": ("1: C", "bar: C", "bar"), "level": ("beginner",),
    "lift": ("3",), "like": ("A",), "meter": ("3/4",), "move": ("3 to 6@3",), "mute": ("6",),
    "names": ("english",), "notation": ("1",), "of": ("a",), "on": ("1", '"a.lesson"', "5 4"),
    "only": ("bar 1",), "over": ("2 bars", "bar 1", "A"), "pattern": ("a",), "pickup": ("1: C",),
    "plays": ("in E", "3"), "release": _COUNT, "repeat": ("2",), "rights": ('"A"',),
    "ritardando": _FROM_TO, "scale": ("650 mm",), "section": ("a",), "show": ("form",),
    "slow": ("p i",), "sounds": ("in E",), "step": ('"A"',), "stop": _COUNT, "swing": ("2:1",),
    "tempo": ("60",), "tuning": ("standard",), "up": ("2",), "use": ('"a.lesson"',),
    "to": ("60 over 2 bars", "60 over bar 1", "f over 2 bars", "f over bar 1", "3: C", "3@3",
           "2: C", "2 of a", "60", "3/8", "A"),
    "using": ("a",), "voicing": ("A",), "with": ("p on 1",), "without": ("p on 1", "bar 1"),
    "words": ("1", ': "a"'), "-": ("2: C", "2 of a"), "%": ("x2",), "same": ("x2",),
    "p": (*_PLUCK, *_LENGTH), "i": _PLUCK, "m": _PLUCK, "a": _PLUCK, "c": _PLUCK,
    "slap": _COUNT, "body-slap": _COUNT,
    **dict.fromkeys(("ppp", "pp", "mp", "mf", "f", "ff", "fff", "1/4", "3/8", "1/2"), _LENGTH),
    **dict.fromkeys(("4/4", "3/4", "2/4", "6/8", "12/8"), (": p",)),
}  # fmt: skip
_QUOTED = re.compile(QUOTED)
_BRACKETS = {"{": "}", "(": ")", "[": "]"}


def line_up_to(here: LineAt, before: str) -> str:
    """Return a line up to a place, with a plain bar or beat instead of all that stand before the one that is typed.

    So what is wrong in one bar does not matter in the next, and a long line is no longer than others.
    """
    if here.rule == "pattern_line":
        plain = _QUOTED.sub(lambda found: " " * len(found[0]), before)
        begin = max(plain.rfind(","), plain.rfind("|")) + 1
        return f"x p , {before[begin:]}" if begin or here.continues else before
    head, colon, _ = before.partition(":")
    first = head.split(maxsplit=1)[0] if head.strip() else ""
    if first != "words" and (here.rule == "body_line" or (here.rule == "form_line" and colon)):
        begin = list(pieces(before, 0))[-1][0]
        begins = here.rule == "form_line" or (colon and first in ("ending", "pickup", "last"))
        bar = _with_plain_beats(before[begin:])
        return (f"{head}: C | {bar}" if begins else f"C | {bar}") if begin else bar
    return before


def _with_plain_beats(bar: str) -> str:
    opens, begin = bar.rfind("{"), bar.rfind(",") + 1
    return f"{bar[: opens + 1]} p , {bar[begin:]}" if 0 <= opens < begin else bar


def fits(rule: str, before: str, word: str) -> bool:
    """Whether a word, typed behind the beginning of a line, can lead to a line that is understood."""
    text = f"{before}{word}"
    return any(_understood(rule, _closed(f"{text} {end}")) for end in ("", *ENDS.get(word, ())))


def _understood(rule: str, line: str) -> bool:
    lesson = read(Source("", f"{_ABOVE.get(rule, '')}{line}\n"))
    return all(one.rule != "not-understood" for one in lesson.faults)


def _closed(text: str) -> str:
    """Return a line with the brackets closed that are open at its end."""
    closing: list[str] = []
    quoted = False
    for at, sign in enumerate(text):
        if sign == '"' and text[at - 1 : at] != "\\":
            quoted = not quoted
        elif not quoted and sign in _BRACKETS:
            closing.append(_BRACKETS[sign])
        elif closing and sign == closing[-1]:
            closing.pop()
    return f"{text} {' '.join(reversed(closing))}" if closing else text
