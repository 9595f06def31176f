"""What a student reads for a voicing; the words are common practice, no source."""

from __future__ import annotations

import pytest

from fretloom.api import expand, export_musicxml, export_tab, loads
from fretloom.performance.printed_names import PatternInPrint, in_print, printed_names
from fretloom.trade.guitar.voicing import Voicing, split_name


def printed(*lines: str) -> list[str]:
    voicings = []
    for line in lines:
        name, frets = line.split()
        places = tuple(None if fret == "x" else int(fret) for fret in frets)
        voicings.append(Voicing(name=name, symbol=split_name(name)[0], frets=places))
    return list(printed_names(voicings).values())


@pytest.mark.parametrize(
    ("voicings", "words"),
    [
        (["G.bar 355433", "C x32010"], ["G", "C"]),
        (["G 320003", "G.bar 355433"], ["G", "G at fret 3"]),
        (["A.open x02220", "A.bar 577655", "A.high xx7650"], ["A from string 5", "A from string 6", "A from string 4"]),
        (["F xx3211", "F.six 133211"], ["F from string 4", "F from string 6"]),
        (["F.thumb 1x3211", "F.six 133211"], ["F on 5 strings", "F on 6 strings"]),
        (["F.a 1x321x", "F.b 13x2x1", "F.c xx3211", "F.d 133211"],
         ["F at fret 1 (1)", "F at fret 1 (2)", "F at fret 1 (3)", "F at fret 1 (4)"]),
        (["walk.up x20000", "walk.down x30000"], ["walk at fret 2", "walk at fret 3"]),
        (["walk.up x20000"], ["walk"]),
        (["Em.low 000000", "Em.high xxx000"], ["Em from string 6", "Em from string 3"]),
    ],
)  # fmt: skip
def test_tags_are_the_teachers(voicings, words):
    """One voicing of a chord is called by it; several by where they are played, and no two alike."""
    assert printed(*voicings) == words


def test_many_voicings_of_one_chord_are_told_apart():
    """Whatever their number."""
    lines = [f"G.t{number} x{number % 10}0003" for number in range(60)]
    assert len(set(printed(*lines))) == 60


def test_the_lessons_words_in_print():
    """Whole names only: a longer one is not half replaced."""
    names = {"G.bar": "G at fret 3", "G": "G", "G.bar-2": "G at fret 10"}
    text = "bar 3: G.bar, G.bar:2 G | G.bar-2 | Bb.bar G.bard"
    assert in_print(text, names) == (
        "bar 3: G at fret 3, G at fret 3:2 G | G at fret 10 | Bb.bar G.bard"
    )


LESSON = """lesson "Two cups"
  meter 4/4

voicings
  G      320003
  G.bar  355433
  walk.up  x20000

patterns
  plain  p , m , p , i

section tune  using plain
  G | G.bar | walk.up

form
  tune
  tune
    but bar 1: G.bar
"""


def test_no_tag_reaches_a_student():
    """Neither in tab, over its bars, in its table and in the order of the sections, nor in MusicXML."""
    lesson = loads(LESSON)
    assert set(expand(lesson).voicings) == {"G", "G.bar", "walk.up"}
    tab, score = export_tab(lesson), export_musicxml(lesson)
    assert "2. Tune 2: G at fret 3 in bar 1" in tab
    assert b"<words>walk</words>" in score
    for tag in ("G.bar", "walk.up"):
        assert tag not in tab
        assert tag.encode() not in score


@pytest.mark.parametrize(
    ("name", "title", "printed"),
    [
        ("rocking", "", "rocking"),
        ("slow-roll", "", "slow roll"),
        ("p2", "Two and two", "Two and two"),
        ("p2", "", ""),
        ("ab", "", ""),
    ],
)
def test_a_pattern_is_called_by_its_title_or_by_a_name_that_is_a_word(
    name: str, title: str, printed: str
):
    """`p2` is the teacher's own mark."""
    title = f' "{title}"' if title else ""
    text = f"voicings\n  C  x32010\n\npatterns\n  {name}{title}:  p , i\n\nsection a using {name}\n  C\n"
    assert expand(loads(f'lesson "Porch"\n  meter 2/4\n\n{text}')).patterns == {
        name: PatternInPrint(printed)
    }


@pytest.mark.parametrize(
    ("said", "read"),
    [
        ("Now G.bar.", "Now G at fret 3."),
        ("Is it G.bar? No, G.bar!", "Is it G at fret 3? No, G at fret 3!"),
        ("the other one (G.bar)", "the other one (G at fret 3)"),
        ('say "G.bar"', 'say "G at fret 3"'),
        ("G.bar.high stays, as G.barre does", "G.bar.high stays, as G.barre does"),
    ],
)
def test_a_name_ends_where_its_sentence_does(said: str, read: str) -> None:
    """Tags are the teacher's, in whatever sentence they stand."""
    assert in_print(said, {"G.bar": "G at fret 3"}) == read
