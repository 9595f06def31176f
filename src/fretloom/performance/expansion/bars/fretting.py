"""One pluck: what the fretting hand makes it sound, with hops, harmonics and slurs."""

from __future__ import annotations

from fractions import Fraction

from fretloom.notation.model.pattern import Brush, Pluck
from fretloom.performance.events import SlurredNote
from fretloom.performance.expansion.bars.template import CUT, Event, Finding, Seed, Template
from fretloom.performance.expansion.faults import nearest
from fretloom.performance.expansion.resolve import Resolver
from fretloom.performance.expansion.words import part_words
from fretloom.performance.sounding.strings import fingered, sounding
from fretloom.source import Span
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.trade.wording import PICKING_FINGER_WORDS as FINGER_WORDS

__all__ = ["FINGER_WORDS", "HARMONICS", "FrettingHand", "plays"]

#: Semitones above the open string of the natural harmonic at a fret (the harmonic series).
HARMONICS = {12: 12, 7: 19, 19: 19, 5: 24, 24: 24, 4: 28, 9: 28, 16: 28, 3: 31}


class FrettingHand:
    """The fretting hand in the course of one bar.

    `voicing` is what it holds, `released` whether it has let go, `away` the hops under way by
    finger. What it does to ringing strings is noted in `raw_events`, faults in the template.
    """

    def __init__(self, resolver: Resolver, template: Template) -> None:
        self.resolver = resolver
        self.settings = resolver.settings
        self.strings = self.settings.tuning.strings
        self.template = template
        self.raw_events: list[Event] = []
        self.voicing: Voicing | None = None
        self.released = False
        self.away: dict[str, Hop] = {}

    def event(
        self, at: Fraction, kind: int, string: int = 0, voicing: Voicing | None = None
    ) -> None:
        """Note what may stop a string (0: all strings)."""
        self.raw_events.append((at, kind, string, voicing))

    def find(self, rule: str, message: str, hint: str, span: Span | None, key: object) -> None:
        """Note a fault of the bar."""
        self.template.findings.append(Finding(rule, "{where}: " + message, hint, span, key))

    def pluck(
        self,
        onset: Fraction,
        length: Fraction,
        part: Pluck | Brush,
        string: int,
        at_once: set[int],
    ) -> Seed | None:
        """Return the note of a pluck; None after noting that it cannot be.

        `at_once` holds all strings that are plucked at the same instant.
        """
        seed = Seed(onset, length, string, 0)
        seed.finger, seed.accent, seed.dead = part.finger, part.accent, part.dead
        seed.pluck_span = part.span
        voicing = self.voicing
        assert voicing is not None
        seed.held = voicing
        if isinstance(part, Pluck) and part.fret is not None:
            if not self.at_named_fret(seed, part, voicing, part.fret):
                return None
        elif self.released:
            seed.held = None
        elif isinstance(part, Pluck) and (hop := _hop_to(voicing, string)):
            self.hop(seed, hop, voicing, at_once)
        else:
            self.as_held(seed, part, voicing, at_once)
        seed.midi = sounding(self.settings, string, seed.fret)
        if isinstance(part, Brush):
            seed.brush = 1 if part.first >= part.last else -1
        elif part.harmonic and not self.harmonic(seed, part):
            return None
        elif part.slurs:
            self.slur(seed, part, voicing)
        return seed

    def at_named_fret(self, seed: Seed, part: Pluck, voicing: Voicing, fret: int) -> bool:
        """Take the fret that the pluck names; False if the string has no such fret."""
        if not self.exists(seed.string, fret, part):
            return False
        seed.literal = True
        seed.fret = seed.held_fret = fret
        if fret and voicing.fret(seed.string) == fret and not self.released:
            seed.fretting = voicing.finger(seed.string)
        self.come_back(seed, voicing, set())
        return True

    def exists(self, string: int, fret: int, part: Pluck) -> bool:
        """Whether a string has a fret; a fault is noted if not."""
        book = self.resolver.voicings
        if book.has_fret(string, fret):
            return True
        why, hint = book.too_high(string, fret)
        message = f"{part_words(part)} means fret {fret} on string {string}, but {why}"
        self.find("no-such-fret", message, hint, part.span, id(part))
        return False

    def as_held(self, seed: Seed, part: Pluck | Brush, voicing: Voicing, at_once: set[int]) -> None:
        """Take the fret that the voicing holds."""
        self.come_back(seed, voicing, at_once)
        fret = voicing.fret(seed.string)
        if fret is None:
            if not self.rings_open(part, seed.string, voicing):
                seed.muted = True
                self.muted(part, seed.string, voicing)
            return
        seed.fret = seed.held_fret = fret
        seed.fretting = voicing.finger(seed.string) if fret else None

    def rings_open(self, part: Pluck | Brush, string: int, voicing: Voicing) -> bool:
        """Whether the bass order may take a string that the voicing leaves out."""
        walked = isinstance(part, Pluck) and part.finger == "p" and part.string is None
        chord = self.resolver.voicings.chord(voicing)
        if not walked or chord is None:
            return False
        return chord.is_root_or_fifth(fingered(self.settings, string, 0))

    def muted(self, part: Pluck | Brush, string: int, voicing: Voicing) -> None:
        """Note that a string is plucked which the voicing does not play."""
        walked = part.finger == "p" and isinstance(part, Pluck) and part.string is None
        name = voicing.name
        held = [str(s) for s in self.resolver.plan.strings_of("p") if plays(voicing, s)]
        if walked:
            message = f"the bass order of {name} leads the thumb to string {string}, which {name} does not play"
            hint = f"give another order, for instance bass {' '.join(held) or '5 4'}{self.hop_offer(string, voicing)}"
        else:
            message = (
                f"{FINGER_WORDS[part.finger]} ({part.finger}) plucks string {string}, "
                f"which {name} does not play"
            )
            hint = "pluck another string, or use a voicing that plays it"
            if part.finger == "p":
                hint = f"pluck another string{self.hop_offer(string, voicing)}"
        self.find("muted-string-plucked", message, hint, None, (name, string, walked))

    def hop_offer(self, string: int, voicing: Voicing) -> str:
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

    def hop(self, seed: Seed, hop: Hop, voicing: Voicing, at_once: set[int]) -> None:
        """Let a finger leave its strings for the one that is plucked."""
        left = [string for string in voicing.strings_of(hop.finger) if string != hop.string]
        both = [string for string in left if string in at_once]
        if both:
            message = (
                f"finger {hop.finger} of {voicing.name} cannot hold string {both[0]} "
                f"and hop to string {hop.string} at one instant"
            )
            hint = "pluck the two strings one after the other, or name another string"
            self.find("hop-impossible", message, hint, None, (voicing.name, hop.string, both[0]))
        for string in left:
            if string not in at_once:
                self.event(seed.onset, CUT, string)
        self.away[hop.finger] = hop
        seed.fret = seed.held_fret = hop.fret
        seed.fretting = hop.finger if hop.fret else None
        seed.held = None

    def come_back(self, seed: Seed, voicing: Voicing, at_once: set[int]) -> None:
        """Bring a finger that has hopped away back when its own string is plucked."""
        finger = voicing.finger(seed.string)
        hop = self.away.get(finger) if finger else None
        if hop is not None and hop.string not in at_once:
            self.event(seed.onset, CUT, hop.string)
            del self.away[hop.finger]

    # What is not a plain note

    def harmonic(self, seed: Seed, part: Pluck) -> bool:
        """Give a natural harmonic its pitch; without a fret it is the octave of what is held."""
        seed.harmonic = True
        if part.fret is None:
            seed.midi += 12
            return True
        if part.fret not in HARMONICS:
            near = nearest(str(part.fret), map(str, HARMONICS)) or "12"
            message = f"there is no natural harmonic at fret {part.fret} ({part_words(part)})"
            hint = f"harmonics ring at frets 12, 7, 5, 4, 3, 9, 16, 19 and 24: did you mean {near}?"
            self.find("no-such-fret", message, hint, part.span, id(part))
            return False
        seed.midi = sounding(self.settings, seed.string, HARMONICS[part.fret])
        seed.held_fret, seed.held, seed.fretting = 0, None, None
        return True

    def slur(self, seed: Seed, part: Pluck, voicing: Voicing) -> None:
        """Let slurred notes share the length of the pluck equally."""
        share = seed.length / (len(part.slurs) + 1)
        slurs: list[SlurredNote] = []
        for place, slur in enumerate(part.slurs, 1):
            if not self.exists(seed.string, slur.fret, part):
                continue
            held = slur.fret and voicing.fret(seed.string) == slur.fret and not self.released
            slurs.append(
                SlurredNote(
                    kind=slur.kind,
                    onset=seed.onset + place * share,
                    fret=slur.fret,
                    midi=sounding(self.settings, seed.string, slur.fret),
                    fretting=voicing.finger(seed.string) if held else None,
                )
            )
            seed.held_fret = slur.fret
        seed.slurs = tuple(slurs)


def _hop_to(voicing: Voicing, string: int) -> Hop | None:
    return next((hop for hop in voicing.hops if hop.string == string), None)


def plays(voicing: Voicing, string: int) -> bool:
    """Whether a voicing plays a string (which may lie outside the instrument)."""
    return 1 <= string <= len(voicing.frets) and voicing.fret(string) is not None
