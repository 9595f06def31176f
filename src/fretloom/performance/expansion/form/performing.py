"""How fast and how loud each bar of the performance is, with what is in force from earlier bars."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, cast

from fretloom.performance.expansion.faults import Faults
from fretloom.performance.expansion.form.changes import Playing
from fretloom.performance.expansion.form.hows import How
from fretloom.performance.expansion.form.slots import AskedPace, EvenChange, Slot
from fretloom.performance.manner import Manner
from fretloom.trade.music.loudness import Dynamic, louder
from fretloom.trade.music.tempo import Tempo

_Loud = Dynamic | Literal[""]
_AS_WRITTEN = How()


class Performer:
    """Takes the bars in performing order."""

    def __init__(self, faults: Faults) -> None:
        self._faults = faults
        #: The loudness that the sections have set by now.
        self._dynamic: _Loud = ""

    def manner(self, slot: Slot, playing: Playing) -> tuple[Tempo, Manner]:
        """Return the tempo at the start of the next bar, and how it is to be played."""
        how = playing.how.get(slot.index, _AS_WRITTEN)
        base = how.tempo or slot.pace.tempo or playing.tempo
        tempo, tempo_to = base, None
        change = how.tempo_change or (None if how.tempo else slot.pace.tempo_change)
        if change is not None:
            to = cast("Tempo", change.to)
            self._check_tempo(change, base, to)
            tempo, tempo_to = _at(base, to, change.begins), _at(base, to, change.ends)
        dynamic, swell = self._loudness(slot, playing, how)
        manner = Manner(
            tempo=tempo,
            tempo_change=_word(change),
            tempo_to=tempo_to,
            dynamic=dynamic,
            swell=cast("Literal['crescendo', 'diminuendo']", swell.kind) if swell else "",
            dynamic_to=cast("Dynamic", swell.to) if swell and swell.ends == 1 else "",
            free=slot.pace.free,
        )
        return tempo, manner

    def _loudness(self, slot: Slot, playing: Playing, how: How) -> tuple[_Loud, EvenChange | None]:
        """Return the loudness at the start of a bar, and how it changes there.

        What the form changes is for its playing alone: the next one goes on from what the sections
        say.
        """
        own = slot.pace.dynamic
        said = own or self._dynamic
        if playing.dynamic and slot.index < playing.plan.first_loudness:
            said = playing.dynamic
        said = how.dynamic or said
        swell = how.swell or (None if how.dynamic else slot.pace.swell)
        if swell is not None and said:
            self._check_loudness(swell, said)
        self._dynamic = own or self._dynamic
        if slot.pace.swell is not None and slot.pace.swell.ends == 1:
            self._dynamic = cast("Dynamic", slot.pace.swell.to)
        return said, swell

    def _check_tempo(self, change: EvenChange, base: Tempo, to: Tempo) -> None:
        faster = to.quarters_per_minute > base.quarters_per_minute
        if base.quarters_per_minute == to.quarters_per_minute or faster != (
            change.kind == "accelerando"
        ):
            right = "an accelerando" if faster else "a ritardando"
            message = f"{_with_article(change.kind)} from {_speed(base)} to {_speed(to)} "
            message += f"does not get {'faster' if change.kind == 'accelerando' else 'slower'}"
            hint = f"write {right.split()[1]}, or another tempo"
            self._faults.add("wrong-direction", change.span, message, hint, key=change.span)

    def _check_loudness(self, swell: EvenChange, said: Dynamic) -> None:
        to = cast("Dynamic", swell.to)
        if louder(to, said) != (swell.kind == "crescendo") or to == said:
            message = f"a {swell.kind} from {said} to {to} does not get "
            message += "louder" if swell.kind == "crescendo" else "softer"
            hint = f"write {'crescendo' if louder(to, said) else 'diminuendo'}, or another degree"
            self._faults.add("wrong-direction", swell.span, message, hint, key=swell.span)


def _with_article(word: str) -> str:
    return f"an {word}" if word.startswith("a") else f"a {word}"


def _speed(tempo: Tempo) -> str:
    return str(tempo.per_minute) if tempo.unit == 1 else f"{tempo.per_minute} to {tempo.unit / 4}"


def _at(base: Tempo, to: Tempo, share: Fraction) -> Tempo:
    """Return the tempo after a share of an even change, in the notes of the tempo it leads to."""
    if share in (0, 1):
        return to if share else base
    start, end = base.quarters_per_minute, to.quarters_per_minute
    return Tempo((start + (end - start) * share) / to.unit, to.unit)


def _word(change: EvenChange | None) -> Literal["", "ritardando", "accelerando"]:
    return cast("Literal['ritardando', 'accelerando']", change.kind) if change else ""


def asked(pace: AskedPace) -> Manner:
    """Return what a section itself asks of a bar; where a tempo changes from is not known there."""
    tempo, swell = pace.tempo_change, pace.swell
    return Manner(
        tempo=pace.tempo,
        tempo_change=_word(tempo),
        tempo_to=cast("Tempo", tempo.to) if tempo and tempo.ends == 1 else None,
        dynamic=pace.dynamic,
        swell=cast("Literal['crescendo', 'diminuendo']", swell.kind) if swell else "",
        dynamic_to=cast("Dynamic", swell.to) if swell and swell.ends == 1 else "",
        free=pace.free,
    )
