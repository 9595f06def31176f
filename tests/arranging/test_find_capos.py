"""Capos and shapes for a lesson, ranked by how hard the song is with them."""

from __future__ import annotations

import pytest

from fretloom.api import check, expand, format_text, loads, with_easiest_capo
from fretloom.arranging.find_capos import find_capos
from fretloom.errors import FretloomError
from fretloom.performance.reading import read_through
from fretloom.trade.music.key import parse_key

FLAT = """\
lesson "Flat key"
  plays in Eb
  tempo 80

voicings
  Eb  x68886
  Ab  466544
  Bb  x13331

patterns
  plain  p , p m , p i , p m

section tune  using plain
  Eb | Ab | Bb | Eb
"""


def test_shapes_without_barres_come_before_barres() -> None:
    """Eb, Ab and Bb become open chords: those of D with capo 1, or of A with capo 6."""
    choices = find_capos(read_through(loads(FLAT)))
    assert (choices[0].capo, str(choices[0].plays)) in {(1, "D"), (6, "A")}
    now = next(choice for choice in choices if choice.now)
    assert len(now.barres) == 3
    assert choices[0].barres == ()
    assert [one.points for one in choices] == sorted(one.points for one in choices)


def test_it_sounds_as_before() -> None:
    """Whatever the capo, the root of the first bar sounds the same."""
    before = expand(loads(FLAT)).bars[0].bar.notes[0].midi % 12
    for choice in find_capos(read_through(loads(FLAT))):
        note = expand(loads(format_text(choice.lesson))).bars[0].bar.notes[0]
        assert note.midi % 12 == before


def test_another_key_can_be_reached() -> None:
    """Asked for F, every choice sounds in F."""
    assert {str(one.sounds) for one in find_capos(read_through(loads(FLAT)), parse_key("F"))} == {
        "F"
    }


def test_the_lesson_can_be_written_anew() -> None:
    """The text with the easiest capo has no errors and is in the open key."""
    text = with_easiest_capo(loads(FLAT))
    assert not [one for one in check(loads(text)) if one.severity.value == "error"]
    assert "capo" in text


def test_a_lesson_without_a_key() -> None:
    """Without a key there is nothing to keep."""
    with pytest.raises(FretloomError, match="plays in"):
        find_capos(read_through(loads('lesson "No key"\n')))
