"""Writes chord symbols and chord diagrams (MusicXML 4.0 `harmony`, `frame`).

Frame strings and frets are those of the voicing, counted from the capo and not from the window; a
barre starts on the lowest string (the highest number) and stops on the highest; its finger stands
where it starts.
"""

from __future__ import annotations

from functools import lru_cache

from fretloom.engraving.drawn.neck import window
from fretloom.formats.musicxml.elements.directions import write_words
from fretloom.formats.musicxml.kinds import musicxml_kind
from fretloom.formats.musicxml.planning.page import Page
from fretloom.formats.musicxml.planning.pitches import on_page, symbol_of
from fretloom.formats.musicxml.planning.written import NamedVoicing
from fretloom.formats.musicxml.printed_degrees import PrintedDegree, PrintedSuffix, shared
from fretloom.formats.xml import Element, written
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.trade.music.pitch import NoteName


def write_harmony(parent: Element, named: NamedVoicing, page: Page, staff: str) -> None:
    """Write a voicing's name at the cursor, and its diagram where it is fresh.

    A name that is not a chord symbol is written as words: a `frame` needs a `harmony`, and readers
    would take its root for a chord.
    """
    voicing = named.taken.voicing
    symbol = symbol_of(voicing.symbol, page)
    if symbol is None:
        write_words(parent, staff, named.printed)
        return
    harmony = parent.add("harmony")
    _symbol(harmony, symbol, page)
    sounds = symbol.quality is not None and any(fret is not None for fret in voicing.frets)
    if named.fresh and sounds:
        harmony.set("print-frame", "yes")
        _frame(harmony, voicing)
    if staff:
        harmony.add("staff", text=staff)


def _symbol(harmony: Element, symbol: ChordSymbol, page: Page) -> None:
    root = harmony.add("root")
    if symbol.quality is None:
        root.add("root-step", {"text": ""}, text="C")
        harmony.add("kind", {"text": "N.C."}, text="none")
        return
    _note(root, "root", on_page(symbol.root, page), page.naming, symbol.small)
    kind, suffix = _kind(symbol.text, page.naming)
    shown = harmony.add("kind", {"text": suffix.text}, text=kind)
    if suffix.degrees:
        shown.set("parentheses-degrees", "yes" if suffix.brackets else "no")
    if symbol.bass is not None:
        _note(harmony.add("bass"), "bass", on_page(symbol.bass, page), page.naming)
    for degree in suffix.degrees:
        _degree(harmony, degree)


def _degree(harmony: Element, degree: PrintedDegree) -> None:
    element = harmony.add("degree", {"print-object": "no"} if degree.hidden else {})
    element.add("degree-value", text=str(degree.number))
    sign = {"plus-minus": "yes"} if degree.plus_minus else {}
    element.add("degree-alter", sign, text=str(degree.alter))
    element.add("degree-type", {"text": degree.word}, text=degree.change)


@lru_cache(maxsize=1024)
def _kind(text: str, naming: str) -> tuple[str, PrintedSuffix]:
    """Find the kind of a symbol, once for each symbol: finding it takes longer than writing it."""
    symbol = parse_symbol(text, naming)
    kind, degrees = musicxml_kind(symbol.quality)
    return kind, shared(symbol.suffix, degrees)


def _note(parent: Element, tag: str, name: NoteName, naming: str, small: bool = False) -> None:
    """Write a root or bass; `text` is how it is shown where that is not the English letter."""
    step = parent.add(f"{tag}-step")
    step.text = name.step
    shown = _local_name(name, naming)
    if small:
        shown = (shown or name.step).lower()
    if shown:
        step.set("text", shown)
    if name.alter:
        alter = parent.add(f"{tag}-alter")
        alter.text = str(name.alter)
        if shown in ("B", "b"):
            alter.set("print-object", "no")


def _local_name(name: NoteName, naming: str) -> str:
    if naming == "german" and name.step == "B":
        return "B" if name.alter == -1 else "H"
    if naming == "romance":
        return dict(zip("CDEFGAB", ("Do", "Re", "Mi", "Fa", "Sol", "La", "Si"), strict=True))[
            name.step
        ]
    return ""


def _frame(harmony: Element, voicing: Voicing) -> None:
    low, high = window([fret for fret in voicing.frets if fret])
    frame = harmony.add("frame", {"unplayed": "x"})
    frame.add("frame-strings", text=str(len(voicing.frets)))
    frame.add("frame-frets", text=str(high - low))
    if low:
        first = low + 1
        frame.add("first-fret", {"text": f"{first}fr."}, text=str(first))
    barres = _barres(voicing)
    for string in range(len(voicing.frets), 0, -1):
        fret = voicing.fret(string)
        if fret is not None:
            finger = voicing.finger(string) if fret and _numbered(voicing, string) else None
            frame.put(_frame_note(string, fret, finger, barres.get(string)))


@lru_cache(maxsize=1024)
def _frame_note(string: int, fret: int, finger: str | None, barre: str | None) -> str:
    """Return a dot of a diagram as text: there are few different ones."""
    note = Element("frame-note")
    note.add("string", text=str(string))
    note.add("fret", text=str(fret))
    if finger:
        note.add("fingering", text=finger)
    if barre is not None:
        note.add("barre", {"type": barre})
    return written(note, depth=3)


def _numbered(voicing: Voicing, string: int) -> bool:
    """Whether a string has the number of its finger: one within a barre leaves that to its start."""
    held = (voicing.finger(string), voicing.fret(string))
    lower = range(string + 1, len(voicing.frets) + 1)
    return all((voicing.finger(other), voicing.fret(other)) != held for other in lower)


def _barres(voicing: Voicing) -> dict[int, str]:
    """Return the strings on which a barre starts or stops."""
    ends: dict[int, str] = {}
    for barre in voicing.barres:
        ends |= {barre.first: "start", barre.last: "stop"}
    return ends
