"""What stands at the start of a file: title, tuning, capo, transposition, key, time, tempo."""

from __future__ import annotations

from fractions import Fraction

import pytest
from attrs import evolve
from lxml import etree
from musicxml_laws import check_everything
from musicxml_pieces import C, bar, plucks, settings, timeline, voicing
from musicxml_reading import midi_of, notes_of
from writing_scores import left_out_of, to_musicxml

from fretloom.errors import FretloomError
from fretloom.trade.guitar.tuning import Capo
from fretloom.trade.music.key import parse_key
from fretloom.trade.music.meter import parse_meter
from fretloom.trade.music.tempo import Tempo


def exported(bars: int = 1, concert: bool = False, **of):
    """Export bars of C as a tree, all laws checked."""
    wanted = settings(**of)
    one = bar(plucks("p5+a1 , i3 , m2 , p4", C, wanted), C)
    return etree.fromstring(check_everything(timeline([one] * bars, wanted), concert=concert))


@pytest.mark.parametrize("concert", [False, True])
@pytest.mark.parametrize("capo", range(13))
@pytest.mark.parametrize("plays", ["C", "G", "D", "A", "E", "F", "Bb", "Am", "Em", "Dm", "B", "Eb"])
def test_every_capo_in_every_common_key_keeps_the_invariants(plays: str, capo: int, concert: bool):
    """Written = tuning + fret; sounding = written + transpose; at most six signs in either key."""
    root = exported(plays=plays, capo=capo, concert=concert)
    transpose = root.find(".//transpose")
    assert (transpose is None) == (capo == 0 or concert)
    fifths = int(root.findtext(".//fifths"))
    sounding = parse_key(plays).transposed(capo).fifths
    assert fifths == (sounding if concert else parse_key(plays).fifths)
    if transpose is not None:
        assert abs(sounding) <= 6
        signs = 7 * int(transpose.findtext("chromatic")) - 12 * int(transpose.findtext("diatonic"))
        assert fifths + signs == sounding


@pytest.mark.parametrize(
    ("plays", "capo", "letters"),
    [("C", 1, 1), ("C", 2, 1), ("C", 3, 2), ("C", 4, 2), ("C", 5, 3), ("C", 7, 4), ("A", 4, 3)],
)
def test_letters_are_counted_to_the_key_with_fewest_signs(plays: str, capo: int, letters: int):
    """C with the capo at 1, 2, 3... is Db, D, Eb...; A with the capo at 4 is Db and not C#."""
    assert exported(plays=plays, capo=capo).findtext(".//diatonic") == str(letters)


def test_the_teachers_name_of_the_sounding_key_counts():
    """B played with the capo at 7 sounds in F# or Gb: the lesson says which."""
    for sounds, letters in (("F#", "4"), ("Gb", "5")):
        assert exported(plays="B", sounds=sounds, capo=7).findtext(".//diatonic") == letters


def test_a_capo_at_twelve_is_an_octave():
    """MusicXML 4.0 `octave-change` takes whole octaves out of `chromatic`."""
    transpose = exported(capo=12).find(".//transpose")
    assert [(part.tag, part.text) for part in transpose] == [
        ("diatonic", "0"), ("chromatic", "0"), ("octave-change", "1"),
    ]  # fmt: skip


def test_capo_three_shows_the_shape_and_sounds_three_higher():
    """C shape with the capo at 3 (MusicXML 4.0 `capo` and `staff-tuning`): sounds 51 55 58 63 67."""
    of = settings(capo=3)
    data = check_everything(timeline([bar(plucks("p5 , p4 , i3 m2 , a1", C, of), C)], of))
    root = etree.fromstring(data)
    tuned = [midi_of(line, "tuning-") for line in root.iter("staff-tuning")]
    assert tuned == [40, 45, 50, 55, 59, 64]
    assert root.findtext(".//capo") == "3"
    notes = sorted({note.midi + 3 for note in notes_of(data) if note.staff == "1"})
    assert notes == [51, 55, 58, 63, 67]
    frets = [n.number("notations/technical/fret") for n in notes_of(data) if n.staff == "2"]
    assert set(frets) == {3, 2, 0, 1}


def test_a_low_e_is_written_once_an_octave_down():
    """String 6 open is E2 under an octave clef and without octave in `transpose`: it sounds 40."""
    of, e = settings(plays="E"), voicing("E", "022100", bass=(6, 4))
    root = etree.fromstring(to_musicxml(timeline([bar(plucks("p6", e, of), e)], of)))
    assert root.findtext(".//clef[@number='1']/clef-octave-change") == "-1"
    assert root.find(".//transpose") is None
    assert root.findtext(".//note/pitch/octave") == "2"


