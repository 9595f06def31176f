"""What kind each piece of a text is: in its place, not by its look."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from lesson_pool import LESSONS, Made
from lesson_texts import shown_lessons

from fretloom.limits import LIMITS
from fretloom.notation.highlighting.kinds import TextKind
from fretloom.notation.highlighting.marking import marked
from fretloom.notation.syntax.read import read
from fretloom.source import Source


def kinds_in(text: str) -> list[tuple[str, str]]:
    """Return each piece with the word for its kind."""
    return [(text[one.start : one.end], one.kind.value) for one in marked(text)]


def kinds_of(text: str, word: str) -> list[str]:
    """Return the kinds of the pieces that are a word."""
    return [kind for piece, kind in kinds_in(text) if piece == word]


def faults_in(text: str) -> list[str]:
    """Return the pieces that cannot stand where they do."""
    return [piece for piece, kind in kinds_in(text) if kind == "fault"]


def test_a_word_is_what_it_is_in_its_place() -> None:
    """`tempo` is a word of the heading and of a section, a name elsewhere, and nothing of its own in quotes or prose."""
    text = (
        'lesson "tempo"\n  tempo 96  # tempo\n\npatterns\n  tempo "tempo": p , p\n\n'
        "section tempo  using tempo\n  tempo 80\n  E using tempo\n\nform\n  tempo\n    but tempo 60\n\n"
        'step "tempo"\n  tempo is how quick it is\n  show section tempo at 60\n'
    )
    assert kinds_of(text, "tempo") == [
        "word", "defined", "defined", "name", "word", "name", "name", "word", "name",
    ]  # fmt: skip
    assert kinds_of(text, '"tempo"') == ["text"] * 3
    assert kinds_of(text, "# tempo") == ["comment"]
    assert kinds_of(text, "tempo is how quick it is") == ["prose"]


def test_the_kinds_of_a_voicing() -> None:
    """Frets, fingers, numbers and places are told apart by the words before them."""
    assert kinds_in("voicings\n  G7  320001  fingers 32...1  bass 6 4  hop 3 to 6@3") == [
        ("voicings", "opener"), ("G7", "defined"), ("320001", "frets"), ("fingers", "word"),
        ("32...1", "fretting"), ("bass", "word"), ("6", "number"), ("4", "number"),
        ("hop", "word"), ("3", "fretting"), ("to", "word"), ("6@3", "number"),
    ]  # fmt: skip


def test_the_kinds_of_bars() -> None:
    """Plucks have their techniques apart, and what is played as a sign is no divider."""
    assert kinds_in('section a\n  "la \\" la" E:3 { p+a@3.vibrato, - } | % x2 | rest') == [
        ("section", "opener"), ("a", "defined"), ('"la ', "text"), ('\\"', "escape"),
        (' la"', "text"), ("E", "name"), (":", "sign"), ("3", "number"), ("{", "sign"),
        ("p", "pluck"), ("+", "mark"), ("a@3", "pluck"), (".vibrato", "technique"), (",", "sign"),
        ("-", "mark"), ("}", "sign"), ("|", "sign"), ("%", "mark"), ("x2", "number"),
        ("|", "sign"), ("rest", "word"),
    ]  # fmt: skip


def test_a_comment_that_allows_something_shows_what() -> None:
    """`allow` and the rules stand out; the reason and a comment that only mentions it do not."""
    assert kinds_in("# allow stretch, barre: we have a capo\n# we allow all") == [
        ("# ", "comment"), ("allow stretch, barre", "allowing"), (": we have a capo", "comment"),
        ("# we allow all", "comment"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("part", "kinds"),
    [
        ("  C | Am x2", ["name", "sign", "name", "number"]),
        ("C | Am", ["name", "sign", "name"]),
        ("  capo 3", ["word", "number"]),
        ("  E7  like E  lift 3", ["defined", "word", "name", "word", "fretting"]),
        ("  waltz in 3/4: p , i", ["defined", "word", "number", "sign", "pluck", "sign", "pluck"]),
        ("    but last bar: C x2", ["word", "word", "word", "sign", "name", "number"]),
        ("  show form at 60", ["word", "word", "word", "number"]),
        ("  p plays 6 5", ["pluck", "word", "number", "number"]),
        ("# nothing but this", ["comment"]),
        ("", []),
    ],
)
def test_a_part_is_read_as_lines_of_the_block_it_fits(part: str, kinds: list[str]) -> None:
    """What a page shows of a lesson need not begin with the word of its block."""
    assert [kind for _, kind in kinds_in(part)] == kinds


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ('lesson "Tea\n', ['"Tea']),
        ('lesson "Tea"\n  tempo fast\n', ["fast"]),
        ("section a\n  E { p, t }\n", ["t"]),
        ("voicings now\n  E 022100\n", ["now"]),
        ('lesson "Tea"\nsectin a\n  capo 3\n', ["sectin"]),
    ],
)
def test_what_cannot_stand_there_is_a_fault(text: str, faults: list[str]) -> None:
    """Only that word; what follows is coloured as if it were right."""
    assert faults_in(text) == faults


def test_comments_between_the_lines_of_a_pattern_stay_comments() -> None:
    """A pattern that goes on for several lines is read as one, and its comments are none of it."""
    text = "patterns\n  long  p , p  # one\n  # between\n    | p , m  # two\n"
    assert [piece for piece, kind in kinds_in(text) if kind == "comment"] == ["# one", "# between", "# two"]  # fmt: skip
    assert faults_in(text) == []
    broken = 'patterns\n  long  "p  # one\n    | p  # two\n'
    assert [kind for _, kind in kinds_in(broken)][-2:] == ["fault", "comment"]


@pytest.mark.parametrize("place", shown_lessons())
def test_lessons_that_people_are_shown_have_only_faults_that_are_meant(place: str) -> None:
    """No example and no lesson of a page has a word that cannot stand there, but where reading it finds a fault too."""
    text = shown_lessons()[place]
    if faults_in(text):
        assert read(Source("shown.lesson", text)).faults != ()
        assert place.startswith("src/fretloom/rules/families/")


@LESSONS.law()
def test_right_lessons_have_no_fault(made: Made) -> None:
    """What can be read is coloured without a fault, whatever it holds."""
    assert faults_in(made.text) == []


@given(st.text() | st.text(alphabet='ap1|,{}[]()"\\# \n\tx-:'))
@example('patterns\n  x "p  # c\n  # d\n    | p  # e')
@example('section a\r\n  E | \u2028 # c\r  "F\n')
def test_pieces_are_in_order_and_apart(text: str) -> None:
    """Any text at all falls into pieces that follow one another."""
    at = 0
    for one in marked(text):
        assert at <= one.start < one.end <= len(text)
        at = one.end


def test_a_line_that_no_lesson_can_have_is_not_looked_at() -> None:
    """The limit of a line holds here too, so that no text takes long."""
    text = f"section a\n  {'E | ' * (LIMITS.line // 4)}E\n  F\n"
    assert [one.kind for one in marked(text)][2:] == [TextKind.FAULT, TextKind.NAME]
