"""What the voicings of a lesson sound, as JSON."""

from __future__ import annotations

from typing import Any

from fretloom.arranging.sounds import Sounds
from fretloom.performance.events import Settings
from fretloom.performance.sounding.names import Sound, heard_name, note_of
from fretloom.performance.sounding.strings import HeardString
from fretloom.trade.guitar.tunings import retuning_steps
from fretloom.trade.harmony.degrees import Degree
from fretloom.trade.harmony.fit import Fit, degree_in, note_in
from fretloom.trade.harmony.key_guess import KeyGuess
from fretloom.trade.wording import name_words


def sounds_data(found: Sounds) -> dict[str, Any]:
    """Return the report as JSON values, with the same facts as the text; strings by their number."""
    settings = found.settings
    return {
        "title": settings.title,
        "plays": str(settings.plays) if settings.plays else None,
        "sounds": str(settings.sounds) if settings.sounds else None,
        "key_of_the_chords": _guess_data(found.key),
        "capo": {"fret": settings.capo.fret, "strings": list(settings.capo.strings)},
        "tuning": {
            "name": settings.tuning.name,
            "strings": list(settings.tuning.written),
            "retuning": list(retuning_steps(settings.tuning)),
        },
        "capo_choices": [
            {
                "capo": choice.capo,
                "plays": str(choice.plays),
                "chords": [one.canonical for one in choice.chords],
                "without_open_shape": [one.canonical for one in choice.without_open],
            }
            for choice in found.capos
        ],
        "voicings": [_sound_data(sound, settings) for sound in found.voicings],
    }


def _guess_data(guess: KeyGuess | None) -> dict[str, str] | None:
    if guess is None:
        return None
    return {"key": str(guess.key), "certainty": guess.certainty, "other": str(guess.other)}


def _sound_data(sound: Sound, settings: Settings) -> dict[str, Any]:
    verdict = sound.fit
    lowest = min(sound.strings, key=lambda one: one.sounds, default=None)
    return {
        "name": sound.voicing.name,
        "symbol": sound.voicing.symbol,
        "canonical": sound.symbol.canonical if sound.symbol else "",
        "frets": sound.voicing.frets_text,
        "strings": [_string_data(sound, one, settings) for one in sound.strings],
        "lowest_string": lowest.string if lowest else None,
        "right": verdict.accepted if verdict else None,
        "missing": _missing(verdict),
        "foreign": [str(note_in(verdict.symbol, m % 12)) for m in verdict.foreign]
        if verdict
        else [],
        "wrong_bass": bool(verdict and verdict.wrong_bass),
        "rootless": bool(verdict and verdict.rootless),
        "heard_instead": _heard_instead(verdict, settings.names),
        "other_names": [name_words(one, settings.names) for one in sound.others],
        "sounding_name": sound.sounding.written(settings.names) if sound.sounding else "",
    }


def _missing(verdict: Fit | None) -> list[str]:
    if verdict is None:
        return []
    lacks = verdict.mistaken.lacks if verdict.mistaken else None
    return [str(note) for note in (*verdict.missing, *([lacks] if lacks else ()))]


def _heard_instead(verdict: Fit | None, naming: str) -> str:
    heard = verdict.mistaken.heard if verdict and verdict.mistaken else None
    return heard.written(naming) if heard else ""


def _string_data(sound: Sound, one: HeardString, settings: Settings) -> dict[str, Any]:
    degree: Degree | None = None
    if sound.symbol is not None and sound.symbol.quality is not None:
        degree = degree_in(sound.symbol, one.hand % 12)
    return {
        "string": one.string,
        "fret": one.fret,
        "note": str(note_of(sound, one)),
        "degree": str(degree) if degree else None,
        "sounds": heard_name(sound, one, settings),
        "midi": one.sounds,
    }
