"""Lessons in another key."""

from __future__ import annotations

import pytest

from fretloom.api import as_text, check, dumps, expand, load, loads, transpose
from fretloom.arranging.new_key import with_shapes_of
from fretloom.arranging.remarks import CommonShapeTaken, FretNamed, NutBarred
from fretloom.diagnostics import LessonFaulty
from fretloom.errors import FretloomError
from fretloom.performance.reading import read_through
from fretloom.trade.music.key import parse_key

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
    return dumps(transpose(loads(head + body), **to).lesson)


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
    found = transpose(loads(HEAD + BODY), plays="D")
    text, remarks = dumps(found.lesson), as_text(found).splitlines()
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
    back = dumps(transpose(loads(there), plays="E").lesson)
    names = [entry.name for entry in loads(back).voicings]
    assert names == ["E", "A", "C#m", "B7.low", "walk"]


PLAYED = """
voicings
  E  022100

patterns
  plain  p , m , p , m
  long   p , m , p , m | p , m , p , m

section verse  using plain
  pickup 1: E
  E x2 | E using long
  repeat 2
    ending 1: E
    ending 2: E
  end
  last 3: E

form
  verse
  verse
    but bar 3: E
    but last bar: E
"""


def fret_places(old: str, new: str, head: str = HEAD) -> list[str]:
    """Return where frets are remarked on, once a line is written in another way."""
    assert PLAYED.count(old) == 1
    reading = read_through(loads(head + PLAYED.replace(old, new)))
    remarks = with_shapes_of(reading, parse_key("D")).remarks
    return [str(one.place) for one in remarks if isinstance(one, FretNamed)]


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ("plain  p , m", "plain  p , m3@1", "the pattern plain"),
        ("| p , m", "| p , m3@1", "bar 2 of the pattern long"),
        ("plain  p , m", "plain  p , [m [i m3@1]]", "the pattern plain"),
        ("plain  p , m", "plain  (p i@1 m) , m", "the pattern plain"),
        ("plain  p , m", "plain  p+m3@1 , m", "the pattern plain"),
        ("plain  p , m", "plain  p , m3@0h2", "the pattern plain"),
        ("plain  p , m", "plain  p , m3h3", "the pattern plain"),
        ("pickup 1: E", "pickup 1: E { m3@1 }", "the pickup of verse"),
        ("E x2", "E x2 { p, m3@1, p, m }", "bar 1 of verse"),
        ("| E using long", "| E with a3@1 on 3", "bar 3 of verse"),
        ("ending 1: E", "ending 1: E { p, m3@1, p, m }", "bar 4 of verse (ending 1)"),
        ("ending 2: E", "ending 2: E with a3@1 on 3", "bar 5 of verse (ending 2)"),
        ("last 3: E", "last 3: E { p, m3@1, p }", "the last bar of verse"),
        ("but bar 3: E", "but bar 3: E { p, a3@1, p, m }", "bar 3 of verse in entry 2 of the form"),
        (
            "but last bar: E",
            "but last bar: E with a3@1 on 3",
            "the last bar of verse in entry 2 of the form",
        ),
    ],
)
def test_each_place_that_names_a_fret_is_remarked(old, new, place):
    """Wherever a pluck can stand it can name a fret: one below the open string 3 has no place for the fingers."""
    assert fret_places(old, new) == [place]


@pytest.mark.parametrize("pluck", ["m2", "i1-3", "mx"])
@pytest.mark.parametrize("bar", ["E {{ p, {}, p, m }}", "E with {} on 2&"])
def test_what_names_no_fret_of_the_hand_is_not_remarked(pluck, bar):
    """A string alone, a brush or a dead note is where it was in any key."""
    assert fret_places("E using long", bar.format(pluck)) == []


def test_a_natural_harmonic_is_remarked():
    """It rings where it rings on the string, which is another note beside other shapes."""
    assert fret_places("E using long", "E { p, a1@12*, p, m }") == ["bar 3 of verse"]


def test_one_remark_for_each_bar():
    """Several frets in a bar are one thing to look at, those of another bar another."""
    bars = "| E { p, m3@1, p5@2, m } with a3@0 on 4 | E with a3@1 on 3"
    assert fret_places("| E using long", bars) == ["bar 3 of verse", "bar 4 of verse"]


def test_frets_in_patterns_of_a_used_file(tmp_path):
    """A pattern that is used is looked at wherever it is written; one that is not used is not."""
    library = "patterns\n  lent  p , m2@3 , p , m\n  spare  p , m2@3 , p , m\n"
    (tmp_path / "lib.lesson").write_text(library)
    file = tmp_path / "cups.lesson"
    text = HEAD + 'use "lib.lesson"\n' + PLAYED.replace("E using long", "E using lent")
    file.write_text(text.replace("verse  using plain", "verse  using lent"))
    remarks = with_shapes_of(read_through(load(file)), parse_key("D")).remarks
    assert [str(one.place) for one in remarks if isinstance(one, FretNamed)] == ["the pattern lent"]


def test_nothing_to_look_at_where_only_the_capo_moves():
    """With the same shapes every fret still fits."""
    body = PLAYED.replace("plain  p , m", "plain  p , m2@3")
    assert transpose(loads(HEAD + body), plays="E", capo=5).remarks == ()


def test_hops_move_or_are_not_needed():
    """A7 has the fifth of B7's hop on its open string 6; a voicing that is moved keeps its hop."""
    remarks = with_shapes_of(read_through(loads(HEAD + BODY)), parse_key("D")).remarks
    left = {one.name: len(one.hops) for one in remarks if isinstance(one, CommonShapeTaken)}
    assert left == {"E": 0, "A": 0, "B7.low": 0}
    assert [one.fret for one in remarks if isinstance(one, NutBarred)] == [10]
    body = "voicings\n  C#m  x46654  fingers .13421  hop 3 to 6@5\n"
    body += "patterns\n  plain  p , m , p , m\nsection t  using plain\n  C#m\n"
    found = transpose(loads(HEAD + body), plays="D")
    text, remarks = dumps(found.lesson), as_text(found).splitlines()
    assert "Bm  x24432  fingers .13421  hop 3 to 6@3" in text
    assert remarks == []


@pytest.mark.parametrize("to", [{"plays": "D"}, {"capo": 5}])
def test_no_sounding_key_is_added(to):
    """It follows from the playing key and the capo; the teacher did not write it."""
    assert "sounds in" not in moved(HEAD.replace("  sounds in G\n", ""), **to)
    assert "sounds in" in moved(**to)


def test_what_other_names_stand_for_stays():
    """A voicing of the new key may have the name of an old one: each use is renamed once."""
    text = moved(plays="A", capo=0)
    assert "A | D | F#m x2 | E7.low" in text
    assert "show change D to E7.low" in text


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


def test_the_new_key_is_named_as_the_lesson_names_notes():
    """h is B minor in a German lesson, and B is B flat (German usage, from memory)."""
    text = SMALL_LETTERS
    moved = transpose(loads(text), plays="h", capo=0).lesson
    assert [one.name for one in moved.voicings] == ["h", "e"]
    assert "plays in Hm" in dumps(moved)
    assert "N.C." in dumps(moved)
    assert [one.name for one in transpose(loads(text), plays="b", capo=0).lesson.voicings] == [
        "b",
        "es",
    ]


SMALL_LETTERS = """lesson "Two cups"
  names german
  plays in a

voicings
  a  577555
  d  x57765

patterns
  plain  p , m , p , m

section t  using plain
  a | d | N.C. | a
"""
