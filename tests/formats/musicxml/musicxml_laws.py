"""What must be true of every exported file, beyond what the schema can see."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import accumulate, pairwise
from math import gcd
from typing import Any

from front_laws import check_page
from lxml import etree
from musicxml_reading import TYPES, Bar, Note, bars_of, midi_of, schema
from writing_scores import left_out_of, to_musicxml

from fretloom.performance.events import TimedBar, Timeline


def check_everything(timeline: Timeline, **options: Any) -> bytes:
    """Export a timeline, check every law on the file, and return it."""
    data = to_musicxml(timeline, **options)
    assert schema().validate(etree.fromstring(data)), schema().error_log
    root = etree.fromstring(data)
    all_fingers = options.get("fingers") == "all" and options.get("layout") != "two-parts"
    for part in range(len(root.findall("part"))):
        bars = bars_of(data, part)
        assert [bar.end for bar in bars] == [played.bar.length for played in timeline.bars]
        for bar in bars:
            check_cursor(bar)
            check_values(bar)
            check_beams(bar)
            check_staff_two(bar)
            check_accidentals(bar, int(root.findtext("part/measure/attributes/key/fifths")))
            check_fingers(bar, timeline.bars[bars.index(bar)].bar if all_fingers else None)
            check_slurs(bar.element)
        check_ties(bars)
        check_music(timeline, bars)
        check_held(timeline, bars)
        check_tab(timeline, root, part, bars)
    check_page(root)
    check_divisions(root)
    for frame in root.iter("frame"):
        check_frame(frame)
    return data


def check_cursor(bar: Bar) -> None:
    """Every voice fills the bar without holes or overlaps, up to its end."""
    assert bar.end <= bar.length
    voices: dict[str, Fraction] = {}
    for note in bar.notes:
        if note.element.find("chord") is not None or note.grace:
            continue
        assert note.onset >= voices.get(note.voice, Fraction(0))
        voices[note.voice] = note.onset + note.duration
        assert voices[note.voice] <= bar.end


def check_values(bar: Bar) -> None:
    """`duration` is what type, dots and tuplet say, as an exact fraction."""
    for note in bar.notes:
        rest = note.element.find("rest")
        if note.grace or (rest is not None and rest.get("measure")):
            continue
        dots = len(note.element.findall("dot"))
        face = TYPES[note.text("type")] * (2 - Fraction(1, 2**dots))
        normal = note.number("time-modification/normal-notes") or 1
        actual = note.number("time-modification/actual-notes") or 1
        assert note.duration == face * normal / actual


def check_ties(bars: list[Bar]) -> None:
    """Each tie leads to the next note of the same pitch, of its voice or, over a bar line, of its staff."""
    starts = list(accumulate((bar.end for bar in bars), initial=Fraction(0)))
    opened: Counter[Any] = Counter()
    for note in (note for bar in bars for note in bar.notes if not note.rest):
        kinds = [tie.get("type") for tie in note.element.findall("tie")]
        seen = [tie.get("type") for tie in note.element.iterfind("notations/tied")]
        digits = note.text("stem") == "none"
        assert seen == [] if digits else kinds == [kind for kind in seen if kind != "let-ring"]
        begin, end = starts[note.measure], starts[note.measure] + bars[note.measure].end
        if "stop" in kinds:
            opened[_tie_place(note, begin + note.onset, begin)] -= 1
            assert (note.element.get("print-object") == "no") == digits
            assert note.element.find("notations/technical/pluck") is None
            assert note.element.find("notations/technical/fingering") is None
            assert note.element.find("accidental") is None
        if "start" in kinds:
            opened[_tie_place(note, begin + note.onset + note.duration, end)] += 1
    assert not any(opened.values())


def _tie_place(note: Note, at: Fraction, bar_line: Fraction) -> object:
    """Return what both ends of a tie have in common; a hand may take up its other voice with a new bar."""
    hand = (int(note.voice) - 1) % 2 if at == bar_line else note.voice
    return note.staff, hand, at, note.text("pitch/step"), note.midi


def check_beams(bar: Bar) -> None:
    """Beams open, go on and close in order; only short notes have them."""
    state: dict[tuple[str, str], bool] = {}
    for note in bar.notes:
        if note.rest or note.element.find("chord") is not None or note.grace:
            continue
        for beam in note.element.findall("beam"):
            assert TYPES[note.text("type")] < 1
            key = (note.voice, beam.get("number"))
            opened = state.get(key, False)
            assert opened == (beam.text in ("continue", "end"))
            state[key] = beam.text in ("begin", "continue")
    assert not any(state.values())


def check_staff_two(bar: Bar) -> None:
    """The tablature below holds the same notes; voices and stems are those of their staff."""
    staves = {"1": Counter[Any](), "2": Counter[Any]()}
    for note in bar.notes:
        if not note.rest:
            staves[note.staff][note.onset, note.duration, note.midi, note.grace] += 1
            stem = note.text("stem")
            if note.element.find("staff") is not None:
                assert note.voice in ("1234" if note.staff == "1" else "5678")
            if stem != "none":
                assert stem == ("up" if note.voice in "13" else "down")
    if bar.element.find("note/staff") is not None:
        assert staves["1"] == staves["2"]


def check_accidentals(bar: Bar, fifths: int) -> None:
    """`accidental` stands where the key and what stood before in the bar make it needed."""
    sharps, flats = "FCGDAEB"[: max(fifths, 0)], "BEADGCF"[: max(-fifths, 0)]
    state: dict[tuple[str, str], int] = {}
    names = {-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}
    notes = [note for note in bar.notes if not note.rest and not note.tab]
    for note in sorted(notes, key=lambda n: (n.onset, n.voice)):
        if any(tie.get("type") == "stop" for tie in note.element.findall("tie")):
            continue
        step = note.text("pitch/step")
        line = (step, note.text("pitch/octave"))
        alter = note.number("pitch/alter") or 0
        assert note.text("pitch/alter") != "0"
        usual = (step in sharps) - (step in flats)
        needed = state.get(line, usual) != alter
        assert note.text("accidental") == (names[alter] if needed else None)
        state[line] = alter


def check_fingers(bar: Bar, played: TimedBar | None) -> None:
    """Fingers have the letters and numbers of the trade, none on an open string; `played` has all of them."""
    shown: Counter[str] = Counter()
    for note in bar.notes:
        fingering = note.text("notations/technical/fingering")
        assert fingering in (None, "1", "2", "3", "4", "T")
        assert note.text("notations/technical/pluck") in (None, *"pimac")
        if note.text("notations/technical/fret") == "0":
            assert fingering is None
        shown[f"pluck {note.text('notations/technical/pluck')}"] += 1
        shown[f"fret {fingering}"] += 1
    if played is not None:
        assert {one: count for one, count in shown.items() if "None" not in one} == fingers(played)


def fingers(bar: TimedBar) -> Counter[str]:
    """Return how often each finger of both hands is at work in a bar, open strings aside."""
    found = Counter(f"pluck {note.finger}" for note in bar.notes if note.onset < bar.length)
    for note in bar.notes:
        for stop in (note, *note.slurs):
            if stop.fret and stop.fretting and stop.onset < bar.length:
                found[f"fret {stop.fretting}"] += 1
    return found


def check_slurs(measure: Any) -> None:
    """Slur-like pairs close in document order and never share a number while open."""
    for tag in ("slur", "slide", "hammer-on", "pull-off"):
        opened: set[str] = set()
        for element in measure.iter(tag):
            number = element.get("number")
            if element.get("type") == "start":
                assert number not in opened
                opened.add(number)
            else:
                opened.remove(number)
        assert not opened


def check_divisions(root: Any) -> None:
    """`divisions` is the least that makes every length a whole number."""
    divisions = int(root.findtext("part/measure/attributes/divisions"))
    assert 1 <= divisions <= 16383
    ticks = [int(element.text) for element in root.iter("duration")]
    assert gcd(divisions, *ticks) == 1
    for version in root.iter("divisions"):
        assert version.text == str(divisions)


def check_frame(frame: Any) -> None:
    """Frets lie in the window; a barre starts on the lower string and stops on a higher one."""
    strings = int(frame.findtext("frame-strings"))
    first = int(frame.findtext("first-fret") or 1)
    last = first + int(frame.findtext("frame-frets")) - 1
    starts: dict[str, int] = {}
    for note in frame.findall("frame-note"):
        string, fret = int(note.findtext("string")), note.findtext("fret")
        assert 1 <= string <= strings
        assert fret == "0" or first <= int(fret) <= last
        barre = note.find("barre")
        if barre is not None and barre.get("type") == "start":
            starts[fret] = string
        elif barre is not None:
            assert starts.pop(fret) > string
    assert not starts


def sounding(timeline: Timeline) -> Counter[Any]:
    """Return what is plucked or slurred, as (bar, onset, MIDI number)."""
    notes: Counter[Any] = Counter()
    for place, played in enumerate(timeline.bars):
        for note in played.bar.notes:
            notes[place, note.onset, note.midi] += 1
            for slur in note.slurs:
                notes[place, slur.onset, slur.midi] += 1
    return notes


def shift_of(root: Any) -> int:
    """Return how many semitones higher than written the part sounds."""
    transpose = root.find("part/measure/attributes/transpose")
    if transpose is None:
        return 0
    octaves = int(transpose.findtext("octave-change") or 0)
    return int(transpose.findtext("chromatic")) + 12 * octaves


def check_music(timeline: Timeline, bars: list[Bar]) -> None:
    """What the first staff shows, transposed, is what is played."""
    shift = shift_of(bars[0].element.getroottree().getroot())
    shown: Counter[Any] = Counter()
    for bar in bars:
        for note in bar.notes:
            stops = [tie.get("type") for tie in note.element.findall("tie")]
            if not note.rest and note.staff == "1" and "stop" not in stops:
                shown[note.measure, note.onset, note.midi + shift] += 1
    assert shown == sounding(timeline)


def check_held(timeline: Timeline, bars: list[Bar]) -> None:
    """A note that is held for a time is written so long, tied over bar lines, unless that is told."""
    if any(one.what.startswith("how long notes are held") for one in left_out_of(timeline)):
        return
    shift = shift_of(bars[0].element.getroottree().getroot())
    starts = list(accumulate((bar.end for bar in bars), initial=Fraction(0)))
    shown = set(_chains([note for bar in bars for note in bar.notes if note.staff == "1"], starts))
    for place, played in enumerate(timeline.bars):
        for note in played.bar.notes:
            last = note.slurs[-1] if note.slurs else note
            if note.technique.held is not None and last.onset < played.bar.length:
                end = min(starts[place] + note.onset + note.ring, starts[-1])
                assert (starts[place] + last.onset, end, last.midi - shift) in shown


def _chains(notes: list[Note], starts: list[Fraction]) -> Iterator[tuple[Fraction, Fraction, int]]:
    """Yield where each note begins and ends, those that are tied as one, and its pitch."""
    going: dict[tuple[Fraction, int, int], list[Fraction]] = {}
    for note in sorted(notes, key=lambda one: starts[one.measure] + one.onset):
        if note.midi is None or note.grace:
            continue
        begin = starts[note.measure] + note.onset
        end, hand = begin + note.duration, (int(note.voice) - 1) % 2
        kinds = [tie.get("type") for tie in note.element.findall("tie")]
        first = going[begin, note.midi, hand].pop() if "stop" in kinds else begin
        if "start" in kinds:
            going.setdefault((end, note.midi, hand), []).append(first)
        else:
            yield first, end, note.midi


def check_tab(timeline: Timeline, root: Any, part: int, bars: list[Bar]) -> None:
    """Written pitch is tuning + fret, and sounding pitch is tuning + capo + fret."""
    details = root.findall("part")[part].find("measure/attributes/staff-details")
    if details is None:
        return
    lines = int(details.findtext("staff-lines"))
    assert lines == timeline.settings.tuning.strings
    tuned = {
        lines + 1 - int(one.get("line")): midi_of(one, "tuning-")
        for one in details.findall("staff-tuning")
    }
    capo = int(details.findtext("capo") or 0)
    written_capo = capo - shift_of(root)
    for note in tab_notes(bars):
        string = note.number("notations/technical/string")
        fret = note.number("notations/technical/fret")
        assert 1 <= string <= lines
        assert fret >= 0
        if note.element.find("notations/technical/harmonic") is None:
            assert note.midi == tuned[string] + fret + written_capo


def tab_notes(bars: list[Bar]) -> list[Note]:
    """Return the notes that stand on tablature."""
    return [note for bar in bars for note in bar.notes if note.tab]


def in_order(bars: list[Bar]) -> bool:
    """Tell whether measure numbers go up by one."""
    numbers = [int(bar.element.get("number")) for bar in bars]
    return all(right == left + 1 for left, right in pairwise(numbers))
