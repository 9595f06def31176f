"""Names whose tones fit while another plain chord is heard: wrong ones found, right ones left alone.

What a chord holds is standard theory; which plain chord is heard where the root is gone is common
practice, no source (the thumb is the bass player). The open collection of voicings
(test_voicing_table.py) is the check from outside.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import pytest

from fretloom.trade.guitar.tunings import parse_tuning
from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.symbol import parse_symbol

ROOTS = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
TUNINGS = (
    "standard",
    "drop D",
    "DADGAD",
    "open G",
    "7-string",
    "baritone",
    "ukulele",
    "ukulele low G",
)
#: Half steps above the root, from memory.
WHOLE = {
    "": (0, 4, 7), "m": (0, 3, 7), "7": (0, 4, 7, 10), "m7": (0, 3, 7, 10), "maj7": (0, 4, 7, 11),
    "6": (0, 4, 7, 9), "m6": (0, 3, 7, 9), "dim7": (0, 3, 6, 9), "m7b5": (0, 3, 6, 10),
    "add9": (0, 4, 7, 2), "9": (0, 4, 7, 10, 2), "m9": (0, 3, 7, 10, 2), "sus4": (0, 5, 7),
    "7sus4": (0, 5, 7, 10), "aug": (0, 4, 8), "m(b6)": (0, 3, 7, 8),
}  # fmt: skip
#: The plain chord inside, with a tone of which it is heard where nothing else sounds.
INSIDE = {
    "m7": (3, 7, 10),
    "maj7": (4, 7, 11),
    "6": (9, 0, 4),
    "m7b5": (3, 6, 10),
    "m(b6)": (8, 0, 3),
}


def voicings(
    tuning: str, tones: set[int], seed: str, bass: int | None = None
) -> Iterator[list[int]]:
    """Ten or so ways to sound all of some pitch classes and no other on a tuning, as MIDI numbers."""
    chance = Random(seed)
    for _ in range(60):
        low = chance.randrange(8)
        notes = []
        for pitch in parse_tuning(tuning).pitches:
            places = [pitch.midi + fret for fret in (0, *range(low, low + 5))]
            notes += chance.choice([[], *([note] for note in places if note % 12 in tones)])
        if {note % 12 for note in notes} == tones and (bass is None or min(notes) % 12 == bass):
            yield notes


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize("suffix", WHOLE)
def test_a_whole_chord_is_right_whatever_is_lowest(tuning, suffix):
    """All tones of a chord and no others: no false alarm, on any root, in any inversion."""
    tried = 0
    for place, root in enumerate(ROOTS):
        tones = {(place + step) % 12 for step in WHOLE[suffix]}
        for notes in voicings(tuning, tones, f"{tuning} {root}{suffix}"):
            tried += 1
            assert fit(parse_symbol(root + suffix), notes).accepted, (root + suffix, notes)
    assert tried > 6 or len(WHOLE[suffix]) > 4


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize("suffix", ["", "m", "7", "m7", "maj7"])
@pytest.mark.parametrize("step", [2, 3, 4, 5, 7, 10, 11])
def test_a_whole_chord_over_any_bass_is_right(tuning, suffix, step):
    """C/E, C/D, Am/F#: all of the chord, and the bass that is named lowest."""
    for place, root in enumerate(ROOTS):
        bass = (place + step) % 12
        tones = {(place + above) % 12 for above in WHOLE[suffix]} | {bass}
        name = f"{root}{suffix}/{ROOTS[bass]}"
        for notes in voicings(tuning, tones, f"{tuning} {name}", bass):
            assert fit(parse_symbol(name), notes).accepted, (name, notes)


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize("suffix", INSIDE)
def test_a_plain_chord_is_not_a_seventh_or_a_sixth(tuning, suffix):
    """C E G is not Am7, and A C E is C6 with C lowest only; whatever the root, wherever it is played."""
    tried = 0
    for place, root in enumerate(ROOTS):
        tones = {(place + step) % 12 for step in INSIDE[suffix]}
        for notes in voicings(tuning, tones, f"{tuning} {root}{suffix} plain"):
            tried += 1
            own = 0 in INSIDE[suffix] and min(notes) % 12 == place
            found = fit(parse_symbol(root + suffix), notes)
            assert found.accepted == own, (root + suffix, notes)
            assert found.missing == () or suffix == "m7b5"
    assert tried > 12


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize(
    ("plain", "over", "suffix"),
    [("", 4, "m"), ("m", 8, "m"), ("", 9, "5"), ("m", 9, "5"), ("", 0, "5")],
)
def test_a_plain_chord_is_not_another_one_over_its_bass(tuning, plain, over, suffix):
    """C E G is not Em/C, F A C not Am/F, and neither A C E nor A C# E is A5 over its third."""
    for place, root in enumerate(ROOTS):
        tones = {(place + step) % 12 for step in WHOLE[plain]}
        upper = {"m": place + WHOLE[plain][1], "5": place}[suffix] % 12
        bass = place if suffix == "m" else (place + WHOLE[plain][1]) % 12
        name = f"{ROOTS[upper]}{suffix}/{ROOTS[bass]}"
        if plain == "m" and suffix == "m":
            name = f"{ROOTS[upper]}/{ROOTS[bass]}"
        for notes in voicings(tuning, tones, f"{tuning} {name} {over}", bass):
            assert not fit(parse_symbol(name), notes).accepted, (name, notes, root)


