"""What a configuration does to findings, and which files it leaves out."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.api import check, loads
from fretloom.collection.configuration.patterns import fits
from fretloom.collection.configuration.values import Configuration, LeftOutFiles, RuleChoice

LESSON = """lesson "Two cups"

voicings
  C  x32010
  G  320003

patterns
  plain  p , p m , p i , p m
  spare  p , p , p , p

section tune  using plain
  C | C
"""


def _found(*rules: tuple[str, str]) -> dict[str, str]:
    chosen = tuple(RuleChoice(name, word, 1) for name, word in rules)
    found = Configuration(Path("/x/fretloom.toml"), chosen).applied(check(loads(LESSON)))
    return {one.rule: one.severity.value for one in found}


def test_rules_are_off_on_or_of_another_severity() -> None:
    """A rule goes by its own name, else by its family."""
    usual = {"unused-pattern": "warning", "unused-voicing": "warning"}
    assert _found() == usual
    assert _found(("unused-pattern", "off")) == {"unused-voicing": "warning"}
    assert _found(("names", "error")) == dict.fromkeys(usual, "error")
    assert _found(("names", "off"), ("unused-voicing", "on")) == {"unused-voicing": "warning"}
    assert _found(("unused-voicing", "info"), ("names", "error")) == {
        "unused-pattern": "error",
        "unused-voicing": "info",
    }


def test_a_family_that_is_off_leaves_what_makes_a_lesson_wrong() -> None:
    """Its rules that cannot be waived stay as they are."""
    faulty = check(loads(LESSON.replace("  C | C", "  C | D")))
    kept = Configuration(Path("/x/y"), (RuleChoice("names", "off", 1),)).applied(faulty)
    assert [one.rule for one in kept] == ["unknown-voicing"]


@pytest.mark.parametrize(
    ("pattern", "path", "fit"),
    [
        ("drafts", "drafts/a.lesson", True),
        ("drafts/", "drafts/deep/a.lesson", True),
        ("drafts", "tunes/drafts/a.lesson", False),
        ("**/drafts", "tunes/drafts/a.lesson", True),
        ("**/drafts", "drafts/a.lesson", True),
        ("drafts/**", "drafts/a.lesson", True),
        ("a/**/z", "a/z/x.lesson", True),
        ("a/**/z", "a/b/c/z/x.lesson", True),
        ("a/**/z", "a/b/c/x.lesson", False),
        ("*.lesson", "a.lesson", True),
        ("*.lesson", "b/a.lesson", False),
        ("**/*.lesson", "b/a.lesson", True),
        ("**", "a.lesson", True),
        ("old-?.lesson", "old-1.lesson", True),
        ("old-[12].lesson", "old-3.lesson", False),
        ("A.lesson", "a.lesson", False),
        ("./a.lesson", "a.lesson", True),
        ("a.lesson/b", "a.lesson", False),
    ],
)
def test_patterns_fit_files_and_whole_folders(pattern: str, path: str, fit: bool) -> None:
    """As a shell has them (POSIX.1-2017, 2.13 Pattern Matching Notation); `**` is common practice, no source."""
    assert fits(path.split("/"), pattern) is fit


def test_a_pattern_full_of_stars_takes_no_time() -> None:
    """Each part is tried once against each place in the pattern."""
    assert not fits(["a"] * 200, "/".join(["**", "a"] * 100 + ["b"]))


def test_only_files_below_the_root_are_left_out() -> None:
    one = Configuration(Path("/x/fretloom.toml"), files=(LeftOutFiles("**", 2),))
    assert one.leaving_out(Path("/x/a.lesson")) == LeftOutFiles("**", 2)
    assert one.leaving_out(Path("/y/a.lesson")) is None
    assert Configuration().leaving_out(Path("/x/a.lesson")) is None
