"""Which of the right names of a chord a teacher would say, spelled as the lesson spells its chord."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fretloom.trade.harmony.naming import (
    MIDDLE,
    ChordName,
    bass_note,
    how_usual,
    names_of,
    spell_root,
)
from fretloom.trade.harmony.quality import Quality
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.music.key import Key
from fretloom.trade.music.pitch import NoteName, awkward, fifths_of

#: Kinds of chord that are said with another of their tones in the bass (`C6/A`), and over any bass (`C/D`).
_INVERTED = frozenset(("", "m", "7", "m7", "maj7", "6", "m6", "m7b5", "dim", "dim7", "aug"))
_OVER_A_BASS = frozenset(("", "m", "m7"))
#: What a minor chord is called while a line moves over it from its fifth to its sixth.
_MOVING_LINE = "m(b6)"
#: How usual a kind has to be (0 is a plain chord).
_RAREST = 6.0
#: The numbers of the tones that may be left out: usually the fifth.
_FIFTH_ONLY = frozenset((5,))
_MAY_BE_LEFT_OUT: dict[str, frozenset[int]] = {
    "sus2": frozenset(), "sus4": frozenset(), "7sus4": frozenset(),
    "11": frozenset((3, 5)), "13": frozenset((5, 9, 11)),
}  # fmt: skip
_FEWEST_TONES_OF_AN_EXTENDED_CHORD = 4


def said_names(
    sounding: Iterable[int], key: Key | None = None, chord: ChordSymbol | None = None
) -> tuple[ChordName, ...]:
    """Return those right names of sounding MIDI numbers that a teacher would say, best first.

    They are spelled by `key`; without one by `chord`, the name that the lesson gives.
    """
    notes = tuple(sounding)
    tones = len({midi % 12 for midi in notes})
    names = [name for name in names_of(notes, key) if _is_said(name, tones, chord)]
    if key is not None or chord is None or chord.quality is None:
        return tuple(names)
    return tuple(_spelled_like(name, chord) for name in names)


def _is_said(name: ChordName, tones: int, chord: ChordSymbol | None) -> bool:
    suffix, bass = name.symbol.suffix, name.symbol.bass
    if suffix == _MOVING_LINE and bass is None and chord is not None and not name.rootless:
        return chord.root.pitch_class == name.symbol.root.pitch_class
    if name.rootless:
        # the ninth chord that a plain minor sixth stands for (Am6 for D9) is the one that is taught
        return suffix == "9" and len(name.left_out) == 1
    if bass is not None:
        inside = name.symbol.degree_of(bass.pitch_class) is not None
        return not name.left_out and suffix in (_INVERTED if inside else _OVER_A_BASS)
    extended = name.symbol.quality is not None and name.symbol.quality.extension > 9
    if extended and tones < _FEWEST_TONES_OF_AN_EXTENDED_CHORD:
        return False
    left_out = {degree.number for degree in name.left_out}
    return how_usual(suffix) <= _RAREST and left_out <= _MAY_BE_LEFT_OUT.get(suffix, _FIFTH_ONLY)


def _spelled_like(name: ChordName, chord: ChordSymbol) -> ChordName:
    """Spell a name with the notes of a chord, where that gives plain notes."""
    old, quality = name.symbol, name.symbol.quality
    assert quality is not None
    root = next(_roots(old.root.pitch_class, quality, chord))
    bass = None
    if old.bass is not None:
        bass = bass_note(root, quality, (old.bass.pitch_class - root.pitch_class) % 12)
    text = f"{root}{old.suffix}" + (f"/{bass}" if bass else "")
    return ChordName(ChordSymbol(root, quality, bass, text, old.suffix), name.left_out, name.cost)


def _roots(pitch_class: int, quality: Quality, chord: ChordSymbol) -> Iterator[NoteName]:
    own = next((note for note in chord.notes if note.pitch_class == pitch_class), None)
    if own is not None and not awkward(own) and _is_plain(own, quality):
        yield own
    places = [fifths_of(note) for note in chord.notes]
    # seven notes of a key lie around its second degree, two fifths above its tonic
    middle = round(sum(places) / len(places)) if places else MIDDLE
    yield spell_root(pitch_class, quality, middle)


def _is_plain(root: NoteName, quality: Quality) -> bool:
    return all(abs(degree.above(root).alter) < 2 for degree in quality.degrees)
