"""What stands under a diagram."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lesson_pool import LESSONS, Made
from pictures_drawn import taken
from places import EXAMPLES

from fretloom.api import examine, load
from fretloom.engraving.drawn.lettering import wrapped
from fretloom.formats.students.telling.hints import MOST_LINES, ROOM, SIZE, shape_hints
from fretloom.formats.students.telling.listener import Listener, count_words
from fretloom.performance.events import Timeline
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.performance.showing.taken_shapes import TakenShape, taken_shapes
from fretloom.text import listed
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.trade.music.meter import Count
from fretloom.trade.wording import with_signs

FINGERS = {"index": "1", "middle": "2", "ring": "3", "little": "4", "thumb": "T"}
NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7}


def shape(
    name: str, frets: str, fingers: str, use: ShapeUse | None = None, *hops: Hop
) -> TakenShape:
    voicing = Voicing(
        name=name,
        frets=tuple(None if one == "x" else int(one) for one in frets),
        fingers=tuple(None if one == "." else one for one in fingers),
        hops=hops,
    )
    return TakenShape(voicing, name, use or ShapeUse())


E = shape("E", "022100", ".231..")
F = shape("F", "133211", "134211")


@pytest.mark.parametrize(
    ("one", "before", "said"),
    [
        (shape("E7", "020100", ".2.1.."), [E], "As E, the ring finger lifted."),
        (shape("E6", "022120", ".2314."), [E], "As E, the little finger added."),
        (shape("Fm", "133111", "134111"), [F], "As F, the middle finger lifted."),
        (shape("Bm7", "x24232", ".13121"), [shape("C#m7", "x46454", ".13121")], "The hand of C♯m7, two frets toward the head."),
        (shape("E7", "020100", ".2.1.."), [E, F], "As E, the ring finger lifted."),
        (shape("A", "002220", "..111."), [], "The index finger lies over strings 4 to 2."),
        (F, [E], "The index finger lies over strings 6 to 1."),
    ],
)  # fmt: skip
def test_what_the_picture_cannot_say(one: TakenShape, before: list[TakenShape], said: str):
    """How it differs from a shape that is known, or where a finger lies flat."""
    assert shape_hints(one, "", before) == (said,)


@pytest.mark.parametrize(
    ("one", "before"),
    [
        (shape("Esus", "022200", ".234.."), [E]),
        (shape("E/x", "x20100", ".2.1.."), [E]),
        (shape("Am7", "x02010", "..2.1."), [shape("A", "x02220", "..123.")]),
        (shape("e", "000100", "...1.."), [shape("f", "000200", "...1..")]),
        (shape("B5", "x24400", ".134.."), [shape("A5", "x02200", "..34..")]),
        (shape("em", "000000", "......"), [E]),
        (E, [E]),
        (E, []),
    ],
)
def test_shapes_that_are_not_nearly_the_same_have_no_hint(
    one: TakenShape, before: list[TakenShape]
):
    """Another finger, another string that is not played, one finger alone, open strings beside."""
    assert shape_hints(one, "", before) == ()


def test_the_latest_shape_that_is_nearly_the_same_is_named():
    same = shape("E too", "022100", ".231..")
    seven = shape("E7", "020100", ".2.1..")
    assert shape_hints(seven, "", [E, same, F]) == ("As E too, the ring finger lifted.",)


def hopping(**use: object) -> TakenShape:
    counts = ShapeUse(hops=((6, (Count(3),)),), **use)
    return shape("B7", "x21202", ".213.4", counts, Hop("2", 6, 2))


def test_a_hop_is_said_with_its_count():
    """And when the finger is back where that is one count; a hop that the song never has is not said."""
    assert shape_hints(hopping(back=((6, (Count(1),)),)), "D7") == (
        "Sounds as D7.",
        "On 3 the middle finger crosses to string 6 and is back on 1.",
    )
    assert shape_hints(hopping(back=((6, (Count(1), Count(4))),))) == (
        "On 3 the middle finger crosses to string 6.",
    )
    assert shape_hints(hopping(at_times=frozenset({6}))) == (
        "At times the middle finger crosses to string 6 on 3.",
    )
    assert shape_hints(shape("B7", "x21202", ".213.4", None, Hop("2", 6, 2))) == ()


def test_listeners_have_their_words():
    listener = Listener(string_names=("low E", "A", "D", "G", "B", "high E"), figures=True)
    assert shape_hints(F, "", (), listener) == (
        "Finger 1 lies over the strings from low E to high E.",
    )


def test_what_takes_more_than_four_lines_is_left_out():
    """First what a student sees or finds out; a hop loses its way back before it goes; the sound stays."""
    use = ShapeUse(
        hops=((6, (Count(3, Fraction(1, 2)),)),), back=((6, (Count(4, Fraction(1, 2)),)),),
        at_times=frozenset({6}),
    )  # fmt: skip
    one = shape("B7", "x21222", ".21333", use, Hop("2", 6, 2))
    assert shape_hints(one, "D7") == (
        "Sounds as D7.",
        "At times the middle finger crosses to string 6 on the and of 3.",
    )
    assert shape_hints(one, "") == (
        "At times the middle finger crosses to string 6 on the and of 3 and is back on the and of 4.",
    )


def test_names_never_bring_what_is_not_seen():
    assert shape_hints(E, "G\u202e\n7") == ("Sounds as G 7.",)


def assert_true(
    hint: str, one: TakenShape, before: list[TakenShape], timeline: Timeline | None
) -> None:
    """What a hint says is so, by the shape and the song alone."""
    voicing = one.voicing
    if found := re.fullmatch(r"As (.+), the (\w+)(?: finger)? (lifted|added)\.", hint):
        [other] = [each for each in reversed(before) if with_signs(each.name) == found[1]][:1] or [
            None
        ]
        finger = FINGERS[found[2]]
        assert other is not None
        whole, less = (other.voicing, voicing) if found[3] == "lifted" else (voicing, other.voicing)
        assert {place for place in places(whole) if place[0] != finger} <= places(less)
        assert {place[0] for place in places(whole)} - {finger} == {
            place[0] for place in places(less)
        }
        assert finger in {place[0] for place in places(whole)}
        return
    if found := re.fullmatch(r"The hand of (.+), (\w+) frets? toward the (head|body)\.", hint):
        other = next(each for each in reversed(before) if with_signs(each.name) == found[1])
        way = (1 if found[3] == "body" else -1) * (NUMBERS.get(found[2]) or int(found[2]))
        assert {(f, s, fret + way) for f, s, fret in places(other.voicing)} == places(voicing)
        return
    if found := re.fullmatch(r"The (\w+)(?: finger)? lies over strings (\d+) to (\d+)\.", hint):
        finger = FINGERS[found[1]]
        at = [place for place in places(voicing) if place[0] == finger]
        frets = {fret for _, _, fret in at}
        assert any(
            {int(found[2]), int(found[3])} <= {s for _, s, f in at if f == fret} for fret in frets
        )
        return
    assert_hop(hint, one, timeline)


def assert_hop(hint: str, one: TakenShape, timeline: Timeline | None) -> None:
    """The counts are those of the song, always or at times; back on a count on which its own string is plucked."""
    hop = next(
        each for each in one.voicing.hops
        if re.search(rf"string {each.string}\b", hint)
    )  # fmt: skip
    counts = dict(one.use.hops)[hop.string]
    assert on(*counts) in hint
    if timeline is None:
        return
    hopped, back = set[Count](), set[Count]()
    steady, away, held = True, False, ""
    for played in timeline.bars:
        bar = played.bar
        here = set[Count]()
        for note in bar.notes:
            now = [
                each.voicing for each in bar.voicings if not each.onset or each.onset <= note.onset
            ]
            name = now[-1].name if now else ""
            away = away and name == held
            held = name
            if name != one.voicing.name:
                continue
            count = bar.meter.count_at(bar.start + note.onset)
            if (note.string, note.fret) == (hop.string, hop.fret):
                here.add(count)
                away = True
            elif (
                away
                and one.voicing.finger(note.string) == hop.finger
                and one.voicing.fret(note.string) == note.fret
            ):
                back.add(count)
                away = False
        hopped |= here
        taken_here = one.voicing.name in {each.voicing.name for each in bar.voicings}
        steady = steady and (not taken_here or here == set(counts))
    assert hopped == set(counts)
    assert hint.startswith("At times") or steady
    if "is back on" in hint:
        [count] = back
        assert hint.endswith(f"and is back on {on(count)}.")


def on(*counts: Count) -> str:
    """Counts as a hint has them."""
    said = [count_words(one) if one.part else str(one.number) for one in counts]
    return listed(said)


def places(voicing: Voicing) -> set[tuple[str, int, int]]:
    strings = len(voicing.frets)
    return {
        (finger, strings - at, fret)
        for at, (finger, fret) in enumerate(zip(voicing.fingers, voicing.frets, strict=True))
        if finger and fret
    }


def assert_hints(
    one: TakenShape, sounding: str, before: list[TakenShape], timeline: Timeline | None
) -> None:
    hints = list(shape_hints(one, sounding, before))
    assert len(wrapped(" ".join(hints), SIZE, ROOM)) <= MOST_LINES
    if sounding:
        assert hints.pop(0) == f"Sounds as {sounding}."
    for hint in hints:
        assert_true(hint, one, before, timeline)


@LESSONS.law()
def test_nothing_is_said_that_is_not_so(made: Made):
    """Over all shapes of a lesson, each beside those before it."""
    shapes = list(taken_shapes(made.timeline))
    for at, one in enumerate(shapes):
        if one.voicing.fingers:
            assert_hints(one, "G", shapes[:at], made.timeline)


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.lesson")), ids=lambda path: path.stem)
def test_nothing_is_said_of_the_examples_that_is_not_so(example: Path):
    """Their hops come in different patterns and go on over bars."""
    timeline = examine(load(example)).reading.timeline
    shapes = list(taken_shapes(timeline))
    for at, one in enumerate(shapes):
        assert_hints(one, "G", shapes[:at], timeline)


@given(st.data(), st.integers(3, 8))
def test_nothing_is_said_of_any_shapes_that_is_not_so(data: st.DataObject, strings: int):
    """Shapes that differ by a finger, a fret or a string, and any others."""
    one = data.draw(taken(strings))
    before = data.draw(st.lists(st.one_of(taken(strings), changed(one)), max_size=3))
    named = [TakenShape(each.voicing, f"S{at}", each.use) for at, each in enumerate(before)]
    assert_hints(one, "", named, None)


@st.composite
def changed(draw: st.DrawFn, one: TakenShape) -> TakenShape:
    """A shape that differs a little."""
    voicing, at = one.voicing, draw(st.integers(0, len(one.voicing.frets) - 1))
    frets, fingers = list(voicing.frets), list(voicing.fingers)
    kind = draw(st.sampled_from(["let go", "put", "moved"]))
    if kind == "let go":
        frets[at], fingers[at] = draw(st.sampled_from([None, 0])), None
    elif kind == "put":
        frets[at], fingers[at] = draw(st.integers(1, 5)), draw(st.sampled_from("1234"))
    else:
        shift = draw(st.integers(1, 3))
        frets = [fret and fret + shift for fret in frets]
    return TakenShape(
        Voicing(name=voicing.name, frets=tuple(frets), fingers=tuple(fingers)), one.name, one.use
    )
