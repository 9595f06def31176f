"""Shells complete the words of the command: asked as shells ask, in the shells themselves where they are installed."""

from __future__ import annotations

import shutil
import subprocess
from functools import cache
from pathlib import Path

import pytest

from fretloom.api import known_rules
from fretloom.frontends.command.main import main, whole_parser
from fretloom.frontends.command.shells import bash, fish, zsh
from fretloom.frontends.command.shells.described import (
    NOT_LOOKED_UP,
    DescribedCommand,
    described,
    names_of_rules,
)

RULES = {one.name for one in known_rules()}


@cache
def whole() -> DescribedCommand:
    """Return all commands."""
    return described(whole_parser())


#: What is typed, the last word up to the cursor, and what it is completed with, or some of it.
CASES: dict[str, set[str]] = {
    "ch": {"check"},
    "check --format ": {"text", "json", "github", "sarif", "junit", "gitlab"},
    "check --format=sa": {"sarif"},
    "check --max": {"--max-warnings"},
    "check inner/": {"inner/deep", "inner/waltz.lesson"},
    "check --select hands,stre": {"hands,stretch"},
    "check --strict two": {"two cups.lesson"},
    "export two --to mus": {"musicxml"},
    "export --paper ": {"a4", "letter", "strip"},
    "check --root ": {"inner"},
    "suggest ": {"voicing", "capo"},
    "suggest capo --high": {"--highest"},
    "suggest voicing --lesson inner/w": {"inner/waltz.lesson"},
    "explain unused-v": {"unused-voicing"},
    "completion ": {"bash", "zsh", "fish"},
    "check --jobs ": set(),
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with lessons, one of them with a blank in its name, and another file."""
    made = tmp_path_factory.mktemp("typed")
    (made / "inner/deep").mkdir(parents=True)
    for name in ("two cups.lesson", "notes.txt", "inner/waltz.lesson", "inner/words.txt"):
        (made / name).touch()
    return made


def in_bash(folder: Path) -> list[set[str]]:
    """Ask bash for all cases at once: each is cut into words as bash does it, which parts `--format=sa` at the sign."""
    (folder / "completion.bash").write_text(bash.script(whole()), encoding="utf-8")
    lines = ["source ./completion.bash"]
    for typed in CASES:
        words = [part for word in typed.split(" ") for part in _at_signs(word)]
        lines += [
            f"COMP_WORDS=(fretloom {' '.join(repr(word) for word in words)})",
            "COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _fretloom",
            'printf "%s\\n" "${COMPREPLY[@]}" "--next--"',
        ]
    (folder / "ask.bash").write_text("\n".join(lines), encoding="utf-8")
    done = subprocess.run(
        ["bash", "--norc", "ask.bash"], cwd=folder, capture_output=True, text=True, check=True
    )
    assert done.stderr == ""
    answers = done.stdout.split("--next--\n")[:-1]
    return [{line for line in answer.splitlines() if line} for answer in answers]


def _at_signs(word: str) -> list[str]:
    head, sign, tail = word.partition("=")
    return [head, sign, tail] if sign else [word]


@pytest.mark.process
@pytest.mark.skipif(shutil.which("bash") is None, reason="needs bash")
def test_bash_completes_what_is_typed(folder: Path) -> None:
    """Commands, options, their values, lessons and folders; nothing where nobody can know."""
    found = dict(zip(CASES, in_bash(folder), strict=True))
    assert found == CASES


@pytest.mark.process
@pytest.mark.skipif(shutil.which("fish") is None, reason="needs fish")
def test_fish_completes_what_is_typed(folder: Path) -> None:
    """By its own `complete -C`, which answers what would be shown, with descriptions behind a tab."""
    (folder / "completion.fish").write_text(fish.script(whole()), encoding="utf-8")
    asked = [typed for typed in CASES if "," not in typed and " two" not in typed]
    script = ["source completion.fish"]
    script += [f"complete -C 'fretloom {typed}'; echo -- --next--" for typed in asked]
    script.append("complete -C 'fretloom check '")
    done = subprocess.run(
        ["fish", "--no-config", "-c", "\n".join(script)],
        cwd=folder, capture_output=True, text=True, check=True,
    )  # fmt: skip
    *answers, behind = done.stdout.split("--next--\n")
    assert "inner/" in behind.split() and "export" not in behind.split()
    for typed, answer in zip(asked, answers, strict=True):
        words = {line.partition("\t")[0] for line in answer.splitlines()}
        wanted = {
            word.replace("sarif", "--format=sarif") if "=" in typed else word
            for word in CASES[typed]
        }
        assert wanted <= {word.rstrip("/") for word in words}, typed


@pytest.mark.process
@pytest.mark.skipif(shutil.which("zsh") is None, reason="needs zsh")
def test_zsh_reads_the_script(tmp_path: Path) -> None:
    """And defines a function for each command."""
    file = tmp_path / "_fretloom"
    file.write_text(zsh.script(whole()), encoding="utf-8")
    code = f"autoload -U compinit; compinit -D; source {file}; print -l ${{(k)functions}}"
    done = subprocess.run(["zsh", "-f", "-c", code], capture_output=True, text=True, check=True)
    assert done.stderr == ""
    assert {"_fretloom", "_fretloom_check", "_fretloom_play_along", "_fretloom_suggest_capo"} <= set(done.stdout.split())  # fmt: skip


def test_descriptions_hold_no_signs_that_divide_them() -> None:
    """What zsh reads has colons and brackets between its parts, and quotation marks around them."""
    script = zsh.script(whole())
    assert r"[default\: by the ending of OUT" in script
    assert (
        "'(--stdio)--stdio[speak over standard input and output, which it always does]'" in script
    )


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_command_prints_a_script_with_every_command_and_option(
    shell: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whatever help shows can be completed."""
    assert main(["completion", shell]) == 0
    script = capsys.readouterr().out
    for command in whole().all():
        assert not command.words or command.words[-1] in script
        for option in command.options:
            for name in option.names:
                assert (name if shell != "fish" else name.lstrip("-")) in script


def test_a_shell_that_is_not_known_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """With those that there are."""
    with pytest.raises(SystemExit):
        main(["completion", "csh"])
    assert "bash" in capsys.readouterr().err


def test_everything_that_takes_a_value_is_thought_of() -> None:
    """Each value has words, is looked up, or is one that nobody can look up."""
    values = [
        value
        for command in whole().all()
        for value in (
            *(one.value for one in command.options if one.value is not None),
            *(one.value for one in command.arguments),
        )
    ]
    assert {one.name for one in values if not one.words and not one.looked_up} == NOT_LOOKED_UP
    assert any(one.listed for one in values)


def test_rules_are_completed_by_name_and_family() -> None:
    """As `--select` takes them."""
    assert set(names_of_rules()) > RULES
    assert {"hands", "names"} <= set(names_of_rules())


def test_what_help_hides_is_not_completed() -> None:
    """An option that only editors pass on is no one's to type."""
    names = {name for one in whole().all() for option in one.options for name in option.names}
    assert "--clientProcessId" not in names
    assert {"--version", "-V", "--despite-errors", "--ring-ties"} <= names
