"""Chord symbols: what a teacher writes, and the notes it stands for."""

from __future__ import annotations

import re
from functools import cached_property, lru_cache

from attrs import field

from fretloom.errors import SymbolError
from fretloom.trade.guitar.voicing import NO_CHORD, is_no_chord, split_name
from fretloom.trade.harmony.degrees import Degree
from fretloom.trade.harmony.note_names import NAMINGS, read_note, write_note
from fretloom.trade.harmony.quality import Quality
from fretloom.trade.harmony.suffix.read import read_suffix
from fretloom.trade.music.pitch import NoteName
from fretloom.values import frozen

LONGEST = 48
#: What may stand after the root of a small-letter minor chord: signs and numbers, a flat and a slash bass.
_AFTER_SMALL = re.compile(r"(?:[^a-zA-Z.]|b(?=[0-9]))*(?:/[A-H][a-z#]*)?")


@frozen
class ChordSymbol:
    """The name of a harmony, such as `Am7/G`.

    Two symbols are equal if they mean the same, however they are written. `quality` is None for
    "no chord"; its root is then C, which means nothing but is what MusicXML wants there.

    Args:
        text: as the teacher wrote it. suffix: the part after the root and before a slash bass.
    """

    root: NoteName
    quality: Quality | None
    bass: NoteName | None = None
    text: str = field(default="", eq=False)
    suffix: str = field(default="", eq=False)

    @property
    def degrees(self) -> tuple[Degree, ...]:
        """The chord's degrees without a foreign slash bass; empty for "no chord"."""
        return self.quality.degrees if self.quality else ()

    @cached_property
    def notes(self) -> tuple[NoteName, ...]:
        """The spelled notes, root first, a bass from outside the chord last."""
        notes = tuple(degree.above(self.root) for degree in self.degrees)
        inside = {note.pitch_class for note in notes}
        if self.bass is None or self.bass.pitch_class in inside:
            return notes
        return (*notes, self.bass)

    @cached_property
    def pitch_classes(self) -> tuple[int, ...]:
        """The pitch classes (0 is C) without repeats, root first, a bass from outside last."""
        return tuple(dict.fromkeys(note.pitch_class for note in self.notes))

    @cached_property
    def essential(self) -> tuple[NoteName, ...]:
        """The notes without which the name is wrong (see `Quality.essential`), the bass included."""
        degrees = self.quality.essential if self.quality else ()
        notes = [degree.above(self.root) for degree in degrees]
        if self.bass is not None and self.bass.pitch_class not in {n.pitch_class for n in notes}:
            notes.append(self.bass)
        return tuple(notes)

    @cached_property
    def optional(self) -> tuple[NoteName, ...]:
        """The notes that may be left out."""
        return tuple(
            degree.above(self.root) for degree in (self.quality.optional if self.quality else ())
        )

    @property
    def lowest(self) -> NoteName | None:
        """The note that the name puts lowest: the slash bass or the root; None for "no chord"."""
        return self.bass or (self.root if self.quality else None)

    @property
    def canonical(self) -> str:
        """The one plain form in English naming: `Bm7b5`, `C7sus4`, `C6/9`, `N.C.`."""
        if self.quality is None:
            return NO_CHORD
        return f"{self.root}{self.quality.suffix}" + (f"/{self.bass}" if self.bass else "")

    def written(self, naming: str = "english") -> str:
        """Return the symbol in a naming, with the teacher's own suffix if it has one."""
        if self.quality is None:
            return NO_CHORD
        suffix = self.suffix if self.text else self.quality.suffix
        root = write_note(self.root, naming)
        if self.small:
            root, suffix = (root.lower(), suffix) if naming == "german" else (root, f"m{suffix}")
        bass = f"/{write_note(self.bass, naming)}" if self.bass else ""
        return root + suffix + bass

    @property
    def small(self) -> bool:
        """Whether it is written the German way, a minor chord with a small letter (`a`, `fis7`)."""
        return self.quality is not None and self.text.lstrip()[:1].islower()

    def degree_of(self, pitch_class: int) -> Degree | None:
        """Return the degree that sounds a pitch class, None if the chord does not have that tone."""
        above = (pitch_class - self.root.pitch_class) % 12
        return next((one for one in self.degrees if one.semitones == above), None)

    def __str__(self) -> str:
        return self.text or self.canonical


