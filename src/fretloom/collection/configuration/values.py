"""What a configuration is: choices about rules and files that are left out, each with the line it stands on.

It changes what is found fault with, never what is played: what changes the music belongs in the lesson.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fretloom.api import Diagnostic, Rule, Severity, known_rules
from fretloom.collection.configuration.patterns import fits
from fretloom.values import evolve, frozen

if TYPE_CHECKING:
    from fretloom.api import HouseStyle

#: What a rule or a family may be set to: not reported, as the rule says, or all of one severity.
OFF, ON = "off", "on"
WORDS = (OFF, ON, *(one.value for one in Severity))


@frozen
class RuleChoice:
    """A rule, or all rules of a family, and the word it is set to; `line` is 1-based."""

    name: str
    word: str
    line: int


@frozen
class LeftOutFiles:
    """A pattern of files that are left out, from the root on; `line` is 1-based."""

    pattern: str
    line: int


@frozen
class AskedFor:
    """A setting of the house style, as `HouseStyle` has it; `line` is 1-based."""

    name: str
    value: bool | tuple[str, ...]
    line: int


@frozen
class Configuration:
    """What holds for the lessons of a collection.

    Args:
        file: where it was read, None if there is none.
        rules: rules and families that are set.
        files: patterns of what is left out.
        asked: what the house style asks for.
    """

    file: Path | None = None
    rules: tuple[RuleChoice, ...] = ()
    files: tuple[LeftOutFiles, ...] = ()
    asked: tuple[AskedFor, ...] = ()

    @property
    def root(self) -> Path | None:
        """The folder of the file, which is the root of the collection."""
        return self.file.parent if self.file is not None else None

    @property
    def style(self) -> HouseStyle | None:
        """The house style, None if nothing is asked for."""
        if not self.asked:
            return None
        from fretloom.api import HouseStyle

        given: dict[str, Any] = {one.name: one.value for one in self.asked}
        return HouseStyle(**given)

    def leaving_out(self, lesson: Path) -> LeftOutFiles | None:
        """Return the pattern that leaves a file out, given by its resolved path; None if it is checked."""
        if self.root is None or not self.files or not lesson.is_relative_to(self.root):
            return None
        parts = lesson.relative_to(self.root).parts
        return next((one for one in self.files if fits(parts, one.pattern)), None)

    def choice_for(self, rule: Rule) -> RuleChoice | None:
        """Return what a rule is set to: by its own name, else by its family."""
        by_name = {one.name: one for one in self.rules}
        if rule.name in by_name:
            return by_name[rule.name]
        return by_name.get(rule.family) if may_be_set(rule) else None

    def applied(self, found: Iterable[Diagnostic]) -> Iterator[Diagnostic]:
        """Yield findings as the configuration wants them: without those that are off, and with its severities."""
        if not self.rules:
            yield from found
            return
        words = _words(self)
        for one in found:
            word = words.get(one.rule, ON)
            if word in (ON, one.severity.value):
                yield one
            elif word != OFF:
                yield evolve(one, severity=Severity(word))


@cache
def _words(configuration: Configuration) -> dict[str, str]:
    """Return what each rule is set to that is set to something."""
    chosen = ((one.name, configuration.choice_for(one)) for one in known_rules())
    return {name: choice.word for name, choice in chosen if choice is not None}


def may_be_set(rule: Rule) -> bool:
    """Whether a rule may be set; not what makes a lesson wrong, and not only unusual."""
    return rule.waivable or rule.severities[0] is not Severity.ERROR
