"""What holds for a whole MusicXML file: staves, tuning, capo, transposition and key.

With a capo over all strings, `pitch` is what the hand plays as if there were none, `capo` says
where it is and `transpose` how much higher it sounds (MusicXML 4.0: `staff-tuning` leaves the capo
out, `transpose` is added to the written pitch). In concert pitch `pitch` is what sounds and there
is no `transpose`.

A partial capo raises some strings only, which a single `transpose` cannot say. It is written as a
tuning: `staff-tuning` is what each string sounds with the capo on, `pitch` is what sounds, and the
capo stands in words, in the head. So on every string written pitch = tuning + fret holds in each case, and
sounding pitch = written pitch + transpose.
"""

from __future__ import annotations

from attrs import evolve

from fretloom.performance.events import Settings
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.music.key import Key
from fretloom.trade.music.pitch import STEPS, NoteName, Pitch, spell
from fretloom.values import frozen


@frozen
class Transposition:
    """From written to sounding: letter steps, semitones and whole octaves, all upwards."""

    diatonic: int
    chromatic: int
    octaves: int = 0


@frozen
class Clef:
    """A clef: `sign` on `line`, and how many octaves higher it sounds than it looks."""

    sign: str
    line: int
    octaves: int = 0


@frozen(kw_only=True)
class Page:
    """How the whole piece is written.

    Args:
        tuning: what the lines of the tablature stand for, the highest string number first.
        capo: the fret for `capo`, 0 for none. top: how far the first staff is below the top margin.
        shift: sounding MIDI number minus written one. transposition: None where that is 0.
        key: the signature's key, None when the lesson has none.
        chord_move: the transposition that chord symbols get on the page, None for none.
    """

    tuning: tuple[Pitch, ...]
    capo: int = 0
    top: int = 0
    shift: int = 0
    transposition: Transposition | None = None
    key: Key | None = None
    chord_move: Transposition | None = None
    clef: Clef = Clef("G", 2, -1)
    naming: str = "english"

    @property
    def strings(self) -> int:
        """How many lines the tablature has."""
        return len(self.tuning)

    @property
    def fifths(self) -> int:
        """The key signature."""
        return self.key.fifths if self.key else 0


def page_of(settings: Settings, concert: bool) -> Page:
    """Work out how a lesson with these settings is written."""
    capo, tuning = settings.capo, settings.tuning
    page = Page(
        tuning=tuning.pitches,
        capo=capo.fret,
        clef=_clef(tuning),
        naming=settings.names,
    )
    if capo.fret and capo.strings:
        key = _usable(settings.sounds or settings.plays)
        return evolve(page, tuning=_raised(tuning, capo), capo=0, key=key)
    plays, sounds = _usable(settings.plays), _usable(settings.sounds)
    move = _transposition(plays, sounds, capo.fret)
    if concert:
        key = plays and _sounding_key(plays, sounds, capo.fret)
        return evolve(page, key=key, chord_move=move)
    return evolve(page, shift=capo.fret, transposition=move, key=plays)


def moved(name: NoteName, move: Transposition) -> NoteName:
    """Transpose a note name by letter steps and semitones; an impossible spelling is simplified."""
    step = STEPS[(STEPS.index(name.step) + move.diatonic) % 7]
    target = (name.pitch_class + move.chromatic) % 12
    alter = (target - NoteName(step).pitch_class + 6) % 12 - 6
    if abs(alter) <= 2:
        return NoteName(step, alter)
    return spell(target).name


def _raised(tuning: Tuning, capo: Capo) -> tuple[Pitch, ...]:
    strings = range(tuning.strings, 0, -1)
    return tuple(
        spell(open_string.midi + capo.on(string)) if capo.on(string) else open_string
        for string, open_string in zip(strings, tuning.pitches, strict=True)
    )


def _usable(key: Key | None) -> Key | None:
    """Return the key, or its enharmonic twin where its signature would pass seven signs."""
    return None if key is None else key.with_signature


def _sounding_key(plays: Key, sounds: Key | None, fret: int) -> Key:
    """Return the teacher's sounding key if it agrees with the capo, else the one with the fewest accidentals."""
    plainest = plays.transposed(fret)
    agrees = sounds is not None and sounds.mode == plays.mode
    if agrees and sounds is not None and sounds.tonic.pitch_class == plainest.tonic.pitch_class:
        return sounds
    return plainest


def _transposition(plays: Key | None, sounds: Key | None, fret: int) -> Transposition | None:
    if not fret:
        return None
    plays = plays or Key(NoteName("C"))
    octaves, chromatic = divmod(fret, 12)
    sounding = _sounding_key(plays, sounds, fret)
    diatonic = (STEPS.index(sounding.tonic.step) - STEPS.index(plays.tonic.step)) % 7
    # B to Cb counts one letter up, but a capo at 11 or 1 may also end on the letter it left.
    if diatonic == 0 and chromatic > 6:
        diatonic = 7
    return Transposition(diatonic, chromatic, octaves)


def _clef(tuning: Tuning) -> Clef:
    """Choose the clef: for guitars an octave below the treble clef, for ukuleles as it looks.

    Basses get the octave bass clef (common practice, no source).
    """
    middle = sum(pitch.midi for pitch in tuning.pitches) / tuning.strings
    if middle >= 60:
        return Clef("G", 2)
    return Clef("G", 2, -1) if middle >= 42 else Clef("F", 4, -1)
