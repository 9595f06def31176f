"""Writes the signs of the form: repeats, endings, segno and coda (MusicXML 4.0 `barline`, `sound`)."""

from __future__ import annotations

from fretloom.formats.musicxml.elements.directions import write_sign, write_way
from fretloom.formats.musicxml.folding.measures import Folded
from fretloom.formats.xml import Element


def left_barline(measure: Element, signs: Folded) -> None:
    """Write what stands at the start of a measure: a repeat that begins, an ending that does."""
    if not (signs.forward or signs.opens):
        return
    barline = measure.add("barline", {"location": "left"})
    if signs.forward:
        barline.add("bar-style", text="heavy-light")
    if signs.opens:
        barline.add("ending", {"number": _numbers(signs), "type": "start"})
    if signs.forward:
        barline.add("repeat", {"direction": "forward"})


def right_barline(measure: Element, signs: Folded, *, ends: bool, last: bool) -> None:
    """Write what stands at the end of a measure; `ends` says that its section ends, `last` that all does."""
    style = ""
    if signs.repeats or signs.fine or last:
        style = "light-heavy"
    elif ends or signs.jump:
        style = "light-light"
    if not (style or signs.closes):
        return
    barline = measure.add("barline", {"location": "right"})
    if style:
        barline.add("bar-style", text=style)
    if signs.closes:
        stops = signs.back or last
        kind = "stop" if stops else "discontinue"
        barline.add("ending", {"number": _numbers(signs), "type": kind})
    if signs.repeats:
        repeat = barline.add("repeat", {"direction": "backward"})
        if signs.times:
            repeat.set("times", str(signs.times))
        if signs.after_jump:
            repeat.set("after-jump", "yes")


def begin(measure: Element, staff: str, signs: Folded, *, leads: bool) -> None:
    """Write the signs to which the way leads; in a further part they are only heard of."""
    for name, stands in (("segno", signs.segno), ("coda", signs.coda)):
        if stands and leads:
            write_sign(measure, staff, {name: name}, name)
        elif stands:
            measure.add("sound", {name: name})


def end(measure: Element, staff: str, signs: Folded, words: str, *, leads: bool) -> None:
    """Write where the way leads on from a measure, behind its notes; `words` are those of its jump."""
    said: list[tuple[str, str, dict[str, str]]] = []
    if signs.times > 2:
        said.append((f"x{signs.times}", "", {}))
    last = len(signs.plays)
    if signs.to_coda:
        said.append(("To Coda", "coda", {"tocoda": "coda"} | _time(last, usual=2)))
    if signs.fine:
        said.append(("Fine", "", {"fine": "yes"} | _time(last, usual=2)))
    if signs.jump:
        sound = {"dacapo": "yes"} if signs.jump == "D.C." else {"dalsegno": "segno"}
        said.append((words, "", sound | _time(signs.jumps, usual=1)))
    for text, symbol, sound in said:
        if leads:
            write_way(measure, staff, sound, text, symbol)
        elif sound:
            measure.add("sound", sound)


def _time(number: int, usual: int) -> dict[str, str]:
    """Say at which time the way leaves, where it is not the one that the standard takes for usual."""
    return {} if number == usual else {"time-only": str(number)}


def _numbers(signs: Folded) -> str:
    return ", ".join(map(str, signs.ending))
