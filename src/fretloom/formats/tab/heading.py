"""What stands over the tab: title, instrument, keys, tempo, and a table of the voicings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fretloom.errors import SymbolError
from fretloom.formats.tab.text import clean, hang, underlined, width_of, wrap
from fretloom.formats.tab.words import PlayingNames, capo_place, key_words, swing_words, tempo_words
from fretloom.performance.events import Settings, Timeline
from fretloom.performance.printed_names import in_print, printed_names
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.guitar.tunings import retuning_steps, usual_tuning
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say

_INDENT = 9


def heading(settings: Settings, width: int) -> list[str]:
    """Return the title and what the student must know before the first note."""
    title = clean(settings.title) or say("text-tab.untitled")
    lines = [*hang("", title, width, 0)]
    lines.append("=" * max(map(width_of, lines)))
    if clean(settings.by):
        lines += hang("", clean(settings.by), width, 0)
    lines.append("")
    for label, text in _facts(settings):
        lines += hang(label, text, width, _INDENT)
    return lines


def _facts(settings: Settings) -> list[tuple[str, str]]:
    tuning, capo = settings.tuning, settings.capo
    facts = [
        (
            say("text-tab.tuning"),
            _tuning_name(tuning) + say("text-tab.strings", strings=tuning.strings, tuning=tuning),
        )
    ]
    steps = retuning_steps(tuning)
    if steps:
        facts.append((say("text-tab.retune"), "; ".join(steps)))
    if capo.fret:
        facts.append(
            (
                say("text-tab.capo"),
                say("text-tab.capo-at", place=capo_place(capo), counted=_counted_from(settings)),
            )
        )
    if key_words(settings):
        facts.append((say("text-tab.key"), key_words(settings)))
    facts.append((say("text-tab.meter"), str(settings.meter)))
    facts.append((say("text-tab.tempo"), tempo_words(settings.tempo)))
    if settings.swing:
        facts.append((say("text-tab.swing"), swing_words(settings.swing, settings.meter)))
    return facts


def _tuning_name(tuning: Tuning) -> str:
    """Return the trade's name with a comma, "" if there is none."""
    usual = usual_tuning(tuning)
    alike = usual is not None and usual.pitches == tuning.pitches
    name = tuning.name or (usual.name if usual is not None and alike else "")
    return f"{clean(name)}, " if name else ""


def _counted_from(settings: Settings) -> str:
    if settings.capo.strings:
        return say("text-tab.counted-some")
    return say("text-tab.counted")


def used_voicings(timeline: Timeline) -> list[Voicing]:
    """Return the voicings that the sections and the performance use, in written order."""
    bars = {
        written.bar.serial: written.bar for section in timeline.sections for written in section.bars
    }
    bars |= {played.bar.serial: played.bar for played in timeline.bars}
    used = {timed.voicing.name: timed.voicing for bar in bars.values() for timed in bar.voicings}
    order = {name: place for place, name in enumerate(timeline.voicings)}
    return sorted(used.values(), key=lambda one: order.get(one.name, len(order)))


def voicing_table(voicings: Sequence[Voicing], settings: Settings, width: int) -> list[str]:
    """Return a table of frets and fretting fingers, with the thumb's strings."""
    voicings = [voicing for voicing in voicings if not voicing.silent]
    if not voicings:
        return []
    strings = range(settings.tuning.strings, 0, -1)
    names = {name: clean(printed) for name, printed in printed_names(voicings).items()}
    sounds = {voicing.name: _sounding(voicing, settings) for voicing in voicings}
    label = max([6, *(width_of(name) for name in names.values())])
    head = _cells("", say("text-tab.row-strings"), [str(string) for string in strings], label)
    if width_of(head) > width:
        return _voicing_list(voicings, names, sounds, width)
    lines = [*underlined(say("text-tab.voicings")), head]
    for voicing in voicings:
        frets = ["x" if fret is None else str(fret) for fret in voicing.frets]
        notes = [
            _thumb(voicing),
            say("text-tab.sounds", chord=sounds[voicing.name]) if sounds[voicing.name] else "",
        ]
        row = _cells(names[voicing.name], say("text-tab.row-frets"), frets, label)
        lines += _beside(row, notes, width)
        hops = _hops(voicing)
        if any(voicing.fingers) or hops:
            fingers = [finger or "" for finger in voicing.fingers] or [""] * len(frets)
            lines += _beside(_cells("", say("text-tab.row-fingers"), fingers, label), hops, width)
    return lines


def _hops(voicing: Voicing) -> list[str]:
    return [
        say("text-tab.hop", finger=hop.finger, string=hop.string, fret=hop.fret)
        for hop in voicing.hops
    ]


def _beside(row: str, notes: Sequence[str], width: int) -> list[str]:
    """Return a row of the table with notes behind it, or below it where it has no room for them."""
    whole = "   ".join([row, *filter(None, notes)]).rstrip()
    if width_of(whole) <= width:
        return [whole]
    lines = [line for note in notes if note for line in wrap(note, width - _INDENT)]
    return [row.rstrip(), *(" " * _INDENT + line for line in lines)]


def _voicing_list(
    voicings: Sequence[Voicing], names: Mapping[str, str], sounds: Mapping[str, str], width: int
) -> list[str]:
    """Return the voicings in words, for a page on which a table has no room."""
    lines = [*underlined(say("text-tab.voicings")), *wrap(say("text-tab.from-the-last"), width)]
    for one in voicings:
        words = [" ".join("x" if fret is None else str(fret) for fret in one.frets)]
        if any(one.fingers):
            words.append(
                say("text-tab.fingers", fingers=" ".join(finger or "-" for finger in one.fingers))
            )
        words += [
            _thumb(one),
            say("text-tab.sounds", chord=sounds[one.name]) if sounds[one.name] else "",
            *_hops(one),
        ]
        lines += wrap(names[one.name], width)
        lines += ["  " + line for line in wrap("; ".join(filter(None, words)), width - 2)]
    return lines


def _cells(name: str, what: str, cells: Sequence[str], label: int) -> str:
    padded = name + " " * (label - width_of(name))
    return f"{padded}  {what.ljust(6)} " + "".join(cell.rjust(3) for cell in cells)


def _thumb(voicing: Voicing) -> str:
    return say("text-tab.thumb", strings=" ".join(map(str, voicing.bass))) if voicing.bass else ""


def _sounding(voicing: Voicing, settings: Settings) -> str:
    """Return what the chord sounds with the capo, "" where there is nothing to say."""
    if not settings.capo.fret or settings.capo.strings or not voicing.symbol:
        return ""
    from fretloom.trade.harmony.symbol import parse_symbol
    from fretloom.trade.harmony.transposing import transposed

    try:
        symbol = parse_symbol(voicing.symbol, settings.names)
    except SymbolError:
        return ""
    return str(transposed(symbol, settings.capo.fret, settings.sounds, settings.names))


def form_lines(
    timeline: Timeline, playings: PlayingNames, names: dict[str, str], width: int
) -> list[str]:
    """Return the order of the sections in words, and what is different each time."""
    lines = underlined(say("text-tab.order"))
    for number, line in enumerate(timeline.form, 1):
        words = playings.playings(line.section, [number])
        if line.differences:
            words += ": " + "; ".join(
                clean(in_print(one.put_in or one.plain, names)) for one in line.differences
            )
        lines += hang(f"{number:>2}.", words, width, 4)
    return lines
