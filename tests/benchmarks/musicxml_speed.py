"""Times MusicXML export against music21 and against lxml alone; run it, it is not a test.

    python tests/benchmarks/musicxml_speed.py [BARS]

Three ways to write the same 200 bars of 4/4: eight plucks a bar in two voices, on two staves, with
string and fret on each note and a chord symbol a bar. Each bar is different music, so that nothing
is shared, and folding looks for repeats in vain. Medians of five rounds, the ways taking turns; the
expansion is not counted. "Only text" is what both make of a tree that is there: our own in the
midst of the export, with the texts that it keeps; all of it without any kept; and lxml's.
"""

from __future__ import annotations

import gc
import statistics
import sys
import time
from collections.abc import Callable
from contextlib import ExitStack
from fractions import Fraction
from functools import partial
from pathlib import Path
from unittest.mock import patch

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))
sys.path.insert(0, str(Path(__file__).parents[1] / "formats" / "musicxml"))

from lxml import etree
from musicxml_pieces import bar, note, settings, timeline, voicing
from musicxml_reading import bars_of
from writing_scores import to_musicxml

from fretloom.formats import xml
from fretloom.formats.musicxml import score
from fretloom.formats.musicxml.elements import bars, notes
from fretloom.performance.events import Timeline

ROUNDS = 5


def piece(bars: int) -> Timeline:
    """Return bars of eight plucks: the thumb on each beat, a finger on each half."""
    of, played = settings(), []
    for number in range(bars):
        held = voicing(("C", "Am", "F", "G7")[number % 4], "x32010", ".32.1.")
        notes = []
        for beat in range(4):
            place = number * 4 + beat
            thumb, finger = place % 3 + 4, place % 4
            notes.append(note(beat, thumb, place % 5, "p", of=of, ring="2"))
            notes.append(
                note(Fraction(2 * beat + 1, 2), finger % 3 + 1, place % 7, "ima"[finger % 3], of=of)
            )
        played.append(bar(tuple(notes), held))
    return timeline(played, of)


Plan = list[tuple]


def flat(root: etree._Element) -> Plan:
    """Return a tree as a list of (depth, tag, attributes, text), for a build without reading."""
    found: Plan = []

    def visit(element: etree._Element, depth: int) -> None:
        text = element.text if element.text and element.text.strip() else None
        found.append((depth, element.tag, dict(element.attrib), text))
        for child in element:
            visit(child, depth + 1)

    visit(root, 0)
    return found


def build_flat(plan: Plan) -> bytes:
    """Build a tree with lxml from its list and serialise it: nothing but lxml's own work."""
    make, stack = etree.SubElement, [etree.Element(plan[0][1], plan[0][2])]
    for depth, tag, attributes, text in plan[1:]:
        del stack[depth:]
        element = make(stack[-1], tag, attributes)
        if text is not None:
            element.text = text
        stack.append(element)
    return etree.tostring(stack[0], encoding="UTF-8", xml_declaration=True, pretty_print=True)


def own(element: etree._Element) -> xml.Element:
    """Return a tree of ours with the same elements."""
    text = element.text if element.text and element.text.strip() else None
    found = xml.Element(element.tag, dict(element.attrib), text)
    for child in element:
        found.put(own(child))
    return found


def text_alone(music: Timeline) -> float:
    """Return how long an export is busy with making text of elements, in seconds."""
    spent, made = 0.0, xml.written

    def timed(element: xml.Element | str, depth: int = 0) -> str:
        nonlocal spent
        if isinstance(element, str):
            return element
        start = time.perf_counter()
        text = made(element, depth)
        spent += time.perf_counter() - start
        return text

    with ExitStack() as stack:
        for room in (score, bars, notes):
            stack.enter_context(patch.object(room, "written", timed))
        to_musicxml(music)
    return spent


def plain(data: bytes) -> bytes:
    """Return a file without the white space at the start of its lines."""
    return b"\n".join(line.strip() for line in data.splitlines())


def with_music21(data: bytes) -> Callable[[], bytes]:
    """Return a function that builds the same notes with music21 and writes them."""
    import music21 as m21

    read = bars_of(data)
    names = [one.element.findtext("harmony/root/root-step") for one in read]
    rows = [
        [
            (n.staff, n.voice, n.onset, n.duration, n.midi, n.text("notations/technical/string"),
             n.text("notations/technical/fret"))
            for n in one.notes
        ]
        for one in read
    ]  # fmt: skip

    def run() -> bytes:
        score = m21.stream.Score()
        parts = {"1": m21.stream.PartStaff(), "2": m21.stream.PartStaff()}
        for number, row in enumerate(rows, start=1):
            measures = {staff: m21.stream.Measure(number=number) for staff in parts}
            voices: dict = {}
            if names[number - 1]:
                measures["1"].insert(0, m21.harmony.ChordSymbol(names[number - 1]))
            for staff, name, onset, duration, midi, string, fret in row:
                length = m21.duration.Duration(duration)
                one = m21.note.Rest() if midi is None else m21.note.Note(midi)
                one.duration = length
                if string is not None:
                    one.articulations.append(m21.articulations.StringIndication(int(string)))
                    one.articulations.append(m21.articulations.FretIndication(int(fret)))
                voice = voices.setdefault((staff, name), m21.stream.Voice(id=name))
                voice.insert(onset, one)
            for (staff, _), voice in voices.items():
                measures[staff].insert(0, voice)
            for staff, part in parts.items():
                part.append(measures[staff])
        for part in parts.values():
            score.insert(0, part)
        score.insert(0, m21.layout.StaffGroup(list(parts.values()), symbol="brace"))
        return m21.musicxml.m21ToXml.GeneralObjectExporter(score).parse()

    return run


def main() -> None:
    """Print the medians and the ratios."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    music = piece(count)
    same = timeline([music.bars[0].bar] * count, music.settings)
    data = to_musicxml(music)
    root = etree.fromstring(data)
    plan = flat(root)
    assert plain(build_flat(plan)) == plain(data)
    ways: dict[str, Callable[[], object]] = {
        "fretloom": lambda: to_musicxml(music),
        "fretloom, folded": lambda: to_musicxml(music, form="folded"),
        "fretloom, one bar again": lambda: to_musicxml(same),
        "lxml alone": lambda: build_flat(plan),
        "music21": with_music21(data),
        "only text, none kept": partial(xml.written, own(root)),
        "only text, lxml": lambda: etree.tostring(root, encoding="UTF-8", pretty_print=True),
    }
    times: dict[str, list[float]] = {name: [] for name in ways}
    # The search for dead objects is to look at what an export makes, and not at what is kept here.
    gc.collect()
    gc.freeze()
    for _ in range(ROUNDS):
        for name, run in ways.items():
            start = time.perf_counter()
            run()
            times[name].append(time.perf_counter() - start)
        times.setdefault("only text, kept", []).append(text_alone(music))
    medians = {name: statistics.median(spent) for name, spent in times.items()}
    print(
        f"{count} bars, {data.count(b'<note')} notes and rests, {len(data) / 1e6:.2f} MB, medians of {ROUNDS}"
    )
    for name, median in medians.items():
        print(f"  {name:25}{median * 1000:9.1f} ms")
    print(
        f"  music21 takes {medians['music21'] / medians['fretloom']:.1f} times as long as fretloom"
    )
    print(
        f"  fretloom takes {medians['fretloom'] / medians['lxml alone']:.2f} times as long as lxml alone"
        f", folded {medians['fretloom, folded'] / medians['lxml alone']:.2f}"
    )


if __name__ == "__main__":
    main()
