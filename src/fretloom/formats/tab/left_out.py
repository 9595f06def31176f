"""What a tab does not show."""

from __future__ import annotations

from fretloom.formats.beside import Held, beside_the_music
from fretloom.formats.shape import LeftOut
from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.patterns import MOST_ALONE, played_over
from fretloom.notation.model.pattern import Pluck
from fretloom.notation.model.walking.walk import every
from fretloom.performance.reading import Reading
from fretloom.text import counted

_FINGERS = "which fretting finger takes a fret that a pluck names"


def left_out(reading: Reading, options: TabOptions) -> tuple[LeftOut, ...]:
    """Return what the lesson says and its tab does not."""
    shown: tuple[Held, ...] = ("titles of sections", "steps")
    if not options.unrolled:
        shown += ("sections",)
    return (*beside_the_music(reading, "a tab", shown), *_fingers(reading), *_patterns(reading))


def _patterns(reading: Reading) -> tuple[LeftOut, ...]:
    more = len(played_over(reading.timeline)) - MOST_ALONE
    return (LeftOut(f"{counted(more, 'pattern')} alone: the song has them"),) if more > 0 else ()


def _fingers(reading: Reading) -> tuple[LeftOut, ...]:
    timeline, material = reading.timeline, reading.material
    sections = {section.name for section in timeline.sections}
    used = {one.bar.pattern for section in timeline.sections for one in section.bars}
    used |= {played.bar.pattern for played in timeline.bars}
    patterns = [one for name, one in material.patterns.items() if name in used]
    bodies = [one for name, one in material.sections.items() if name in sections]
    for top in (*patterns, *bodies, material.form):
        if any(_names_finger(pluck) for _, pluck in every(top, Pluck)):
            return (LeftOut(_FINGERS),)
    return ()


def _names_finger(pluck: Pluck) -> bool:
    trill = pluck.technique.trill
    fingers = [pluck.fretting, trill.fretting if trill else None]
    return any((*fingers, *(slur.fretting for slur in pluck.slurs)))
