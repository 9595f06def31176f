"""What is shown of names, words and findings."""

from __future__ import annotations

from pathlib import Path

from typed_lessons import typed

from fretloom.collection.while_typing.hovering.shown import shown_at

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
