"""Leaves out what only follows from another finding, so that one slip is one finding.

What is left out is found again once the other one is mended. It happens after waivers are applied: a
waiver of something that follows from an error is needed all the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from fretloom.diagnostics import Diagnostic, Related
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.rules.definitions import as_one_name, at_the_definition, with_wrong_strings
from fretloom.source import Source
from fretloom.text import counted
from fretloom.values import evolve

#: About time: they depend on what is held, plucked and played, and at which tempo.
_HASTE = frozenset(
    ("change-too-fast", "hop-too-fast", "hop-tight", "pick-repeat", "pick-rate", "pick-rate-all", "pick-crossed")
)  # fmt: skip
#: About the fingers of one voicing, whose frets are taken to be right.
_FINGERS = frozenset(
    (
        "no-fingering", "finger-missing", "finger-idle", "finger-two-frets", "finger-order", "finger-tangled",
        "finger-reversed", "barre-inner", "barre-treble", "barre-large", "reach", "stretch", "thumb-string",
        "thumb-reach", "thumb-barre",
    )
)  # fmt: skip
#: Errors that say that a voicing's frets may be wrong.
_FRETS = frozenset(("name-does-not-sound", "wrong-bass"))
#: About a string that a voicing does not play or plays twice, and how they name it.
_PLUCKED = frozenset(("muted-string-plucked", "string-plucked-twice"))
_HELD = re.compile(r"which (\S+) does not play|of (\S+) is plucked twice")
#: Warnings that only say that nothing else needs a line.
_UNNEEDED = frozenset(
    ("waiver-not-needed", "section-never-played", "unused-voicing", "unused-pattern")
)
#: Warnings about a line that may be wrong because of another fault in it.
_WITH_ITS_LINE = frozenset(("playing-shortened", "bass-off-chord", "finger-off-strings", "stretch"))
_BEATS = frozenset(("pattern-beats", "split-beats", "count-outside-bar", "nothing-to-leave-out"))
#: About strings, which the tuning gives.
_STRINGS = frozenset(
    (
        "bass-off-chord", "string-plucked-twice", "muted-string-plucked", "thumb-off-bass", "finger-off-strings",
        "hop-impossible", "wrong-bass",
    )
)  # fmt: skip
_UNREAD = frozenset(("not-understood", "unknown-word", "unclosed-bracket", "bad-count"))
_REPEATS = frozenset(
    ("ending-without-repeat", "end-without-repeat", "ending-missing", "repeat-not-closed")
)
_MOST_RELATED = 8

#: A line of a source.
_Line = tuple[Source, int]


def without_consequences(reading: Reading, found: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Return findings without those that may go with another one."""
    kept = list(found)
    errors = [one for one in kept if one.severity is Severity.ERROR and one.rule not in _HASTE]
    lines = {_line(one) for one in errors}
    if any(one.rule != "empty-lesson" for one in errors):
        others = any(one.rule != "nothing-to-leave-out" for one in errors)
        kept = [one for one in kept if one.rule not in _HASTE and not _idle(one, lines, others)]
    if any(one.rule == "bass-off-chord" for one in kept):
        kept = [one for one in kept if one.rule not in ("hop-tight", "hop-too-fast")]
    missing = [one.span.text for one in errors if one.rule == "unknown-section"]
    kept = [one for one in kept if not _follows(one, reading, errors)]
    kept = _with_missing_line(kept, missing)
    kept = _one_a_repeat(as_one_name(kept))
    kept = with_wrong_strings(reading, [at_the_definition(one, reading) for one in kept])
    return list(_one_a_place(kept))


def _line(one: Diagnostic) -> _Line:
    return one.span.source, one.span.line


def _idle(one: Diagnostic, lines: set[_Line], others: bool) -> bool:
    """Whether a finding may be wrong as long as there are errors, in all or on its line."""
    if one.rule == "nothing-to-leave-out":
        return others
    if one.severity is not Severity.WARNING:
        return False
    return one.rule in _UNNEEDED or (one.rule in _WITH_ITS_LINE and _line(one) in lines)


def _follows(one: Diagnostic, reading: Reading, errors: list[Diagnostic]) -> bool:
    return (
        _from_frets(one, reading, errors)
        or _from_tuning(one, reading, errors)
        or _from_names(one, errors)
        or _from_meter(one, reading, errors)
        or _from_block(one, errors)
    )


