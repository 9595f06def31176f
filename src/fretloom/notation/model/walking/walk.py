"""The one walk over a lesson: its lines, bars, patterns and plucks, and the names that they use.

Everything comes in written order with its place, and can be replaced there. A new kind of
line or sign is one row of `_INSIDE` (and of `_NAMES`, if it uses a name): a test compares both with
the model.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice, repeat
from typing import Any, Literal, TypeVar

from attrs import evolve, field

from fretloom.notation.model.form import (
    But,
    ChangeBars,
    ChangePattern,
    Form,
    FormEntry,
)
from fretloom.notation.model.heading import Heading, Setting
from fretloom.notation.model.lesson import Home, Lesson, PatternBlock, PickingBlock, VoicingBlock
from fretloom.notation.model.pattern import (
    Beat,
    Brush,
    Group,
    Pattern,
    PatternBar,
    Pluck,
    Roll,
    Stroke,
)
from fretloom.notation.model.section import (
    Bar,
    BarLine,
    EndingStart,
    Part,
    Section,
    SectionLine,
    ShortBar,
    UsingLine,
    With,
)
from fretloom.notation.model.step import Prose, Show, Step
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.model.walking.places import NOWHERE, OWN_PLACE, PLACES_INSIDE, WrittenPlace
from fretloom.source import Span
from fretloom.values import frozen

T = TypeVar("T")
NameKind = Literal["voicing", "pattern", "section"]

#: What has a margin and stands in a block.
Line = Setting | Home | VoicingEntry | Pattern | SectionLine | FormEntry | But | Prose | Show

#: The fields of each thing that hold what stands inside it, in written order.
_INSIDE: dict[type, tuple[str, ...]] = {
    Lesson: ("blocks",),
    Heading: ("settings",),
    PickingBlock: ("lines",),
    VoicingBlock: ("lines",),
    PatternBlock: ("lines",),
    Section: ("lines",),
    Form: ("entries",),
    Step: ("lines",),
    FormEntry: ("buts",),
    BarLine: ("bars",),
    EndingStart: ("bars",),
    ChangeBars: ("bars",),
    ShortBar: ("bar",),
    Bar: ("parts", "beats", "patches"),
    With: ("pluck",),
    Pattern: ("bars",),
    PatternBar: ("beats",),
    Beat: ("items",),
    Group: ("items",),
    Stroke: ("parts",),
    Roll: ("parts",),
}

#: The fields that use a name: what it is the name of, the field, and the field with its span.
_NAMES: dict[type, tuple[tuple[NameKind | None, str, str], ...]] = {
    VoicingEntry: (("voicing", "like", "like_span"),),
    Part: (("voicing", "voicing", "span"),),
    Bar: (("pattern", "using", "using_span"),),
    Section: (("pattern", "using", "using_span"),),
    UsingLine: (("pattern", "using", "using_span"),),
    ChangePattern: (("pattern", "using", "using_span"),),
    FormEntry: (("section", "section", "section_span"),),
    Show: ((None, "name", "name_span"), ("voicing", "over", "over_span")),
}
#: What gives a name, and to what.
GIVES: dict[type, NameKind] = {VoicingEntry: "voicing", Pattern: "pattern", Section: "section"}
#: What the name is that a step shows, by the kind of what is shown.
_SHOWN: dict[str, NameKind] = {
    "voicing": "voicing",
    "change": "voicing",
    "pattern": "pattern",
    "section": "section",
    "bars": "section",
}

Placed = tuple[WrittenPlace, object]


@frozen
class NameUse:
    """A place where the name of a "voicing", "pattern" or "section" (`kind`) is used."""

    kind: NameKind
    name: str
    place: WrittenPlace
    span: Span | None = field(default=None, eq=False, repr=False)


def walk(top: object, skip: tuple[type, ...] = ()) -> Iterator[Placed]:
    """Yield a lesson, or any part of one, and all that is written in it, each with its place.

    What holds other things comes before them. What is inside things of the types in `skip` is left
    out.
    """
    waiting: list[Placed] = [(NOWHERE, top)]
    while waiting:
        place, node = waiting.pop()
        kind = type(node)
        if kind in OWN_PLACE:
            place = OWN_PLACE[kind](node)
        yield place, node
        if kind not in _INSIDE or kind in skip:
            continue
        if kind in PLACES_INSIDE:
            waiting.extend(reversed(list(_inside(node, place))))
            continue
        for name in reversed(_INSIDE[kind]):
            held = getattr(node, name)
            if isinstance(held, tuple):
                waiting += [(place, one) for one in reversed(held)]
            elif held is not None:
                waiting.append((place, held))


def every(
    top: object, kind: type[T], skip: tuple[type, ...] = ()
) -> Iterator[tuple[WrittenPlace, T]]:
    """Yield everything of one type in a lesson or a part of one, but not what is inside it."""
    for place, node in walk(top, (kind, *skip)):
        if isinstance(node, kind):
            yield place, node


def lines(block: object, depth: int = 1) -> Iterator[tuple[Line, int]]:
    """Yield the lines of a block with their depth, 1 for its own, 2 for `but` lines below an entry."""
    for line in _children(block):
        if isinstance(line, Line):
            yield line, depth
            yield from lines(line, depth + 1)


def uses(top: object) -> Iterator[NameUse]:
    """Yield every use of a voicing's, pattern's or section's name in a lesson or a part of one."""
    for place, node in walk(top, (PatternBar,)):
        if type(node) in _NAMES:
            yield from uses_in(node, place)


