"""What the trade writes in other places, and a lesson says in another way or not at all.

Found before the grammar sees the line, so that one slip is one finding, with the way to go on.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from fretloom.values import frozen


@frozen
class Habit:
    """A habit found at `start` to `end` of a statement."""

    start: int
    end: int
    message: str
    hint: str


_BEGIN, _END = r"(?<![^\s|])", r"(?![^\s|])"
_ROAD = re.compile(
    rf"{_BEGIN}(?:D\.\s?[CS]\.(?:\s+al\s+\w+)?|[Dd]a [Cc]apo\b[^|]*|[Dd]al [Ss]egno\b[^|]*|"
    rf"to [Cc]oda|al (?:[Ff]ine|[Cc]oda)|Coda|Segno|Fine){_END}"
)
_SLOWER = re.compile(
    rf"{_BEGIN}(?:rit\.?|ritardando|rall\.?|rallentando|accel\.?|accelerando|a tempo|rubato)"
    rf"(?:\s+[0-9.]+)?{_END}"
)
_PAUSE = re.compile(rf"{_BEGIN}fermata{_END}")
_RING = re.compile(r"(?<![^\s|,])(?:let ring|l\.\s?v\.)(?![^\s|,])")
_TIMES = re.compile(rf"{_BEGIN}([A-G][^\s|:{{}}%]*?)x([0-9]{{1,3}}){_END}")
_DASHES = re.compile(r"[A-G]\S*(?:\s+[-–—]\s+[A-G]\S*)+")
_DASH = re.compile(r"\s+[-–—]\s+")
_REPEAT = re.compile(r"repeat\s+([0-9]{1,3})$")
_TEXT_BEHIND = re.compile(r'[^\s|"]\s+("(?:[^"\\]|\\.)*")\s*(?:$|\|)')
_CAPITAL = re.compile(r"(?<![^\s,+|(\[])[PIMAC][0-9]{0,2}(?![^\s,+|)\]])")

Finder = Callable[[str, str], "Habit | None"]


def _road_map(text: str, blank: str) -> Habit | None:
    found = _ROAD.search(blank)
    return found and Habit(
        *found.span(),
        f"`{found[0].strip()}` is not written in a lesson: the form says what is played in which order",
        "in the form write the sections in the order in which they are played; for a part of one, "
        "add a line such as `but without bars 9-16`",
    )


def _slower(text: str, blank: str) -> Habit | None:
    found = _SLOWER.search(blank)
    return found and Habit(
        *found.span(),
        f"`{found[0]}` has no place in a line of bars",
        "write a line `tempo 72` before the bar where the tempo is another one, or say it to the "
        'student in quotes before the bar: "slower" C',
    )


def _pause(text: str, blank: str) -> Habit | None:
    found = _PAUSE.search(blank)
    return found and Habit(
        *found.span(),
        "a pause has no sign of its own in a lesson",
        'say it to the student in quotes before the bar: "hold the last note" C',
    )


def _let_ring(text: str, blank: str) -> Habit | None:
    found = _RING.search(blank)
    return found and Habit(
        *found.span(),
        "what is plucked rings on until its string is plucked again or its finger leaves",
        f"leave `{found[0]}` out; `stop on 3` in a bar damps all strings",
    )


def _joined_times(text: str, blank: str) -> Habit | None:
    found = _TIMES.search(blank)
    return found and Habit(
        *found.span(),
        f"`{found[0]}` is written as one word",
        f"put a space before x{found[2]}: {found[1]} x{found[2]}",
    )


def _dashes(text: str, blank: str) -> Habit | None:
    found = _DASHES.search(blank)
    if found is None:
        return None
    bars = _DASH.sub(" | ", found[0])
    return Habit(*found.span(), "bars are separated by |, not by dashes", f"write {bars}")


def _text_behind(text: str, blank: str) -> Habit | None:
    found = _TEXT_BEHIND.search(text)
    if found is None or '"' in text[: found.start(1)].rpartition("|")[2]:
        return None
    bar = text[: found.start(1)].rpartition("|")[2].strip()
    if not bar or bar.startswith(("section", "ending", "pickup", "last", "but")):
        return None
    return Habit(
        *found.span(1),
        "a text stands before its bar",
        f"write {found[1]} {bar}",
    )


def _repeat_in_form(text: str, blank: str) -> Habit | None:
    found = _REPEAT.match(blank)
    return found and Habit(
        *found.span(),
        f"`{found[0]}` stands in a section; the form says how often behind the name",
        f"write the section and how often it is played: verse x{found[1]}",
    )


def _capitals(text: str, blank: str) -> Habit | None:
    name = re.match(r"\s*\S+", blank)
    found = list(_CAPITAL.finditer(blank, name.end() if name else 0))
    if len(found) < 2:
        return None
    first, last = found[0].start(), found[-1].end()
    return Habit(
        first,
        last,
        "picking fingers are written in small letters",
        f"write {text[first:last].lower()}",
    )


#: What is looked for in the lines that each start rule reads.
_IN_BARS: tuple[Finder, ...] = (
    _road_map,
    _slower,
    _pause,
    _let_ring,
    _dashes,
    _joined_times,
    _text_behind,
)
_LOOKED_FOR: dict[str, tuple[Finder, ...]] = {
    "body_line": _IN_BARS,
    "bar": _IN_BARS,  # The bars of a line with a slip are read one by one.
    "form_line": (_road_map, _repeat_in_form, _dashes, _joined_times),
    "pattern_line": (_let_ring, _capitals),
}


def find_habit(text: str, blank: str, start_rule: str) -> Habit | None:
    """Return the first habit of the trade in a line that a lesson writes in another way.

    `blank` is the text with everything in quotes made blank.
    """
    for look in _LOOKED_FOR.get(start_rule, ()):
        found = look(text, blank)
        if found is not None:
            return found
    return None
