"""What the first track says: title, tempo, meter, key, sections, bars; and words, slaps, clicks, instruments."""

from __future__ import annotations

from fractions import Fraction

import pytest
from attrs import evolve
from midi_lessons import HEAD, TICKS, bars, keys, left_out, lesson, midi_of, playback_of
from midi_read import read_midi
from reading_through import reading_of

from fretloom.formats.sound.midi.conductor import signature
from fretloom.formats.sound.midi.document import to_midi
from fretloom.trade.guitar.instruments import INSTRUMENTS
from fretloom.trade.music.meter import Meter

NAME, COPYRIGHT, INSTRUMENT, LYRIC, MARKER, CUE, TEXT = 3, 2, 4, 5, 6, 7, 1


@pytest.mark.parametrize(
    "title", ["Lock", "Müllers Mühle", "水門の歌", "Под мостом", "🎸 & <b>", "שיר", "a" * 300]
)
def test_a_title_in_any_letters_is_the_first_tracks_name(title: str) -> None:
    """As UTF-8."""
    read = midi_of(bars("E", title=title))
    assert read.texts(NAME)[0] == (0, title)


def test_rights_and_author_stand_on_the_first_track() -> None:
    read = midi_of(bars("E", 'by "Müller"', 'rights "© 2026"'))
    assert read.texts(COPYRIGHT) == [(0, "© 2026")]
    assert read.texts(TEXT)[0] == (0, "Müller")


@pytest.mark.parametrize(
    ("tempo", "micro"), [("96", 625_000), ("92.5", 648_649), ("60 to 3/8", 666_667), ("7", None)]
)
def test_a_tempo_is_whole_microseconds_of_a_quarter_note(tempo: str, micro: int | None) -> None:
    """The nearest: 60,000,000 / 92.5 is 648,648.65."""
    if micro is None:
        return
    assert midi_of(bars("E", f"tempo {tempo}")).metas(0x51) == [(0, micro.to_bytes(3, "big"))]


def test_a_tempo_slower_than_midi_can_say() -> None:
    """10 sixteenths a minute are 2.5 quarter notes; the slowest is 3.58."""
    text = bars("E", "tempo 10 to 1/16")
    assert midi_of(text).metas(0x51) == [(0, b"\xff\xff\xff")]
    assert left_out(text)[-1].startswith("tempos below 3.58 quarter notes a minute")


def test_tempos_change_where_the_playback_changes_them() -> None:
    text = lesson("section verse\n  ritardando to 48 over 1 bar\n  E\n  E\n", "tempo 96")
    said = [(tick, int.from_bytes(data, "big")) for tick, data in midi_of(text).metas(0x51)]
    spans = playback_of(text).clock.spans
    assert said == [(int(span.start * TICKS), round(60_000_000 / span.quarters)) for span in spans]
    assert len(said) == 17
    assert said[-1] == (4 * TICKS, 1_250_000)


@pytest.mark.parametrize(
    ("meter", "said"),
    [
        ("4/4", (4, 2, 24)), ("3/4", (3, 2, 24)), ("6/8", (6, 3, 36)), ("2/2", (2, 1, 48)),
        ("2+2+3/8", (7, 3, 12)), ("12/16", (12, 4, 18)),
    ],
)  # fmt: skip
def test_meters(meter: str, said: tuple[int, int, int]) -> None:
    """Number of notes, which power of 1/2, and the clocks of a beat, of which a quarter note has 24."""
    assert midi_of(bars("E", f"meter {meter}")).metas(0x58) == [(0, bytes((*said, 8)))]


def test_what_is_grouped_is_told() -> None:
    assert "how 2+2+3/8 is grouped: MIDI says 7/8" in left_out(bars("E", "meter 2+2+3/8"))


