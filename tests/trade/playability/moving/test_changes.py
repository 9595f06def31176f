"""Changes from one voicing to the next: what fingers do, how long it takes, and the time there is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from voicing_table import hand, shape, table

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.moving.changes import change
from fretloom.trade.playability.moving.haste import Times, haste
from fretloom.trade.playability.moving.skills import (
    ADVANCED,
    BEGINNER,
    INTERMEDIATE,
    level_of,
    movement_time,
)
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import Fretted
from fretloom.trade.playability.solver import fingerings

NECK = Neck()


def _held(frets: str, fingers: str) -> Fretted:
    return Fretted(shape(frets), hand(fingers))


C = _held("x32010", ".32.1.")
AM = _held("x02210", "..231.")
E = _held("022100", ".231..")
D = _held("xx0232", "...132")
A = _held("x02220", "..123.")
F = _held("133211", "134211")
F_HIGHER = _held("355433", "134211")
BM = _held("x24432", ".13421")
G_324 = _held("320003", "32...4")
G_213 = _held("320003", "21...3")


def test_c_to_a_minor_keeps_two_fingers() -> None:
    """Fingers 1 and 2 stay, 3 moves (course pages on pivot fingers)."""
    made = change(NECK, C, AM)
    assert made.of_kind("anchor") == ("1", "2")
    assert made.of_kind("move") == ("3",)


def test_g_with_fingers_3_2_4_moves_to_c_as_a_block() -> None:
    """Fingers 3 and 2 shift by one string together, 1 is put down, 4 lifts (page "A Better Way To Play the G Major Chord")."""
    made = change(NECK, G_324, C)
    assert made.of_kind("move") == ("2", "3")
    assert made.of_kind("place") == ("1",)
    assert made.of_kind("lift") == ("4",)
    assert made.groups == 2


def test_g_with_fingers_2_1_3_moves_every_finger() -> None:
    """All three move, so the other fingering is the better one before C."""
    made = change(NECK, G_213, C)
    assert made.of_kind("move") == ("1", "2", "3")
    assert made.time > change(NECK, G_324, C).time


def test_a_barre_slides_up_as_one() -> None:
    """A whole shape moved along the neck is guides only, one group, and forms no barre."""
    made = change(NECK, F, F_HIGHER)
    assert made.of_kind("guide") == ("1", "2", "3", "4")
    assert (made.groups, made.barre) == (1, False)


def test_a_finger_is_guided_a_few_frets_only() -> None:
    """Six frets along the string are a jump, for which the hand has to aim."""
    low, near, far = (_held(f"x{fret}xxxx", ".1....") for fret in ("1", "6", "7"))
    guided, jumped = change(NECK, low, near).moves[0], change(NECK, low, far).moves[0]
    assert (guided.kind, jumped.kind) == ("guide", "guide")
    assert jumped.time == pytest.approx(movement_time(jumped.distance, 8, INTERMEDIATE))
    assert guided.time < jumped.time * 0.6


def test_forming_a_barre_is_said() -> None:
    """From C to F the first finger lies down over six strings."""
    made = change(NECK, C, F)
    assert made.barre
    assert made.of_kind("extend") == ("1",)


def test_leaving_a_barre_turns_the_hand_back() -> None:
    """From F to C the index finger stays with its tip; what takes time is the hand behind it."""
    made = change(NECK, F, C)
    assert made.turning == pytest.approx(INTERMEDIATE.turning)
    assert change(NECK, F, F_HIGHER).turning == 0
    assert change(NECK, BM, F).turning == 0


def test_leaving_a_small_barre_turns_the_hand_half_as_far() -> None:
    """Two strings lie under the tip of the finger."""
    small = _held("xx3211", "..3211")
    assert change(NECK, small, C).turning == pytest.approx(INTERMEDIATE.turning / 2)


def test_only_what_is_put_down_anew_has_to_settle() -> None:
    """A minor and A minor seventh: nothing new; from C one of three fingers, from D all three."""
    alone = change(NECK, D, C).settling
    assert change(NECK, AM, _held("x02010", "..2.1.")).settling == 0
    assert 0 < change(NECK, AM, C).settling == pytest.approx(alone / 3)


def test_difficulty_has_five_degrees() -> None:
    """The limits of the degrees belong to the lower one."""
    assert [level_of(time) for time in (0, 0.30, 0.31, 0.60, 0.61, 0.90, 0.91, 1.20, 1.21)] == [
        1, 1, 2, 2, 3, 3, 4, 4, 5
    ]  # fmt: skip


def test_movement_time_follows_the_published_law() -> None:
    """b times log2(2D/W): doubling the distance adds one bit (Fitts 1954); at least half a bit."""
    near, far = movement_time(32, 8, INTERMEDIATE), movement_time(64, 8, INTERMEDIATE)
    assert near == pytest.approx(3 * 0.144)
    assert far - near == pytest.approx(0.144)
    assert movement_time(0, 8, ADVANCED) == pytest.approx(0.05)


def test_a_finger_needed_late_may_come_late() -> None:
    """Time runs from the finger's own last pluck to its own first one."""
    made = change(NECK, C, AM)
    late = haste(made, Times({"1": 0, "2": 0, "3": 1.0}, {"1": 1.1, "2": 1.1, "3": 3.0}))
    early = haste(made, Times({"1": 0, "2": 0, "3": 1.0}, {"1": 1.1, "2": 1.1, "3": 1.2}))
    assert late is not None
    assert early is not None
    assert late.ratio < 0.5 < 1 < early.ratio
    assert early.finger == "3"


