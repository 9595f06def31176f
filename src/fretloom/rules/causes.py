"""What the errors of a lesson may be the cause of: their places by rule, each worked out once.

A text can have thousands of errors, so that no finding may be held against each of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cached_property

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.performance.reading import Reading
from fretloom.source import Source, Span

#: About the fingers of one voicing, whose frets are taken to be right.
FINGERS = frozenset(
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
_BEATS = frozenset(("pattern-beats", "split-beats", "count-outside-bar", "nothing-to-leave-out"))
#: About strings, which the tuning gives.
_STRINGS = frozenset(
    (
        "bass-off-chord", "string-plucked-twice", "muted-string-plucked", "thumb-off-bass", "finger-off-strings",
        "hop-impossible", "wrong-bass",
    )
)  # fmt: skip
#: By rule, those on whose line it may only be found because of them.
_ON_THE_LINE = {
    "hop-impossible": FINGERS,
    "muted-string-plucked": frozenset(("hop-impossible",)),
}

#: A line of a source.
Line = tuple[Source, int]


def line_of(span: Span) -> Line:
    """Return the line on which something stands."""
    return span.source, span.line


class _Wrong:
    """Lines that may be wrong, and the voicings that are like one of them."""

    def __init__(self, lines: set[Line], reading: Reading) -> None:
        self.lines = lines
        self._known = reading.material.voicings
        self._like: dict[tuple[str, str], bool] = {}

    def has(self, entry: VoicingEntry) -> bool:
        """Whether an entry stands on one of the lines."""
        return entry.span is not None and line_of(entry.span) in self.lines

    def has_base_of(self, entry: VoicingEntry) -> bool:
        """Whether an entry that this one is like, directly or in turn, stands on one of the lines."""
        way = [entry]
        places = {entry.name: 0}
        found, begins = False, -1
        while (key := (way[-1].name, way[-1].like)) not in self._like:
            base = self._known.get(way[-1].like) if way[-1].like else None
            if base is None:
                break
            if base.name in places:
                begins = places[base.name]
                break
            if self.has(base):
                found = True
                break
            places[base.name] = len(way)
            way.append(base)
        else:
            found = self._like[key]
        # In a circle the first one is a base of all others.
        others = found or (begins == 0 and self.has(entry))
        for place, one in enumerate(way):
            self._like.setdefault((one.name, one.like), others if place else found)
        return found


class Causes:
    """The errors of a lesson, to say which other findings may only follow from them."""

    def __init__(self, reading: Reading, errors: Iterable[Diagnostic]) -> None:
        self._reading = reading
        self._by_rule: dict[str, list[Diagnostic]] = {}
        for one in errors:
            self._by_rule.setdefault(one.rule, []).append(one)

    def explain(self, one: Diagnostic) -> bool:
        """Whether a finding may only follow from one of the errors."""
        return (
            self._from_frets(one)
            or self._from_tuning(one)
            or self._from_names(one)
            or (one.rule in _BEATS and line_of(one.span) in self._other_meter)
            or self._from_block(one)
        )

    def _of(self, rules: Iterable[str]) -> list[Diagnostic]:
        return [one for rule in rules for one in self._by_rule.get(rule, ())]

    def _lines(self, rules: Iterable[str], related: bool = False) -> set[Line]:
        """Return the lines of errors of some rules, with those of their related places if asked for."""
        errors = self._of(rules)
        places = [place.span for one in errors for place in one.related] if related else []
        return {line_of(span) for span in (*(one.span for one in errors), *places)}

    @cached_property
    def _frets(self) -> _Wrong:
        return _Wrong(self._lines(_FRETS, related=True), self._reading)

    @cached_property
    def _shapes(self) -> _Wrong:
        return _Wrong(self._lines(_FRETS | FINGERS, related=True), self._reading)

    @cached_property
    def _fingers(self) -> _Wrong:
        return _Wrong(self._frets.lines | self._lines(FINGERS), self._reading)

    @cached_property
    def _entries(self) -> dict[Line, VoicingEntry]:
        """The entries of the voicings block by their line, the first on each."""
        spans = [(one.span, one) for one in self._reading.lesson.voicings if one.span is not None]
        return {line_of(span): one for span, one in reversed(spans)}

    def _from_frets(self, one: Diagnostic) -> bool:
        """Whether a finding is about the fingers of a voicing with wrong frets, or about one that is like it."""
        held = one.rule in (_PLUCKED | _FRETS)
        wrong = self._shapes if held else self._frets
        if not wrong.lines and one.rule not in FINGERS:
            return False
        named = _HELD.search(one.message) if one.rule in _PLUCKED else None
        if named is not None:
            entry = self._reading.material.voicings.get(named[1] or named[2])
            return entry is not None and (wrong.has(entry) or wrong.has_base_of(entry))
        if one.rule in ("hop-impossible", "bass-off-chord"):
            return line_of(one.span) in wrong.lines
        if one.rule in FINGERS:
            if line_of(one.span) in wrong.lines:
                return True
            wrong = self._fingers
        elif one.rule not in _FRETS:
            return False
        entry = self._entries.get(line_of(one.span))
        return entry is not None and wrong.has_base_of(entry)

    @cached_property
    def _tuning(self) -> bool:
        """Whether an error says that the tuning does not fit the lesson's voicings."""
        tuning = self._reading.material.settings.get("tuning")
        heading = self._reading.lesson.heading
        spans = (tuning.span if tuning else None, heading.span if heading else None)
        places = {line_of(span) for span in spans if span is not None}
        return any(line_of(one.span) in places for one in self._of(_FRETS))

    def _from_tuning(self, one: Diagnostic) -> bool:
        """Whether a finding judges the strings by a tuning that does not fit the lesson's voicings."""
        return (one.rule in _STRINGS or one.rule in FINGERS) and self._tuning

    @cached_property
    def _doubled_voicing(self) -> bool:
        return any("the voicing" in one.message for one in self._of(("doubled-name",)))

    @cached_property
    def _on_lines(self) -> dict[str, set[Line]]:
        return {rule: self._lines(causes) for rule, causes in _ON_THE_LINE.items()}

    def _from_names(self, one: Diagnostic) -> bool:
        """Whether a finding comes from fingers, a hop or a name on the line of another one."""
        if one.rule == "unknown-voicing" and " is like " not in one.message:
            return self._doubled_voicing
        return one.rule in _ON_THE_LINE and line_of(one.span) in self._on_lines[one.rule]

    @cached_property
    def _other_meter(self) -> set[Line]:
        """The lines of sections whose own pattern is in another meter than they are."""
        heads = self._lines(("pattern-beats",))
        return {
            (section.span.source, span.line)
            for section in self._reading.lesson.sections
            if section.span is not None and section.meter is not None
            if line_of(section.span) in heads
            for line in section.lines
            if (span := getattr(line, "span", None)) is not None
        }

    @cached_property
    def _form_missing(self) -> bool:
        said = "is a section, but it stands here"
        return any(said in one.message for one in self._of(("unknown-voicing",)))

    @cached_property
    def _section_missing(self) -> bool:
        outside = any("of `section`" in one.message for one in self._of(("outside-a-block",)))
        return outside or any("remove" in one.hint for one in self._of(("section-length",)))

    def _from_block(self, one: Diagnostic) -> bool:
        """Whether a finding comes from the lines of a form or a section whose first line is missing."""
        if one.rule == "outside-a-block" and "`form`" in one.message:
            return self._form_missing
        return one.rule == "unknown-section" and self._section_missing
