"""How long a note sounds where its pluck says so: held to a count or for some beats, ringing, damped."""

from __future__ import annotations

from fractions import Fraction

from fretloom.notation.model.details.technique import PLAIN, Technique
from fretloom.performance.events import TimedNote
from fretloom.performance.expansion.faults import Faults
from fretloom.performance.expansion.form.slots import Slot
from fretloom.performance.expansion.timing.template import Seed


class Lengths:
    """Ends notes where their plucks ask for it, and notes where the hands end them before."""

    def __init__(self, faults: Faults) -> None:
        self._faults = faults

    def of(self, seed: Seed, ring: Fraction, slot: Slot) -> tuple[Fraction, Fraction | None]:
        """Return how long a note sounds that would ring for `ring`, and for how long it is to be held."""
        said, note = seed.said, seed.note
        if said is PLAIN:
            return ring, None
        if said.lasting == "damped":
            return min(ring, note.length), None
        if said.lasting == "ring":
            if ring < note.length and not note.dead:
                hint = "leave .ring out, or let the string and its finger free for longer"
                self._stopped(note, slot, "is to ring on", ring, hint)
            return ring, None
        held = self._held(said, note, slot)
        if held is not None and held > ring:
            hint = "hold it for less, or let the string and its finger free for longer"
            self._stopped(note, slot, f"is to be held {_until(said)}", ring, hint)
        return (ring, None) if held is None else (min(ring, held), held)

    def _held(self, said: Technique, note: TimedNote, slot: Slot) -> Fraction | None:
        at = slot.start + note.onset
        if said.held_for is not None:
            return _forward(slot, at, said.held_for) - at
        if said.held_to is None:
            return None
        end = slot.meter.position(said.held_to)
        if slot.kind != "full" and at < end < slot.meter.length:
            end = min(end, slot.start + slot.length)  # A pattern of whole bars is cut with the bar.
            return end - at
        if at < end < slot.start + slot.length:
            return end - at
        what = f"{slot.where}: the note on string {note.string}"
        if end > at:
            message = f"{what} is to be held to {said.held_to}, but the bar ends before that count"
            hint = "name a count before the bar line, or say for how many beats: .for-2"
        else:
            begins = slot.meter.count_at(at)
            message = f"{what} begins on {begins}, so it cannot be held to {said.held_to}"
            hint = "name a later count of the bar; .for-2 holds it for two beats, over the bar line if need be"
        self._add(note, slot, message, hint)
        return None

    def _add(self, note: TimedNote, slot: Slot, message: str, hint: str) -> None:
        """Note a fault; in whichever bars a pluck of a pattern is played, it is one."""
        span = note.pluck_span
        self._faults.add("cannot-be-held", span or slot.bar.span, message, hint, key=span)

    def _stopped(self, note: TimedNote, slot: Slot, what: str, ring: Fraction, hint: str) -> None:
        end = slot.start + note.onset + ring
        when = f"on {slot.meter.count_at(end)}"
        if end >= slot.start + slot.length:
            when = "with the bar" if end == slot.start + slot.length else "in a later bar"
        message = f"{slot.where}: the note on string {note.string} {what}, but it is stopped {when}"
        self._add(note, slot, message, hint)


def _until(said: Technique) -> str:
    return f"to {said.held_to}" if said.held_to is not None else f"for {said.held_for} beats"


def _forward(slot: Slot, at: Fraction, beats: Fraction) -> Fraction:
    """Return where a number of beats ends that begin at a place of a bar; beats beyond it are as its last."""
    return slot.meter.quarters(slot.meter.beat_at(at) + beats)
