"""What is shown of names, words and findings."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from places import EXAMPLES
from typed_lessons import typed

from fretloom.collection.while_typing.hovering.shown import shown_at
from fretloom.collection.while_typing.hovering.words_told import word_told
from fretloom.collection.while_typing.line_at import line_at
from fretloom.notation.model.walking.names import named

LESSON = """lesson "A"
  capo 2
  tempo 60

voicings
  C   x32010  fingers .32.1.  bass 5 4 5 4
  F   133211  fingers 134211
  gap  x2

patterns
  plain  p , p m , p i , p m

section verse  using plain  "The verse"
  C | F | C x2

form
  verse
  verse
"""


def _said(marked: str, file: Path | str = "typed.lesson") -> str:
    found = shown_at(*typed(marked, file))
    return "\n".join(found.paragraphs) if found is not None else ""


def test_a_voicing_says_what_it_sounds() -> None:
    """C with a capo at fret 2 sounds as D two half steps higher."""
    said = _said(LESSON.replace("C | F", "^C | F"))
    assert "sounds  D3  F#3 A3  D4  F#4" in said
    assert "note    C   E   G   C   E" in said
    assert "C is right" in said
    assert "heard as D" in said
    assert "fingers .32.1., difficulty 2 of 5" in said
    assert said.endswith("bass 5 4 5 4")


def test_a_voicing_of_another_file_says_whose_it_is(tmp_path: Path) -> None:
    """And one that is nowhere says so."""
    (tmp_path / "shared.lesson").write_text("voicings\n  Dm  xx0231  fingers ...231\n")
    said = _said('use "shared.lesson"\nsection a\n  ^Dm\n', tmp_path / "a.lesson")
    assert "Dm is right" in said
    assert "from shared.lesson" in said
    assert "there is no voicing called X" in _said("section a\n  ^X\n")


def test_a_pattern_says_its_beats_and_where_it_is_played() -> None:
    """Three of four bars, twice."""
    other = LESSON.replace("patterns\n", "patterns\n  other  p , p , p , p\n").replace(
        "F |", "F using other |"
    )
    said = _said(other.replace("using plain", "using pl^ain"))
    assert "p , p m , p i , p m" in said
    assert "4 beats a bar (4/4), played in 6 bars" in said


def test_a_section_says_how_long_it_is_and_when_it_comes() -> None:
    """Four bars of four beats at 60 a minute are 16 seconds."""
    said = _said(LESSON.replace("form\n  verse", "form\n  ^verse"))
    assert "**The verse**: 4 bars, about 16 seconds" in said
    assert "played as bars 1 to 4 and bars 5 to 8" in said
    assert "about 1:20 minutes" in _said(
        LESSON.replace("C x2", "C x18").replace("form\n  v", "form\n  ^v")
    )


def test_words_of_the_notation_say_what_the_reference_says() -> None:
    """A word of the heading, of bars, of a voicing, behind a pluck; a word in quotes or prose is none."""
    assert "a capo; a partial one names" in _said(LESSON.replace("  capo", "  ca^po"))
    assert "the key the hand thinks in" in _said(LESSON.replace("capo 2", "plays i^n C"))
    assert "the beat waits there" in _said(LESSON.replace("C | F", "C ferm^ata on 4 | F"))
    assert "One finger on several strings" in _said(LESSON.replace("fingers .32", "fi^ngers .32"))
    assert "the fretting hand" in _said(LESSON.replace("voicings", "voi^cings"))
    assert "vibrato" in _said(LESSON.replace("p i ,", "i3.vibr^ato ,"))
    assert _said(LESSON.replace("C | F", '"the ferm^ata" C | F')) == ""
    assert _said(LESSON + 'step "S"\n  The ferm^ata waits.\n') == ""


BARS = LESSON.replace("  C | F | C x2\n", "  {}\n")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("re^peat 3", "played as often as the number says"),
        ("repeat ^3", "**repeat**"),
        ("us^ing plain", "the section's pattern from there on"),
        ("C us^ing plain", "another pattern for this bar"),
        ("C ^x4", "**x4**: played twice; the number says how many times"),
        ("C | ^N.C.", "no chord: the pattern is silent"),
        ("C | no ch^ord", "no chord: the pattern is silent"),
        ("^a tempo", "the tempo with which the section began"),
        ("free t^ime", "no steady beat"),
        ("ending 1 ^2: C", "the end of those passes only"),
        ("l^ast 1: C", "an incomplete last bar"),
        ("C early on ^4&", "already there on that count"),
        ("C early o^n 4&", "already there on that count"),
        ("C:^3 F:1", "share the bar equally or by beats"),
        ("C { p , ^i , m , - }", "**i**: the index finger; its home is string 3"),
        ("C { p , i , m2@3 , ^- }", "plucks nothing"),
        ("C with ^a@3 on 3", "**a**: the ring finger; its home is string 1"),
        ("C without ^p on 4", "**p**: the thumb; its home is strings 6, 5 and 4"),
        ("words: \"a\" on ^1", "what is sung at the bars"),
        ("crescendo to f over 2 ^bars", "louder, or softer"),
        ("ri^t. to 60 over 2 bars", "slower, or faster"),
        ("C { p , sl^ap! }", "beats the strings"),
    ],
)  # fmt: skip
def test_a_word_says_what_it_means_where_it_stands(line: str, says: str) -> None:
    """In bars and on lines of a section; a number says what the word says that it belongs to."""
    assert says in _said(BARS.replace("{}", line))


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("verse ^x3", "plays an entry twice."),
        ("but with^out bars 1-2", "**without**: these bars are left out\n\n`but without bars 1-2`"),
        ("but on^ly bar 1", "all others are left out"),
        ("but te^mpo 60", "**tempo**: another tempo, for the playing"),
        ("but dynamic ^p", "another loudness"),
        ("but l^ast bar: C", "Bars are named as"),
        ("but bars 1-^2: C", "Bars are named as"),
        ("but bar 1: C with^out p on 4", "one finger left out, on a count"),
        ("but bar 1: C us^ing plain", "for this bar"),
        ("but us^ing plain", "for the playing or for some bars"),
    ],
)
def test_a_word_of_the_form_says_what_it_means_there(line: str, says: str) -> None:
    """Which is another thing in the bars behind a colon."""
    assert says in _said(LESSON + f"    {line}\n")


def test_changes_of_a_voicing_say_what_each_does() -> None:
    """And all of a line of the heading says what the line is for."""
    for word, says in (
        ("up 2", "towards the body"), ("down 2", "towards the nut"),
        ("mute 5", "not played"), ("move 2 to 6@3", "finger 3 leaves its place"),
    ):  # fmt: skip
        assert says in _said(LESSON.replace("  gap  x2", f"  gap like C ^{word}"))
    assert "how two halves of a beat are played" in _said(LESSON.replace("capo 2", "swing 2:^1"))
    assert "a capo; a partial one" in _said(LESSON.replace("capo 2", "capo ^2"))


def test_names_are_known_in_a_line_that_could_not_be_read() -> None:
    """One bracket that is open does not silence the other bars; what is no name there is none."""
    for line in ("^C | F | C { p | F", "C | F^ | C { p | F", "C | F | C { p | ^F"):
        assert "fingers" in _said(BARS.replace("{}", line))
    assert "4 beats a bar" in _said(BARS.replace("{}", "C using pl^ain | F | C { p | F"))
    assert "fingers" not in _said(BARS.replace("{}", "C { ^F | C"))
    assert "no voicing" not in _said(BARS.replace("{}", "C ferm^ta | F { p"))


def test_a_finding_says_its_page() -> None:
    """The page of the rule that is broken there, and of one that a comment allows."""
    said = _said(LESSON.replace("plain  p ,", "plain  p , ^p ,"))
    assert "**pattern-beats**" in said
    assert "*What it checks*" in said and "*Right*" in said
    assert "**stretch**" in _said("# allow stre^tch: why\n")
    assert _said("# allow nons^ense: why\n") == ""


def test_a_title_cannot_become_markup() -> None:
    """A lesson from a stranger has no pictures and links in what is shown of it."""
    said = _said(
        LESSON.replace('"The verse"', '"![x](http://y)"').replace("form\n  v", "form\n  ^v")
    )
    assert "![x](http" not in said
    assert "x" in said


def test_what_is_wrong_in_another_file_is_not_said_here() -> None:
    """A finding there may have the same place."""
    base = Path("base.lesson").absolute()
    faulty = LESSON.replace("using plain", "using plainn")
    text = 'lesson "B"\n  based on "base.lesson"\nsection b\n' + "  rest | rest\n" * 60
    lesson, _ = typed(text, others={base: faulty})
    (there,) = [one for one in lesson.findings if one.rule == "unknown-pattern"]
    assert there.span.source.name == str(base)
    places = range(there.span.start, there.span.end)
    said = [shown_at(lesson, one) for one in places if one < len(lesson.source.text)]
    assert any(said)
    assert not [one for one in said if one and "unknown-pattern" in "".join(one.paragraphs)]


def test_each_word_of_the_examples_is_told() -> None:
    """Names, words, numbers and plucks: all that is neither in quotes nor prose nor a comment."""
    silent: list[str] = []
    asked = 0
    for file in sorted(EXAMPLES.glob("*.lesson")):
        text = file.read_text("utf-8")
        lesson, _ = typed(text, file)
        names = {
            at for one in named(lesson.lesson) for at in range(one.span.start, one.span.end + 1)
        }
        for found in re.finditer(r'(?<![^\s|:{}",\[(+])[^\s|:{}",()\[\]+#]+', text):
            here = line_at(lesson.source, found.start())
            if (
                here.in_comment
                or here.comment_sign == 0
                or here.quoted is not None
                or not here.rule
            ):
                continue
            asked += 1
            if found.start() not in names and word_told(lesson, here) is None:
                silent.append(f"{found[0]} in {here.body}")
    assert silent == []
    assert asked > 2000
