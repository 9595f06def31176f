"""What somebody asks to be renamed: of which kind it is, and whether anything can be called so."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

from fretloom.characters import composed
from fretloom.collection.naming.names import Names
from fretloom.errors import FretloomError
from fretloom.notation.model.walking.names import named
from fretloom.notation.model.walking.walk import NameKind
from fretloom.notation.model.words import name as wrong_name
from fretloom.notation.syntax.read import read
from fretloom.source import Source
from fretloom.text import listed, near_names, shortened, shown_name
from fretloom.values import frozen

KINDS: tuple[NameKind, ...] = get_args(NameKind)
#: A lesson in which a name stands wherever one of its kind can, by the kind.
_TRIED: dict[NameKind, str] = {
    "voicing": "voicings\n  {0}  xxxxxx\n  {1}  like {0}\n\nsection a\n  {0} | {0}:2 {0}\n\n"
    'step ""\n  show change {0} to {0}\n',
    "pattern": "patterns\n  {0}  p\n\nsection a  using {0}\n  rest using {0}\n  using {0}\n\n"
    "form\n  a\n    but using {0}\n",
    "section": 'section {0}\n  rest\n\nform\n  {0} x2\n  {0}\n\nstep ""\n  show bar 1 of {0}\n',
}


@frozen
class AskedName:
    """A thing of a kind and its name, and the name that it is to have; both as names are kept."""

    kind: NameKind
    old: str
    new: str


def asked(names: Names, file: Path, old: str, new: str, kind: NameKind | None) -> AskedName:
    """Return what somebody asks for who names a file and two names.

    Args:
        names: of the collection. file: in which, or in what it names, `old` is given.
        kind: if it is said.

    Raises:
        LessonUnreadable: the file cannot be read.
        FretloomError: nothing is called `old`, or things of several kinds are, or nothing can be called
            `new`.
    """
    old, new = composed(old), composed(new)
    given = names.in_scope(file)
    kinds = [one.kind for one in given if one.name == old and kind in (None, one.kind)]
    if not kinds:
        known = [one.name for one in given if kind in (None, one.kind)]
        raise FretloomError(_not_there(names, file, old, kind, known))
    if len(kinds) > 1:
        words = [f"--kind {one}" for one in kinds]
        what = listed([f"a {one}" for one in kinds])
        raise FretloomError(f"{old} is {what}: say {listed(words, 'or')}")
    if new == old:
        raise FretloomError(f"it is called {old} already")
    _refuse(names, file, kinds[0], new)
    return AskedName(kinds[0], old, new)


def _not_there(names: Names, file: Path, old: str, kind: NameKind | None, known: list[str]) -> str:
    what = kind or listed(KINDS, "or")
    where = shown_name(shown_path(file))
    used = [one for one in names.in_file(file) if one.name == old and kind in (None, one.kind)]
    if used:
        return f"{shortened(old)} is used in {where} (line {used[0].span.line}), but no {used[0].kind} is called so"
    near = near_names(old, known, 1, 0.6)
    hint = f"; did you mean {near[0]}?" if near else ""
    return f"there is no {what} {shortened(old)} in {where}, nor in what it names{hint}"


def _refuse(names: Names, file: Path, kind: NameKind, new: str) -> None:
    """Refuse what nothing of a kind can be called in a lesson.

    Raises:
        FretloomError: as said.
    """
    problem = wrong_name(new)
    if problem:
        raise FretloomError(f"a {kind} cannot be called {shortened(new)}: {problem}")
    heading = names.lesson(file).heading
    naming = heading.setting("names") if heading else None
    head = f'lesson ""\n  names {naming.value}\n\n' if naming else ""
    tried = read(
        Source("", head + _TRIED[kind].format(new, "v" if new == "w" else "w")), newest=True
    )
    if tried.faults:
        fault = tried.faults[0]
        said = f"{fault.message}; {fault.hint}" if fault.hint else fault.message
        called = f"a {kind} cannot be called {new}"
        raise FretloomError(said if said.startswith(called) else f"{called}: {said}")
    found = [one for one in named(tried) if (one.kind, one.name) == (kind, new)]
    if len(found) != _TRIED[kind].count("{0}"):
        raise FretloomError(
            f"a {kind} cannot be called {new}: the word means something else where it would stand"
        )


def shown_path(file: Path) -> Path:
    """Return a file as somebody would name it here: from the folder one is in, if it lies in it."""
    try:
        return file.relative_to(Path.cwd().resolve())
    except (OSError, ValueError):
        return file
