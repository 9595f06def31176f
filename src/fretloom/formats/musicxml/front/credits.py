"""Puts the words of the first page to their places, and writes them (MusicXML 4.0 `defaults`, `credit`).

Lengths are tenths of the standard: forty are the height of a staff. The page is A4 (ISO 216), a staff
7 mm high (common practice for one player). A credit counts from the bottom left corner of the page.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from fretloom.formats.musicxml.front.facts import facts
from fretloom.formats.musicxml.front.lettering import Lettering, fitted
from fretloom.formats.xml import Element
from fretloom.performance.events import Settings
from fretloom.values import frozen

_STAFF_MM, _STAFF = 7, 40
_A4_MM = (210, 297)
WIDTH, HEIGHT = (round(side * _STAFF / _STAFF_MM, 2) for side in _A4_MM)
MARGIN = 84
#: A point (1/72 inch, 25.4 mm) in tenths, and the distance of lines, in sizes of the letters.
_POINT = 25.4 / 72 * _STAFF / _STAFF_MM
_LEADING = 1.25
#: Sizes in points, the largest first, and how many lines there may be.
_TITLE = ((22, 18, 15, 12), 4)
_MAKER = ((11, 10, 9), 4)
_FACT = ((10, 9, 8), 6)
_RIGHTS = ((9, 8, 7), 6)
#: Shares of the width between the margins for what stands left and right above the music.
_LEFT, _RIGHT = 0.62, 0.34
#: Between the title and what stands below it; and from there to the first staff, over which chord
#: diagrams and words stand.
_GAP, _ABOVE_STAFF = 16, 130


@frozen(kw_only=True)
class Credit:
    """A line of words: `y` is where the point of its letters is that `valign` names; `size` is in points."""

    kind: str
    text: str
    x: float
    y: float
    size: int
    justify: Literal["left", "center", "right"]

    @property
    def valign(self) -> Literal["top", "middle", "bottom"]:
        """Programs that look at no coordinates put what is at the top, in the middle and at the bottom apart."""
        return "top" if self.kind == "title" else "middle" if self.kind == "composer" else "bottom"


@frozen
class Front:
    """The words of the first page; `staff` is how far the first staff is below the top margin."""

    credits: tuple[Credit, ...]
    staff: int
    cut: tuple[str, ...] = ()


def front_of(settings: Settings, concert: bool) -> Front:
    """Return what stands on the first page around the music; `cut` is what has not found room."""
    inside, top = WIDTH - 2 * MARGIN, HEIGHT - MARGIN
    title = _fitted(settings.title, inside, _TITLE)
    maker = _fitted(settings.by, inside * _RIGHT, _MAKER)
    rights = _fitted(settings.rights, inside, _RIGHTS)
    left = [_fitted(fact, inside * _LEFT, _FACT) for fact in facts(settings, concert)]
    below = top - _height(title) - (_GAP if title.lines else 0)
    found = list(_placed("title", title, WIDTH / 2, top, "center"))
    found += _placed("composer", maker, WIDTH - MARGIN, below - _letters(maker) / 2, "right")
    lowest, y = below - _height(maker), below
    for fact in left:
        found += _placed("", fact, MARGIN, y - _letters(fact), "left")
        y -= _height(fact)
    foot = MARGIN + _height(rights) - _line(rights)
    found += _placed("rights", rights, WIDTH / 2, foot, "center")
    cut = [
        name for name, one in (("title", title), ("author", maker), ("rights", rights)) if one.cut
    ]
    return Front(tuple(found), round(top - min(lowest, y)) + _ABOVE_STAFF, tuple(cut))


def write_front(score: Element, front: Front) -> None:
    """Write the page and the words on it."""
    defaults = score.add("defaults")
    scaling = defaults.add("scaling")
    scaling.add("millimeters", text=str(_STAFF_MM))
    scaling.add("tenths", text=str(_STAFF))
    page = defaults.add("page-layout")
    page.add("page-height", text=_number(HEIGHT))
    page.add("page-width", text=_number(WIDTH))
    margins = page.add("page-margins", {"type": "both"})
    for side in ("left", "right", "top", "bottom"):
        margins.add(f"{side}-margin", text=str(MARGIN))
    for one in front.credits:
        credit = score.add("credit", {"page": "1"})
        if one.kind:
            credit.add("credit-type", text=one.kind)
        place = {"default-x": _number(one.x), "default-y": _number(one.y)}
        how = {"font-weight": "bold"} if one.kind == "title" else {}
        how |= {"font-size": str(one.size), "justify": one.justify, "valign": one.valign}
        credit.add("credit-words", place | how, text=one.text)


def _fitted(text: str, width: float, how: tuple[tuple[int, ...], int]) -> Lettering:
    sizes, lines = how
    return fitted(text, [(size, width / (size * _POINT)) for size in sizes], lines)


def _placed(
    kind: str, words: Lettering, x: float, y: float, justify: Literal["left", "center", "right"]
) -> Iterator[Credit]:
    """Yield lines one below the other, the first at `y`."""
    for number, line in enumerate(words.lines):
        at = y - number * _line(words)
        yield Credit(kind=kind, text=line, x=x, y=at, size=words.size, justify=justify)


def _letters(words: Lettering) -> float:
    return words.size * _POINT


def _line(words: Lettering) -> float:
    return _letters(words) * _LEADING


def _height(words: Lettering) -> float:
    return len(words.lines) * _line(words)


def _number(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")
