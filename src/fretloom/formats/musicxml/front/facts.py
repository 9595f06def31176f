"""What a player has to know before the first note, in words: tuning, capo, keys, swing."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from fractions import Fraction
from math import gcd

from fretloom.performance.events import Settings
from fretloom.text import counted, listed
from fretloom.trade.guitar.instruments import Instrument, find_instrument, usual_instrument
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.tunings import NAMED, name_of_tuning
from fretloom.trade.harmony.key_names import write_key
from fretloom.trade.music.key import Key
from fretloom.trade.music.swing import swung_notes
from fretloom.trade.music.tempo import NOTES

#: The tuning of an instrument that nobody has to be told, where it is not the guitar's; common practice, no source.
_USUAL = {
    "12-string": "12-string", "7-string": "7-string", "8-string": "8-string", "baritone": "baritone",
    "soprano ukulele": "ukulele", "concert ukulele": "ukulele", "tenor ukulele": "ukulele",
    "baritone ukulele": "baritone ukulele", "tenor guitar": "tenor guitar",
}  # fmt: skip
_GUITARS = (
    "steel string",
    "short scale",
    "classical",
    "short classical",
    "travel guitar",
    "electric",
)
_APART = {
    0: "in unison", 12: "an octave higher", -12: "an octave lower", 24: "two octaves higher",
}  # fmt: skip
#: The sign of a note's name, behind its letter or its syllable.
_SIGN = re.compile(r"^(Do|Re|Mi|Fa|Sol|La|Si|[A-H])(bb?|##?)")


def facts(settings: Settings, concert: bool) -> Iterator[str]:
    """Yield what stands at the top left of a score, a line each."""
    yield from _instrument(settings)
    yield from _tuning(settings)
    if settings.capo.fret:
        yield capo_words(settings.capo)
    yield from _keys(settings, concert)
    if settings.swing is not None:
        yield _swing(settings.swing, swung_notes(settings.meter))


def _swing(swing: tuple[int, int], notes: Collection[Fraction]) -> str:
    """Say the ratio, and which notes swing if they are not eighths."""
    common = gcd(*swing)
    ratio = f"Swing {swing[0] // common}:{swing[1] // common}"
    usual = not notes or max(notes) == Fraction(1, 2)
    return ratio if usual else f"{ratio} ({NOTES.get(max(notes), 'halves of beats')})"


def capo_words(capo: Capo) -> str:
    """Say where the capo is: `Capo 2`, `Capo 2 on strings 5, 4 and 3 (...)`."""
    if not capo.strings:
        return f"Capo {capo.fret}"
    strings = sorted(capo.strings, reverse=True)
    where = f"on string{'s' * (len(strings) > 1)} {listed(strings)}"
    return f"Capo {capo.fret} {where} (frets are counted from it there, from the nut elsewhere)"


def _instrument(settings: Settings) -> Iterator[str]:
    """Yield the instrument where it is not a guitar of six strings: as the lesson names it, or as its strings say."""
    kind = _played_on(settings)
    if kind is None or kind.name in _GUITARS:
        return
    if kind.name == "12-string" and settings.tuning.doubles:
        # The line on its second strings says so.
        return
    named = kind == find_instrument(settings.instrument)
    name = kind.name if named else kind.name.removeprefix("concert ")
    whole = any(word in name for word in ("guitar", "ukulele", "mandolin"))
    yield f"For {name}" if whole else f"For {name} guitar"


def _played_on(settings: Settings) -> Instrument | None:
    """Return the instrument that the lesson names, or that its strings say; None if neither does."""
    named = find_instrument(settings.instrument)
    if named is not None and named.strings == settings.tuning.strings:
        doubled = bool(settings.tuning.doubles) and named.name in _GUITARS
        return usual_instrument(settings.tuning) if doubled else named
    usual = usual_instrument(settings.tuning)
    return usual if usual.strings == settings.tuning.strings else None


def _tuning(settings: Settings) -> Iterator[str]:
    """Yield the tuning if it is not the instrument's usual one, and what the doubled strings are."""
    tuning, kind = settings.tuning, _played_on(settings)
    usual = NAMED[_USUAL.get(kind.name, "standard")] if kind is not None else ""
    if " ".join(tuning.written) != usual:
        name = name_of_tuning(tuning)
        strings = " ".join(_signed(str(pitch.name)) for pitch in tuning.pitches)
        strings += f", {_order(tuning)}"
        yield f"Tuning: {name} ({strings})" if name else f"Tuning: {strings}"
    if any(tuning.doubles):
        yield _courses(tuning)


def _order(tuning: Tuning) -> str:
    heights = [pitch.midi for pitch in tuning.pitches]
    return "low to high" if heights == sorted(heights) else f"string {tuning.strings} to string 1"


def _courses(tuning: Tuning) -> str:
    """Say what the second string of each course is: `12-string: ... an octave higher, ... in unison`."""
    alike: dict[str, list[int]] = {}
    for place, second in enumerate(tuning.doubles):
        if second is not None:
            apart = _apart(second.midi - tuning.pitches[place].midi)
            alike.setdefault(apart, []).append(tuning.strings - place)
    said = [
        f"of course{'s' * (len(courses) > 1)} {listed(courses)} {apart}"
        for apart, courses in alike.items()
    ]
    strings = tuning.strings + sum(map(len, alike.values()))
    return f"{strings}-string: the second string {', '.join(said)}"


def _apart(half_steps: int) -> str:
    way = "higher" if half_steps > 0 else "lower"
    return _APART.get(half_steps) or f"{counted(abs(half_steps), 'half step')} {way}"


def _keys(settings: Settings, concert: bool) -> Iterator[str]:
    """Yield both keys where what is played is not what sounds."""
    plays, sounds, capo = settings.plays, settings.sounds, settings.capo
    concert = concert and bool(capo.fret) and not capo.strings
    if not capo.fret and (plays is None or sounds is None or plays == sounds):
        return
    if plays is not None and sounds is not None:
        second = "written in" if concert else "sounds in"
        said = f"Played in {_key(plays, settings)}, {second} {_key(sounds, settings)}"
        yield f"{said} as it sounds" if concert else said
    elif plays is not None or sounds is not None:
        known = plays or sounds
        assert known is not None
        yield f"{'Played' if plays else 'Sounds'} in {_key(known, settings)}"
    elif concert:
        yield "Written as it sounds"


def _key(key: Key, settings: Settings) -> str:
    return _signed(write_key(key, settings.names))


def _signed(name: str) -> str:
    """Return a note's name with the signs of music for sharp and flat."""
    found = _SIGN.match(name)
    if found is None:
        return name
    return found[1] + found[2].replace("b", "♭").replace("#", "♯") + name[found.end() :]
