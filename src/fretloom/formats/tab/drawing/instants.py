"""What stands above, on and below the strings at each instant of a bar.

The signs are those of the trade; each is noted with the instant, so that the legend can explain it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from attrs import field

from fretloom.formats.tab.drawing.counting import count_signs, counts
from fretloom.formats.tab.drawing.frets import Carried, Fret, frets
from fretloom.formats.tab.drawing.picking import brushes, hand_signs, picking_lines, slap_sign
from fretloom.formats.tab.drawing.signs import Sign
from fretloom.formats.tab.text import clean
from fretloom.performance.events import TimedBar, TimedVoicing
from fretloom.performance.manner import Sung
from fretloom.values import frozen


@frozen(kw_only=True)
class Instant:
    """One instant of a bar.

    Args:
        at: quarter notes from the bar's start.
        count, chord: the words over the strings, "" for none.
        frets: what stands on each string, by its number.
        fingers: picking fingers other than the thumb, from the lowest line up.
        thumb: what stands in the thumb's line. slaps: what stands in the line of slaps.
        sung: the syllables sung there, by the time whose words they are.
        brushes: the brushes there, each with the sign for its direction and how it is written.
        signs: what the legend must explain.
    """

    at: Fraction
    count: str = ""
    chord: str = ""
    frets: dict[int, Fret] = field(factory=dict)
    fingers: tuple[str, ...] = ()
    thumb: str = ""
    slaps: str = ""
    sung: dict[int | None, str] = field(factory=dict)
    brushes: tuple[tuple[Sign, str], ...] = ()
    signs: frozenset[Sign] = frozenset()


def instants(
    bar: TimedBar,
    names: dict[str, str],
    carried: Sequence[Carried] = (),
    sung: Sequence[Sung] = (),
) -> list[Instant]:
    """Return the instants of a bar in order.

    Args:
        bar: the bar.
        names: what to print for each voicing, by its name in the lesson.
        carried: notes that go on from the bar before; they are shown in brackets.
        sung: the words sung in it; those with a place of their own stand at their instants.
    """
    syllables = _syllables(sung)
    counted = counts(bar, tuple(syllables))
    chords = _chords(bar, names)
    on_strings = frets(bar.notes, carried)
    ends = {fret.until for each in on_strings.values() for fret in each.values()}
    held = {end for end in ends if end is not None and end < bar.length}
    plucked = {at: list(notes) for at, notes in groupby(bar.notes, lambda note: note.onset)}
    slapped = {at: list(slaps) for at, slaps in groupby(bar.slaps, lambda slap: slap.onset)}
    found = []
    for at in sorted({*counted, *chords, *on_strings, *held, *syllables, Fraction(0)}):
        notes, slaps = plucked.get(at, []), slapped.get(at, [])
        fingers, thumb = picking_lines(notes)
        written = on_strings.get(at, {})
        count = counted.get(at, "")
        found.append(
            Instant(
                at=at,
                count=count,
                chord=chords.get(at, ""),
                frets=written,
                fingers=fingers,
                thumb=thumb,
                slaps="".join(map(slap_sign, slaps)),
                sung=syllables.get(at, {}),
                brushes=tuple(brushes(notes)),
                signs=frozenset(
                    (*count_signs(count), *_bar_signs(bar, at), *hand_signs(notes, slaps))
                ).union(*(fret.signs for fret in written.values())),
            )
        )
    return found


def _syllables(sung: Iterable[Sung]) -> dict[Fraction, dict[int | None, str]]:
    placed: dict[Fraction, dict[int | None, str]] = {}
    for one in sung:
        for syllable in one.syllables:
            there = placed.setdefault(syllable.onset, {})
            word = clean(syllable.text)
            there[one.verse] = f"{there[one.verse]} {word}" if one.verse in there else word
    return placed


def _chords(bar: TimedBar, names: dict[str, str]) -> dict[Fraction, str]:
    words: dict[Fraction, str] = {}
    if bar.rest:
        words[Fraction(0)] = "rest"
    for timed in bar.voicings:
        words[timed.onset] = _printed(timed, names)
    hands = () if bar.rest else ((bar.release, "(open)"), (bar.stop, "(stop)"))
    for at, word in (*hands, (bar.fermata, "(fermata)")):
        if at is not None:
            words[at] = f"{words[at]} {word}" if at in words else word
    return words


def _bar_signs(bar: TimedBar, at: Fraction) -> Iterator[Sign]:
    """Yield the signs among the chords at an instant."""
    if at == bar.fermata:
        yield Sign.FERMATA
    if bar.rest:
        if at == 0:
            yield Sign.REST
        return
    if at == bar.release:
        yield Sign.OPEN
    if at == bar.stop:
        yield Sign.STOP


def _printed(timed: TimedVoicing, names: dict[str, str]) -> str:
    return names.get(timed.voicing.name) or clean(timed.voicing.name)
