"""A lesson in which a voicing, a pattern or a section is called otherwise."""

from __future__ import annotations

from fretloom.characters import composed
from fretloom.errors import ModelError
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.walking.walk import GIVES, NameKind, rebuilt, uses, walk
from fretloom.notation.rereading import refuse_unfinished
from fretloom.text import near_names

_KINDS: tuple[NameKind, ...] = ("voicing", "pattern", "section")


def with_name(lesson: Lesson, kind: NameKind, old: str, new: str) -> Lesson:
    """Return the lesson with a voicing, pattern or section called otherwise, where it is given and wherever it is used.

    Only this lesson: not what it uses or is based on. Cues, words, prose and comments stay as they are.

    Args:
        lesson: one in which the name stands.
        kind: "voicing", "pattern" or "section".
        old: the name as it is. new: as it is to be.

    Raises:
        ModelError: nothing of that kind is called `old`, or something is called `new` already, or
            nothing can be called so.
    """
    if kind not in _KINDS:
        raise ModelError(f"kind: one of {', '.join(_KINDS)}, not {kind!r:.40}")
    for name, given in (("old", old), ("new", new)):
        if not isinstance(given, str):
            raise TypeError(f"{name} is a str, not {type(given).__name__}")
    old, new = composed(old), composed(new)
    names = _names(lesson, kind)
    if old not in names:
        near = near_names(old, names, 1, 0.6)
        known = (
            f"did you mean {near[0]}?"
            if near
            else f"there are: {', '.join(sorted(names)) or 'none'}"
        )
        raise ModelError(f"there is no {kind} {old!r:.60}; {known:.400}")
    if new in names:
        raise ModelError(f"there is a {kind} {new!r:.60} already")
    refuse_unfinished(lesson)
    return called(lesson, kind, old, new)


def called(lesson: Lesson, kind: NameKind, old: str, new: str) -> Lesson:
    """Return the lesson with one name in place of another wherever that stands, whatever else is called so.

    Raises:
        ModelError: nothing of that kind can be called so.
    """

    def other(what: NameKind, name: str) -> str:
        return new if (what, name) == (kind, old) else name

    return rebuilt(lesson, name=other, given=other)


def _names(lesson: Lesson, kind: NameKind) -> set[str]:
    given = {node.name for _, node in walk(lesson) if GIVES.get(type(node)) == kind}  # type: ignore[attr-defined]
    return given | {one.name for one in uses(lesson) if one.kind == kind}
