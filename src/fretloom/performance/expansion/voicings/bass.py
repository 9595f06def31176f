"""The order in which the thumb walks over a voicing's strings if the teacher did not write one.

Root, inner string, alternate bass, inner string, as pages and teachers of fingerpicking agree
(common practice; they differ most on the alternate of D): beat 1 is the root, the inner string is
the thumb string next to the fingers, the alternate is another thumb string of the chord. In
re-entrant tunings the pitch decides, not the string's number.
"""

from __future__ import annotations

from fretloom.performance.events import Settings
from fretloom.performance.sounding.strings import fingered
from fretloom.trade.guitar.plucking import PickingPlan, usual_plan
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.chord_tones import ChordTones


def bass_order(
    voicing: Voicing, settings: Settings, plan: PickingPlan, chord: ChordTones | None
) -> tuple[int, ...]:
    """Return the derived bass order of a voicing; never empty."""
    return _Walk(voicing, settings, plan, chord).order()


class _Walk:
    """The strings of one voicing as the thumb sees them."""

    def __init__(
        self, voicing: Voicing, settings: Settings, plan: PickingPlan, chord: ChordTones | None
    ) -> None:
        count = len(voicing.frets)
        self.settings = settings
        self.voicing = voicing
        self.chord = chord
        self.hops = {hop.string: hop.fret for hop in voicing.hops}
        home = plan.strings_of("p") or usual_plan(count).strings_of("p")
        self.thumb = sorted((s for s in home if 1 <= s <= count), key=self.open_pitch)
        self.played = [s for s in self.thumb if voicing.fret(s) is not None]

    def open_pitch(self, string: int) -> int:
        return fingered(self.settings, string, 0)

    def pitch(self, string: int) -> int | None:
        """Return what a string sounds in the voicing, or after a hop; None if it is not played."""
        fret = self.hops.get(string, self.voicing.fret(string))
        return None if fret is None else fingered(self.settings, string, fret)

    def order(self) -> tuple[int, ...]:
        if not self.played:
            return (self.lowest(),)
        if len(self.thumb) == 1:
            return (self.thumb[0],)
        root, inner = self.root(), self.played[-1]
        if root == inner:
            return self.beside(root)
        alternate = self.alternate(root, inner)
        if alternate is None:
            return root, inner, root, inner
        if self.chord and self.chord.is_weak(self.pitch(inner) or 0):
            return root, alternate, root, alternate
        return root, inner, alternate, inner

    def lowest(self) -> int:
        """Return the lowest string that sounds, for voicings that mute all of the thumb's own strings."""
        count = len(self.voicing.frets)
        sounding = [s for s in range(1, count + 1) if self.voicing.fret(s) is not None]
        pool = sounding or self.thumb or [count]
        return min(pool, key=lambda string: self.pitch(string) or 0)

    def root(self) -> int:
        """Return the string of beat 1: that of a slash bass, which is written to be heard first, or the root's."""
        chord = self.chord
        if chord is None:
            return self.played[0]
        wanted = [chord.root]
        if chord.bass is not None:
            wanted.insert(0, chord.bass)
        for pitch_class in wanted:
            for string in self.played:
                if fingered(self.settings, string, self.voicing.fret(string) or 0) % 12 == (
                    pitch_class
                ):
                    return string
        return self.played[0]

    def alternate(self, root: int, inner: int) -> int | None:
        """Return another thumb string that the voicing holds or a hop reaches."""
        candidates = [s for s in self.thumb if s not in (root, inner) and self.suits(s)]
        return min(candidates, key=lambda s: (self.rank(s), self.steps(s, root)), default=None)

    def beside(self, root: int) -> tuple[int, ...]:
        """Return the order where the root is on the thumb string next to the fingers."""
        candidates = [s for s in self.thumb if s != root and (self.suits(s) or self.rings_open(s))]
        other = min(candidates, key=lambda s: (self.steps(s, root), self.rank(s)), default=None)
        if other is None and self.chord and root > 1 and self.voicing.fret(root - 1) is not None:
            other = root - 1
        return (root,) if other is None else (root, other, root, other)

    def suits(self, string: int) -> bool:
        pitch = self.pitch(string)
        return pitch is not None and (self.chord is None or self.chord.holds(pitch))

    def rings_open(self, string: int) -> bool:
        """Whether a string the voicing leaves out can be plucked open all the same."""
        if self.pitch(string) is not None or self.chord is None:
            return False
        return self.chord.is_root_or_fifth(self.open_pitch(string))

    def rank(self, string: int) -> int:
        pitch = self.pitch(string)
        sounds = self.open_pitch(string) if pitch is None else pitch
        return self.chord.rank(sounds) if self.chord else 0

    def steps(self, string: int, root: int) -> int:
        return abs(self.thumb.index(string) - self.thumb.index(root))
