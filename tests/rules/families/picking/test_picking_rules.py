"""The thumb and the fingers on strings that are theirs or not. Common practice, no source, where not said."""

from __future__ import annotations

import pytest
from rule_lessons import HEAD, findings, lesson, plucked, reported

UKULELE = HEAD + "  tuning G4 C4 E4 A4\n"
OWN_HOMES = "picking\n  p plays 6 5 4 3\n  i plays 2\n  m plays 1\n"


@pytest.mark.parametrize("string", [6, 5, 4])
def test_thumb_is_at_home_on_the_bass(string: int) -> None:
    """The thumb may name any of its strings the voicing plays."""
    assert ("error", "thumb-off-bass") not in plucked(f"p{string}")


@pytest.mark.parametrize("string", [1, 2])
def test_thumb_on_a_high_string_is_an_error(string: int) -> None:
    """No thumb on strings 1 and 2: near-universal among teachers (common practice)."""
    assert ("error", "thumb-off-bass") in plucked(f"p{string}")


def test_thumb_on_string_3_is_only_mentioned() -> None:
    """Some teachers use string 3 as the second bass."""
    assert plucked("p3") == [("info", "thumb-off-bass")]


def test_picking_block_gives_the_thumb_its_strings() -> None:
    """What the `picking` block says is nobody's fault."""
    assert plucked("p3", more=OWN_HOMES) == []


def test_bass_order_off_the_bass_is_only_mentioned() -> None:
    """A D whose bass walks 4 3 4 3 is one of the ways teachers write it; one remark, at the order."""
    voicings = "voicings\n  D  xx0232  fingers ...132  bass 4 3 4 3\n"
    every = findings(lesson(voicings=voicings, section="section t  using plain\n  D | D\n"))
    (found,) = [one for one in every if one.rule != "third-not-plucked"]
    assert (found.severity.value, found.rule) == ("info", "thumb-off-bass")
    assert found.span.text == "4 3 4 3"


def test_brush_of_the_thumb_over_all_strings_is_ordinary() -> None:
    """A brush crosses the high strings and is not a slip."""
    assert plucked("p5-1") == []


def _ukulele(pattern: str) -> list[tuple[str, str]]:
    return reported(
        lesson(
            head=UKULELE,
            voicings="voicings\n  C  0003  fingers ...3  bass 4 4\n",
            patterns=f"patterns\n  plain  {pattern} , m , i , m\n",
        )
    )


def test_reentrant_tuning_is_judged_by_pitch() -> None:
    """Strings 4 and 1 of a re-entrant ukulele sound highest (its tuning: G4 C4 E4 A4)."""
    assert _ukulele("p4") == []
    assert _ukulele("p3") == [("info", "thumb-off-bass")]
    assert _ukulele("p1") == [("error", "thumb-off-bass")]


def test_fingers_shifted_in_order_are_only_mentioned() -> None:
    """i m a on 4 3 2 instead of 3 2 1 is an ordinary place of the hand."""
    found = plucked("i4 m3 a2")
    assert set(found) == {("info", "finger-off-strings")}


def test_crossed_fingers_are_warned_of() -> None:
    """m on a lower-sounding string than i is most often a slip."""
    assert ("warning", "finger-off-strings") in plucked("i2 m3")


def test_finger_far_in_the_bass_is_warned_of() -> None:
    """i on string 5, two beyond its home, is the thumb's business."""
    assert ("warning", "finger-off-strings") in plucked("i5")


def test_alternating_fingers_on_one_string_are_ordinary() -> None:
    """i and m take turns on one string in any scale passage."""
    assert set(plucked("[i2 m2 i2 m2]")) == {("info", "finger-off-strings")}


def test_each_finger_and_string_is_reported_once_a_bar() -> None:
    """A figure that repeats does not repeat its finding."""
    assert plucked("i2 i2 i2").count(("info", "finger-off-strings")) == 1


def test_pluck_added_to_a_bar_is_judged_too() -> None:
    """A `with` far off its string is warned of where it is written."""
    section = "section tune  using plain\n  C | C with m5 on 2\n"
    (found,) = [
        one for one in findings(lesson(section=section)) if one.rule == "finger-off-strings"
    ]
    assert found.severity.value == "warning"
    assert found.span.text == "m5"


def test_one_finger_on_two_strings_is_an_error() -> None:
    """One finger plucks one string at a time."""
    assert ("error", "finger-on-two-strings") in plucked("p+i3+i2")


def test_one_finger_twice_in_a_roll_is_ordinary() -> None:
    """A roll goes from string to string."""
    assert plucked("(p i m a)") == []
    assert ("error", "finger-on-two-strings") not in plucked("(p i3 i2 m1)")


def test_finger_busy_where_a_pluck_is_added() -> None:
    """A `with` for a finger that already plucks another string then is an error at the `with`."""
    section = "section tune  using plain\n  C | C with m1 on 2&\n"
    (found,) = [one for one in findings(lesson(section=section)) if one.severity.value == "error"]
    assert found.rule == "finger-on-two-strings"
    assert "strings 2 and 1" in found.message
    assert found.span.text == "m1"


def test_same_string_twice_is_one_fault() -> None:
    """Two plucks of one string at once are reported as that, not as a finger on two strings."""
    assert reported(lesson(patterns="patterns\n  plain  i+i , p m , p i , p m\n")) == [
        ("error", "string-plucked-twice")
    ]


def test_a_bass_order_to_the_lowest_string_is_mentioned_where_the_thumb_has_other_homes() -> None:
    """String 6 of six counts as much as any other."""
    voicings = "voicings\n  E  022100  fingers .231..  bass 6 5 4 5\n"
    homes = "picking\n  p plays 5 4\n  i plays 3\n  m plays 2\n"
    text = lesson(voicings=voicings, section="section t  using plain\n  E\n", more=homes)
    assert ("info", "thumb-off-bass") in reported(text)
