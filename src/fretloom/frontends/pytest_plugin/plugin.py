"""The plugin that pytest finds by its entry point: it imports nothing of fretloom before lessons are asked for.

pytest imports it in every run wherever fretloom is installed, so it must cost nothing.
"""

from __future__ import annotations

from pathlib import Path

import pytest

OFF, CHECK, STRICT = "off", "check", "strict"
_SETTING = "lessons"
_SUFFIX = ".lesson"


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the options, and the setting for a project's own configuration."""
    group = parser.getgroup("fretloom", "lessons of fretloom")
    group.addoption(
        "--lessons", action="store_const", const=CHECK, help="make each .lesson file a test"
    )
    group.addoption(
        "--lessons-strict",
        action="store_const",
        const=STRICT,
        dest="lessons",
        help="the same, and a warning makes it fail as an error does",
    )
    group.addoption(
        "--no-lessons",
        action="store_const",
        const=OFF,
        dest="lessons",
        help="make no tests of lessons, whatever the configuration says",
    )
    words = ", ".join((OFF, CHECK, STRICT))
    parser.addini(_SETTING, f"whether each .lesson file is a test: {words}", default=OFF)


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> pytest.Collector | None:
    """Take in a lesson, if that was asked for."""
    if file_path.suffix != _SUFFIX:
        return None
    how = _how(parent.config)
    if how == OFF:
        return None
    from fretloom.frontends.pytest_plugin.lesson_tests import LessonFile

    return LessonFile.of(parent, file_path, strict=how == STRICT)


def pytest_configure(config: pytest.Config) -> None:
    """Refuse a setting that is not known.

    Raises:
        pytest.UsageError: it is none of the words.
    """
    how = _how(config)
    if how not in (OFF, CHECK, STRICT):
        raise pytest.UsageError(f"{_SETTING} is {OFF}, {CHECK} or {STRICT}, not {how!r}")


def _how(config: pytest.Config) -> str:
    given: str | None = config.getoption(_SETTING)
    return given or str(config.getini(_SETTING)).strip()
