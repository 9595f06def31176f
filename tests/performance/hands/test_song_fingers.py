"""Fingers a lesson leaves open, chosen for the voicing and for the song."""

from __future__ import annotations

import json
from itertools import combinations, product

import pytest

from fretloom.api import as_json, as_text, expand, hands, loads
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.hands.holds import HandWalk
from fretloom.performance.hands.pressed import times_of_change
from fretloom.performance.hands.song_fingers import Song

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


@pytest.mark.parametrize("slur", ["3h4", "4p3"])
def test_a_finger_makes_no_slur_onto_its_own_note(slur: str) -> None:
    """While the others have to stay, the little finger can neither hammer on after itself nor pull off."""
    text = HEAD.format(
        bars=f"C {{ p5+i4+m2+a1@{slur} , - , - , - }}",
        c="  fingers .32.1.",
        g="  fingers 21...3",
        voicings="",
        more="",
    )
    timeline = expand(loads(text))
    settings = timeline.settings
    walk = HandWalk(timeline, neck_of_settings(settings), hand_of_settings(settings))
    stops = [stop for moment in walk.moments() for stop in moment.hold.stops if stop.string == 1]
    assert [stop.finger for stop in stops] == ["4", ""]


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


def test_a_finger_may_leave_once_its_last_note_is_plucked() -> None:
    """At a tempo of 60 finger 3 is free at 0 s; the hand moves on from there."""
    timeline = expand(loads(_slow("p , - , m , -")))
    settings = timeline.settings
    walk = HandWalk(timeline, neck_of_settings(settings), hand_of_settings(settings))
    before, after = list(walk.moments())[:2]
    times = times_of_change(before, after)
    assert times.freed == {"": 0.0, "3": 0.0, "1": 2.0}
    assert times.needed["2"] == 4.0
    assert (times.earliest, times.latest) == (2.0, 5.0)


def _slow(pattern: str, bars: str = "C | G") -> str:
    return f"""lesson "Slow"
  tempo 60

voicings
  C  x32010  fingers .32.1.  bass 5
  G  320003  fingers 21...3  bass 6

patterns
  slow  {pattern}

section tune  using slow
  {bars}
"""


def test_a_change_is_given_half_a_beat_at_least() -> None:
    """The hand is planned for a quaver where a voicing is held for less."""
    timeline = expand(loads(_slow("p , p , p , p p p p", "C:3.75 G:0.25 | C")))
    windows = {(one.before, one.after): one.window for one in Song(timeline, frozenset()).steps}
    assert windows["G", "C"] == 0.5
    assert windows["C", "G"] == 2.0


def test_what_was_found_says_whether_it_is_the_easiest() -> None:
    """A few changes can all be tried; thirty voicings changed to one another cannot."""
    few = loads(HEAD.format(bars="C | G", c="", g="", voicings="", more=""))
    assert expand(few).fingers_sure
    assert "no other choice makes the whole song easier" in as_text(hands(few))
    names = [f"v{at}" for at in range(30)]
    frets = [f"{a}{b}{c}{d}00" for a, b, c, d in product("x3", "x23", "024", "013")]
    voicings = "".join(f"  {name} {shape}\n" for name, shape in zip(names, frets, strict=False))
    bars = " | ".join(f"{one} {other}" for one, other in combinations(names, 2))
    many = loads(HEAD.format(bars=bars, c="", g="", voicings=voicings, more=""))
    assert not expand(many).fingers_sure
    assert "there may be an easier one" in as_text(hands(many))
    assert "there may be an easier one" in json.loads(as_json(hands(many)))["fingers_found_are"]


@pytest.mark.parametrize(
    ("bars", "voicings", "name", "fingers"),
    [
        ("D | Dsus4 | D | Dsus4", {"D": "xx0232", "Dsus4": "xx0233"}, "Dsus4", "...134"),
        ("C | G/B | Am", {"C": "x32010", "G/B": "x20003", "Am": "x02210"}, "G/B", ".2...4"),
        ("Cmaj7 | Cmaj7", {"Cmaj7": "x32000"}, "Cmaj7", ".32..."),
        (
            "Cadd9 | Em7 | A7sus4",
            {"Cadd9": "x32033", "Em7": "022033", "A7sus4": "x02030"},
            "A7sus4",
            "..2.3.",
        ),
        (
            "Cadd9 | Em7 | A7sus4",
            {"Cadd9": "x32033", "Em7": "022033", "A7sus4": "x02033"},
            "A7sus4",
            "..2.34",
        ),
        ("E | Esus4 | E", {"E": "022100", "Esus4": "022200"}, "Esus4", ".234.."),
        ("G | C | G", {"G": "320003", "C": "x32010"}, "G", "32...4"),
    ],
)
def test_fingers_in_their_context(
    bars: str, voicings: dict[str, str], name: str, fingers: str
) -> None:
    """Fingers stay where they can, as teachers show it (common practice, no source)."""
    lines = "".join(f"  {one}  {frets}\n" for one, frets in voicings.items())
    text = (
        f'lesson "Context"\n  tempo 80\n\nvoicings\n{lines}\n'
        f"patterns\n  plain  p , p m , p i , p m\n\nsection tune  using plain\n  {bars}\n"
    )
    assert expand(loads(text)).voicings[name].fingers_text == fingers
