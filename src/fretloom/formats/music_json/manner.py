"""How notes and bars are played beyond when and where, as fields of the JSON."""

from __future__ import annotations

from fractions import Fraction

from fretloom.formats.music_json.fields import filled, place
from fretloom.notation.model.details.technique import Bend
from fretloom.performance.manner import (
    NO_TECHNIQUE,
    Manner,
    NoteTechnique,
    Sung,
    TimedSlap,
    TrilledNote,
)


def technique_fields(technique: NoteTechnique) -> dict[str, object]:
    """Return what is asked of a note besides its pluck."""
    if technique is NO_TECHNIQUE:
        return {}
    return {
        "held": _time(technique.held),
        "lasting": technique.lasting,
        "bend": _bend(technique.bend),
        "vibrato": technique.vibrato,
        "trill": _trill(technique.trill),
        "ghost": technique.ghost,
        "grace": technique.grace,
        "grace_length": _time(technique.grace_length or None),
        "touch": technique.touch,
        "slow": technique.slow,
    }


def manner_fields(manner: Manner) -> dict[str, object]:
    """Return how a bar is played as a whole; its tempo at the start stands with the bar."""
    to = manner.tempo_to
    return {
        "tempo_change": manner.tempo_change,
        "tempo_to": None if to is None else str(to.quarters_per_minute),
        "dynamic": manner.dynamic,
        "swell": manner.swell,
        "dynamic_to": manner.dynamic_to,
        "free": manner.free,
    }


def slapped(slap: TimedSlap) -> dict[str, object]:
    """Return a slap; on the strings is the usual place."""
    return filled(
        {
            "onset": str(slap.onset),
            "length": str(slap.length),
            "place": slap.place if slap.place != "strings" else "",
            "accent": slap.accent,
            "at": place(slap.span),
        }
    )


def sung_words(sung: Sung | None) -> dict[str, object] | None:
    """Return the words of a bar, each syllable with its time where that is said."""
    if sung is None:
        return None
    syllables = [{"onset": str(one.onset), "text": one.text} for one in sung.syllables]
    return filled({"text": sung.text, "syllables": syllables, "verse": sung.verse})


def _time(time: Fraction | None) -> str | None:
    return None if time is None else str(time)


def _bend(bend: Bend | None) -> dict[str, object] | None:
    if bend is None:
        return None
    more = {"release": bend.release, "before": bend.before}
    return {"semitones": str(bend.semitones)} | filled(more)


def _trill(trill: TrilledNote | None) -> dict[str, object] | None:
    if trill is None:
        return None
    return {"fret": trill.fret, "midi": trill.midi} | filled({"fretting": trill.fretting})
