"""What stands in drawn tab and where."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from attrs import evolve
from drawn_bars import HEAD, bars_of, drawn, letters, lines, overlapping, text_box, texts
from lesson_pool import LESSONS, Made
from places import PROJECT

from fretloom.engraving.drawn.drawing import Box, Disc, Drawing, DrawnLine, Letters, Mark
from fretloom.engraving.drawn.lettering import width_of
from fretloom.engraving.drawn.tab.making.strip_bars import of_played, of_section
from fretloom.engraving.drawn.tab.strip import strip
from fretloom.engraving.drawn.tab.values import Strip, TabLook
from fretloom.notation.syntax.read import read
from fretloom.performance.events import TimedBar, Timeline
from fretloom.performance.printed_names import printed_names
from fretloom.performance.reading import read_through
from fretloom.source import Source

EXAMPLES = sorted((PROJECT / "examples").glob("*.lesson"))


def test_bars_are_to_time_scale():
    """Eight eighths at even distances, from 3 mm on: 4.6 mm each where nothing needs more."""
    [bar] = drawn("E").bars
    numbers = [letters(bar, text)[-1].at[0] for text in "1234"]
    assert numbers == pytest.approx([3.0, 12.2, 21.4, 30.6])
    assert [round(one.at[0], 6) for one in letters(bar, "&")] == [16.8, 26.0, 35.2]
    assert bar.width == pytest.approx(40.8)


def test_the_thumb_stands_on_the_ground_and_the_fingers_hang_in_the_air():
    """Stems from the note down to a foot, or up from it; frets of the thumb are bold."""
    [bar] = drawn("E").bars
    top, bottom = bar.height - 9.8 - 15, bar.height - 9.8
    thumb = [one for one in lines(bar, "thumb") if one.points[0][0] == one.points[1][0]]
    assert [one.points[0][1] for one in thumb] == pytest.approx(
        [bottom, bottom - 6, bottom - 3, bottom - 6]
    )
    assert {round(one.points[1][1] - bottom, 6) for one in thumb} == {3.7}
    fingers = [one for one in lines(bar, "ink") if one.width == 0.3 and one.points[1][1] < top]
    assert {round(one.points[1][1] - top, 6) for one in fingers} == {-3.0}
    figures = [one for one in bar.marks if isinstance(one, Letters) and one.size == 3.4]
    assert [(one.text, one.bold) for one in figures] == [
        ("0", True), ("2", True), ("0", False), ("2", True), ("1", False), ("2", True), ("0", False),
    ]  # fmt: skip


def test_a_bar_that_comes_again_says_so_but_at_the_start_of_a_line():
    """Four bars a line: the fifth is written out."""
    bars = drawn("E x6").bars
    again = ["again" in texts(one) for one in bars]
    assert again == [False, True, True, True, False, True]
    assert "The same as the bar before." in bars[1].says
    assert all("E" in texts(one) for one in bars)


def test_bars_in_a_line_by_width():
    """Four, three only where the bars come in threes, two, one."""
    assert drawn("E x8").per_line == 4
    assert drawn("E x8", TabLook(width=150)).per_line == 2
    assert drawn("E x9", TabLook(width=150)).per_line == 3
    assert drawn("E x8", TabLook(width=60)).per_line == 1
    assert drawn("E x8", TabLook(abreast=2)).per_line == 2
    assert drawn("E x8", TabLook(k=1.25)).per_line == 2


def test_a_pickup_has_no_place_of_its_own_in_a_line():
    """It stands before the first four bars."""
    found = drawn("pickup 1: E { p }\n  E x5", TabLook(filled=True))
    assert found.pickup
    assert [len(line) - 1 for line in found.lines] == [5, 1]
    assert sum(one.width for one in found.lines[0]) == pytest.approx(176)


def test_a_filled_line_is_as_wide_as_there_is_room():
    """Letters and four bars."""
    strip = drawn("E x4", TabLook(filled=True))
    width = strip.letters[0].width + sum(one.width for one in strip.bars)
    assert width == pytest.approx(176)


def test_a_scale_is_that_of_the_whole_picture():
    """Twice as large in all its parts."""
    once, twice = drawn("E").bars[0], drawn("E", TabLook(k=2, width=400)).bars[0]
    assert (twice.width, twice.height) == (2 * once.width, 2 * once.height)
    for one, other in zip(once.marks, twice.marks, strict=True):
        if isinstance(one, Letters) and isinstance(other, Letters):
            assert (other.size, other.at[0]) == pytest.approx((2 * one.size, 2 * one.at[0]))
        if isinstance(one, DrawnLine) and isinstance(other, DrawnLine):
            assert other.width == pytest.approx(2 * one.width)


def test_strings_are_as_thick_as_they_are_low():
    """Thinner than in a diagram, .72 of it."""
    [bar] = drawn("E").bars
    widths = [one.width for one in lines(bar, "line")]
    assert widths == sorted(widths, reverse=True)
    assert widths[0] == pytest.approx(0.72 * 0.60)
    assert widths[-1] == pytest.approx(0.72 * 0.26)


def test_letters_of_the_strings_with_the_number_over_them():
    """A drawing for each bar, to be shown at the start of a line."""
    strip = drawn("E x2")
    assert texts(strip.letters[1]) == ["E", "A", "D", "G", "B", "E", "2"]
    assert strip.letters[0].width == 4.4
    assert strip.letters[0].height == strip.bars[0].height


#: Two beats in a bar: 13.2 mm where nothing needs more.
SHORT = HEAD.replace("4/4", "2/4").replace("p , p m , p i , p m", "p p")


def words_over(bar: Drawing) -> list[str]:
    """The lines over a bar, which begin at its left."""
    found = [one for one in bar.marks if isinstance(one, Letters) and not one.bold]
    return [one.text for one in found if one.at[0] == pytest.approx(1.6) and one.anchor == "start"]


def test_no_word_over_a_bar_is_broken():
    """A bar is as wide as its widest word and 2.2 mm; its notes and the other bars keep their places."""
    cue = "unhurriedly, like the lock-keeper's lamplight"
    found = drawn(f'"{cue}" E | B7 | E | B7', head=SHORT)
    first, _, third, _ = found.bars
    assert " ".join(words_over(first)) == cue
    widest = max(width_of(word, 3.3) for word in cue.split())
    assert first.width == pytest.approx(widest + 2.2)
    assert third.width == pytest.approx(13.2)
    assert [letters(one, "2")[-1].at[0] for one in (first, third)] == pytest.approx([7.6, 7.6])


def test_words_for_loudness_are_not_broken():
    """The last bar of a line has room for them too."""
    bars, timeline = bars_of("E | C#m7 | E | B7", SHORT)
    *others, last = bars
    found = strip([*others, evolve(last, over=("moderately loud",))], timeline.settings, TabLook())
    assert words_over(found.bars[3]) == ["moderately", "loud"]


@pytest.mark.parametrize("filled", [True, False])
def test_bars_that_words_make_wider_stay_in_their_line(filled: bool):
    """First the others get narrower, then there are fewer in a line; a word as long as a line is broken."""
    look = TabLook(width=100, filled=filled)
    for letters_in_word, per_line in ((16, 4), (28, 2), (33, 1), (90, 1)):
        word = "m" * letters_in_word
        found = drawn(f'E | "{word}" C#m7 | E | B7', look, head=SHORT)
        assert all(sum(one.width for one in line) <= 100 + 1e-3 for line in found.lines)
        assert found.per_line == per_line
        assert (words_over(found.bars[1]) == [word]) is (letters_in_word < 90)
        assert "".join(words_over(found.bars[1])) == word


def test_a_crossed_finger_has_a_ring():
    """B7 with the middle finger on string 6 for count 3."""
    [bar] = drawn("B7").bars
    [ring] = [one for one in bar.marks if isinstance(one, Disc)]
    assert ring.radius == 1.85
    assert ring.at == pytest.approx((letters(bar, "3")[-1].at[0], bar.height - 9.8))


def test_a_chord_has_its_root_bold_and_its_signs_printed():
    """Behind the root it goes on smaller."""
    [bar] = drawn("C#m7").bars
    [name] = [one for one in bar.marks if isinstance(one, Letters) and one.after]
    assert (name.text, name.after, name.bold) == ("C♯", "m7", True)


def test_a_line_that_is_not_to_be_filled_keeps_its_bars():
    """No letters, no row for them."""
    plain = drawn("E", TabLook(with_letters=False)).bars[0]
    assert "m" not in texts(plain)
    assert plain.height < drawn("E").bars[0].height


def strips(timeline: Timeline, look: TabLook) -> list[tuple[list[TimedBar], Strip]]:
    """Draw all sections, and what is played."""
    names = printed_names(list(timeline.voicings.values()))
    made = [of_section(section, names) for section in timeline.sections]
    made.append(of_played(timeline.bars[:24], names))
    return [([one.bar for one in bars], strip(bars, timeline.settings, look)) for bars in made]


def extent(mark: Mark) -> tuple[float, float, float, float]:
    if isinstance(mark, Letters):
        return text_box(mark)
    if isinstance(mark, DrawnLine):
        xs, ys = zip(*mark.points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)
    x, y = mark.at
    if isinstance(mark, Box):
        return x, y, x + mark.width, y + mark.height
    return x - mark.radius, y - mark.radius, x + mark.radius, y + mark.radius


def all_inside(picture: Drawing) -> None:
    for mark in picture.marks:
        left, top, right, bottom = extent(mark)
        assert left >= -0.01 and top >= -0.01, mark
        assert right <= picture.width + 0.01 and bottom <= picture.height + 0.01, mark


def frets_of(bar: TimedBar) -> list[str]:
    """What must stand in the picture of a bar: a figure for each note, and for each slurred one in it."""
    found = []
    for note in bar.notes:
        chain = [note.fret, *(slur.fret for slur in note.slurs if slur.onset < bar.length)]
        if note.onset < bar.length:
            sign = "x" if note.dead else "({})" if note.technique.ghost else "{}"
            graces = len(chain) - 1 if note.technique.grace else 0
            found += [
                str(fret) if at < graces else sign.format(fret) for at, fret in enumerate(chain)
            ]
    return sorted(found)


def check(timeline: Timeline, look: TabLook) -> None:
    for bars, found in strips(timeline, look):
        for bar, picture in zip(bars, found.bars, strict=True):
            all_inside(picture)
            assert not list(overlapping(picture)), picture.says
            if "again" not in texts(picture):
                figures = sorted(
                    one.text
                    for one in picture.marks
                    if isinstance(one, Letters)
                    and one.size in (3.4, 2.7)
                    and _is_fret(one, picture)
                )
                assert figures == frets_of(bar)


def _is_fret(one: Letters, picture: Drawing) -> bool:
    """Whether a text stands on a string, in the middle of its place."""
    top, bottom = string_span(picture)
    return one.anchor == "middle" and one.ink == "ink" and top < one.at[1] < bottom + 2


def string_span(picture: Drawing) -> tuple[float, float]:
    ys = [one.points[0][1] for one in lines(picture, "line")]
    return min(ys), max(ys)


@LESSONS.law(most=40)
def test_nothing_stands_on_anything(made: Made) -> None:
    """No two texts overlap, all lies inside, every fret is there once."""
    check(made.timeline, TabLook())


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda one: one.stem)
def test_nothing_stands_on_anything_in_the_examples(file) -> None:
    """The same, in filled lines."""
    lesson = read(Source(file.name, file.read_text(encoding="utf-8")))
    check(read_through(lesson).timeline, TabLook(filled=True))


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda one: one.stem)
def test_the_examples_are_to_time_scale(file) -> None:
    """Counts lie where their times do, in all bars of a section: distance is time."""
    timeline = read_through(read(Source(file.name, file.read_text(encoding="utf-8")))).timeline
    for bars, found in strips(timeline, TabLook(filled=True)):
        scales = set()
        for bar, picture in zip(bars, found.bars, strict=True):
            starts = [bar.meter.position(bar.meter.count_at(Fraction(0)))]
            assert starts == [0]
            numbers = [
                one
                for one in picture.marks
                if isinstance(one, Letters) and one.size == 3.3 and one.bold
            ]
            xs = [one.at[0] for one in numbers]
            gaps = [round(b - a, 4) for a, b in pairwise(xs)]
            scales |= {round(gap / float(bar.meter.count_length), 3) for gap in gaps}
        assert len(scales) <= 1 or max(scales) - min(scales) < 0.01


def test_the_head_of_these_tests_is_a_lesson():
    """Its bars are two."""
    bars, _ = bars_of("E | B7", HEAD)
    assert [one.label for one in bars] == ["1", "2"]
