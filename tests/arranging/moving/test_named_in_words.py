"""Words of steps that name what is moved."""

from __future__ import annotations

import pytest

from fretloom.api import as_data, as_text, loads, transpose
from fretloom.arranging.moving.words import named_in_words

CHORDS = {"A", "E", "F#m", "Am", "B7.low", "B7", "C/G"}


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Go from E to A slowly.", ("E", "A")),
        ("A is easy.", ()),
        ("A chord for the thumb.", ("A",)),
        ("A to E, four times.", ("A", "E")),
        ("Lift the thumb. A beat later, strum.", ()),
        ("Am I late?", ()),
        ("Hold F#m, then C/G.", ("F#m", "C/G")),
        ("The change E-A is the hard one.", ("E", "A")),
        ("B7.low is low.", ("B7.low",)),
        ("Play at fret 3 and the fifth fret.", ("fret 3", "fifth fret")),
        ("Everything else stays.", ()),
        ("Fretting hand first.", ()),
    ],
)
def test_names_of_chords_and_frets(text: str, names: tuple[str, ...]) -> None:
    """A at the beginning of a sentence is a word, unless what follows speaks of a chord."""
    lesson = loads(f'lesson "Words"\nstep "One"\n  {text}\n')
    found = [name for _, named in named_in_words(lesson, CHORDS) for name in named]
    assert found == list(dict.fromkeys(names))


def test_each_step_is_remarked_once() -> None:
    """With all that it names, in a sentence and as data."""
    text = (
        'lesson "Words"\n  plays in E\n  capo 2\nvoicings\n  E  022100\n  A  x02220\n'
        "patterns\n  plain  p , i , p , m\nsection t  using plain\n  E | A\n"
        'step "Change"\n  From E to A.\n  Then back to E at fret 2.\n'
    )
    found = transpose(loads(text), plays="D")
    assert as_text(found).count("the step Change speaks of E, A and fret 2") == 1
    (data,) = [one for one in as_data(found)["remarks"] if one["kind"] == "named-in-words"]
    assert data["names"] == ["E", "A", "fret 2"]
