"""Finds what the names in a lesson stand for; each unknown name is a fault, told once."""

from __future__ import annotations

from fretloom.notation.model.heading import FIELDS
from fretloom.notation.model.pattern import Pattern
from fretloom.performance.events import Settings
from fretloom.performance.expansion.bars.strokes import Place, beat_extents, lay_out
from fretloom.performance.expansion.faults import Faults, counted, nearest
from fretloom.performance.expansion.voicings.book import VoicingBook
from fretloom.performance.material.gather import Material, may_be_one_of
from fretloom.performance.settings import picking_plan, read_settings
from fretloom.source import Span
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import Meter


class PatternLayout:
    """A pattern laid out in its meter: the places of each of its bars."""

    __slots__ = ("bars", "meter", "name")

    def __init__(self, name: str, meter: Meter, bars: tuple[tuple[Place, ...], ...]) -> None:
        self.name = name
        self.meter = meter
        self.bars = bars


class Resolver:
    """The voicings, patterns and settings of a lesson, and the faults in them."""

    def __init__(self, material: Material, faults: Faults) -> None:
        self.material = material
        self.faults = faults
        self.settings: Settings = read_settings(material)
        self.plan = picking_plan(material, self.settings.tuning)
        self.voicings = VoicingBook(material, self.settings, self.plan, faults)
        self._strays: set[str] = set()
        self._patterns: dict[str, PatternLayout | None] = {}

    def check_own(self) -> None:
        """Work out all that the lesson itself defines, so that faults in it are found."""
        for name in self.material.own_voicings:
            self.voicings.find(name)
        for name in self.material.own_patterns:
            self._pattern(name)

    def voicing(self, name: str, span: Span | None, where: str) -> Voicing | None:
        """Return a voicing; `where` names the place that uses it, for the message."""
        found = self.voicings.find(name)
        if found is None and not self.voicings.known(name) and name not in self._strays:
            near = nearest(name, self.voicings.names())
            hint = f"did you mean {near}?" if near else f"add {name} to the voicings"
            if near and near.lower() != name.lower() and self.voicings.is_chord(name):
                hint = f"add {name} to the voicings; or did you mean {near}?"
            message = f"{where}: there is no voicing {name}"
            self.faults.add("unknown-voicing", span, message, hint, key=name)
        return found

    def pattern(self, name: str, span: Span | None, where: str) -> PatternLayout | None:
        """Return a pattern laid out; `where` names the place that uses it."""
        material = self.material
        known = name in material.patterns or may_be_one_of(name, material.broken_patterns)
        if not known and not material.incomplete and name not in material.unread_words:
            near = nearest(name, material.patterns)
            hint = f"did you mean {near}?" if near else f"add {name} to the patterns"
            message = f"{where}: there is no pattern {name}"
            self.faults.add("unknown-pattern", span, message, hint, key=name)
            return None
        return self._pattern(name)

    def stray(self, names: list[str], span: Span | None) -> bool:
        """Note a line that was read as bars of a section and belongs to another block."""
        first = names[0]
        if self.voicings.known(first):
            return False
        if first in self.material.sections:
            message = f"{first} is a section, and stands here among the bars of another one"
            hint = "say the order of sections under a line `form` that starts in column one"
            key = "form"
        elif first in FIELDS or first == "show":
            block = "a step" if first == "show" else "the heading"
            message = f"`{first}` belongs to {block}, and stands here among the bars of a section"
            hint = f"move the line to {block}"
            key = f"{first} {span and span.start}"
        else:
            return False
        self._strays.update(name for name in names if not self.voicings.known(name))
        self.faults.add("unknown-voicing", span, message, hint, key=key)
        return True

    def section_unknown(self, name: str, span: Span | None, where: str) -> None:
        """Note a section that is not there, unless it only could not be read."""
        material = self.material
        broken = material.broken_sections
        unread = name in material.unread_words or "" in broken
        if material.incomplete or unread or may_be_one_of(name, broken):
            return
        near = nearest(name, material.sections)
        hint = f"did you mean {near}?" if near else f"write its bars: section {name}"
        if not near and material.sections:
            hint = "the sections are " + ", ".join(material.sections)
        message = f"{where}: there is no section {name}"
        self.faults.add("unknown-section", span, message, hint, key=name)

    def _pattern(self, name: str) -> PatternLayout | None:
        if name not in self._patterns:
            entry = self.material.patterns.get(name)
            self._patterns[name] = self._lay_out(entry) if entry else None
        return self._patterns[name]

    def _lay_out(self, entry: Pattern) -> PatternLayout | None:
        meter = entry.meter or self.settings.meter
        extents = beat_extents(meter, meter.beat_starts[0], meter.length)
        sound = True
        for number, bar in enumerate(entry.bars, 1):
            if len(bar.beats) != len(extents):
                sound = False
                self._wrong_beats(entry, meter, number, len(bar.beats), bar.span)
        if not sound or not entry.bars:
            return None
        return PatternLayout(entry.name, meter, tuple(lay_out(bar, extents) for bar in entry.bars))

    def _wrong_beats(
        self, entry: Pattern, meter: Meter, number: int, found: int, span: Span | None
    ) -> None:
        if entry.meter is None and "meter" in self.material.unread_settings:
            return
        which = (
            f"bar {number} of the pattern {entry.name}"
            if len(entry.bars) > 1
            else (f"the pattern {entry.name}")
        )
        wanted = len(meter.beats)
        message = f"{which} has {counted(found, 'beat')}, but {meter} has {wanted}"
        hint = beats_hint(found, wanted, meter)
        if entry.meter is None and (other := _meter_of(found, meter)):
            hint += f"; if it is for another meter, say so: {entry.name} in {other}: ..."
        self.faults.add("pattern-beats", span or entry.span, message, hint)


def beats_hint(found: int, wanted: int, meter: Meter) -> str:
    """Say how to come to the right number of beats."""
    if found == meter.units and meter.pulses is None:
        return f"write the meter as {meter} in {found} to count every note, or join some: commas separate beats"
    if found < wanted:
        missing = counted(wanted - found, "beat")
        return f"add {missing}, each after a comma (- where nothing is plucked)"
    return f"take {counted(found - wanted, 'beat')} out, or join some: commas separate beats"


def _meter_of(beats: int, meter: Meter) -> str:
    """Name the meter of so many such beats, where there is one that is met in practice."""
    if len(set(meter.beats)) == 1 and meter.pulses is None and beats in (2, 3, 4, 5):
        units = beats * int(meter.beat_units[0])
        return f"{units}/{meter.unit}"
    return ""