def test_a_pickup_is_a_bar_of_its_own_length() -> None:
    text = lesson("section verse\n  pickup 1: E { p6 }\n  E { p6 , - , - , - }\n")
    read = midi_of(text)
    assert read.metas(0x58) == [(0, bytes((1, 2, 24, 8))), (TICKS, bytes((4, 2, 24, 8)))]
    assert [words for _, words in read.texts(TEXT)] == ["pickup", "E", "bar 1", "E"]
    assert keys(read) == [(0, 40), (1, 40)]


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("sounds in G", (1, 0)), ("sounds in Am", (0, 1)), ("sounds in Eb", (0xFD, 0)),
        ("plays in E\n  capo 3", (1, 0)), ("sounds in G#", (0xFC, 0)), ("sounds in E dorian", (2, 0)),
    ],
)  # fmt: skip
def test_the_key_is_the_one_that_sounds(key: str, said: tuple[int, int]) -> None:
    """Sharps, or flats below 0 in two's complement, and 1 for minor."""
    assert midi_of(bars("E", key)).metas(0x59) == [(0, bytes(said))]


def test_a_mode_that_midi_does_not_have_is_told() -> None:
    said = "that the key is E dorian: MIDI has major and minor only"
    assert said in left_out(bars("E", "sounds in E dorian"))
    assert said.replace("E dorian", "Em") not in left_out(bars("E", "sounds in Em"))


def test_sections_are_markers_and_bars_and_chords_texts() -> None:
    text = lesson(
        'section verse "Strophe"\n  "Lamps" E D | E\n\nsection coda\n  D\n\nform\n  verse\n  coda\n'
    )
    read = midi_of(text)
    assert read.texts(MARKER) == [(0, "Strophe"), (8 * TICKS, "coda")]
    assert read.texts(CUE) == [(0, "Lamps")]
    assert read.texts(TEXT) == [
        (0, "bar 1"), (0, "E"), (2 * TICKS, "D"), (4 * TICKS, "bar 2"), (4 * TICKS, "E"),
        (8 * TICKS, "bar 3"), (8 * TICKS, "D"),
    ]  # fmt: skip


