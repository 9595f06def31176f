"""Short lessons for the tests of rules, and a short way to say what was found in them."""

from __future__ import annotations

from fretloom.api import check, loads
from fretloom.diagnostics import Diagnostic
from fretloom.rule_facts import Rule
from fretloom.rules.house_style import FAMILY, HouseStyle

#: What the pages of the rules of a house style ask for.
STYLE = HouseStyle(heading=("by", "tempo", "level"), fingers=True, steps=True, canonical=True)

HEAD = 'lesson "Two cups"\n  meter 4/4\n'
VOICINGS = "voicings\n  C  x32010  fingers .32.1.  bass 5 4 5 4\n"
PATTERNS = "patterns\n  plain  p , p m , p i , p m\n"
SECTION = "section tune  using plain\n  C | C\n"


def lesson(
    head: str = HEAD,
    voicings: str = VOICINGS,
    patterns: str = PATTERNS,
    section: str = SECTION,
    more: str = "",
) -> str:
    """Return a whole lesson of which a test changes one block."""
    return "\n".join((head, voicings, patterns, section, more))


def findings(text: str) -> list[Diagnostic]:
    """Check a text."""
    return check(loads(text))


def reported(text: str) -> list[tuple[str, str]]:
    """Check a text and return (severity, rule) of each finding."""
    return [(one.severity.value, one.rule) for one in findings(text)]


def asked_by(rule: Rule) -> HouseStyle | None:
    """Return the house style in which the page of a rule shows its lessons."""
    return STYLE if rule.family == FAMILY else None


def plucked(pattern: str, head: str = HEAD, more: str = "") -> list[tuple[str, str]]:
    """Check a lesson whose only pattern begins with the given beat."""
    patterns = f"patterns\n  plain  {pattern} , p m , p i , p m\n"
    return reported(lesson(head=head, patterns=patterns, more=more))
