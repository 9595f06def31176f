"""Each kind of slip that has one way out, in the line where it is made; and those that have two."""

from __future__ import annotations

import pytest

from fretloom.api import check, loads
from fretloom.edits import apply_edits

LESSON = """lesson "Kiln Lane"
  capo 3
  plays in E
  tempo 96

picking
  p plays 6 5 4

voicings
  E   022100  fingers .231..  bass 6 4 5 4
  E7  like E  lift 3
  B7  x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2

patterns
  plain  p , p m , p i , p m
  inner  p , [p i] m , - , p+m

section verse  4 bars  using plain  "Verse"
  E x2 | E:3 E7:1 | B7 using inner

form
  verse
    but bar 3: E
    but last bar: B7 with a on 3

step "Slow"
  Count.
  show pattern inner over E at 60
  show change E to B7
"""

#: What is written for what, and only the text of the right lesson mends it.
SURE = [
    ('"Kiln Lane"', "“Kiln Lane”"),
    ('"Kiln Lane"', "„Kiln Lane“"),
    ('"Kiln Lane"', "'Kiln Lane'"),
    ('"Kiln Lane"', 'Kiln Lane"'),
    ('"Kiln Lane"', '"Kiln Lane'),
    ('"Kiln Lane"', "“Kiln Lane"),
    ('"Kiln Lane"', "Kiln Lane"),
    ("capo 3", "Capo 3"),
    ("capo 3", "capo: 3"),
    ("capo 3", "capo = 3"),
    ("capo 3", "capo at fret 3"),
    ("capo 3", "capo three"),
    ("capo 3", "capo 3rd"),
    ("capo 3", "capo 3 3"),
    ("capo 3", "kapo 3"),
    ("plays in E", "plays E"),
    ("plays in E", "plasy in E"),
    ("tempo 96", "tempo 96 bpm"),
    ("tempo 96", "tempo 96bpm"),
    ("p plays", "thumb plays"),
    ("6 5 4", "6, 5, 4"),
    ("voicings\n", "voicing\n"),
    ("voicings\n", "Voicings\n"),
    ("voicings\n", "chords:\n"),
    ("  E7  like E  lift 3", "E7  like E  lift 3"),
    ("022100", "O221OO"),
    ("022100", "0 2 2 1 0 0"),
    ("022100", "0,2,2,1,0,0"),
    ("x21202", "-21202"),
    ("E   022100  fingers .231..", "E   022100  .231.."),
    (".231..", "0231.."),
    (".231..", ".231xx"),
    (".231..", ". 2 3 1 . ."),
    ("bass 6 4 5 4", "bass 6,4,5,4"),
    ("bass 6 4 5 4", "bass 6-4-5-4"),
    ("like E  lift 3", "like E  raise 3"),
    ("E7  like", "E7  lkie"),
    ("6@2", "6-2"),
    ("hop 2 to", "hop 2"),
    ("plain  p , p m", "plain  P , p m"),
    ("p , p m , p i , p m", "p ; p m ; p i ; p m"),
    ("[p i] m", "[p i) m"),
    ("[p i] m , -", "[p i] m , –"),
    ("[p i] m , -", "[p i] m , _"),
    ("section verse", "  section verse"),
    ("section verse", "sectionverse"),
    ("section verse", "verse"),
    ("section verse", "setcion verse"),
    ("4 bars", "4 bar s"),
    ("4 bars", "4 Bars"),
    ("4 bars", "3 bars"),
    ("using plain", "usign plain"),
    ("using plain", "plain"),
    ("using plain", "using plian"),
    ("E x2", "E x 2"),
    ("E x2", "E 2x"),
    ("E x2", "E ×2"),
    ("E x2", "E twice"),
    ("E:3 E7:1", "E:three E7:1"),
    ("E:3 E7:1", "E3 E7:1"),
    ("E x2 | E:3", "e x2 | E:3"),
    ("| B7 using", "¦ B7 using"),
    ("B7 using", "H7 using"),
    ("B7 using", "B7 use"),
    ("  verse\n", "  verse:\n"),
    ("bar 3:", "bar three:"),
    ("bar 3:", "bar 3"),
    ("    but bar 3", "    bar 3"),
    ("last bar:", "last:"),
    ("with a on 3", "with a 3"),
    ("with a on 3", "wiht a on 3"),
    ('step "Slow"', "step Slow"),
    ("show pattern", "show rhythm"),
    ("inner over E at 60", "inner over E 60"),
    ("E to B7", "E B7"),
    ("but last bar", "but lst bar"),
    ("but last bar", "but lsat bar"),
    ("verse  4 bars  using", "verse  4 bars  usng"),
    ("tempo 96", "tempo\u00ad 96"),
    ("tempo 96", "tempo\u200b96"),
]
#: What two people would mend in two ways.
OPEN = [
    ("capo 3", "capo -1"),
    ("plays in E", "plays in e"),
    ("tempo 96", "tempo fast"),
    (".231..", ".235.."),
    ("x21202", "x2120"),
    ("p , p m , p i", "p , pm , p i"),
    ("p , p m , p i", "p , p m , , p i"),
    ("[p i] m", "[p i m"),
    ("[p i] m", "p i] m"),
    ("E:3 E7:1", "E:3 E7:2"),
    ("E x2 |", "E x2 | |"),
    ("E x2", "Em x2"),
    ("E x2 | E:3", "E x2 | 3"),
    ("  verse\n", "  verse2\n"),
    ("4 bars", "8 bars"),
    ("section verse  4 bars  using", "section usin"),
    ("p , p m , p i", "p , p m.trll , p i"),
    ("using inner", "using"),
    ("E x2 | E:3 E7:1 | B7", "E x2 | E:3 E7:1 | B"),
    ('section verse  4 bars  using plain  "Verse"', 'section verse  "Verse 4 bars  using plain'),
]


