"""Lessons in another key."""

from __future__ import annotations

import pytest

from fretloom.api import check, expand, loads, transpose
from fretloom.errors import FretloomError, LessonFaulty

HEAD = 'lesson "Two cups"\n  capo 3\n  plays in E\n  sounds in G\n'
BODY = """
voicings
  E       022100  fingers .231..  bass 6 4 5 4
  A       x02220  fingers ..123.  bass 5 4 5 4
  C#m     x46654  fingers .13421
  B7.low  x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2
  walk    x2x01x

patterns
  plain  p , m , p , m

section t  using plain
  E | A | C#m x2 | B7.low
  repeat 2
    E:2 walk:2
    ending 1: A
    ending 2: E
  end

form
  t
  t
    but last bar: B7.low

step "The change"
  show change A to B7.low
  show pattern plain over E
"""


def moved(head: str = HEAD, body: str = BODY, **to) -> str:
    return transpose(loads(head + body), **to)[0]


def test_another_capo_keeps_the_shapes():
    """Capo 3 to capo 5: the same shapes sound two half steps higher, in A (arithmetic)."""
    text = moved(capo=5)
    assert "  capo 5\n  plays in E\n  sounds in A\n" in text
    before, after = (
        [note.midi for played in expand(loads(one)).bars for note in played.bar.notes]
        for one in (HEAD + BODY, text)
    )
    assert [note + 2 for note in before] == after


def test_other_shapes_sound_in_the_same_key():
    """From E to D shapes the capo goes up two frets, and every chord keeps its sounding root."""
    text = moved(plays="D")
    assert "  capo 5\n  plays in D\n  sounds in G\n" in text
    roots = ["D", "G", "Bm", "A7.low"]
    assert [entry.name for entry in loads(text).voicings] == [*roots, "walk"]
    assert "D | G | Bm x2 | A7.low" in text
    assert "but last bar: A7.low" in text
    assert "show change G to A7.low" in text
    assert "show pattern plain over D" in text


def test_movable_voicings_move_and_open_ones_get_a_common_shape():
    """C#m at fret 4 becomes Bm at fret 2 with its fingers; E becomes the open D."""
    text = moved(plays="D")
    assert "Bm      x24432          fingers .13421" in text
    assert "D       xx0232\n" in text


def test_without_a_common_shape_the_nut_becomes_a_barre():
    """The plain voicing x2x01x goes up ten frets with its open string, whatever the tuning."""
    text, remarks = transpose(loads(HEAD + BODY), plays="D")
    assert "walk    x-12-x-10-11-x" in text
    assert any("walk becomes walk with a barre at fret 10" in one for one in remarks)


def test_the_result_has_no_error():
    """What comes out is a lesson without errors, in canonical form, with as many notes."""
    text = moved(plays="G", capo=0)
    found = [one for one in check(loads(text)) if one.severity.value == "error"]
    assert found == []
    assert len(expand(loads(text)).bars) == len(expand(loads(HEAD + BODY)).bars)


def test_there_and_back_in_names():
    """Names go to the other key and back."""
    there = moved(plays="D")
    back = transpose(loads(there), plays="E")[0]
    names = [entry.name for entry in loads(back).voicings]
    assert names == ["E", "A", "C#m", "B7.low", "walk"]


def test_what_names_frets_is_remarked():
    """A fret written in a pattern cannot be moved without listening."""
    body = BODY.replace("p , m , p , m", "p , m2@3 , p , m")
    remarks = transpose(loads(HEAD + body), plays="D")[1]
    assert "the pattern plain names a fret: look whether it still fits" in remarks


@pytest.mark.parametrize(
    ("head", "to", "words"),
    [
        ('lesson "Two cups"\n', {"plays": "D"}, "does not say its key"),
        (HEAD, {"capo": 12}, "fret 12"),
        (HEAD, {"plays": "Dm"}, "shapes of Dm"),
        (HEAD, {"plays": "X"}, "not a key"),
    ],
)
def test_refused_with_a_reason(head, to, words):
    """What cannot be transposed is refused, saying why."""
    with pytest.raises(FretloomError, match=words):
        moved(head, **to)


def test_partial_capo_is_refused():
    """Under a capo on some strings a shape means another chord at every fret."""
    head = 'lesson "Two cups"\n  capo 2 on 5 4 3\n  plays in E\n'
    body = "voicings\n  open  000000\npatterns\n  plain  p , m , p , m\nsection t  using plain\n  open\n"
    with pytest.raises(FretloomError, match="some strings only"):
        moved(head, body, capo=3)


def test_faulty_lesson_is_refused():
    """A lesson with an error is mended first."""
    with pytest.raises(LessonFaulty):
        moved(body=BODY.replace("A       x02220", "A       x02210"), plays="D")
