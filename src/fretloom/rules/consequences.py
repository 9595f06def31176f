"""Leaves out what only follows from another finding, so that one slip is one finding.

What is left out is found again once the other one is mended. It happens after waivers are applied: a
waiver of something that follows from an error is needed all the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fretloom.diagnostics import Diagnostic, Related
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.rules.causes import FINGERS, Causes, Line, line_of
from fretloom.rules.definitions import Definitions, as_one_name, with_wrong_strings
from fretloom.source import Source
from fretloom.text import counted
from fretloom.values import evolve

#: About time: they depend on what is held, plucked and played, and at which tempo.
_HASTE = frozenset(
    ("change-too-fast", "hop-too-fast", "hop-tight", "pick-repeat", "pick-rate", "pick-rate-all", "pick-crossed")
)  # fmt: skip
#: Warnings that only say that nothing else needs a line.
_UNNEEDED = frozenset(
    ("waiver-not-needed", "section-never-played", "unused-voicing", "unused-pattern")
)
#: Warnings about a line that may be wrong because of another fault in it.
_WITH_ITS_LINE = frozenset(("playing-shortened", "bass-off-chord", "finger-off-strings", "stretch"))
_UNREAD = frozenset(("not-understood", "unknown-word", "unclosed-bracket", "bad-count"))
_REPEATS = frozenset(
    ("ending-without-repeat", "end-without-repeat", "ending-missing", "repeat-not-closed")
)
_MOST_RELATED = 8


def without_consequences(reading: Reading, found: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Return findings without those that may go with another one."""
    kept = list(found)
    errors = [one for one in kept if one.severity is Severity.ERROR and one.rule not in _HASTE]
    lines = {line_of(one.span) for one in errors}
    if any(one.rule != "empty-lesson" for one in errors):
        others = any(one.rule != "nothing-to-leave-out" for one in errors)
        kept = [one for one in kept if one.rule not in _HASTE and not _idle(one, lines, others)]
    if any(one.rule == "bass-off-chord" for one in kept):
        kept = [one for one in kept if one.rule not in ("hop-tight", "hop-too-fast")]
    missing = [one.span.text for one in errors if one.rule == "unknown-section"]
    causes = Causes(reading, errors)
    kept = [one for one in kept if not causes.explain(one)]
    kept = _with_missing_line(kept, missing)
    kept = _one_a_repeat(as_one_name(kept))
    given = Definitions(reading)
    kept = with_wrong_strings(reading, [given.shown(one) for one in kept])
    return list(_one_a_place(kept))


def _idle(one: Diagnostic, lines: set[Line], others: bool) -> bool:
    """Whether a finding may be wrong as long as there are errors, in all or on its line."""
    if one.rule == "nothing-to-leave-out":
        return others
    if one.severity is not Severity.WARNING:
        return False
    return one.rule in _UNNEEDED or (one.rule in _WITH_ITS_LINE and line_of(one.span) in lines)


def _with_missing_line(found: list[Diagnostic], names: list[str]) -> list[Diagnostic]:
    """Return findings; where a section has bars too many, the line of one that is missing may belong there."""
    if not names:
        return found
    asked = f"; the form plays {names[0]}: is its line `section {names[0]}` missing above them?"
    return [
        evolve(one, hint=one.hint + asked)
        if one.rule == "section-length" and "remove" in one.hint
        else one
        for one in found
    ]


def _one_a_repeat(found: list[Diagnostic]) -> list[Diagnostic]:
    """Return findings, only the first of each section about the lines of a repeat that do not go together."""
    if not any(one.rule in _REPEATS for one in found):
        return found
    seen = {_block(one) for one in found if one.rule in _UNREAD}
    kept = []
    for one in sorted(found, key=lambda one: one.sort_key):
        if one.rule in _REPEATS and _block(one) in seen:
            continue
        if one.rule in _REPEATS:
            seen.add(_block(one))
        kept.append(one)
    repeats = {_block(one) for one in kept if one.rule in _REPEATS}
    return [one for one in kept if one.rule != "section-length" or _block(one) not in repeats]


def _block(one: Diagnostic) -> tuple[Source, str]:
    return one.span.source, one.span.block_opening


def _one_a_place(found: list[Diagnostic]) -> Iterator[Diagnostic]:
    """Yield findings, those about the fingers of one voicing, or the same pickup, as one."""
    kept: list[Diagnostic] = []
    alike: dict[tuple[object, ...], list[Diagnostic]] = {}
    named = {one.span.start for one in found if one.rule == "unknown-voicing"}
    for one in found:
        if one.rule == "unreadable-chord-name" and one.span.start in named:
            continue  # It is named as in another language.
        kind = "fingers" if one.rule in FINGERS else one.rule
        key = (kind, one.severity, one.span.source, one.span.start, one.span.end)
        others = alike.setdefault(key, [])
        others.append(one)
        if len(others) == 1 or kind not in ("fingers", "pickup-does-not-fit"):
            kept.append(one)
    for one in kept:
        kind = "fingers" if one.rule in FINGERS else one.rule
        key = (kind, one.severity, one.span.source, one.span.start, one.span.end)
        more = alike[key][1:] if kind in ("fingers", "pickup-does-not-fit") else []
        yield _with_more(one, more) if more else one


def _with_more(one: Diagnostic, more: list[Diagnostic]) -> Diagnostic:
    if one.rule in FINGERS:
        said = f"{counted(len(more), 'more fault')} in these fingers"
        others = [Related(message=other.message, span=other.span) for other in more]
    else:
        said = f"in {counted(len(more), 'more place')}"
        others = [place for other in more for place in other.related]
    related = (*one.related, *others)[:_MOST_RELATED]
    return evolve(one, message=f"{one.message} (and {said})", related=related)
