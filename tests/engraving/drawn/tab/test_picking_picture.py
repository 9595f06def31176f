"""A pattern alone."""

from __future__ import annotations

from drawn_bars import HEAD, letters, overlapping, texts
from reading_through import reading_of

from fretloom.engraving.drawn.drawing import Box, Disc, Drawing
from fretloom.engraving.drawn.tab.making.strip_bars import of_bars
from fretloom.engraving.drawn.tab.picking_picture import picking_picture
from fretloom.engraving.drawn.tab.values import TabLook
from fretloom.performance.showing.patterns_alone import patterns_alone


def picture(pattern: str) -> Drawing:
    """Draw a pattern over E."""
    head = HEAD.replace("p , p m , p i , p m", pattern)
    reading = reading_of(f"{head}section verse using step\n  E\n")
    bars = patterns_alone(reading, [("step", "E")])["step", "E"]
    [found] = picking_picture(of_bars(bars, {}), reading.timeline.settings, TabLook()).bars
    return found


def test_the_thumb_is_a_square_and_a_finger_a_circle():
    """With their letters; no frets."""
    found = picture("p , p m , p i , p m")
    squares = [one for one in found.marks if isinstance(one, Box) and one.fill == "thumb"]
    circles = [one for one in found.marks if isinstance(one, Disc)]
    assert (len(squares), len(circles)) == (4, 3)
    assert [one.ink for one in letters(found, "p")] == ["paper"] * 4
    assert len(letters(found, "m")) == 2
    assert not letters(found, "0")


def test_the_words_stand_under_their_beat():
    """The thumb's first, and bold; what sounds with it with a plus."""
    found = picture("p , p m , p+i , m+i+a")
    thumb = letters(found, "thumb")
    assert [one.ink for one in thumb] == ["thumb"] * 3
    [together] = letters(found, "+ index")
    assert together.at[1] > thumb[0].at[1]
    assert together.at[0] == thumb[2].at[0]
    assert letters(found, "fingers")
    assert (
        found.says == "1 thumb. 2 thumb, and middle. 3 thumb and index. 4 index, middle and ring."
    )


def test_a_roll_is_said_finger_by_finger():
    """In the order of the roll."""
    found = picture("(p i m a) , - , - , -")
    words = [text for text in texts(found) if len(text) > 2]
    assert words == ["thumb", "index", "middle", "ring"]


def test_no_words_overlap():
    """Also where four fall on each beat, and where several bend and slur."""
    for pattern in (
        "p i m i , p a m i , p i m i , p a m i",
        "p+m , p+i+a , slap+m , m2@3.bend-half i",
    ):
        assert not list(overlapping(picture(pattern)))
