"""The pages say of formats and their options what the program knows of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.api import Option, export_options, known_formats

REFERENCE = Path(__file__).parents[2] / "docs" / "reference"


def lines_of(page: str) -> list[str]:
    return (REFERENCE / page).read_text(encoding="utf-8").splitlines()


def meaning_of(option: Option) -> str:
    if not option.kind.shown:
        return option.says
    usual = f", {option.default} by default" if option.default not in (None, ()) else ""
    return f"{option.says}; {option.kind.allowed}{usual}"


def test_the_formats_stand_on_the_page_of_the_command() -> None:
    """A row for each, and none for what is not there."""
    rows = [f"| `{one.name}` | `{one.ending}` | {one.says} |" for one in known_formats()]
    lines = lines_of("command.md")
    start = lines.index("| format | ending | what it is |") + 2
    assert lines[start : start + len(rows) + 1] == [*rows, ""]


def test_the_options_of_the_formats_stand_on_the_page_of_the_command() -> None:
    """A row for each, with the formats that take it, its values and its default."""
    rows = []
    for option, names in export_options().items():
        shown = f"{option.switch} {option.kind.shown}".rstrip()
        rows.append(f"| `{shown}` | {', '.join(names)} | {meaning_of(option)} |")
    lines = lines_of("command.md")
    start = lines.index("| option of a format | formats | meaning |") + 2
    assert lines[start : start + len(rows) + 1] == [*rows, ""]


@pytest.mark.parametrize(
    ("page", "name"),
    [
        ("tab.md", "tab"),
        ("musicxml.md", "musicxml"),
        ("pictures.md", "png"),
        ("words.md", "words"),
        ("handout.md", "handout"),
        ("drawn-tab.md", "drawn-tab"),
        ("practice.md", "practice"),
        ("script.md", "script"),
        ("playback-json.md", "playback"),
        ("captions.md playback-json.md", "captions"),
    ],
)
def test_the_options_of_a_format_stand_on_its_page(page: str, name: str) -> None:
    """A row for each, as the library calls it; or on the page to which its own points."""
    lines = [line for one in page.split() for line in lines_of(one)]
    for option, names in export_options().items():
        if name in names:
            assert any(line.startswith(f"| `{option.name}` |") for line in lines), option.name
