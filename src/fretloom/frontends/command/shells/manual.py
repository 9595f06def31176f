"""Writes the manual page of the command (man-pages(7), man(7)) from its parsers.

`python -m fretloom.frontends.command.shells.manual FILE` writes it; the wheel puts it where `man` looks.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap

from fretloom.frontends.command.shells.described import (
    DescribedArgument,
    DescribedCommand,
    DescribedOption,
    described,
)
from fretloom.version import VERSION

#: Lines of the source, which people read as well.
_COLUMNS = 72
_DESCRIPTION = (
    "Reads fingerstyle guitar lessons in plain text (.lesson files), says what is wrong in them and what to do "
    "about it, and writes what students take home: tab, chord diagrams, notation, words, practice plans, handouts "
    "and recordings.",
    "Results go to standard output, messages to standard error.",
)
_EXIT = (
    ("0", "All is well."),
    ("1", "The lesson has faults."),
    ("2", "The command could not run."),
    ("3", "Of ease alone: there is nothing to write."),
)
_ENVIRONMENT = (
    ("NO_COLOR", "If it is set and not empty, nothing is coloured. See https://no-color.org."),
    (
        "FORCE_COLOR",
        "If it is set and not empty, findings are coloured although no terminal shows them, unless NO_COLOR is set. "
        "See https://force-color.org.",
    ),
    ("XDG_CACHE_HOME", "The folder in which results of checks are kept."),
)
_FILES = (
    ("fretloom.toml", "What is settled for a collection of lessons; its folder is the root of it."),
    ("pyproject.toml", "The same in its table [tool.fretloom]."),
)


def page(whole: DescribedCommand) -> str:
    """Return the page as man(7) source."""
    return "\n".join([*_head(whole), *_commands(whole), *_tail()]) + "\n"


def _head(whole: DescribedCommand) -> Iterator[str]:
    yield f'.TH FRETLOOM 1 "" "fretloom {VERSION}" "User Commands"'
    yield from (".SH NAME", r"fretloom \- check and publish fingerstyle guitar lessons")
    yield ".SH SYNOPSIS"
    yield from (".B fretloom", r".I COMMAND", r".RI [ OPTION ].\|.\|.")
    yield ".SH DESCRIPTION"
    for number, paragraph in enumerate(_DESCRIPTION):
        yield from ([".PP"] if number else [])
        yield _paragraph(paragraph)
    yield ".SH OPTIONS"
    for option in whole.options:
        yield from _option(option)


def _commands(whole: DescribedCommand) -> Iterator[str]:
    yield ".SH COMMANDS"
    for one in whole.all():
        if not one.words or one.commands:
            continue
        yield f".SS fretloom {_text(one.called)}"
        yield _synopsis(one)
        yield ".PP"
        yield _paragraph(f"{one.says[:1].upper()}{one.says[1:]}.")
        for argument in one.arguments:
            if argument.says:
                yield from (
                    ".TP",
                    rf"\fI{_text(argument.value.name)}\fR",
                    _paragraph(argument.says),
                )
        for option in one.options:
            if "--help" not in option.names:
                yield from _option(option)


def _tail() -> Iterator[str]:
    tables = (("EXIT STATUS", _EXIT), ("ENVIRONMENT", _ENVIRONMENT), ("FILES", _FILES))
    for title, rows in tables:
        yield f".SH {title}"
        for name, says in rows:
            yield from (".TP", rf"\fB{_text(name)}\fR", _paragraph(says))


def _synopsis(command: DescribedCommand) -> str:
    """Return how a command is called: its arguments, and that it takes options."""
    arguments = " ".join(map(_shown, command.arguments))
    return rf"\fBfretloom {_text(command.called)}\fR [\fIOPTION\fR]\&... {arguments}".rstrip()


def _shown(argument: DescribedArgument) -> str:
    name = rf"\fI{_text(argument.value.name)}\fR" + (r"\&..." if argument.many else "")
    return f"[{name}]" if argument.optional else name


def _option(option: DescribedOption) -> Iterator[str]:
    """Yield an option with what it does, and the words that its value can be."""
    value = rf" \fI{_text(option.value.name)}\fR" if option.value is not None else ""
    yield ".TP"
    yield ", ".join(rf"\fB{_text(name)}\fR{value}" for name in option.names)
    words = option.value.words if option.value is not None else ()
    says = option.says
    if words and not any(word in says for word in words[1:]):
        says = f"{says}{'; ' if says else ''}one of {', '.join(words)}"
    yield _paragraph(says) if says else r"\&"


def _paragraph(text: str) -> str:
    """Return a text in lines, so that nothing in it is taken for a request of the typesetter."""
    lines = wrap(text, _COLUMNS, break_on_hyphens=False, break_long_words=False)
    return "\n".join(_text(line) for line in lines)


def _text(text: str) -> str:
    """Return a line so that nothing in it is taken for a request, an escape or a hyphen of the typesetter."""
    escaped = text.replace("\\", r"\e").replace("-", r"\-").replace("`", r"\(ga")
    escaped = escaped.replace("'", r"\(aq").replace("^", r"\(ha").replace("~", r"\(ti")
    return rf"\&{escaped}" if escaped.startswith(".") else escaped


if __name__ == "__main__":
    from fretloom.frontends.command.main import whole_parser

    Path(sys.argv[1]).write_text(page(described(whole_parser())), encoding="utf-8")
