"""One pluck: what the fretting hand makes it sound, with hops, harmonics and slurs."""

from __future__ import annotations

from fractions import Fraction

from fretloom.notation.model.details.technique import PLAIN
from fretloom.notation.model.pattern import Brush, Pluck
from fretloom.performance.events import SlurredNote, TimedNote
from fretloom.performance.expansion.bars.bar_faults import BarFaults
from fretloom.performance.expansion.bars.techniques import signs_of, technique_of, why_not
from fretloom.performance.expansion.resolve import Resolver
from fretloom.performance.expansion.timing.strokes import Hit
from fretloom.performance.expansion.timing.template import CUT, HOLD, RELEASE, Event, Seed
from fretloom.performance.expansion.timing.ticks import quarters
from fretloom.performance.manner import NO_TECHNIQUE, NoteTechnique, TrilledNote
from fretloom.performance.sounding.strings import fingered, sounding
from fretloom.trade.guitar.voicing import FrettingFinger, Hop, Voicing
from fretloom.values import evolve, frozen

#: Semitones above the open string of the natural harmonic at a fret (the harmonic series).
HARMONICS = {12: 12, 7: 19, 19: 19, 5: 24, 24: 24, 4: 28, 9: 28, 16: 28, 3: 31}


@frozen
class Grip:
    """How one string is stopped when it is plucked.

    `held` is the voicing behind it (None: the hand has left it), `held_fret` what has to stay held
    while it rings; `named` says that the pluck names the fret, `muted` that the voicing does not
    play the string.
    """

    fret: int
    held_fret: int
    fretting: str | None
    held: Voicing | None
    named: bool = False
    muted: bool = False


