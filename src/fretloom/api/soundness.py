"""What must hold of a lesson's text before it is written: nothing lost, and nothing worse than before.

`formatted` is the net under the formatter, `need_sound` the one under what arranges a lesson anew.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator
from pathlib import PurePath

from fretloom.api.checking import reading_faults
from fretloom.api.reading import Examined, examine
from fretloom.api.writing import dumps
from fretloom.diagnostics import Diagnostic, LessonFaulty
from fretloom.errors import FretloomError
from fretloom.files import with_ends_of
from fretloom.notation.linking import links
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.lines import split
from fretloom.notation.syntax.read import read
from fretloom.rule_facts import Severity
from fretloom.source import Source
from fretloom.text import counted


def formatted(lesson: Lesson) -> str:
    """Return the canonical text of a lesson with the line ends of the text that it was read from.

    Before that, the new text is read back: it has the same music and the same comments.

    Raises:
        LessonFaulty: the lesson could not be read completely, so a part of it would be lost.
        FretloomError: the new text would not have the same music or the same comments.
    """
    faults = reading_faults(lesson)
    if faults:
        raise LessonFaulty(f"the lesson has {counted(len(faults), 'fault')}", faults)
    text = dumps(lesson)
    if lesson.source is None:
        return text
    loss = _loss(lesson, text)
    if loss:
        raise FretloomError(f"formatting it would {loss}, which is a fault of fretloom: please report it")  # fmt: skip
    return with_ends_of(lesson.source.text, text)


def text_of(lesson: Lesson) -> str:
    """Return the text that a lesson was read from, "" if there is none."""
    return lesson.source.text if lesson.source is not None else ""


def files_named(lesson: Lesson | Examined) -> tuple[str, ...]:
    """Return the file of a lesson, and the files that it and those it is linked to name, read or not."""
    names: dict[str, None] = {}
    waiting = [lesson.lesson if isinstance(lesson, Examined) else lesson]
    seen: list[Lesson] = []
    while waiting:
        one = waiting.pop()
        if one.source is None or any(one is other for other in seen):
            continue
        seen.append(one)
        folder = PurePath(one.source.name).parent
        names |= dict.fromkeys([one.source.name, *(str(folder / path) for path, _ in links(one))])
        waiting += one.linked.values()
    return tuple(names)


def texts_read(lesson: Lesson) -> tuple[Source, ...] | None:
    """Return the texts that were read for a lesson, its own first; None if a file that it names could not be read."""
    texts: list[Source] = []
    waiting = [lesson]
    while waiting:
        one = waiting.pop()
        if one.source is None:
            return None
        if one.source in texts:
            continue
        texts.append(one.source)
        if any(path not in one.linked for path, _ in links(one)):
            return None
        waiting += one.linked.values()
    return tuple(texts)


def _loss(lesson: Lesson, text: str) -> str:
    """Say what a new text of a lesson would lose, "" if nothing."""
    assert lesson.source is not None
    before, after = comments_of(lesson.source), comments_of(Source("", text))
    missing = [line for line in before if line not in after or before[line] > after[line]]
    if before != after:
        return f"lose the comment {missing[0]}" if missing else "add a comment"
    back = read(Source(lesson.source.name, text))
    if back.faults or back != lesson:
        return "change the music"
    return ""


def comments_of(source: Source) -> Counter[str]:
    """Return the comments of a text, and how often each is there."""
    return Counter(line.comment for line in split(source) if line.comment)


def music_of(lesson: Examined) -> list[tuple[object, ...]]:
    """Return all that is heard: bars in their order with their notes, not what they are called."""
    return [
        (one.tempo, one.bar.meter, one.bar.length, one.bar.notes, one.bar.slaps)
        for one in lesson.timeline.bars
    ]


def new_findings(before: Examined, lesson: Lesson) -> tuple[Diagnostic, ...]:
    """Return what a check finds in a lesson made out of another, of rules that it breaks more often than that.

    A warning that has become an error is new. What is only good to know (`Severity.INFO`) does not
    count.
    """
    found = [one for one in examine(lesson).findings if one.severity is not Severity.INFO]
    known, now = Counter(map(_rule, before.findings)), Counter(map(_rule, found))
    errors_known, errors = Counter(_errors(before.findings)), Counter(_errors(found))
    return tuple(
        one
        for one in found
        if now[one.rule] > known[one.rule]
        or (one.severity is Severity.ERROR and errors[one.rule] > errors_known[one.rule])
    )


def _rule(finding: Diagnostic) -> str:
    return finding.rule


def _errors(findings: Iterable[Diagnostic]) -> Iterator[str]:
    return (one.rule for one in findings if one.severity is Severity.ERROR)


def need_sound(
    before: Examined,
    lesson: Lesson,
    despite_findings: bool = False,
    expected: Collection[str] = (),
) -> None:
    """Refuse to write a lesson that was made out of another and would be found fault with where that is not.

    Findings of the rules in `expected` do not count.

    Raises:
        LessonFaulty: it would, by an error or a warning; the findings are about the new text (with
            `despite_findings`: only such as leave the music undefined).
    """
    new = tuple(one for one in new_findings(before, lesson) if one.rule not in expected)
    if despite_findings:
        new = tuple(one for one in new if one.music_undefined)
    if new:
        finds = counted(len(new), "finding")
        raise LessonFaulty(f"the new lesson would have {finds} that this one does not have", new)
