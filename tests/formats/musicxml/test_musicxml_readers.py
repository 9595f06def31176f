"""music21 and verovio read the same music from our files as the timeline holds."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import accumulate

import pytest
from expanding import expand
from musicxml_laws import sounding, tab_notes
from musicxml_lesson import piece as lesson_piece
from musicxml_pieces import G7, C, bar, note, plucks, settings, timeline, voicing
from musicxml_readers import (
    MEI,
    chords21,
    mei_of,
    notes21,
    played_by_verovio,
    read21,
    tab_of_verovio,
)
from musicxml_reading import bars_of
from test_musicxml import mixed
from write_golden_scores import GOLDEN
from writing_scores import to_musicxml

from fretloom.notation.syntax.read import read
from fretloom.source import Source
from fretloom.trade.music.meter import parse_meter


def compound():
    """6/8 with an upbeat, duplets, quadruplets, a quintuplet and a change to 2+2+3/8."""
    six, mixed_meter = parse_meter("6/8"), parse_meter("2+2+3/8")
    of = settings(meter="6/8", plays="G", capo=3)
    up = bar(
        (note(0, 3, 0, "i", of=of),), C, six,
        length=Fraction(1, 2), start=Fraction(5, 2), kind="pickup",
    )  # fmt: skip
    return timeline(
        [
            up,
            bar(plucks("p5 i3 m2 , p4+a1 m2", C, of, six), C, six),
            bar(plucks("p6 i3 m2 i3 , p4 i3 m2 a1 m2", G7, of, six), G7, six),
            bar(plucks("p5 - i3 , p4 m2", C, of, mixed_meter), C, mixed_meter),
            bar(plucks("p5 m2 i3 , p4 , p5 i3", C, of, mixed_meter), C, mixed_meter),
        ],
        of,
    )


def nested():
    """A quintuplet in the middle of a triplet."""
    of = settings()
    third = Fraction(1, 3)
    fifths = tuple(
        note(third + k * third / 5, 1 + k % 3, 0, "iam"[k % 3], of=of, length=third / 5)
        for k in range(5)
    )
    first = (note(0, 5, 3, "p", of=of, fretting="3"), *fifths)
    return timeline([bar((*first, *plucks("- , i3 , p5 i3 m2 , a1", C, of)), C)], of)


def divided():
    """Seven and nine in a beat, a triplet in half a beat and halves in a third of one."""
    of = settings()
    many = plucks("p5 i3 m2 , i3 m2 a1 m2 i3 m2 a1 , i3 m2 a1 i3 m2 a1 i3 m2 a1 , p5 i3 m2", C, of)
    halves = (
        note(0, 5, 3, "p", of=of), note("1/6", 3, 0, "i", of=of), note("1/3", 2, 1, "m", of=of),
        note("2/3", 1, 0, "a", of=of), note("3/2", 3, 0, "i", of=of),
        note("5/3", 2, 1, "m", of=of), note("11/6", 1, 0, "a", of=of),
    )  # fmt: skip
    return timeline([bar(many, C), bar(halves, C)], of)


def re_entrant():
    """A ukulele, whose string 4 is higher than string 3."""
    of = settings(strings="G4 C4 E4 A4", plays="F", capo=1)
    f = voicing("F", "2010", "2.1.", (4, 3))
    return timeline([bar(plucks("p4 i3 , m2 a1 , p4+a1 , i3+m2", f, of), f)], of)


PIECES = {
    "mixed": mixed,
    "compound": compound,
    "nested": nested,
    "divided": divided,
    "re-entrant": re_entrant,
}


@pytest.fixture(params=PIECES)
def piece(request: pytest.FixtureRequest):
    return PIECES[request.param]()


def starts_of(piece) -> list[Fraction]:
    return [Fraction(0), *accumulate(played.bar.length for played in piece.bars)]


@pytest.mark.parametrize("concert", [False, True])
def test_music21_reads_what_is_played(piece, concert: bool):
    """Onsets and sounding pitches on both staves, after music21's own transposition."""
    data = to_musicxml(piece, concert=concert)
    for staff in (0, 1):
        read = Counter[object]()
        for (measure, onset, _, midi, tied), count in notes21(data, staff).items():
            if not tied:
                read[measure, onset, midi] += count
        assert read == sounding(piece)


def test_music21_reads_the_written_lengths(piece):
    """Each note has the length that our tree gives it, exactly."""
    data = to_musicxml(piece)
    shift = piece.settings.capo.fret
    for staff in ("1", "2"):
        written = Counter(
            (n.measure, n.onset, n.duration, n.midi + shift)
            for one in bars_of(data)
            for n in one.notes
            if not n.rest and n.staff == staff
        )
        read = Counter[object]()
        for (measure, onset, length, midi, _), count in notes21(data, int(staff) - 1).items():
            read[measure, onset, length, midi] += count
        assert read == written


@pytest.mark.parametrize("name", sorted(set(PIECES) - {"nested"}))
def test_verovio_plays_what_is_played(name: str):
    """Onsets from the start of the piece and pitches; its tablature plays tuning and fret."""
    piece = PIECES[name]()
    notation, tab = played_by_verovio(to_musicxml(piece))
    starts = starts_of(piece)
    played = Counter[object]()
    for (place, onset, midi), count in sounding(piece).items():
        played[starts[place] + onset, midi] += count
    assert notation == played
    shift = piece.settings.capo.fret
    assert tab == Counter({(at, midi - shift): count for (at, midi), count in played.items()})


