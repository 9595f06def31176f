"""Completion for fish (its manual, `complete`)."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.frontends.command.shells.described import (
    FILES,
    FOLDERS,
    LESSONS,
    RULES,
    DescribedCommand,
    DescribedOption,
    DescribedValue,
    names_of_rules,
)

_LOOKS = {
    FOLDERS: "(__fish_complete_directories)",
    LESSONS: "(__fish_complete_suffix .lesson)",
}


def script(whole: DescribedCommand) -> str:
    """Return the script that fish reads."""
    first = "# Completion of fretloom for fish, written by `fretloom completion fish`."
    lines = [line for one in whole.all() for line in _lines(one)]
    return "\n".join([first, "complete -c fretloom -f", *lines, ""])


def _lines(command: DescribedCommand) -> Iterator[str]:
    """Yield a line for each option of a command, for what it takes without one, and for the commands in it."""
    where = _where(command)
    for inner in command.commands:
        yield f"complete -c fretloom {where} -a {inner.words[-1]} -d {_quoted(inner.says)}"
    for option in command.options:
        yield f"complete -c fretloom {where} {_option(option)}"
    if command.arguments:
        value = command.arguments[0].value
        words = _words(value) or _LOOKS.get(value.looked_up, "")
        if words:
            yield f"complete -c fretloom {where} -k -a {_quoted(words)}"


def _where(command: DescribedCommand) -> str:
    """Return the condition under which a command is the one that is typed."""
    seen = [f"__fish_seen_subcommand_from {word}" for word in command.words]
    if command.commands:
        inner = " ".join(one.words[-1] for one in command.commands)
        seen.append(f"not __fish_seen_subcommand_from {inner}")
    return f"-n {_quoted('; and '.join(seen))}"


def _option(option: DescribedOption) -> str:
    names = " ".join(
        f"-l {name[2:]}" if name.startswith("--") else f"-s {name[1:]}" for name in option.names
    )
    says = f"-d {_quoted(option.says)}"
    if option.value is None:
        return f"{names} {says}"
    if option.value.looked_up == FILES:
        return f"{names} -r -F {says}"
    words = _words(option.value) or _LOOKS.get(option.value.looked_up, "")
    return f"{names} -x {f'-a {_quoted(words)} ' if words else ''}{says}"


def _words(value: DescribedValue) -> str:
    return " ".join(names_of_rules() if value.looked_up == RULES else value.words)


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace("'", "\\'")
    return f"'{escaped}'"
