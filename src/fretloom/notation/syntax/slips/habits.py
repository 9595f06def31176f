"""What the trade writes in other places, and a lesson says in another way or not at all.

Found before the grammar sees the line, so that one slip is one finding, with the way to go on.
"""

from __future__ import annotations

import re

from fretloom.notation.syntax.slips.bars import lines_of_tab
from fretloom.notation.syntax.slips.slip import Finder, Slip, TradeSign
from fretloom.notation.syntax.slips.speaking import IN_FORMS, IN_ONE_BAR, IN_SECTIONS

_BEGIN, _END = r"(?<![^\s|])", r"(?![^\s|])"
#: A chord with how often it is played, without a space between.
JOINED_TIMES = re.compile(rf"{_BEGIN}([A-G][^\s|:{{}}%]*?)(x[0-9]{{1,3}}){_END}")
_DASHES = re.compile(r"[A-G]\S*(?:\s+[A-G]\S*)*(?:\s+[-–—]\s+[A-G]\S*(?:\s+[A-G]\S*)*)+")
#: Names with the sign that was to end their bar, and shares by another sign than a colon.
_ENDED = re.compile(rf"{_BEGIN}([A-H][^\s|:{{}}\"%,(;]*);{_END}")
_STOPPED = re.compile(rf"{_BEGIN}(?!N\.|D\.)([A-H][^\s|:{{}}\"%,(.]*)\.{_END}")
_SHARED = re.compile(rf"{_BEGIN}([A-H][^\s|:{{}}\"%,(=*]*)(?:[=*](\d{{1,2}})|\((\d)\)|/(\d)){_END}")
_LONGEST = 400
_DASH = re.compile(r"\s+[-–—]\s+")
_TEXT_BEHIND = re.compile(r'[^\s|"]\s+("(?:[^"\\]|\\.)*")\s*(?:$|\|)')
_CAPITAL = re.compile(r"(?<![^\s,+|(\[])[PIMAC][0-9]{0,2}(?![^\s,+|)\]])")

#: Lines in which a text may stand behind a word.
_OTHER_LINES = ("section", "ending", "pickup", "last", "but", "words")

_ROAD_MAP = TradeSign(
    re.compile(
        rf"{_BEGIN}(?:D\.\s?[CS]\.(?:\s+al\s+\w+)?|[Dd]a [Cc]apo\b[^|]*|[Dd]al [Ss]egno\b[^|]*|"
        rf"to [Cc]oda|al (?:[Ff]ine|[Cc]oda)|Coda|Segno|Fine){_END}"
    ),
    "`{0}` is not written in a lesson: the form says what is played in which order",
    "in the form write the sections in the order in which they are played; for a part of one, "
    "add a line such as `but without bars 9-16`",
)
_GRADUAL = (
    r"rit\.?|ritardando|ritard\.?|rall\.?|rallentando|accel\.?|accelerando|"
    r"cresc\.?|crescendo|dim\.?|diminuendo|decresc\.?|decrescendo"
)
_SLOWER = TradeSign(
    re.compile(rf"{_BEGIN}(?:{_GRADUAL})(?:\s+[0-9.]+)?(?!\s+to\s){_END}"),
    "`{0}` does not say where it leads to and over how many bars",
    "put it on a line of its own above those bars, like this: ritardando to 60 over 2 bars, "
    "or crescendo to f over 4 bars",
)
_LINE_OF_ITS_OWN = TradeSign(
    re.compile(
        rf"(?<=\S\s)(?<!^\|\s)(a tempo|free time|dynamic [pmf]+){_END}|^(a tempo|free time)(?=\s+\S)"
    ),
    "`{0}` stands on a line of its own",
    "put it on the line above the bars for which it counts",
)
_FREE = TradeSign(
    re.compile(rf"{_BEGIN}(?:rubato|ad lib\.?|senza misura){_END}"),
    "`{0}` has a line of its own, in English",
    "write a line `free time` above the bars, and `a tempo` where the beat is steady again",
)
_LOUDNESS = TradeSign(
    re.compile(rf"{_BEGIN}(?<!dynamic )(?<!to )(ppp|pp|mp|mf|ff|fff){_END}"),
    "how loud it is has a line of its own",
    "write a line `dynamic {1}` above the bars",
)
_LET_RING = TradeSign(
    re.compile(r"(?<![^\s|,])(?:let ring|l\.\s?v\.)(?![^\s|,])"),
    "what is plucked rings on until its string is plucked again or its finger leaves",
    "leave `{0}` out; for a note that is to ring on write .ring behind it: m2@3.ring",
)
_JOINED = TradeSign(JOINED_TIMES, "`{0}` is written as one word", "put a space before {2}: {1} {2}")
_REPEAT_SIGN = TradeSign(
    re.compile(r"\|\s*:(?=\s|$)|(?<=\s):\s*\|"),
    "repeat signs are written as words in a lesson",
    "put a line `repeat 2` before what is repeated and a line `end` after it",
)
_REPEAT_IN_FORM = TradeSign(
    re.compile(r"^repeat\s+([0-9]{1,3})$"),
    "`{0}` stands in a section; the form says how often behind the name",
    "write the section and how often it is played: verse x{1}",
)


