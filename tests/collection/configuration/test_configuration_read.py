"""A configuration says what is known, or is refused with its line and what may have been meant."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from fretloom.api import HouseStyle, known_rules
from fretloom.collection.configuration.reading import read_configuration
from fretloom.collection.configuration.values import LeftOutFiles, RuleChoice, may_be_set
from fretloom.errors import FretloomError
from fretloom.rule_facts import FAMILIES, Severity

#: Families of which nothing may be switched off.
NEVER = ("text", "links", "voicings")


def _written(folder: Path, text: str, name: str = "fretloom.toml") -> Path:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return file


def test_rules_and_files_are_read_with_their_lines(tmp_path: Path) -> None:
    text = '# ours\nleave-out = [\n  "drafts",\n  "**/old-*",\n]\n\n[rules]\nhands = "off"\nreach="error"\n'
    found = read_configuration(_written(tmp_path, text))
    assert found is not None
    assert found.root == tmp_path
    assert found.files == (LeftOutFiles("drafts", 3), LeftOutFiles("**/old-*", 4))
    assert found.rules == (RuleChoice("hands", "off", 8), RuleChoice("reach", "error", 9))


def test_a_house_style_is_read_with_its_lines(tmp_path: Path) -> None:
    text = '[house-style]\nheading = ["by", "plays in"]\nsteps = true\nfingers = false\n'
    found = read_configuration(_written(tmp_path, text))
    assert found is not None
    assert found.style == HouseStyle(heading=("by", "plays in"), steps=True)
    assert [(one.name, one.line) for one in found.asked] == [
        ("heading", 2),
        ("steps", 3),
        ("fingers", 4),
    ]
    plain = read_configuration(_written(tmp_path, '[rules]\nhands = "off"\n'))
    assert plain is not None
    assert plain.style is None


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('[tool.fretloom]\nleave-out = ["a"]\n[tool.fretloom.rules]\nstretch = "off"\n', 4),
        ('[tool.fretloom]\nrules.stretch = "off"\n', 2),
        ('[tool]\nx = 1\nfretloom.rules = { stretch = "off" }\n', 3),
    ],
)
def test_in_a_file_for_many_programs_only_our_table_counts(tmp_path: Path, text: str, line: int) -> None:  # fmt: skip
    found = read_configuration(_written(tmp_path, f'[project]\nname = "x"\n{text}', "pyproject.toml"))  # fmt: skip
    assert found is not None
    assert found.rules == (RuleChoice("stretch", "off", line + 2),)


@pytest.mark.parametrize("text", ["", "[tool.ruff]\n", 'name = "fretloom"\n', "[tool]\n"])
def test_a_file_for_many_programs_may_say_nothing_for_us(tmp_path: Path, text: str) -> None:
    assert read_configuration(_written(tmp_path, text, "pyproject.toml")) is None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("x = 1", ":1: there is no setting x; there are leave-out, rules and house-style"),
        ("\nleave_out = []", ":2: there is no setting leave_out; did you mean leave-out?"),
        ('[rule]\nstretch = "off"', ":1: there is no setting rule; did you mean rules?"),
        (
            '[rules]\n\nstrech = "off"',
            ":3: there is no rule and no family of rules strech; did you mean stretch?",
        ),
        (
            '[rules]\nhand = "off"',
            ":2: there is no rule and no family of rules hand; did you mean hands?",
        ),
        (
            "[rules]\nstretch = false",
            ':2: stretch can be "off", "on", "error", "warning" or "info", not false',
        ),
        ('[rules]\nstretch = "fatal"', 'not "fatal"'),
        ('[rules]\nstretch = ["off"]', "not a list"),
        ('[rules]\nstretch = {level="off"}', "not a table"),
        ("[rules]\nstretch = 3", "not 3"),
        (
            '[rules]\npattern-beats = "off"',
            ":2: pattern-beats cannot be switched off: what it finds makes a lesson wrong",
        ),
        ('[rules]\npattern-beats = "info"', "pattern-beats cannot be made milder"),
        ('[rules]\ntext = "off"', ":2: text cannot be switched off"),
        ('rules = "off"', ":1: rules is a table, such as: [rules]"),
        ('leave-out = "drafts"', ":1: leave-out is a list of patterns"),
        ("leave-out = [1]", ":1: leave-out is a list of patterns"),
        (
            'leave-out = [\n"a",\n"../b"]',
            ":3: each pattern of leave-out is a path from the folder of this file",
        ),
        ('leave-out = ["/b"]', 'not "/b"'),
        ('leave-out = ["a\\\\b"]', "with / between folders"),
        ('leave-out = [""]', 'not ""'),
        ("house-style = true", ":1: house-style is a table, such as: [house-style]"),
        (
            "[house-style]\nfinger = true",
            ":2: a house style has no setting finger; did you mean fingers?",
        ),
        ("[house-style]\nsteps = 1", ":2: steps can be true or false, not 1"),
        (
            '[house-style]\nheading = "by"',
            ':2: heading is a list of lines, such as: ["by", "tempo"]',
        ),
        ("[house-style]\nheading = [1]", ":2: heading is a list of lines"),
        (
            '[house-style]\nheading = [\n"by",\n"tempi"]',
            ':4: no line of a heading begins with "tempi"; did you mean tempo?',
        ),
        ("[rules\n", ":1: this is not TOML"),
        ("a = 1\na = 2\n", ":2: this is not TOML"),
        ("a = " + "[" * 100_000, "is nested too deep"),
        ('"\\u001b[2J" = 1', "there is no setting ␛[2J"),
    ],
)
def test_what_is_not_known_is_refused_with_its_line(tmp_path: Path, text: str, said: str) -> None:
    file = _written(tmp_path, text)
    with pytest.raises(FretloomError, match=re.escape(said)) as error:
        read_configuration(file)
    assert str(error.value).startswith(str(file))


@pytest.mark.parametrize(
    ("data", "said"),
    [(b"\xff\xfe", "UTF-8"), (b"#" * 1_000_001, "too large: more than 1,000,000 bytes")],
)
def test_what_is_no_text_is_refused(tmp_path: Path, data: bytes, said: str) -> None:
    (tmp_path / "fretloom.toml").write_bytes(data)
    with pytest.raises(FretloomError, match=said):
        read_configuration(tmp_path / "fretloom.toml")


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    (tmp_path / "fretloom.toml").write_bytes(b'\xef\xbb\xbf[rules]\nhands = "off"\n')
    assert read_configuration(tmp_path / "fretloom.toml") is not None


def test_what_leaves_the_music_undefined_is_never_off(tmp_path: Path) -> None:
    """Of no rule, by its name or by its family."""
    lines = [f'{family} = "off"' for family in FAMILIES if family not in NEVER]
    found = read_configuration(_written(tmp_path, "[rules]\n" + "\n".join(lines)))
    assert found is not None
    for rule in known_rules():
        if rule.undefined:
            assert found.choice_for(rule) is None
            assert not may_be_set(rule)
    assert {one.name for one in known_rules() if not may_be_set(one)} >= {"doubled-name", "hop-impossible"}  # fmt: skip
    assert all(may_be_set(one) for one in known_rules() if one.severities[0] is not Severity.ERROR)