def test_a_partial_capo_is_written_as_a_tuning():
    """Capo 2 on strings 5 4 3: those lines are raised, pitches are those that sound, words say it."""
    capo = Capo(2, (5, 4, 3))
    root = exported(capo=capo, plays="E")
    tuned = [midi_of(line, "tuning-") for line in root.iter("staff-tuning")]
    assert tuned == [40, 47, 52, 57, 59, 64]
    assert root.find(".//transpose") is None
    assert root.find(".//capo") is None
    assert "Capo 2 on strings 5, 4 and 3" in " ".join(one.text for one in root.iter("credit-words"))


@pytest.mark.parametrize(
    ("strings", "clef"),
    [
        ("E2 A2 D3 G3 B3 E4", ("G", "2", "-1")),
        ("G4 C4 E4 A4", ("G", "2", None)),
        ("G3 D3 G3 B3 D4", ("G", "2", "-1")),
        ("E1 A1 D2 G2", ("F", "4", "-1")),
    ],
)
def test_the_clef_fits_the_instrument(strings: str, clef: tuple[str, str, str | None]):
    """Guitar and banjo an octave down, ukulele as it looks, bass in the bass clef (common practice)."""
    of = settings(strings=strings)
    held = voicing("C", "0" * of.tuning.strings, bass=(3,))
    root = etree.fromstring(check_everything(timeline([bar(plucks("p3", held, of), held)], of)))
    found = root.find(".//clef")
    assert (
        found.findtext("sign"), found.findtext("line"), found.findtext("clef-octave-change"),
    ) == clef  # fmt: skip
    assert root.findtext(".//staff-lines") == str(of.tuning.strings)


@pytest.mark.parametrize(
    ("instrument", "tuned", "part", "program"),
    [
        ("steel string", "", "Guitar", "26"),
        ("classical", "", "Guitar", "25"),
        ("steel string", "ukulele", "Ukulele", "25"),
        ("lute", "", "Lute", "26"),
    ],
)
def test_the_part_is_named_for_the_instrument(instrument, tuned, part, program):
    """Programs are those of General MIDI Level 1, counted from 1: 25 nylon, 26 steel."""
    of = settings(instrument=instrument)
    of = evolve(of, tuning=evolve(of.tuning, name=tuned))
    root = etree.fromstring(to_musicxml(timeline([bar()], of)))
    assert root.findtext(".//part-name") == part
    assert root.findtext(".//midi-program") == program


def test_an_additive_meter_is_written_as_a_sum():
    """MusicXML 4.0 `beats`: 2+2+3 stands as it is written; the tablature's time is hidden."""
    seven = parse_meter("2+2+3/8")
    of = settings(meter="2+2+3/8")
    root = etree.fromstring(to_musicxml(timeline([bar(meter=seven)], of)))
    times = root.findall(".//time")
    assert [(one.findtext("beats"), one.findtext("beat-type")) for one in times] == [
        ("2+2+3", "8")
    ] * 2
    assert [one.get("print-object") for one in times] == [None, "no"]


def test_a_new_meter_and_a_new_tempo_are_written_where_they_begin():
    """Each once, in the bar that changes; 60 dotted quarters are 90 quarters (MusicXML `sound`)."""
    of, three = settings(), parse_meter("3/4")
    bars = [bar(), bar(meter=three), bar(meter=three)]
    slow = Tempo(Fraction(60), Fraction(3, 2))
    data = check_everything(timeline(bars, of, {1: slow, 2: slow}))
    measures = etree.fromstring(data).findall(".//measure")
    assert [len(one.findall("attributes/time")) for one in measures] == [2, 2, 0]
    assert [one.find("direction/sound").get("tempo") for one in measures[:2]] == ["90", "90"]
    assert [one.tag for one in measures[1].find(".//metronome")] == [
        "beat-unit", "beat-unit-dot", "per-minute",
    ]  # fmt: skip
    assert measures[2].find("direction") is None


def test_a_tempo_in_quarters_stands_in_the_beats_of_the_meter():
    """60 quarters a minute in 6/8 are 40 dotted quarters; what is heard is the same (MusicXML `sound`)."""
    of = settings(meter="6/8", tempo=Tempo(Fraction(60)))
    root = etree.fromstring(check_everything(timeline([bar(meter=of.meter)], of)))
    [mark] = root.iter("metronome")
    assert [(one.tag, one.text) for one in mark] == [
        ("beat-unit", "quarter"), ("beat-unit-dot", None), ("per-minute", "40"),
    ]  # fmt: skip
    assert root.find(".//sound[@tempo]").get("tempo") == "60"


