"""Plucks that name frets and strings, moved with the chord."""

from __future__ import annotations

import pytest

from fretloom.api import as_text, dumps, expand, loads, transpose

HEAD = 'lesson "Kiln Lane steps"\n  tempo 80\n'
VOICINGS = "voicings\n  C   x32010\n  G7  320001\n  F   xx3211\n"
SECTION = "patterns\n  plain  p , i , p , m\nsection verse  using plain\n"


def bar(text: str, to: str, capo: int = 0, plays: str = "C") -> str:
    """Return a bar once its lesson is written in the shapes of another key."""
    head = f"{HEAD}  capo {capo}\n  plays in {plays}\n"
    found = transpose(loads(f"{head}{VOICINGS}{SECTION}  {text}\n"), plays=to)
    return dumps(found.lesson).strip().splitlines()[-1].strip()


def heard(text: str) -> list[int]:
    """Return what a lesson sounds."""
    return [note.midi for played in expand(loads(text)).bars for note in played.bar.notes]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        # The tune: D over C is A over G, its second; string 2, fret 3 is five half steps above string 3, fret 2.
        ("C with m@3 on 3", "G with m3@2 on 3"),
        # A bass run from the fifth: F and F# to G, by degree C and C# to D.
        ("G7 { p, m, p6@1, p6@2 }", "D7 { p, m, p5@3, p5@4 }"),
        # A hammer-on moves as a whole: C to D on string 2 is G to A on string 3.
        ("C { p, m@1h3, p, i }", "G { p, m3@0h2, p, i }"),
        # Written fingers were for the old shape; an open string would have none.
        ("C { p, m@3:4p1:1, p, i }", "G { p, m3@2p0, p, i }"),
        # The thumb's own string: the root of C is on 5, that of G on 6.
        ("C { p5, i, p4, m }", "G { p6, i, p5, m }"),
        # The fingers' strings are the same over any chord.
        ("C { p, i3, p, a1 }", "G { p, i3, p, a1 }"),
        # A natural harmonic is where it is.
        ("C { p, i, p, a1@12* }", "G { p, i, p, a1@12* }"),
    ],
)
def test_plucks_keep_their_degree(old: str, new: str) -> None:
    """From C to G shapes the capo goes up five frets, so the hand plays five half steps lower."""
    assert bar(old, "G") == new


def test_a_tune_sounds_as_before() -> None:
    """The notes that name their frets sound the very same pitch, capo included."""
    text = f"{HEAD}  plays in C\n{VOICINGS}{SECTION}  C {{ p, m@3, a@0, a@3 }} | G7 {{ p, m@3, m@1, m@0 }}\n"
    moved = dumps(transpose(loads(text), plays="A").lesson)
    before, after = heard(text), heard(moved)
    assert before[1:4] == after[1:4]
    assert before[5:8] == after[5:8]


def test_a_pattern_over_several_chords_moves_as_one() -> None:
    """A fret of a pattern is one note over all its chords; what none of them reaches stays and is listed."""
    tune = "  tune   p , m@1 , p , i\n"
    text = f"{HEAD}  plays in C\n{VOICINGS}{SECTION.replace('section', tune + 'section')}  C using tune | F using tune\n"
    found = transpose(loads(text), plays="G")
    assert "tune   p , m3@0 , p , i" in dumps(found.lesson)
    assert "pattern tune" not in as_text(found)


def test_a_thumb_string_that_chords_do_not_share_becomes_the_bass_order() -> None:
    """String 5 has the root of C, which D has on string 4, where A7 has no root; D leaves out string 5."""
    text = f"{HEAD}  plays in C\n  capo 2\n{VOICINGS}{SECTION.replace('plain  p', 'plain  p5')}  C | G7\n"
    new = dumps(transpose(loads(text), plays="D").lesson)
    assert "plain  p , i , p , m" in new


def test_what_has_no_place_stays_and_is_listed_with_its_bar() -> None:
    """An open string 3 five half steps lower lies below the fingers' strings."""
    text = f"{HEAD}  plays in C\n{VOICINGS}{SECTION}  C | C {{ p, i3@0h2, p, m }}\n"
    found = transpose(loads(text), plays="G")
    assert "G { p, i3@0h2, p, m }" in dumps(found.lesson)
    assert "bar 2 of verse names a fret that was not moved" in as_text(found)


def test_plucks_at_one_instant_keep_strings_of_their_own() -> None:
    """Under a roll over all strings of E none of them moves onto the string of another."""
    text = f"{HEAD}  plays in E\n  capo 5\nvoicings\n  E  022100\n{SECTION}  E {{ (p6 p5 p4 i m), i, p, m }}\n"
    new = dumps(transpose(loads(text), plays="G", capo=2).lesson)
    plucked = [note.string for note in expand(loads(new)).bars[0].bar.notes if note.onset == 0]
    assert len(plucked) == len(set(plucked))


def test_a_bass_order_keeps_out_of_the_way_of_the_fingers() -> None:
    """F has one string for the thumb: string 3 would be plucked by thumb and index at once."""
    text = f"{HEAD}  plays in A\n  level beginner\n  capo 2\nvoicings\n  E  022100\n"
    text += "patterns\n  plain  p+i , p+i , p , m\nsection verse  using plain\n  E\n"
    new = dumps(transpose(loads(text), plays="Bb", capo=1).lesson)
    assert "F  xx3211  bass 4" in new


@pytest.mark.parametrize(
    ("old", "new"),
    [
        # The trill goes from C to D on string 2; a whole tone higher from D to E.
        ("C { p, m@1.trill-3, p, i }", "D { p, m@3.trill-5, p, i }"),
        # The octave harmonic stays twelve frets above its note.
        ("C { p, m@3.harmonic-15, p, i }", "D { p, m@5.harmonic-17, p, i }"),
        ("C { p, m@1h3.grace.ghost, p, i }", "D { p, m@3h5.ghost.grace, p, i }"),
    ],
)
def test_what_belongs_to_a_note_moves_with_it(old: str, new: str) -> None:
    """Trills, artificial harmonics and grace notes are told in frets."""
    assert bar(old, "D", capo=2) == new
