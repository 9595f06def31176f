"""Small timelines built by hand, without reading a lesson."""

from __future__ import annotations

from fractions import Fraction

from fretloom.performance.events import (
    PlayedBar,
    Settings,
    SlurredNote,
    TimedBar,
    TimedNote,
    TimedVoicing,
    Timeline,
)
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.key import parse_key
from fretloom.trade.music.meter import Meter, parse_meter
from fretloom.trade.music.pitch import parse_pitch
from fretloom.trade.music.tempo import Tempo

STANDARD = "E2 A2 D3 G3 B3 E4"
FOUR = parse_meter("4/4")


def tuning(text: str = STANDARD) -> Tuning:
    """Return a tuning from its notes, the highest string number first."""
    return Tuning(tuple(parse_pitch(note) for note in text.split()))


def settings(
    *,
    strings: str = STANDARD,
    capo: Capo | int = 0,
    plays: str = "C",
    sounds: str = "",
    meter: str = "4/4",
    **more: object,
) -> Settings:
    """Return settings; keys and meter are given as text."""
    values: dict[str, object] = {"title": "Porch Steps", "by": "Workshop example"} | more
    return Settings(
        tuning=tuning(strings),
        capo=Capo(capo) if isinstance(capo, int) else capo,
        plays=parse_key(plays) if plays else None,
        sounds=parse_key(sounds) if sounds else None,
        meter=parse_meter(meter),
        **values,  # type: ignore[arg-type]
    )


def voicing(name: str, frets: str, fingers: str = "", bass: tuple[int, ...] = (5, 4)) -> Voicing:
    """Return a voicing from texts such as `x32010` and `.32.1.`."""
    places = frets.split("-") if "-" in frets else list(frets)
    return Voicing(
        name=name,
        symbol=name if name == "N.C." else name.partition(".")[0] if name[0].isupper() else "",
        frets=tuple(None if place == "x" else int(place) for place in places),
        fingers=tuple(None if one == "." else one for one in fingers),
        bass=bass,
    )


C = voicing("C", "x32010", ".32.1.")
G7 = voicing("G7", "320001", "32...1")
F = voicing("F", "133211", "134211")


def note(
    onset: str | int | Fraction,
    string: int,
    fret: int,
    finger: str,
    *,
    of: Settings,
    length: str | Fraction = "1/2",
    ring: str | Fraction = "1",
    slurs: tuple[tuple[str, str, int], ...] = (),
    **more: object,
) -> TimedNote:
    """Return a note that sounds what its string and fret give; slurs are (kind, onset, fret)."""
    base = of.tuning.open_pitch(string).midi + of.capo.on(string)
    return TimedNote(
        onset=Fraction(onset),
        length=Fraction(length),
        ring=Fraction(ring),
        string=string,
        fret=fret,
        finger=finger,
        midi=base + fret,
        slurs=tuple(
            SlurredNote(kind=kind, onset=Fraction(at), fret=to, midi=base + to)
            for kind, at, to in slurs
        ),
        **more,  # type: ignore[arg-type]
    )


def plucks(text: str, held: Voicing, of: Settings, meter: Meter = FOUR) -> tuple[TimedNote, ...]:
    """Return notes from `p5 , i3 m2 , - , p4+a1`: beats, equal shares, finger and string."""
    found: list[TimedNote] = []
    for beat, (start, items) in enumerate(zip(meter.beat_starts, text.split(","), strict=False)):
        shares = items.split()
        step = meter.beats[beat] / len(shares)
        for place, item in enumerate(shares):
            for pluck in item.split("+"):
                if pluck == "-":
                    continue
                string = int(pluck[1:])
                found.append(
                    note(
                        start + place * step, string, held.fret(string) or 0, pluck[0],
                        of=of, length=step, ring=step, fretting=held.finger(string),
                    )
                )  # fmt: skip
    return tuple(sorted(found, key=lambda one: (one.onset, -one.string)))


def bar(
    notes: tuple[TimedNote, ...] = (),
    held: Voicing | None = C,
    meter: Meter = FOUR,
    **more: object,
) -> TimedBar:
    """Return a bar over one voicing."""
    values: dict[str, object] = {
        "length": meter.length,
        "voicings": (TimedVoicing(onset=Fraction(0), voicing=held),) if held else (),
    } | more
    return TimedBar(meter=meter, notes=notes, **values)  # type: ignore[arg-type]


def timeline(
    bars: list[TimedBar], of: Settings, tempos: dict[int, Tempo] | None = None
) -> Timeline:
    """Return a timeline that plays these bars as one section."""
    pickup = bool(bars) and bars[0].kind == "pickup"
    played = tuple(
        PlayedBar(
            index=place + 1,
            number=place + (not pickup),
            section="verse",
            title="Verse",
            entry=1,
            playing=1,
            written=place + 1,
            first=place == 0,
            tempo=(tempos or {}).get(place, of.tempo),
            bar=one,
        )
        for place, one in enumerate(bars)
    )
    return Timeline(settings=of, bars=played, voicings={}, sections=(), form=())
