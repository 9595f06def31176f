"""The patterns of a song, each by itself."""

from __future__ import annotations

import fretloom
from fretloom.formats.tab.patterns import MOST_ALONE

HEAD = 'lesson "Lamps"\nvoicings\n  C  x32010\n  G  320003\n'


def shown(text: str) -> list[str]:
    """Return the lines from "Picking" up to the first section."""
    lines = fretloom.export_tab(fretloom.loads(HEAD + text)).splitlines()
    return lines[lines.index("Picking") : lines.index("Verse, 2 bars, pattern plain")]


def test_each_pattern_that_is_played_stands_alone_over_its_first_voicing() -> None:
    """In the order of the song, with its count and fingers; one that no bar has does not."""
    lines = shown(
        'patterns\n  spare  p5 , m2 , - , -\n  plain "The rocking one"  p5 , - , i3 , -\n  never  p5 , p5 , p5 , p5\n'
        "section verse using plain\n  G | C using spare\nsection more using plain\n  C\nform\n  verse\n  more\n"
    )
    titles = [line for line in lines if ", over " in line]
    assert titles == ["The rocking one, over G", "spare, over C"]
    strings = [line for line in lines if line.startswith(("A|", "G|", "B|"))]
    assert [line.replace("-", "") for line in strings] == [
        "B||",
        "G|0|",
        "A|2|",
        "B|1|",
        "G||",
        "A|3|",
    ]
    assert [line.split() for line in lines if line.strip() in ("i", "m")] == [["i"], ["m"]]


def test_a_pattern_of_two_bars_has_both() -> None:
    """One behind the other."""
    lines = shown(
        "patterns\n  plain  p5 , - , - , -\n       | i3 , - , - , -\nsection verse using plain\n  C | C\n"
    )
    strings = [line.replace("-", "") for line in lines if line.startswith(("A|", "G|"))]
    assert strings == ["G||0|", "A|3||"]


def test_of_many_patterns_the_first_stand_alone_and_the_others_are_told() -> None:
    """Nobody learns so many by themselves."""
    names = ["plain", *(f"other{number}" for number in range(MOST_ALONE + 1))]
    patterns = "".join(f"  {name}  p5 , - , - , -\n" for name in names)
    bars = "".join(f"  C using {name}\n" for name in names[2:])
    lesson = fretloom.loads(
        f"{HEAD}patterns\n{patterns}section verse using plain\n  C | C using {names[1]}\n"
        f"section more using plain\n{bars}form\n  verse\n  more\n"
    )
    [output] = fretloom.export(lesson, "tab")
    assert output.text.count(", over C") == MOST_ALONE
    assert "2 patterns alone: the song has them" in [one.what for one in output.left_out]
