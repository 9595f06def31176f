"""The tutorial, walked: its files are written, its commands run, and what it shows is what comes."""

from __future__ import annotations

import re
import shlex
import tomllib
from itertools import pairwise
from pathlib import Path

import pytest
from places import PROJECT

from fretloom.frontends.command.main import main

_FENCE = re.compile(r"^```(\S+)\n(.*?)^```$", re.M | re.S)


def blocks_of(page: str) -> list[tuple[str, str]]:
    """Return the language and the text of each block of a page."""
    return _FENCE.findall((PROJECT / page).read_text(encoding="utf-8"))


BLOCKS = blocks_of("docs/tutorial/first-lesson.md")
#: The lines that the page has the reader break, and how.
BREAKS = {
    "  plain  p , p m , p i , p m\n": "  plain  p , p m , p i\n",
    "  C | Am | C x2\n": "  C | AM | C x2\n",
}
SLIPS = "".join(BREAKS.values())


def broken(lesson: str) -> str:
    for whole, slip in BREAKS.items():
        assert lesson.count(whole) == 1
        lesson = lesson.replace(whole, slip)
    return lesson


def said(commands: str, capsys: pytest.CaptureFixture[str]) -> str:
    """Run the lines that call fretloom, and return what a terminal shows."""
    printed = ""
    for line in commands.splitlines():
        command, *words = shlex.split(line)
        if command == "fretloom":
            try:
                main(words)
            except SystemExit as end:
                assert end.code == 0, line
            printed += "".join(capsys.readouterr())
    return printed


def shows(shown: str, printed: str) -> bool:
    """Compare whole lines; a line `...` stands for any number of them."""
    parts = [re.escape(part) for part in re.split(r"^\.\.\.\n", shown, flags=re.M)]
    return bool(re.fullmatch("(?:.*\n)*?".join(parts), printed))


def test_every_command_gives_what_the_page_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """From the first check to the last tab; the slips are mended after one check, as the page says."""
    monkeypatch.chdir(tmp_path)
    file, lesson, compared = Path("first.lesson"), "", 0
    for (kind, text), (next_kind, following) in pairwise([*BLOCKS, ("", "")]):
        if kind == "lesson":
            lesson = text
            file.write_text(lesson, encoding="utf-8")
        elif text == SLIPS:
            file.write_text(broken(lesson), encoding="utf-8")
        elif kind == "sh":
            printed = said(text, capsys)
            if next_kind == "text":
                assert shows(following, printed), printed
                compared += 1
            file.write_text(lesson, encoding="utf-8")
    assert compared == sum(kind == "text" for kind, _ in BLOCKS) - 1
    assert {one.name for one in tmp_path.iterdir()} == {"first.lesson", "first.musicxml", "first.txt"}  # fmt: skip


def test_the_parts_are_the_whole_file() -> None:
    """Whoever types them one below the other has the file that is shown."""
    parts = [text for kind, text in BLOCKS if kind == "lesson-part"]
    assert "\n".join(parts) == next(text for kind, text in BLOCKS if kind == "lesson")


def test_the_command_is_found_after_what_the_page_says_to_type() -> None:
    """The first command is the readme's, and makes the environment that the second one opens."""
    install, activate = (text for kind, text in BLOCKS[:2] if kind == "sh")
    assert install == next(text for kind, text in blocks_of("README.md") if kind == "sh")
    folder = re.match(r"python3 -m venv (\S+) && ", install)
    assert folder is not None
    assert activate.startswith(f". {folder[1]}/bin/activate\n")
    project = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert "fretloom" in project["scripts"]


@pytest.mark.parametrize(
    ("shown", "printed", "same"),
    [
        ("a\n...\nc\n", "a\nb\nb\nc\n", True),
        ("a\n...\n", "a\n", True),
        ("a\n", "a\nb\n", False),
        ("...\nb\n", "a\nab\n", False),
        ("a.\n", "ab\n", False),
    ],
)
def test_dots_stand_for_whole_lines(shown: str, printed: str, same: bool) -> None:
    """Everything else is compared as it stands."""
    assert shows(shown, printed) is same
