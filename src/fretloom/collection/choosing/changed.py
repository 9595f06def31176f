"""Which lessons have to be checked after a change: those that changed since a revision, and those that need them."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from attrs import field

from fretloom.collection.configuration.finding import resolved
from fretloom.collection.configuration.reading import PLACES
from fretloom.collection.lessons import FoundLesson
from fretloom.collection.naming.named_in_text import files_in_text
from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.files import read_text
from fretloom.text import shown_name, visible
from fretloom.values import frozen

_OPTION = "--changed"
_OF_A_HOOK = ("GIT_DIR", "GIT_INDEX_FILE", "GIT_WORK_TREE")


def changed_since(revision: str, folder: Path) -> frozenset[Path]:
    """Return the files that git says have changed since a revision, are new, or are gone.

    Args:
        revision: as git names it: a commit, a branch, a tag.
        folder: one that lies in the repository.

    Raises:
        FretloomError: git is not there, or the folder is in no repository, or there is no such revision.
    """
    top = Path(_git(folder, "rev-parse", "--show-toplevel").rstrip("\n"))
    if not revision or revision.startswith("-"):
        raise FretloomError(f"{_OPTION}: {shown_name(revision) or chr(34) * 2} is not a revision")
    if revision == "HEAD" and not _git(top, "rev-list", "--max-count=1", "--all"):
        changed = _git(top, "ls-files", "-z")  # Nothing is committed yet: all is new.
    else:
        commit = _git(
            folder, "rev-parse", "--verify", "--quiet", f"{revision}^{{commit}}", of=revision
        )
        changed = _git(top, "diff", "--name-only", "--no-renames", "-z", commit.strip(), "--")
    new = _git(top, "ls-files", "--others", "--exclude-standard", "-z")
    names = [name for name in (changed + new).split("\0") if name]
    # A file that is gone has no links to follow, but its folder may have.
    return frozenset(resolved((top / name).parent) / Path(name).name for name in names)


def touched(lessons: Iterable[FoundLesson], changed: frozenset[Path]) -> list[FoundLesson]:
    """Return the lessons that changed, that need a file that did, or whose configuration did."""
    needs = _Needs(changed)
    # Where one is gone, what is settled now is settled elsewhere.
    gone = {one.parent for one in changed if one.name in PLACES and not one.exists()}

    def is_touched(one: FoundLesson) -> bool:
        place = resolved(one.file)
        if one.configuration.file in changed or not gone.isdisjoint(place.parents):
            return True
        return needs.some(place)

    return [one for one in lessons if is_touched(one)]


@frozen
class _Needs:
    """Which files need one that changed; each is looked into once."""

    changed: frozenset[Path]
    _known: dict[Path, tuple[Path, ...]] = field(factory=dict)

    def some(self, file: Path) -> bool:
        """Whether a file changed, or one that it needs, however far away."""
        seen, waiting = {file}, [file]
        while waiting:
            one = waiting.pop()
            if one in self.changed:
                return True
            fresh = [other for other in self._named(one) if other not in seen]
            seen.update(fresh)
            waiting += fresh
        return False

    def _named(self, file: Path) -> tuple[Path, ...]:
        if file not in self._known:
            try:
                text = read_text(file)
            except LessonUnreadable:
                text = ""
            self._known[file] = tuple(resolved(file.parent / name) for name in files_in_text(text))
        return self._known[file]


def _git(folder: Path, *words: str, of: str = "") -> str:
    """Return what git says.

    Raises:
        FretloomError: it is not there, or says no.
    """
    import subprocess

    # What a hook sets for its own repository must not lead to another one.
    environment = {key: one for key, one in os.environ.items() if key not in _OF_A_HOOK}
    try:
        done = subprocess.run(
            ("git", "-c", "core.quotepath=off", *words),
            cwd=folder,
            env=environment,
            capture_output=True,
            check=False,
            stdin=subprocess.DEVNULL,
        )
    except FileNotFoundError:
        raise FretloomError(f"{_OPTION} asks git what has changed, and git is not installed") from None  # fmt: skip
    except OSError as error:
        raise FretloomError(f"{_OPTION}: git cannot be run: {error.strerror or error}") from None
    if done.returncode == 0:
        return os.fsdecode(done.stdout)
    if of:
        raise FretloomError(f"{_OPTION}: git knows no revision {shown_name(of)}")
    said = done.stderr.decode("utf-8", "replace").strip().partition("\n")[0]
    if "not a git repository" in said:
        raise FretloomError(f"{_OPTION}: {shown_name(folder)} is in no git repository")
    raise FretloomError(f"{_OPTION}: git says: {visible(said)}")
