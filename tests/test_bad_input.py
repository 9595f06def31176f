"""What is not a lesson, or means harm: one clear message each, in bounded time and memory."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.api import check, loads
from fretloom.frontends.command.main import main

PARTS = """lesson "Two cups"
  meter 4/4

voicings
  C  x32010  fingers .32.1.  bass 5 4 5 4

patterns
  plain  {beat} , p m , p i , p m

section tune  using plain
  {bars}

form
  {form}
"""


def _rules(beat: str = "p", bars: str = "C | C", form: str = "tune") -> list[str]:
    return [one.rule for one in check(loads(PARTS.format(beat=beat, bars=bars, form=form)))]


def test_good_parts_are_good() -> None:
    """The lesson that the tests below spoil is without fault."""
    assert _rules() == []


@pytest.mark.parametrize(
    ("spoiled", "rule"),
    [
        ({"beat": "[" * 1000 + "p" + "]" * 1000}, "nested-too-deep"),
        ({"beat": "(" * 1000}, "nested-too-deep"),
        ({"bars": "C x99999"}, "too-many-bars"),
        ({"form": "tune x999999"}, "too-many-bars"),
        ({"bars": "repeat 999\n" * 3 + "C\n" + "end\n" * 3}, "too-many-bars"),
    ],
    ids=["brackets", "open-brackets", "bar-repeated", "section-repeated", "repeats"],
)
def test_what_would_exhaust_the_machine_is_refused(spoiled: dict[str, str], rule: str) -> None:
    """Nothing is laid out before its size is known (yaml/yaml-spec#45: 387,420,489 bars)."""
    spoiled = {name: text.replace("\n", "\n  ") for name, text in spoiled.items()}
    assert _rules(**spoiled) == [rule]


def test_many_nested_repeats_are_refused_with_the_count() -> None:
    """Nine repeats of nine of nine ... are counted, not played."""
    bars = "\n  ".join(["repeat 9"] * 9 + ["C"] + ["end"] * 9)
    (found,) = check(loads(PARTS.format(beat="p", bars=bars, form="tune")))
    assert found.rule == "too-many-bars"
    assert "387420489" in found.message.replace(",", "")


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "\ufeff", "   \t  \n"])
def test_empty_text_is_reported(text: str) -> None:
    """A file without a single line is one fault, with a place that can be shown."""
    (found,) = check(loads(text))
    assert (found.rule, found.span.line, found.span.column) == ("empty-lesson", 1, 1)


def test_text_that_is_no_lesson_gives_up() -> None:
    """A long text of something else gets a bounded number of messages."""
    found = check(loads("for i in range(10): print(i)\n" * 5000))
    assert len(found) <= 101
    assert found[-1].rule == "too-many-faults"


@pytest.mark.parametrize("end", ["\r\n", "\r", "\n"])
def test_line_ends_do_not_change_places(end: str) -> None:
    """A fault is on the same line and column whatever ends the lines."""
    text = PARTS.format(beat="p t", bars="C", form="tune").replace("\n", end)
    (found,) = check(loads(text))
    assert (found.rule, found.span.line, found.span.column) == ("bad-pluck", 8, 12)


def test_odd_spaces_are_spaces() -> None:
    """No-break spaces and tabs, as word processors put them, separate words."""
    text = PARTS.format(beat="p", bars="C | C", form="tune")
    assert check(loads(text.replace("  ", "\t"))) == []
    assert check(loads(text.replace("  plain  ", "\u00a0\u00a0plain\u00a0\u2003"))) == []


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"\x00\x01\x02\x03" * 100, "not a text file"),
        ("lesson".encode("utf-16"), "UTF-16"),
        (b"x" * 10_000_000, "too large for a lesson"),
        ("Tünde".encode("cp1252"), "not saved as UTF-8"),
    ],
    ids=["binary", "utf16", "ten-million", "cp1252"],
)
def test_files_that_are_no_text(
    data: bytes, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One line on standard error, nothing on standard output, exit code 2."""
    path = tmp_path / "x.lesson"
    path.write_bytes(data)
    assert main(["check", str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert err.count("\n") == 1
