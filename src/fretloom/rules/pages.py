"""The pages of the rules: what each checks, why, and a lesson that is wrong and one that is right.

They stand in `families/<family>/page.md`, one heading a rule, and are read by `fretloom explain`, by the
documentation and by the tests, which run both lessons. `{caution}` stands for the usual caution, so
that its words are the same everywhere.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator

from attrs import field

from fretloom.package_data import packaged_text
from fretloom.rule_facts import FAMILIES, Rule
from fretloom.rules.own import SECTIONS, own_rules
from fretloom.rules.registry import all_rules, find_rule
from fretloom.text import CLOSELY_ALIKE, listed, near_names
from fretloom.trade.wording import CAUTION
from fretloom.values import frozen

_CAUTION_HERE = "{caution}"
_WIDTH = 78
_RULE = re.compile(r"^# +(\S+)\s*$", re.M)
_SECTION = re.compile(r"^## +(.+?)\s*$", re.M)
_FENCE = re.compile(r"^```lesson(?: +(\S+))?\n(.*?)^```\s*$", re.M | re.S)


@frozen
class RulePage:
    """The page of one rule; `sections` by the names in `SECTIONS`, as Markdown."""

    rule: Rule
    sections: dict[str, str] = field(repr=False)

    @property
    def summary(self) -> str:
        """The first sentence of what the rule checks."""
        return re.split(r"(?<=[.!?])\s", " ".join(self.sections["What it checks"].split()))[0]

    def lessons(self, section: str) -> dict[str, str]:
        """Return the files shown in a section, by name; the one to check is called "example.lesson"."""
        found = _FENCE.finditer(self.sections[section])
        return {match[1] or "example.lesson": match[2] for match in found}


def page(name: str) -> RulePage | None:
    """Return the page of a rule; None if the rule does not exist."""
    rule = find_rule(name)
    if rule is None:
        return None
    if rule.family == "own":
        return RulePage(rule, _sections(own_rules()[name].page))
    text = packaged_text("fretloom.rules", f"families/{rule.family}/page.md")
    text = _cut(text, _RULE).get(name, "").replace(_CAUTION_HERE, CAUTION)
    return RulePage(rule, _sections(text))


def near_rules(name: str) -> list[str]:
    """Return the names of rules that are most like what was written."""
    names = [rule.name for rule in all_rules()]
    words = set(name.lower().split("-"))
    sharing = [one for one in names if words & set(one.split("-"))]
    return list(dict.fromkeys([*near_names(name.lower(), names, 3, CLOSELY_ALIKE), *sharing]))[:5]


def family_as_text(family: str) -> str:
    """Return the rules of a family for a terminal: its title, then each with what it checks in a sentence."""
    title = FAMILIES[family]
    lines = [title, "=" * len(title), ""]
    for rule in all_rules():
        found = page(rule.name) if rule.family == family else None
        if found is not None:
            lines += [
                rule.name,
                *textwrap.wrap(found.summary, _WIDTH, initial_indent="  ", subsequent_indent="  "),
            ]
    return "\n".join(lines if len(lines) > 3 else [*lines, "There are none here."])


def as_text(found: RulePage) -> str:
    """Return a page as plain text for a terminal."""
    rule = found.rule
    severities = listed((severity.value for severity in rule.severities), "or")
    waiver = "cannot be waived"
    if rule.waivable:
        waiver = f"can be waived: # allow {rule.name}: the reason"
    lines = [rule.name, "=" * len(rule.name), f"{severities}; {waiver}", ""]
    for name in SECTIONS:
        lines += [name, "-" * len(name), *_shown(found.sections[name]), ""]
    return "\n".join(lines)


def _shown(section: str) -> Iterator[str]:
    """Yield the lines of a section: prose wrapped, lessons indented."""
    position = 0
    for match in _FENCE.finditer(section):
        yield from _wrapped(section[position : match.start()])
        yield _indented(match)
        position = match.end()
    yield from _wrapped(section[position:])


def _wrapped(prose: str) -> Iterator[str]:
    for number, paragraph in enumerate(re.split(r"\n\s*\n", prose.strip("\n"))):
        if number or not paragraph:
            yield ""
        yield from textwrap.wrap(paragraph, _WIDTH, break_long_words=False, break_on_hyphens=False)


def _indented(match: re.Match[str]) -> str:
    title = f"{match[1]}:\n" if match[1] else ""
    return title + "\n".join(f"    {line}" if line else "" for line in match[2].splitlines())


def _sections(text: str) -> dict[str, str]:
    found = _cut(text, _SECTION)
    return {name: found.get(name, "").strip("\n") for name in SECTIONS}


def _cut(text: str, heading: re.Pattern[str]) -> dict[str, str]:
    marks = list(heading.finditer(text))
    ends = [mark.start() for mark in marks[1:]] + [len(text)]
    return {mark[1]: text[mark.end() : end] for mark, end in zip(marks, ends, strict=True)}