def test_the_finger_most_pressed_is_said() -> None:
    """D to A: finger 3 is the last to be free and the first to be needed."""
    made = change(NECK, D, A)
    pressed = haste(made, Times({"1": 0, "2": 0, "3": 2.0}, {"1": 5.0, "2": 5.0, "3": 2.1}))
    assert pressed is not None
    assert pressed.finger == "3"
    assert pressed.available == pytest.approx(0.1)


def test_a_barre_waits_for_the_last_note_under_it() -> None:
    """The index finger is free early, but what it would lie on still sounds until 2 s."""
    made = change(NECK, C, F)
    pressed = haste(made, Times({"1": 0, "2": 2.0, "3": 0}, {"1": 2.1}))
    assert pressed is not None
    assert (pressed.finger, pressed.available) == ("1", pytest.approx(0.1))


def test_no_time_at_all() -> None:
    """A finger that still sounds the voicing before has no time: the ratio is infinite."""
    pressed = haste(change(NECK, C, AM), Times({"3": 2.0}, {"3": 2.0}))
    assert pressed is not None
    assert pressed.ratio == float("inf")


VOICINGS = [row for row in table() if row.well_formed and any(row.fingers)]
FRETTED = st.sampled_from(VOICINGS).map(lambda row: Fretted(row.frets, row.fingers))
TIMES = st.lists(st.floats(0, 2), min_size=8, max_size=8)


@given(FRETTED)
def test_staying_takes_no_time(voicing) -> None:
    """From a voicing to itself nothing moves."""
    made = change(NECK, voicing, voicing)
    assert made.time == 0
    assert not any(move.moves for move in made.moves)


@given(FRETTED, FRETTED)
def test_more_skill_never_takes_longer(before, after) -> None:
    """An advanced player is at least as fast as an intermediate one, who is at least as fast as a beginner."""
    times = [
        change(NECK, before, after, skill).time for skill in (ADVANCED, INTERMEDIATE, BEGINNER)
    ]
    assert times == sorted(times)


@given(FRETTED, FRETTED)
def test_a_mirrored_player_needs_the_same_time(before, after) -> None:
    """Strung the other way round, changes are the same."""
    assert change(Neck(mirrored=True), before, after).time == pytest.approx(
        change(NECK, before, after).time
    )


@given(FRETTED, FRETTED, TIMES)
def test_halving_the_tempo_halves_the_haste(before, after, times) -> None:
    """With twice the time a change is half as pressed, so no finding is added."""
    made = change(NECK, before, after)
    freed = dict(zip("1234", times[:4], strict=True))
    needed = dict(zip("1234", (2.5 + time for time in times[4:]), strict=True))
    fast = haste(made, Times(freed, needed))
    slow = haste(
        made,
        Times(
            {finger: 2 * time for finger, time in freed.items()},
            {finger: 2 * time for finger, time in needed.items()},
        ),
    )
    if fast is None:
        assert slow is None
    else:
        assert slow is not None
        assert slow.ratio == pytest.approx(fast.ratio / 2)


def test_the_solver_and_changes_agree_on_fingers() -> None:
    """What the solver returns can be changed to."""
    best = fingerings(C.frets, NECK, Hand())[0]
    assert change(NECK, AM, Fretted(C.frets, best.fingers)).of_kind("anchor") == ("1", "2")
