"""What a level says: what its players cannot do, and no more (common practice, no source)."""

from __future__ import annotations

import pytest
from rule_lessons import findings

PATTERNS = {
    "plain": "p , p m , p i , p m",
    "arpeggio": "p i , m a , m i , m i",
    "semiquavers": "p i m i , a m i m , p i m i , a m i m",
    "crotchets": "p , i , m , a",
    "thumb": "p p , p p , p p , p p",
}
#: What depends on how fast a hand is.
PACE = {"change-too-fast", "pick-rate", "pick-rate-all", "pick-repeat", "hop-too-fast"}


def _said(level: str, tempo: int, pattern: str, bars: str) -> set[str]:
    """Return the rules about pace that find something."""
    text = f"""lesson "Grid"
  level {level}
  tempo {tempo}

voicings
  C   x32010  fingers .32.1.
  G   320003  fingers 21...3
  D   xx0232  fingers ...132
  Dm  xx0231  fingers ...231
  Am  x02210  fingers ..231.
  Em  022000  fingers .23...
  F   133211  fingers 134211
  Bm  x24432  fingers .13421

patterns
  grid  {PATTERNS[pattern]}

section tune  using grid
  {bars}
"""
    return {one.rule for one in findings(text)} & PACE


@pytest.mark.parametrize(
    ("tempo", "pattern", "bars", "rule"),
    [
        (220, "plain", "G | F | G | F", "change-too-fast"),
        (160, "plain", "G | F | G | F", "change-too-fast"),
        (220, "plain", "G | C | G | C", "change-too-fast"),
        (150, "semiquavers", "Em", "pick-rate-all"),
        (100, "semiquavers", "Em", "pick-rate-all"),
        (80, "crotchets", "C F Bm F", "change-too-fast"),
        (80, "crotchets", "C Am Dm G", "change-too-fast"),
        (120, "plain", "C G | D G", "change-too-fast"),
        (120, "plain", "C F | Am F", "change-too-fast"),
        (120, "arpeggio", "C | Am | C | Am", "change-too-fast"),
        (120, "thumb", "C", "pick-repeat"),
    ],
)
def test_what_beginners_cannot_do(tempo: int, pattern: str, bars: str, rule: str) -> None:
    """Fast changes, changes on every beat, barres in a hurry, fast plucks: a beginner's lesson says so."""
    assert rule in _said("beginner", tempo, pattern, bars)


@pytest.mark.parametrize(
    ("tempo", "pattern", "bars"),
    [
        (80, "plain", "G | C | G | C"),
        (120, "plain", "G | C | G | C"),
        (100, "arpeggio", "C | Am | C | Am"),
        (100, "arpeggio", "G | D | Em | C"),
        (80, "semiquavers", "Em"),
        (50, "crotchets", "C Am Dm G"),
        (70, "plain", "C G | D G"),
        (80, "plain", "G | F | G | F"),
        (140, "plain", "Em | Am"),
        (70, "thumb", "C | G"),
    ],
)
def test_what_beginners_can_learn(tempo: int, pattern: str, bars: str) -> None:
    """Nothing is said of what a beginner plays after a few weeks."""
    assert _said("beginner", tempo, pattern, bars) == set()


@pytest.mark.parametrize("bars", ["G | F | G | F", "C G | D G", "C | Am | C | Am"])
def test_others_can_do_more(bars: str) -> None:
    """At a tempo of 120 these are ordinary for players of the other levels."""
    assert _said("intermediate", 120, "plain", bars) == set()
    assert _said("advanced", 160, "plain", bars) == set()


def test_nobody_is_refused_for_how_often_the_hand_changes() -> None:
    """A chord on every beat at 160 is too fast for most, which is a warning and no error."""
    text = """lesson "Beats"
  tempo 160

voicings
  C   x32010  fingers .32.1.
  F   133211  fingers 134211
  Bm  x24432  fingers .13421

patterns
  plain  p , i , m , a

section tune  using plain
  C F Bm F
"""
    found = [one for one in findings(text) if one.rule == "change-too-fast"]
    assert found
    assert {one.severity.value for one in found} == {"warning"}


def _barre(level: str, frets: str, fingers: str) -> list[str]:
    text = f"""lesson "Barre"
  level {level}
  tempo 60

voicings
  F   {frets}  fingers {fingers}
  Bm  x24432  fingers .13421

patterns
  plain  p , p m , p i , p m

section tune  using plain
  F | Bm | F
"""
    return [one.message for one in findings(text) if one.rule == "beginner-barre"]


def test_the_first_full_barre_is_said_once() -> None:
    """A beginner's lesson gets one remark, other lessons none."""
    said = ["F is a full barre, the first in a lesson for beginners"]
    assert _barre("beginner", "133211", "134211") == said
    assert _barre("intermediate", "133211", "134211") == []


def test_the_thumb_over_the_neck_counts_as_a_barre() -> None:
    """Both take strength and a turn of the wrist."""
    said = ["F takes the thumb over the neck, the first in a lesson for beginners"]
    assert _barre("beginner", "1x3211", "T.3211") == said


def test_a_small_barre_needs_no_word() -> None:
    """Two strings lie under the tip; the first remark is about B minor."""
    said = ["Bm is a full barre, the first in a lesson for beginners"]
    assert _barre("beginner", "xx3211", "..3211") == said
