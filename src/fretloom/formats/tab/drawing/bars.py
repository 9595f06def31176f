"""From bars to what is drawn: written once with repeat signs and `%`, or every bar as played."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from attrs import evolve, field

from fretloom.formats.tab.drawing.drawn import Drawn
from fretloom.formats.tab.drawing.frets import Carried
from fretloom.formats.tab.drawing.layout import Picture, picture, same_again, widened
from fretloom.formats.tab.drawing.marks import InForce, Mark, played_marks, written_marks
from fretloom.formats.tab.drawing.signs import Sign
from fretloom.formats.tab.text import clean, width_of
from fretloom.formats.tab.words import ordinals
from fretloom.performance.events import PlayedBar, TimedBar, TimedNote, WrittenBar
from fretloom.performance.manner import Sung
from fretloom.values import frozen

#: From so many equal bars in a row on, the bar stands between repeat signs instead of `%` after it.
_LONG_RUN = 4
#: A bar this wide has room for the words over it.
_WIDE_ENOUGH = 20


@frozen
class Sketcher:
    """Draws bars: knows what to call the voicings, how many strings there are, and the scale."""

    names: dict[str, str]
    strings: int
    scale: Fraction
    _known: dict[object, Picture] = field(factory=dict, init=False, eq=False)

    def written(self, bars: Sequence[WrittenBar], before: TimedBar | None) -> list[Drawn]:
        """Draw a section once; `before` is a bar in the meter that holds before the section."""
        drawn: list[Drawn] = []
        previous: TimedBar | None = None
        held: Going = ()
        several = any(sung.verse is not None for written in bars for sung in written.sung)
        for written, marks in zip(bars, written_marks(bars), strict=True):
            bar = written.bar
            one, held = self._drawn(bar, previous, held, written.sung)
            words = [_ending(written), _meter(bar, previous or before)]
            one = _marked(one, words, marks)
            if several and any(sung.verse is None for sung in written.sung):
                one = evolve(one, signs=one.signs | {Sign.OTHER_TIMES})
            one = evolve(
                one, first=written.number, last=written.number, after=_times(written.ends),
                opens=written.repeats, closes=len(written.ends),
            )  # fmt: skip
            drawn.append(_roomy(one))
            previous = bar
        return self.folded(drawn)

    def played(
        self, bars: Sequence[PlayedBar], before: TimedBar | None, now: InForce
    ) -> tuple[list[Drawn], InForce]:
        """Draw bars one by one as played, after the bar `before`; also return what is in force after them."""
        marks, after = played_marks(bars, now)
        sung = [(played.sung,) if played.sung is not None else () for played in bars]
        drawn = self.one_by_one(bars, before, [_unnumbered(one) for one in sung], marks)
        return drawn, after

    def one_by_one(
        self,
        bars: Sequence[PlayedBar],
        before: TimedBar | None,
        sung: Sequence[tuple[Sung, ...]],
        marks: Sequence[Sequence[Mark]],
    ) -> list[Drawn]:
        """Draw bars after the bar `before`, each with its words and marks."""
        drawn: list[Drawn] = []
        held: Going = () if before is None else _held_beyond(before, ())
        for played, words, over in zip(bars, sung, marks, strict=True):
            one, held = self._drawn(played.bar, before, held, words)
            one = _marked(one, [_meter(played.bar, before)], over)
            drawn.append(_roomy(evolve(one, first=played.number, last=played.number)))
            before = played.bar
        return drawn

    def folded(self, drawn: Sequence[Drawn]) -> list[Drawn]:
        """Write bars that are equal to the one before as `%`, as in a section that is written once."""
        return list(_folded(drawn, same_again(self.strings)))

    def alone(self, bars: Sequence[TimedBar]) -> list[Drawn]:
        """Draw bars that belong to no section, such as those of a pattern by itself."""
        drawn: list[Drawn] = []
        before: TimedBar | None = None
        held: Going = ()
        for number, bar in enumerate(bars, start=1):
            one, held = self._drawn(bar, before, held, ())
            drawn.append(evolve(one, first=number, last=number))
            before = bar
        return drawn

    def _drawn(
        self, bar: TimedBar, before: TimedBar | None, held: Going, sung: tuple[Sung, ...]
    ) -> tuple[Drawn, Going]:
        """Draw a bar; also return which notes are held beyond it."""
        going = _going(before, bar, held)
        key = (bar.serial, going, sung)
        shown = self._known.get(key)
        if shown is None:
            shown = picture(bar, self.names, self.strings, self.scale, going, sung)
            self._known[key] = shown
        return Drawn(picture=shown, first=0, last=0, cue=clean(bar.cue)), _held_beyond(bar, going)


#: Notes that go on from one bar to the next.
Going = tuple[Carried, ...]


def _unnumbered(sung: Iterable[Sung]) -> tuple[Sung, ...]:
    return tuple(evolve(one, verse=None) for one in sung)


def _marked(one: Drawn, words: Iterable[str], marks: Iterable[Mark]) -> Drawn:
    marks = list(marks)
    texts = (*filter(None, words), *(mark.text for mark in marks))
    return evolve(
        one, before=texts, signs=frozenset(mark.sign for mark in marks if mark.sign is not None)
    )


def _going(before: TimedBar | None, bar: TimedBar, held: Going) -> Going:
    """Return the notes that go on into a bar: those to be held; if nothing is plucked at first, all that ring."""
    plucked = any(note.onset == 0 for note in bar.notes)
    if before is None or bar.rest or bar.stop == 0:
        return ()
    going = {one.string: one for one in held}
    if not plucked:
        for note in before.notes:
            if note.onset + note.ring > before.length and not note.dead:
                rung = Carried(note.string, _last_fret(note))
                going.setdefault(note.string, rung)
    return tuple(sorted(going.values(), key=lambda one: one.string))


def _held_beyond(bar: TimedBar, going: Going) -> Going:
    """Return the notes that are to be held beyond the end of a bar, those that came into it as well."""
    over = {one.string: one for one in going if one.held is not None and one.held > bar.length}
    for note in bar.notes:
        over.pop(note.string, None)
        said = note.technique.held
        if said is not None and note.onset + said > bar.length:
            over[note.string] = Carried(note.string, _last_fret(note), note.onset + said)
    return tuple(
        Carried(one.string, one.fret, one.held - bar.length)
        for one in over.values()
        if one.held is not None
    )


def _last_fret(note: TimedNote) -> int:
    return note.slurs[-1].fret if note.slurs else note.fret


def _ending(written: WrittenBar) -> str:
    return f"{ordinals(written.passes)} time" if written.first_of_ending else ""


def _meter(bar: TimedBar, before: TimedBar | None) -> str:
    return f"in {bar.meter}" if before is not None and bar.meter != before.meter else ""


def _times(ends: tuple[int, ...]) -> str:
    """Say how often a repeat is played; "" for twice, which the sign says by itself."""
    named = [times for times in ends if times]
    if named in ([], [2]):
        return ""
    return ", then all ".join("twice" if times == 2 else f"{times} times" for times in named)


def _roomy(drawn: Drawn) -> Drawn:
    """Widen a bar so that there is room for the words over it; long ones may go on in another line."""
    widest = max(map(width_of, drawn.before), default=0)
    longest = max((width_of(word) for text in drawn.before for word in text.split()), default=0)
    needed = max(min(widest, _WIDE_ENOUGH), longest)
    needed += width_of(drawn.after) + bool(drawn.before and drawn.after)
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
    if before.closes or bar.opens or bar.cue or bar.before or bar.after or bar.picture.sung:
        return False
    return bool(before.last) and before.picture == bar.picture
