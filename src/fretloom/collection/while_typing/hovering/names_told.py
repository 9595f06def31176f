"""What is said of a voicing, a pattern or a section: what it sounds, how it is held, how long it is, when it comes."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.formats.students.prose.markdown import escaped
from fretloom.notation.model.walking.names import NamePlace
from fretloom.notation.syntax.writing.words import beats
from fretloom.performance.events import PlayedBar, Timeline
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.sounding.names import sound_of
from fretloom.report.advice.sounds_text import voicing_lines
from fretloom.source import Span
from fretloom.text import counted, listed, visible
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.playability.effort import effort
from fretloom.trade.playability.shape import Fretted

#: So many playings of a section are told one by one.
_MOST_TOLD = 6


def told(opened: OpenLesson, name: NamePlace) -> Iterator[str]:
    """Yield what is said of a name, as paragraphs of Markdown."""
    if name.kind == "voicing":
        yield from _voicing(opened, name.name)
    elif name.kind == "pattern":
        yield from _pattern(opened, name.name)
    else:
        yield from _section(opened, name.name)


def _voicing(opened: OpenLesson, name: str) -> Iterator[str]:
    timeline = opened.examined.timeline
    material = opened.examined.reading.material
    voicing = timeline.voicings.get(name)
    if voicing is None:
        yield _nowhere("voicing", name)
        return
    if len(voicing.frets) != timeline.settings.tuning.strings:
        yield f"**{_shown(name)}** is for another number of strings"
        return
    yield _fenced(voicing_lines(sound_of(timeline, voicing), timeline.settings))
    held = [_held(timeline, voicing)]
    if voicing.bass:
        held.append(f"bass {' '.join(map(str, voicing.bass))}")
    entry = material.voicings.get(name)
    held.append(_from(opened, entry.name_span if entry else None))
    yield "  \n".join(filter(None, held))


def _held(timeline: Timeline, voicing: Voicing) -> str:
    """Say which fingers hold a voicing, and how hard that is."""
    if not any(voicing.frets):
        return "open strings alone"
    if not voicing.fingers:
        return "no fingers are known for it"
    settings = timeline.settings
    neck, hand = neck_of_settings(settings), hand_of_settings(settings)
    hard = effort(neck, hand, Fretted(voicing.frets, voicing.fingers))
    return f"fingers {voicing.fingers_text}, difficulty {hard.level} of 5"


def _pattern(opened: OpenLesson, name: str) -> Iterator[str]:
    reading = opened.examined.reading
    pattern = reading.material.patterns.get(name)
    if pattern is None:
        yield _nowhere("pattern", name)
        return
    yield _fenced([" | ".join(beats(bar) for bar in pattern.bars)])
    meter = pattern.meter or reading.timeline.settings.meter
    number = sum(one.bar.pattern == name for one in reading.timeline.bars)
    said = [f"{counted(len(meter.beats), 'beat')} a bar ({meter})"]
    if len(pattern.bars) > 1:
        said.append(counted(len(pattern.bars), "bar"))
    said.append(f"played in {counted(number, 'bar')}" if number else "not played")
    yield "  \n".join(filter(None, (", ".join(said), _from(opened, pattern.name_span))))


def _section(opened: OpenLesson, name: str) -> Iterator[str]:
    timeline = opened.examined.timeline
    section = opened.examined.reading.material.sections.get(name)
    if section is None:
        yield _nowhere("section", name)
        return
    playings: dict[tuple[int, int], list[PlayedBar]] = {}
    for one in timeline.bars:
        if one.section == name:
            playings.setdefault((one.entry, one.playing), []).append(one)
    if not playings:
        yield f"**{_shown(name)}** is not played"
        return
    first = next(iter(playings.values()))
    yield f"**{_shown(section.title or name)}**: {counted(len(first), 'bar')}, {_seconds(first)}"
    told_of = [_bars(bars) for bars in list(playings.values())[:_MOST_TOLD]]
    more = len(playings) - len(told_of)
    rest = [f"{more} more times"] if more else []
    where = _from(opened, section.name_span)
    yield "  \n".join(filter(None, (f"played as {listed([*told_of, *rest])}", where)))


def _seconds(bars: list[PlayedBar]) -> str:
    """Say how long bars take at their tempos; waits and changes within a bar are left out."""
    minutes = sum((one.bar.length / one.tempo.quarters_per_minute for one in bars), Fraction(0))
    whole = max(round(minutes * 60), 1)
    if whole < 60:
        return f"about {counted(whole, 'second')}"
    return f"about {whole // 60}:{whole % 60:02} minutes"


def _bars(bars: list[PlayedBar]) -> str:
    first, last = bars[0].number, bars[-1].number
    return f"bar {first}" if first == last else f"bars {first} to {last}"


def _from(opened: OpenLesson, span: Span | None) -> str:
    """Say in which file something is written, if in another one."""
    if span is None or span.source.name == opened.source.name:
        return ""
    return f"from {_shown(Path(span.source.name).name)}"


def _nowhere(kind: str, name: str) -> str:
    return f"there is no {kind} called {_shown(name)}"


def _fenced(lines: Iterator[str] | list[str]) -> str:
    """Return lines as Markdown shows them unchanged; no line of ours begins with three of those signs."""
    return "\n".join(["```text", *lines, "```"])


def _shown(text: str) -> str:
    """Return a text of a lesson as Markdown that says just this."""
    return escaped(visible(text))
