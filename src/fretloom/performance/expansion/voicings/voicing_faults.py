"""What cannot be in a line of the voicings block, in words: places off the neck, names, hops."""

from __future__ import annotations

from fretloom.notation.model.voicing import Add, Change, Move, Mute, VoicingEntry
from fretloom.performance.events import Settings
from fretloom.performance.expansion.faults import Faults, renamed
from fretloom.performance.expansion.voicings.shapes import Shape, ShapeFault
from fretloom.performance.material.gather import Material, may_be_one_of
from fretloom.performance.settings import instrument_in
from fretloom.source import Span
from fretloom.text import listed
from fretloom.trade.guitar.voicing import Hop, Voicing


class VoicingFaults:
    """Looks at entries of the voicings block and notes what is wrong with them."""

    def __init__(self, material: Material, settings: Settings, faults: Faults) -> None:
        self._material = material
        self._faults = faults
        self._capo = settings.capo
        self._frets = instrument_in(material, settings.tuning).frets
        self._strings = settings.tuning.strings
        self._named = "instrument" in material.settings

    # Names

    def unknown_like(self, entry: VoicingEntry, name: str, meant: str) -> None:
        """Note an entry that is like one that does not exist, unless that one only could not be read.

        `meant` is the voicing that it means, if that is sure.
        """
        if voicing_known(name, self._material):
            return
        known = (other for other in self._material.voicings if other != entry.name)
        near = self._faults.nearest(name, known)
        hint = f"did you mean {near}?" if near else f"add {name} to the voicings"
        message = f"{entry.name} is like {name}, but there is no voicing {name}"
        edits = renamed(entry.like_span, name, meant)
        self._faults.add(
            "unknown-voicing", entry.like_span or entry.span, message, hint, edits=edits
        )

    def cycle(self, circle: list[VoicingEntry]) -> None:
        """Note entries that are like each other and all without frets."""
        first = min(circle, key=lambda one: one.span.start if one.span else 0)
        if len(circle) == 1:
            message = f"{first.name} is said to be like itself"
        else:
            start = circle.index(first)
            names = [entry.name for entry in (*circle[start:], *circle[:start], first)]
            message = "voicings are like each other in a circle: " + " like ".join(names)
        hint = f"write the frets of {first.name}, for instance {first.name} x32010"
        self._faults.add("like-cycle", first.like_span or first.span, message, hint)

    # Places on the neck

    def has_fret(self, string: int, fret: int) -> bool:
        """Whether a string has a fret, counted from the capo."""
        return fret + self._capo.on(string) <= self._frets

    def too_high(self, string: int) -> tuple[str, str]:
        """Return why a string does not have a fret, and a hint on the frets it has."""
        capo = self._capo.on(string)
        most = max(self._frets - capo, 0)
        if capo:
            return (
                f"with the capo at {capo} the neck ends at fret {most}",
                f"frets count from the capo: write a fret up to {most}",
            )
        longer = "" if self._named else ", or name an instrument with a longer neck in the heading"
        return f"the neck ends at fret {most}", f"write a fret up to {most}{longer}"

    def fits(self, entry: VoicingEntry) -> bool:
        """Whether the places that an entry names exist on the instrument."""
        count = self._strings
        for places, span, what in (
            (entry.frets, entry.frets_span, "frets"),
            (entry.fingers, entry.fingers_span, "fingers"),
        ):
            if places and len(places) != count:
                self._wrong_places(entry, what, len(places), span)
                return False
        fits = True
        for index, fret in enumerate(entry.frets):
            if fret is not None:
                fits &= self._exists(entry, count - index, fret, entry.frets_span)
        for change in entry.changes:
            fits &= self._change_exists(entry, change)
        for string in entry.bass:
            fits &= self._string_exists(entry, string, entry.bass_span)
        for hop, hop_span in zip(entry.hops, hop_spans(entry), strict=True):
            fits &= self._exists(entry, hop.string, hop.fret, hop_span)
        return fits

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
        place = f"takes string {string} at fret {fret}"
        if span is not None and span == entry.frets_span:
            place = f"is held at fret {fret} on string {string}"
        why, hint = self.too_high(string)
        message = f"{entry.name} {place}; {why}"
        self._faults.add("no-such-fret", span or entry.span, message, hint, key=(entry.name, span))
        return False

    def still_there(self, entry: VoicingEntry, shape: Shape) -> bool:
        """Whether a shape that was moved up is still on the neck."""
        for index, fret in enumerate(shape.frets):
            string = self._strings - index
            if fret is not None and not self.has_fret(string, fret):
                why, hint = self.too_high(string)
                message = f"{entry.name} would be at fret {fret} on string {string}; {why}"
                self._faults.add("no-such-fret", entry.span, message, hint, key=entry.name)
                return False
        return True

    # Fingers

    def impossible_change(self, entry: VoicingEntry, span: Span | None, fault: ShapeFault) -> None:
        """Note a change that cannot be made."""
        message = f"{entry.name}: {fault.message}"
        self._faults.add(fault.rule, span, message, fault.hint, key=(entry.name, fault.rule))

    def can_hop(self, entry: VoicingEntry, voicing: Voicing, hop: Hop, span: Span | None) -> bool:
        """Whether a finger has a place to hop from."""
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
            message = f"{entry.name}: {who} does not hold a string to hop from"
            used = sorted({finger for finger in voicing.fingers if finger})
            hint = f"let another finger hop ({listed(used, 'or')})" if used else "remove the hop"
        self._faults.add("hop-impossible", span, message, hint)
        return False


def voicing_known(name: str, material: Material) -> bool:
    """Whether a voicing is defined, rightly or wrongly."""
    return (
        name in material.voicings
        or name in material.unread_words
        or material.incomplete
        or may_be_one_of(name, material.broken_voicings)
    )


def hop_spans(entry: VoicingEntry) -> tuple[Span | None, ...]:
    """Return where the hops of an entry stand."""
    return entry.hop_spans or (entry.span,) * len(entry.hops)
