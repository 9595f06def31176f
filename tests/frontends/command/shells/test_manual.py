"""The manual page says what the parsers know, and the programs that show such pages have nothing to say against it."""

from __future__ import annotations

import re
import shutil
import subprocess
import tomllib
from functools import cache

import pytest
from places import PROJECT

from fretloom.frontends.command.main import whole_parser
from fretloom.frontends.command.shells.described import (
    DescribedCommand,
    DescribedOption,
    DescribedValue,
    described,
)
from fretloom.frontends.command.shells.manual import page

WRITTEN = PROJECT / "docs/man/fretloom.1"


@cache
def whole() -> DescribedCommand:
    """Return all commands."""
    return described(whole_parser())


def test_the_written_page_is_that_of_the_parsers() -> None:
    """Write it anew with `python -m fretloom.frontends.command.shells.manual docs/man/fretloom.1`."""
    assert WRITTEN.read_text(encoding="utf-8") == page(whole())


def test_every_command_and_option_is_on_it() -> None:
    """Under its command, with every name."""
    text = WRITTEN.read_text(encoding="utf-8").replace(r"\-", "-")
    parts = dict(re.findall(r"^\.SS fretloom (.*)\n((?:(?!\.S[SH]).*\n)*)", text, re.M))
    for one in whole().all():
        if one.words and not one.commands:
            for option in one.options:
                assert all(f"\\fB{n}\\fR" in parts[one.called] or n in ("-h", "--help") for n in option.names)  # fmt: skip


def test_nothing_is_taken_for_an_instruction() -> None:
    """A backslash, a full stop or a quotation mark at the beginning of a line, and hyphens, are shown as they are."""
    value = DescribedValue("N-N")
    option = DescribedOption(("--odd",), value, ".hidden 'way' \\fB of `a` ~ b^c - here")
    odd = page(DescribedCommand((), "", (option,), ()))
    assert r"\fB\-\-odd\fR \fIN\-N\fR" in odd
    assert r"\&.hidden \(aqway\(aq \efB of \(gaa\(ga \(ti b\(hac \- here" in odd


def test_the_wheel_puts_it_where_man_looks() -> None:
    """In `share/man/man1` of the environment it is installed into (man(1), its search path)."""
    project = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))
    shared = project["tool"]["hatch"]["build"]["targets"]["wheel"]["shared-data"]
    assert shared == {"docs/man/fretloom.1": "share/man/man1/fretloom.1"}
    assert WRITTEN.is_file()


@pytest.mark.process
@pytest.mark.parametrize(
    "command",
    [
        ["groff", "-ww", "-man", "-Tutf8", "-z"],
        ["mandoc", "-T", "lint", "-W", "warning"],
    ],
    ids=lambda command: command[0],
)
def test_typesetters_have_nothing_to_say_against_it(command: list[str]) -> None:
    """But that it has no date, which would make every build another one."""
    if shutil.which(command[0]) is None:
        pytest.skip(f"needs {command[0]}")
    done = subprocess.run([*command, str(WRITTEN)], capture_output=True, text=True, check=False)
    said = [line for line in (done.stdout + done.stderr).splitlines() if "missing date" not in line]
    assert said == []
