"""A practice path as a page of plain text: what is new, the steps with their ladders, drills, and each day."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from fretloom.formats.lines import hang, wrap
from fretloom.practising.days import date_words
from fretloom.practising.plan import PathPart, PracticePath, PracticeSession, SessionItem
from fretloom.text import columns, listed
from fretloom.trade.music.tempo import number_words
from fretloom.trade.phrases.table import say

#: A page of a terminal, or of a letter in a type of one width.
WIDTH = 78
_BOX = "[ ]"
#: How often a tempo is ticked before the next one.
_TICKS = 3
_INDENT = 4
_KINDS = {"shape": "shapes", "change": "changes", "pattern": "picking", "technique": "techniques"}


def practice_text(path: PracticePath, width: int = WIDTH) -> str:
    """Return a practice path as text whose lines have at most `width` columns; it ends with a line end."""
    parts = (
        _head(path, width),
        _part("care", _care(path, width), width),
        _part("new", _new(path, width), width),
        _part("steps", _steps(path, width), width),
        _part("drills", _drills(path, width), width),
        _part("days", _days(path, width), width),
    )
    return "\n\n".join("\n".join(lines) for lines in map(list, parts) if lines) + "\n"


def _part(key: str, lines: Iterable[str], width: int) -> Iterator[str]:
    """Yield a heading and its lines; nothing if there are none."""
    body = list(lines)
    if body:
        yield from _underlined(say(f"practice-page.{key}"), "-", width)
        yield from body


def _underlined(text: str, sign: str, width: int) -> Iterator[str]:
    lines = wrap(text, width)
    yield from lines
    yield sign * max(map(columns, lines), default=0)


def _head(path: PracticePath, width: int) -> Iterator[str]:
    title = path.title or say("practice-page.untitled")
    yield from _underlined(say("practice-page.title", title=title), "=", width)
    if path.student:
        yield from wrap(say("practice-page.for", student=path.student), width)
    key = "one-day" if path.days == 1 else "several"
    dated = "dated-day" if path.days == 1 else "dated-days"
    date = date_words(path.begin) if path.begin is not None else ""
    key = f"practice-page.{dated if date else key}"
    yield from wrap(say(key, days=path.days, minutes=path.minutes, date=date), width)
    yield from wrap(_beat(path), width)


def _beat(path: PracticePath) -> str:
    player = say(f"practice-page.{path.level}")
    return say("practice-page.beat", notes=path.unit_words, player=player)


def _care(path: PracticePath, width: int) -> Iterator[str]:
    marked = any(item.rest for session in path.sessions for item in session.items)
    rest = [say("practice-page.rest-mark")] if marked else []
    yield from wrap(" ".join([*path.cautions, *rest]), width)


def _new(path: PracticePath, width: int) -> Iterator[str]:
    labels = {kind: say(f"practice-page.{key}") for kind, key in _KINDS.items()}
    indent = max(map(columns, labels.values())) + 2
    for kind, label in labels.items():
        words = [one.words for one in path.new if one.kind == kind]
        if words:
            yield from hang(label, "; ".join(words), width, indent)


def _steps(path: PracticePath, width: int) -> Iterator[str]:
    yield from wrap(say("practice-page.go-up", ready=say("practice.ready")), width)
    for step in path.steps:
        yield ""
        label = f"{step.label:>2}. "
        yield from hang(label, step.title, width, max(_INDENT, columns(label)))
        for sentence in step.sentences:
            yield from hang("", sentence, width, _INDENT)
        if step.new:
            things = "; ".join(one.words for one in step.new)
            new = say("practice-page.new-here", things=things)
            yield from hang("", new, width, _INDENT)
        for part in step.parts:
            yield from _ladder(part, width)


def _ladder(part: PathPart, width: int) -> Iterator[str]:
    """Yield a part of a step with its boxes: three for each tempo, or for what is only held."""
    yield from hang("", part.where, width, _INDENT)
    ticks = _BOX * _TICKS
    if part.tempos is None:
        yield from hang("", f"{ticks} {part.ready}", width, 2 * _INDENT)
        return
    stairs = [f"{number_words(tempo)} {ticks}" for tempo in part.tempos.ladder]
    yield from _side_by_side(stairs, width, 2 * _INDENT)


def _side_by_side(pieces: Iterable[str], width: int, indent: int) -> Iterator[str]:
    """Yield pieces beside one another, none of them broken over two lines."""
    line = ""
    for piece in pieces:
        joined = f"{line}   {piece}" if line else piece
        if line and columns(joined) > width - indent:
            yield " " * indent + line
            joined = piece
        line = joined
    yield " " * indent + line


def _drills(path: PracticePath, width: int) -> Iterator[str]:
    """Yield the drills that the days have time for, with a place for the number of each day."""
    for drill in path.drills:
        days = dict.fromkeys(
            session.day
            for session in path.sessions
            for item in session.items
            if item.kind == "drill" and item.where == drill.where
        )
        if days:
            yield from wrap(drill.doing, width)
            boxes = [say("practice-page.on-day", day=day) for day in days]
            yield from _side_by_side(boxes, width, _INDENT)


class _FirstTimes:
    """Says the items of sessions; how to do something is said the first time."""

    def __init__(self) -> None:
        self._known: set[tuple[str, str]] = set()

    def item(self, item: SessionItem) -> str:
        """Say an item: where and how fast; the first of its kind with its sentence."""
        if item.kind == "warm-up":
            return item.doing if self._first(item) else say("practice-page.warm-up")
        if item.kind == "drill":
            said = say("practice-page.drill", where=item.where)
        else:
            said = _at(item.where, item.start, item.goal)
            if self._first(item):
                said = say("practice-page.first-time", item=said, doing=item.doing)
        return f"{said} *" if item.rest else said

    def _first(self, item: SessionItem) -> bool:
        key = (item.show.kind if item.show else "", item.hands)
        known = key in self._known
        self._known.add(key)
        return not known


def _days(path: PracticePath, width: int) -> Iterator[str]:
    day, said = 0, _FirstTimes()
    for session in path.sessions:
        if session.day != day:
            if day:
                yield ""
            day = session.day
            key = "practice-page.dated" if session.date_words else "practice-page.day"
            yield from wrap(say(key, day=day, date=session.date_words), width)
        yield from _session(session, width, said)
    if path.later:
        numbers = listed([one.label for one in path.steps if one.number in path.later])
        key = "practice-page.later-one" if len(path.later) == 1 else "practice-page.later"
        yield ""
        yield from wrap(say(key, steps=numbers), width)


def _session(session: PracticeSession, width: int, said: _FirstTimes) -> Iterator[str]:
    for item in session.items:
        label = f"  {_BOX} {say('practice-page.minutes', minutes=f'{item.minutes:>2}')}  "
        yield from hang(label, said.item(item), width, columns(label))
    if session.pause:
        yield from hang("", say("practice.pause", minutes=session.pause), width, 6)


def _at(where: str, start: Fraction | None, goal: Fraction | None) -> str:
    if start is None or goal is None:
        return where
    if start == goal:
        return say("practice-page.at", where=where, tempo=number_words(goal))
    return say(
        "practice-page.climbs", where=where, start=number_words(start), goal=number_words(goal)
    )
