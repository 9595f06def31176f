"""Faults in bars: each reported once, with bar and chord named, the right count and the way out."""

from __future__ import annotations

import pytest
from timeline_lessons import expanded, messages, rules

from fretloom.rule_facts import Severity

PLAIN = "section verse using plain\n"


def _one(body: str, *fields: str):
    expansion = expanded(body, *fields)
    assert rules(expansion) == [expansion.diagnostics[0].rule]
    return expansion.diagnostics[0]


def test_an_unknown_voicing_is_reported_once_with_the_nearest_name() -> None:
    """However often it is used; the other places are named beside it."""
    found = _one(PLAIN + "  E | B | A\n  B B7\n")
    assert found.rule == "unknown-voicing"
    assert found.message == "bar 2 of verse: there is no voicing B (and in 1 more place)"
    assert found.hint == "add B to the voicings; or did you mean B7?"
    assert [one.span.line for one in found.related] == [found.span.line + 1]
    assert found.span.text == "B"


def test_an_unknown_pattern() -> None:
    """On the section's line, or on a bar."""
    found = _one("section verse using plane\n  E | A | B7\n")
    assert (found.rule, found.hint) == ("unknown-pattern", "did you mean plain?")
    assert found.message == "section verse: there is no pattern plane"
    found = _one(PLAIN + "  E | A using pinch\n")
    assert found.message == "bar 2 of verse: there is no pattern pinch"


@pytest.mark.parametrize(
    ("pattern", "message", "hint"),
    [
        ("odd: p, p, p", "the pattern odd has 3 beats, but 4/4 has 4", "odd in 3/4"),
        ("odd: p, p, p, p, p", "the pattern odd has 5 beats, but 4/4 has 4", "remove 1 beat"),
        ("odd: p", "the pattern odd has 1 beat, but 4/4 has 4", "add 3 beats"),
        ("odd in 6/8: p, p, p", "the pattern odd has 3 beats, but 6/8 has 2", "remove 1 beat"),
        (
            "odd: p,p,p,p | p,p",
            "bar 2 of the pattern odd has 2 beats, but 4/4 has 4",
            "add 2 beats",
        ),
    ],
)
def test_a_pattern_with_the_wrong_number_of_beats(pattern: str, message: str, hint: str) -> None:
    """Said how many there are and how many there should be; its users are not blamed."""
    found = _one(f"patterns\n  {pattern}\nsection verse using odd\n  E | A | E\n", "meter 4/4")
    assert found.rule == "pattern-beats"
    assert found.message == message
    assert hint in found.hint


def test_beats_written_out_are_counted_too() -> None:
    """In `{ }`, and against the length of a pickup."""
    found = _one(PLAIN + "  E { p, p, p }\n")
    assert found.message == "bar 1 of verse: there are 3 beats in { }, but 4/4 has 4"
    found = _one(PLAIN + "  pickup 1: E { p, p }\n  E\n")
    assert found.message == "the pickup of verse: there are 2 beats in { }, but it has 1"


@pytest.mark.parametrize("bars", ["E { p, p, p } x3", "E { p, p, p } | %"])
def test_beats_written_once_are_one_fault(bars: str) -> None:
    """However many bars play them."""
    found = _one(f"{PLAIN}  {bars}\n")
    assert found.message == "bar 1 of verse: there are 3 beats in { }, but 4/4 has 4"


def test_a_pattern_for_another_meter() -> None:
    """A 4/4 pattern on bars of 3/4 is one fault of the section."""
    found = _one("section verse in 3/4 using plain\n  E | A | E\n")
    assert found.rule == "pattern-beats"
    assert "bar 1 of verse is in 3/4, but the pattern plain is for 4/4" in found.message


def test_a_pattern_counted_the_same_way_fits() -> None:
    """7/8 that is grouped 2+2+3 takes a pattern in 2+2+3/8."""
    body = "patterns\n  seven in 2+2+3/8: p, p, p\nsection verse in 7/8 using seven\n  E\n"
    assert messages(expanded(body)) == []


@pytest.mark.parametrize(
    ("split", "message"),
    [
        ("E:3 E:2", "bar 1 of verse: E:3 E:2 makes 5 beats, but a bar of 4/4 has 4"),
        ("E:2 A:1", "bar 1 of verse: E:2 A:1 makes 3 beats, but a bar of 4/4 has 4"),
        ("E:4 A", "E:4 A makes 4 beats already, so no beat is left for the others"),
        ("E:3", "bar 1 of verse: E:3 makes 3 beats, but a bar of 4/4 has 4"),
        ("E:4.5 A", "E:4.5 A makes 4.5 beats, but a bar of 4/4 has 4"),
    ],
)
def test_splits_that_do_not_add_up(split: str, message: str) -> None:
    """Said how many beats there are and how many there should be."""
    found = _one(PLAIN + f"  {split}\n")
    assert found.rule == "split-beats"
    assert message in found.message


def test_a_split_counted_in_eighths() -> None:
    """In 6/8 the shares count the two beats, and that is what is said."""
    body = "section verse in 6/8\n  E:3 A:3 { p, p }\n"
    assert "6/8 has 2 beats" in _one(body).hint


@pytest.mark.parametrize(
    ("bar", "words"),
    [
        ("E with a on 5", "with on 5, but 4/4 counts 1 to 4"),
        ("E without p on 7", "without p on 7"),
        ("E release on 5", "release on 5"),
        ("E stop on 9", "stop on 9"),
    ],
)
def test_counts_outside_the_bar(bar: str, words: str) -> None:
    """A bar of 4/4 counts to 4."""
    found = _one(PLAIN + f"  E | {bar}\n")
    assert found.rule == "count-outside-bar"
    assert found.message.startswith("bar 2 of verse")
    assert "but 4/4 counts 1 to 4" in found.message


