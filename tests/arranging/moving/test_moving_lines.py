"""Moving lines from chord to chord, kept or said to be lost."""

from __future__ import annotations

import pytest

from fretloom.api import as_text, loads, transpose


def remarks(voicings: dict[str, str], plays: str, to: str, capo: int = 5) -> list[str]:
    """Return what is said of lines in a lesson that is moved to another key."""
    lines = "".join(f"  {name}  {frets}\n" for name, frets in voicings.items())
    text = (
        f'lesson "Lines"\n  tempo 60\n  capo {capo}\n  plays in {plays}\nvoicings\n{lines}'
        "patterns\n  plain  p , - , - , -\nsection t  using plain\n  " + " | ".join(voicings) + "\n"
    )
    said = as_text(transpose(loads(text), plays=to)).splitlines()
    return [one for one in said if "by steps" in one]


@pytest.mark.parametrize(
    ("voicings", "plays", "to", "capo"),
    [
        ({"D": "xx0232", "Dsus4": "xx0233"}, "D", "A", 7),
        ({"Am": "x02210", "Am(maj7)": "x02110", "Am7": "x02010"}, "Am", "Dm", 5),
        ({"C": "x32010", "C/B": "x22010", "Am": "x02210"}, "C", "D", 2),
        ({"C": "x32010", "Am": "x02210"}, "C", "G", 0),
    ],
)
def test_lines_that_are_kept_are_not_spoken_of(
    voicings: dict[str, str], plays: str, to: str, capo: int
) -> None:
    """D to Dsus4 is A to Asus4; the bass from C over B to A is the one from D over C# to B."""
    assert remarks(voicings, plays, to, capo) == []


def test_a_bass_that_leaps_is_said_to_be_lost() -> None:
    """From A over G goes down; from the low E there is no lower D, so the bass leaps up."""
    (said,) = remarks({"Am": "x02210", "Am/G": "302210"}, "Am", "Em", 0)
    assert "from Em to Em/D" in said
