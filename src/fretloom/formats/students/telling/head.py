"""What a student must know before the first note: capo, keys, tuning, meter, tempo."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from attrs import field

from fretloom.characters import nothing_hidden
from fretloom.performance.events import Settings
from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.text import listed
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.tunings import retuning_steps, usual_tuning
from fretloom.trade.harmony.key_names import write_key
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import NOTES, Tempo, number_words
from fretloom.trade.phrases.table import say
from fretloom.trade.wording import with_signs
from fretloom.values import frozen

#: Notes that stand for a beat, and their signs; a dot makes a note half as long again.
_NOTE_SIGNS = {Fraction(1): "♩", Fraction(3, 2): "♩.", Fraction(1, 2): "♪"}


@frozen
class Fact:
    """One thing to know. `spoken` is how it is said where a sign would not be read aloud."""

    label: str
    value: str
    spoken: str = ""


@frozen(kw_only=True)
class PageHead:
    """The head of a page.

    Args:
        facts: in the order of the page. retuning: how to reach the tuning, a sentence a string.
        capo, tuning: for the picture of the neck; a capo at fret 0 is none.
    """

    title: str
    by: str
    rights: str
    level: str
    facts: tuple[Fact, ...]
    retuning: tuple[str, ...] = ()
    capo: Capo = field(default=Capo())
    tuning: Tuning


def head_of(settings: Settings) -> PageHead:
    """Return the head of a lesson's page."""
    return PageHead(
        title=nothing_hidden(settings.title) or say("head.untitled"),
        by=nothing_hidden(settings.by),
        rights=nothing_hidden(settings.rights),
        level=settings.level,
        facts=tuple(_facts(settings)),
        retuning=tuple(
            say("head.retune", step=with_signs_within(one))
            for one in retuning_steps(settings.tuning)
        ),
        capo=settings.capo,
        tuning=settings.tuning,
    )


def _facts(settings: Settings) -> Iterator[Fact]:
    yield Fact(say("head.capo"), _capo(settings.capo, settings.tuning.strings))
    yield from _keys(settings)
    yield Fact(say("head.tuning"), _tuning(settings))
    yield Fact(say("head.meter"), _meter(settings.meter))
    yield tempo_fact(settings.tempo)
    if settings.swing and settings.swing[0] != settings.swing[1]:
        first, second = settings.swing
        yield Fact(say("head.swing"), say("head.swung", first=first, second=second))


def _capo(capo: Capo, strings: int) -> str:
    if not capo.fret:
        return say("head.no-capo")
    if not capo.leaves_out(strings):
        return say("head.capo-at", fret=capo.fret)
    return say("head.capo-on", fret=capo.fret, strings=listed(capo.strings))


def counted_from(settings: Settings, called: CalledStrings) -> str:
    """Say from where frets are counted, "" without a capo."""
    capo = settings.capo
    if not capo.fret:
        return ""
    if not capo.leaves_out(settings.tuning.strings):
        return say("head.counted")
    covered = called.one_by_one(sorted(capo.strings, reverse=True))
    return say("head.counted-some", strings=covered)


def _keys(settings: Settings) -> Iterator[Fact]:
    plays, sounds = settings.plays, settings.sounds
    if plays is not None and plays == sounds:
        yield Fact(say("head.key"), _key(plays, settings))
        return
    if plays is not None:
        yield Fact(say("head.plays"), _key(plays, settings))
    if sounds is not None:
        yield Fact(say("head.sounds"), _key(sounds, settings))


def _key(key: Key, settings: Settings) -> str:
    return with_signs(write_key(key, settings.names))


def _tuning(settings: Settings) -> str:
    tuning = settings.tuning
    usual = usual_tuning(tuning)
    alike = usual is not None and usual.pitches == tuning.pitches
    name = nothing_hidden(tuning.name or (usual.name if usual is not None and alike else ""))
    strings = " ".join(with_signs(str(pitch.name)) for pitch in tuning.pitches)
    return f"{name}, {strings}" if name else strings


def _meter(meter: Meter) -> str:
    beats = len(meter.beats)
    if meter.unit == 4 and len(meter.groups) == 1 and beats == meter.units:
        return str(beats)
    return say("head.beats", meter=meter, beats=beats)


def tempo_fact(tempo: Tempo) -> Fact:
    """Return a tempo with the sign of its note, and how it is said."""
    figure = number_words(tempo.per_minute)
    note = NOTES.get(tempo.unit) or say("head.other-notes", unit=tempo.unit)
    spoken = say("head.a-minute", number=figure, notes=note)
    sign = _NOTE_SIGNS.get(tempo.unit)
    return Fact(say("head.tempo"), f"{sign} = {figure}" if sign else spoken, spoken)


def with_signs_within(text: str) -> str:
    """Return a sentence with the signs of music in its notes: "to E♭2"."""
    return " ".join(with_signs(word) for word in text.split(" "))