def test_verovio_reads_nested_tuplets():
    """Their lengths and nesting; verovio 6.4 *plays* only the inner one, so onsets are not asked."""
    mei = mei_of(to_musicxml(nested()))
    inner = next(tuplet for tuplet in mei.iter(f"{MEI}tuplet") if tuplet.get("num") == "5")
    outer = next(inner.iterancestors(f"{MEI}tuplet"))
    assert (inner.get("numbase"), outer.get("num"), outer.get("numbase")) == ("4", "3", "2")
    quarter = int(next(mei.iter(f"{MEI}staffDef")).get("ppq"))
    lengths = [int(note.get("dur.ppq")) for note in inner.iter(f"{MEI}note")]
    assert lengths == [Fraction(quarter, 15)] * 5


def test_verovio_draws_the_frets(piece):
    """String and fret of every note on the tablature."""
    data = to_musicxml(piece)
    written = [
        (n.number("notations/technical/string"), n.number("notations/technical/fret"))
        for n in tab_notes(bars_of(data))
    ]
    assert tab_of_verovio(data) == sorted(written)


def test_music21_reads_an_upbeat_as_short_bar_zero():
    """A pickup is measure 0 of its own length (MusicXML 4.0 `measure`, `implicit`)."""
    first = read21(to_musicxml(compound())).parts[0].getElementsByClass("Measure")[0]
    assert (first.number, first.duration.quarterLength) == (0, 0.5)


@pytest.mark.parametrize(
    ("symbol", "frets", "classes"),
    [
        ("C", "x32010", {0, 4, 7}),
        ("Am", "x02210", {9, 0, 4}),
        ("Cadd9", "x32030", {0, 4, 7, 2}),
        ("G7sus4", "330011", {7, 0, 2, 5}),
        ("Bm7b5", "x2323x", {11, 2, 5, 9}),
        ("C6/9", "x32233", {0, 4, 7, 9, 2}),
        ("E7#9", "07678x", {4, 8, 11, 2, 7}),
        ("C/G", "332010", {0, 4, 7}),
        ("D/C", "x30232", {2, 6, 9, 0}),
        ("Fmaj7", "xx3210", {5, 9, 0, 4}),
        ("Bbm", "x13321", {10, 1, 5}),
        ("Gsus2", "300233", {7, 9, 2}),
        ("Bdim7", "x2313x", {11, 2, 5, 8}),
        ("C+", "x3211x", {0, 4, 8}),
    ],
)
def test_music21_reads_the_chord_symbols(symbol: str, frets: str, classes: set[int]):
    """Pitch classes of each symbol by common theory, capo 2 added by music21's transposition."""
    of = settings(capo=2)
    held = voicing(symbol, frets)
    data = to_musicxml(timeline([bar(plucks("- , p4", held, of), held)], of))
    [(place, onset, _, read)] = chords21(data)
    assert (place, onset) == (0, 0)
    assert read == {(pitch + 2) % 12 for pitch in classes}


def test_music21_reads_no_chord():
    """N.C. is a chord symbol without pitches (MusicXML 4.0 `kind-value`, "none")."""
    of, held = settings(), voicing("N.C.", "xx0000")
    data = to_musicxml(timeline([bar(plucks("- , p4", held, of), held)], of))
    assert chords21(data) == [(0, 0, "", frozenset())]


def test_music21_reads_no_chord_from_a_plain_name():
    """A voicing that is only called something stands over the staff as words."""
    of, held = settings(), voicing("walkdown", "x32xxx")
    data = to_musicxml(timeline([bar(plucks("p5", held, of), held)], of))
    assert chords21(data) == []
    assert b"<words>walkdown</words>" in data


def ladder():
    """Grace notes, held notes, bends, slaps, a slow roll and ringing: the golden lesson of techniques."""
    text = (GOLDEN / "loft-ladder.lesson").read_text(encoding="utf-8")
    return expand(read(Source("loft-ladder.lesson", text))).timeline


def test_music21_reads_techniques_at_their_places():
    """Onsets and pitches on both staves; grace notes stand where their main note does."""
    data = to_musicxml(ladder())
    for staff in (0, 1):
        found = Counter[object]()
        for (measure, onset, _, midi, tied), count in notes21(data, staff).items():
            if not tied:
                found[measure, onset, midi] += count
        assert found == sounding(ladder())


def test_music21_reads_how_long_a_held_note_is():
    """Five quarters from the start of the second bar: a whole note tied to a quarter."""
    data = to_musicxml(ladder())
    held = {(place, onset, length) for place, onset, length, midi, _ in notes21(data) if midi == 67}
    assert held == {(1, 0, 4), (2, 0, 1)}


def test_verovio_plays_held_notes_once():
    """A tie over the bar line begins no new note; grace notes and rolled ones sound at times of its own."""
    piece = ladder()
    notation, _ = played_by_verovio(to_musicxml(piece))
    played = Counter(midi for _, _, midi in sounding(piece).elements())
    assert Counter(midi for _, midi in notation.elements()) == played


def test_verovio_plays_what_follows_a_grace_note_in_time():
    """In notation; on tablature verovio 6.4 gives grace notes time of their own, and all that follows is late."""
    grace, plain = "Am { p+a3@1h2.grace, i, m, i } | Am", "Am { p+a3@2, i, m, i } | Am"
    heard, wanted = (
        played_by_verovio(to_musicxml(lesson_piece(body), layout="notation"))[0]
        for body in (grace, plain)
    )
    assert {one for one in wanted if one != (0, 57)} <= set(heard)


def test_music21_reads_the_loudness():
    """The degree at the start, and the one that the crescendo leads to."""
    score = read21(to_musicxml(ladder()))
    degrees = [one.value for one in score.recurse().getElementsByClass("Dynamic")]
    assert degrees == ["p", "f"]
