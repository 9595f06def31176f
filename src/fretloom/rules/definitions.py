"""Findings about names that nobody has given, shown where the name was given otherwise."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterator
from functools import cached_property

from fretloom.diagnostics import AS_WELL, Diagnostic, Edit, Related
from fretloom.errors import SymbolError
from fretloom.limits import LIMITS
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


class _GivenNames:
    """The names of one kind that this file gives and nobody uses, with their places."""

    def __init__(self, kind: str, reading: Reading) -> None:
        self.places = dict(_unused(kind, reading))
        self._reading = reading

    @cached_property
    def _chords(self) -> dict[object, list[str]]:
        """The names by the chord that they name."""
        chords: dict[object, list[str]] = {}
        for name in self.places:
            if (chord := _chord(name, self._reading)) is not None:
                chords.setdefault(chord, []).append(name)
        return chords

    def same_chord(self, name: str) -> list[str]:
        """Return the names that are the same chord in other letters."""
        chord = _chord(name, self._reading)
        return [] if chord is None else self._chords.get(chord, [])


class Definitions:
    """Shows findings about unknown names where the thing is given under another name."""

    def __init__(self, reading: Reading) -> None:
        self._reading = reading
        self._given: dict[str, _GivenNames] = {}
        self._hinted = 0

    def shown(self, one: Diagnostic) -> Diagnostic:
        """Return a finding about an unknown name, with the place of what is given under another name.

        A voicing that nobody uses and whose name is the same chord in other letters is what was
        meant: the finding stands there. Of other names that look alike the place is shown, in the
        first findings.
        """
        kind = _KINDS.get(one.rule, "")
        words = one.span.text.split(":")[0].split()
        if not kind or not words:
            return one
        if kind not in self._given:
            self._given[kind] = _GivenNames(kind, self._reading)
        name, given = words[0], self._given[kind]
        if kind == "voicing":
            same = set() if one.edits else set(given.same_chord(name))
            small = f"{name[:1].lower()}{name[1:]}"
            if small != name and small in given.places and one.related:
                same.add(small)
            if len(same) == 1:
                (meant,) = same
                return _moved(one, name, meant, given.places[meant])
        self._hinted += 1
        near = only_near(name, given.places) if self._hinted <= LIMITS.hinted else ""
        if near:
            place = Related(message=f"the {kind} {near} is given here", span=given.places[near])
            return evolve(one, related=(*one.related, place))
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


def _chord(name: str, reading: Reading) -> Hashable | None:
    """Return what chords that are the same have in common: root, degrees and bass; None if it names none."""
    symbol = _symbol(name, reading)
    if symbol is None:
        return None
    bass = symbol.bass.pitch_class if symbol.bass else None
    return symbol.root.pitch_class, bass, symbol.degrees


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
    named: dict[str, Diagnostic] = {}
    likes: dict[str, list[Diagnostic]] = {}
    for one in found:
        if " is like " in one.message:
            likes.setdefault(_absent(one), []).append(one)
        elif one.rule == "unknown-voicing" and (name := _absent(one)):
            named[name] = one
    kept: list[Diagnostic] = []
    for one in found:
        name = _absent(one) if one.rule == "unknown-voicing" else ""
        first = named.get(name)
        if first is one:
            kept.append(_with_like(one, likes.get(name, [])))
        elif first is None:
            kept.append(one)
    return kept


def _absent(one: Diagnostic) -> str:
    """Return the voicing that a finding says there is not."""
    match = _ABSENT.search(one.message)
    return match[1] or match[2] if match else ""


def _with_like(one: Diagnostic, likes: list[Diagnostic]) -> Diagnostic:
    """Return a finding on an unknown voicing with the lines that are like it."""
    if not likes or one.message.startswith("this voicing"):
        return one
    places = tuple(Related(message=AS_WELL, span=other.span) for other in likes)
    whole = one.edits and all(other.edits for other in likes)
    edits = [edit for other in (one, *likes) for edit in other.edits] if whole else []
    edits.sort(key=lambda edit: edit.span.start)
    return evolve(one, related=(*one.related, *places), edits=tuple(edits))


def with_wrong_strings(reading: Reading, found: list[Diagnostic]) -> list[Diagnostic]:
    """Return findings; where all voicings have the same wrong number of frets the tuning is wrong."""
    counts = [(one, match) for one in found if (match := _frets_counted(one)) is not None]
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
    return [whole, *(one for one in found if _frets_counted(one) is None)]


def _frets_counted(one: Diagnostic) -> re.Match[str] | None:
    """Return the numbers in a finding on a voicing with too many or too few frets."""
    return _FRETS_COUNTED.search(one.message) if one.rule == "wrong-places" else None