def test_an_early_count_outside_the_bar_before() -> None:
    """It is the bar before that has to have the count."""
    found = _one("section verse using plain\n  E | B7 early on 5\n")
    assert found.rule == "count-outside-bar"
    assert "B7" in found.message
    assert "bar 1 of verse" in found.message


def test_a_count_before_the_pickup() -> None:
    """A pickup of one beat has only the last count."""
    found = _one(PLAIN + "  pickup 1: E with a on 2\n  E\n")
    assert "only 4" in found.message


def test_a_pickup_longer_than_a_bar() -> None:
    """Case c07 speaks of what a pickup is for; one of five beats is none."""
    found = _one(PLAIN + "  pickup 5: E\n  E\n")
    assert found.message == "the pickup of verse is 5 beats long, but a bar of 4/4 has 4"


def test_no_pattern() -> None:
    """Once for the section."""
    found = _one("section verse\n  E | A | E\n")
    assert found.rule == "no-pattern"
    assert "using plain" in found.hint


def test_nothing_to_leave_out() -> None:
    """`without a on 4` where a plucks nothing."""
    found = _one(PLAIN + "  E without a on 4\n")
    assert found.rule == "nothing-to-leave-out"
    assert found.hint == "on 4 there is p"


@pytest.mark.parametrize(
    ("bar", "rule", "words"),
    [
        ("E { p7, p, p, p }", "no-such-string", "p7 means string 7, but the tuning has 6 strings"),
        ("E { p9-4, p, p, p }", "no-such-string", "p9-4 means string 9"),
        ("E { a@30, p, p, p }", "no-such-fret", "a@30 means fret 30 on string 1"),
        ("E { i3@0h29, p, p, p }", "no-such-fret", "i3@0h29 means fret 30"),
        ("E { a1@8*, p, p, p }", "no-such-fret", "no natural harmonic at fret 8"),
        ("E { c, p, p, p }", "no-home-string", "the little finger (c) has no home string"),
        ("E { p6+i6, p, p, p }", "string-plucked-twice", "string 6 of E is plucked twice"),
        (
            "D { p6, p, p, p }",
            "muted-string-plucked",
            "the thumb (p) plucks string 6, which D does not play",
        ),
        ("B7 { p5+p6@2, p, p, p }", "", ""),
        (
            "B7 { p5+i6, p, p, p }",
            "hop-impossible",
            "finger 2 of B7 cannot hold string 5 and hop to string 6",
        ),
    ],
)
def test_plucks_that_cannot_be(bar: str, rule: str, words: str) -> None:
    """Strings, frets and fingers that are not there."""
    expansion = expanded(PLAIN + f"  {bar}\n")
    assert rules(expansion) == ([rule] if rule else [])
    if rule:
        assert words.replace("fret 30", "fret") in messages(expansion)[0].replace("fret 30", "fret")
        assert messages(expansion)[0].startswith("bar 1 of verse: ")


def test_a_muted_string_is_reported_once_a_voicing() -> None:
    """A pattern that names a string D does not play: one fault for all bars of D."""
    body = "patterns\n  low in 4/4: p6, p, p, p\nsection verse using low\n  E | D | E | D | D\n"
    found = _one(body)
    assert found.rule == "muted-string-plucked"
    assert found.severity is Severity.ERROR
    assert not found.music_undefined
    assert found.message.endswith("(and in 2 more places)")
    assert found.span.text == "D"


def test_a_muted_note_is_played_open() -> None:
    """The export can be made despite the fault."""
    expansion = expanded(PLAIN + "  D { p6, p, p, p }\n")
    note = expansion.timeline.bars[0].bar.notes[0]
    assert (note.string, note.fret, note.muted) == (6, 0, True)


def test_a_bass_order_to_a_string_that_does_not_belong() -> None:
    """Case g03 (two tutorial pages): open string 6 is not a note of D, open string 5 is its fifth."""
    body = "voicings\n  D.low xx0232 bass 4 6\n  D.mid xx0232 bass 4 5\n" + PLAIN
    found = _one(body + "  D.low | D.mid\n")
    assert found.rule == "muted-string-plucked"
    assert "the bass order of D.low leads the thumb to string 6" in found.message


def test_users_of_a_broken_line_are_not_blamed() -> None:
    """A voicing, a pattern and a section that could not be read are known by name."""
    from expanding import expand

    from fretloom.notation.syntax.read import read
    from fretloom.source import Source

    text = (
        'lesson "Test"\nvoicings\n  E 02210\n  A 002220\npatterns\n  plain: p, p,, p, p\n'
        "section verse 3 bars using plain\n  E | A | F |\n  | nonsense ( |\n"
        "form\n  verse\n    but bar 9: A\n"
    )
    lesson = read(Source("test.lesson", text))
    assert lesson.faults
    assert rules(expand(lesson)) == ["unknown-voicing"]


def test_steps_show_what_is_there() -> None:
    """Names and bars in steps are looked up as well."""
    body = PLAIN + '  E | A\nstep "One"\n  show voicing Em\n  show change E to Amm\n'
    body += "  show pattern plian over E\n  show section vers\n  show bars 1-3 of verse\n"
    expansion = expanded(body)
    assert rules(expansion) == [
        "unknown-voicing",
        "unknown-voicing",
        "unknown-pattern",
        "unknown-section",
        "no-such-bar",
    ]
    assert all("the step One" in message for message in messages(expansion))


def test_a_sound_lesson_has_no_faults() -> None:
    """The voicings, patterns and sections of the other tests."""
    assert messages(expanded(PLAIN + "  E | A | B7 | E\n")) == []
