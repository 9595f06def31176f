"""Completion for bash (its manual, "Programmable Completion"), from version 3.2 on, without other packages."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.frontends.command.shells.described import (
    FILES,
    FOLDERS,
    LESSONS,
    RULES,
    DescribedCommand,
    DescribedValue,
    names_of_rules,
)

_BEGINNING = """\
# Completion of fretloom for bash, written by `fretloom completion bash`.

_fretloom_words() { COMPREPLY=($(compgen -W "$1" -- "$cur")); }

_fretloom_list() {
    local head=""
    [[ $cur == *,* ]] && head="${cur%,*},"
    COMPREPLY=($(compgen -P "$head" -W "$1" -- "${cur##*,}"))
}

_fretloom_paths() {
    local line
    type compopt > /dev/null 2>&1 && compopt -o filenames 2> /dev/null
    while IFS= read -r line; do COMPREPLY+=("$line"); done
}

_fretloom_files() { _fretloom_paths < <(compgen -f -- "$cur"); }
_fretloom_folders() { _fretloom_paths < <(compgen -d -- "$cur"); }
_fretloom_lessons() { _fretloom_paths < <(compgen -d -- "$cur"; compgen -f -X '!*.lesson' -- "$cur"); }

_fretloom() {
    local cur=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command="" at
    COMPREPLY=()
    if [[ $cur == "=" ]]; then
        cur=""
    elif [[ $before == "=" ]]; then
        before=${COMP_WORDS[COMP_CWORD-2]}
    fi
    for ((at = 1; at < COMP_CWORD; at++)); do
        case "$command|${COMP_WORDS[at]}" in
"""
_VALUES = """\
        esac
    done
    case "$command $before" in
"""
_OPTIONS = """\
    esac
    case "$command" in
"""
_END = """\
    esac
}

complete -F _fretloom fretloom
"""


def script(whole: DescribedCommand) -> str:
    """Return the script that bash reads."""
    commands = list(whole.all())
    return "".join(
        [
            _BEGINNING,
            *(f"{' ' * 12}{_case(*found)}\n" for found in _ways(whole)),
            _VALUES,
            *(f"{' ' * 8}{line}\n" for one in commands for line in _values(one)),
            _OPTIONS,
            *(f"{' ' * 8}{line}\n" for one in commands for line in _plain(one)),
            _END,
        ]
    )


def _ways(command: DescribedCommand) -> Iterator[tuple[str, str]]:
    """Yield each word that leads from a command to one in it, and that one."""
    for inner in command.commands:
        yield f'"{command.called}|{inner.words[-1]}"', f'command="{inner.called}"'
        yield from _ways(inner)


def _case(pattern: str, does: str) -> str:
    return f"{pattern}) {does} ;;"


def _values(command: DescribedCommand) -> Iterator[str]:
    """Yield what completes the value of each option that takes one."""
    for option in command.options:
        if option.value is not None:
            names = "|".join(f'"{command.called} {name}"' for name in option.names)
            yield _case(names, f"{_looking(option.value)}; return")


def _plain(command: DescribedCommand) -> Iterator[str]:
    """Yield what completes an option, or what stands without one."""
    names = " ".join(name for option in command.options for name in option.names)
    inner = " ".join(one.words[-1] for one in command.commands)
    looks = f'_fretloom_words "{inner}"' if inner else ""
    if command.arguments:
        looks = _looking(command.arguments[0].value)
    does = f'if [[ $cur == -* ]]; then _fretloom_words "{names}"; else {looks or ":"}; fi'
    yield _case(f'"{command.called}"', does)


def _looking(value: DescribedValue) -> str:
    """Return the call that completes a value; nothing for what nobody can look up."""
    words = " ".join(names_of_rules() if value.looked_up == RULES else value.words)
    if words:
        return f'{"_fretloom_list" if value.listed else "_fretloom_words"} "{words}"'
    calls = {LESSONS: "_fretloom_lessons", FILES: "_fretloom_files", FOLDERS: "_fretloom_folders"}
    return calls.get(value.looked_up, ":")
