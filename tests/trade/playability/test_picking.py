"""What the picking hand can do, on what is really plucked."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.trade.playability.picking import Plucked, hurry, judge_picking


def _told(*plucks) -> list[tuple[str, str]]:
    notes = [Plucked(*pluck) for pluck in plucks]
    return [(one.rule, one.severity) for one in judge_picking(notes)]


def test_a_pinch_and_a_full_hand_are_ordinary() -> None:
    """Thumb and fingers at one instant, each on its string."""
    assert _told((0, "p", 5), (0, "i", 3), (0, "m", 2), (0, "a", 1)) == []


@pytest.mark.parametrize(
    ("plucks", "rule", "severity"),
    [
        ([(0, "m", 5), (0, "m", 2)], "pick-two-strings", "error"),
        ([(0, "m", 3), (0, "m", 2)], "pick-brush", "error"),
        ([(0, "p", 3), (0, "i", 3)], "pick-same-string", "error"),
        ([(0, "i", 1), (0, "m", 2)], "pick-crossed", "error"),
        ([(0, "p", 2), (0, "i", 3)], "thumb-above", "warning"),
        ([(0, "i", 5), (0, "a", 1)], "pick-spread", "warning"),
    ],
)
def test_what_cannot_be_at_one_instant(plucks, rule, severity) -> None:
    """Each fault is called by its name."""
    assert _told(*plucks) == [(rule, severity)]


@pytest.mark.parametrize(
    ("finger", "gap", "severities"),
    [
        # eighths at 120 are the limit for one finger without a warning, sixteenths at 104 an error
        ("m", 0.250, []),
        ("m", 0.240, ["warning"]),
        ("m", 0.144, ["error"]),
        ("a", 0.250, ["warning"]),
        ("a", 0.160, ["error"]),
    ],
)
def test_one_finger_again(finger, gap, severities) -> None:
    """One finger taps five to seven times a second; the ring finger is slower."""
    assert [severity for _, severity in _told((0, finger, 1), (gap, finger, 1))] == severities


def test_moving_to_another_string_takes_longer() -> None:
    """Every string between adds 0.03 s."""
    assert _told((0, "p", 5), (0.26, "p", 5)) == []
    assert _told((0, "p", 6), (0.26, "p", 4)) == [("pick-repeat", "warning")]


@pytest.mark.parametrize(
    ("gap", "severities"), [(0.125, []), (0.119, ["warning"]), (0.090, ["error"])]
)
def test_two_fingers_in_turn(gap, severities) -> None:
    """Sixteenths at 125 are about the limit for two fingers, at 158 they are out of reach."""
    reported = _told((0, "i", 2), (gap, "m", 2), (2 * gap, "i", 2))
    assert [severity for rule, severity in reported if rule == "pick-rate"] == severities


@pytest.mark.parametrize(("gap", "reported"), [(0.19, True), (0.21, False), (0.29, False)])
def test_crossed_fingers_matter_when_they_are_quick(gap, reported) -> None:
    """Within 0.2 s i and a cannot pass over one another with ease (an assumption)."""
    found = _told((0, "a", 3), (gap, "i", 1))
    assert found == ([("pick-crossed", "warning")] if reported else [])


def test_no_hand_is_faster_than_a_fast_tremolo() -> None:
    """Below 0.075 s nothing helps but a roll."""
    assert ("pick-rate-all", "error") in _told((0, "p", 5), (0.05, "i", 3))
    assert _told((0, "p", 5, 1, False, 0), (0, "i", 3, 1, False, 1), (0, "m", 2, 1, False, 2)) == []


def test_a_brush_over_a_string_that_is_left_out() -> None:
    """One finger over strings 6 and 4 brushes 5 as well."""
    assert _told((0, "p", 6, 1, True, 0), (0, "p", 4, 1, True, 1)) == [("strum-gap", "warning")]


NOTES = st.lists(
    st.tuples(st.integers(0, 40), st.sampled_from("pima"), st.integers(1, 6)), max_size=12
)
GRAVE = {"warning": 1, "error": 2}


@given(NOTES, st.floats(0.03, 0.3))
def test_halving_the_tempo_never_adds_a_finding(notes, unit) -> None:
    """Played half as fast, the same notes give no more findings and none graver."""
    notes = sorted(notes)
    fast = _told(*[(place * unit, finger, string) for place, finger, string in notes])
    slow = _told(*[(2 * place * unit, finger, string) for place, finger, string in notes])
    assert len(slow) <= len(fast)
    assert sum(GRAVE[one] for _, one in slow) <= sum(GRAVE[one] for _, one in fast)


@pytest.mark.parametrize(
    ("level", "again", "turns", "whole"),
    [
        ("beginner", 0.30, 0.156, 0.152),
        ("intermediate", 0.25, 0.12, 0.095),
        ("advanced", 0.225, 0.108, 0.0855),
    ],
)
def test_each_level_has_its_pace(level: str, again: float, turns: float, whole: float) -> None:
    """Seconds below which there is a warning: one finger again, two in turn, any fingers (assumptions)."""

    def warned(rule: str, gap: float, fingers: str) -> bool:
        strings = {"i": 3, "m": 2, "a": 1, "p": 4}
        notes = [Plucked(at * gap, one, strings[one]) for at, one in enumerate(fingers)]
        return any(one.rule == rule for one in judge_picking(notes, level))

    for rule, gap, fingers in (
        ("pick-repeat", again, "ii"),
        ("pick-rate", turns, "imi"),
        ("pick-rate-all", whole, "pima"),
    ):
        assert warned(rule, gap - 0.001, fingers)
        assert not warned(rule, gap + 0.001, fingers)


@pytest.mark.parametrize(
    ("plucks", "ease", "able"),
    [
        ([], 0, 0),
        ([(0, "m", 1)], 0, 0),
        ([(0, "m", 1), (0.5, "m", 1)], 0.5, 0.29),  # one finger again: 0.25 s, and 0.145 s
        ([(0, "p", 6), (0.5, "p", 4)], 0.62, 0.41),  # and 0.03 s for each string between
        ([(0, "p", 5), (0.19, "i", 3)], 0.5, 0.075 / 0.19),  # any fingers: 0.095 s, and 0.075 s
        (
            [(0, "i", 3), (0.2, "m", 2), (0.4, "i", 3)],
            0.625,
            0.475,
        ),  # two in turn: 0.12 s, and 0.095 s
    ],
)
def test_how_pressed_fingers_are(plucks, ease: float, able: float) -> None:
    """The times of the table, by the time there is."""
    found = hurry(Plucked(*pluck) for pluck in plucks)
    assert found == (pytest.approx(ease), pytest.approx(able))


@given(
    st.lists(
        st.tuples(st.integers(1, 40), st.sampled_from("pima"), st.integers(1, 6)),
        min_size=2, max_size=8,
    ),
    st.sampled_from(["beginner", "intermediate", "advanced"]),
)  # fmt: skip
def test_hurry_and_verdicts_agree(steps: list[tuple[int, str, int]], level: str) -> None:
    """A warning of pace is given exactly where fingers are not at ease, an error where they are not able."""
    time, notes = 0.0, []
    for gap, finger, string in steps:
        time += gap / 100
        notes.append(Plucked(time, finger, string))
    ease, able = hurry(notes, level)
    found = [
        one.severity for one in judge_picking(notes, level) if one.rule.startswith(("pick-r",))
    ]
    assert bool(found) is (ease > 1 + 1e-6) or abs(ease - 1) < 1e-6
    assert ("error" in found) is (able > 1 + 1e-6) or abs(able - 1) < 1e-6
