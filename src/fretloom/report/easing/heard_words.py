"""What is heard otherwise with an easier shape, as a teacher says it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fretloom.arranging.easing.eased import ShapeEased
from fretloom.arranging.easing.heard_otherwise import NoteChanged
from fretloom.errors import SymbolError
from fretloom.performance.events import Settings
from fretloom.text import counted, listed
from fretloom.trade.harmony.fit import note_in
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.trade.music.pitch import spell
from fretloom.trade.wording import strings_words

_OCTAVE = 12
#: So many notes that sound otherwise are named.
_NAMED = 4


def heard_words(one: ShapeEased, settings: Settings) -> str:
    """Say what is heard otherwise: the chord, the bass, the highest notes, other notes; "" if nothing is."""
    return "; ".join(_HeardWords(one, settings).all())


class _HeardWords:
    """The words for one shape; notes are spelled as its chord symbols do."""

    def __init__(self, one: ShapeEased, settings: Settings) -> None:
        self.one, self.heard, self.naming = one, one.heard, settings.names
        self.old = _symbol(one.before.symbol, settings.names)
        self.new = _symbol(one.after.symbol, settings.names)

    def all(self) -> Iterator[str]:
        yield from filter(None, (self.chord(), self.bass(), *self.notes()))

    def note(self, midi: int, symbol: ChordSymbol | None) -> str:
        name = note_in(symbol, midi % _OCTAVE) if symbol else spell(60 + midi % _OCTAVE).name
        return write_note(name, self.naming)

    def chord(self) -> str:
        """Say what chord it is then, and which tones are added or gone."""
        added = listed(self.note(one, self.new) for one in self.heard.added)
        gone = listed(self.note(one, self.old) for one in self.heard.gone)
        tones = [f"{added} added"] * bool(added) + [f"without {gone}"] * bool(gone)
        if self.one.kind == "near":
            said = f"it is another chord, {self.one.after.symbol}"
            return f"{said}, {listed(tones)}" if tones else said
        return f"{listed(tones)}, still {self.one.after.symbol}" if tones else ""

    def bass(self) -> str:
        """Say on which strings the thumb is, and what its lowest note is."""
        before, after = self.heard.bass_before, self.heard.bass_after
        if not before or not after or before == after:
            return ""
        said = []
        old, new = self.heard.thumb_before, self.heard.thumb_after
        if set(old) != set(new):
            said.append(f"the thumb plays {_strings(new)} in place of {_strings(old)}")
        else:
            notes = (listed(self.note(one, self.new) for one in some) for some in (after, before))
            said.append("the thumb plays {} in place of {}".format(*notes))
        said.append(self._lowest(min(before), min(after)))
        return ", and ".join(filter(None, said))

    def _lowest(self, before: int, after: int) -> str:
        octaves, other = divmod(after - before, _OCTAVE)
        if before == after:
            return ""
        if not other:
            way = "higher" if octaves > 0 else "lower"
            far = "an octave" if abs(octaves) == 1 else counted(abs(octaves), "octave")
            return f"its lowest note, {self.note(after, self.new)}, is {far} {way}"
        new, old = self.note(after, self.new), self.note(before, self.old)
        return f"its lowest note is {new} in place of {old}"

    def notes(self) -> Iterator[str]:
        """Say which notes of the fingers are others: the highest, which may be the melody, first."""
        yield self._changed(self.heard.melody, "on top, ")
        yield self._changed((one for one in self.heard.fingers if not one.top), "")

    def _changed(self, notes: Iterable[NoteChanged], head: str) -> str:
        said = [self._note_words(one) for one in notes]
        if len(said) > _NAMED:
            said = [*said[:_NAMED], f"{len(said) - _NAMED} more"]
        return f"{head}{listed(said)}" if said else ""

    def _note_words(self, one: NoteChanged) -> str:
        new, old = self.note(one.after, self.new), self.note(one.before, self.old)
        if new == old:
            way = "higher" if one.after > one.before else "lower"
            return f"string {one.string} sounds {new} an octave {way}"
        return f"string {one.string} sounds {new} in place of {old}"


def _strings(strings: tuple[int, ...]) -> str:
    return strings_words(tuple(sorted(strings, reverse=True)))


def _symbol(text: str, naming: str) -> ChordSymbol | None:
    try:
        return parse_symbol(text, naming) if text else None
    except SymbolError:
        return None
