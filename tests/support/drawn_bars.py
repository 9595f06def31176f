"""Lessons drawn as tab, and what their pictures have, for the tests of several rooms."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from reading_through import reading_of

from fretloom.engraving.drawn.drawing import Drawing, DrawnLine, Letters
from fretloom.engraving.drawn.lettering import AFTER, width_of
from fretloom.engraving.drawn.tab.making.strip_bars import of_section
from fretloom.engraving.drawn.tab.strip import strip
from fretloom.engraving.drawn.tab.values import Strip, StripBar, TabLook
from fretloom.performance.events import Timeline
from fretloom.performance.printed_names import printed_names

#: How far letters reach over and under their baseline at most, in ems: those of figures and small ones.
OVER, UNDER = 0.73, 0.02

HEAD = """\
lesson "Lamps on Kiln Lane"
  plays in E
  meter 4/4
  tempo 60

voicings
  E    022100  fingers .231..  bass 6 4 5 4
  C#m7 x46454  fingers .13121  bass 5 4
  B7   x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2

patterns
  step  p , p m , p i , p m

"""


def timeline_of(section: str, head: str = HEAD) -> Timeline:
    """Return what a lesson with this section, called verse, comes to."""
    return reading_of(f"{head}section verse using step\n  {section}\n").timeline


def bars_of(section: str, head: str = HEAD) -> tuple[tuple[StripBar, ...], Timeline]:
    """Return the bars of a section as they are to be drawn."""
    timeline = timeline_of(section, head)
    names = printed_names(list(timeline.voicings.values()))
    return of_section(timeline.sections[0], names), timeline


def drawn(section: str, look: TabLook | None = None, head: str = HEAD) -> Strip:
    """Draw a section."""
    bars, timeline = bars_of(section, head)
    return strip(bars, timeline.settings, look or TabLook())


def texts(picture: Drawing) -> list[str]:
    """Return all texts of a picture in order."""
    return [one.text + one.after for one in picture.marks if isinstance(one, Letters)]


def letters(picture: Drawing, text: str) -> list[Letters]:
    """Return the marks of a picture with this text."""
    found = [one for one in picture.marks if isinstance(one, Letters)]
    return [one for one in found if one.text + one.after == text]


def lines(picture: Drawing, ink: str) -> list[DrawnLine]:
    """Return the lines of a picture in an ink."""
    return [one for one in picture.marks if isinstance(one, DrawnLine) and one.ink == ink]


Rectangle = tuple[float, float, float, float]


def text_box(mark: Letters) -> Rectangle:
    """Return the rectangle of a text: left, top, right, bottom."""
    width = width_of(mark.text, mark.size, mark.bold)
    width += width_of(mark.after, AFTER * mark.size) if mark.after else 0.0
    x, y = mark.at
    left = x - {"start": 0.0, "middle": width / 2, "end": width}[mark.anchor]
    return left, y - OVER * mark.size, left + width, y + UNDER * mark.size


def overlapping(picture: Drawing) -> Iterator[tuple[str, str]]:
    """Yield the texts of a picture that stand on one another."""
    boxes = [(one, text_box(one)) for one in picture.marks if isinstance(one, Letters)]
    for (one, a), (other, b) in combinations(boxes, 2):
        across = min(a[2], b[2]) - max(a[0], b[0])
        down = min(a[3], b[3]) - max(a[1], b[1])
        if across > 0.01 and down > 0.01:
            yield one.text, other.text
