"""Keys as other countries name them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.api import check, dumps, loads
from fretloom.errors import SymbolError
from fretloom.trade.harmony.key_names import read_key, write_key
from fretloom.trade.harmony.note_names import NAMINGS
from fretloom.trade.music.key import MODES, Key
from fretloom.trade.music.pitch import NoteName


@pytest.mark.parametrize(
    ("text", "naming", "key"),
    [
        ("a", "german", "Am"), ("fis-Moll", "german", "F#m"), ("B-Dur", "german", "Bb"), ("H", "german", "B"),
        ("H dorian", "german", "B dorian"), ("Es", "german", "Eb"), ("Fism", "german", "F#m"),
        ("Fa#m", "romance", "F#m"), ("Sib", "romance", "Bb"), ("La minore", "romance", "Am"),
        ("F#m", "english", "F#m"),
    ],
)  # fmt: skip
def test_keys_are_read(text, naming, key):
    """Names of keys in three namings (common practice, no source)."""
    assert str(read_key(text, naming)) == key


@pytest.mark.parametrize(("text", "naming"), [("a-Dur", "german"), ("H7", "german"), ("Ut", "romance"), ("", "german")])  # fmt: skip
def test_what_is_no_key(text, naming):
    """Other text is refused with an example."""
    with pytest.raises(SymbolError) as caught:
        read_key(text, naming)
    assert caught.value.hint


KEYS = st.builds(Key, st.builds(NoteName, st.sampled_from("CDEFGAB"), st.integers(-1, 1)), st.sampled_from(tuple(MODES)))  # fmt: skip


@given(KEYS, st.sampled_from(NAMINGS))
def test_written_keys_read_back(key, naming):
    """A key written in a naming is the same key when it is read."""
    written = write_key(key, naming)
    back = read_key(written, naming)
    assert (back.tonic, back.fifths) == (key.tonic, key.fifths)
    assert naming != "english" or written == str(key)


def test_lesson_in_german_keeps_its_key():
    """H in the heading stays H when the lesson is rewritten: B would be B flat."""
    text = 'lesson "Zwei Tassen"\n  names german\n  plays in H\n'
    written = dumps(loads(text))
    assert "  plays in H\n" in written
    assert dumps(loads(written)) == written


def test_findings_name_keys_as_the_lesson_does():
    """The capo's arithmetic is explained in the lesson's naming."""
    text = 'lesson "Zwei Tassen"\n  names german\n  capo 2\n  plays in A\n  sounds in B\n'
    (found,) = [one for one in check(loads(text)) if one.rule == "capo-and-keys"]
    assert "sounds in H, not in B" in found.message