def symbol_in_name(name: str, naming: str = "english") -> str:
    """Return the chord symbol in the name of a voicing, "" for a plain name.

    A plain name starts with a small letter. In German naming one that reads wholly as a minor chord
    with a small letter is that chord (`a`, `fis7`), and a plain name with a tag or other letters.
    """
    symbol, tag = split_name(name)
    if is_no_chord(symbol or name):
        return NO_CHORD
    if symbol or tag or naming != "german" or name[:1] not in tuple("abcdefgh"):
        return symbol
    try:
        chord = parse_symbol(name, naming)
        _, after = read_note(name[:1].upper() + name[1:], 0, naming)
    except SymbolError:
        return ""
    minor = Degree(3, -1) in chord.degrees and _AFTER_SMALL.fullmatch(name, after)
    return name if minor else ""


def parse_symbol(text: str, naming: str = "english") -> ChordSymbol:
    """Read a chord symbol.

    `naming` is "english" (C D E F G A B), "german" (with H, B for B flat, Fis, Es) or "romance"
    (Do Re Mi). Takes time in proportion to the length of the text.

    Raises:
        SymbolError: the text is not a chord symbol, or can be read in two ways.
    """
    if len(text) > LONGEST:
        hint = "write a chord symbol such as Am7 or C/G"
        raise SymbolError(f"{text[:24]!r}... is too long for a chord symbol", LONGEST, hint)
    if naming not in NAMINGS:
        raise ValueError(f"naming is one of {', '.join(NAMINGS)}, not {naming!r}")
    return _parse(text, naming)


@lru_cache(maxsize=2048)
def _parse(text: str, naming: str) -> ChordSymbol:
    if is_no_chord(text.strip()):
        return ChordSymbol(NoteName("C"), None, None, text, NO_CHORD)
    begin = len(text) - len(text.lstrip())
    # German teachers write minor chords with a small letter: a, fis7
    minor = naming == "german" and text[begin : begin + 1] in tuple("abcdefgh")
    if minor:
        root, after = read_note(
            text[:begin] + text[begin].upper() + text[begin + 1 :], begin, naming
        )
    else:
        root, after = read_note(text, begin, naming)
    _refuse_two_accidentals_before_a_number(text, begin, after)
    quality, bass_at = read_suffix(text, after, minor)
    bass = None if bass_at is None else _bass(text, bass_at, naming)
    end = len(text) if bass_at is None else text.rindex("/", after, bass_at)
    return ChordSymbol(root, quality, bass, text, text[after:end].strip())


def _bass(text: str, start: int, naming: str) -> NoteName:
    letters = {"english": "a letter A to G", "german": "a letter A to H", "romance": "Do to Si"}
    try:
        bass, end = read_note(text, start, naming)
    except SymbolError as error:
        message = f"a bass note after a slash must be {letters[naming]}"
        hint = "write an added ninth as add9, and six-nine as 6/9" if "9" in text[start:] else ""
        raise SymbolError(message, start, hint or error.hint) from None
    if text[end:].strip():
        message = f"{text[end : end + 12]!r} has no meaning after the bass note"
        raise SymbolError(message, end, "end the symbol with the bass note")
    return bass


def _refuse_two_accidentals_before_a_number(text: str, begin: int, after: int) -> None:
    """Refuse `Bbb5`: B double flat with a fifth, or B flat with a flat fifth?"""
    if text[begin + 1 : after] not in ("bb", "##", "♭♭", "♯♯"):
        return
    if text[after : after + 1] in tuple("59") or text[after : after + 2] in ("11", "13"):
        root, sign = text[begin : begin + 2], text[begin + 1]
        message = f"{text[:24]!r} can be read in two ways"
        raise SymbolError(message, after, f"put the altered tone in brackets: {root}({sign}5)")
