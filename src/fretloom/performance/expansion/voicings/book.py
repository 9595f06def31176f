"""Voicings as written to voicings as held: `like` chains, changes, hops, bass orders."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import evolve

from fretloom.notation.model.voicing import Add, Change, Move, Mute, VoicingEntry
from fretloom.performance.events import Settings
from fretloom.performance.expansion.faults import Faults, listed, nearest
from fretloom.performance.expansion.voicings.bass import bass_order
from fretloom.performance.expansion.voicings.shapes import Shape, ShapeFault
from fretloom.performance.hands.fingering import fill_fingers
from fretloom.performance.material.gather import Material, may_be_one_of
from fretloom.performance.settings import most_frets
from fretloom.performance.sounding.strings import fingered
from fretloom.source import Span
from fretloom.trade.guitar.plucking import PickingPlan
from fretloom.trade.guitar.tunings import tuning_shift
from fretloom.trade.guitar.voicing import Hop, Voicing, split_name
from fretloom.trade.harmony.chord_tones import ChordTones, chord_tones


class VoicingBook:
    """All voicings a lesson can use, worked out when they are first asked for.

    `chosen` are the fingers of voicings that leave them open; `kept` holds those worked out in an
    earlier go: one that comes out the same stays the same object.
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
        self._faults = faults
        self._frets = most_frets(material, settings.tuning)
        self._strings = settings.tuning.strings
        self._chosen = chosen
        self._kept = kept
        self._done: dict[str, Voicing | None] = {}

    def find(self, name: str) -> Voicing | None:
        """Return a voicing worked out; None if it is unknown or faulty (a fault is noted once)."""
        if name not in self._done:
            self._work_out(name)
        return self._done.get(name)

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
        """Whether a name is a chord symbol in the lesson's way to name notes."""
        symbol, _tag = split_name(name)
        return bool(symbol) and chord_tones(symbol, self._settings.names) is not None

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
                    self._unknown_like(next(reversed(chain.values())), current)
                self._done[current] = None
                break
            if current in chain:
                self._cycle(list(chain.values())[list(chain).index(current) :])
                break
            chain[current] = entry
            if not entry.like:
                break
            current = entry.like
        for entry in reversed(chain.values()):
            if entry.name not in self._done:
                parent = self._done.get(entry.like) if entry.like else None
                self._done[entry.name] = self._build(entry, parent)

    def _unknown_like(self, entry: VoicingEntry, name: str) -> None:
        if voicing_known(name, self._material):
            return
        near = nearest(name, (other for other in self.names() if other != entry.name))
        hint = f"did you mean {near}?" if near else f"add {name} to the voicings"
        message = f"{entry.name} is like {name}, but there is no voicing {name}"
        self._faults.add("unknown-voicing", entry.like_span or entry.span, message, hint)

    def _cycle(self, circle: list[VoicingEntry]) -> None:
        for entry in circle:
            self._done[entry.name] = None
        first = min(circle, key=lambda one: one.span.start if one.span else 0)
        if len(circle) == 1:
            message = f"{first.name} is said to be like itself"
        else:
            start = circle.index(first)
            names = [entry.name for entry in (*circle[start:], *circle[:start], first)]
            message = "voicings are like each other in a circle: " + " like ".join(names)
        hint = f"write the frets of {first.name}, for instance {first.name} x32010"
        self._faults.add("like-cycle", first.like_span or first.span, message, hint)

    def _build(self, entry: VoicingEntry, parent: Voicing | None) -> Voicing | None:
        if entry.like and parent is None:
            return None
        if not self._fits(entry):
            return None
        if parent is None:
            voicing = Voicing(
                name=entry.name,
                symbol=split_name(entry.name)[0],
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

    def _fits(self, entry: VoicingEntry) -> bool:
        """Check that the places named exist on the instrument."""
        count = self._strings
        for places, span, what in (
            (entry.frets, entry.frets_span, "frets"),
            (entry.fingers, entry.fingers_span, "fingers"),
        ):
            if places and len(places) != count:
                self._wrong_places(entry, what, len(places), span)
                return False
        sound = True
        for index, fret in enumerate(entry.frets):
            if fret is not None:
                sound &= self._exists(entry, count - index, fret, entry.frets_span)
        for change in entry.changes:
            sound &= self._change_exists(entry, change)
        for string in entry.bass:
            sound &= self._string_exists(entry, string, entry.bass_span)
        for hop, hop_span in zip(entry.hops, _hop_spans(entry), strict=True):
            sound &= self._exists(entry, hop.string, hop.fret, hop_span)
        return sound

    def _wrong_places(self, entry: VoicingEntry, what: str, found: int, span: Span | None) -> None:
        if "tuning" in self._material.unread_settings:
            return
        message = f"{entry.name} has {found} {what}, but the tuning has {self._strings} strings"
        hint = f"write {self._strings} places, "
        hint += "x for a string that is not played" if what == "frets" else ". for no finger"
        self._faults.add("wrong-places", span or entry.span, message, hint, key=entry.name)

    def _change_exists(self, entry: VoicingEntry, change: Change) -> bool:
        if isinstance(change, Add | Move):
            return self._exists(entry, change.string, change.fret, change.span)
        if isinstance(change, Mute):
            return self._string_exists(entry, change.string, change.span)
        return True

    def _string_exists(self, entry: VoicingEntry, string: int, span: Span | None) -> bool:
        if 1 <= string <= self._strings:
            return True
        message = f"{entry.name} names string {string}, but there are {self._strings} strings"
        hint = f"count from 1 (the highest) to {self._strings}"
        self._faults.add("no-such-string", span or entry.span, message, hint)
        return False

    def _exists(self, entry: VoicingEntry, string: int, fret: int, span: Span | None) -> bool:
        if not self._string_exists(entry, string, span):
            return False
        if self.has_fret(string, fret):
            return True
        if isinstance(span, Span) and span == entry.frets_span:
            place = f"{entry.name} is held at fret {fret} on string {string}"
        else:
            place = f"{entry.name} takes string {string} at fret {fret}"
        message, hint = self.too_high(string, fret)
        key = (entry.name, span)
        self._faults.add("no-such-fret", span or entry.span, f"{place}; {message}", hint, key=key)
        return False

    def has_fret(self, string: int, fret: int) -> bool:
        """Whether a string has a fret, counted from the capo."""
        return fret + self._settings.capo.on(string) <= self._frets

    def too_high(self, string: int, fret: int) -> tuple[str, str]:
        """Say why a fret is not there, and what is."""
        capo = self._settings.capo.on(string)
        most = max(self._frets - capo, 0)
        if capo:
            return (
                f"with the capo at {capo} the neck ends at fret {most}",
                f"frets count from the capo: write a fret up to {most}",
            )
        return f"the neck ends at fret {most}", f"write a fret up to {most}"

    def _changed(self, entry: VoicingEntry, parent: Voicing) -> Voicing | None:
        shape = Shape(parent.name, parent.frets, parent.fingers)
        span = entry.span
        try:
            for change in entry.changes:
                span = change.span or entry.span
                shape.apply(change)
            if entry.fingers:
                shape.fingers, shape.known = list(entry.fingers), True
            shape.settle()
        except ShapeFault as fault:
            message = f"{entry.name}: {fault.message}"
            self._faults.add(fault.rule, span, message, fault.hint, key=(entry.name, fault.rule))
            return None
        if not self._still_there(entry, shape):
            return None
        needed = [index for index, fret in enumerate(shape.frets) if fret]
        known = shape.known and all(shape.fingers[index] for index in needed)
        return Voicing(
            name=entry.name,
            symbol=split_name(entry.name)[0],
            frets=tuple(shape.frets),
            fingers=tuple(shape.fingers) if known else (),
            fingers_given=known and (bool(entry.fingers) or parent.fingers_given),
        )

    def _still_there(self, entry: VoicingEntry, shape: Shape) -> bool:
        """Check that moving up did not leave the neck."""
        for index, fret in enumerate(shape.frets):
            string = self._strings - index
            if fret is not None and not self.has_fret(string, fret):
                message, hint = self.too_high(string, fret)
                text = f"{entry.name} would be at fret {fret} on string {string}; {message}"
                self._faults.add("no-such-fret", entry.span, text, hint, key=entry.name)
                return False
        return True

    def _with_hops(self, entry: VoicingEntry, voicing: Voicing, parent: Voicing | None) -> Voicing:
        if entry.hops:
            hops = [
                hop
                for hop, span in zip(entry.hops, _hop_spans(entry), strict=True)
                if self._can_hop(entry, voicing, hop, span)
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
            if _holds_other(voicing, hop) and self.has_fret(hop.string, hop.fret)
        )
        return evolve(voicing, hops=kept)

    def _can_hop(self, entry: VoicingEntry, voicing: Voicing, hop: Hop, span: Span | None) -> bool:
        if not voicing.fingers:
            return True
        held = voicing.strings_of(hop.finger)
        if held and hop.string not in held:
            return True
        who = "the thumb" if hop.finger == "T" else f"finger {hop.finger}"
        if held:
            message = (
                f"{entry.name}: {who} already holds string {hop.string}, so it cannot hop there"
            )
            hint = "name a string that the finger does not hold"
        else:
            message = f"{entry.name}: {who} holds no string that it could hop from"
            used = sorted({finger for finger in voicing.fingers if finger})
            hint = f"let another finger hop ({listed(used, 'or')})" if used else "take the hop out"
        self._faults.add("hop-impossible", span, message, hint)
        return False

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


def voicing_known(name: str, material: Material) -> bool:
    """Whether a voicing is defined, soundly or not."""
    return (
        name in material.voicings
        or name in material.unread_words
        or material.incomplete
        or may_be_one_of(name, material.broken_voicings)
    )


def _hop_spans(entry: VoicingEntry) -> tuple[Span | None, ...]:
    return entry.hop_spans or (entry.span,) * len(entry.hops)


def _holds_other(voicing: Voicing, hop: Hop) -> bool:
    held = voicing.strings_of(hop.finger)
    return not voicing.fingers or (bool(held) and hop.string not in held)
