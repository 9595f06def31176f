"""For which level a lesson is."""

from __future__ import annotations

from fractions import Fraction

import pytest
from places import EXAMPLES

import fretloom
from fretloom.arranging.easing.fits import LevelFits, levels_of, slower
from fretloom.trade.music.tempo import Tempo

TUNE = """lesson "Two cups"
  tempo {tempo}

voicings
  {voicings}

patterns
  plain  {pattern}

section verse  using plain
  {bars}
"""


def levels(
    voicings: str = "C  x32010", pattern: str = "p , p , p , p", bars: str = "C", tempo: str = "80"
) -> LevelFits:
    """Return for which levels a small lesson is."""
    text = TUNE.format(voicings=voicings, pattern=pattern, bars=bars, tempo=tempo)
    return levels_of(fretloom.expand(fretloom.loads(text)))


def beyond(found: LevelFits, level: int = 0) -> list[tuple[str, tuple[str, ...]]]:
    """Return the voicings beyond a level, and why."""
    return [(one.held.voicing.name, one.reasons) for one in found.levels[level].voicings]


@pytest.mark.parametrize(
    ("voicing", "reasons"),
    [
        ("F  133211", ("barre", "effort")),
        ("G  355433", ("barre", "effort")),
        ("F  1x3211  fingers T.3211", ("thumb",)),
        ("B7  x21202  fingers .213.4  bass 5 4 6 4  hop 2 to 6@2", ("hop",)),
        ("Am9  x02413", ("effort",)),
    ],
)
def test_what_teachers_keep_from_beginners(voicing: str, reasons: tuple[str, ...]) -> None:
    """Wide barres, the thumb over the neck, hops and wide stretches (common practice, no source)."""
    name = voicing.split(maxsplit=1)[0]
    found = levels(voicing, bars=name)
    assert [(one, set(why) & set(reasons)) for one, why in beyond(found)] == [(name, set(reasons))]
    assert not found.levels[2].voicings


@pytest.mark.parametrize(
    "voicing",
    ["C  x32010", "G  320003", "D  xx0232", "Am  x02210", "Em  022000", "E  022100", "A  x02220",
     "Dm  xx0231", "B7  x21202", "F  xx3211", "Fmaj7  xx3210", "C/G  332010"],
)  # fmt: skip
def test_what_beginners_learn_first_is_within_their_level(voicing: str) -> None:
    """The open chords of every method, and the small F (common practice, no source)."""
    assert levels(voicing, bars=voicing.split(maxsplit=1)[0]).levels[0].fits


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.lesson")), ids=lambda one: one.stem)
def test_an_example_is_for_the_level_that_its_author_wrote_it_for(example: object) -> None:
    """Nothing in it is beyond that, at its tempo."""
    timeline = fretloom.expand(fretloom.load(str(example)))
    fits = {one.level: one.fits for one in levels_of(timeline).levels}
    assert fits[timeline.settings.level]


def test_a_barre_of_four_strings_is_too_wide_for_a_beginner_and_one_of_three_is_not() -> None:
    """The small form keeps the index finger on three strings."""
    assert beyond(levels("Gm  xx5333", bars="Gm")) == []
    assert beyond(levels("A6  x02222  fingers ..1111", bars="A6")) == [("A6", ("barre",))]


@pytest.mark.parametrize(
    ("pattern", "reasons"),
    [
        ("p , p m , p i , p", []),
        ("p , p m , p i , p m", [("between",)]),
        ("p+m , p i , p+m , p", []),
        ("p+m , p i , p+m , p m", [("between",)]),
        ("p , m i , m , m i", []),
        ("p i m i , p , p , p", [("pace", "between")]),
    ],
)
def test_plucks_between_the_counts_of_a_walking_thumb(
    pattern: str, reasons: list[tuple[str, ...]]
) -> None:
    """Two are within a beginner's level, with pinches three; where the thumb does not walk, any number is."""
    found = levels(pattern=pattern, tempo="80")
    assert [one.reasons for one in found.levels[0].picking] == reasons
    assert found.levels[2].fits


def test_the_tempo_named_is_the_fastest_that_is_slow_enough() -> None:
    """Eighths at 150 are 0.2 s apart; at 100 they are 0.3, the least for a beginner."""
    found = levels(pattern="p , m i , m , m", tempo="150").levels[0]
    assert [one.reasons for one in found.picking] == [("pace",)]
    assert found.tempo == Tempo(Fraction(100))
    assert found.slow_enough
    assert levels(pattern="p , m i , m , m", tempo="100").levels[0].fits


def test_a_change_too_fast_for_a_level_is_named_with_the_tempo_that_helps() -> None:
    """The same measure as of the check, so that there the check finds nothing."""
    text = {"voicings": "F  133211\n  G  320003", "bars": "F G | F G"}
    found = levels(**text, tempo="120").levels[0]
    assert ("F", "G") in [(one.before, one.after) for one in found.changes]
    assert found.tempo is not None
    slow = TUNE.format(**text, pattern="p , p , p , p", tempo=found.tempo.per_minute)
    lesson = fretloom.loads(slow.replace("tempo", "level beginner\n  tempo"))
    assert "change-too-fast" not in {one.rule for one in fretloom.check(lesson)}


def test_no_tempo_below_forty_is_named() -> None:
    """Slower is no tempo to play a song at."""
    assert slower(Tempo(Fraction(80)), 0.5) == Tempo(Fraction(40))
    assert slower(Tempo(Fraction(80)), 0.49) is None


def test_the_first_level_that_a_lesson_is_for() -> None:
    """Beginners, or the next who can play it."""
    assert levels().first == levels().levels[0]
    found = levels("F  133211", bars="F").first
    assert found is not None
    assert found.level == "intermediate"
