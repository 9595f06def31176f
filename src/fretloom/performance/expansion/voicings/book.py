"""Voicings as written to voicings as held: `like` chains, changes, hops, bass orders."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import evolve

from fretloom.notation.model.voicing import VoicingEntry
from fretloom.performance.events import Settings
from fretloom.performance.expansion.faults import Faults
from fretloom.performance.expansion.voicings.bass import bass_order
from fretloom.performance.expansion.voicings.shapes import Shape, ShapeFault
from fretloom.performance.expansion.voicings.voicing_faults import (
    VoicingFaults,
    hop_spans,
    voicing_known,
)
from fretloom.performance.hands.fingering import fill_fingers
from fretloom.performance.material.gather import Material
from fretloom.performance.sounding.strings import fingered
from fretloom.text import only_near
from fretloom.trade.guitar.plucking import PickingPlan
from fretloom.trade.guitar.tunings import tuning_shift
from fretloom.trade.guitar.voicing import NO_CHORD, Hop, Voicing, is_no_chord
from fretloom.trade.harmony.chord_tones import ChordTones, chord_tones
from fretloom.trade.harmony.symbol import symbol_in_name


class VoicingBook:
    """All voicings a lesson can use, worked out when they are first asked for.

    `chosen` are the fingers of voicings that leave them open; `kept` holds those worked out in an
    earlier run: one that comes out the same stays the same object.
    """

    def __init__(
        self,
        material: Material,
        settings: Settings,
        plan: PickingPlan,
        faults: Faults,
        chosen: Mapping[str, tuple[str | None, ...]],
        kept: dict[str, Voicing],
    ) -> None:
        self._material = material
        self._settings = settings
        self._plan = plan
        self.faults = VoicingFaults(material, settings, faults)
        self._chosen = chosen
        self._kept = kept
        self._done: dict[str, Voicing | None] = {}
        self._noted = faults

    def find(self, name: str) -> Voicing | None:
        """Return a voicing worked out; None if it is unknown or faulty (a fault is noted once)."""
        if name not in self._done and name not in self._material.voicings and is_no_chord(name):
            name = NO_CHORD
        if name not in self._done:
            if name == NO_CHORD and name not in self._material.voicings:
                self._done[name] = self._silence()
            else:
                self._work_out(name)
        return self._done.get(name)

    def _silence(self) -> Voicing:
        """Return what is held where no chord is played: nothing."""
        count = self._settings.tuning.strings
        return Voicing(name=NO_CHORD, symbol=NO_CHORD, frets=(None,) * count, bass=(count,))

    def used(self) -> dict[str, Voicing]:
        """Return the lesson's own voicings and those of used files that it makes use of."""
        own = set(self._material.own_voicings)
        for name in own:
            self.find(name)
        written = [name for name in self._material.voicings if name in self._done]
        return {name: found for name in written if (found := self._done[name]) is not None}

    def names(self) -> list[str]:
        """Return the names of all voicings that are defined."""
        return list(self._material.voicings)

    def is_chord(self, name: str) -> bool:
        """Whether a name is a chord symbol in the lesson's way of naming notes."""
        symbol = symbol_in_name(name, self._settings.names)
        return bool(symbol) and chord_tones(symbol, self._settings.names) is not None

    def meant(
        self,
        name: str,
        at: VoicingEntry | None = None,
        *,
        shares: bool = False,
        alone: bool = False,
    ) -> str:
        """Return what was meant by a name that no voicing has, "" if that is not sure.

        That is one voicing, or, in a bar whose beats then add up (`shares`), one with its share (`E:3` for
        E3), or, where a bar has nothing else (`alone`), several bars (`E | A` for E-A). The name of a chord
        is only one in other capitals: it may be a voicing that is missing.
        """
        names = [one for one in self.names() if at is None or one != at.name]
        same = [one for one in names if one.lower() == name.lower()]
        if same or self.is_chord(name):
            return same[0] if len(same) == 1 else ""
        if name[:1] == "H" and f"B{name[1:]}" in names:
            return f"B{name[1:]}"
        held, beats = self.with_beats(name)
        if beats:
            return f"{held}:{beats}" if shares else ""
        bars = name.split("-")
        if len(bars) > 1 and all(one in names for one in bars):
            return " | ".join(bars) if alone else ""
        return only_near(name, names)

    def with_beats(self, name: str) -> tuple[str, int]:
        """Return the voicing and the beats that a name without a colon between them may stand for; ("", 0) if none."""
        held, last, known = name[:-1], name[-1:], self._material.voicings
        torn = held in known and name not in known and last in "123456789"
        return (held, int(last)) if torn else ("", 0)

    def chord(self, voicing: Voicing) -> ChordTones | None:
        """Return the tones of a voicing's chord symbol, as the tuning sounds them.

        On a guitar tuned down as a whole the symbol may name the shape: if only that fits what the
        strings sound, its tones are moved with the tuning.
        """
        tones = chord_tones(voicing.symbol, self._settings.names)
        shift = tuning_shift(self._settings.tuning) if tones else 0
        if tones is None or shift == 0 or len(voicing.frets) != self._settings.tuning.strings:
            return tones
        count = len(voicing.frets)
        pitches = [
            fingered(self._settings, count - place, fret)
            for place, fret in enumerate(voicing.frets)
            if fret is not None
        ]
        if all(map(tones.holds, pitches)):
            return tones
        moved = tones.raised(shift)
        return moved if all(map(moved.holds, pitches)) else tones

    def _work_out(self, name: str) -> None:
        """Follow the chain of `like` down to a voicing in frets, then build it up again."""
        chain: dict[str, VoicingEntry] = {}
        current = name
        while current not in self._done:
            entry = self._material.voicings.get(current)
            if entry is None:
                if chain:
                    last = next(reversed(chain.values()))
                    sought = self._noted.few and not voicing_known(current, self._material)
                    meant = self.meant(current, last) if sought else ""
                    self.faults.unknown_like(last, current, meant)
                self._done[current] = None
                break
            if current in chain:
                circle = list(chain.values())[list(chain).index(current) :]
                self.faults.cycle(circle)
                self._done |= {entry.name: None for entry in circle}
                break
            chain[current] = entry
            if not entry.like:
                break
            current = entry.like
        for entry in reversed(chain.values()):
            if entry.name not in self._done:
                parent = self._done.get(entry.like) if entry.like else None
                self._done[entry.name] = self._build(entry, parent)

    def _build(self, entry: VoicingEntry, parent: Voicing | None) -> Voicing | None:
        if entry.like and parent is None:
            return None
        if not self.faults.fits(entry):
            return None
        if parent is None:
            voicing = Voicing(
                name=entry.name,
                symbol=symbol_in_name(entry.name, self._settings.names),
                frets=entry.frets,
                fingers=entry.fingers,
                fingers_given=bool(entry.fingers),
            )
        else:
            changed = self._changed(entry, parent)
            if changed is None:
                return None
            voicing = changed
        voicing = fill_fingers(voicing, self._settings, self._chosen.get(entry.name, ()))
        voicing = self._with_hops(entry, voicing, parent)
        voicing = self._with_bass(entry, voicing, parent)
        kept = self._kept.get(entry.name)
        if kept == voicing:
            return kept
        self._kept[entry.name] = voicing
        return voicing

    def _changed(self, entry: VoicingEntry, parent: Voicing) -> Voicing | None:
        shape = Shape(parent.name, parent.frets, parent.fingers)
        span = entry.span
        try:
            for change in entry.changes:
                span = change.span or entry.span
                shape.apply(change)
            if entry.fingers:
                shape.refinger(entry.fingers)
            shape.settle()
        except ShapeFault as fault:
            self.faults.impossible_change(entry, span, fault)
            return None
        if not self.faults.still_there(entry, shape):
            return None
        needed = [index for index, fret in enumerate(shape.frets) if fret]
        known = shape.known and all(shape.fingers[index] for index in needed)
        return Voicing(
            name=entry.name,
            symbol=symbol_in_name(entry.name, self._settings.names),
            frets=tuple(shape.frets),
            fingers=tuple(shape.fingers) if known else (),
            fingers_given=known and (bool(entry.fingers) or parent.fingers_given),
        )

    def _with_hops(self, entry: VoicingEntry, voicing: Voicing, parent: Voicing | None) -> Voicing:
        if entry.hops:
            hops = [
                hop
                for hop, span in zip(entry.hops, hop_spans(entry), strict=True)
                if self.faults.can_hop(entry, voicing, hop, span)
            ]
            return evolve(voicing, hops=tuple(hops)) if hops else voicing
        if parent is None or not parent.hops:
            return voicing
        shift = sum(getattr(change, "frets", 0) for change in entry.changes)
        moved = [
            Hop(hop.finger, hop.string, hop.fret + shift)
            for hop in parent.hops
            if hop.fret + shift >= 0
        ]
        kept = tuple(
            hop
            for hop in moved
            if _holds_other(voicing, hop) and self.faults.has_fret(hop.string, hop.fret)
        )
        return evolve(voicing, hops=kept)

    def _with_bass(self, entry: VoicingEntry, voicing: Voicing, parent: Voicing | None) -> Voicing:
        if entry.bass:
            return evolve(voicing, bass=entry.bass, bass_given=True)
        if parent is not None and parent.bass_given and self._bass_suits(voicing, parent):
            return evolve(voicing, bass=parent.bass, bass_given=True)
        chord = self.chord(voicing)
        return evolve(voicing, bass=bass_order(voicing, self._settings, self._plan, chord))

    def _bass_suits(self, voicing: Voicing, parent: Voicing) -> bool:
        """Whether the order given for the voicing this one is like can be kept.

        It can where every string in it still sounds, and (for a chord) sounds a tone of it, the
        first string its root or slash bass.
        """
        chord = self.chord(voicing)
        hops = {hop.string: hop.fret for hop in voicing.hops}
        for place, string in enumerate(parent.bass):
            fret = hops.get(string, voicing.fret(string))
            if fret is None:
                return False
            pitch = fingered(self._settings, string, fret)
            if chord is not None and not chord.holds(pitch):
                return False
            if chord is not None and place == 0 and pitch % 12 not in (chord.root, chord.bass):
                return False
        return True


def _holds_other(voicing: Voicing, hop: Hop) -> bool:
    held = voicing.strings_of(hop.finger)
    return not voicing.fingers or (bool(held) and hop.string not in held)
