"""The words of the song as `lyric` of MusicXML 4.0."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from attrs import evolve
from musicxml_lesson import piece, root_of, words_in, written
from musicxml_readers import read21
from musicxml_reading import Bar
from writing_scores import to_musicxml

from fretloom.errors import FretloomError


def sung(bar: Bar) -> list[Any]:
    """Return (onset, verse, [(syllabic, text), ...]) of the lyrics of a bar."""
    return [
        (
            note.onset,
            lyric.get("number"),
            [
                (kind.text, text.text)
                for kind, text in zip(lyric.findall("syllabic"), lyric.findall("text"), strict=True)
            ],
        )
        for note in bar.notes
        for lyric in note.element.findall("lyric")
    ]


def test_each_syllable_stands_under_the_note_at_its_place():
    """Words of one syllable are single, others begin, go on and end."""
    [bar] = written('Am\nwords: "Down in-to-ward" on 1 2& 3 4&')
    assert sorted(sung(bar)) == [
        (0, "1", [("single", "Down")]),
        (Fraction(3, 2), "1", [("begin", "in")]),
        (2, "1", [("middle", "to")]),
        (Fraction(7, 2), "1", [("end", "ward")]),
    ]


def test_a_word_goes_on_over_the_bar_line():
    """Its syllable in the next bar ends it."""
    bars = written('Am | Am\nwords: "a-" on 4& | "long" on 1')
    assert [sung(bar)[0][2] for bar in bars] == [[("begin", "a")], [("end", "long")]]


def test_a_word_goes_on_over_a_bar_without_words():
    """It is still being sung there."""
    bars = written('Am | Am | Am\nwords: "a-" on 1 | - | "long" on 1')
    assert [sung(bar)[0][2] for bar in bars if sung(bar)] == [[("begin", "a")], [("end", "long")]]


def test_words_without_counts_leave_no_word_open():
    """They are no lyrics, so what follows begins a word."""
    bars = written('Am | Am\nwords: "a-" | "long" on 1')
    assert sung(bars[1])[0][2] == [("single", "long")]


def test_a_word_left_open_does_not_go_on_in_a_new_playing():
    """Each begins anew."""
    bars = written('Am\nwords: "a-" on 1\n\nform\n  verse x2')
    assert [sung(bar)[0][2] for bar in bars] == [[("begin", "a")], [("begin", "a")]]


def test_a_dash_alone_is_a_word():
    """Nothing goes on from it."""
    [bar] = written('Am\nwords: "la - la" on 1 2& 4&')
    assert [texts for _, _, texts in sorted(sung(bar))] == [
        [("single", "la")], [("single", "-")], [("single", "la")],
    ]  # fmt: skip


def test_two_syllables_on_one_count_share_its_note():
    """They are joined by an `elision`."""
    [bar] = written('Am { p , m , - , - }\nwords: "low lamps are" on 1 2 2')
    assert sorted(sung(bar)) == [
        (0, "1", [("single", "low")]),
        (1, "1", [("single", "lamps"), ("single", "are")]),
    ]


def test_a_syllable_without_a_note_of_its_own_stands_below_in_words():
    """At its own place, before the notes or between them: under another note it would be sung too early."""
    [bar] = written('Am { p , m , - , - }\nwords: "low lamps are" on 1 2 3&')
    assert sorted(one[0] for one in sung(bar)) == [0, 1]
    assert (Fraction(5, 2), "are") in words_in(bar)
    [bar] = written('Am { - , - , p , m }\nwords: "low lamps" on 2& 3')
    assert sung(bar) == [(2, "1", [("single", "lamps")])]
    assert (Fraction(3, 2), "low") in words_in(bar)


def test_words_without_counts_stand_below_their_bar():
    """Nobody has said which note each is sung to."""
    root = root_of('Am | Am\nwords: - | "along the lane"')
    [words] = [one for one in root.iter("words") if one.text == "along the lane"]
    direction = words.getparent().getparent()
    assert direction.get("placement") == "below"
    assert direction.getparent().get("number") == "2"
    assert not list(root.iter("lyric"))


def test_each_time_has_its_own_words_and_number():
    """What is sung the second time stands the second time alone."""
    lines = 'Am\nwords 1: "Lamps" on 1\nwords 2: "Rain" on 1\n\nform\n  verse x4'
    bars = written(lines)
    assert [sung(bar) for bar in bars] == [
        [(0, "1", [("single", "Lamps")])],
        [(0, "2", [("single", "Rain")])],
        [],
        [],
    ]


@pytest.mark.parametrize("layout", ["notation-and-tab", "two-parts", "notation", "tab"])
def test_words_stand_once_in_every_layout(layout: str):
    """Under the notation, or under tablature that is alone."""
    assert len(list(root_of('Am\nwords: "Lamps" on 1', layout=layout).iter("lyric"))) == 1


def test_a_note_tied_from_the_bar_before_carries_no_new_syllable():
    """It begins with the next note, or stands below."""
    lines = 'Am { p.for-8 , m , - , - } | Am { - , m , - , - }\nwords: - | "low lamps" on 1 2'
    bars = written(lines)
    assert sung(bars[1]) == [(1, "1", [("single", "lamps")])]
    assert (0, "low") in words_in(bars[1])


def test_music21_reads_the_words():
    """An independent reader joins them to the notes that they are sung to."""
    score = read21(to_musicxml(piece('Am\nwords: "Lamps a-long" on 1 2& 3')))
    found = [
        (float(note.getOffsetInHierarchy(score)), lyric.text, lyric.syllabic)
        for note in score.recurse().notes
        for lyric in note.lyrics
    ]
    assert sorted(found) == [(0, "Lamps", "single"), (1.5, "a", "begin"), (2, "long", "end")]


def test_words_with_a_character_that_xml_cannot_hold_are_refused():
    """The message names the words and the character."""
    timeline = piece('Am\nwords: "Lamps" on 1')
    bar = timeline.bars[0]
    assert bar.sung is not None
    bad = evolve(timeline, bars=(evolve(bar, sung=evolve(bar.sung, text="La\x02mps")),))
    with pytest.raises(FretloomError, match=r"words of the song .*U\+0002"):
        to_musicxml(bad)
