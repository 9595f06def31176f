"""Findings about names that nobody has given, shown where the name was given otherwise."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic, Edit, Related
from fretloom.errors import SymbolError
from fretloom.notation.model.form import FormEntry
from fretloom.performance.reading import Reading
from fretloom.rules.usage import usage_of
from fretloom.source import Span
from fretloom.text import only_near
from fretloom.trade.guitar.voicing import split_name
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.values import evolve

_FRETS_COUNTED = re.compile(r"has (\d+) frets, but the tuning has (\d+) strings")
_ABSENT = re.compile(r"there is no voicing (\S+)|the lesson uses it as (\S+)")
_TUNINGS = {
    "4": "tuning ukulele, or tuning tenor guitar", "6": "tuning standard, or leave the line out",
    "7": "tuning 7-string", "8": "tuning 8-string",
}  # fmt: skip
_SEVERAL = 2
_KINDS = {
    "unknown-voicing": "voicing", "unknown-pattern": "pattern", "unknown-section": "section",
}  # fmt: skip


def at_the_definition(one: Diagnostic, reading: Reading) -> Diagnostic:
    """Return a finding about an unknown name, with the place of what is given under another name.

    A voicing that nobody uses and whose name is the same chord in other letters is what was meant:
    the finding stands there. Of other names that look alike the place is shown.
    """
    kind = _KINDS.get(one.rule, "")
    if not kind or not one.span.text:
        return one
    name = one.span.text.split(":")[0].split()[0] if one.span.text.split() else ""
    unused = dict(_unused(kind, reading))
    if kind == "voicing":
        small = f"{name[:1].lower()}{name[1:]}"
        same = [
            other
            for other in unused
            if (not one.edits and _same_chord(name, other, reading))
            or (other == small != name and one.related)
        ]
        if len(same) == 1:
            return _moved(one, name, same[0], unused[same[0]])
    near = only_near(name, unused)
    if near:
        given = Related(message=f"the {kind} {near} is given here", span=unused[near])
        return evolve(one, related=(*one.related, given))
    return one


def _unused(kind: str, reading: Reading) -> Iterator[tuple[str, Span]]:
    """Yield the names that this file gives and nobody uses, with their places."""
    lesson = reading.lesson
    if kind == "section":
        form = reading.material.form
        entries = form.entries if form is not None else ()
        used = {entry.section for entry in entries if isinstance(entry, FormEntry)}
        given = [(one.name, one.name_span) for one in lesson.sections]
    elif kind == "pattern":
        used = set(usage_of(lesson).patterns)
        given = [(one.name, one.name_span) for one in lesson.patterns]
    else:
        used = set(usage_of(lesson).voicings)
        given = [(one.name, one.name_span) for one in lesson.voicings]
    yield from ((name, span) for name, span in given if name not in used and span is not None)


def _same_chord(name: str, other: str, reading: Reading) -> bool:
    one, two = _symbol(name, reading), _symbol(other, reading)
    if one is None or two is None:
        return False
    basses = [chord.bass.pitch_class if chord.bass else None for chord in (one, two)]
    roots = one.root.pitch_class, two.root.pitch_class
    return roots[0] == roots[1] and basses[0] == basses[1] and one.degrees == two.degrees


def _symbol(name: str, reading: Reading) -> ChordSymbol | None:
    """Return the chord of a name, also where it is named as in another language."""
    symbol = split_name(name)[0]
    for naming in (reading.timeline.settings.names, "english", "german", "romance"):
        try:
            return parse_symbol(symbol, naming) if symbol else None
        except SymbolError:
            continue
    return None


def _moved(one: Diagnostic, name: str, given: str, span: Span) -> Diagnostic:
    places = (Related(message="it is used here", span=one.span), *one.related)
    message = f"this voicing is called {given}, but the lesson uses it as {name}"
    hint = f"write {name} here, or {given} in the bars"
    edit = Edit(span=span, text=name, title=f"write {name}")
    return evolve(one, span=span, message=message, hint=hint, related=places, edits=(edit,))


def as_one_name(found: list[Diagnostic]) -> list[Diagnostic]:
    """Return findings; those about one unknown voicing in bars and behind `like` are one."""
    named = {
        name: one
        for one in found
        if one.rule == "unknown-voicing"
        and " is like " not in one.message
        and (name := _absent(one))
    }
    kept: list[Diagnostic] = []
    for one in found:
        other = named.get(_absent(one)) if one.rule == "unknown-voicing" else None
        if other is None or other is one:
            kept.append(one)
    return [_with_like(one, found) if one in named.values() else one for one in kept]


def _absent(one: Diagnostic) -> str:
    """Return the voicing that a finding says there is not."""
    match = _ABSENT.search(one.message)
    return match[1] or match[2] if match else ""


def _with_like(one: Diagnostic, found: list[Diagnostic]) -> Diagnostic:
    """Return a finding on an unknown voicing with the lines that are like it."""
    likes = [
        other for other in found if " is like " in other.message and _absent(other) == _absent(one)
    ]
    if not likes or one.message.startswith("this voicing"):
        return one
    places = tuple(Related(message="here as well", span=other.span) for other in likes)
    whole = one.edits and all(other.edits for other in likes)
    edits = [edit for other in (one, *likes) for edit in other.edits] if whole else []
    edits.sort(key=lambda edit: edit.span.start)
    return evolve(one, related=(*one.related, *places), edits=tuple(edits))


def with_wrong_strings(reading: Reading, found: list[Diagnostic]) -> list[Diagnostic]:
    """Return findings; where all voicings have the same wrong number of frets the tuning is wrong."""
    counts = [
        (one, match)
        for one in found
        if one.rule == "wrong-places" and (match := _FRETS_COUNTED.search(one.message))
    ]
    numbers = {match[1] for _, match in counts}
    if len(counts) < _SEVERAL or len(numbers) != 1 or any(e.frets for e in reading.lesson.voicings):
        return found
    first, match = counts[0]
    tuning, heading = reading.material.settings.get("tuning"), reading.lesson.heading
    span = (tuning.value_span or tuning.span) if tuning else (heading.span if heading else None)
    message = f"all voicings have {match[1]} frets, but the tuning has {match[2]} strings"
    hint = (
        f"write a tuning of {match[1]} strings: {_TUNINGS.get(match[1], 'name every open string')}"
    )
    related = tuple(Related(message="a voicing", span=one.span) for one, _ in counts)
    whole = evolve(first, span=span or first.span, message=message, hint=hint, related=related)
    gone = [one for one, _ in counts]
    return [whole, *(one for one in found if not any(one is other for other in gone))]