#: Names and frets from a teacher's mouth; what is heard instead is worked out by hand.
WRONG = [
    ("Am7", "x32010", "C"), ("Em7", "320003", "G"), ("Bm7", "xx0232", "D"), ("Dm7", "xx3211", "F"),
    ("F#m7", "x02220", "A"), ("C#m7", "022100", "E"), ("C6", "x02210", "Am"), ("G6", "022000", "Em"),
    ("Em/C", "x32010", "C"), ("F#m/D", "xx0232", "D"), ("G#m/E", "022100", "E"), ("Bm/G", "320003", "G"),
    ("A5/C", "x32210", "Am/C"), ("C5/E", "032010", "C/E"), ("Gm7", "x13331", "Bb"), ("D6", "224432", "Bm/F#"),
    ("A6", "244222", "F#m"), ("Am7/C", "x32010", "C"), ("Am7/G", "3x2010", "C/G"), ("Cmaj7", "022000", "Em"),
    ("Fmaj7", "x02210", "Am"), ("Cmaj7/E", "022000", "Em"), ("Am9", "x32000", "Cmaj7"),
    ("Cmaj9", "022030", "Em7"), ("Dm7/G", "3x3211", "F/G"), ("C6/9", "x02230", "Asus4"),
    ("Bm7b5", "xx0231", "Dm"), ("D#m#5", "x24442", "B"), ("Asus2/C", "x32200", "Am/C"), ("C6sus4", "x33211", "F/C"),
    ("Am7/D", "xx0010", "C/D"), ("Bdim7", "xx0131", "Ddim"), ("Am7", "x3xx13", "C5"), ("Am(maj7)", "x3211x", "Caug"),
]  # fmt: skip


def guitar(frets: str) -> list[int]:
    opens = zip((40, 45, 50, 55, 59, 64), frets, strict=True)
    return [note + int(fret) for note, fret in opens if fret != "x"]


@pytest.mark.parametrize(("name", "frets", "heard"), WRONG)
def test_what_is_heard_instead_is_said(name, frets, heard):
    """The plain chord that is heard, with its own bass."""
    found = fit(parse_symbol(name), guitar(frets))
    assert not found.accepted
    assert str(found.mistaken.heard) == heard


#: Shells, sevenths without their fifth, moving lines and slash chords as books print them.
RIGHT = (
    "C6 x32210, Dm(b6) xx0331, Dm#5 xx0331, C7 x32310, C7/E 032310, G7 320001, Am/C x32210, C/G 332010, D/F# 200232, "
    "G/B x20003, G/B x2003x, F/C x33211, C/B x22010, Em7 022030, Em7 020000, E7 020100, Am7 x02010, Am7 5x555x, Dm7 xx0211, "
    "F#m7 2x222x, C#m7 x42100, A7 x02020, Cmaj7 x3545x, Cmaj7 032000, Em/C x32000, G#m/E 021100, C/D xx0010, D/C x3x232, "
    "Am/G 302210, Am/F# 202210, F/G 3x3211, G11 3x3211, C9sus4 x33331, G6 320000, G6 322000, "
    "D6 xx0202, A6 x02222, E6 022120, Am6 x02212, Dm6 xx0201, Bdim7 x2313x, F#m7b5 2x2210, C9 x32333, C7 x323xx, "
    "Cmaj7 x3x45x, C6/9 x32233, G13 3x345x, E5/B x22xxx, A5/G 302xxx, Dsus2 xx0230, D xx0232, G/B x20033, E/C x32100"
)  # fmt: skip


@pytest.mark.parametrize("case", RIGHT.split(", "))
def test_ordinary_names_stay_right(case):
    """Common practice, no source."""
    name, frets = case.split()
    assert fit(parse_symbol(name), guitar(frets)).accepted


@pytest.mark.parametrize(
    ("name", "frets"),
    [("Am7", "0000"), ("C6", "0000"), ("D7", "2020"), ("Cmaj7", "0002"), ("C9", "0201"), ("G9", "2212"), ("F9", "2333"),
     ("Am7", "2030"), ("E7", "1202"), ("G6", "0202"), ("Em7", "0202"), ("Cmaj9", "0202"), ("Dm7", "2213")],
)  # fmt: skip
def test_ukulele_chords_as_books_print_them(name, frets):
    """Four strings leave out the root of a ninth chord, and D7 sounds A C F# (common practice, no source)."""
    opens = (67, 60, 64, 69)
    notes = [note + int(fret) for note, fret in zip(opens, frets, strict=True)]
    assert fit(parse_symbol(name), notes).accepted


@pytest.mark.parametrize(
    ("name", "frets"), [("Am7", "0003"), ("C6", "2000"), ("Dm7", "2010"), ("Em7", "0232"), ("Em/C", "0003")]
)  # fmt: skip
def test_plain_chords_on_a_ukulele_under_other_names(name, frets):
    """C is not Am7 and Am is not C6 on four strings either, unless the root lies lowest."""
    opens = (67, 60, 64, 69)
    notes = [note + int(fret) for note, fret in zip(opens, frets, strict=True)]
    own = min(notes) % 12 == parse_symbol(name).root.pitch_class
    assert fit(parse_symbol(name), notes).accepted == own


@pytest.mark.parametrize(
    ("name", "frets", "doubtful"),
    [("G7", "x2343x", True), ("C/Bb", "x12x1x", True), ("Am7", "x32010", False)],
)
def test_what_a_teacher_might_let_pass_is_only_doubtful(name, frets, doubtful):
    """A diminished chord for a seventh, and a chord without its fifth over a bass that makes no other one."""
    assert fit(parse_symbol(name), guitar(frets)).mistaken.doubtful == doubtful


def test_a_root_that_the_name_leaves_out_is_not_missed():
    """Whoever writes Am7(noroot) knows."""
    assert fit(parse_symbol("Am7(noroot)"), guitar("x32010")).accepted
