"""The bytes of a MIDI file."""

from __future__ import annotations

import pytest
from midi_read import read_midi

from fretloom.formats.sound.midi.smf import (
    LONGEST,
    OFF,
    ON,
    SETUP,
    file,
    note_off,
    note_on,
    number,
    text,
    track,
)

#: Source: the table of the specification, "Standard MIDI Files 1.0" (RP-001), "Variable-length quantity".
NUMBERS = [
    (0x00, "00"), (0x40, "40"), (0x7F, "7f"), (0x80, "8100"), (0x2000, "c000"), (0x3FFF, "ff7f"),
    (0x4000, "818000"), (0x100000, "c08000"), (0x1FFFFF, "ffff7f"), (0x200000, "81808000"),
    (0x8000000, "c0808000"), (0xFFFFFFF, "ffffff7f"),
]  # fmt: skip


@pytest.mark.parametrize(("value", "written"), NUMBERS)
def test_numbers_have_seven_bits_a_byte(value: int, written: str) -> None:
    assert number(value).hex() == written


def test_a_file_says_how_many_tracks_it_has() -> None:
    assert file([track([], 0)] * 3)[:14].hex() == "4d546864" + "00000006" + "0001" + "0003" + "2760"


def test_events_of_one_tick_stand_in_the_order_in_which_they_have_to_be_known() -> None:
    events = [
        (5, ON, note_on(0, 60, 80)),
        (5, SETUP, text(6, "Verse")),
        (5, OFF, note_off(0, 60)),
        (0, ON, note_on(0, 60, 80)),
    ]
    read = read_midi(file([track(events, 9)]))
    assert read.tracks[0] == (
        (0, b"\x90\x3c\x50"),
        (5, (6, b"Verse")),
        (5, b"\x80\x3c\x40"),
        (5, b"\x90\x3c\x50"),
        (9, (0x2F, b"")),
    )


def test_a_silence_longer_than_a_file_can_say_is_said_in_parts() -> None:
    """With a text of no letters between them."""
    read = read_midi(file([track([], 2 * LONGEST + 7)]))
    assert read.tracks[0] == (
        (LONGEST, (1, b"")),
        (2 * LONGEST, (1, b"")),
        (2 * LONGEST + 7, (0x2F, b"")),
    )


def test_half_of_a_pair_of_code_units_becomes_a_question_mark() -> None:
    """No text is refused for one letter that is none."""
    assert text(3, "a\ud800") == b"\xff\x03\x02a?"
