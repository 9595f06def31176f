"""The commands as data: what argparse knows of them, and what can be completed where a value stands."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from functools import cache
from typing import Any

from fretloom import api
from fretloom.values import frozen

#: What can be looked up where a value is named so; a FILE without an option is a lesson.
LESSONS, FILES, FOLDERS, RULES = "lessons", "files", "folders", "rules"
_LOOKED_UP = {
    "FILE": FILES,
    "OUT": FILES,
    "FOLDER": FOLDERS,
    "LESSON": LESSONS,
    "PATH": LESSONS,
    "RULES": RULES,
}
#: Values that nobody can look up.
NOT_LOOKED_UP = frozenset(
    ("CHORD", "DATE", "FRET", "KEY", "N", "N,N", "N-N", "NAME", "NEW", "OLD", "REV", "STEP", "STRING")
)  # fmt: skip
#: The name of a value with commas between words.
_LIST = "WORDS"


@frozen
class DescribedValue:
    """A value of an option or an argument.

    Args:
        name: how help calls it.
        words: the words it can be, if these are known.
        looked_up: `LESSONS`, `FILES`, `FOLDERS` or `RULES`, "" for none of them.
        listed: several of them may be given with commas between them.
    """

    name: str
    words: tuple[str, ...] = ()
    looked_up: str = ""
    listed: bool = False


@frozen
class DescribedOption:
    """An option: its names, its value if it takes one, and what it does; `again` if it may be given again."""

    names: tuple[str, ...]
    value: DescribedValue | None
    says: str
    again: bool = False


@frozen
class DescribedArgument:
    """What is given without an option; `many` of them, or none if it is `optional`."""

    value: DescribedValue
    says: str
    many: bool = False
    optional: bool = False


@frozen
class DescribedCommand:
    """A command: the words that call it (none for the whole), what it does, and the commands in it."""

    words: tuple[str, ...]
    says: str
    options: tuple[DescribedOption, ...]
    arguments: tuple[DescribedArgument, ...]
    commands: tuple[DescribedCommand, ...] = ()

    @property
    def called(self) -> str:
        """The words that call it, without the program's own name: `suggest voicing`."""
        return " ".join(self.words)

    def all(self) -> Iterator[DescribedCommand]:
        """Yield this command, and all that are in it."""
        yield self
        for one in self.commands:
            yield from one.all()


def described(
    parser: argparse.ArgumentParser, words: tuple[str, ...] = (), says: str = ""
) -> DescribedCommand:
    """Return what a parser knows of a command."""
    options: list[DescribedOption] = []
    arguments: list[DescribedArgument] = []
    commands: list[DescribedCommand] = []
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            help_of = {one.dest: one.help or "" for one in action._choices_actions}
            commands += [
                described(inner, (*words, name), help_of.get(name, ""))
                for name, inner in action.choices.items()
            ]
        elif action.help != argparse.SUPPRESS:
            said = _said(parser, action)
            if action.option_strings:
                options.append(_option(action, said))
            else:
                arguments.append(_argument(action, said, words))
    return DescribedCommand(words, says, tuple(options), tuple(arguments), tuple(commands))


def _said(parser: argparse.ArgumentParser, action: argparse.Action) -> str:
    return parser._get_formatter()._expand_help(action) if action.help else ""


def _option(action: argparse.Action, says: str) -> DescribedOption:
    names = tuple(action.option_strings)
    value = None if action.nargs == 0 else _value(action, names[-1])
    again = isinstance(action, argparse._AppendAction)
    return DescribedOption(names, value, says, again)


def _argument(action: argparse.Action, says: str, words: tuple[str, ...]) -> DescribedArgument:
    value = _value(action, "")
    if value.looked_up == FILES:
        value = DescribedValue(value.name, value.words, LESSONS)
    if words == ("explain",):
        value = DescribedValue(value.name, looked_up=RULES)
    many = action.nargs in ("+", "*")
    return DescribedArgument(value, says, many, action.nargs in ("?", "*"))


def _value(action: argparse.Action, name: str) -> DescribedValue:
    shown = action.metavar if isinstance(action.metavar, str) else action.dest.upper()
    words = tuple(map(str, action.choices)) if action.choices is not None else ()
    words = words or _words_of_formats().get(name, ())
    looked_up = "" if words else _LOOKED_UP.get(shown, "")
    return DescribedValue(shown, words, looked_up, shown == _LIST or looked_up == RULES)


@cache
def _words_of_formats() -> dict[str, tuple[str, ...]]:
    """Return the words that options of formats can be, by the option as it is typed."""
    return {one.switch: one.kind.words for one in api.export_options() if one.kind.words}


@cache
def names_of_rules() -> tuple[str, ...]:
    """Return what a rule can be called by, its family among them."""
    rules: Any = api.known_rules()
    return tuple(sorted({word for one in rules for word in (one.name, one.family)}))
