"""One slip explains the faults of a line; right lines are never looked at, and short texts decide."""

from __future__ import annotations

import pytest

import fretloom
from fretloom.notation.syntax.slips.comments import comment_sign
from fretloom.notation.syntax.slips.explain import explained_by

LESSON = """voicings
  C  x32010  fingers .32.1.
  G  320003  fingers 21...3

patterns
  plain  p , p m , p i , p m

section verse  using plain
  C | G | C x2

form
  verse
"""


def _faults(old: str, new: str) -> list[tuple[str, int, int]]:
    text = LESSON.replace(old, new, 1)
    assert text != LESSON
    return [
        (one.rule, one.span.line, one.span.column) for one in fretloom.check(fretloom.loads(text))
    ]


@pytest.mark.parametrize(
    "line",
    ["// slow", "-- slow now", "; slow", "/* slow */", "% slow now", "<!-- slow -->", "====="],
)
def test_a_line_for_people_is_one_finding_wherever_it_stands(line: str) -> None:
    """In column one and indented, in the middle of each block; the lines around it are read."""
    for place in ("voicings\n", "patterns\n", "section verse  using plain\n", "form\n"):
        for indent in ("", "  "):
            (found,) = _faults(place, f"{place}{indent}{line}\n")
            assert found[0] == "not-understood"


@pytest.mark.parametrize(
    "statement", ["% x2", "%", "% | C", "% using plain", "C | G", "- 3", "(p i) , -", "*", "5 - 6"]
)
def test_signs_of_the_notation_begin_no_comment(statement: str) -> None:
    """A bar `%` is played again, and a lone sign says nothing for people."""
    assert comment_sign(statement) is None


@pytest.mark.parametrize(
    ("beats", "meant"),
    [
        ("t , t m , t i , t m", "p , p m , p i , p m"),
        ("th , d r , d z , d ch", "p , p a , p i , p c"),
        ("Thumb , thumb Middle , thumb index , p m", "p , p m , p i , p m"),
        ("p6 , p6 2m , p 3i , p m", "p6 , p6 m2 , p i3 , p m"),
        ("p ; p m ; p i ; p m", "p , p m , p i , p m"),
        ("p , p&m , p i , p m", "p , p+m , p i , p m"),
        ("{ p , p m , p i , p m }", "p , p m , p i , p m"),
    ],
)
def test_beats_as_others_write_them(beats: str, meant: str) -> None:
    """The hint is the whole pattern as it is meant."""
    found = explained_by(f"plain  {beats}", "patterns", ["bad-pluck"])
    assert found is not None
    assert (found.meant, found.hint) == (meant, f"write {meant}")


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("C, G, C", "C | G | C"),
        ("C G / C / G", "C G | C | G"),
        ("C / / / | G / C /", "C | G C"),
        ("C / / G | C", "C:3 G:1 | C"),
        ("[C] | [G]", "C | G"),
        ("1. C | 2. G", "C | G"),
        ("bar 3: C | G", "C | G"),
        ("C || G", "C | G"),
        ("2nd ending: C", "ending 2: "),
        ("upbeat 1: C", "pickup"),
    ],
)
def test_bars_as_others_write_them(line: str, meant: str) -> None:
    """The bars as they are meant, or the words that stand before them."""
    found = explained_by(line, "section", ["not-understood"])
    assert found is not None
    assert found.meant == meant


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("show change C -> G", "show change C to G"),
        ("show change from C to G at 60", "show change C to G at 60"),
        ("show pattern plain with C", "show pattern plain over C"),
        ("show verse bars 1-2", "show bars 1-2 of verse"),
        ("show section verse 60-96", "show section verse from 60 to 96"),
        ("show the form", "show form"),
    ],
)
def test_lines_of_a_step_in_another_order(line: str, meant: str) -> None:
    """What is shown is the same."""
    found = explained_by(line, "step", ["not-understood"])
    assert found is not None
    assert found.meant == meant


def test_faults_that_say_enough_are_left_alone() -> None:
    """A bracket left open in a bar, a number out of range, a line of four hundred signs."""
    assert explained_by("C:0", "section", ["bad-count"]) is None
    assert explained_by(f"C, {'G, ' * 200}C", "section", ["not-understood"]) is None
    assert explained_by("plain  p , q", "patterns", ["bad-pluck"]) is None


def test_a_run_of_lines_is_one_finding() -> None:
    """The block's first line is missing, once, however many lines follow."""
    assert _faults("voicings\n", "patterns\n") == [("outside-a-block", 2, 3)]
    (found,) = fretloom.loads("  C  x32010\n  G  320003\n").faults
    assert found.message.endswith("(and in 1 more line below)")


def test_prose_that_can_only_be_meant_to_show_is_a_finding() -> None:
    """`Show` and `shwo` were read as prose; a sentence that begins so still is."""
    step = 'step "One"\n  {}\n'
    for line in ("Show voicing C", "shwo form", "show: pattern plain", "Shows bars 1-2 of verse"):
        (found,) = fretloom.loads(step.format(line)).faults
        assert (found.rule, found.span.line) == ("unknown-word", 2)
    for line in ("Show the change slowly", "Shows form and grace.", "So many bars"):
        assert fretloom.loads(step.format(line)).faults == ()


@pytest.mark.parametrize(
    "below", ["1. play it slowly\n  2. then faster", '"The bass"', "show form"]
)
@pytest.mark.parametrize("word", ["steps", "Steps:"])
def test_a_block_of_steps_is_one_finding(word: str, below: str) -> None:
    """Behind the form as elsewhere; what stands in it is neither sections nor prose."""
    text = f"{LESSON}\n{word}\n  {below}\n"
    for one in (text, text.replace("form\n  verse\n", "")):
        (found,) = fretloom.check(fretloom.loads(one))
        assert (found.rule, found.span.text) == ("unknown-word", word)
        assert found.hint.startswith('write step "Title" in column one for each step')


def test_a_section_can_be_called_steps() -> None:
    """In a form that has lost its spaces it is still the section."""
    text = LESSON.replace("verse", "steps").replace("\n  steps", "\nsteps")
    (found,) = fretloom.check(fretloom.loads(text))
    assert found.rule == "not-indented"
