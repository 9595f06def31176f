"""What is played: bars in performing order, and in them notes with exact times.

All times are `Fraction`s of a quarter note, onsets from the bar's start. All `PlayedBar`s that sound the same
share a `TimedBar`, which holds what that is.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import count

from attrs import field

from fretloom.performance.manner import NO_TECHNIQUE, Manner, NoteTechnique, Sung, TimedSlap
from fretloom.performance.printed_names import PatternInPrint
from fretloom.source import Span
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.key import Key
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen


@frozen(kw_only=True)
class SlurredNote:
    """A note that the fretting hand makes: a hammer-on, pull-off or slide after a pluck.

    `onset` counts from the bar's start, `fretting` is the fretting finger if known.
    """

    kind: str
    onset: Fraction
    fret: int
    midi: int
    fretting: str | None = None


@frozen(kw_only=True)
class TimedNote:
    """One plucked string.

    Args:
        onset: from the bar's start; notes of a roll or brush share their onset.
        length: up to the end of the share of the beat that the pattern gives it; its place on
            paper. It never crosses the bar line.
        ring: how long it really sounds, until something stops it; it may cross bar lines.
            With slurs it is the length from the pluck to the end of the last slurred note's sound.
        string: 1 is the highest. fret: as played, counted from the capo (0 open).
        finger: the picking finger, p i m a c. fretting: the fretting finger if known (`1`-`4`, `T`).
        midi: the sounding MIDI number of the plucked fret, capo included; for a natural harmonic
            that of the harmonic. A dead note has the number of its string and fret.
        order: place in a roll or brush, from 0 in playing order; None when plucked together with
            the others. `gesture` numbers the rolls and brushes of a bar, which keeps two that begin
            together apart.
        brush: +1 if it belongs to a brush towards string 1, -1 away from it, 0 if to none.
        slurs: notes that follow from the same pluck. literal: the pattern named the fret.
        muted: the voicing does not play this string (a fault; it counts as open).
        technique: what is asked of it besides.
        pluck_span: where the pluck is written (in a pattern, a `{ }` or a `with`).
        bar_span: where the bar is written.
    """

    onset: Fraction
    length: Fraction
    ring: Fraction
    string: int
    fret: int
    finger: str
    midi: int
    fretting: str | None = None
    accent: bool = False
    harmonic: bool = False
    dead: bool = False
    order: int | None = None
    gesture: int | None = None
    brush: int = 0
    slurs: tuple[SlurredNote, ...] = ()
    literal: bool = False
    muted: bool = False
    technique: NoteTechnique = NO_TECHNIQUE
    pluck_span: Span | None = field(default=None, eq=False, repr=False)
    bar_span: Span | None = field(default=None, eq=False, repr=False)

    def ringing(self, ring: Fraction, bar_span: Span | None) -> TimedNote:
        """Return this note as a written bar has it, ringing for `ring`."""
        return TimedNote(
            onset=self.onset,
            length=self.length,
            ring=ring,
            string=self.string,
            fret=self.fret,
            finger=self.finger,
            midi=self.midi,
            fretting=self.fretting,
            accent=self.accent,
            harmonic=self.harmonic,
            dead=self.dead,
            order=self.order,
            gesture=self.gesture,
            brush=self.brush,
            slurs=self.slurs,
            literal=self.literal,
            muted=self.muted,
            technique=self.technique,
            pluck_span=self.pluck_span,
            bar_span=bar_span,
        )


@frozen(kw_only=True)
class TimedVoicing:
    """A voicing taken at `onset` in a bar and held until the next one.

    `early` marks one that belongs to the next bar.
    """

    onset: Fraction
    voicing: Voicing
    early: bool = False
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class TimedBar:
    """What one bar sounds like.

    Args:
        meter: the meter in force. length: in quarter notes; less than the meter's in a short bar.
        start: where in a full bar this bar begins (pickups: meter length minus length), so that
            `meter.count_at(start + onset)` is what is counted.
        voicings: in order of onset; empty in a bar of rest.
        notes: in order of onset, then of playing (rolls), then from the highest string number.
        slaps: on the strings or the body, in order of onset.
        release, stop: when the fretting hand lets go, when all strings are damped, if they do.
        fermata: where the beat waits, if it does.
        kind: "full", "pickup" or "last".
        serial: a number that no other bar of the process has.
    """

    meter: Meter
    length: Fraction
    start: Fraction = Fraction(0)
    voicings: tuple[TimedVoicing, ...] = ()
    notes: tuple[TimedNote, ...] = ()
    slaps: tuple[TimedSlap, ...] = ()
    rest: bool = False
    cue: str = ""
    pattern: str = ""
    release: Fraction | None = None
    stop: Fraction | None = None
    fermata: Fraction | None = None
    kind: str = "full"
    span: Span | None = field(default=None, eq=False, repr=False)
    serial: int = field(init=False, factory=count().__next__, eq=False, repr=False)


@frozen(kw_only=True)
class PlayedBar:
    """One bar in performing order.

    Args:
        index: 1-based in performing order, a pickup included.
        number: the bar's number as a player counts, from 1; a pickup at the very start is 0.
        section: name of the section. entry: which entry of the form, from 1; playing: which playing
            of that entry (`verse x2`), from 1. written: which written bar of the section, from 1, a
            pickup included; None where a `but` put it in. place: its number in the section, or that
            of the bar in whose place it was put; 0 for a pickup.
        first: it begins a section's playing.
        tempo: in force at its start. manner: what is asked of it besides, with what is in force
            from earlier bars; its own `tempo` is the same. sung: the words sung in it, if there are any.
    """

    index: int
    number: int
    section: str
    title: str
    entry: int
    playing: int
    written: int | None
    first: bool
    tempo: Tempo
    bar: TimedBar
    place: int = 0
    manner: Manner = Manner()
    sung: Sung | None = None


@frozen(kw_only=True)
class WrittenBar:
    """A bar of a section as it stands on paper, with the repeat signs around it.

    Args:
        number: 1-based within the section; 0 for its pickup. repeats: how many nested repeats start before it.
        ends: for each repeat that ends after it, how often it is played in all (innermost first); (0,) marks
            an ending that goes back. passes: the numbers of the ending it belongs to, () if none;
            first_of_ending/last_of_ending, and last_of_endings of a repeat. using: the pattern set by a
            line of the section before it. manner: what the section itself asks of it. sung: its words.
    """

    number: int
    bar: TimedBar
    repeats: int = 0
    ends: tuple[int, ...] = ()
    passes: tuple[int, ...] = ()
    first_of_ending: bool = False
    last_of_ending: bool = False
    last_of_endings: bool = False
    using: str = ""
    manner: Manner = Manner()
    sung: tuple[Sung, ...] = ()


@frozen(kw_only=True)
class WrittenSection:
    """A section once through, as a page shows it."""

    name: str
    title: str
    pattern: str
    bars: tuple[WrittenBar, ...]


@frozen
class Difference:
    """What a playing changes, as a lesson writes it after `but`; in `short` its own picking is only mentioned.

    `plain`, of bars put in `put_in`, is as one says it to a student; `of_bars` whether other notes are played.
    """

    words: str
    short: str
    plain: str = ""
    of_bars: bool = True
    put_in: str = ""


@frozen(kw_only=True)
class FormLine:
    """One entry of the form as a teacher would say it: `verse`, twice, and its differences in words."""

    section: str
    title: str
    times: int
    differences: tuple[Difference, ...] = ()


@frozen(kw_only=True)
class Settings:
    """What the heading says, with every default filled in.

    `sounds` is the sounding key; both keys are None when the lesson does not give one and it could
    not be worked out. `swing` is None for straight eighths. `hand` is a size name or millimetres.
    """

    title: str
    by: str = ""
    rights: str = ""
    tuning: Tuning
    capo: Capo = Capo()
    plays: Key | None = None
    sounds: Key | None = None
    meter: Meter
    tempo: Tempo = Tempo(Fraction(90))
    swing: tuple[int, int] | None = None
    instrument: str = "steel string"
    scale: Fraction | None = None
    hand: str | Fraction = "average"
    level: str = "intermediate"
    names: str = "english"


@frozen(kw_only=True)
class Timeline:
    """A lesson expanded: its settings, what is played, and its sections as written.

    `bars` is the performance; `sections` are those that could be expanded; `voicings` (resolved) and
    `patterns` go by name. `fingers_sure` is False where open fingers may not be found at their easiest.
    """

    settings: Settings
    bars: tuple[PlayedBar, ...]
    voicings: dict[str, Voicing]
    sections: tuple[WrittenSection, ...]
    form: tuple[FormLine, ...]
    patterns: dict[str, PatternInPrint] = field(factory=dict)
    fingers_sure: bool = True

    @property
    def length(self) -> Fraction:
        """Length of the performance in quarter notes."""
        return sum((played.bar.length for played in self.bars), Fraction(0))

    def distinct_bars(self) -> Iterator[tuple[PlayedBar, TimedBar]]:
        """Yield each timed bar of the performance once, with its first playing."""
        first: dict[int, PlayedBar] = {}
        for played in self.bars:
            first.setdefault(played.bar.serial, played)
        yield from ((played, played.bar) for played in first.values())
