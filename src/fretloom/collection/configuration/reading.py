"""Reads a configuration, and refuses what it does not know, with the line and what may have been meant."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NoReturn

from fretloom.api import Severity, known_rules
from fretloom.collection.configuration.values import (
    OFF,
    ON,
    WORDS,
    AskedFor,
    Configuration,
    LeftOutFiles,
    RuleChoice,
    may_be_set,
)
from fretloom.errors import FretloomError
from fretloom.rule_facts import FAMILIES
from fretloom.rules.house_style import wrong_line
from fretloom.text import listed, nearest, shown_name, visible

#: The files that can hold one, in the order in which they are looked for, and the table in each.
PLACES = {"fretloom.toml": (), "pyproject.toml": ("tool", "fretloom")}
#: The settings that there are.
LEAVE_OUT, RULES, HOUSE_STYLE = SETTINGS = ("leave-out", "rules", "house-style")
_HEADING = "heading"
_ASKED = (_HEADING, "fingers", "steps", "canonical")
_MOST_BYTES = 1_000_000
_MOST_PATTERNS = 1_000


def read_configuration(file: Path) -> Configuration | None:
    """Return what a file settles, None if it is one for many programs and says nothing for this one.

    Raises:
        FretloomError: it cannot be read, or says what is not known; with file and line.
    """
    return _File(file).configuration()


class _File:
    """A file that is being read."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self.table: tuple[str, ...] = PLACES[file.name]
        self.text = ""

    def configuration(self) -> Configuration | None:
        """Read all of it."""
        data = self._bytes()
        if self.table and b"fretloom" not in data:
            return None
        found: Any = self._parsed(data)
        for name in self.table:
            found = found.get(name) if isinstance(found, dict) else None
            if found is None:
                return None
        if not isinstance(found, dict):
            self._refuse((), "tool.fretloom is a table: write [tool.fretloom] above what is set")
        for name in found:
            if name not in SETTINGS:
                near = _near(name, SETTINGS)
                self._refuse((name,), f"there is no setting {_said(name)}{near}")
        return Configuration(
            self.file,
            tuple(self._rules(found.get(RULES, {}))),
            tuple(self._left_out(found.get(LEAVE_OUT, []))),
            tuple(self._style(found.get(HOUSE_STYLE, {}))),
        )

    def _bytes(self) -> bytes:
        try:
            with self.file.open("rb") as opened:
                data = opened.read(_MOST_BYTES + 1)
        except OSError as error:
            why = error.strerror or error
            raise FretloomError(f"{shown_name(self.file)} cannot be read: {why}") from None
        if len(data) > _MOST_BYTES:
            raise FretloomError(
                f"{shown_name(self.file)} is too large: more than {_MOST_BYTES:,} bytes"
            )
        return data

    def _parsed(self, data: bytes) -> dict[str, Any]:
        # Most collections settle nothing, and a check of one lesson is to start at once.
        import tomllib

        try:
            self.text = data.decode("utf-8-sig")
            return tomllib.loads(self.text)
        except UnicodeDecodeError:
            why = "is not saved as UTF-8: save it again as UTF-8"
        except tomllib.TOMLDecodeError as error:
            line = re.search(r"at line (\d+)", str(error))
            place = f"{shown_name(self.file)}:{line[1] if line else 1}"
            raise FretloomError(f"{place}: this is not TOML: {visible(str(error))}") from None
        except RecursionError:
            why = "is nested too deep"
        raise FretloomError(f"{shown_name(self.file)} {why}")

    def _rules(self, found: object) -> Iterator[RuleChoice]:
        if not isinstance(found, dict):
            self._refuse((RULES,), f"{RULES} is a table, such as: [{'.'.join((*self.table, RULES))}]")  # fmt: skip
        for name, word in found.items():
            self._look_at(name, word)
            yield RuleChoice(name, word, self._line((RULES, name)))

    def _look_at(self, name: str, word: object) -> None:
        """Refuse a rule that there is not, that may not be set, or a word that means nothing."""
        rules = {one.name: one for one in known_rules()}
        where = (RULES, name)
        if name not in rules and name not in FAMILIES:
            near = _near(name, (*rules, *FAMILIES))
            self._refuse(where, f"there is no rule and no family of rules {_said(name)}{near}")
        if word not in WORDS:
            words = listed((f'"{one}"' for one in WORDS), "or")
            self._refuse(where, f"{name} can be {words}, not {_value(word)}")
        named = [rules[name]] if name in rules else [one for one in rules.values() if one.family == name]  # fmt: skip
        same = (ON, Severity.ERROR.value)
        if named and word not in same and not any(may_be_set(one) for one in named):
            what = "what it finds makes a lesson wrong, not only unusual"
            done = "switched off" if word == OFF else "made milder"
            self._refuse(where, f"{name} cannot be {done}: {what}")

    def _left_out(self, found: object) -> Iterator[LeftOutFiles]:
        where = (LEAVE_OUT,)
        if not isinstance(found, list) or not all(isinstance(one, str) for one in found):
            self._refuse(where, f'{LEAVE_OUT} is a list of patterns, such as: ["drafts", "**/old-*"]')  # fmt: skip
        if len(found) > _MOST_PATTERNS:
            self._refuse(where, f"{LEAVE_OUT} has more than {_MOST_PATTERNS:,} patterns")
        for pattern in found:
            parts = pattern.split("/")
            if pattern.startswith("/") or "\\" in pattern or ".." in parts or not pattern.strip("/. "):  # fmt: skip
                why = "is a path from the folder of this file, with / between folders"
                self._refuse(where, f"each pattern of {LEAVE_OUT} {why}, not {_value(pattern)}", pattern)  # fmt: skip
            yield LeftOutFiles(pattern, self._line(where, pattern))

    def _style(self, found: object) -> Iterator[AskedFor]:
        if not isinstance(found, dict):
            name = ".".join((*self.table, HOUSE_STYLE))
            self._refuse((HOUSE_STYLE,), f"{HOUSE_STYLE} is a table, such as: [{name}]")
        for name, value in found.items():
            where = (HOUSE_STYLE, name)
            if name not in _ASKED:
                near = _near(name, _ASKED)
                self._refuse(where, f"a house style has no setting {_said(name)}{near}")
            if name == _HEADING:
                yield AskedFor(name, self._lines_of(where, value), self._line(where))
                continue
            if not isinstance(value, bool):
                self._refuse(where, f"{name} can be true or false, not {_value(value)}")
            yield AskedFor(name, value, self._line(where))

    def _lines_of(self, where: tuple[str, ...], found: object) -> tuple[str, ...]:
        """Return a list of lines that a heading can have, and refuse anything else."""
        if not isinstance(found, list) or not all(isinstance(one, str) for one in found):
            self._refuse(where, f'{_HEADING} is a list of lines, such as: ["by", "tempo"]')
        for words in found:
            if fault := wrong_line(words):
                self._refuse(where, visible(fault), words)
        return tuple(found)

    def _line(self, keys: tuple[str, ...], value: str = "") -> int:
        from fretloom.collection.configuration.toml_lines import line_of

        return line_of(self.text, (*self.table, *keys), value)

    def _refuse(self, keys: tuple[str, ...], why: str, value: str = "") -> NoReturn:
        raise FretloomError(f"{shown_name(self.file)}:{self._line(keys, value)}: {why}")


def _near(name: str, known: Mapping[str, object] | tuple[str, ...]) -> str:
    near = nearest(name, known)
    return f"; did you mean {near}?" if near else f"; there are {listed(known)}" if len(known) < 5 else ""  # fmt: skip


def _said(name: str) -> str:
    return shown_name(name[:60]) or '""'


def _value(found: object) -> str:
    """Return a value as it stands in the file."""
    if isinstance(found, bool):
        return str(found).lower()
    if isinstance(found, str):
        return f'"{_said(found) if found else ""}"'
    if isinstance(found, dict | list):
        return "a table" if isinstance(found, dict) else "a list"
    return _said(str(found))
