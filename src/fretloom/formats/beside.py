"""What a lesson holds beside its music, which formats of music do not carry: listed once a file.

Each format says what of it stands in its files all the same.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import Literal, TypeAlias

from fretloom.formats.shape import LeftOut
from fretloom.notation.model.form import ChangeBars
from fretloom.notation.model.pattern import Pattern
from fretloom.notation.model.section import BarLine, EndingStart, ShortBar
from fretloom.notation.model.walking.walk import walk
from fretloom.performance.events import TimedBar
from fretloom.performance.reading import Reading
from fretloom.text import agreeing, counted, listed

Held: TypeAlias = Literal[
    "instrument",
    "scale",
    "hand",
    "level",
    "steps",
    "sections",
    "titles of sections",
    "titles of patterns",
]
#: So many names are said, the others are counted.
_MOST_NAMES = 4


def beside_the_music(
    reading: Reading, carrier: str, shown: Collection[Held] = ()
) -> Iterator[LeftOut]:
    """Yield what a file does not carry of a lesson, apart from what is played.

    Args:
        reading: the lesson. carrier: what the file is, as in "is not part of a tab". shown: what
            stands in it all the same.
    """
    material = reading.material
    steps = 0 if "steps" in shown else len(material.steps)
    comments = _comments(reading)
    if steps or comments:
        found = [(steps, "step"), (comments, "comment")]
        things = listed([counted(number, thing) for number, thing in found if number])
        which = agreeing(steps + comments, "is", "are")
        yield LeftOut(f"{things}, which {which} not part of {carrier}")
    said = [
        name
        for name in ("instrument", "scale", "hand", "level")
        if name in material.settings and name not in shown
    ]
    if said:
        yield LeftOut(f"from the heading: {listed(said)}")
    yield from _unused(reading, "sections" in shown)
    patterns = [material.patterns[name].title for name in material.own_patterns]
    if any(patterns) and "titles of patterns" not in shown:
        yield LeftOut("the titles of patterns")
    titled = any(section.title for section in reading.timeline.sections)
    if titled and "titles of sections" not in shown:
        yield LeftOut("the titles of sections")


def _comments(reading: Reading) -> int:
    """Count the comments of a lesson's own file."""
    found = 0
    for _, node in walk(reading.lesson, (BarLine, EndingStart, ShortBar, ChangeBars, Pattern)):
        margin = getattr(node, "margin", None)
        if margin is not None:
            found += len(margin.above) + bool(margin.beside)
        found += len(getattr(node, "tail", ()))
    return found


def _unused(reading: Reading, all_sections: bool) -> Iterator[LeftOut]:
    """Yield what the lesson names and no bar has; with `all_sections` those that the form leaves out count."""
    timeline, material = reading.timeline, reading.material
    bars: dict[int, TimedBar] = {one.bar.serial: one.bar for one in timeline.bars}
    sections = {played.section for played in timeline.bars}
    if all_sections:
        sections |= {section.name for section in timeline.sections}
        bars |= {one.bar.serial: one.bar for part in timeline.sections for one in part.bars}
    taken = {one.voicing.name for bar in bars.values() for one in bar.voicings}
    picked = {bar.pattern for bar in bars.values()}
    yield from not_there(
        "voicing", (one for one in material.own_voicings if one not in taken), "no bar takes"
    )
    yield from not_there(
        "pattern", (one for one in material.own_patterns if one not in picked), "no bar has"
    )
    yield from not_there(
        "section",
        (one for one in material.sections if one not in sections),
        "the form does not play",
    )


def not_there(kind: str, names: Iterable[str], why: str) -> Iterator[LeftOut]:
    """Yield in one entry what a lesson names and an output does not have: "the voicings A and B, which ..."."""
    found = list(dict.fromkeys(names))
    if not found:
        return
    shown, more = found[:_MOST_NAMES], len(found) - _MOST_NAMES
    said = listed([*shown, f"{more} more"] if more > 0 else shown)
    yield LeftOut(f"the {kind}{'s' * (len(found) > 1)} {said}, which {why}")
