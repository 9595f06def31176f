"""Timelines built by hand, for tests that want nothing to do with reading or expanding."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from fretloom.performance.events import (
    FormLine,
    PlayedBar,
    Settings,
    TimedBar,
    TimedNote,
    TimedVoicing,
    Timeline,
    WrittenBar,
    WrittenSection,
)
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import parse_meter
from fretloom.trade.music.pitch import parse_pitch

STANDARD = Tuning(tuple(map(parse_pitch, ("E2", "A2", "D3", "G3", "B3", "E4"))), name="standard")


def note(onset: str | int, string: int, fret: int, finger: str, **fields: object) -> TimedNote:
    """A note an eighth long, its pitch in standard tuning."""
    length = Fraction(1, 2)
    given: dict[str, object] = {"length": length, "ring": length, **fields}
    midi = STANDARD.open_pitch(string).midi + fret
    return TimedNote(
        onset=Fraction(onset), string=string, fret=fret, finger=finger, midi=midi, **given
    )


def bar(meter: str, *notes: TimedNote, chord: str = "", frets: str = "xxxxxx") -> TimedBar:
    """A full bar, with a voicing from its start if `chord` is given."""
    found = parse_meter(meter)
    places = tuple(None if sign == "x" else int(sign) for sign in frets)
    voicing = Voicing(name=chord, symbol=chord, frets=places)
    voicings = (TimedVoicing(onset=Fraction(0), voicing=voicing),) if chord else ()
    return TimedBar(meter=found, length=found.length, voicings=voicings, notes=notes)


def timeline(bars: Sequence[TimedBar], title: str = "Kiln Lane Air") -> Timeline:
    """One section with these bars, played once."""
    settings = Settings(title=title, tuning=STANDARD, meter=bars[0].meter)
    return Timeline(
        settings=settings,
        bars=tuple(
            PlayedBar(
                index=place + 1,
                number=place + 1,
                section="verse",
                title="",
                entry=1,
                playing=1,
                written=place + 1,
                first=place == 0,
                tempo=settings.tempo,
                bar=one,
            )
            for place, one in enumerate(bars)
        ),
        voicings={one.voicing.name: one.voicing for each in bars for one in each.voicings},
        sections=(
            WrittenSection(
                name="verse",
                title="",
                pattern="",
                bars=tuple(WrittenBar(number=place + 1, bar=one) for place, one in enumerate(bars)),
            ),
        ),
        form=(FormLine(section="verse", title="", times=1),),
    )
