"""Easier shapes: sound, easier, and known to the trade."""

from __future__ import annotations

from functools import cache

import pytest
from voicing_table import shape, table

import fretloom
from fretloom.answers import ShapeEased
from fretloom.arranging.easing.levels import REACHES
from fretloom.performance.sounding.strings import fingered
from fretloom.trade.guitar.common_shapes import every_shape
from fretloom.trade.harmony.symbol import parse_symbol

TUNE = """lesson "Two cups"
  tempo 60
  {head}

voicings
  {voicings}

patterns
  plain  {pattern}

section verse  using plain
  {bars}
"""
#: Chords that beginners meet as barres, with the form of the barre that methods give (common practice).
BARRES = (
    "F 133211", "F#m 244222", "G 355433", "G#m 466444", "A 577655", "Bb x13331", "Bm x24432", "B x24442",
    "C#m x46654", "Cm x35543", "Eb x68886", "Gm 355333", "Fm 133111", "Ab 466544", "F#7 242322", "Bm7 x24232",
    "Gm7 353333", "F#m7 242222", "B7 x24242", "Bbm x13321", "Dbmaj7 x46564", "Ebm x68876",
)  # fmt: skip


def eased(
    voicings: str,
    bars: str,
    *,
    level: str = "beginner",
    pattern: str = "p , p i , p m , p",
    head: str = "",
) -> fretloom.Eased:
    """Return what comes of easing a small lesson."""
    text = TUNE.format(head=head, voicings=voicings, pattern=pattern, bars=bars)
    return fretloom.ease(fretloom.loads(text), level=level, based_on="first.lesson")


@cache
def of_barre(barre: str) -> ShapeEased:
    """Return the easier shape of a barre chord, for a pattern on strings 3 and 2."""
    name, frets = barre.split()
    (one,) = eased(f"{name}  {frets}", name).shapes
    return one


@pytest.mark.parametrize("barre", BARRES)
def test_every_common_barre_has_an_easier_shape_within_the_level(barre: str) -> None:
    """Of a beginner: no wide barre, no thumb, less effort than before."""
    one, reach = of_barre(barre), REACHES["beginner"]
    assert all(width <= reach.barre for _, width in one.effort_after.barres)
    assert one.effort_after.points <= min(reach.points, one.effort_before.points)
    assert "T" not in one.after.fingers
    assert one.after.bass


@pytest.mark.parametrize("barre", BARRES)
def test_an_easier_shape_sounds_the_tones_without_which_its_name_is_wrong(barre: str) -> None:
    """Root and third among them; a near chord has the root of the old one."""
    one = of_barre(barre)
    settings = fretloom.expand(fretloom.loads('lesson "x"\n')).settings
    symbol = parse_symbol(one.after.symbol)
    heard = {
        fingered(settings, 6 - at, fret) % 12
        for at, fret in enumerate(one.after.frets)
        if fret is not None
    }
    root = parse_symbol(one.before.symbol).root.pitch_class
    assert {note.pitch_class for note in symbol.essential} <= heard <= set(symbol.pitch_classes)
    assert symbol.root.pitch_class == root
    assert one.kind == "near" or one.after.symbol == one.before.symbol


@pytest.mark.parametrize("barre", BARRES)
def test_an_easier_shape_is_one_that_is_taught(barre: str) -> None:
    """It is in the published table of voicings (npm @tombatossals/chords-db 0.5.1), or part of one, or in our own.

    A part has the same frets on the strings that it plays.
    """
    frets = of_barre(barre).after.frets
    known = {row.frets for row in table()} | {one[-1] for one in every_shape()}
    assert any(
        len(other) == len(frets)
        and all(mine is None or mine == its for mine, its in zip(frets, other, strict=True))
        for other in known
    )


def test_the_small_f_comes_before_another_chord() -> None:
    """It is F still; only its bass is an octave higher."""
    one = of_barre("F 133211")
    assert (one.kind, one.after.frets, one.after.name) == ("smaller", shape("xx3211"), "F")
    assert one.heard.added == one.heard.gone == ()
    assert min(one.heard.bass_after) - min(one.heard.bass_before) == 12


def test_a_near_chord_has_its_own_name_in_every_bar() -> None:
    """With strings 3 to 1 plucked, no form of Bm that is taught keeps its bass: Bm7, and bars and steps say so."""
    found = eased(
        "D  xx0232\n  Bm  x24432",
        'D | Bm | Bm D\nstep "Look"\n  show voicing Bm',
        pattern="p , i , p m , a",
    )
    (one,) = found.shapes
    assert (one.kind, one.after.name, one.after.frets) == ("near", "Bm7", shape("x20202"))
    assert one.heard.added == (9,)
    assert found.lesson is not None
    text = fretloom.dumps(found.lesson)
    assert "D | Bm7 | Bm7 D" in text
    assert "show voicing Bm7" in text
    assert fretloom.check(found.lesson) == []


def test_strings_that_the_fingers_pluck_stay() -> None:
    """A shape without string 1 is no easier form of a song that plucks it."""
    found = eased("B  x24442", "B", pattern="p , a , m , a")
    (one,) = found.shapes
    assert all(one.after.fret(string) is not None for string in (1, 2))


def test_a_hop_is_left_out_and_the_thumb_alternates_on_what_is_held() -> None:
    """The shape is the same."""
    found = eased("B7  x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2", "B7")
    (one,) = found.shapes
    assert (one.kind, one.after.frets, one.after.bass) == ("hop", shape("x21202"), (5, 4, 5, 4))
    assert one.after.hops == ()


def test_the_thumb_over_the_neck_is_for_those_who_have_it() -> None:
    """An intermediate player may be given a form with it, a beginner never."""
    for barre in BARRES:
        name, frets = barre.split()
        found = eased(f"{name}  {frets}", name, level="intermediate")
        for one in found.shapes:
            assert one.kind in ("smaller", "thumb", "near")


def test_a_voicing_without_a_chord_symbol_is_left_and_said() -> None:
    """What it has to sound is not known."""
    found = eased("stack  133211", "stack")
    assert found.shapes == ()
    assert [one.held.voicing.name for one in found.left.voicings] == ["stack"]


def test_voicings_like_a_replaced_one_keep_their_shape() -> None:
    """C was written like F, which is another shape now."""
    found = eased("F  133211\n  C  like F  up 7\n  Dm  xx0231", "F | Dm | Dm", level="beginner")
    assert found.lesson is not None
    assert fretloom.expand(found.lesson).voicings["C"].frets == (8, 10, 10, 9, 8, 8)
