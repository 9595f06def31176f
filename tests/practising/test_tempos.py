"""PracticeTempos: ladders of even steps, the beat that is counted, and where a piece is at ease."""

from __future__ import annotations

import itertools
from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st
from practice_lessons import TUNE, path, reading

from fretloom.notation.model.step import Show
from fretloom.practising.pieces import Repertory
from fretloom.practising.tempos import AT_EASE, LEAST_STEP, SLOWEST, Comfort, counted_unit, ladder


@pytest.mark.parametrize(
    ("start", "goal", "steps", "found"),
    [
        (60, 96, 4, [60, 72, 84, 96]),  # the ladder of the design
        (60, 96, 3, [60, 78, 96]),
        (60, 66, 5, [60, 63, 66]),  # steps too small to notice are left out
        (60, 62, 4, [60, 62]),
        (84, 84, 4, [84]),
    ],
)
def test_a_ladder_goes_up_in_even_steps(start, goal, steps, found) -> None:
    assert list(ladder(F(start), F(goal), steps)) == found


@given(st.integers(10, 400), st.integers(0, 390), st.integers(3, 5))
def test_ladders_rise_evenly_from_start_to_goal(start: int, way: int, steps: int) -> None:
    """Steps differ by one beat a minute at the most, and are not smaller than can be heard."""
    found = ladder(F(start), F(start + way), steps)
    assert (found[0], found[-1]) == (start, start + way)
    assert len(found) <= steps
    gaps = [later - one for one, later in itertools.pairwise(found)]
    assert all(gap > 0 for gap in gaps)
    if gaps:
        assert max(gaps) - min(gaps) <= 1
        assert len(gaps) == 1 or min(gaps) >= LEAST_STEP


@pytest.mark.parametrize(
    ("heading", "unit"),
    [
        ("meter 4/4", F(1)),
        ("meter 6/8\n  tempo 66 to 3/8", F(3, 2)),
        ("meter 6/8\n  tempo 99", F(3, 2)),  # whoever counts six taps two
        ("meter 2/2\n  tempo 120", F(2)),
        ("meter 2+2+3/8\n  tempo 100", F(1)),  # its beats are not alike
    ],
)
def test_tempos_are_in_the_beat_that_is_counted(heading: str, unit: F) -> None:
    text = f'lesson "Tea"\n  {heading}\n\nsection verse\n  R\n'
    assert counted_unit(reading(text).timeline.settings) == unit


def _pieces(text: str = TUNE, level: str = "intermediate") -> Repertory:
    return Repertory(reading(text), level, 4)


def test_the_slowest_demand_sets_the_pace() -> None:
    """Of the picking and of the changes."""
    assert Comfort(90, 200).slower(Comfort(100, 180)) == Comfort(90, 180)
    whole = _pieces().of(Show(kind="form"))
    verse = _pieces().of(Show(kind="section", name="verse"))
    assert whole is not None
    assert verse is not None
    assert whole.pace.ease <= verse.pace.ease


def test_one_finger_on_eighths_is_at_ease_up_to_120() -> None:
    """Two plucks of a finger within 0.25 s are the limit for an untrained one (see `picking`)."""
    text = TUNE.replace("p , p m , p i , p m", "p , i i , i i , i i")
    piece = _pieces(text).of(Show(kind="pattern", name="plain", over="Am"))
    assert piece is not None
    assert piece.pace.ease == pytest.approx(120)


def test_a_change_by_itself_has_a_beat() -> None:
    """One that the song does not make: its time, by what is at ease."""
    pieces = _pieces()
    piece = pieces.of(Show(kind="change", name="Am", over="F"))
    made = pieces.tempi.change(pieces.voicing("Am"), pieces.voicing("F"))
    assert piece is not None
    assert made is not None
    assert piece.pace.ease == pytest.approx(60 * AT_EASE / made.time)


def test_a_beginner_begins_slower() -> None:
    """And breaks sooner."""
    paces = [
        _pieces(level=level).of(Show(kind="section", name="verse")).pace  # type: ignore[union-attr]
        for level in ("beginner", "intermediate", "advanced")
    ]
    assert [one.ease for one in paces] == sorted(one.ease for one in paces)
    assert [one.breaks for one in paces] == sorted(one.breaks for one in paces)
    assert paces[0].ease < paces[2].ease


def test_nothing_begins_slower_than_a_metronome_or_faster_than_seven_tenths() -> None:
    """Whatever the hands need; and never above the goal."""
    tempi = _pieces().tempi
    assert tempi.tempos(Comfort(ease=10), F(96)).start >= SLOWEST
    assert tempi.tempos(Comfort(ease=10), F(30)).start == 30
    easy = tempi.tempos(Comfort(), F(100))
    assert (easy.start, easy.goal, easy.ease, easy.breaks) == (70, 100, None, None)
    assert tempi.tempos(Comfort(ease=57.9), F(96)).start == 57


def test_a_teachers_start_is_kept() -> None:
    """Also where it is not at ease."""
    found = _pieces().tempi.tempos(Comfort(ease=40), F(96), F(80))
    assert (found.start, found.goal) == (80, 96)


def test_tempos_of_a_path_are_in_dotted_quarters_in_six_eight() -> None:
    """What is shown stays in quarter notes, as the teacher's own steps are."""
    text = TUNE.replace("4/4", "6/8").replace("tempo 96", "tempo 60 to 3/8")
    text = text.replace("p , p m , p i , p m", "p m i , p m i").replace(
        "p+m , p i , p+m , p i", "p+m , p"
    )
    part = next(part for step in path(text).steps for part in step.parts if part.tempos)
    assert part.tempos is not None
    assert part.tempos.goal == 60
    assert part.show.goal == 90


def test_a_pattern_is_at_ease_over_its_seam_too() -> None:
    """The ring finger ends it and begins it again: 0.28 s within half a beat (see `picking`)."""
    text = TUNE.replace("p , p m , p i , p m", "a1 i , m i , m i , m a1")
    piece = _pieces(text).of(Show(kind="pattern", name="plain", over="Am"))
    assert piece is not None
    assert piece.pace.ease == pytest.approx(60 / 0.28 / 2)


def test_a_finger_that_hops_far_sets_the_pace() -> None:
    """From string 5 to string 1 and back takes longer than any pluck of it."""
    text = TUNE.replace("p , p m , p i , p m", "p5 a1 , - , p5 a1 , -")
    plain = _pieces(text).of(Show(kind="pattern", name="plain", over="C"))
    hopping = text.replace(
        "fingers .32.1.  bass 5 4 5 4", "fingers .32.1.  bass 5 4 5 4  hop 3 to 1@3"
    )
    far = _pieces(hopping).of(Show(kind="pattern", name="plain", over="C"))
    assert plain is not None
    assert far is not None
    assert far.pace.ease < plain.pace.ease / 2


def test_the_goal_is_the_tempo_of_the_first_playing() -> None:
    text = TUNE.replace("form\n  verse\n", "form\n  verse\n  verse\n    but tempo 120\n")
    piece = _pieces(text).of(Show(kind="section", name="verse"))
    assert piece is not None
    assert piece.goal == 96


def test_bars_that_come_again_are_not_joined_to_themselves() -> None:
    """Bars 1 and 2 are played twice, but never one time right after the other."""
    text = TUNE.replace("Am | C | F | C", "repeat 2\n    Am | C | F | F\n  end")
    piece = _pieces(text).of(Show(kind="bars", name="verse", first=1, last=2))
    assert piece is not None
    assert [one.words for one in piece.asks if one.kind == "change"] == ["Am to C"]
