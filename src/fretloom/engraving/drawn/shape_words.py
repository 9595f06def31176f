"""A diagram in words, for those who hear it: string by string, and the thumb's counts."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.text import listed
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import Count

#: Fretting fingers as one says them.
FRETTING_FINGER_NAMES = {
    "1": "index",
    "2": "middle",
    "3": "ring",
    "4": "little finger",
    "T": "thumb",
}
_PARTS = {"": "", "&": " and", "e": " e", "a": " a", "trip": " trip", "let": " let"}


def spoken(name: str, voicing: Voicing, use: ShapeUse | None) -> str:
    """Say a voicing: "Shape E. From the thick string: string 6 open; string 5 middle at fret 2; ..."."""
    strings = "; ".join(_strings(voicing, use))
    thumb = "; ".join(
        f"string {string} on {listed([count_words(one) for one in counts])}"
        for string, counts in (use.thumb if use is not None else ())
    )
    said = f"Shape {said_aloud(name)}. From the thick string: {strings}."
    return f"{said} Thumb: {thumb}." if thumb else said


def said_aloud(name: str) -> str:
    """Say the signs in a chord's name: "C sharp m7"."""
    text = name.replace("♯", "#").replace("♭", "b")
    spoken_name = text[:1] + text[1:2].replace("#", " sharp ").replace("b", " flat ") + text[2:]
    return " ".join(spoken_name.replace("/", " over ").replace("#", " sharp ").split())


def count_words(count: Count) -> str:
    """Say a count: "3", "2 and"; a share of a beat that has no word as a fraction."""
    return f"{count.number}{_PARTS.get(count.word, f' {count.word}')}"


def _strings(voicing: Voicing, use: ShapeUse | None) -> Iterator[str]:
    hops = {hop.string: hop for hop in voicing.hops}
    for string in range(len(voicing.frets), 0, -1):
        fret = voicing.fret(string)
        quiet = use is not None and string not in use.plucked
        if string in hops:
            yield _hop(string, hops[string].finger, hops[string].fret, use)
        if fret is None:
            if string not in hops:
                yield f"string {string} is not played"
        elif not fret:
            yield f"string {string} open" + (", not plucked" if quiet else "")
        else:
            finger = FRETTING_FINGER_NAMES.get(voicing.finger(string) or "", "")
            held = f"string {string} {finger}".rstrip() + f" at fret {fret}"
            yield held + (", held but not plucked" if quiet else "")


def _hop(string: int, finger: str, fret: int, use: ShapeUse | None) -> str:
    name = FRETTING_FINGER_NAMES[finger]
    counts = dict(use.hops).get(string, ()) if use is not None else ()
    when = f" on count {listed([count_words(one) for one in counts])}" if counts else ""
    place = f"fret {fret}" if fret else "the open string"
    return f"string {string}, the {name} {'' if name.endswith('finger') else 'finger '}crosses here at {place}{when}"
