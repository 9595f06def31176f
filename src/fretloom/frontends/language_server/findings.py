"""Findings as an editor shows them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from lsprotocol import types

from fretloom.api import Diagnostic, Severity, Span

SOURCE = "fretloom"
_SEVERITIES = {
    Severity.ERROR: types.DiagnosticSeverity.Error,
    Severity.WARNING: types.DiagnosticSeverity.Warning,
    Severity.INFO: types.DiagnosticSeverity.Information,
}
#: Rules about what could as well be left out, which editors show paler.
_NOT_NEEDED = ("unused-voicing", "unused-pattern", "section-never-played", "waiver-not-needed")

#: Gives the place of a span: the address of its text, and the range in it.
Locate = Callable[[Span], types.Location]


def shown_findings(
    findings: Iterable[Diagnostic], locate: Locate, able: types.ClientCapabilities
) -> Iterator[tuple[str, types.Diagnostic]]:
    """Yield findings as an editor takes them, each with the address of the text that it is about."""
    asked = able.text_document and able.text_document.publish_diagnostics
    related = bool(asked and asked.related_information)
    tags = bool(asked and asked.tag_support)
    for one in findings:
        place = locate(one.span)
        yield place.uri, shown_finding(one, place.range, locate if related else None, tags)


def shown_finding(
    found: Diagnostic, place: types.Range, locate: Locate | None, tags: bool
) -> types.Diagnostic:
    """Return one finding; what it is related to only with `locate`, and whether it is needless with `tags`."""
    message = f"{found.message}\n{found.hint}" if found.hint else found.message
    related = None
    if locate is not None and found.related:
        related = [
            types.DiagnosticRelatedInformation(locate(one.span), one.message)
            for one in found.related
        ]
    needless = tags and found.rule in _NOT_NEEDED
    return types.Diagnostic(
        range=place,
        message=message,
        severity=_SEVERITIES[found.severity],
        code=found.rule,
        source=SOURCE,
        tags=[types.DiagnosticTag.Unnecessary] if needless else None,
        related_information=related,
    )


def told_alone(message: str, where: types.Range | None = None) -> types.Diagnostic:
    """Return what is wrong with a text that is not looked into at all, at its start if it is nowhere else."""
    start = types.Position(0, 0)
    return types.Diagnostic(
        range=where or types.Range(start, start),
        message=message,
        severity=types.DiagnosticSeverity.Error,
        source=SOURCE,
    )


class NoticeBoard:
    """What is shown at each text: what was found in it, and in lessons that use it.

    A fault of a file that several lessons use is found with each of them, and shown once.
    """

    def __init__(self) -> None:
        self._found: dict[str, dict[str, list[types.Diagnostic]]] = {}

    def put(self, lesson: str, found: Iterable[tuple[str, types.Diagnostic]]) -> set[str]:
        """Take what was found with a lesson, in place of what was before; returns the texts to show anew."""
        before = self._found.get(lesson, {})
        now: dict[str, list[types.Diagnostic]] = {lesson: []}
        for uri, one in found:
            now.setdefault(uri, []).append(one)
        self._found[lesson] = now
        return {*before, *now}

    def drop(self, lesson: str) -> set[str]:
        """Forget what was found with a lesson; returns the texts to show anew."""
        return {lesson, *self._found.pop(lesson, {})}

    def at(self, uri: str) -> list[types.Diagnostic]:
        """Return all that is shown at a text."""
        everything = [self._found.get(uri, {}).get(uri, [])]
        everything += [one.get(uri, []) for key, one in self._found.items() if key != uri]
        shown: dict[tuple[object, ...], types.Diagnostic] = {}
        for found in everything:
            for one in found:
                place = one.range
                key = (
                    place.start.line, place.start.character, place.end.line, place.end.character,
                    one.code, one.message,
                )  # fmt: skip
                shown.setdefault(key, one)
        return list(shown.values())
