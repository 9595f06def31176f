"""Timelines of any meter, tuning and division of the beat, for the laws of exported files."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve, frozen
from hypothesis import strategies as st
from musicxml_pieces import STANDARD, bar, note, settings, timeline, voicing

from fretloom.performance.events import Settings, TimedBar, TimedNote, TimedVoicing, Timeline
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.music.meter import Meter, parse_meter
from fretloom.trade.music.tempo import Tempo

METERS = (
    "4/4", "3/4", "2/4", "2/2", "6/8", "9/8", "12/8", "3/8", "5/8", "7/8", "2+2+3/8", "3+2/4",
    "5/4", "6/4", "4/2", "7/16", "1/1",
)  # fmt: skip
TUNINGS = (
    STANDARD, "D2 A2 D3 G3 A3 D4", "G4 C4 E4 A4", "G3 D3 G3 B3 D4", "E1 A1 D2 G2", "C4 E4 A4",
    "C#2 F#2 B2 E3 G#3 C#4", "B1 E2 A2 D3 G3 B3 E4",
)  # fmt: skip
KEYS = ("C", "G", "D", "A", "E", "B", "F#", "F", "Bb", "Eb", "Ab", "Db", "Am", "Em", "F#m", "Gm")
SYMBOLS = ("C", "Am", "E7", "F#m7b5", "Bb/D", "Abmaj7", "G7sus4", "N.C.", "walkdown", "C.low")


def meters() -> st.SearchStrategy[Meter]:
    """Simple, compound, odd and additive meters."""
    return st.sampled_from(METERS).map(parse_meter)


@st.composite
def onsets_in(draw: st.DrawFn, start: Fraction, length: Fraction, depth: int = 0) -> list[Fraction]:
    """Divide a place as commas and brackets do, and pluck in some of the parts."""
    parts = draw(st.sampled_from((1, 1, 2, 2, 3, 4, 5, 6, 7) if depth == 0 else (2, 3)))
    found: list[Fraction] = []
    for part in range(parts):
        left, share = start + length * part / parts, length / parts
        what = draw(st.integers(0, 9))
        if what == 9 and depth < 2 and length >= Fraction(1, 4):
            found += draw(onsets_in(left, share, depth + 1))
        elif what > 2:
            found.append(left)
    return found


@st.composite
def notes_at(
    draw: st.DrawFn, onset: Fraction, room: Fraction, of: Settings, frets: tuple[int | None, ...]
) -> list[TimedNote]:
    """Pluck one to three strings at an instant, perhaps as a roll, perhaps with slurs."""
    count = of.tuning.strings
    strings = draw(st.lists(st.integers(1, count), min_size=1, max_size=3, unique=True))
    strings.sort(reverse=True)
    gesture = 0 if len(strings) > 1 and draw(st.booleans()) else None
    brush = draw(st.sampled_from((0, 1))) if gesture is not None else 0
    found = []
    for order, string in enumerate(strings):
        fret = draw(st.integers(0, 12)) if draw(st.booleans()) else frets[count - string] or 0
        slurs: tuple[tuple[str, Fraction, int], ...] = ()
        if gesture is None and draw(st.integers(0, 5)) == 0:
            kinds = draw(
                st.lists(
                    st.sampled_from(("hammer-on", "pull-off", "slide")), min_size=1, max_size=2
                )
            )
            step = room / (len(kinds) + 1)
            slurs = tuple(
                (kind, onset + step * (place + 1), draw(st.integers(0, 12)))
                for place, kind in enumerate(kinds)
            )
        found.append(
            note(
                onset, string, fret, draw(st.sampled_from("pima")), of=of, length=room,
                ring=room * draw(st.sampled_from((1, 2, 9))), slurs=slurs,
                fretting=draw(st.sampled_from((None, "1", "4", "T"))),
                accent=draw(st.booleans()), dead=draw(st.integers(0, 9)) == 0, gesture=gesture,
                order=order if gesture is not None else None, brush=brush,
            )
        )  # fmt: skip
    return found


@st.composite
def bars(draw: st.DrawFn, of: Settings, meter: Meter, kind: str = "full") -> TimedBar:
    """Return a bar: full, an upbeat, or a short last one."""
    start, length = Fraction(0), meter.length
    if kind != "full":
        length = draw(st.sampled_from([edge for edge in meter.beat_starts if edge > 0]))
        length -= draw(st.sampled_from((Fraction(0), Fraction(1, 8), Fraction(1, 12))))
        length = max(length, Fraction(1, 8))
        start = meter.length - length if kind == "pickup" else Fraction(0)
    found: list[Fraction] = []
    for left, beat in zip(meter.beat_starts, meter.beats, strict=False):
        found += draw(onsets_in(left, beat))
    places = [one - start for one in found if 0 <= one - start < length]
    held = [draw(voicings(of)) for _ in range(draw(st.integers(1, 2)))]
    notes: list[TimedNote] = []
    for place, onset in enumerate(places):
        after = places[place + 1] if place + 1 < len(places) else length
        notes += draw(notes_at(onset, after - onset, of, held[0].frets))
    taken = [TimedVoicing(onset=length * at / 2, voicing=one) for at, one in enumerate(held)]
    one = bar(
        tuple(notes), None, meter, length=length, start=start, kind=kind, voicings=tuple(taken),
        cue=draw(st.sampled_from(("", "", "Lamps & <lit>"))),
    )  # fmt: skip
    if places and draw(st.integers(0, 5)) == 0:
        return evolve(one, release=places[-1])
    return one


def voicings(of: Settings) -> st.SearchStrategy:
    """Any frets on the strings of a tuning, with or without fingers."""
    count = of.tuning.strings
    frets = st.lists(st.sampled_from("x0123579"), min_size=count, max_size=count)
    fingers = st.lists(st.sampled_from(".1234"), min_size=count, max_size=count)
    return st.builds(
        lambda name, low, held: voicing(name, "".join(low), "".join(held)),
        st.sampled_from(SYMBOLS), frets, st.one_of(st.just([]), fingers),
    )  # fmt: skip


@st.composite
def capos(draw: st.DrawFn, strings: int) -> Capo:
    """No capo, a full one or a partial one."""
    fret = draw(st.integers(0, 12))
    covered = draw(st.lists(st.integers(1, strings), unique=True, max_size=3))
    return Capo(fret, tuple(covered) if fret and draw(st.integers(0, 3)) == 0 else ())


@st.composite
def timelines(draw: st.DrawFn) -> Timeline:
    """A few bars, with changes of meter and tempo, some played twice."""
    strings = draw(st.sampled_from(TUNINGS))
    of = settings(
        strings=strings,
        capo=draw(capos(len(strings.split()))),
        plays=draw(st.sampled_from(("", *KEYS))),
        title=draw(st.sampled_from(("", "Lämpchen & <Co>", "Porch"))),
        swing=draw(st.sampled_from((None, (2, 1), (6, 4)))),
    )
    played = [draw(bars(of, draw(meters()), "pickup"))] if draw(st.booleans()) else []
    played += [draw(bars(of, draw(meters()))) for _ in range(draw(st.integers(0, 2)))]
    played.append(draw(bars(of, draw(meters()), draw(st.sampled_from(("full", "last"))))))
    if draw(st.booleans()):
        played.append(played[-1])
    tempo = Tempo(
        Fraction(draw(st.integers(40, 200))),
        draw(st.sampled_from((Fraction(1), Fraction(3, 2), Fraction(5, 4)))),
    )
    return timeline(played, of, {len(played) - 1: tempo})


@frozen
class Piece:
    """What is played, and how it is to be written."""

    timeline: Timeline
    layout: str
    concert: bool
    fingers: str = "first"


def pieces() -> st.SearchStrategy[Piece]:
    """A timeline in any layout, at concert pitch or not."""
    layouts = st.sampled_from(("notation-and-tab", "two-parts", "notation", "tab"))
    fingers = st.sampled_from(("first", "all"))
    return st.builds(Piece, timelines(), layouts, st.booleans(), fingers)