def uses_in(node: object, place: WrittenPlace) -> Iterator[NameUse]:
    """Yield the uses of names in a thing, but not in what stands inside it."""
    for kind, name, span in _names(node) if type(node) in _NAMES else ():
        if used := getattr(node, name):
            yield NameUse(kind, used, place, getattr(node, span))


def rebuilt(
    lesson: Lesson,
    *,
    name: Callable[[NameKind, str], str] | None = None,
    given: Callable[[NameKind, str], str] | None = None,
    voicing: Callable[[VoicingEntry, WrittenPlace], VoicingEntry] | None = None,
    entry: Callable[[FormEntry, WrittenPlace], FormEntry] | None = None,
    bar: Callable[[Bar, WrittenPlace], Bar] | None = None,
    pluck: Callable[[Pluck | Brush, WrittenPlace], Pluck | Brush] | None = None,
) -> Lesson:
    """Return a lesson with what is written in it replaced; what stays the same is kept as it is.

    Args:
        lesson: as written; it may have faults.
        name: from what a name is of ("voicing", "pattern", "section") and the name that is used to
            the new name; names are not changed where they are defined.
        given: the same where a name is defined.
        voicing, entry, bar, pluck: from a line of voicings, an entry of the form, a bar or a pluck,
            with its place, to what is to be there. What is inside has been replaced by then.
    """
    change = {VoicingEntry: voicing, FormEntry: entry, Bar: bar, Pluck: pluck, Brush: pluck}
    skip: tuple[type, ...] = () if pluck else (PatternBar,)
    if not (name or given or entry or bar or pluck):
        skip = (Section, Form, PatternBlock)
    made = _Rebuilding({kind: one for kind, one in change.items() if one}, name, given, skip)
    new: Lesson = made.of(lesson, NOWHERE)
    return new


@frozen(eq=False)
class _Rebuilding:
    """The replacements by type, and those of names; inside the types in `skip` nothing changes."""

    change: dict[type, Callable[[Any, WrittenPlace], Any]]
    name: Callable[[NameKind, str], str] | None
    given: Callable[[NameKind, str], str] | None
    skip: tuple[type, ...]

    def of(self, node: Any, place: WrittenPlace) -> Any:
        """Return what replaces a thing, after replacing what is inside it."""
        if type(node) in OWN_PLACE:
            place = OWN_PLACE[type(node)](node)
        new: dict[str, object] = {}
        if self.name is not None:
            for kind, name, _ in _names(node):
                if old := getattr(node, name):
                    new[name] = self.name(kind, old)
        if self.given is not None and type(node) in GIVES:
            new["name"] = self.given(GIVES[type(node)], node.name)
        if type(node) not in self.skip:
            inside = (self.of(one, at) for at, one in _inside(node, place))
            for name in _INSIDE.get(type(node), ()):
                old = getattr(node, name)
                if isinstance(old, tuple):
                    new[name] = tuple(islice(inside, len(old)))
                elif old is not None:
                    new[name] = next(inside)
        if any(not _same(getattr(node, name), one) for name, one in new.items()):
            node = evolve(node, **new)
        change = self.change.get(type(node))
        return change(node, place) if change else node


def _same(old: object, new: object) -> bool:
    """Whether nothing was replaced; equal things with other spans are not the same."""
    if isinstance(old, tuple) and isinstance(new, tuple):
        return all(map(_same, old, new))
    return old is new


def _names(node: object) -> Iterator[tuple[NameKind, str, str]]:
    shown = _SHOWN.get(node.kind) if isinstance(node, Show) else None
    for kind, name, span in _NAMES.get(type(node), ()):
        if what := kind or shown:
            yield what, name, span


def _children(node: object) -> Iterator[object]:
    for name in _INSIDE.get(type(node), ()):
        held = getattr(node, name)
        if isinstance(held, tuple):
            yield from held
        elif held is not None:
            yield held


def _inside(node: object, place: WrittenPlace) -> Iterator[Placed]:
    at = PLACES_INSIDE.get(type(node))
    return zip(at(node, place) if at else repeat(place), _children(node), strict=False)
