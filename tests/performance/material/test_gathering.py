"""What a lesson takes from its heading, from other files, and from the lesson it is based on."""

from __future__ import annotations

from fractions import Fraction

from timeline_lessons import expanded, expanded_text, messages, rules

from fretloom.performance.expansion.expand import Expansion

BASE = """
lesson "Low water"
  capo 2
  tempo 80
  plays in C
voicings
  C x32010 bass 5 4 5 4
  G 320003
patterns
  plain in 4/4: p, p, p, p
section verse using plain
  C | G
section close using plain
  C
form
  verse x2
  close
step "All"
  show form
"""
LIBRARY = "voicings\n  C 332010 bass 6 4 5 4\n  D xx0232\npatterns\n  plain in 4/4: p, m, i, m\n"


def _names(expansion: Expansion) -> str:
    assert messages(expansion) == []
    bars = expansion.timeline.bars
    return " ".join(bar.bar.voicings[0].voicing.name for bar in bars)


def test_defaults() -> None:
    """Standard tuning, 4/4, no capo: what a lesson need not say."""
    settings = expanded_text('lesson "Test"\n').timeline.settings
    assert [pitch.midi for pitch in settings.tuning.pitches] == [40, 45, 50, 55, 59, 64]
    assert str(settings.meter) == "4/4"
    assert (settings.capo.fret, settings.plays, settings.sounds) == (0, None, None)
    assert (settings.level, settings.hand, settings.names) == ("intermediate", "average", "english")


def test_the_key_not_stated_is_worked_out() -> None:
    """Played in C with the capo at 3 it sounds in Eb (case b01: three flats), and the other way round."""
    settings = expanded("", "capo 3", "plays in C").timeline.settings
    assert (str(settings.sounds), settings.sounds and settings.sounds.fifths) == ("Eb", -3)
    assert str(expanded("", "capo 3", "sounds in Eb").timeline.settings.plays) == "C"


def test_a_partial_capo_leaves_the_key_open() -> None:
    """Only the teacher can say how it sounds then."""
    settings = expanded("", "capo 2 on 5 4 3", "plays in E").timeline.settings
    assert settings.sounds is None


def test_home_strings_not_named_are_the_usual_ones() -> None:
    """A picking block may speak of one finger only."""
    body = "picking\n  c plays 1\nsection verse\n  E { c+i, p, m, a }\n"
    expansion = expanded(body)
    assert messages(expansion) == []
    strings = [note.string for note in expansion.timeline.bars[0].bar.notes]
    assert strings == [3, 1, 6, 2, 1]


def test_voicings_and_patterns_of_another_file() -> None:
    """`use` brings them in; what the lesson defines itself wins."""
    text = 'lesson "Test"\nuse "library.lesson"\nvoicings\n  D 000232\nsection verse using plain\n  C D\n'
    expansion = expanded_text(text, library=LIBRARY)
    assert messages(expansion) == []
    timeline = expansion.timeline
    assert {name: one.frets_text for name, one in timeline.voicings.items()} == {
        "C": "332010",
        "D": "000232",
    }
    assert [note.finger for note in timeline.bars[0].bar.notes] == ["p", "m", "i", "m"]


def test_what_is_not_used_of_another_file_is_left_there() -> None:
    """A library of fifty voicings does not fill the page, nor do its faults."""
    library = LIBRARY + "voicings\n  odd like nobody\n"
    text = 'lesson "Test"\nuse "library.lesson"\nsection verse using plain\n  C\n'
    expansion = expanded_text(text, library=library)
    assert messages(expansion) == []
    assert list(expansion.timeline.voicings) == ["C"]


def test_based_on_another_lesson() -> None:
    """Everything is taken over, and what has the same name is replaced."""
    text = 'lesson "Easy"\n  based on "base.lesson"\n  tempo 60\nvoicings\n  G 3x0003 bass 6 4\n'
    expansion = expanded_text(text, base=BASE)
    assert _names(expansion) == "C G C G C"
    timeline = expansion.timeline
    assert timeline.settings.title == "Easy"
    assert (timeline.settings.tempo.per_minute, timeline.settings.capo.fret) == (60, 2)
    assert timeline.voicings["G"].frets_text == "3x0003"
    assert [line.section for line in timeline.form] == ["verse", "close"]


def test_based_on_with_a_section_and_a_form_of_its_own() -> None:
    """Sections by name, the form as a whole."""
    text = 'lesson "Easy"\n  based on "base.lesson"\n'
    text += "section verse using plain\n  G | C\nform\n  verse\n  close\n"
    assert _names(expanded_text(text, base=BASE)) == "G C C"


def test_based_on_twice_removed() -> None:
    """A copy of a copy."""
    middle = 'lesson "Middle"\n  based on "base.lesson"\n  capo 4\n'
    text = 'lesson "Easy"\n  based on "middle.lesson"\n  tempo 50\n'
    settings = expanded_text(text, base=BASE, middle=middle).timeline.settings
    assert (settings.capo.fret, settings.tempo.per_minute) == (4, 50)


def test_a_circle_of_files_does_not_hang() -> None:
    """The reader reports it; the expansion only has to come to an end."""
    one = 'lesson "One"\n  based on "two.lesson"\nuse "two.lesson"\n'
    two = 'lesson "Two"\n  based on "one.lesson"\nuse "one.lesson"\n'
    assert expanded_text(one, one=one, two=two).timeline.bars == ()


def test_a_file_that_is_missing_is_not_reported_again() -> None:
    """What it may have defined is not called unknown."""
    text = 'lesson "Test"\nuse "gone.lesson"\nsection verse using plain\n  C | D\n'
    assert rules(expanded_text(text)) == []


def test_other_strings() -> None:
    """Case d03 (re-entrant ukulele) and d05 (seven strings): pitches by string, arithmetic."""
    text = 'lesson "Uke"\n  tuning G4 C4 E4 A4\nvoicings\n  C 0003\nsection verse\n  C { p4, p3, i2, m1 }\n'
    bar = expanded_text(text).timeline.bars[0].bar
    assert [note.midi for note in bar.notes] == [67, 60, 64, 72]
    text = 'lesson "Seven"\n  tuning B1 E2 A2 D3 G3 B3 E4\nvoicings\n  Em x022000\n'
    text += "section verse\n  Em { p6 p5, p4 i3, m2 a1, - }\n"
    bar = expanded_text(text).timeline.bars[0].bar
    assert [note.midi for note in bar.notes] == [40, 47, 52, 55, 59, 64]


def test_a_capo_raises_what_sounds() -> None:
    """Case b01 (MusicXML 4.0, `capo`): C with the capo at 3 sounds Eb."""
    body = "section verse\n  C { p5 p4, i3 m2, a1, - }\n"
    bar = expanded(body, "capo 3").timeline.bars[0].bar
    assert [note.midi for note in bar.notes] == [51, 55, 58, 63, 67]
    assert [note.fret for note in bar.notes] == [3, 2, 0, 1, 0]


def test_an_empty_lesson() -> None:
    """Nothing is played, and nothing is wrong."""
    timeline = expanded_text("voicings\n  E 022100\n").timeline
    assert (timeline.bars, timeline.length) == ((), Fraction(0))
    assert list(timeline.voicings) == ["E"]
