"""The table of the guitar: complete, and honest about where its numbers come from."""

from __future__ import annotations

import pytest
from heard import playback_of

from fretloom.formats.sound.guitar.constants import RATE, table
from fretloom.formats.sound.guitar.string.making import making_of
from fretloom.trade.guitar.instruments import INSTRUMENTS, instrument_for
from fretloom.trade.guitar.plucking import PICKING_FINGERS

PARTS = ("strings", "fingers", "damping", "slurs", "noises", "room", "clicks", "instruments")


def test_each_part_says_where_it_comes_from() -> None:
    """So do the families of strings and the bodies, each for itself."""
    for part in PARTS:
        assert table(part)["source"], part
    for part in ("families", "bodies"):
        assert all(one["source"] for one in table(part).values())
    assert table("rate") == RATE


def test_every_instrument_has_strings_and_a_body() -> None:
    """Those that a lesson can name are those of the table."""
    rows = {name: row for name, row in table("instruments").items() if name != "source"}
    assert set(rows) == {one.name for one in INSTRUMENTS}
    for row in rows.values():
        assert row["family"] in table("families")
        assert row["body"] in table("bodies")


def test_every_finger_plucks() -> None:
    """The thumb the other way round, and each where its hand lies."""
    fingers = {name: row for name, row in table("fingers").items() if name != "source"}
    assert set(fingers) == set(PICKING_FINGERS)
    assert {name for name, row in fingers.items() if row["way"] > 0} == {"p"}


@pytest.mark.parametrize(
    ("fields", "frets", "name", "body"),
    [
        ((), "000000", "steel string", "wood"),
        (("instrument classical",), "000000", "classical", "nylon"),
        (("tuning G4 C4 E4 A4",), "0000", "concert ukulele", "nylon"),
        (("tuning 12-string",), "000000", "12-string", "wood"),
        (("tuning baritone",), "000000", "baritone", "wood"),
        (("instrument electric", "tuning drop D"), "000000", "electric", "board"),
    ],
)
def test_the_tuning_says_which_instrument_it_is(
    fields: tuple[str, ...], frets: str, name: str, body: str
) -> None:
    """Where the heading names none, it is the one that the tuning is usually found on."""
    _, settings = playback_of("O", *fields, frets=frets)
    assert instrument_for(settings.instrument, settings.tuning).name == name
    assert making_of(settings).body == body


def test_a_string_that_is_tuned_down_is_the_same_string() -> None:
    """A little: it has the weight of the string that was bought. An octave down it is another."""
    _, standard = playback_of("O")
    usual = making_of(standard).strings[6, False]
    _, dropped = playback_of("O", "tuning drop D")
    assert making_of(dropped).strings[6, False] == usual
    _, low = playback_of("O", "tuning E1 A2 D3 G3 B3 E4")
    assert making_of(low).strings[6, False].weight > 2 * usual.weight
    assert usual.length == pytest.approx(0.6477)


def test_wound_strings_lose_their_sound_otherwise_than_plain_ones() -> None:
    """Of a steel-string guitar the first two are plain."""
    _, settings = playback_of("O")
    family, strings = table("families")["steel"], making_of(settings).strings
    plain = {
        number
        for number in range(1, 7)
        if strings[number, False].decay == tuple(family["plain_decay"])
    }
    wound = {
        number
        for number in range(1, 7)
        if strings[number, False].decay == tuple(family["wound_decay"])
    }
    assert (plain, wound) == ({1, 2}, {3, 4, 5, 6})


def test_the_scale_of_the_heading_is_the_length_of_the_strings() -> None:
    """In metres."""
    _, settings = playback_of("O", "scale 610 mm")
    assert {one.length for one in making_of(settings).strings.values()} == {0.61}
