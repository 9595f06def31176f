"""What the voicings of a lesson sound, as small tables for a reader."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fretloom.arranging.capo_places import CapoPlace
from fretloom.arranging.sounds import Sounds
from fretloom.performance.events import Settings
from fretloom.performance.sounding.names import Sound, heard_name, note_of
from fretloom.text import agreeing, columns, listed, table, visible
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.guitar.tunings import retuning_steps
from fretloom.trade.harmony.fit import Fit, degree_in, note_in
from fretloom.trade.harmony.heard.readings import other_reading
from fretloom.trade.harmony.key_guess import KeyGuess
from fretloom.trade.harmony.key_names import write_key
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.wording import capo_words, mistaken_words, name_words


def sounds_text(found: Sounds) -> str:
    """Return the report for a reader: the keys, the tuning, then each voicing in a small table."""
    parts = ["\n".join(_head(found))]
    choices = list(_choices(found.capos, found.settings.names))
    if choices:
        parts.append("\n".join(["Capos for this key", *choices]))
    parts += ["\n".join(voicing_lines(sound, found.settings)) for sound in found.voicings]
    return "\n\n".join(parts) + "\n"


def _head(found: Sounds) -> Iterator[str]:
    settings = found.settings
    yield visible(settings.title) or "Lesson without a title"
    yield "  " + ", ".join(_keys(found))
    name = f" ({settings.tuning.name})" if settings.tuning.name else ""
    yield f"  tuning {settings.tuning}{name}"
    for step in retuning_steps(settings.tuning):
        yield f"    {step}"


def _keys(found: Sounds) -> Iterator[str]:
    settings = found.settings
    plays, sounds = settings.plays, settings.sounds
    guess = found.key
    if plays is not None:
        yield f"plays in {write_key(plays, settings.names)}"
    elif guess is not None:
        yield f"key not stated; by its chords {_guess(guess, settings)}"
    yield capo_words(settings.capo)
    if sounds is not None:
        yield f"sounds in {write_key(sounds, settings.names)}"


def _choices(places: Sequence[CapoPlace], naming: str) -> Iterator[str]:
    """Say for each place of the capo which shapes are played, and which chords do not have an open one."""
    for choice in places:
        place = capo_words(Capo(choice.capo))
        barres = ", ".join(one.written(naming) for one in choice.without_open)
        count = (
            f"{len(choice.without_open)} without an open shape: {barres}" if barres else "all open"
        )
        yield f"  {place:8} plays in {write_key(choice.plays, naming)}: {count}"


def _guess(guess: KeyGuess, settings: Settings) -> str:
    key = write_key(guess.key, settings.names)
    if guess.certainty == "open":
        return f"{key} or {write_key(guess.other, settings.names)}"
    return f"{key} ({guess.certainty})"


def voicing_lines(sound: Sound, settings: Settings) -> Iterator[str]:
    """Yield what a voicing sounds as lines: its strings with frets, notes and degrees, and the names that fit."""
    voicing = sound.voicing
    yield f"{visible(voicing.name)}  {voicing.frets_text}"
    rows = [("string", [str(one.string) for one in sound.strings])]
    rows.append(("fret", [str(one.fret) for one in sound.strings]))
    rows.append(
        ("note", [write_note(note_of(sound, one), settings.names) for one in sound.strings])
    )
    if sound.symbol is not None and sound.symbol.quality is not None:
        degrees = [str(degree_in(sound.symbol, one.hand % 12)) for one in sound.strings]
        rows.append(("degree", degrees))
    rows.append(("sounds", [heard_name(sound, one, settings) for one in sound.strings]))
    widest = max((columns(cell) for _, cells in rows for cell in cells), default=1)
    lines = table([cells for _, cells in rows], gap=1, least=widest)
    for (title, _), line in zip(rows, lines, strict=True):
        yield f"  {title:8}{line}"
    yield f"  {'name':8}{_verdict(sound, settings)}"
    if sound.others:
        yield f"  {'also':8}{', '.join(name_words(one, settings.names) for one in sound.others)}"
    if sound.sounding is not None and any(one.sounds != one.hand for one in sound.strings):
        yield f"  {'heard as':8} {sound.sounding.written(settings.names)}"


def _verdict(sound: Sound, settings: Settings) -> str:
    if sound.fit is None:
        return (
            f"not a chord symbol; it sounds as {sound.symbol.written(settings.names)}"
            if sound.symbol
            else "not a chord symbol"
        )
    symbol = sound.fit.symbol.written(settings.names)
    if sound.fit.accepted:
        return (
            f"{symbol} is right{_remark(sound.fit, settings.names)}{_reading(sound.fit, settings)}"
        )
    return f"{symbol} is wrong: {'; '.join(_faults(sound.fit, settings))}"


def _remark(verdict: Fit, naming: str) -> str:
    if verdict.rootless:
        return ", without its root"
    if verdict.inverted and verdict.lowest is not None:
        return (
            f", with {write_note(note_in(verdict.symbol, verdict.lowest % 12), naming)} in the bass"
        )
    return ""


def _reading(verdict: Fit, settings: Settings) -> str:
    """Say how a name such as Cb9 was read."""
    other = other_reading(verdict.symbol, settings.names)
    return f", read as {other.taken}" if other is not None and other.doubtful else ""


def _faults(verdict: Fit, settings: Settings) -> Iterator[str]:
    naming = settings.names
    foreign = dict.fromkeys(midi % 12 for midi in verdict.foreign)
    if foreign:
        notes = [write_note(note_in(verdict.symbol, one), naming) for one in foreign]
        yield f"{listed(notes)} {agreeing(len(notes), 'is', 'are')} not in it"
    if verdict.missing:
        notes = [write_note(one, naming) for one in verdict.missing]
        yield f"{listed(notes)} {agreeing(len(notes), 'is', 'are')} missing"
    if verdict.wrong_bass and verdict.symbol.bass is not None:
        yield f"{write_note(verdict.symbol.bass, naming)} is not in the bass"
    if verdict.unaltered:
        yield "none of its altered tones sounds"
    if verdict.mistaken:
        yield mistaken_words(verdict.symbol, verdict.mistaken, naming)
