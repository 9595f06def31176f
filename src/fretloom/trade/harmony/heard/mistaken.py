"""Names that hold every tone that sounds, and yet nobody hears them: a plain C called Am7.

The thumb is the bass player here. A chord without its root, or without its fifth and with another
tone lowest, is heard as the plain chord that its other tones make; a chord over a bass of its own
is only heard if all of it is there. The rule is our own judgement of common practice.
"""

from __future__ import annotations

from functools import lru_cache

from fretloom.trade.harmony.degrees import ROOT, Degree
from fretloom.trade.harmony.quality import Quality
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.trade.music.pitch import NoteName, awkward, spell
from fretloom.values import frozen

_FIFTH = Degree(5)
_THIRDS = (Degree(3), Degree(3, -1))
#: Plain chords as bits: bit n is the tone n half steps above the root.
_MAJOR, _MINOR = 0b10010001, 0b10001001
_PLAIN = (("", _MAJOR), ("m", _MINOR))
_OTHERS = (("dim", 0b1001001), ("aug", 0b100010001))
_DIMINISHED_SEVENTH = Degree(7, -2)
#: What else is a chord of its own with its root lowest, such as the Cmaj7 inside an Am9.
_ON_ITS_ROOT = (
    *(("7", _MAJOR | 1 << 10), ("maj7", _MAJOR | 1 << 11), ("m7", _MINOR | 1 << 10)),
    *(("sus4", 0b10100001), ("sus2", 0b10000101), ("5", 0b10000001)),
)


@frozen
class Mistaken:
    """Why a name whose tones all fit is still not what is heard.

    Args:
        lacks: the root or the fifth of the name that does not sound; None if its bass is at fault.
        heard: the chord that is heard in its place; None if it has no name.
        doubtful: whether a teacher might let it pass.
    """

    lacks: NoteName | None
    heard: ChordSymbol | None
    doubtful: bool = False


def mistaken(symbol: ChordSymbol, sounding: frozenset[int], lowest: int) -> Mistaken | None:
    """Return why nobody hears a symbol in pitch classes that fit it; None if it is heard.

    `lowest` is the pitch class of the lowest note.
    """
    if symbol.quality is None or ROOT not in symbol.degrees:
        return None
    return _Hearing(symbol, symbol.quality, sounding, lowest).verdict()


def is_heard(symbol: ChordSymbol, sounding: frozenset[int], lowest: int) -> bool:
    """Whether a symbol is heard in pitch classes that fit it, without a word on what else is heard."""
    if symbol.quality is None or ROOT not in symbol.degrees:
        return True
    return _Hearing(symbol, symbol.quality, sounding, lowest, says=False).verdict() is None


#: Root (0 is C) and suffix of a chord that is heard.
_Heard = tuple[int, str]


