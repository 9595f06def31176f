"""What tests ask of drawn pictures, and generated shapes to draw."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import strategies as st

from fretloom.engraving.drawn.drawing import Box, Disc, Drawing, DrawnLine, Letters, Mark
from fretloom.engraving.drawn.lettering import AFTER, width_of
from fretloom.engraving.drawn.shape_diagram import DiagramLook
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.guitar.voicing import FINGERS, Hop, Voicing
from fretloom.trade.music.meter import Count
from fretloom.trade.music.pitch import spell

SPARE = 0.3


def letters(picture: Drawing) -> list[tuple[str, str]]:
    """All texts with the ink they have."""
    return [(one.text, one.ink) for one in picture.marks if isinstance(one, Letters)]


def discs(picture: Drawing) -> list[Disc]:
    return [one for one in picture.marks if isinstance(one, Disc)]


def boxes(picture: Drawing, fill: str) -> list[Box]:
    return [one for one in picture.marks if isinstance(one, Box) and one.fill == fill]


def lines(picture: Drawing, width: float) -> list[DrawnLine]:
    return [one for one in picture.marks if isinstance(one, DrawnLine) and one.width == width]


def edges(mark: Mark) -> tuple[float, float, float, float]:
    """How far a mark reaches: left, top, right, bottom."""
    if isinstance(mark, DrawnLine):
        half = mark.width / 2
        xs, ys = zip(*mark.points, strict=True)
        if mark.curved:
            xs, ys = zip(*(_on_curve(mark, part / 20) for part in range(21)), strict=True)
        return min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half
    x, y = mark.at
    if isinstance(mark, Disc):
        reach = mark.radius + (mark.width / 2 if mark.line else 0)
        return x - reach, y - reach, x + reach, y + reach
    if isinstance(mark, Box):
        half = mark.line_width / 2
        return x - half, y - half, x + mark.width + half, y + mark.height + half
    wide = width_of(mark.text, mark.size, mark.bold) + width_of(mark.after, AFTER * mark.size)
    left = {"start": x, "middle": x - wide / 2, "end": x - wide}[mark.anchor]
    return left, y - 0.76 * mark.size, left + wide, y + 0.02 * mark.size


def _on_curve(mark: DrawnLine, t: float) -> tuple[float, float]:
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
    xs, ys = zip(*mark.points, strict=True)
    return (
        sum(w * x for w, x in zip(weights, xs, strict=True)),
        sum(w * y for w, y in zip(weights, ys, strict=True)),
    )


def assert_inside(picture: Drawing) -> None:
    """Everything lies inside, with room to spare."""
    for mark in picture.marks:
        left, top, right, bottom = edges(mark)
        assert left >= SPARE - 1e-6, mark
        assert top >= SPARE - 1e-6, mark
        assert right <= picture.width - SPARE + 1e-6, mark
        assert bottom <= picture.height - SPARE + 1e-6, mark


def assert_no_figures_meet(picture: Drawing) -> None:
    """No two texts stand on one spot."""
    texts = [edges(one) for one in picture.marks if isinstance(one, Letters) and one.text]
    for at, one in enumerate(texts):
        for other in texts[at + 1 :]:
            beside = one[2] <= other[0] + 0.05 or other[2] <= one[0] + 0.05
            above = one[3] <= other[1] + 0.05 or other[3] <= one[1] + 0.05
            assert beside or above, (one, other)


def assert_mirrored(plain: Drawing, mirror: Drawing) -> None:
    """Each mark of one picture is where a mirror shows that of the other."""
    assert (mirror.width, mirror.height) == (plain.width, plain.height)
    for one, other in zip(plain.marks, mirror.marks, strict=True):
        if isinstance(one, DrawnLine) and isinstance(other, DrawnLine):
            seen = [(plain.width - x, y) for x, y in one.points]
            assert [pytest.approx(place) for place in seen] == list(other.points)
        else:
            left, top, right, bottom = edges(one)
            seen_at = (plain.width - right, top, plain.width - left, bottom)
            assert edges(other) == pytest.approx(seen_at)
        assert _kept(one) == _kept(other)


def _kept(mark: Mark) -> tuple[object, ...]:
    """What a mirror leaves as it is."""
    if isinstance(mark, DrawnLine):
        return (mark.width, mark.ink, mark.dash, mark.curved)
    if isinstance(mark, Letters):
        return (mark.text, mark.size, mark.ink, mark.bold)
    return (mark.fill, mark.line)


@st.composite
def voicings(draw: st.DrawFn, strings: int) -> Voicing:
    """Any frets within a hand's reach, or far apart; any fingers, also none, also a barre."""
    low = draw(st.integers(0, 18))
    reach = draw(st.sampled_from([4, 4, 4, 9]))
    fret = st.one_of(st.none(), st.just(0), st.integers(low + 1, low + reach))
    frets = draw(st.tuples(*[fret] * strings))
    finger = st.sampled_from([None, *FINGERS])
    fingers = tuple(draw(finger) if one else None for one in frets)
    hops = ()
    stopped = sorted({one for one in fingers if one})
    if stopped and draw(st.booleans()):
        goal = draw(st.integers(1, strings)), draw(st.integers(low, low + reach))
        hops = (Hop(draw(st.sampled_from(stopped)), *goal),)
    name = draw(
        st.sampled_from(
            ["shape", "C#m7", "Ebmaj7#11/Bb", "a very long name for a shape of two words"]
        )
    )
    return Voicing(name=name, frets=frets, fingers=fingers, hops=hops)


@st.composite
def uses(draw: st.DrawFn, voicing: Voicing) -> ShapeUse:
    """Any strings plucked, any counts of the thumb, with words of every kind."""
    parts = [Fraction(0), Fraction(1, 2), Fraction(1, 4), Fraction(1, 3), Fraction(5, 12)]
    count = st.builds(Count, st.integers(1, 12), st.sampled_from(parts))
    counts = st.lists(count, min_size=1, max_size=9, unique=True).map(tuple)
    strings = len(voicing.frets)
    held = [strings - at for at, one in enumerate(voicing.frets) if one is not None]
    thumb = tuple((one, draw(counts)) for one in held if draw(st.booleans()))
    plucked = frozenset(one for one in held if draw(st.booleans()))
    return ShapeUse(plucked, thumb)


@st.composite
def tunings(draw: st.DrawFn, strings: int) -> Tuning:
    pitches = tuple(spell(draw(st.integers(28, 76))) for _ in range(strings))
    if not draw(st.booleans()):
        return Tuning(pitches)
    octaves = tuple(spell(one.midi + 12) if draw(st.booleans()) else None for one in pitches)
    return Tuning(pitches, octaves)


@st.composite
def capos(draw: st.DrawFn, strings: int) -> Capo:
    some = draw(st.sets(st.integers(1, strings), max_size=strings))
    return Capo(draw(st.integers(1, 5)), tuple(sorted(some, reverse=True)))


LOOKS = st.builds(DiagramLook, mirrored=st.booleans(), lying=st.booleans(), named=st.booleans())


@st.composite
def taken(draw: st.DrawFn, strings: int) -> TakenShape:
    voicing = draw(voicings(strings))
    return TakenShape(voicing, voicing.name, draw(uses(voicing)))
