"""Makes the sure changes that findings carry, behind a net: same music, same comments, read back before it is written.

The net is for our own mistakes: an edit that would do harm is not made, and counted as refused.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from fretloom import api
from fretloom.api import Diagnostic, Edit, Examined, Lesson, Severity
from fretloom.api.soundness import comments_of, music_of
from fretloom.errors import EditsDoNotFit
from fretloom.files import rewrite, with_ends_of
from fretloom.source import Source
from fretloom.values import evolve, frozen

#: What could not be read at first may need changes of its own; so often a file is gone through.
_MOST_ROUNDS = 10
#: So many sets of edits are tried in a round; beyond them only those are made that were proved until then.
_MOST_TRIES = 60

Wanted = Callable[[Iterable[Diagnostic]], Iterable[Diagnostic]]
Read = Callable[[str], Lesson]


@frozen
class Mended:
    """How many findings of a file were mended by their edits, and how many could not be."""

    made: int
    refused: int = 0


def fix_file(name: str, root: str, wanted: Wanted) -> Mended:
    """Make the sure changes of a lesson in its file; line ends, and all that no edit is about, stay as they are.

    Args:
        name: of the file. root: of its collection.
        wanted: which of the findings count.

    Raises:
        LessonUnreadable: the file cannot be read.
        NotWritten: it cannot be written, or was changed meanwhile; it stays as it is.
    """
    first = api.examine(api.load(name, root=root))
    fixed, mended = fixed_lesson(first, wanted, lambda text: api.loads(text, path=name, root=root))
    if mended.made:
        rewrite(Path(name), _source(first).text, _source(fixed).text, same_ends=False)
    return mended


def fixed_lesson(first: Examined, wanted: Wanted, read: Read) -> tuple[Examined, Mended]:
    """Return a lesson with the sure changes of its own text made.

    Args:
        first: the lesson as it is.
        wanted: which of the findings count.
        read: reads another text in place of its own.
    """
    fixed, made, refused = first, 0, 0
    for _ in range(_MOST_ROUNDS):
        asked = _with_edits(fixed, wanted(fixed.findings))
        after, done = _mended(fixed, asked, read)
        refused = len(asked) - done
        if not done:
            break
        fixed, made = after, made + done
    return fixed, Mended(made, refused)


def _with_edits(lesson: Examined, found: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Return the findings whose edits are all in the lesson's own text."""
    own = _source(lesson)
    return [
        one for one in found if one.edits and all(edit.span.source == own for edit in one.edits)
    ]


def _mended(lesson: Examined, found: Sequence[Diagnostic], read: Read) -> tuple[Examined, int]:
    """Make the edits of findings, all at once or as many as go together; returns how many findings that mends.

    What does not go together is halved, so that a few that do harm are found in few tries.
    """
    chosen: list[Diagnostic] = []
    best = lesson
    waiting = [list(found)] if found else []
    for _ in range(_MOST_TRIES):
        if not waiting:
            break
        group = waiting.pop()
        after = _tried(lesson, [*chosen, *group], read)
        if after is not None:
            chosen += group
            best = after
        elif len(group) > 1:
            half = len(group) // 2
            waiting += [group[half:], group[:half]]
    return best, len(chosen)


def _tried(lesson: Examined, found: Sequence[Diagnostic], read: Read) -> Examined | None:
    """Return the lesson with edits made, None if they do not go together or would do harm."""
    before = _source(lesson)
    edits = [_with_ends(edit, before.text) for one in found for edit in one.edits]
    try:
        text = api.apply_edits(before.text, edits)
    except EditsDoNotFit:
        return None
    after = api.examine(read(text))
    lost = comments_of(before) - comments_of(_source(after))
    added = comments_of(_source(after)) - comments_of(before)
    touched = Counter[str]()
    for edit in edits:
        first, last = edit.span.line, before.position(edit.span.end)[0]
        lines = "\n".join(before.line_text(line) for line in range(first, last + 1))
        touched += comments_of(Source("", lines))
    if lost - touched or added.total() > lost.total():
        return None
    return after if _mends(lesson, after, found) else None


def _mends(before: Examined, after: Examined, found: Sequence[Diagnostic]) -> bool:
    """Whether there are fewer findings of each rule that was to be mended, no more errors, and the same music.

    Where the rest of a text was not read for its faults, more of it is read afterwards: only what was read counts.
    """
    rules = {one.rule for one in found}
    end = next((one.span.line for one in before.findings if one.rule == "too-many-faults"), None)
    longer = len(_source(after).line_starts()) - len(_source(before).line_starts())
    old = _read_before(before, end)
    new = _read_before(after, end if end is None else end + longer)
    then, now = (Counter(one.rule for one in those) for those in (old, new))
    if any(now[rule] >= then[rule] for rule in rules) or _errors(new) > _errors(old):
        return False
    undefined = any(one.music_undefined for one in before.findings)
    return undefined or music_of(before) == music_of(after)


def _read_before(lesson: Examined, end: int | None) -> list[Diagnostic]:
    """Return the findings of a lesson, in its own text only those above a line."""
    own = _source(lesson)
    return [
        one for one in lesson.findings
        if end is None or one.span.source != own or one.span.line < end
    ]  # fmt: skip


def _errors(found: Iterable[Diagnostic]) -> int:
    return sum(one.severity is Severity.ERROR for one in found)


def _with_ends(edit: Edit, text: str) -> Edit:
    """Return an edit whose new lines end as those of the text do."""
    return evolve(edit, text=with_ends_of(text, edit.text)) if "\n" in edit.text else edit


def _source(lesson: Examined) -> Source:
    source = lesson.lesson.source
    assert source is not None
    return source
