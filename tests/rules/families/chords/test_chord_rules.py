"""Chord names against what the strings sound."""

from __future__ import annotations

import pytest
from rule_lessons import HEAD, findings, lesson

from fretloom.diagnostics import Diagnostic

FAMILY = ("name-does-not-sound", "wrong-bass", "bass-off-chord", "third-not-plucked")


def judged(*voicings: str, head: str = HEAD, pattern: str = "p , m , p , m") -> list[Diagnostic]:
    """Findings of the family about voicings, each of which is played for one bar."""
    names = " | ".join(line.split()[0] for line in voicings)
    text = lesson(
        head=head,
        voicings="voicings\n" + "".join(f"  {line}\n" for line in voicings),
        patterns=f"patterns\n  plain  {pattern}\n",
        section=f"section t  using plain\n  {names}\n",
    )
    return [one for one in findings(text) if one.rule in FAMILY]


#: Common shapes and their names: tutorial pages on alternating bass agree on them (common practice).
TABLE = [
    "C x32010", "C/G 332010", "C7 x32310", "Cmaj7 x32000", "Cadd9 x32030", "A x02220", "Am x02210",
    "A7 x02020", "Am7 x02010", "B7 x21202", "D xx0232", "Dm xx0231", "D7 xx0212", "D/F# 2x0232",
    "E 022100", "Em 022000", "E7 020100", "F xx3211", "F.thumb 1x3211", "F.barre 133211",
    "Fmaj7 xx3210", "G 320003", "G7 320001", "G/B x20003", "Bm x24432", "Bb x13331", "Cm x35543",
    "F#m 244222", "Gm 355333", "Dsus4 xx0233", "Asus2 x02200", "E7#9 076780", "Am/G 302210",
]  # fmt: skip


def test_ordinary_voicings_raise_nothing():
    """The whole table of common voicings is clean."""
    assert judged(*TABLE, pattern="p , i+m+a , p , i+m+a") == []


@pytest.mark.parametrize(
    ("tuning", "line"),
    [
        ("drop D", "D 000232"), ("DADGAD", "Dsus4 000000"), ("open D", "D 000000"), ("open G", "G 000000"),
        ("half step down", "E 022100"), ("half step down", "Eb 022100"), ("baritone", "B 022100"),
        ("baritone", "E 022100"), ("7-string", "Em x022000"), ("ukulele", "C 0003"), ("ukulele", "F 2010"),
        ("ukulele low G", "Am 2000"), ("12-string", "G 320003"),
    ],
)  # fmt: skip
def test_other_tunings_are_heard(tuning, line):
    """Names are compared with what the tuning sounds; on one tuned down as a whole shapes count too."""
    assert judged(line, head=f"{HEAD}  tuning {tuning}\n", pattern="p , i+m , p , i+m+a") == []


def test_capo_does_not_change_the_name():
    """Frets and names are relative to the capo."""
    assert judged("E 022100", head=f"{HEAD}  capo 3\n", pattern="p , i , p , m") == []


def test_foreign_and_missing_tone_with_string_and_fret():
    """E7 named Em7: the string at fault, what it sounds, and both ways out (standard theory)."""
    (found,) = judged("Em7 020100", pattern="p , i , p , m")
    assert (found.rule, found.severity.value) == ("name-does-not-sound", "error")
    assert found.message == (
        "Em7: string 3, fret 1 is G#, not in Em7; no string sounds G, its third"
    )
    assert found.hint == "did you mean E7? Em7 can be played 020000"
    assert found.span.text == "020100"


def test_spelling_follows_the_chord():
    """The foreign tone of Em7 is D# and not Eb."""
    (found,) = judged("Em7 021030", pattern="p , i , p , m")
    assert "string 4, fret 1 is D#, not in Em7" in found.message


def test_flat_name_in_german():
    """Names and ways out are in the lesson's own naming."""
    (found,) = judged("H7 x21200", head=f"{HEAD}  names german\n")
    assert found.message.startswith("H7: string 1, open, is E, not in H7")


def test_small_german_letters_are_minor_chords():
    """`d` is D minor and is checked; with a tag or other letters it is just a name (German usage, from memory)."""
    head = f"{HEAD}  names german\n"
    lines = ("a x02210", "fis 244222", "es xx1342", "h x24432", "a.hoch xx0232", "gang xx0232")
    assert judged(*lines, head=head, pattern="p , i+m+a , p , i+m+a") == []
    found = [one for one in judged("d xx0232", head=head) if one.rule == "name-does-not-sound"]
    assert [one.message for one in found] == [
        "d: string 1, fret 2 is Fis, not in d; no string sounds F, its third"
    ]
    assert found[0].hint == "did you mean D? d can be played xx0231"


@pytest.mark.parametrize(
    ("line", "severity"),
    [
        ("E 022xxx", "warning"),
        ("G 3x0033", "warning"),
        ("Em 022100", "error"),
        ("C7 x32010", "error"),
    ],
)
def test_power_chord_is_only_doubtful(line, severity):
    """A plain chord without its third is a warning, a wrong tone or a missing seventh an error."""
    (found,) = [one for one in judged(line) if one.rule == "name-does-not-sound"]
    assert found.severity.value == severity


