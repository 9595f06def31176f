"""The first scenes of a script: the song played through, and what to do before the first note."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fretloom.formats.students.script.scene import PlayedThing, Scene
from fretloom.formats.students.telling.head import counted_from, head_of
from fretloom.formats.students.telling.listener import sentence
from fretloom.formats.students.words.parts import tuning_words
from fretloom.formats.students.words.teller import Teller
from fretloom.trade.harmony.key_names import write_key
from fretloom.trade.music.key import Key
from fretloom.trade.phrases.table import say
from fretloom.trade.wording import with_signs

#: So long a string is heard while the student tunes, in seconds (an assumption).
_STRING = Fraction(5)


def opening(teller: Teller, plays: tuple[PlayedThing, ...]) -> Scene:
    """Return the scene in which the song is played through, as `plays` says."""
    shown = head_of(teller.timeline.settings)
    this = say(
        "script.this-is-by" if shown.by else "script.this-is", title=shown.title, name=shown.by
    )
    says = [sentence(one) for one in (this, *_keys(teller), say("script.listen"))]
    return Scene(
        title=say("script.through"),
        screen=say("script.through-screen"),
        says=tuple(says),
        plays=plays,
    )


def ready(teller: Teller, own: tuple[str, ...]) -> Scene:
    """Return the scene in which strings are tuned and hands are warmed up; `own` are the teacher's words for it."""
    shown = head_of(teller.timeline.settings)
    strings = shown.tuning.strings
    capo = "-capo" if shown.capo.fret else ""
    tuned = say("script.tuned", strings=sentence(tuning_words(teller, shown.tuning)))
    return Scene(
        title=say("script.ready"),
        screen=say(f"script.ready-screen{capo}"),
        says=(sentence(tuned), *shown.retuning, *own, say("words.caution")),
        plays=(PlayedThing(say("script.play-strings", first=strings), strings * _STRING),),
    )


def _keys(teller: Teller) -> Iterator[str]:
    settings = teller.timeline.settings
    capo = settings.capo
    some = capo.leaves_out(settings.tuning.strings)
    yield from _in_keys(teller, 0 if some else capo.fret)
    if some:
        covered = teller.listener.one_by_one(sorted(capo.strings, reverse=True))
        yield say("script.capo-some", fret=capo.fret, strings=covered)
        yield counted_from(settings, teller.listener)


def _in_keys(teller: Teller, fret: int) -> Iterator[str]:
    """Say the keys, and the fret of a capo over all strings."""
    plays, sounds = teller.timeline.settings.plays, teller.timeline.settings.sounds
    if plays is None or sounds is None:
        if fret:
            yield say("script.capo", fret=fret)
        return
    if plays == sounds:
        yield say("script.in-key", plays=_key(teller, plays))
        return
    yield say(
        "script.in-keys-capo" if fret else "script.in-keys",
        plays=_key(teller, plays),
        sounds=_key(teller, sounds),
        fret=fret,
    )


def _key(teller: Teller, key: Key) -> str:
    return with_signs(write_key(key, teller.timeline.settings.names))
