"""Completion for zsh (its manual, "Completion System", `_arguments`)."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.frontends.command.shells.described import (
    FILES,
    FOLDERS,
    LESSONS,
    RULES,
    DescribedArgument,
    DescribedCommand,
    DescribedOption,
    DescribedValue,
    names_of_rules,
)

_ACTIONS = {FILES: "_files", FOLDERS: "_files -/", LESSONS: '_files -g "*.lesson"'}


def script(whole: DescribedCommand) -> str:
    """Return the script that zsh reads, as a file called `_fretloom` or by `eval`."""
    functions = "\n".join(_function(one) for one in whole.all())
    return (
        "#compdef fretloom\n# Completion of fretloom for zsh, written by `fretloom completion zsh`.\n\n"
        f"{functions}\n"
        'if [[ $funcstack[1] == _fretloom ]]; then\n    _fretloom "$@"\nelse\n    compdef _fretloom fretloom\nfi\n'
    )


def _name(command: DescribedCommand) -> str:
    return "_".join(("_fretloom", *command.words)).replace("-", "_")


def _function(command: DescribedCommand) -> str:
    """Return the function that completes what follows a command."""
    specs = [spec for option in command.options for spec in _option(option)]
    if not command.commands:
        specs += [_argument(one) for one in command.arguments]
        body = _call(specs)
        return f"{_name(command)}() {{\n{body}\n}}\n"
    specs += ["'1:command:->command'", "'*::argument:->argument'"]
    rows = "\n".join(
        f"                {_quoted(f'{one.words[-1]}:{_plain(one.says)}')}"
        for one in command.commands
    )
    cases = "\n".join(
        f"                {one.words[-1]}) {_name(one)} ;;" for one in command.commands
    )
    return (
        f"{_name(command)}() {{\n    local -a commands line\n    local state\n{_call(specs, '-C ')}\n"
        f"    case $state in\n        command)\n            commands=(\n{rows}\n            )\n"
        f"            _describe command commands ;;\n        argument)\n            case $line[1] in\n{cases}\n"
        "            esac ;;\n    esac\n}\n"
    )


def _call(specs: list[str], flags: str = "") -> str:
    return " \\\n        ".join([f"    _arguments {flags}-s -S", *specs])


def _option(option: DescribedOption) -> Iterator[str]:
    """Yield what `_arguments` takes for an option: its names exclude one another unless it may come again."""
    value = _value(option.value) if option.value is not None else ""
    others = "*" if option.again else f"({' '.join(option.names)})"
    for name in option.names:
        yield _quoted(f"{others}{name}[{_plain(option.says)}]{value}")


def _argument(argument: DescribedArgument) -> str:
    many = "*" if argument.many else ""
    optional = ":" if argument.optional and not argument.many else ""
    return _quoted(f"{many}{optional}{_value(argument.value)}")


def _value(value: DescribedValue) -> str:
    """Return the message and what is looked up: `:FORM:(text json)`."""
    words = names_of_rules() if value.looked_up == RULES else value.words
    name = value.name.replace(":", "")
    if words and value.listed:
        return f":{name}:_values -s , {name} {' '.join(words)}"
    if words:
        return f":{name}:({' '.join(words)})"
    return f":{name}:{_ACTIONS.get(value.looked_up, '( )')}"


def _plain(says: str) -> str:
    """Return a description without the signs that divide one."""
    for sign in "\\[]:":
        says = says.replace(sign, f"\\{sign}")
    return says


def _quoted(text: str) -> str:
    escaped = text.replace("'", "'\\''")
    return f"'{escaped}'"
