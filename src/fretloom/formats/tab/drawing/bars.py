"""From bars to what is drawn: written once with repeat signs and `%`, or every bar as played."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from attrs import evolve, field

from fretloom.formats.tab.drawing.instants import Carried
from fretloom.formats.tab.drawing.layout import Picture, picture, same_again, widened
from fretloom.formats.tab.drawing.systems import Drawn
from fretloom.formats.tab.text import clean, width_of
from fretloom.formats.tab.words import ordinals, short_tempo
from fretloom.performance.events import PlayedBar, TimedBar, WrittenBar
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen

#: From so many equal bars in a row on, the bar stands between repeat signs instead of `%` after it.
_LONG_RUN = 4


@frozen
class Sketcher:
    """Draws bars: knows what to call the voicings, how many strings there are, and the scale."""

    names: dict[str, str]
    strings: int
    scale: Fraction
    _known: dict[tuple[int, Carried], Picture] = field(factory=dict, init=False, eq=False)

    def written(
        self, bars: Sequence[WrittenBar], tempos: dict[int, Tempo], before: TimedBar | None
    ) -> list[Drawn]:
        """Draw a section once; `tempos` are the tempos that begin at its bars, by their place.

        `before` is a bar in the meter that holds before the section.
        """
        drawn: list[Drawn] = []
        previous: TimedBar | None = None
        for place, written in enumerate(bars):
            bar = written.bar
            words = [_ending(written), _meter(bar, previous or before), _tempo(tempos.get(place))]
            one = self._drawn(bar, previous, written.number)
            before_words = ", ".join(filter(None, words))
            one = evolve(
                one, before=before_words, after=_times(written.ends), opens=written.repeats,
                closes=len(written.ends),
            )  # fmt: skip
            drawn.append(_roomy(one))
            previous = bar
        return list(_folded(drawn, same_again(self.strings)))

    def played(
        self, bars: Sequence[PlayedBar], before: TimedBar | None, tempo: Tempo | None
    ) -> list[Drawn]:
        """Draw bars one by one as played, after the bar `before` and from the tempo `tempo` on."""
        drawn: list[Drawn] = []
        for played in bars:
            changed = played.tempo if tempo is not None and played.tempo != tempo else None
            words = [_meter(played.bar, before), _tempo(changed)]
            one = self._drawn(played.bar, before, played.number)
            drawn.append(_roomy(evolve(one, before=", ".join(filter(None, words)))))
            before, tempo = played.bar, played.tempo
        return drawn

    def _drawn(self, bar: TimedBar, before: TimedBar | None, number: int) -> Drawn:
        carried = _carried(before, bar)
        shown = self._known.get((bar.serial, carried))
        if shown is None:
            shown = picture(bar, self.names, self.strings, self.scale, carried)
            self._known[bar.serial, carried] = shown
        return Drawn(picture=shown, first=number, last=number, cue=clean(bar.cue))


def _carried(before: TimedBar | None, bar: TimedBar) -> Carried:
    """Return the strings that ring into a bar whose first instant plucks nothing."""
    if before is None or bar.rest or any(note.onset == 0 for note in bar.notes):
        return ()
    if bar.stop == 0:
        return ()
    held = {
        note.string: note.slurs[-1].fret if note.slurs else note.fret
        for note in before.notes
        if note.onset + note.ring > before.length and not note.dead
    }
    return tuple(sorted(held.items()))


def _ending(written: WrittenBar) -> str:
    return f"{ordinals(written.passes)} time" if written.first_of_ending else ""


def _meter(bar: TimedBar, before: TimedBar | None) -> str:
    return f"in {bar.meter}" if before is not None and bar.meter != before.meter else ""


def _tempo(tempo: Tempo | None) -> str:
    return short_tempo(tempo) if tempo is not None else ""


def _times(ends: tuple[int, ...]) -> str:
    """Say how often a repeat is played; "" for twice, which the sign says by itself."""
    named = [times for times in ends if times]
    if named in ([], [2]):
        return ""
    return ", then all ".join("twice" if times == 2 else f"{times} times" for times in named)


def _roomy(drawn: Drawn) -> Drawn:
    """Widen a bar so that there is room for the words over it."""
    needed = width_of(drawn.before) + width_of(drawn.after) + bool(drawn.before and drawn.after)
    return evolve(drawn, picture=widened(drawn.picture, needed))


def _folded(drawn: Sequence[Drawn], again: Picture) -> Iterator[Drawn]:
    """Write bars that are equal to the one before as `%`, a long run of them as a repeat."""
    place = 0
    while place < len(drawn):
        first = drawn[place]
        end = place + 1
        while end < len(drawn) and _same(drawn[end - 1], drawn[end]):
            end += 1
        last = drawn[end - 1]
        if end - place >= _LONG_RUN and not (first.opens or last.closes or first.before):
            times = f"{end - place} times"
            yield _roomy(evolve(first, last=last.last, opens=1, closes=1, after=times))
        else:
            yield first
            yield from (
                evolve(bar, picture=again, full=bar.picture) for bar in drawn[place + 1 : end]
            )
        place = end


def _same(before: Drawn, bar: Drawn) -> bool:
    if before.closes or bar.opens or bar.cue or bar.before or bar.after:
        return False
    return bool(before.last) and before.picture == bar.picture
