"""Fingers a lesson leaves open, chosen for the voicing and for the song."""

from __future__ import annotations

from fretloom.api import expand, loads
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.hands.holds import HandWalk

HEAD = """\
lesson "Open fingers"
  tempo 80
{more}
voicings
  C   x32010{c}
  G   320003{g}
{voicings}
patterns
  plain  p , p m , p i , p m

section tune  using plain
  {bars}
"""


def _fingers(
    bars: str, c: str = "", g: str = "", voicings: str = "", more: str = ""
) -> dict[str, str]:
    text = HEAD.format(bars=bars, c=c, g=g, voicings=voicings, more=more)
    return {name: one.fingers_text for name, one in expand(loads(text)).voicings.items()}


def test_open_fingers_are_found_and_said_to_be() -> None:
    """A voicing without fingers gets the likeliest ones and is marked as not given."""
    timeline = expand(
        loads(HEAD.format(bars="G | G", c="  fingers .32.1.", g="", voicings="", more=""))
    )
    assert timeline.voicings["G"].fingers_text == "21...3"
    assert not timeline.voicings["G"].fingers_given


def test_song_decides_where_the_voicing_leaves_it_open() -> None:
    """Between Cs, G is fingered so that two fingers move as a block."""
    assert _fingers("C | G | C | G | C")["G"] == "32...4"


def test_fingers_given_are_never_changed() -> None:
    """What the teacher wrote stays."""
    assert _fingers("C | G | C | G | C", g="  fingers 21...3")["G"] == "21...3"


def test_derived_voicings_follow_the_chosen_fingers() -> None:
    """A voicing that is like an open one keeps the fingers chosen for it."""
    found = _fingers("C | G | C | G7", voicings="  G7  like G  mute 5\n")
    assert found["G7"] == found["G"][0] + "." + found["G"][2:]


def test_a_voicing_no_hand_holds_stays_open() -> None:
    """Six frets in a row have no fingers."""
    assert _fingers("C | walk", voicings="  walk  123456\n")["walk"] == ""


def test_the_tuning_tells_the_neck() -> None:
    """A ukulele lesson is judged on a ukulele's neck."""
    text = 'lesson "Small"\n  tuning ukulele\n'
    assert neck_of_settings(expand(loads(text)).settings).scale < 450


def test_extra_notes_get_fingers_that_are_free() -> None:
    """Over C, the note at fret 3 of string 1 goes to the little finger, the one at string 5 stays with the third."""
    text = HEAD.format(
        bars="C { p a@3 , p5@3 , - , - }",
        c="  fingers .32.1.",
        g="  fingers 21...3",
        voicings="",
        more="",
    )
    timeline = expand(loads(text))
    settings = timeline.settings
    walk = HandWalk(timeline, neck_of_settings(settings), hand_of_settings(settings))
    stops = [stop for moment in walk.moments() for stop in moment.hold.stops]
    assert [(stop.string, stop.finger) for stop in stops] == [(5, "3"), (1, "4"), (5, "3")]


def test_a_hammer_on_takes_a_higher_finger_and_a_pull_off_a_lower_one() -> None:
    """The finger of the slurred note stands on the right side of the one before."""
    text = HEAD.format(
        bars="C { p m2@1h3 , p m2@3p1 , - , - }",
        c="  fingers .32.1.",
        g="  fingers 21...3",
        voicings="",
        more="",
    )
    timeline = expand(loads(text))
    settings = timeline.settings
    walk = HandWalk(timeline, neck_of_settings(settings), hand_of_settings(settings))
    fingers = [
        stop.finger for moment in walk.moments() for stop in moment.hold.stops if stop.string == 2
    ]
    assert fingers[0] < fingers[1]
    assert fingers[2] > fingers[3]


def test_a_pull_off_leaves_a_finger_for_the_lower_note() -> None:
    """Over open strings, fret 4 pulled off to fret 2 is not begun with the first finger."""
    text = HEAD.format(
        bars="open { p a1@4p2 , - , - , - }", c="", g="", voicings="  open 000000\n", more=""
    )
    timeline = expand(loads(text))
    settings = timeline.settings
    walk = HandWalk(timeline, neck_of_settings(settings), hand_of_settings(settings))
    first, second = [stop.finger for moment in walk.moments() for stop in moment.hold.stops]
    assert "" < second < first
