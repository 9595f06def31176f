"""A shape in words: every finger, every string, what is plucked of it, and the thumb."""

from __future__ import annotations

import re

from lesson_pool import LESSONS, Made
from reading_changes import fingers, numbers

from fretloom.formats.students.telling.listener import Listener
from fretloom.formats.students.telling.shapes import shape_sentences
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.performance.showing.taken_shapes import TakenShape, taken_shapes
from fretloom.trade.guitar.voicing import Hop, Voicing
from fretloom.trade.music.meter import parse_count

ALL = frozenset(range(1, 7))


def said(
    frets: str, fingers: str = "", use: ShapeUse | None = None, hops: tuple[Hop, ...] = ()
) -> str:
    voicing = Voicing(
        name="A",
        frets=tuple(None if one == "x" else int(one) for one in frets),
        fingers=tuple(None if one == "." else one for one in fingers),
        hops=hops,
    )
    taken = TakenShape(voicing, "A", use or ShapeUse(ALL))
    return " ".join(shape_sentences(taken, Listener()))


def counts(*words: str):
    return tuple(parse_count(word) for word in words)


def test_fingers_in_one_fret_are_said_together():
    assert said("x21202", ".213.4") == (
        "The index finger is on string 4, fret 1; the middle, ring and little fingers are on strings 5, 3 and 1, "
        "fret 2. String 2 is open. String 6 is not played."
    )


def test_a_barre_lies_across_all_that_it_covers():
    assert said("133211", "134211") == (
        "The index finger lies across strings 6 to 1 at fret 1; the middle finger is on string 3, fret 2; "
        "the ring and little fingers are on strings 5 and 4, fret 3."
    )


def test_the_thumb_over_the_neck():
    assert said("244222", "T34111").startswith(
        "The index finger lies across strings 3 to 1 at fret 2; "
        "the thumb reaches over the neck to string 6, fret 2; the ring and little fingers"
    )


def test_open_strings_alone():
    assert said("0000") == "All strings are open: no finger is needed."
    assert said("x000") == "No finger is needed. Strings 3 to 1 are open. String 4 is not played."


def test_fingers_that_nobody_knows():
    assert said("0002") == "String 1 at fret 2. Strings 4 to 2 are open."


def test_a_finger_that_hops():
    """Its goal is a string that is played, though the shape has none there."""
    use = ShapeUse(ALL, (), ((6, counts("3")),))
    words = said("x21202", ".213.4", use, (Hop("2", 6, 2),))
    assert "not played" not in words
    assert words.endswith(
        "On count 3 the middle finger crosses to string 6, fret 2, and comes back."
    )
    assert said("x21202", ".213.4", ShapeUse(ALL), (Hop("2", 6, 2),)).endswith(
        "The middle finger crosses to string 6, fret 2, and comes back."
    )


def test_what_is_held_and_never_plucked():
    """Of open strings nothing is said: they cost no finger."""
    assert said("x02220", "..123.", ShapeUse(frozenset({5, 4, 3}))).endswith(
        "String 2 is held, but never plucked in this song."
    )


def test_the_thumb_in_the_order_in_which_it_plays():
    use = ShapeUse(ALL, ((6, counts("1")), (5, counts("3")), (4, counts("2", "4"))))
    assert said("000000", "", use).endswith(
        "The thumb plays string 6 on count 1, string 4 on counts 2 and 4, and string 5 on count 3."
    )


def test_a_thumb_that_plays_two_strings_on_one_count():
    """Now one, now the other: only which they are is said."""
    use = ShapeUse(ALL, ((5, counts("1")), (4, counts("1"))))
    assert said("000000", "", use).endswith("The thumb plays strings 5 and 4.")


@LESSONS.law(most=60)
def test_the_shapes_of_any_lesson(made: Made) -> None:
    """Every string that is stopped is said with its fret and finger, every other one as open or not played."""
    for taken in taken_shapes(made.timeline):
        words = shape_sentences(taken, Listener())
        assert all(one[0].isupper() and one.endswith(".") for one in words)
        _check(taken.voicing, words)


def _check(voicing: Voicing, words: tuple[str, ...]) -> None:
    found: dict[int, tuple[int, str | None]] = {}
    for part in re.split(r"; ", words[0].rstrip(".").lower()):
        fret = re.search(r"fret (\d+)", part)
        if fret is None:
            continue
        who = fingers(part) or (None,)
        strings = numbers(re.search(r"strings? ([\d, and]+(?:to \d+)?)", part)[1])  # type: ignore[index]
        if "lies across" in part:
            ends = [one for one in strings if voicing.finger(one) == who[0]]
            assert (strings[0], strings[-1]) == (ends[0], ends[-1])
            strings = tuple(ends)
        for at, string in enumerate(strings):
            finger = who[at] if len(who) > 1 else who[0]
            found[string] = (int(fret[1]), finger)
    held = {string: (voicing.fret(string), voicing.finger(string)) for string in range(1, len(voicing.frets) + 1)
            if voicing.fret(string)}  # fmt: skip
    assert found == held