def test_words_are_lyrics_where_they_are_sung() -> None:
    """They swing with the notes; the last syllable of a word has a blank behind it."""
    body = 'section verse\n  E { p6 , p6 p6 , p6 , p6 }\n  words: "A-long the lane" on 1 1& 2 2&\n'
    sung = midi_of(lesson(body, "swing 2:1")).texts(LYRIC)
    assert sung == [
        (0, "A-"), (TICKS * 2 // 3, "long "), (TICKS, "the "), (TICKS * 5 // 3, "lane "),
    ]  # fmt: skip


def test_words_without_counts_stand_at_the_start_of_their_bar() -> None:
    read = midi_of(lesson('section verse\n  E | E\n  words: - | "Keep it"\n'))
    assert read.texts(LYRIC) == [(4 * TICKS, "Keep it ")]


@pytest.mark.parametrize(("ratio", "second"), [("2:1", "2/3"), ("3:2", "3/5"), ("3:1", "3/4")])
def test_swing_is_exact_in_ticks(ratio: str, second: str) -> None:
    read = midi_of(bars("E { p6 p6 , p6 , p6 , p6 }", f"swing {ratio}"))
    assert read.notes()[1].start == Fraction(second) * TICKS


@pytest.mark.parametrize("parts", [2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 15, 16, 18, 20, 21, 32])
def test_usual_parts_of_a_beat_are_whole_ticks(parts: int) -> None:
    beat = " ".join(["p6"] * parts)
    read = midi_of(bars(f"E {{ {beat} , - , - , - }}"))
    assert [Fraction(note.start, TICKS) for note in read.notes()] == [
        Fraction(place, parts) for place in range(parts)
    ]


def test_slaps_are_percussion() -> None:
    """General MIDI's side stick, 37, for the strings, low conga, 64, for the body."""
    read = midi_of(bars("E { slap , body-slap! , p6 , - }"))
    knocks = [note for note in read.notes() if note.channel == 10]
    assert [(note.start // TICKS, note.key, note.velocity) for note in knocks] == [
        (0, 37, 80), (1, 64, 104),
    ]  # fmt: skip
    assert {note.track for note in knocks} == {read.named("Slaps")}


def test_clicks_are_only_there_when_they_are_asked_for() -> None:
    """High wood block, 76, on the first of a bar, low wood block, 77, on the others."""
    assert not [note for note in midi_of(bars("E")).notes() if note.channel == 10]
    read = midi_of(bars("E | D"), clicks="always")
    clicks = [(note.start // TICKS, note.key) for note in read.notes() if note.channel == 10]
    assert clicks == [(0, 76), (1, 77), (2, 77), (3, 77), (4, 76), (5, 77), (6, 77), (7, 77)]


@pytest.mark.parametrize(
    ("field", "program", "name"),
    [
        ("instrument classical", 25, "classical"), ("instrument 12-string", 26, "12-string"),
        ("instrument electric", 28, "electric"), ("", 26, "steel string"),
    ],
)  # fmt: skip
def test_instruments_have_the_sounds_of_general_midi(field: str, program: int, name: str) -> None:
    """25 is nylon strings, 26 steel strings, 28 electric (clean), numbered from 1 as it does."""
    read = midi_of(bars("E { p6 , m2 , - , - }", *[field] * bool(field)))
    assert {one[2][1] + 1 for one in read.merged() if one[2][0] >> 4 == 0xC} == {program}
    assert {words for _, words in read.texts(INSTRUMENT)} == {name}


def test_an_instrument_that_is_not_named_is_the_one_of_its_tuning() -> None:
    """Four high strings are a ukulele, which has nylon strings."""
    text = 'lesson "Uke"\n  tuning G4 C4 E4 A4\nvoicings\n  C  0003\nsection verse\n  C { i4 , i3 , - , - }\n'
    read = midi_of(text)
    assert {one[2][1] + 1 for one in read.merged() if one[2][0] >> 4 == 0xC} == {25}


def test_a_wrong_note_is_found() -> None:
    """One fret too high in a lesson of two: one key differs, at its place."""
    line = "E {{ p6 , i3 m2 , p4@{fret} , a1 }} | D"
    right, wrong = (set(keys(midi_of(bars(line.format(fret=fret))))) for fret in (2, 3))
    assert right ^ wrong == {(2, 52), (2, 53)}


def test_free_time_is_told() -> None:
    text = lesson("section verse\n  free time\n  E\n")
    assert "free time, which is played in tempo, in bar 1 (verse)" in left_out(text)


def test_all_tracks_end_together() -> None:
    """With the string that rings longest, or the last bar."""
    read = midi_of(bars("E { p6 , m2 , - , - }"))
    ends = {tick for events in read.tracks for tick, message in events if message == (0x2F, b"")}
    assert ends == {4 * TICKS}


def test_after_a_bar_that_is_no_number_of_notes_bars_are_counted_anew() -> None:
    """A pickup of a third of a beat: the first full bar has its meter said again."""
    text = lesson("section verse\n  pickup from 4let: E { m2 }\n  E\n")
    read = midi_of(text)
    assert [tick for tick, _ in read.metas(0x58)] == [0, TICKS // 3]


def test_a_lesson_without_bars_is_a_file_without_notes() -> None:
    read = midi_of(HEAD.format(title="Empty", fields=""))
    assert read.notes() == []
    assert read.metas(0x51) == [(0, (666_667).to_bytes(3, "big"))]


def test_a_bar_of_more_notes_than_a_byte_counts_has_its_meter() -> None:
    """Two hundred whole notes and an eighth are 1,601 eighths."""
    meter = Meter((64,), 1)
    assert signature(meter, Fraction(801, 2)) == (64, 0)
    assert signature(meter, Fraction(801, 2) - 300) == (201, 3)


def test_of_two_slaps_at_one_tick_the_louder_one_is_played_and_one_ends_before_the_next() -> None:
    """Slaps half a sixteenth apart are shorter than a knock usually is."""
    once = playback_of(bars("E { [slap! slap] - , - , - , - }"))
    first, second = once.slaps
    together = evolve(second, at=first.at)
    settings = reading_of(bars("E")).timeline.settings
    for slaps in ((first, together), (together, first)):
        data, _ = to_midi(evolve(once, slaps=slaps), settings, INSTRUMENTS[0])
        assert [note.velocity for note in read_midi(data).notes()] == [104]
    close = evolve(second, at=first.at + Fraction(1, 32))
    data, _ = to_midi(evolve(once, slaps=(first, close)), settings, INSTRUMENTS[0])
    assert [note.end - note.start for note in read_midi(data).notes()] == [TICKS // 32, TICKS // 4]
