"""Rules that other packages offer: what such a rule is, and running it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from typing import TYPE_CHECKING

from attrs import Attribute, field
from attrs.validators import deep_iterable, instance_of, matches_re, min_len

from fretloom import extensions
from fretloom.diagnostics import Diagnostic
from fretloom.errors import ExtensionFaulty
from fretloom.rule_facts import CHECKING, RULES, Rule, Severity
from fretloom.values import frozen

if TYPE_CHECKING:
    from fretloom.performance.reading import Reading

#: What the page of a rule has to say, in this order.
SECTIONS = ("What it checks", "Why", "Wrong", "Right")


def _has_all_sections(_: object, attribute: Attribute[str], page: str) -> None:
    headings = re.findall(r"^## +(.+?)[ \t]*$", page, re.M)
    missing = [section for section in SECTIONS if section not in headings]
    if missing:
        raise ValueError(f"{attribute.name} lacks the heading: ## {missing[0]}")


@frozen(kw_only=True)
class OwnRule:
    """A rule of another package, found by an entry point of the group `fretloom.rules`.

    Args:
        name: names the fault and reads well after "allow"; small letters, digits and hyphens. Begin
            it with a word of your own, so that no rule of fretloom will ever have it.
        severities: what it can be reported as, most serious first.
        check: takes a `Reading` and yields a `Diagnostic` for each fault.
        page: what `fretloom explain` shows, in Markdown, with the headings of `SECTIONS` and lessons
            in fences marked `lesson`.
        waivable: whether a comment may waive it.
    """

    name: str = field(validator=matches_re(r"[a-z][a-z0-9]*(-[a-z0-9]+)*"))
    severities: tuple[Severity, ...] = field(
        validator=[deep_iterable(instance_of(Severity), instance_of(tuple)), min_len(1)]
    )
    check: Callable[[Reading], Iterable[Diagnostic]]
    page: str = field(repr=False, validator=_has_all_sections)
    waivable: bool = True

    @property
    def facts(self) -> Rule:
        """Its row, as `rule_facts.RULES` has them of the other rules."""
        return Rule(self.name, "own", CHECKING, self.severities, self.waivable, False)


@cache
def own_rules() -> dict[str, OwnRule]:
    """Return the rules that other packages offer, by name.

    Raises:
        ExtensionFaulty: one cannot be loaded, or has the name of another rule.
    """
    found: dict[str, OwnRule] = {}
    for offer in extensions.offers(extensions.RULES):
        rule = offer.load(OwnRule)
        if rule.name in found or any(rule.name == one.name for one in RULES):
            raise ExtensionFaulty(f"{offer} cannot be used: there is another rule {rule.name}")
        found[rule.name] = rule
    return found


def findings_of(rule: OwnRule, reading: Reading) -> Iterator[Diagnostic]:
    """Run a rule of another package.

    Raises:
        ExtensionFaulty: it fails, or does not yield findings of its own.
    """
    try:
        for found in rule.check(reading):
            if not isinstance(found, Diagnostic) or found.rule != rule.name:
                raise ExtensionFaulty(
                    f"the rule {rule.name} yields something else than its own findings"
                )
            if found.severity not in rule.severities:
                word = found.severity.value
                raise ExtensionFaulty(f"the rule {rule.name} does not list the severity {word}")
            yield found
    except ExtensionFaulty:
        raise
    except (Exception, SystemExit) as error:
        what = f"failed: {extensions.why(error)}"
        raise extensions.failed("rule", rule.name, extensions.RULES, rule, what) from error
