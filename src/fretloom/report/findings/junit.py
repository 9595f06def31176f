"""Findings as JUnit XML, which systems for continuous integration show as tests: each lesson is one.

A lesson whose findings count fails with all of them as text; what does not count is its output.
There is no standard; `tests/data/schemas/junit-10.xsd` is a schema that a widely used reader of these
files publishes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from xml.sax.saxutils import escape, quoteattr

from fretloom.diagnostics import Diagnostic
from fretloom.report.findings.places import plain_name
from fretloom.report.findings.text import render
from fretloom.text import counted, visible
from fretloom.values import frozen


@frozen
class CheckedLesson:
    """A lesson and what was found in it, or why it was not read."""

    name: str
    findings: tuple[Diagnostic, ...] = ()
    unreadable: str = ""


def junit_xml(lessons: Iterable[CheckedLesson], counts: Callable[[Diagnostic], bool]) -> str:
    """Return a document; `counts` says which findings make a lesson fail."""
    cases, failures, errors = list[str](), 0, 0
    for lesson in lessons:
        failing = [one for one in lesson.findings if counts(one)]
        others = [one for one in lesson.findings if not counts(one)]
        inside = ""
        if lesson.unreadable:
            errors += 1
            inside += _element("error", "not read", lesson.unreadable, visible(lesson.unreadable))
        if failing:
            failures += 1
            message = counted(len(failing), "finding")
            inside += _element("failure", failing[0].rule, message, _shown(failing))
        if others:
            inside += f"   <system-out>{escape(_shown(others))}</system-out>\n"
        name = quoteattr(visible(plain_name(lesson.name)))
        cases.append(f'  <testcase name={name} classname="fretloom">\n{inside}  </testcase>\n')
    numbers = f'tests="{len(cases)}" failures="{failures}" errors="{errors}"'
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<testsuites {numbers}>\n <testsuite name="fretloom check" {numbers}>\n'
        f"{''.join(cases)} </testsuite>\n</testsuites>\n"
    )


def _element(name: str, kind: str, message: str, text: str) -> str:
    said = quoteattr(visible(message))
    return f"   <{name} type={quoteattr(kind)} message={said}>{escape(text)}</{name}>\n"


def _shown(findings: Iterable[Diagnostic]) -> str:
    return "\n\n".join(map(render, findings))
