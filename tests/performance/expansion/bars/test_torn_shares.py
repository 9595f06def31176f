"""A number that ends a name without its colon is only taken for beats where these add up."""

from __future__ import annotations

import pytest

from fretloom.api import check, loads

HEAD = """lesson "Two cups"
  meter 4/4

voicings
  E   022100  fingers .231..
  B7  x21202  fingers .213.4

patterns
  plain  p , p m , p i , p m

section tune  using plain
  E | B7
"""


@pytest.mark.parametrize(
    ("bar", "edits"),
    [
        ("E3 B7:1", ["E:3"]),
        ("E3 B71", ["E:3", "B7:1"]),
        ("E3 B7", ["E:3"]),
        ("E4", ["E:4"]),
        ("E8", []),
        ("E3", []),
        ("E3 B7:2", []),
        ("E4 B7", []),
        ("E-B7", ["E | B7"]),
        ("E-B7 E:2", []),
    ],
)
def test_only_where_they_add_up(bar: str, edits: list[str]) -> None:
    found = check(loads(f"{HEAD}  {bar}\n"))
    assert [
        edit.text for one in found if one.rule == "unknown-voicing" for edit in one.edits
    ] == edits


def test_a_step_shows_no_shares() -> None:
    (found,) = check(loads(f'{HEAD}\nstep "The shape"\n  show voicing E4\n'))
    assert (found.rule, found.edits) == ("unknown-voicing", ())
