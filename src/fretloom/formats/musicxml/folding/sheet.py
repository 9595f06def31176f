"""The measures of the page with all that stands at each: signs that are right for every way into it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence

from attrs import evolve

from fretloom.formats.musicxml.folding.measures import Folded
from fretloom.formats.musicxml.planning.pace import (
    CHANGES,
    BarPace,
    all_paces,
    changes_on,
    swells_on,
)
from fretloom.formats.musicxml.planning.singing import stacked
from fretloom.formats.musicxml.planning.written import NamedVoicing, PreparedBar
from fretloom.performance.events import PlayedBar
from fretloom.text import in_figures
from fretloom.trade.music.meter import Meter
from fretloom.values import frozen


@frozen(kw_only=True)
class Measure:
    """A measure ready to be written.

    Args:
        bar: the first bar that it is, with the names over it and the words below it of all its times.
        signs: of the form. pace: what is said of speed and loudness.
        numbering: its `number`, and whether it is not counted.
        title: of the section that begins with it, "" if none does. ends: the section ends with it.
        meters: of the bars that are played before it, each once.
    """

    bar: PreparedBar
    signs: Folded
    pace: BarPace
    numbering: Mapping[str, str]
    title: str = ""
    ends: bool = False
    meters: tuple[Meter, ...] = ()


def measures_of(
    bars: Sequence[PreparedBar], pace: Sequence[BarPace], signs: Sequence[Folded], folds: bool
) -> list[Measure]:
    """Return the measures of a performance; where nothing is folded they have its numbers."""
    titles = _titles(bars, signs)
    numbers = _numberings(bars, signs, folds)
    ends = [bool(title) for title in titles[1:]] + [False]
    said = _paces(bars, pace, signs)
    return [
        Measure(
            bar=bars[one.plays[0]] if len(one.plays) == 1 else _all_times(bars, one.plays),
            signs=one,
            pace=next(said),
            numbering=next(numbers),
            title=titles[at],
            ends=ends[at],
            meters=_meters(bars, one.plays),
        )
        for at, one in enumerate(signs)
    ]


def page_numbers(sheet: Sequence[Measure], bars: Sequence[PreparedBar]) -> dict[int, int]:
    """Return under which number each bar of the performance stands on the page, by its `index`.

    An upbeat that is not counted has the number of the measure before it, the first one 0.
    """
    numbers: dict[int, int] = {}
    last = 0
    for one in sheet:
        number = one.numbering["number"]
        last = int(number) if number.isdigit() else last
        numbers |= {bars[place].played.index: last for place in one.signs.plays}
    return numbers


def _all_times(bars: Sequence[PreparedBar], plays: Sequence[int]) -> PreparedBar:
    """Return the first of these bars with the names and words of all."""
    first = bars[plays[0]]
    named: dict[object, NamedVoicing] = {}
    for place in plays:
        for one in bars[place].named:
            named.setdefault((one.taken.onset, one.taken.voicing), one)
    return evolve(
        first,
        named=tuple(sorted(named.values(), key=lambda one: one.taken.onset)),
        words=stacked([bars[place].words for place in plays]),
    )


def _meters(bars: Sequence[PreparedBar], plays: Sequence[int]) -> tuple[Meter, ...]:
    return tuple(dict.fromkeys(bars[place - 1].played.bar.meter for place in plays if place))


def _title(bar: PreparedBar) -> str:
    return (bar.played.title or bar.played.section) if bar.played.first else ""


def _titles(bars: Sequence[PreparedBar], signs: Sequence[Folded]) -> list[str]:
    """Return what stands over each measure: playings are numbered if not all of them are written once."""
    times = Counter[str]()
    which: dict[int, int] = {}
    for place, bar in enumerate(bars):
        if bar.played.first:
            times[bar.played.section] += 1
            which[place] = times[bar.played.section]
    heads = Counter(bars[one.plays[0]].played.section for one in signs if one.plays[0] in which)
    found = []
    for one in signs:
        bar, title = bars[one.plays[0]], _title(bars[one.plays[0]])
        if title and heads[bar.played.section] > 1:
            number = in_figures([which[place] for place in one.plays if place in which])
            title = f"{title} ({number})" if title[-1].isdigit() else f"{title} {number}"
        found.append(title)
    return found


def _numberings(
    bars: Sequence[PreparedBar], signs: Sequence[Folded], folds: bool
) -> Iterator[dict[str, str]]:
    """Yield the number of each measure; a pickup is not counted."""
    counted = upbeats = 0
    for at, one in enumerate(signs):
        played = bars[one.plays[0]].played
        if played.bar.kind != "pickup":
            counted += 1
            yield {"number": str(counted if folds else played.number)}
        elif at == 0:
            yield {"number": "0", "implicit": "yes"}
        else:
            upbeats += 1
            yield {"number": f"X{upbeats}", "implicit": "yes"}


def _paces(
    bars: Sequence[PreparedBar], pace: Sequence[BarPace], signs: Sequence[Folded]
) -> Iterator[BarPace]:
    """Yield what is said of speed and loudness at each measure.

    Wedges and dashes are drawn from one measure to the next where the music goes on so, whatever comes
    before; dashes begin with a word.
    """
    wedge = dashes = False
    for at, one in enumerate(signs):
        found = all_paces([pace[place] for place in one.plays])
        manner, following = bars[one.plays[0]].played.manner, signs[at + 1 : at + 2]
        if manner.swell:
            further = _goes_on(bars, one, following, swells_on)
            swell = "" if wedge else manner.swell
            found, wedge = evolve(found, swell=swell, swell_ends=not further), further
        if manner.tempo_change:
            further = _goes_on(bars, one, following, changes_on)
            begins = further and not dashes and any(word in CHANGES for word in found.words)
            found = evolve(found, line=begins, line_ends=dashes and not further)
            dashes = further and (dashes or begins)
        yield found


def _goes_on(
    bars: Sequence[PreparedBar],
    one: Folded,
    following: Sequence[Folded],
    goes_on: Callable[[PlayedBar, PlayedBar], bool],
) -> bool:
    """Whether a change goes on from a measure into the one that stands behind it, each time."""
    if not following or following[0].plays[0] - 1 not in one.plays:
        return False
    return all(
        place + 1 < len(bars) and goes_on(bars[place].played, bars[place + 1].played)
        for place in one.plays
    )
