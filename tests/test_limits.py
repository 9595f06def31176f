"""Each limit is met at its number and not before, and is told as one finding with a place."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from fretloom.api import as_text, check, dumps, expand, finding_as_text, loads, suggest_capos
from fretloom.diagnostics import Diagnostic, Edit, Related
from fretloom.limits import LIMITS
from fretloom.notation.syntax.parsing.tree import Tree
from fretloom.performance.expansion import room
from fretloom.rule_facts import Severity
from fretloom.source import Source, Span
from fretloom.text import short, shortened
from fretloom.values import evolve

HEAD = 'lesson "T"\n  meter 4/4\nvoicings\n  E 022100\npatterns\n  t p , p , p , p\n'
FEW_NOTES = HEAD.replace("p , p , p , p", "p , - , - , -")
SECTION = HEAD + "section s using t\n"


def found(text: str, rule: str = "too-large") -> list[Diagnostic]:
    """Return what a rule finds in a text; nothing else may be an error."""
    errors = [one for one in check(loads(text)) if one.severity is Severity.ERROR]
    assert {one.rule for one in errors} <= {rule}
    return errors


def _lines(number: int) -> str:
    return "# c\n" * (number - 2) + 'lesson "T"\n'


@pytest.mark.parametrize(
    ("make", "most"),
    [
        (_lines, LIMITS.lines),
        (lambda number: 'lesson "' + "T" * (number - 9) + '"\n', LIMITS.line),
        (lambda number: f"{HEAD}section {'s' * number} using t\n  E\n", LIMITS.word),
        (
            lambda number: (
                FEW_NOTES
                + "".join(f"section s{at} using t\n  E\n" for at in range(number))
                + "form\n  s0\n"
            ),
            LIMITS.names,
        ),
        (
            lambda number: "voicings\n" + "".join(f"  v{at} 022100\n" for at in range(number)),
            LIMITS.names,
        ),
    ],
    ids=["lines", "line", "word", "sections", "voicings"],
)
def test_what_is_too_large_is_one_finding(make: Callable[[int], str], most: int) -> None:
    """At the limit a text is read, one beyond it is refused; the message gives the number."""
    if make is not _lines:
        assert found(make(most)) == []
    else:
        assert loads(make(most)).faults == ()
    (one,) = found(make(most + 1))
    assert f"{most:,}" in one.message
    assert one.hint


def test_what_is_too_large_is_not_read() -> None:
    """A text beyond the limits is counted, and nothing is made of it."""
    assert loads("section s\n" + "  C\n" * LIMITS.lines).blocks == ()


def test_repeats_inside_one_another() -> None:
    """So many are read, and what is written of them is not indented further and further."""
    deep = LIMITS.repeats_deep
    text = SECTION + "  repeat 1\n" * deep + "  E\n" + "  end\n" * deep
    assert found(text) == []
    assert len(dumps(loads(text))) < 2 * deep * (2 * LIMITS.depth + 10) + len(SECTION) + 100
    (one,) = found(text.replace("  E\n", "  repeat 1\n  E\n  end\n"), "nested-too-deep")
    assert f"{deep:,}" in one.message


def test_bars_put_in_by_the_form_are_counted_before_they_are_made() -> None:
    """Each line is within its limit, all of them together are not."""
    entry = f"  s\n    but bar 1: E x{LIMITS.bars_written}\n"
    entries = LIMITS.bars_played // LIMITS.bars_written
    text = SECTION.replace("p , p , p , p", "p , - , - , -") + "  E\nform\n"
    assert found(text + entry * entries, "too-many-bars") == []
    (one,) = found(text + entry * (entries + 1), "too-many-bars")
    assert str(LIMITS.bars_played) in one.message
    assert one.span.line == text.count("\n") + 2 * entries + 2


@pytest.mark.parametrize("form", ["", "form\n  s0\n"], ids=["played", "left out"])
def test_bars_of_all_sections_are_counted_before_they_are_made(form: str) -> None:
    """A lesson of some sections within their limit is refused where together they are too many."""
    section = f"section s{{}} using t\n  E x{LIMITS.bars_written}\n"
    most = LIMITS.bars_played // LIMITS.bars_written
    within = FEW_NOTES + "".join(map(section.format, range(most)))
    assert found(within + form, "too-many-bars") == []
    beyond = FEW_NOTES + "".join(map(section.format, range(most + 3)))
    (one,) = found(beyond + form, "too-many-bars")
    assert one.span.text == f"s{most}"


@pytest.mark.parametrize(
    "beats",
    ["p , p , p , p", "p4@0h2 , p , - , p", "(p i m a) , - , - , -"],
    ids=["plucked", "with slurs", "rolled"],
)
def test_notes_are_counted_with_those_that_slurs_bring(beats: str) -> None:
    """At the limit a lesson is played, one bar more is refused, and in a section left out as well."""
    bars = LIMITS.notes // 4
    head = HEAD.replace("p , p , p , p", beats)
    body = "section s using t\n  E x{}\nform\n  s\n  s x{}\n"
    half = bars // 5
    assert found(head + body.format(half, 4), "too-many-bars") == []
    (one,) = found(head + body.format(half, 4) + "  s\n", "too-many-bars")
    assert str(LIMITS.notes) in one.message
    lesson = loads(head + body.format(half, 5))
    assert expand(lesson).bars == ()
    assert expand(lesson).sections == ()


def test_notes_of_bars_that_differ_are_counted_once_each() -> None:
    """What is written twice counts twice, what is played twice does not; a silent bar is one."""
    bars = LIMITS.notes_different // 4
    body = "section s using t\n" + "  E\n" * (bars - 1)
    assert found(HEAD + body + "  rest\n" * 4 + "form\n  s x2\n", "too-many-bars") == []
    (one,) = found(HEAD + body + "  rest\n" * 5, "too-many-bars")
    assert str(LIMITS.notes_different) in one.message
    unplayed = "section r using t\n  rest\n  rest\nform\n  s\n"
    assert found(HEAD + body + "  rest\n" * 2 + unplayed, "too-many-bars") == []
    (one,) = found(HEAD + body + "  rest\n" * 3 + unplayed, "too-many-bars")
    assert expand(loads(HEAD + body + "  rest\n" * 5)).bars == ()


@pytest.mark.parametrize(("most", "wrong"), [(4, True), (5, False)])
def test_a_bar_that_rings_differently_counts_again(
    monkeypatch: pytest.MonkeyPatch, most: int, wrong: bool
) -> None:
    """A hundred written bars can follow one another in ten thousand ways."""
    monkeypatch.setattr(room, "LIMITS", evolve(LIMITS, notes_different=most))
    patterns = "  t p , - , - , -\n  u - , p , - , -\n  v - , - , p , -\n"
    head = HEAD.replace("  t p , p , p , p\n", patterns)
    sections = "".join(f"section {name} using {name}\n  E\n" for name in "tuv")
    # The three bars of t ring for five beats, for six and to the end.
    lesson = loads(f"{head}{sections}form\n  t\n  u\n  t\n  v\n  t\n")
    assert len({played.bar.serial for played in expand(lesson).bars}) == (0 if wrong else 5)
    assert ["too-many-bars"] * wrong == [
        one.rule for one in check(lesson) if one.severity is Severity.ERROR
    ]


def test_of_a_long_lesson_only_the_likeliest_capos_are_judged() -> None:
    """Each is another copy of the lesson; it says how many were left aside, and keeps what is written."""
    head = HEAD.replace("meter", "plays in E\n  meter") + "section s using t\n"
    short_one = suggest_capos(loads(head + "  E\n"))
    assert (len(short_one.choices), short_one.left_aside) == (8, 0)
    assert "left aside" not in as_text(short_one)
    long_one = suggest_capos(loads(head + "  E\n" * (LIMITS.capo_lines // 3)))
    assert (len(long_one.choices), long_one.left_aside) == (2, 6)
    assert any(one.now for one in long_one.choices)
    assert "6 other places" in as_text(long_one)


def test_brackets_inside_one_another_are_looked_into_once() -> None:
    """Asking for the place of each twice made 16 of them take 65,000 times as long."""
    asked = 0

    class Leaf:
        @property
        def start(self) -> int:
            nonlocal asked
            asked += 1
            return 7

    tree = Leaf()
    for _ in range(LIMITS.depth):
        tree = Tree("group", (tree,))  # type: ignore[assignment,arg-type]
    assert tree.start == 7
    assert asked == 1


@pytest.mark.parametrize(
    ("bar", "most"),
    [
        (lambda number: "E " * number, LIMITS.parts),
        (lambda number: "E { " + _beats(number, "p") + " }", LIMITS.bar),
        (lambda number: "E { " + _beats(number, "p+i") + " }", LIMITS.bar // 2),
        (lambda number: "E { " + _beats(number, "[p i]") + " }", LIMITS.bar // 2),
    ],
    ids=["voicings", "plain beats", "chords", "groups"],
)
def test_a_bar_has_its_limits(bar: Callable[[int], str], most: int) -> None:
    """One more is a fault of the bar, counted before anything is made of it."""
    assert loads(SECTION + f"  {bar(most)}\n").faults == ()
    (one,) = loads(SECTION + f"  {bar(most + 1)}\n").faults
    assert one.rule == "beat-too-full"
    assert "the limit is" in one.message


def _beats(number: int, place: str) -> str:
    """Return so many places, twenty in a beat."""
    places = [place] * number
    return " , ".join(" ".join(places[at : at + 20]) for at in range(0, number, 20))


def test_a_name_is_not_repeated_in_full() -> None:
    """A finding about a word of thousands of letters quotes its ends."""
    name = "q" * 19_000
    for text in (f"{SECTION}  {name}\n", f'lesson "T"\n  {name}\n', f'use "{name}"\n', f"{name}\n"):
        for one in check(loads(text)):
            assert len(one.message) <= LIMITS.message
            assert len(finding_as_text(one).replace(name, "")) < 2_000


def test_whatever_is_said_is_shortened() -> None:
    """Messages, hints, related places and titles of edits pass through the same function."""
    long, span = "q" * 5_000, Span(Source("t", "text"), 0, 1)
    said = Diagnostic(
        rule="bad-name",
        severity=Severity.ERROR,
        message=f"`{long}` is long",
        span=span,
        hint=long,
        related=(Related(message=long, span=span),),
        edits=(Edit(span=span, text=long, title=long),),
    )
    for text in (said.message, said.hint, said.related[0].message, said.edits[0].title):
        assert len(text) <= LIMITS.message_word + len(" is long")
    assert said.message.startswith("`qqq")
    assert said.message.endswith("qqq` is long")
    assert said.edits[0].text == long


def test_short_texts_stay_as_they_are() -> None:
    """Only words beyond the limit lose their middle, and only very long messages their end."""
    word = "a" * LIMITS.message_word
    assert shortened(f"no {word} here") == f"no {word} here"
    assert shortened(f"no {word}b here") == f"no {'a' * 59}…{'a' * 58}b here"
    assert short("abcdefgh", 5) == "ab…gh"
    assert short("abcde", 5) == "abcde"
    sentence = "word " * LIMITS.message
    assert len(shortened(sentence)) <= LIMITS.message
    assert shortened(sentence).endswith(" …")


@pytest.mark.parametrize(
    "quotes", [r"\"" * 9_000, r"\\" * 9_000, '"' * 9_001, r"\"" * 9_000 + "\\"]
)
def test_a_text_that_is_not_closed_is_gone_through_once(quotes: str) -> None:
    """Its quotation mark opens to the end of the line; a comment behind it is one all the same."""
    line = f'lesson "T"\n  by "{quotes} # c\n'
    assert [one.rule for one in loads(line).faults][:1] in (
        ["unclosed-quote"],
        ["not-understood"],
        [],
    )


def test_a_quotation_mark_left_open_does_not_hide_a_comment() -> None:
    """What follows an open quotation mark is not in quotes."""
    (one,) = loads('lesson "T"\n  by "a \\" b # c\n').faults
    assert (one.rule, one.span.text) == ("unclosed-quote", '"a \\" b')
