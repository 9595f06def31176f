"""Findings as text: the place, the line, the caret, and nothing a terminal would obey."""

from __future__ import annotations

from fretloom.diagnostics import Diagnostic, Related
from fretloom.report.findings.text import excerpt, render, summary
from fretloom.rule_facts import Severity
from fretloom.source import Source, Span


def _finding(text: str, start: int, end: int, **fields: object) -> Diagnostic:
    span = Span(Source("kiln.lesson", text), start, end)
    return Diagnostic(
        rule="bad-pluck", severity=Severity.ERROR, message="`t` is not a pluck", span=span, **fields
    )


def test_finding_is_place_message_line_caret_hint() -> None:
    """The whole of one finding, as a teacher reads it."""
    found = _finding("patterns\n  plain p, t, i\n", 20, 21, hint="use one of p i m a c")
    assert render(found) == (
        "kiln.lesson:2:12: error: `t` is not a pluck [bad-pluck]\n"
        "      plain p, t, i\n"
        "               ^\n"
        "    hint: use one of p i m a c"
    )


def test_related_places_are_named() -> None:
    """Another place is given by its line, and its file where that is another."""
    source, other = Source("kiln.lesson", "a\nb\n"), Source("open.lesson", "x\n")
    related = (
        Related(message="first here", span=Span(source, 2, 3)),
        Related(message="and there", span=Span(other, 0, 1)),
    )
    text = render(_finding("a\nb\n", 0, 1, related=related))
    assert "see kiln.lesson, line 2: first here" in text
    assert "see open.lesson, line 1: and there" in text


def _under(text: str, word: str) -> tuple[str, str]:
    start = text.index(word)
    return excerpt(Span(Source("<text>", text), start, start + len(word)))


def test_caret_stands_under_the_word_after_tabs() -> None:
    """A tab takes four columns above and below."""
    shown, carets = _under("\tC\tG", "G")
    assert shown == "    C    G"
    assert carets == "         ^"


def test_caret_stands_under_the_word_after_wide_characters() -> None:
    """East Asian wide characters take two columns (Unicode Standard Annex 11), accents none."""
    assert _under("日本 D", "D") == ("日本 D", "     ^")
    assert _under("e\u0301 D", "D")[1] == "  ^"
    assert _under("🎸 D♯", "D")[1] == "   ^"


def test_caret_stands_under_the_word_after_joined_pictures() -> None:
    """What a terminal draws as one picture takes two columns (Unicode Technical Standard 51)."""
    assert _under("☕\ufe0f D", "D")[1] == "   ^"
    assert _under("👩\u200d🌾 D", "D") == ("👩\u200d🌾 D", "   ^")
    assert _under("D 👩\u200d🌾!", "👩\u200d🌾")[1] == "  ^^"


def test_caret_stands_under_a_hidden_character() -> None:
    """A joiner that joins nothing is shown by a sign, and one between pictures by nothing."""
    assert _under("a\u200db", "\u200d") == ("a�b", " ^")
    assert _under("👩\u200d🌾", "\u200d") == ("👩\u200d🌾", "  ^")


def test_control_characters_are_shown_and_not_obeyed() -> None:
    """An escape sequence in a lesson cannot colour or clear the terminal."""
    text = "lesson \x1b[2J\x07\u202e \x9b1m"
    shown, _ = _under(text, "lesson")
    assert shown.isprintable()
    found = Diagnostic(
        rule="x",
        severity=Severity.INFO,
        message=text,
        span=Span(Source(text, text), 0, 1),
        hint=text,
    )
    assert all(line.isprintable() for line in render(found).split("\n"))


def test_long_lines_are_shown_in_part() -> None:
    """Of a very long line only what is around the fault is shown, with the caret under it."""
    text = "p , " * 5000 + "t , " + "p , " * 5000
    shown, carets = _under(text, "t")
    assert len(shown) < 120
    assert shown[carets.index("^")] == "t"
    assert shown.startswith("…") and shown.endswith("…")


def test_caret_at_the_end_of_the_text() -> None:
    """A fault at the very end has a caret after the last character."""
    shown, carets = excerpt(Span(Source("<text>", "C |"), 3, 3))
    assert (shown, carets) == ("C |", "   ^")


def test_span_over_several_lines_is_marked_on_its_first() -> None:
    """Only the first line is shown and marked."""
    shown, carets = excerpt(Span(Source("<text>", "form\n verse\n"), 0, 11))
    assert (shown, carets) == ("form", "^^^^")


def test_colour_only_when_asked() -> None:
    """Without colour there is no escape sequence at all."""
    found = _finding("t", 0, 1)
    assert "\x1b" not in render(found)
    assert "\x1b[31;1merror\x1b[0m" in render(found, colour=True)


def test_summary_counts_what_was_found() -> None:
    """The closing line names errors and warnings, and remarks where there are some."""
    error, warning, info = Severity
    assert summary([], 1) == "no errors in 1 file"
    assert summary([info], 2) == "no errors, 1 remark in 2 files"
    assert summary([error, error, warning, info], 3) == "2 errors, 1 warning, 1 remark in 3 files"
    assert summary([warning], 1) == "1 warning in 1 file"