def _from_frets(one: Diagnostic, reading: Reading, errors: list[Diagnostic]) -> bool:
    """Whether a finding is about the fingers of a voicing with wrong frets, or about one that is like it."""
    held = one.rule in (_PLUCKED | _FRETS)
    frets = [error for error in errors if error.rule in (_FRETS | _FINGERS if held else _FRETS)]
    wrong = {_line(error) for error in frets}
    wrong |= {(place.span.source, place.span.line) for one in frets for place in one.related}
    if not wrong and one.rule not in _FINGERS:
        return False
    named = _HELD.search(one.message) if one.rule in _PLUCKED else None
    if named is not None:
        entry = reading.material.voicings.get(named[1] or named[2])
        entries = (entry, *_bases(entry, reading)) if entry else ()
        return any(each.span and (each.span.source, each.span.line) in wrong for each in entries)
    if one.rule in ("hop-impossible", "bass-off-chord"):
        return _line(one) in wrong
    if one.rule in _FINGERS:
        if _line(one) in wrong:
            return True
        wrong |= _places(errors, _FINGERS)
    entry = _entry_at(one, reading) if one.rule in (_FRETS | _FINGERS) else None
    return entry is not None and any(
        base.span is not None and (base.span.source, base.span.line) in wrong
        for base in _bases(entry, reading)
    )


def _from_tuning(one: Diagnostic, reading: Reading, errors: list[Diagnostic]) -> bool:
    """Whether a finding judges the strings by a tuning that does not fit the lesson's voicings."""
    tuning = reading.material.settings.get("tuning")
    heading = reading.lesson.heading
    spans = (tuning.span if tuning else None, heading.span if heading else None)
    places = {(span.source, span.line) for span in spans if span is not None}
    if one.rule not in _STRINGS and one.rule not in _FINGERS:
        return False
    return any(error.rule in _FRETS and _line(error) in places for error in errors)


def _from_names(one: Diagnostic, errors: list[Diagnostic]) -> bool:
    """Whether a finding comes from fingers, a hop or a name on the line of another one."""
    if one.rule == "unknown-voicing" and " is like " not in one.message:
        return any(
            error.rule == "doubled-name" and "the voicing" in error.message for error in errors
        )
    causes = {"hop-impossible": _FINGERS, "muted-string-plucked": frozenset(("hop-impossible",))}
    wanted = causes.get(one.rule, frozenset())
    return any(error.rule in wanted and _line(error) == _line(one) for error in errors)


def _places(errors: list[Diagnostic], rules: frozenset[str]) -> set[_Line]:
    return {_line(error) for error in errors if error.rule in rules}


def _entry_at(one: Diagnostic, reading: Reading) -> VoicingEntry | None:
    """Return the entry of the voicings block on the line of a finding."""
    place = _line(one)
    for entry in reading.lesson.voicings:
        if entry.span is not None and (entry.span.source, entry.span.line) == place:
            return entry
    return None


def _bases(entry: VoicingEntry, reading: Reading) -> Iterator[VoicingEntry]:
    """Yield the entries that an entry is like, directly and in turn."""
    known, seen = reading.material.voicings, {entry.name}
    while entry.like and entry.like in known and entry.like not in seen:
        entry = known[entry.like]
        seen.add(entry.name)
        yield entry


def _from_meter(one: Diagnostic, reading: Reading, errors: list[Diagnostic]) -> bool:
    """Whether a finding in a section counts beats by a meter that the section's own pattern does not have."""
    if one.rule not in _BEATS:
        return False
    heads = {_line(error) for error in errors if error.rule == "pattern-beats"}
    for section in reading.lesson.sections:
        if section.span is None or section.meter is None:
            continue
        head = (section.span.source, section.span.line)
        spans = (getattr(line, "span", None) for line in section.lines)
        inside = any(span is not None and span.line == one.span.line for span in spans)
        if inside and head in heads and one.span.source is section.span.source:
            return True
    return False


def _from_block(one: Diagnostic, errors: list[Diagnostic]) -> bool:
    """Whether a finding comes from the lines of a form or a section whose first line is missing."""
    if one.rule == "outside-a-block" and "`form`" in one.message:
        return any(
            error.rule == "unknown-voicing" and "is a section, but it stands here" in error.message
            for error in errors
        )
    if one.rule != "unknown-section":
        return False
    if any(e.rule == "outside-a-block" and "of `section`" in e.message for e in errors):
        return True
    return any(error.rule == "section-length" and "remove" in error.hint for error in errors)


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
        kind = "fingers" if one.rule in _FINGERS else one.rule
        key = (kind, one.severity, one.span.source, one.span.start, one.span.end)
        others = alike.setdefault(key, [])
        others.append(one)
        if len(others) == 1 or kind not in ("fingers", "pickup-does-not-fit"):
            kept.append(one)
    for one in kept:
        kind = "fingers" if one.rule in _FINGERS else one.rule
        key = (kind, one.severity, one.span.source, one.span.start, one.span.end)
        more = alike[key][1:] if kind in ("fingers", "pickup-does-not-fit") else []
        yield _with_more(one, more) if more else one


def _with_more(one: Diagnostic, more: list[Diagnostic]) -> Diagnostic:
    if one.rule in _FINGERS:
        said = f"{counted(len(more), 'more fault')} in these fingers"
        others = [Related(message=other.message, span=other.span) for other in more]
    else:
        said = f"in {counted(len(more), 'more place')}"
        others = [place for other in more for place in other.related]
    related = (*one.related, *others)[:_MOST_RELATED]
    return evolve(one, message=f"{one.message} (and {said})", related=related)
