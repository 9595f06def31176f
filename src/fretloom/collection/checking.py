"""Checks many lessons, in one process or several, and returns each finding in the form that was asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from fretloom import api
from fretloom.collection.sharing import shared_out
from fretloom.diagnostics import Diagnostic
from fretloom.errors import ExtensionFaulty, LessonUnreadable, own_fault
from fretloom.rule_facts import Severity
from fretloom.values import frozen

#: Forms in which findings are given; "json" gives plain data.
FORMS = ("text", "json", "github")


@frozen
class Task:
    """One file to check, the root of its collection, and the form of its findings."""

    name: str
    root: str
    form: str
    colour: bool = False


@frozen
class Checked:
    """What is reported of one file: its findings and how grave each is, or why it was not read."""

    name: str
    findings: tuple[object, ...] = ()
    severities: tuple[Severity, ...] = ()
    unreadable: str = ""


def check_all(
    tasks: Sequence[Task],
    jobs: int | None = None,
    remark: Callable[[str], object] = lambda _: None,
) -> Iterable[Checked]:
    """Check the files in their order, as `shared_out` shares them out."""
    return shared_out(check_one, tasks, jobs, remark)


def check_one(task: Task) -> Checked:
    """Check one file; whatever happens to it, the others can go on."""
    try:
        found = api.check(api.load(task.name, root=task.root))
    except LessonUnreadable as error:
        return Checked(task.name, unreadable=str(error))
    except ExtensionFaulty:  # It would be the same with every file.
        raise
    except Exception as error:  # One file must not keep the others from being checked.
        return Checked(task.name, unreadable=f"{task.name}: {own_fault(error)}")
    give = _giver(task)
    return Checked(task.name, tuple(map(give, found)), tuple(one.severity for one in found))


def _giver(task: Task) -> Callable[[Diagnostic], object]:
    if task.form == "json":
        return api.finding_as_data
    if task.form == "github":
        return api.finding_as_annotation
    return lambda found: api.finding_as_text(found, task.colour)
