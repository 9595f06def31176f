"""Guitars tuned down as a whole, where names may follow the shapes or the sound."""

from __future__ import annotations

import pytest

from fretloom.api import check, expand, loads
from fretloom.trade.guitar.tunings import parse_tuning, tuning_shift

LESSON = """lesson "Two cups"
  tuning {tuning}

voicings
  {voicing}

patterns
  plain  p , m , p , m

section t  using plain
  {name} | {name}
"""


def bass(tuning: str, voicing: str) -> tuple[int, ...]:
    name = voicing.split(maxsplit=1)[0]
    text = LESSON.format(tuning=tuning, voicing=voicing, name=name)
    return expand(loads(text)).voicings[name].bass


@pytest.mark.parametrize("voicing", ["E 022100", "A x02220", "D xx0232", "B7 x21202  hop 2 to 6@2"])
def test_names_of_shapes_give_the_usual_walk(voicing):
    """The walk over a shape is the same a half or a whole step down (the strings stay, the notes move)."""
    usual = bass("standard", voicing)
    assert bass("half step down", voicing) == usual
    assert bass("whole step down", voicing) == usual


def test_names_of_sounds_give_the_same_walk():
    """E's shape half a step down called Eb is walked like E."""
    assert bass("half step down", "Eb 022100") == bass("standard", "E 022100")
    assert bass("baritone", "B 022100") == bass("standard", "E 022100")


@pytest.mark.parametrize(
    ("tuning", "shift"),
    [("standard", 0), ("half step down", -1), ("whole step down", -2), ("half step up", 1),
     ("baritone", -5), ("drop D", 0), ("DADGAD", 0), ("7-string", 0), ("ukulele", 0)],
)  # fmt: skip
def test_shift_of_all_strings(tuning, shift):
    """Only tunings moved as a whole are shifted (arithmetic)."""
    assert tuning_shift(parse_tuning(tuning)) == shift


def names_found(*voicings: str, keys: str = "") -> list[str]:
    """Messages about names under a capo at 2 on strings 5 4 3 (so the strings sound E B E A B E)."""
    lines = "".join(f"  {line}\n" for line in voicings)
    bars = " | ".join(line.split()[0] for line in voicings)
    text = (
        f'lesson "Two cups"\n  capo 2 on 5 4 3\n{keys}\nvoicings\n{lines}\npatterns\n  plain  p , m , p , m\n'
        f"\nsection t  using plain\n  {bars}\n"
    )
    found = [one for one in check(loads(text)) if one.rule == "name-does-not-sound"]
    return [f"{one.message} / {one.hint}" for one in found]


@pytest.mark.parametrize("voicing", ["Esus4 000000", "E5 000x00", "A/E 020020", "E 004x00"])
def test_a_partial_capo_leaves_names_to_what_sounds(voicing):
    """However many other names follow their shapes (arithmetic)."""
    found = names_found("D xx0232", "Em 022000", "G 320003", "Am x02210", voicing)
    assert not any(one.startswith(voicing.split()[0] + ":") for one in found)


def test_names_counted_from_the_nut_are_declared_by_two_keys():
    """`D xx0232` sounds E B C# F# there (arithmetic); the hint says how to declare it."""
    keys = "  plays in D\n  sounds in E\n"
    assert names_found("D xx0232", "Em 022000", keys=keys) == []
    (found, _) = names_found("D xx0232", "Em 022000")
    assert "under a capo on some strings a name means what sounds" in found
    assert "plays in D and sounds in E" in found
    for same in ("  plays in E\n  sounds in E\n", "  plays in D\n"):
        assert len(names_found("D xx0232", "Em 022000", keys=same)) == 2