@pytest.mark.parametrize(
    ("line", "severity", "message", "hint"),
    [
        ("Am7 x32010", "error", "no string sounds A, its root, so it is heard as C",
         "did you mean C? Am7 can be played x02010"),
        ("C6 x02210", "error", "no string sounds G, its fifth, so it is heard as Am",
         "did you mean Am? C6 can be played x32210"),
        ("Em/C x32010", "error", "no string sounds B, its fifth, so it is heard as C",
         "did you mean C? Em/C can be played x32000"),
        ("A5/C x32210", "error", "what sounds is heard as Am/C", "did you mean Am/C?"),
        ("G7 x2343x", "warning", "no string sounds G, its root, so it is heard as Bdim",
         "did you mean Bdim? G7 can be played 32343x"),
    ],
)  # fmt: skip
def test_a_name_whose_tones_fit_while_another_chord_is_heard(line, severity, message, hint):
    """One finding, that says which tone is not there and what is heard (common practice, no source)."""
    (found,) = [one for one in judged(line) if one.rule != "third-not-plucked"]
    assert (found.rule, found.severity.value) == ("name-does-not-sound", severity)
    assert found.message == f"{line.split()[0]}: {message}"
    assert found.hint == hint


def test_a_moving_line_over_a_held_chord_has_a_name():
    """D F B flat over D minor is Bb/D, and Dm(b6) where a line moves; both are clean."""
    (found,) = [one for one in judged("Dm xx0331") if one.rule == "name-does-not-sound"]
    assert found.hint.startswith(
        "did you mean Bb/D? In a line that moves over a held chord, Dm(b6) is right, too."
    )
    for name in ("Bb/D", "Dm(b6)", "Dm#5"):
        assert judged(f"{name} xx0331", pattern="p4 , i+m+a , p4 , i+m+a") == []


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("Cb9 x21222", "Cb9 is read as a ninth chord on Cb"), ("E#5 133xxx", "E#5 is read as a power chord on E#"),
        ("B9 x21222", ""), ("Eb9 x65666", ""), ("C#9 x43444", ""), ("C7b9 x32323", ""), ("Cb x24442", ""),
    ],
)  # fmt: skip
def test_a_name_with_two_readings_says_which_was_taken(line, said):
    """Where the root is one that few people use (common practice, no source)."""
    text = lesson(
        voicings=f"voicings\n  {line}\n", section=f"section t\n  {line.split()[0]} {{p,-,-,-}}\n"
    )
    found = [one for one in findings(text) if one.rule in ("two-readings", "name-does-not-sound")]
    assert [one.message for one in found] == ([said] if said else [])


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("Cb9 x32323", "Cb9 is read as a ninth chord on Cb; C with a flat ninth is written C7b9"),
        ("Eb9 020101", "Eb9 is read as a ninth chord on Eb; E with a flat ninth is written E7b9"),
        ("F#9 1x1214", "F#9 is read as a ninth chord on F#; F with a sharp ninth is written F7#9"),
    ],
)
def test_a_name_that_is_right_in_its_other_reading(line, hint):
    """The error says how the name was read and what to write."""
    (found,) = [one for one in judged(line) if one.rule == "name-does-not-sound"]
    assert found.hint == hint


def test_wrong_bass():
    """C/E with C lowest (arithmetic: 48 is lower than 52)."""
    (found,) = judged("C/E x32010", pattern="p , i , p , m")
    assert (found.rule, found.severity.value) == ("wrong-bass", "error")
    assert found.message == "C/E: the lowest note is C (string 5, fret 3), not E"
    assert found.hint == "call it C, or play C/E as 032010"


def test_missing_bass_outside_the_chord_is_a_wrong_bass():
    """Am/F# without its F# is reported once."""
    (found,) = judged("Am/F# x02210", pattern="p , i , p , m")
    assert found.rule == "wrong-bass"


def test_bass_order_off_the_chord():
    """An open E in the bass order of D is not in D."""
    (found,) = judged("D xx0232  bass 4 6 4 6", pattern="p4 , i , p4 , a")
    assert (found.rule, found.severity.value) == ("bass-off-chord", "warning")
    assert found.message == "D: the thumb goes to string 6, open, which is E and not in D"


def test_hop_off_the_chord():
    """A hop to G in B7 is not in the chord, one to F# is."""
    good = "B7 x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2"
    assert judged(good) == []
    (found,) = judged(good.replace("6@2", "6@3"))
    assert "string 6, fret 3, which is G" in found.message


def test_third_that_is_never_plucked():
    """D with only its open and inner strings plucked could be minor; any bar with the third settles it."""
    (found,) = judged("D xx0232", pattern="p4 , i , p5 , m")
    assert (found.rule, found.severity.value) == ("third-not-plucked", "info")
    assert found.message.startswith("D: the pattern plain never plucks its third, F#")
    assert judged("D xx0232", pattern="p4 , i , p5 , a") == []


@pytest.mark.parametrize(("pattern", "reported"), [("p4 , i , p4 , m", 1), ("p4 , i , p4 , i", 0)])
def test_a_bar_of_two_strings_wants_no_whole_chord(pattern, reported):
    """Three strings without the third are an empty chord, two are a bass line or an ending."""
    assert len(judged("D xx0232", pattern=pattern)) == reported


@pytest.mark.parametrize(
    ("pattern", "reported"), [("p6 , p5 , p4 , p5", 0), ("p6 , p5 , p4 , i", 1)]
)
def test_a_drill_of_the_thumb_wants_no_third(pattern, reported):
    """Only where a finger plucks too is the whole chord wanted."""
    assert len(judged("Am 002210", pattern=pattern)) == reported


@pytest.mark.parametrize("line", ["D5 xx023x", "Dsus4 xx0233", "walkdown xx0230", "N.C. xx0000"])
def test_chords_without_a_third_have_none_to_pluck(line):
    """Power chords, suspended chords and plain names are left alone."""
    assert not [one for one in judged(line, pattern="p4 , i , p4 , m") if one.rule == FAMILY[3]]
