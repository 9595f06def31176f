"""What is reported of many lessons, in the form that was asked for: as they come, or as one document at the end."""

from __future__ import annotations

from collections.abc import Callable

from fretloom import api
from fretloom.api import Diagnostic, Severity
from fretloom.collection.results import Checked
from fretloom.rules.waivers import Waived
from fretloom.text import for_machines

#: Forms in which findings are given; the first two and `github` as for single lessons.
FORMS = ("text", "json", "github", "sarif", "junit", "gitlab")


class Report:
    """What was found so far; `counts` says which findings are faults by themselves."""

    def __init__(
        self, form: str, counts: Callable[[Diagnostic], bool], colour: bool = False
    ) -> None:
        self.form, self.counts, self.colour = form, counts, colour
        self.lessons: list[Checked] = []
        self.findings: list[Diagnostic] = []
        self.waived: list[Waived] = []
        self.unreadable: list[dict[str, str]] = []

    def number(self, severity: Severity) -> int:
        """Return how many findings have a severity."""
        return sum(one.severity is severity for one in self.findings)

    def add(self, checked: Checked) -> str:
        """Take in what is to be reported of a lesson; returns what is shown at once, "" for documents."""
        self.lessons.append(checked)
        self.findings += checked.findings
        self.waived += checked.waived
        if checked.unreadable:
            self.unreadable.append({"file": checked.name, "message": checked.unreadable})
        if self.form == "text":
            shown = (api.finding_as_text(one, self.colour) for one in checked.findings)
            return "".join(f"{one}\n\n" for one in shown)
        if self.form == "github":
            return "".join(f"{api.finding_as_annotation(one)}\n" for one in checked.findings)
        return ""

    def summary(self) -> str:
        """Return the last line of a text."""
        read = len(self.lessons) - len(self.unreadable)
        # Of files that could all not be read there is nothing to say.
        if not read and self.unreadable:
            return ""
        return f"{api.findings_summary((one.severity for one in self.findings), read)}\n"

    def document(self) -> str:
        """Return all that was found as one document; "" for forms that are none."""
        if self.form == "json":
            read = len(self.lessons) - len(self.unreadable)
            found = map(api.finding_as_data, self.findings)
            return api.findings_as_json(found, read, self.unreadable)
        if self.form == "sarif":
            from fretloom.report.findings.sarif import sarif_log

            return _as_json(sarif_log(self.findings, self.waived, self.unreadable))
        if self.form == "gitlab":
            from fretloom.report.findings.gitlab import code_quality

            return _as_json(code_quality(self.findings, self.unreadable))
        return self._junit() if self.form == "junit" else ""

    def statistics(self) -> str:
        """Return how often each rule was broken, as a table; "" if none was."""
        from fretloom.report.findings.statistics import statistics

        table = statistics(self.findings)
        return f"{table}\n" if table else ""

    def _junit(self) -> str:
        from fretloom.report.findings.junit import CheckedLesson, junit_xml

        lessons = (CheckedLesson(one.name, one.findings, one.unreadable) for one in self.lessons)
        return junit_xml(lessons, self.counts)


def _as_json(data: object) -> str:
    import json

    return for_machines(json.dumps(data, ensure_ascii=False, indent=1)) + "\n"
