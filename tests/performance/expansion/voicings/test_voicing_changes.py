"""What `like` and its changes make of a voicing."""

from __future__ import annotations

import pytest
from timeline_lessons import expanded, messages, rules

BARRE = "  C#m x46654 fingers .13421\n"


def _shape(lines: str, name: str) -> str:
    expansion = expanded("voicings\n" + lines)
    assert messages(expansion) == []
    voicing = expansion.timeline.voicings[name]
    return f"{voicing.frets_text} {voicing.fingers_text}"


@pytest.mark.parametrize(
    ("changes", "shape"),
    [
        ("like E lift 3", "020100 .2.1.."),
        ("like E add 2@2:4", "022120 .2314."),
        ("like C move 3 to 6@3", "302010 3.2.1."),
        ("like E mute 6 mute 1", "x2210x .231.."),
        ("like E lift 1 lift 2 lift 3", "000000 ......"),
        ("like E up 1 mute 6 mute 2 mute 1", "x332xx .231.."),
        ("like E up 1 fingers 134211", "133211 134211"),
        ("like E mute 6 mute 2 mute 1 up 3 down 2", "x332xx .231.."),
    ],
)
def test_changes_in_order(changes: str, shape: str) -> None:
    """Each change is made to what the one before it left."""
    assert _shape(f"  new {changes}\n", "new") == shape


def test_a_lifted_string_falls_to_the_barre_below_it() -> None:
    """C#m7 is C#m without the little finger: string 3 falls to the barre at fret 4."""
    assert _shape(BARRE + "  C#m7 like C#m lift 4\n", "C#m7") == "x46454 .13121"


def test_a_chain_may_stand_in_any_order() -> None:
    """A voicing can be like one that is written below it."""
    lines = "  Bm7 like C#m7 down 2\n  C#m7 like C#m lift 4\n" + BARRE
    assert _shape(lines, "Bm7") == "x24232 .13121"


def test_an_open_string_under_a_barre_is_held_by_it() -> None:
    """What a barre laid over the shape covers is no longer open."""
    lines = "  high like A up 2 add 5@2:1 add 1@2:1 mute 6\n"
    assert _shape(lines, "high") == "x24442 .11231"


def test_hops_move_with_the_hand() -> None:
    """A movable shape that hops still hops two frets higher."""
    lines = "  low x2120x fingers .213.. bass 5 4 6 4 hop 2 to 6@2\n"
    lines += "  high like low mute 2 up 2\n"
    expansion = expanded("voicings\n" + lines)
    (hop,) = expansion.timeline.voicings["high"].hops
    assert (hop.finger, hop.string, hop.fret) == ("2", 6, 4)


@pytest.mark.parametrize(
    ("line", "rule", "words"),
    [
        ("new like Em7", "unknown-voicing", "there is no voicing Em7"),
        ("new like new", "like-cycle", "new is said to be like itself"),
        ("new like E lift 4", "lift-nothing", "finger 4 does not hold a string in E"),
        ("new like E move T to 6@1", "lift-nothing", "the thumb does not hold a string in E"),
        ("new like E up 2", "open-string-moved", "open strings (6 2 1)"),
        ("new like D down 3 mute 4", "no-such-fret", "below fret 1"),
        ("new like E add 7@2:4", "no-such-string", "there are 6 strings"),
        ("new like E mute 9", "no-such-string", "string 9"),
        ("new like E add 2@30:4", "no-such-fret", "the neck ends at fret 20"),
        ("new x99999", "", ""),
        ("new x-99-99-99-99-99", "no-such-fret", "fret 99"),
        ("new 022100 bass 6 4 8 4", "no-such-string", "string 8"),
        ("new 022100 fingers .231.. hop 4 to 1@3", "hop-impossible", "does not hold a string"),
        ("new 022100 fingers .231.. hop 2 to 5@3", "hop-impossible", "already holds string 5"),
        ("new x-12-14-14-13-12 fingers .13421", "", ""),
    ],
)
def test_changes_that_cannot_be(line: str, rule: str, words: str) -> None:
    """Each is reported once, with the voicing named."""
    expansion = expanded(f"voicings\n  {line}\n")
    assert rules(expansion) == ([rule] if rule else [])
    if rule:
        assert words in messages(expansion)[0]
        assert messages(expansion)[0].startswith("new")


def test_a_circle_is_reported_once_and_named() -> None:
    """Three voicings like each other are one fault."""
    lines = "voicings\n  one like two\n  two like three\n  three like one\n  four like one\n"
    expansion = expanded(lines)
    assert rules(expansion) == ["like-cycle"]
    assert "one like two like three like one" in messages(expansion)[0]


def test_the_capo_shortens_the_neck() -> None:
    """Frets count from the capo, so a high capo leaves fewer of them."""
    expansion = expanded("voicings\n  new x-15-17-17-17-15\n", "capo 9")
    assert rules(expansion) == ["no-such-fret"]
    assert "with the capo at 9 the neck ends at fret 11" in messages(expansion)[0]


def test_a_long_chain_is_followed() -> None:
    """Depth does not matter."""
    lines = [f"  v{n} like v{n + 1}" for n in range(3000)]
    expansion = expanded("voicings\n" + "\n".join(lines) + "\n  v3000 022100\n")
    assert messages(expansion) == []
    assert expansion.timeline.voicings["v0"].frets_text == "022100"


def test_the_nearest_name_is_offered() -> None:
    """A slip of the pen is answered with what was meant."""
    expansion = expanded("voicings\n  C#m7 x46454\n  new like c#m7\n")
    (found,) = expansion.diagnostics
    assert found.hint == "did you mean C#m7?"