def _dashes(text: str, blank: str) -> Slip | None:
    found = _DASHES.search(blank) if _DASH.search(blank) else None
    if found is None:
        return None
    bars = _DASH.sub(" | ", found[0])
    message = "bars are separated by |, not by dashes"
    return Slip("not-understood", *found.span(), message, f"write {bars}")


def _text_behind(text: str, blank: str) -> Slip | None:
    found = _TEXT_BEHIND.search(text)
    if found is None:
        return None
    bar = text[: found.start(1)].rpartition("|")[2].strip()
    if not bar or '"' in bar or bar.startswith(_OTHER_LINES):
        return None
    message = "a text stands before its bar"
    return Slip("not-understood", *found.span(1), message, f"write {found[1]} {bar}")


def _capitals(text: str, blank: str) -> Slip | None:
    name = re.match(r"\s*\S+", blank)
    found = list(_CAPITAL.finditer(blank, name.end() if name else 0))
    if len(found) < 2:
        return None
    first, last = found[0].start(), found[-1].end()
    message = "picking fingers are written in small letters"
    return Slip("not-understood", first, last, message, f"write {text[first:last].lower()}")


_IN_BARS: tuple[Finder, ...] = (
    _ROAD_MAP,
    _SLOWER,
    _LINE_OF_ITS_OWN,
    _FREE,
    _LOUDNESS,
    _LET_RING,
    _dashes,
    _JOINED,
    _text_behind,
)
_IN_HEADING = TradeSign(
    re.compile(r"^(key)\s+(?:of\s+)?[A-H][#b]?m?\b"),
    "`{1}` is a line of the heading, and holds for the whole lesson",
    "put the line under `lesson`, at the top: plays in E",
)
_CHORDS_WORD = TradeSign(
    re.compile(r"^(?:chords?|voicings?|bars?)\s+(?=[A-H])"),
    "the bars of a section begin without `{0}`",
    "write the voicings alone: E | A",
)
_END_REPEAT = TradeSign(
    re.compile(r"^(?:end\s?-?repeat|repeat\s?-?end|end\s+of\s+repeat)$", re.I),
    "`{0}` is one word in a lesson",
    "write end",
)


def _ends(text: str, blank: str) -> Slip | None:
    for pattern, sign, least in ((_ENDED, ";", 1), (_STOPPED, ".", 2)):
        found = list(pattern.finditer(blank))
        if len(found) >= least:
            start, end = found[0].start(), len(text)
            meant = pattern.sub(r"\1 |", text[start:]).rstrip(" |")
            message = f"bars are separated by |, not by {sign}"
            return Slip("not-understood", start, end, message, f"write {meant}", meant=meant)
    return None


def _shares(text: str, blank: str) -> Slip | None:
    found = list(_SHARED.finditer(blank))
    if not found or (len(found) == 1 and found[0][2] is None):
        return None
    start, end = found[0].start(), found[-1].end()
    meant = _SHARED.sub(lambda one: f"{one[1]}:{one[2] or one[3] or one[4]}", text[start:end])
    message = "how many beats a voicing has stands behind a colon"
    return Slip("not-understood", start, end, message, f"write {meant}", meant=meant)


#: What is looked for in the lines that each start rule reads.
_LOOKED_FOR: dict[str, tuple[Finder, ...]] = {
    "body_line": (
        lines_of_tab,
        *IN_SECTIONS,
        _REPEAT_SIGN,
        _IN_HEADING,
        _CHORDS_WORD,
        _END_REPEAT,
        _ends,
        _shares,
        *_IN_BARS,
    ),
    "bar": (*IN_ONE_BAR, *_IN_BARS),  # The bars of a line with a slip are read one by one.
    "form_line": (*IN_FORMS, _ROAD_MAP, _REPEAT_IN_FORM, _dashes, _JOINED),
    "pattern_line": (_LET_RING, _capitals),
}


def find_habit(text: str, blank: str, start_rule: str) -> Slip | None:
    """Return the first habit of the trade in a line that a lesson writes in another way.

    `blank` is the text with everything in quotes made blank. Nobody writes hundreds of characters in a
    habit, and looking through long blanks takes time that grows with their square.
    """
    if len(blank) > _LONGEST:
        return None
    finders = _LOOKED_FOR.get(start_rule, ())
    return next(filter(None, (look(text, blank) for look in finders)), None)