def test_swing_is_a_ratio_and_leaves_the_values_straight():
    """6:4 is written 3 to 2 (MusicXML 4.0 `swing`); eighths stay eighths."""
    root = exported(swing=(6, 4))
    swing = root.find(".//sound/swing")
    assert [(one.tag, one.text) for one in swing] == [
        ("first", "3"), ("second", "2"), ("swing-type", "eighth"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("meter", "note", "words"),
    [
        ("4/4", "eighth", "Swing 2:1"), ("2+2+3/8", "eighth", "Swing 2:1"), ("6/8", None, "Swing 2:1"),
        ("2/2", None, "Swing 2:1 (quarter notes)"), ("4/8", "16th", "Swing 2:1 (sixteenth notes)"),
    ],
)  # fmt: skip
def test_what_swings_is_said_as_far_as_the_standard_has_a_word(
    meter: str, note: str | None, words: str
):
    """MusicXML 4.0 `swing-type-value`: eighths and sixteenths; the head says what swings else."""
    of = settings(meter=meter, swing=(2, 1), plays="")
    piece = timeline([bar((), None, parse_meter(meter))], of)
    root = etree.fromstring(to_musicxml(piece))
    assert root.findtext(".//sound/swing/swing-type") == note
    assert words in [one.text for one in root.iter("credit-words")]
    left = [one.what for one in left_out_of(piece)]
    assert left == (
        []
        if meter != "2/2"
        else ["that quarter notes swing, for programs that play: the head says it"]
    )


def test_odd_tempi_are_rounded_to_thousandths():
    """Only the file rounds: 200/3 quarters a minute are 66.667; a unit of five eighths is counted in quarters."""
    root = exported(tempo=Tempo(Fraction(200, 3)))
    assert root.find(".//sound").get("tempo") == "66.667"
    odd = exported(tempo=Tempo(Fraction(40), Fraction(5, 2)))
    assert (odd.findtext(".//beat-unit"), odd.findtext(".//per-minute")) == ("quarter", "100")


def test_texts_come_back_as_they_were_written():
    """Titles with signs of XML, other scripts and emoji (W3C XML 1.0)."""
    title = 'Rock & "Roll" </script><svg onload=alert(1)> Étude ♯1 日本 🎸'
    root = exported(title=title, by="A & B", rights="<CC0>")
    assert root.findtext("work/work-title") == title
    assert root.findtext("identification/creator") == "A & B"
    assert root.findtext("identification/rights") == "<CC0>"


def test_the_first_bytes():
    """Declaration, line ends, indentation, signs of XML: as lxml wrote them before we did."""
    of = settings(title='Salt & <Pepper> "é"', by="Kiln Lane")
    assert to_musicxml(timeline([bar()], of)).startswith(
        b"<?xml version='1.0' encoding='UTF-8'?>\n"
        b'<score-partwise version="4.0">\n'
        b"<work>\n"
        b'  <work-title>Salt &amp; &lt;Pepper&gt; "\xc3\xa9"</work-title>\n'
        b"</work>\n"
        b"<identification>\n"
        b'  <creator type="composer">Kiln Lane</creator>\n'
        b"  <encoding>\n"
    )


@pytest.mark.parametrize("sign", ["\x07", "\x00", "\ud800", "\ufffe"])
def test_signs_that_xml_cannot_hold_are_refused_in_plain_words(sign: str):
    """XML 1.0, production `Char`: the message names the place and the character."""
    of = settings(title=f"Porch{sign}")
    with pytest.raises(
        FretloomError, match=f"the title 'Porch\\?' holds the character U\\+{ord(sign):04X}"
    ):
        to_musicxml(timeline([bar()], of))


def test_a_lesson_without_bars_is_refused():
    """There is nothing to write, and a part without measures is not valid."""
    with pytest.raises(FretloomError, match="no bars"):
        to_musicxml(timeline([], settings()))


def test_a_date_is_written_only_when_given():
    """Files are the same tomorrow, unless asked (MusicXML 4.0 `encoding-date` is optional)."""
    piece = timeline([bar()], settings())
    assert b"encoding-date" not in to_musicxml(piece)
    dated = to_musicxml(piece, encoding_date="2026-03-01")
    assert etree.fromstring(dated).findtext(".//encoding-date") == "2026-03-01"


def test_the_file_has_no_doctype():
    """DTDs are deprecated in MusicXML 4.0."""
    assert b"<!DOCTYPE" not in to_musicxml(timeline([bar()], settings()))
