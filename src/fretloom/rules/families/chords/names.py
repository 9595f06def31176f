"""Rules about chord names: a bar sounds the chord that is written over it."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.arranging.near_voicing import nearest_voicing
from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.performance.events import Settings
from fretloom.performance.reading import Reading
from fretloom.performance.sounding.strings import (
    HeardString,
    Shifts,
    counted_from_nut,
    heard,
    name_shifts,
    symbol_of,
)
from fretloom.rule_facts import Severity
from fretloom.rules.families.chords.backwards import turned
from fretloom.source import Span
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.degrees import Degree
from fretloom.trade.harmony.fit import Fit, fit, note_in
from fretloom.trade.harmony.heard.also import said_names
from fretloom.trade.harmony.heard.readings import other_reading
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.music.pitch import NoteName
from fretloom.trade.wording import fret_words, mistaken_words
from fretloom.values import frozen

#: How many voicings of a lesson are searched for a better shape; the search takes some time.
_MOST_SEARCHED = 20
#: Cost of a name (see `fretloom.trade.harmony.naming`) above which it is too far-fetched to be offered.
_RARE = 6.0
_THIRDS = (Degree(3), Degree(3, -1))
_ROLES = {
    1: "root", 3: "third", 5: "fifth", 6: "sixth", 7: "seventh", 9: "ninth", 11: "eleventh", 13: "thirteenth",
}  # fmt: skip


@frozen
class _SymbolOfVoicing:
    """A voicing of the lesson with a chord symbol: where it is written, and what its strings sound."""

    entry: VoicingEntry
    voicing: Voicing
    symbol: ChordSymbol
    strings: tuple[HeardString, ...]
    shifts: Shifts
    fit: Fit
    span: Span

    @property
    def name(self) -> str:
        return self.entry.name

    @property
    def bass_only(self) -> bool:
        """Whether only the slash bass is wrong: it is not the lowest note, or it is missing."""
        if not self.fit.wrong_bass:
            return False
        missing = {note.pitch_class for note in self.fit.missing}
        bass = self.symbol.bass
        return not self.fit.foreign and bass is not None and missing <= {bass.pitch_class}


def _named(reading: Reading) -> Iterator[_SymbolOfVoicing]:
    """Yield the voicings written in this file that have a readable chord symbol and sound at all."""
    settings, voicings = reading.timeline.settings, reading.timeline.voicings
    shifts = name_shifts(voicings.values(), settings)
    seen: set[str] = set()
    for entry in reading.lesson.voicings:
        voicing = voicings.get(entry.name)
        span = entry.frets_span or entry.like_span or entry.span
        if voicing is None or span is None or entry.name in seen:
            continue
        seen.add(entry.name)
        symbol, strings = symbol_of(voicing, settings), heard(voicing, settings, shifts)
        if symbol is not None and strings:
            verdict = fit(symbol, [one.hand for one in strings])
            yield _SymbolOfVoicing(entry, voicing, symbol, strings, shifts, verdict, span)


def names_that_do_not_sound(reading: Reading) -> Iterator[Diagnostic]:
    """Find voicings without an essential tone of their chord symbol, or with a foreign one."""
    searched = 0
    naming = reading.timeline.settings.names
    wrong = [one for one in _named(reading) if not one.fit.accepted and not one.bass_only]
    found, explained = turned(reading, [(one.entry, one.voicing) for one in wrong])
    yield from found
    for one in wrong:
        if one.name in explained:
            continue
        searched += 1
        yield Diagnostic(
            rule="name-does-not-sound",
            severity=Severity.WARNING if _is_doubtful(one) else Severity.ERROR,
            message=f"{one.name}: {'; '.join(_faults(one, naming))}",
            span=one.span,
            hint=_way_out(one, reading, search=searched <= _MOST_SEARCHED),
        )


def _is_doubtful(one: _SymbolOfVoicing) -> bool:
    """Whether a teacher might let the name pass."""
    if one.fit.mistaken is not None:
        return one.fit.mistaken.doubtful
    return _is_power_chord(one)


def _is_power_chord(one: _SymbolOfVoicing) -> bool:
    """Whether only the third of a plain triad is missing, as in E played 022xxx."""
    degrees = one.symbol.degrees
    if one.fit.foreign or one.fit.wrong_bass or len(degrees) != 3 or degrees[2] != Degree(5):
        return False
    missing = [note.pitch_class for note in one.fit.missing]
    return missing == [degrees[1].above(one.symbol.root).pitch_class] and degrees[1] in _THIRDS


def _faults(one: _SymbolOfVoicing, naming: str) -> list[str]:
    """List the foreign tones string by string, then the missing ones, or say what is heard instead."""
    if one.fit.mistaken is not None:
        return [mistaken_words(one.symbol, one.fit.mistaken, naming)]
    chord = str(one.symbol)
    foreign = set(one.fit.foreign)
    said = [
        f"{_place(string)}{'' if string.fret else ','} is {_note(one, string.hand, naming)}, not in {chord}"
        for string in one.strings
        if string.hand in foreign
    ]
    said += [f"no string sounds {_tone(one.symbol, note, naming)}" for note in one.fit.missing]
    if one.fit.unaltered:
        said.append("none of its altered tones sounds")
    return said


def _place(string: HeardString) -> str:
    return fret_words(string.string, string.fret)


def _note(one: _SymbolOfVoicing, pitch: int, naming: str) -> str:
    return write_note(note_in(one.symbol, pitch % 12), naming)


def _tone(symbol: ChordSymbol, note: NoteName, naming: str) -> str:
    degree = symbol.degree_of(note.pitch_class)
    role = "bass note" if degree is None else _ROLES.get(degree.number)
    return write_note(note, naming) + (f", its {role}" if role else "")


def _way_out(one: _SymbolOfVoicing, reading: Reading, *, search: bool) -> str:
    settings = reading.timeline.settings
    reading_taken = _reading_taken(one, settings)
    if reading_taken:
        return reading_taken
    names = _other_names(one, settings)
    if _fits_from_nut(one, settings):
        sounds = f" (here {names[0]})" if names else ""
        return (
            f"under a capo on some strings a name means what sounds{sounds}; if yours are counted "
            "from the nut, write both keys in the heading, as in plays in D and sounds in E"
        )
    ways = [f"did you mean {names[0]}?"] if names else []
    line = _moving_line(one, settings)
    if names and line and line != names[0]:
        ways.append(f"In a line that moves over a held chord, {line} is right, too.")
    better = nearest_voicing(one.voicing, one.symbol, settings, one.shifts) if search else ""
    if better:
        ways.append(f"{one.symbol} can be played {better}")
    return (
        " ".join(ways)
        or "name the chord that sounds, or choose a name that starts with a small letter"
    )


def _fits_from_nut(one: _SymbolOfVoicing, settings: Settings) -> bool:
    """Whether a name is right for the shape, as if a partial capo were not there."""
    capo = settings.capo
    if not capo.strings or counted_from_nut(settings):
        return False
    return fit(
        one.symbol, [string.hand - capo.on(string.string) for string in one.strings]
    ).accepted


def _other_names(one: _SymbolOfVoicing, settings: Settings) -> list[str]:
    """Return the usual names that fit, those on the same root first, in the lesson's naming."""
    names = said_names([string.hand for string in one.strings], settings.plays, one.symbol)
    usual = [name.symbol for name in names if name.cost <= _RARE and not name.rootless]
    root = one.symbol.root.pitch_class
    usual.sort(key=lambda symbol: symbol.root.pitch_class != root)
    return [symbol.written(settings.names) for symbol in usual]


