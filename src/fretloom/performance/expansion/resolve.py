"""Finds what the names in a lesson stand for; each unknown name is a fault, reported once."""

from __future__ import annotations

from collections.abc import Mapping

from fretloom.notation.model.pattern import Pattern
from fretloom.notation.syntax.synonyms import said_in_bars
from fretloom.performance.events import Settings
from fretloom.performance.expansion.faults import Faults, renamed
from fretloom.performance.expansion.timing.strokes import beat_extents, lay_out
from fretloom.performance.expansion.voicings.book import VoicingBook
from fretloom.performance.expansion.voicings.voicing_faults import voicing_known
from fretloom.performance.expansion.workings import PatternLayout, Workings
from fretloom.performance.material.gather import Material, may_be_one_of
from fretloom.performance.settings import picking_plan
from fretloom.source import Span
from fretloom.text import counted
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import Meter


class Resolver:
    """The voicings, patterns and settings of a lesson, and the faults in them.

    Args:
        chosen: fingers for voicings that leave them open, by name; other voicings get the
            likeliest.
        strays: names in lines that belong to other blocks; no fault is found in them.
        workings: what an earlier run has worked out.
    """

    def __init__(
        self,
        material: Material,
        settings: Settings,
        faults: Faults,
        chosen: Mapping[str, tuple[str | None, ...]],
        strays: frozenset[str],
        workings: Workings,
    ) -> None:
        self.material = material
        self.faults = faults
        self.settings = settings
        self.plan = picking_plan(material, settings.tuning)
        self.workings = workings
        self.voicings = VoicingBook(
            material, settings, self.plan, faults, chosen, workings.voicings
        )
        self._strays = strays
        self._faulty: set[str] = set()

    def check_own(self) -> None:
        """Work out all that the lesson itself defines, so that faults in it are found."""
        for name in self.material.own_voicings:
            self.voicings.find(name)
        for name in self.material.own_patterns:
            self._pattern(name)

    def voicing(
        self, name: str, span: Span | None, where: str, *, shares: bool = False, alone: bool = False
    ) -> Voicing | None:
        """Return a voicing; `where` names the place that uses it, for the message.

        `shares` and `alone` say what else may be meant there, as for `VoicingBook.meant`.
        """
        found = self.voicings.find(name)
        if found is None and not voicing_known(name, self.material) and name not in self._strays:
            if self._another_word(name, span, where):
                return None
            near = self.faults.nearest(name, self.voicings.names())
            hint = f"did you mean {near}?" if near else f"add {name} to the voicings"
            if near and near.lower() != name.lower() and self.voicings.is_chord(name):
                hint = f"add {name} to the voicings; or did you mean {near}?"
            message = f"{where}: there is no voicing {name}"
            meant = self.voicings.meant(name, shares=shares, alone=alone) if self.faults.few else ""
            if ":" in meant:
                hint = f"write {meant}"
            edits = renamed(span, name, meant)
            self.faults.add("unknown-voicing", span, message, hint, key=name, edits=edits)
        return found

    def mended_at(self, name: str, rule: str) -> Span | None:
        """Return where a voicing of the lesson says which strings the thumb or a hopping finger goes to."""
        if name not in self.material.own_voicings:
            return None
        entry = self.material.voicings[name]
        if rule == "hop-impossible":
            return entry.hop_spans[0] if entry.hop_spans else entry.name_span
        return entry.bass_span or entry.name_span

    def _another_word(self, name: str, span: Span | None, where: str) -> bool:
        """Note a word in a bar that names no voicing but something else; returns whether it does."""
        word = name.lower()
        if name in self.material.patterns:
            meant, hint = f"using {name}", f"write using {name}"
        elif meant := said_in_bars(word):
            hint = f"write {meant}"
        else:
            return False
        what = (
            "is a pattern, not a voicing" if name in self.material.patterns else "is not a voicing"
        )
        message = f"{where}: `{name}` {what}"
        edits = () if meant.startswith("early") else renamed(span, name, meant)
        self.faults.add("unknown-voicing", span, message, hint, key=name, edits=edits)
        return True

    def pattern(self, name: str, span: Span | None, where: str) -> PatternLayout | None:
        """Return a pattern laid out; `where` names the place that uses it."""
        material = self.material
        known = name in material.patterns or may_be_one_of(name, material.broken_patterns)
        if not known and not material.incomplete and name not in material.unread_words:
            near = self.faults.nearest(name, material.patterns)
            hint = f"did you mean {near}?" if near else f"add {name} to the patterns"
            message = f"{where}: there is no pattern {name}"
            edits = renamed(span, name, self.faults.only_near(name, material.patterns))
            self.faults.add("unknown-pattern", span, message, hint, key=name, edits=edits)
            return None
        return self._pattern(name)

    def _pattern(self, name: str) -> PatternLayout | None:
        patterns = self.workings.patterns
        if name not in patterns and name not in self._faulty:
            entry = self.material.patterns.get(name)
            found = self._lay_out(entry) if entry else None
            if found is None:
                self._faulty.add(name)
            else:
                patterns[name] = found
        return patterns.get(name)

    def _lay_out(self, entry: Pattern) -> PatternLayout | None:
        meter = entry.meter or self.settings.meter
        extents = beat_extents(meter, meter.beat_starts[0], meter.length)
        sound = True
        counts = [len(bar.beats) for bar in entry.bars]
        if len(counts) > 1 and len(set(counts)) == 1 and counts[0] != len(extents):
            self._wrong_bars(entry, meter, counts)
            return None
        for number, bar in enumerate(entry.bars, 1):
            if len(bar.beats) != len(extents):
                sound = False
                self._wrong_beats(entry, meter, number, len(bar.beats), bar.span)
        if not sound or not entry.bars:
            return None
        return PatternLayout(entry.name, meter, tuple(lay_out(bar, extents) for bar in entry.bars))

    def _wrong_bars(self, entry: Pattern, meter: Meter, counts: list[int]) -> None:
        """Note a pattern of several bars that all have the same wrong number of beats."""
        if entry.meter is None and "meter" in self.material.unread_settings:
            return
        found, wanted = counts[0], len(meter.beats)
        message = (
            f"each of the {len(counts)} bars of the pattern {entry.name} has {counted(found, 'beat')}, "
            f"but {meter} has {wanted}"
        )
        hint = beats_hint(found, wanted, meter)
        if sum(counts) == wanted:
            hint = "a bar line stands between bars: write commas between beats, as in p , p m , p i , p m"
        elif entry.meter is None and (other := _meter_of(found, meter)):
            hint += f"; if it is for another meter, say so: {entry.name} in {other}: ..."
        self.faults.add("pattern-beats", entry.bars[0].span or entry.span, message, hint)

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
    """Return the hint on how to get the right number of beats."""
    if found == meter.units and meter.pulses is None:
        return f"write the meter as {meter} in {found} to count every note, or join some: commas separate beats"
    if found < wanted:
        missing = counted(wanted - found, "beat")
        return f"add {missing}, each after a comma (- where nothing is plucked)"
    return f"remove {counted(found - wanted, 'beat')}, or join some: commas separate beats"


def _meter_of(beats: int, meter: Meter) -> str:
    """Return the meter with that many such beats, if there is one in use."""
    if len(set(meter.beats)) == 1 and meter.pulses is None and beats in (2, 3, 4, 5):
        units = beats * int(meter.beat_units[0])
        return f"{units}/{meter.unit}"
    return ""