class _Hearing:
    """A chord symbol beside what sounds; `says` whether what is heard in its place gets its name."""

    def __init__(
        self,
        symbol: ChordSymbol,
        quality: Quality,
        sounding: frozenset[int],
        lowest: int,
        says: bool = True,
    ) -> None:
        self.symbol, self.quality, self.says = symbol, quality, says
        self.root, self.lowest = symbol.root.pitch_class, lowest
        self.bits = sum(1 << tone for tone in sounding)
        self.degrees = {
            one for one in symbol.degrees if (self.root + one.semitones) % 12 in sounding
        }
        self.others = [one for one in _plain_chords(self.bits) if one[0] != self.root]

    def verdict(self) -> Mistaken | None:
        if ROOT not in self.degrees:
            return self._without_root()
        third = any(one.number == 3 for one in self.degrees)
        if self.symbol.bass is not None and not third and self._whole(self.root):
            return Mistaken(None, self._named(self._whole(self.root)))
        whole = self._exactly()
        if self.lowest == self.root and (third or whole is None):
            return None
        if _FIFTH in self.quality.degrees and _FIFTH not in self.degrees:
            return self._without_fifth(whole)
        return Mistaken(None, self._named(whole)) if whole else None

    def _without_root(self) -> Mistaken | None:
        heard = self._exactly() or self._over_its_bass() or self._on_the_lowest()
        if heard:
            return Mistaken(self.symbol.root, self._named(heard))
        heard = self._other_triad()
        if heard:
            return Mistaken(self.symbol.root, self._named(heard), doubtful=True)
        return self._bare_slash()

    def _without_fifth(self, whole: _Heard | None) -> Mistaken | None:
        fifth = _FIFTH.above(self.symbol.root)
        heard = whole
        if not self.quality.extension:
            heard = heard or next((one for one in self.others if one[0] == self.lowest), None)
        if heard:
            return Mistaken(fifth, self._named(heard))
        heard = self._other_triad()
        if heard:
            return Mistaken(fifth, self._named(heard), doubtful=True)
        return self._bare_slash()

    def _bare_slash(self) -> Mistaken | None:
        """Whether a chord lacks its fifth over a bass from outside it."""
        bass = self.symbol.bass
        if bass is None or self.symbol.degree_of(bass.pitch_class) is not None:
            return None
        if _FIFTH not in self.quality.degrees or _FIFTH in self.degrees:
            return None
        heard = next(iter(self.others), None)
        lacks = _FIFTH.above(self.symbol.root)
        return Mistaken(lacks, self._named(heard), doubtful=heard is None)

    def _named(self, heard: _Heard | None) -> ChordSymbol | None:
        """Return the symbol of what is heard, spelled with the notes of the name, with its bass."""
        if heard is None or not self.says:
            return None
        note = {
            one.pitch_class: spell(one.pitch_class).name if awkward(one) else one
            for one in reversed(self.symbol.notes)
        }
        root, suffix = heard
        bass = "" if root == self.lowest else f"/{note[self.lowest]}"
        return parse_symbol(f"{note[root]}{suffix}{bass}")

    def _whole(self, root: int) -> _Heard | None:
        """Return the plain chord on a root if all of it sounds."""
        return _whole(self.bits, root)

    def _exactly(self) -> _Heard | None:
        """Return the plain chord of another name that is all that sounds."""
        return self.others[0] if self.bits.bit_count() == 3 and self.others else None

    def _over_its_bass(self) -> _Heard | None:
        """Return the plain chord that is all that sounds over a bass from outside, as in F/G."""
        bass = self.symbol.bass
        if bass is None or self.symbol.degree_of(bass.pitch_class) is not None:
            return None
        upper = self.bits & ~(1 << bass.pitch_class)
        return self.others[0] if upper.bit_count() == 3 and self.others else None

    def _on_the_lowest(self) -> _Heard | None:
        """Return the seventh or the suspended chord on the lowest note that is all that sounds."""
        above = self._above(self.lowest)
        suffix = next((suffix for suffix, bits in _ON_ITS_ROOT if above == bits), None)
        return None if suffix is None else (self.lowest, suffix)

    def _other_triad(self) -> _Heard | None:
        """Return the diminished or augmented chord on the lowest note that is all that sounds.

        A diminished seventh chord is one of four that look alike, so without its root it is the
        diminished chord in any position. In other positions a seventh may lack its root.
        """
        every = range(12) if _DIMINISHED_SEVENTH in self.quality.degrees else (self.lowest,)
        found = (
            (root, suffix)
            for root in every
            for suffix, bits in _OTHERS
            if self._above(root) == bits
        )
        return next((one for one in found if one[0] != self.root), None)

    def _above(self, root: int) -> int:
        return _above(self.bits, root)


def _above(bits: int, root: int) -> int:
    """Return what sounds as bits counted from a root."""
    return (bits >> root | bits << (12 - root)) & 0xFFF


def _whole(bits: int, root: int) -> _Heard | None:
    above = _above(bits, root)
    return next(((root, suffix) for suffix, plain in _PLAIN if above & plain == plain), None)


@lru_cache(maxsize=4096)
def _plain_chords(bits: int) -> list[_Heard]:
    return [whole for root in range(12) if (whole := _whole(bits, root))]