def _moving_line(one: _SymbolOfVoicing, settings: Settings) -> str:
    """Return the rare name on the same root under which what sounds is right; empty if there is none."""
    names = said_names([string.hand for string in one.strings], settings.plays, one.symbol)
    root = one.symbol.root.pitch_class
    rare = (
        name.symbol
        for name in names
        if name.cost > _RARE and not name.symbol.bass and name.symbol.root.pitch_class == root
    )
    return next((symbol.written(settings.names) for symbol in rare), "")


def _reading_taken(one: _SymbolOfVoicing, settings: Settings) -> str:
    """Say how a name such as Cb9 was read, if the other way is right; empty if it is not that."""
    other = other_reading(one.symbol, settings.names)
    if other is None or not fit(other.symbol, [string.hand for string in one.strings]).accepted:
        return ""
    return f"{one.symbol} is read as {other.taken}; {other.other}"


def names_with_two_readings(reading: Reading) -> Iterator[Diagnostic]:
    """Find right names whose sign few people would take for the root's: Cb9, Fb5, E#9."""
    for one in _named(reading):
        other = other_reading(one.symbol, reading.timeline.settings.names)
        if other is not None and other.doubtful and one.fit.accepted:
            yield Diagnostic(
                rule="two-readings",
                severity=Severity.INFO,
                message=f"{one.symbol} is read as {other.taken}",
                span=one.entry.name_span or one.span,
                hint=f"{other.other}; leave it as it is if you mean this one",
            )


