"""A hand set on other strings than its own is one remark for a pattern."""

from __future__ import annotations

import pytest
from rule_lessons import findings, lesson


def _said(patterns: str) -> list[tuple[str, str]]:
    found = findings(lesson(patterns=f"patterns\n{patterns}"))
    return [(one.severity.value, one.message) for one in found if one.rule == "finger-off-strings"]


@pytest.mark.parametrize(
    ("pattern", "message"),
    [
        (
            "plain  p5 i4 m3 a2 , p5 i4 , m3 , a2",
            "fingers i, m and a pluck strings 4, 3 and 2 in the pattern plain, away from their homes",
        ),
        ("plain  p5 , i4 , m , a", "finger i plucks string 4 in the pattern plain; its home is 3"),
        (
            "plain  p , m3 , m , p | p , m3 , a2 , p",
            "fingers m and a pluck strings 3 and 2 in the pattern plain, away from their homes",
        ),
    ],
)
def test_one_remark_for_a_pattern(pattern: str, message: str) -> None:
    """However many fingers and bars it has."""
    assert _said(f"  {pattern}\n") == [("info", message)]


def test_a_finger_out_of_order_keeps_its_own_warning() -> None:
    """What is no shift of the hand is said by itself."""
    assert [severity for severity, _ in _said("  plain  p , m4 , i , a\n")] == ["warning"]
