"""What students read for the voicings of a lesson."""

from __future__ import annotations

from reading_through import reading_of

from fretloom.performance.showing.shape_names import shape_names, signed_names
from fretloom.performance.showing.taken_shapes import taken_shapes

LESSON = """
lesson "Kiln Lane Evening"
  tuning standard
  meter 4/4

voicings
  C        x32010
  F#m      244222
  F#m.top  xx4222
  G        320003
  G.bar    355433

patterns
  plain  p , i , p , i

section verse  using plain
  F#m | G.bar | C
form
  verse

step "Another G"
  Try {shape}.
  show shape G
"""


def test_shapes_of_one_chord_are_told_apart_and_others_have_their_symbol():
    names = signed_names(reading_of(LESSON).timeline)
    assert names["C"] == "C"
    assert (names["G"], names["G.bar"]) == ("G", "G at fret 3")
    assert (names["F#m"], names["F#m.top"]) == ("F♯m from string 6", "F♯m from string 4")


def test_a_shape_that_the_song_takes_is_called_alike_where_a_step_shows_another():
    """The step shows "G", so the diagram of the song's own G says at which fret it is."""
    timeline = reading_of(LESSON).timeline
    named = {one.voicing.name: one.name for one in taken_shapes(timeline)}
    assert named["G.bar"] == "G at fret 3" == shape_names(timeline)["G.bar"]