def wrong_basses(reading: Reading) -> Iterator[Diagnostic]:
    """Find voicings named with a slash bass that is not their lowest note."""
    settings = reading.timeline.settings
    faulty = (one for one in _named(reading) if one.bass_only)
    for count, one in enumerate(faulty):
        lowest = min(one.strings, key=lambda string: string.hand)
        note = _note(one, lowest.hand, settings.names)
        bass = write_note(one.symbol.bass, settings.names) if one.symbol.bass else ""
        names = _other_names(one, settings)
        better = ""
        if count < _MOST_SEARCHED:
            better = nearest_voicing(one.voicing, one.symbol, settings, one.shifts)
        ways = [f"call it {names[0]}"] if names else []
        ways += [f"play {one.symbol} as {better}"] if better else []
        yield Diagnostic(
            rule="wrong-bass",
            severity=Severity.ERROR,
            message=f"{one.name}: the lowest note is {note} ({_place(lowest)}), not {bass}",
            span=one.span,
            hint=", or ".join(ways) or f"put {bass} in the bass",
        )


def basses_off_chord(reading: Reading) -> Iterator[Diagnostic]:
    """Find bass orders and hops that take the thumb to a note that is not in the chord."""
    settings = reading.timeline.settings
    for one in _named(reading):
        faulty = set(one.fit.foreign)
        hops = {hop.string: hop.fret for hop in one.voicing.hops}
        for string in dict.fromkeys((*one.entry.bass, *hops)):
            if not 1 <= string <= len(one.voicing.frets):
                continue
            fret = hops.get(string, one.voicing.fret(string))
            if fret is None and reading.found("muted-string-plucked"):
                continue
            note = _walked(one, settings, string, fret or 0)
            if note % 12 in one.symbol.pitch_classes or note in faulty:
                continue
            yield _off_chord(one, string, fret, _note(one, note, settings.names))


def _walk_span(one: _SymbolOfVoicing, string: int) -> Span:
    """Return where a string is named that the thumb goes to: in a hop or in the bass order."""
    spans = zip(one.entry.hops, one.entry.hop_spans, strict=False)
    hop = next((span for hop, span in spans if hop.string == string), None)
    return hop or one.entry.bass_span or one.span


def _walked(one: _SymbolOfVoicing, settings: Settings, string: int, fret: int) -> int:
    frets = tuple(
        fret if place == len(one.voicing.frets) - string else None
        for place in range(len(one.voicing.frets))
    )
    return heard(Voicing(name="", frets=frets), settings, one.shifts)[0].hand


def _off_chord(one: _SymbolOfVoicing, string: int, fret: int | None, note: str) -> Diagnostic:
    where = fret_words(string, fret or 0)
    return Diagnostic(
        rule="bass-off-chord",
        severity=Severity.WARNING,
        message=f"{one.name}: the thumb goes to {where}, which is {note} and not in {one.symbol}",
        span=_walk_span(one, string),
        hint="choose a string with a note of the chord: its root, its fifth or its third",
    )
