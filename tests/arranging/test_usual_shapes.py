"""The shapes that method books teach are the first that are suggested.

Common practice, no source: the lists lie in `tests/data`, each with a note on where it is from.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fretloom.api import expand, loads, suggest_voicings

DATA = Path(__file__).parents[1] / "data"
LISTS = ("usual_shapes.json", "usual_shapes_more.json")


def places(name: str) -> dict[str, int]:
    """Return for each chord of a list where the first of its shapes stands, counted from 0; 99 if nowhere."""
    chords = json.loads((DATA / name).read_text(encoding="utf-8"))["chords"]
    found = {}
    for chord, usual in chords.items():
        texts = [one.voicing.frets_text for one in suggest_voicings(chord, limit=3).voicings]
        found[chord] = min((texts.index(one) for one in usual if one in texts), default=99)
    return found


@pytest.mark.parametrize("name", LISTS)
def test_a_usual_shape_is_the_first_or_among_the_first_three(name: str) -> None:
    """The first for 90 chords of 100, among three for 95."""
    found = places(name)
    missing = [chord for chord, place in found.items() if place > 2]
    assert len(missing) <= 0.05 * len(found), missing
    later = [chord for chord, place in found.items() if place > 0]
    assert len(later) <= 0.1 * len(found), later


def first(chord: str, head: str) -> str:
    """Return the first suggestion for a lesson with a heading."""
    lesson = loads(f'lesson "Shapes"\n{head}')
    return suggest_voicings(chord, lesson, limit=1).voicings[0].voicing.frets_text


@pytest.mark.parametrize(
    ("chord", "frets"),
    [("C", "0003"), ("D", "2220"), ("G", "0232"), ("F", "2010"), ("Am", "2000"), ("Dm", "2210"),
     ("Em", "0432"), ("A", "2100"), ("G7", "0212"), ("C7", "0001"), ("Bb", "3211"), ("Bm", "4222"),
     ("D7", "2223"), ("A7", "0100"), ("E7", "1202"), ("Gm", "0231"), ("Cm", "0333"), ("Fm", "1013"),
     ("Eb", "0331"), ("Am7", "0000"), ("F#m", "2120"), ("B7", "2322"), ("F7", "2310"), ("Gm7", "0211"),
     ("Cmaj7", "0002"), ("Dm7", "2213")],
)  # fmt: skip
@pytest.mark.parametrize("tuning", ["ukulele", "ukulele low G"])
def test_ukuleles_have_their_own(chord: str, frets: str, tuning: str) -> None:
    """A high string 4 has no bass, so the root may be anywhere (common practice, no source)."""
    assert first(chord, f"  tuning {tuning}\n") == frets


def test_nothing_is_an_inversion_on_a_high_string_4() -> None:
    """F 2010 has A and C below its F: there is no bass to be wrong."""
    lesson = loads('lesson "Four"\n  tuning ukulele\n')
    assert not any(one.fit.inverted for one in suggest_voicings("F", lesson).voicings)


@pytest.mark.parametrize(
    ("chord", "frets"), [("F", "xx3211"), ("Bb", "xx3331"), ("Bm", "xx4432"), ("Fm", "xx3111")]
)
def test_a_beginner_gets_the_easier_part_first(chord: str, frets: str) -> None:
    """Others get the whole chord first; the part of it stays in the list for them."""
    assert first(chord, "  level beginner\n") == frets
    texts = [one.voicing.frets_text for one in suggest_voicings(chord).voicings]
    assert frets in texts[1:3]


def test_names_of_a_guitar_tuned_down_are_those_of_the_lesson() -> None:
    """Where the lesson calls 022100 E though it sounds Eb, C is x32010 too."""
    head = 'lesson "Down"\n  tuning half step down\n'
    body = "voicings\n  E  022100\n"
    for text, frets in ((head + body, "x32010"), (head + body.replace("E ", "Eb"), "x46664")):
        found = suggest_voicings("C", loads(text)).voicings
        assert frets in [one.voicing.frets_text for one in found]


@pytest.mark.parametrize("kind", ["7#9", "7b9", "aug", "7#5", "m7b5", "maj7#11", "6/9", "13"])
@pytest.mark.parametrize("root", ["C", "E", "G", "Bb"])
def test_nothing_that_nobody_teaches_comes_first(root: str, kind: str) -> None:
    """No high frets among open strings, as in 050004, and no three strings far up the neck (from memory)."""
    best = suggest_voicings(root + kind, limit=1).voicings[0].voicing
    held = [fret for fret in best.frets if fret]
    assert not (0 in best.frets and max(held) > 4)
    assert sum(fret is not None for fret in best.frets) > 3


def test_frets_that_the_body_hides_come_last() -> None:
    """With the capo at 7, a shape from fret 8 on would lie over the body of a classical guitar."""
    head = "  instrument classical\n  capo 7\n"
    lesson = loads(f'lesson "High"\n{head}')
    free = 12 - expand(lesson).settings.capo.fret
    found = suggest_voicings("C", lesson, limit=4).voicings
    assert all(max(fret or 0 for fret in one.voicing.frets) <= free for one in found)