class FrettingHand:
    """The fretting hand in the course of one bar.

    `voicing` is what it holds, `released` whether it has let go. What it does to ringing strings is
    noted in `events`.
    """

    def __init__(self, resolver: Resolver, unit: int, faults: BarFaults) -> None:
        self.resolver = resolver
        self.settings = resolver.settings
        self.unit = unit
        self.faults = faults
        self.events: list[Event] = []
        self.voicing: Voicing | None = None
        self.released = False
        #: The hops under way, by finger.
        self.away: dict[str, Hop] = {}

    # What is held when

    def take(self, voicing: Voicing | None, at: int) -> None:
        """Take a voicing."""
        self.voicing = voicing
        self.away.clear()
        if not self.released:
            self.events.append((at, HOLD, 0, voicing))

    def let_go(self, at: int) -> None:
        """Leave the strings, once in a bar."""
        if not any(kind == RELEASE for _, kind, _, _ in self.events):
            self.released = True
            self.events.append((at, RELEASE, 0, None))

    # What is plucked

    def pluck(
        self,
        place: tuple[int, int],
        hit: Hit,
        part: Pluck | Brush,
        string: int,
        at_once: set[int],
        order: int | None,
    ) -> Seed | None:
        """Return the note of a pluck; None if it cannot be played, which is noted.

        `place` is its onset and length, `at_once` all strings plucked then, `order` the place in a roll.
        """
        (onset, length), voicing = place, self.voicing
        assert voicing is not None
        grip = self._grip(part, voicing, string, at_once, onset)
        tone = None if grip is None else self._tone(part, string, grip)
        if tone is None:
            return None
        grip, midi = tone
        slurs = self._slurs(part, voicing, string, onset, length)
        times = quarters(self.unit)
        technique = self._technique(hit, part, (string, grip.fret), slurs, times[length])
        note = TimedNote(
            onset=times[onset],
            length=times[length],
            ring=times[0],
            string=string,
            fret=grip.fret,
            finger=part.finger,
            midi=midi,
            fretting=grip.fretting,
            **signs_of(part),
            order=order,
            gesture=hit.gesture,
            slurs=slurs,
            literal=grip.named,
            muted=grip.muted,
            technique=technique,
            pluck_span=part.span,
        )
        held = (slurs[-1].fret, slurs[-1].fretting) if slurs else (grip.held_fret, grip.fretting)
        return Seed(note, onset, length, grip.held, *held, part.technique)

    def _technique(
        self,
        hit: Hit,
        part: Pluck | Brush,
        place: tuple[int, int],
        slurs: tuple[SlurredNote, ...],
        room: Fraction,
    ) -> NoteTechnique:
        """Return what is asked of a note at a string and fret; what cannot be done is noted and left out."""
        string, fret = place[0], slurs[-1].fret if slurs else place[1]
        if part.technique is PLAIN and not hit.slow:
            return NO_TECHNIQUE
        trilled = None
        if isinstance(part, Pluck):
            problem = why_not(part, fret)
            if problem is not None:
                self.faults.not_possible(part, *problem)
                return NO_TECHNIQUE
            trill = part.technique.trill
            if trill is not None and self._exists(string, trill.fret, part):
                midi = sounding(self.settings, string, trill.fret)
                trilled = TrilledNote(fret=trill.fret, midi=midi, fretting=trill.fretting)
        return technique_of(part.technique, trilled, len(slurs), room, hit.slow)

    def _tone(self, part: Pluck | Brush, string: int, grip: Grip) -> tuple[Grip, int] | None:
        """Return what is held while a string sounds, and its MIDI number; None after noting a fault."""
        midi = sounding(self.settings, string, grip.fret)
        if isinstance(part, Pluck) and part.technique.touch is not None:
            node = part.technique.touch - grip.fret
            if node not in HARMONICS:
                self.faults.no_touch(part, grip.fret, HARMONICS)
                return None
            return grip, midi + HARMONICS[node]
        if isinstance(part, Brush) or not part.harmonic:
            return grip, midi
        if part.fret is None:
            self.faults.harmonic_without_fret(part)
            return None
        if part.fret not in HARMONICS:
            self.faults.no_harmonic(part, HARMONICS)
            return None
        midi = sounding(self.settings, string, HARMONICS[part.fret])
        return evolve(grip, held_fret=0, held=None, fretting=None), midi

    def _grip(
        self, part: Pluck | Brush, voicing: Voicing, string: int, at_once: set[int], onset: int
    ) -> Grip | None:
        """Return how the string is stopped; None if the pluck names a fret that does not exist."""
        if isinstance(part, Pluck) and part.fret is not None:
            # A harmonic needs no fret under it, only the place.
            if not part.harmonic and not self._exists(string, part.fret, part):
                return None
            self._come_back(string, voicing, set(), onset)
            return self._at_named_fret(string, part.fret, voicing, part.fretting)
        if self.released:
            return Grip(0, 0, None, None)
        if isinstance(part, Pluck) and (hop := _hop_to(voicing, string)):
            return self._hop(hop, voicing, at_once, onset)
        self._come_back(string, voicing, at_once, onset)
        return self._as_held(part, string, voicing)

    def _at_named_fret(
        self, string: int, fret: int, voicing: Voicing, finger: FrettingFinger | None
    ) -> Grip:
        held = fret and voicing.fret(string) == fret and not self.released
        named = finger or (voicing.finger(string) if held else None)
        return Grip(fret, fret, named, voicing, named=True)

    def _exists(self, string: int, fret: int, part: Pluck) -> bool:
        """Whether a string has a fret; a fault is noted if not."""
        faults = self.resolver.voicings.faults
        if faults.has_fret(string, fret):
            return True
        self.faults.no_such_fret(part, string, fret, faults.too_high(string))
        return False

    def _as_held(self, part: Pluck | Brush, string: int, voicing: Voicing) -> Grip:
        """Return the fret that the voicing holds."""
        fret = voicing.fret(string)
        if fret is not None:
            return Grip(fret, fret, voicing.finger(string) if fret else None, voicing)
        if voicing.silent:  # Only dead notes sound where there is no chord.
            return Grip(0, 0, None, voicing)
        walked = isinstance(part, Pluck) and part.finger == "p" and part.string is None
        if walked and self._rings_open(string, voicing):
            return Grip(0, 0, None, voicing)
        held = [str(s) for s in self.resolver.plan.strings_of("p") if _plays(voicing, s)]
        self.faults.muted(
            part,
            string,
            voicing.name,
            walked,
            " ".join(held) or "5 4",
            self._offer(string, voicing),
        )
        return Grip(0, 0, None, voicing, muted=True)

    def _rings_open(self, string: int, voicing: Voicing) -> bool:
        """Whether the bass order may take a string that the voicing leaves out."""
        chord = self.resolver.voicings.chord(voicing)
        return chord is not None and chord.is_root_or_fifth(fingered(self.settings, string, 0))

    def _offer(self, string: int, voicing: Voicing) -> str:
        """Return words that offer a hop to the root or fifth on a string, if a finger is near it."""
        chord = self.resolver.voicings.chord(voicing)
        for held in voicing.bass:
            finger, fret = voicing.finger(held), voicing.fret(held)
            if chord is None or finger is None or not fret or voicing.strings_of(finger) != (held,):
                continue
            for place in (fret, fret + 1, fret - 1):
                if place and chord.is_root_or_fifth(fingered(self.settings, string, place)):
                    return f", or let a finger hop there: hop {finger} to {string}@{place}"
        return ", or let a finger hop there"

    # The finger that hops

    def _hop(self, hop: Hop, voicing: Voicing, at_once: set[int], onset: int) -> Grip:
        """Let a finger leave its strings for the one that is plucked."""
        left = [string for string in voicing.strings_of(hop.finger) if string != hop.string]
        both = [string for string in left if string in at_once]
        if both:
            self.faults.hop_from_a_plucked_string(hop, voicing.name, both[0])
        self.events += [(onset, CUT, string, None) for string in left if string not in at_once]
        self.away[hop.finger] = hop
        return Grip(hop.fret, hop.fret, hop.finger if hop.fret else None, None)

    def _come_back(self, string: int, voicing: Voicing, at_once: set[int], onset: int) -> None:
        """Bring a finger that has hopped away back when its own string is plucked."""
        if not self.away:
            return
        finger = voicing.finger(string)
        hop = self.away.get(finger) if finger else None
        if hop is not None and hop.string not in at_once:
            self.events.append((onset, CUT, hop.string, None))
            del self.away[hop.finger]

    def _slurs(
        self, part: Pluck | Brush, voicing: Voicing, string: int, onset: int, length: int
    ) -> tuple[SlurredNote, ...]:
        """Let slurred notes share the length of the pluck equally; grace notes take none of it."""
        if isinstance(part, Brush) or part.harmonic or not part.slurs:
            return ()
        length = 0 if part.technique.grace else length
        times = quarters(self.unit * (len(part.slurs) + 1))
        start = onset * (len(part.slurs) + 1)
        slurs: list[SlurredNote] = []
        for place, slur in enumerate(part.slurs, 1):
            if not self._exists(string, slur.fret, part):
                continue
            held = slur.fret and voicing.fret(string) == slur.fret and not self.released
            slurs.append(
                SlurredNote(
                    kind=slur.kind,
                    onset=times[start + place * length],
                    fret=slur.fret,
                    midi=sounding(self.settings, string, slur.fret),
                    fretting=slur.fretting or (voicing.finger(string) if held else None),
                )
            )
        return tuple(slurs)


def _hop_to(voicing: Voicing, string: int) -> Hop | None:
    return next((hop for hop in voicing.hops if hop.string == string), None)


def _plays(voicing: Voicing, string: int) -> bool:
    """Whether a voicing plays a string (which may lie outside the instrument)."""
    return 1 <= string <= len(voicing.frets) and voicing.fret(string) is not None
