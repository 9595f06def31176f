"""A bar in words, for those who hear it: count by count, finger, string and fret."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby

from fretloom.characters import nothing_hidden
from fretloom.engraving.drawn.shape_words import said_aloud
from fretloom.engraving.drawn.tab.values import StripBar
from fretloom.performance.events import TimedBar, TimedNote
from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.text import listed
from fretloom.trade.music.meter import Count
from fretloom.trade.phrases.table import say


def bar_title(one: StripBar) -> str:
    """Return what a bar is called: "Bar 6", "Pickup", "A bar" where it has no number."""
    if one.label:
        return say("tab.bar", number=one.label)
    return say("tab.pickup") if one.bar.kind == "pickup" else say("tab.unnumbered")


def bar_says(one: StripBar, called: CalledStrings | None = None) -> str:
    """Say a bar: "Bar 6, C sharp m7, from 3 B m7. 1: thumb string 5 fret 4. 2: ...".

    `called` is what strings are called, by number unless it says otherwise.
    """
    said = [", ".join([bar_title(one), *_names(one)])]
    said += [nothing_hidden(text) for text in (*one.over, one.cue) if nothing_hidden(text)]
    if one.again:
        said.append(say("tab.same"))
    elif one.bar.rest:
        said.append(say("tab.silence"))
    else:
        said += _counted(one.bar, called or CalledStrings())
    for sung in one.sung:
        if nothing_hidden(sung.text):
            said.append(say("tab.words", words=nothing_hidden(sung.text)))
    return " ".join(f"{text.rstrip('.')}." for text in said)


def _names(one: StripBar) -> Iterator[str]:
    for taken, name in zip(one.bar.voicings, one.chords, strict=False):
        if nothing_hidden(name):
            spoken = said_aloud(nothing_hidden(name))
            count = count_said(one.bar.meter.count_at(one.bar.start + taken.onset))
            yield say("tab.from", count=count, name=spoken) if taken.onset > 0 else spoken


def count_said(count: Count, alone: bool = True) -> str:
    """Say a count: "3", "2 and"; without its number if that is `alone` false and it lies behind it."""
    if not count.part:
        return str(count.number)
    word = say("tab.and") if count.word == "&" else count.word.replace("+", "plus ")
    return f"{count.number} {word}" if alone else word


def _counted(bar: TimedBar, called: CalledStrings) -> Iterator[str]:
    """Yield a sentence for each number: what sounds on it and up to the next."""
    places: dict[Fraction, list[str]] = {}
    within = (note for note in bar.notes if note.onset < bar.length)
    for (at, gesture), group in groupby(within, lambda one: (one.onset, one.gesture)):
        notes = list(group)
        said = [_plucked(one, called) for one in notes]
        rolled = gesture is not None and len({one.finger for one in notes}) > 1
        places.setdefault(at, []).extend(
            [say("tab.says-roll", notes=listed(said))] if rolled else said
        )
    for slap in bar.slaps:
        places.setdefault(slap.onset, []).append(say(f"tab.says-slap-{slap.place}"))
    for at, key in ((bar.release, "release"), (bar.stop, "stop"), (bar.fermata, "fermata")):
        if at is not None:
            places.setdefault(at, []).append(say(f"tab.says-{key}"))
    sentences: dict[int, list[str]] = {}
    for at in sorted(places):
        count = bar.meter.count_at(bar.start + at)
        parts = sentences.setdefault(count.number, [])
        when = count_said(count, alone=not parts)
        parts.append(f"{when}: {listed(dict.fromkeys(places[at]))}")
    for parts in sentences.values():
        yield "; ".join(parts)


def _plucked(note: TimedNote, called: CalledStrings) -> str:
    """Say a pluck: "thumb string 5 fret 4", and what is done with it."""
    fret = say("tab.open") if not note.fret else say("tab.fret", fret=note.fret)
    finger = say(f"tab.finger-{note.finger}")
    parts = [say("tab.pluck", finger=finger, string=called.string(note.string), fret=fret)]
    parts += [
        say(f"tab.says-{key}")
        for key, there in (
            ("accent", note.accent), ("harmonic", note.harmonic), ("dead", note.dead),
            ("ghost", note.technique.ghost), ("vibrato", note.technique.vibrato),
            ("held", note.technique.held is not None),
            ("ring", note.technique.lasting == "ring"), ("damped", note.technique.lasting == "damped"),
            ("bend", note.technique.bend is not None),
            ("grace", note.technique.grace == "before"),
            ("grace-on-beat", note.technique.grace == "on-beat"),
        ) if there
    ]  # fmt: skip
    parts += [say(f"tab.says-{slur.kind}", fret=slur.fret) for slur in note.slurs]
    if note.technique.trill is not None:
        parts.append(say("tab.says-trill", fret=note.technique.trill.fret))
    if note.technique.touch is not None:
        parts.append(say("tab.says-touch", fret=note.technique.touch))
    return " ".join(parts)
