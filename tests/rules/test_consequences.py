"""What only follows from another finding is left out, and is found again once that is mended."""

from __future__ import annotations

import pytest
from rule_lessons import findings, lesson, reported

FAST = 'lesson "Two cups"\n  meter 4/4\n  tempo 300\n'


def test_a_speed_is_not_judged_while_an_error_stands() -> None:
    """It may be another one once the error is mended; alone it is reported."""
    alone = reported(lesson(head=FAST))
    assert {rule for _, rule in alone} <= {"pick-repeat", "pick-rate", "pick-rate-all"}
    assert alone
    assert reported(lesson(head=FAST, section="section tune  using plain\n  C | D\n")) == [
        ("error", "unknown-voicing")
    ]


def test_nothing_is_unneeded_while_an_error_stands() -> None:
    """A waiver, a voicing or a section may be needed by what could not be read or played."""
    waiver = "voicings\n  C  x32010  fingers .32.1.  # allow pick-rate: slow in class\n"
    assert reported(lesson(voicings=waiver)) == [("warning", "waiver-not-needed")]
    broken = "section tune  using plain\n  C | D\n"
    assert reported(lesson(voicings=waiver, section=broken)) == [("error", "unknown-voicing")]


@pytest.mark.parametrize(
    ("fingers", "said"),
    [(".1.23.", "(and 2 more faults in these fingers)"), (".32.1.", "")],
)
def test_the_fingers_of_a_voicing_have_one_finding(fingers: str, said: str) -> None:
    """However many strings they are wrong on."""
    found = findings(lesson(voicings=f"voicings\n  C  x32010  fingers {fingers}\n"))
    assert len(found) == bool(said)
    assert all(one.message.endswith(said) for one in found)


def test_voicings_like_one_with_wrong_frets_wait_for_it() -> None:
    """The base is what is mended."""
    voicings = "voicings\n  C  x32011  fingers .32.11\n  C.two  like C  lift 2\n"
    section = "section tune  using plain\n  C | C.two\n"
    (found,) = findings(lesson(voicings=voicings, section=section))
    assert (found.rule, found.span.line) == ("name-does-not-sound", 5)