@pytest.mark.parametrize(("right", "wrong"), SURE)
def test_a_slip_with_one_way_out_is_mended(right: str, wrong: str) -> None:
    """The one finding carries edits that give back the lesson."""
    assert check(loads(LESSON)) == []
    text = LESSON.replace(right, wrong, 1)
    assert text != LESSON
    edits = [edit for one in check(loads(text)) for edit in one.edits]
    assert apply_edits(text, edits) == LESSON


@pytest.mark.parametrize(("right", "wrong"), OPEN)
def test_a_slip_with_two_ways_out_is_left_to_the_teacher(right: str, wrong: str) -> None:
    """No finding carries an edit."""
    text = LESSON.replace(right, wrong, 1)
    assert [one.edits for one in check(loads(text)) if one.edits] == []


@pytest.mark.parametrize("wrong", ["usin", "usng", "usign", "Using"])
@pytest.mark.parametrize("form", ["", "form\n  verse\n"])
def test_whether_a_word_is_sure_does_not_hang_on_other_blocks(wrong: str, form: str) -> None:
    """The name of a section is given by its line, whether or not the form names it."""
    text = f"patterns\n  plain  p , p m , p i , p m\n\nsection verse {wrong} plain\n  rest\n{form}"
    edits = [edit for one in check(loads(text)) for edit in one.edits]
    assert [one.text for one in edits] == ["using"]


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("fist bar: rest", "first bar: rest"),
        ("frm bar 2: rest", "from bar 2: rest"),
        ("withot bar 1", "without bar 1"),
        ("wihtout bars 1-2", "without bars 1-2"),
        ("onyl bars 1-2", "only bars 1-2"),
    ],
)
def test_a_word_before_another_word_of_the_notation_is_mended(wrong: str, right: str) -> None:
    """Both are the notation's, so it is no name."""
    text = f"section verse\n  rest | rest | rest\n\nform\n  verse\n    but {wrong}\n"
    edits = [edit for one in check(loads(text)) for edit in one.edits]
    assert apply_edits(text, edits) == text.replace(wrong, right)


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("m2@3.vibratto , p.rng", "m2@3.vibrato , p.ring"),
        ("p.RING.vibratto , m2.dampd", "p.ring.vibrato , m2.damped"),
        ("p.gost , m2@1h3.grce", "p.ghost , m2@1h3.grace"),
    ],
)
def test_misspelt_words_of_technique_have_a_finding_each(wrong: str, right: str) -> None:
    """At the pluck itself, with the word that can only have been meant."""
    for line in ("patterns\n  x  {} , p , p\n", "section a\n  E {{ {} , p , p }}\n"):
        text = line.format(wrong)
        found = [one for one in check(loads(text)) if one.rule == "bad-pluck"]
        assert [one.span.text for one in found] == wrong.split(" , ")
        edits = [edit for one in found for edit in one.edits]
        assert apply_edits(text, edits) == line.format(right)
