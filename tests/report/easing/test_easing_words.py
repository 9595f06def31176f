"""For which level a lesson is, and what was made easier, in words."""

from __future__ import annotations

import pytest
from places import EXAMPLES

import fretloom


def levels(name: str) -> str:
    """Return the verdict on an example."""
    return fretloom.as_text(fretloom.levels(fretloom.load(EXAMPLES / f"{name}.lesson")))


def eased(name: str) -> list[str]:
    """Return what is said of an example made easier for beginners."""
    lesson = fretloom.load(EXAMPLES / f"{name}.lesson")
    return fretloom.as_text(fretloom.ease(lesson, level="beginner")).splitlines()


def test_a_sentence_for_each_level_and_the_reasons_below_it() -> None:
    """As a teacher says it."""
    text = levels("tuesday-rag")
    assert (
        "For beginners apart from F, Fm, C, D7 to G7, pattern answer, pattern rag and bar 24 (trio)\n"
        in text
    )
    assert "  F 133211: a barre of finger 1 over 6 strings\n" in text
    assert "  C x32010: a hop of finger 3 to string 6\n" in text
    assert "For advanced players: nothing in it is beyond them\n" in text
    assert "  at tempo 83 nothing is too quick\n" in text


@pytest.mark.parametrize(
    ("name", "said"),
    [
        (
            "tuesday-rag",
            "F 133211, a barre of finger 1 over 6 strings, becomes xx3211: a barre over 2 strings only; "
            "the thumb plays strings 4 and 3 in place of strings 6, 5 and 4, and its lowest note, F, is an octave higher",
        ),
        (
            "kiln-lane-shuffle",
            "C#m7 x46454, a barre of finger 1 over 5 strings, becomes x42100: no barre; the thumb plays "
            "C# and E in place of C# and G#; on top, string 2 sounds B in place of E",
        ),
        (
            "kiln-lane-shuffle",
            "pattern plain, p , p m , p i , p m, becomes p , p m , p i , p: nothing is plucked on 4&",
        ),
        ("kiln-lane-shuffle", "the step Verse speaks of C#m7: say it anew for the new shapes"),
        (
            "slow-kettle-blues",
            "pattern answer, p , p m2@3.bend-quarter , p a1@0 , p m2@3p0, becomes "
            "p , - m2@3.bend-quarter , p a1@0 , - m2@3p0: the thumb rests on 2 and 4",
        ),
        ("clay-and-water", "nothing is beyond beginners, so nothing has to be easier"),
    ],
)  # fmt: skip
def test_what_became_of_it_and_what_is_heard_otherwise(name: str, said: str) -> None:
    """A line for each thing."""
    assert said in eased(name)


def test_a_near_chord_is_called_another_chord() -> None:
    """With the tones that are added, and the melody note that is another one."""
    text = 'lesson "a"\n  tempo 60\nvoicings\n  Bm  x24432\nsection v\n  Bm { p, i, m, a }\n'
    found = fretloom.ease(fretloom.loads(text), based_on="a.lesson")
    said = fretloom.as_text(found)
    assert "becomes Bm7 x20202: no barre; it is another chord, Bm7, A added" in said


def test_what_is_still_beyond_the_level_is_said() -> None:
    """And nothing of it is changed in silence."""
    said = [line for line in eased("tuesday-rag") if line.startswith("still beyond beginners: ")]
    assert len(said) == 1
    assert (
        "pattern answer in bar 4 (strain): 3 plucks between the thumb's counts, 2 at most"
        in said[0]
    )
