"""What the documentation shows is true: its lessons check, its words are those of the grammar, its code runs."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from attrs import fields

from fretloom.api import check, loads
from fretloom.frontends.command.main import main
from fretloom.limits import LIMITS, Limits
from fretloom.notation.syntax.parsing.grammar import grammar_text
from fretloom.rule_facts import FAMILIES, RULES, Severity
from fretloom.rules.pages import page

PROJECT = Path(__file__).parents[2]
PAGES = sorted([PROJECT / "README.md", *(PROJECT / "docs").glob("*/*.md")])
_FENCE = re.compile(r"^```(\S+)\n(.*?)^```$", re.M | re.S)


def _blocks(language: str) -> list[tuple[str, str]]:
    return [
        (f"{page.stem}-{number}", match[2])
        for page in PAGES
        for number, match in enumerate(_FENCE.finditer(page.read_text(encoding="utf-8")))
        if match[1] == language
    ]


@pytest.mark.parametrize("text", [pytest.param(text, id=name) for name, text in _blocks("lesson")])
def test_whole_lessons_are_clean(text: str) -> None:
    """A lesson in the documentation has no error and no warning."""
    found = [one for one in check(loads(text)) if one.severity is not Severity.INFO]
    assert [one.message for one in found] == []


@pytest.mark.parametrize(
    "text", [pytest.param(text, id=name) for name, text in _blocks("lesson-part")]
)
def test_parts_of_lessons_can_be_read(text: str) -> None:
    """Examples of single blocks are spelled right."""
    assert [one.message for one in loads(text, root=PROJECT / "examples").faults] == []


def test_every_word_of_the_grammar_is_on_the_page() -> None:
    """A word that the grammar knows and the reference page does not is a gap in the page."""
    grammar = re.sub(r"//.*", "", grammar_text())
    words = set(re.findall(r'"([a-z]{2,})"', grammar))
    assert len(words) > 40
    text = (PROJECT / "docs" / "reference" / "notation.md").read_text(encoding="utf-8")
    assert {word for word in words if not re.search(rf"\b{word}\b", text)} == set()


def test_every_option_of_the_command_is_on_the_page(capsys: pytest.CaptureFixture[str]) -> None:
    """Every option that the command's help shows is described."""
    text = (PROJECT / "docs" / "reference" / "command.md").read_text(encoding="utf-8")
    options: set[str] = set()
    for command in ("check", "export", "format", "sounds", "practice", "explain"):
        with pytest.raises(SystemExit):
            main([command, "--help"])
        options |= set(re.findall(r"--[a-z-]+", capsys.readouterr().out)) - {"--help"}
    assert len(options) > 8
    assert {option for option in options if option not in text} == set()


def test_every_limit_is_on_its_page() -> None:
    """The table of limits has the rows of the class that holds them, in its order, with its numbers."""
    text = (PROJECT / "docs" / "reference" / "limits.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `(\w+)` \| ([\d,]+) \|", text, re.M)
    assert rows == [(one.name, f"{getattr(LIMITS, one.name):,}") for one in fields(Limits)]


def test_files_that_the_documentation_names_exist() -> None:
    """Schemas, examples and modules that a page names are in the project."""
    named = {
        match
        for page in [*PAGES, PROJECT / "DEVELOPERS.md"]
        for match in re.findall(
            r"`((?:src/fretloom|fretloom|examples|grammar|docs|tests)/[\w./-]+\.\w+)`",
            page.read_text(encoding="utf-8"),
        )
    }
    assert len(named) > 5
    places = (PROJECT, PROJECT / "src")
    assert {
        name for name in named if not any((place / name).is_file() for place in places)
    } == set()


def test_python_of_the_readme_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The ten lines of the readme work from the project's folder, and write a file."""
    (tmp_path / "examples").symlink_to(PROJECT / "examples")
    monkeypatch.chdir(tmp_path)
    codes = [
        match[2]
        for match in _FENCE.finditer((PROJECT / "README.md").read_text())
        if match[1] == "python"
    ]
    assert codes
    for code in codes:
        exec(compile(code, "README.md", "exec"), {})
    assert (tmp_path / "shuffle.musicxml").read_bytes().startswith(b"<?xml")


def test_readme_shows_what_check_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The finding in the readme is what the command prints for the lesson above it with a beat missing."""
    readme = (PROJECT / "README.md").read_text(encoding="utf-8")
    blocks = {match[1]: match[2] for match in _FENCE.finditer(readme)}
    monkeypatch.chdir(tmp_path)
    broken = blocks["lesson"].replace("p , p m , p i , p m\n", "p , p m , p i\n", 1)
    Path("two-cups.lesson").write_text(broken, encoding="utf-8")
    assert main(["check", "two-cups.lesson"]) == 1
    assert capsys.readouterr().out == blocks["text"]


def test_commands_of_the_readme_exist() -> None:
    """What the readme asks people to type is what the checks of the project run."""
    readme = (PROJECT / "README.md").read_text(encoding="utf-8")
    shells = [match[2] for match in _FENCE.finditer(readme) if match[1] == "sh"]
    assert len(shells) == 2
    words = shlex.split(shells[0])
    assert (PROJECT / next(word for word in words if word.endswith(".lesson"))).is_file()
    assert shells[1] == ".venv/bin/pytest -n auto\n"
    assert "\npytest -n auto\n" in (PROJECT / ".ci" / "run").read_text(encoding="utf-8")


def test_rules_that_the_documentation_names_exist() -> None:
    """Names after `# allow`, after `fretloom explain` and at the end of a finding are those of rules."""
    texts = [page.read_text(encoding="utf-8") for page in PAGES]
    named: set[str] = set()
    for text in texts:
        for waiver in re.findall(r"# allow ([a-z-]+(?:, [a-z-]+)*)", text):
            named.update(waiver.split(", "))
        named.update(re.findall(r"^\S+:\d+:\d+: \w+: .*\[([a-z-]+)\]$", text, re.M))
        named.update(re.findall(r"fretloom explain ([a-z-]+)", text))
    assert len(named) > 3
    assert named - {rule.name for rule in RULES} == set()


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_rule_has_a_page_for_the_documentation(rule: object) -> None:
    """The list of rules is made from the registry; each has a first sentence and a family."""
    found = page(rule.name)  # type: ignore[attr-defined]
    assert found is not None
    assert len(found.summary) > 20
    assert found.rule.family in FAMILIES
