"""Every rule that is reported anywhere is registered, with the severity it is reported with."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import fretloom
from fretloom.api import check, loads
from fretloom.rule_facts import FAMILIES, RULES, Severity, find_rule, rules_of
from fretloom.rules.registry import CHECKS

SOURCE = Path(fretloom.__file__).parent
#: Functions that report a fault: their first argument is the name of its rule.
REPORTING = {
    "Said",
    "ShapeFault",
    "Slip",
    "_fault",
    "_warn",
    "add",
    "fault",
    "find",
    "symbol_fault",
}
NAME = re.compile(r"[a-z]+(-[a-z]+)*")


def _called(call: ast.Call) -> str:
    target = call.func
    return target.attr if isinstance(target, ast.Attribute) else getattr(target, "id", "")


def _reports() -> Iterator[tuple[str, ast.Call, str]]:
    """Yield where a rule is reported, the call, and the name of the rule."""
    for part in ("notation", "performance", "rules"):
        place = SOURCE / part
        for file in [place] if place.is_file() else sorted(place.rglob("*.py")):
            for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
                if not isinstance(node, ast.Call):
                    continue
                named = [one.value for one in node.keywords if one.arg == "rule"]
                if _called(node) in REPORTING:
                    named += node.args[:1]
                for one in named:
                    if isinstance(one, ast.Constant) and isinstance(one.value, str):
                        yield f"{file.name}:{node.lineno}", node, one.value


def _severities(call: ast.Call) -> Iterator[Severity]:
    for argument in [*call.args, *(one.value for one in call.keywords)]:
        if isinstance(argument, ast.Attribute) and getattr(argument.value, "id", "") == "Severity":
            yield Severity[argument.attr]


def test_every_reported_rule_is_registered() -> None:
    """A name that is reported and not registered has no page and cannot be waived."""
    reported = [(place, name) for place, _, name in _reports() if "-" in name]
    assert len(reported) > 80
    assert [(place, name) for place, name in reported if find_rule(name) is None] == []


def test_every_registered_rule_is_reported_somewhere() -> None:
    """A rule that nothing reports is a leftover."""
    text = "".join(
        file.read_text(encoding="utf-8")
        for file in SOURCE.rglob("*.py")
        if file.name != "rule_facts.py"
    )
    built = {f"unused-{kind}" for kind in ("voicing", "pattern")}
    assert [
        rule.name for rule in RULES if f'"{rule.name}"' not in text and rule.name not in built
    ] == []


def test_severities_are_those_documented() -> None:
    """Where a report says how grave it is, the registry says the same."""
    wrong = [
        (place, name, severity)
        for place, call, name in _reports()
        for severity in _severities(call)
        if (rule := find_rule(name)) is not None and severity not in rule.severities
    ]
    assert wrong == []


def test_checks_are_all_there() -> None:
    """Every check that is listed can be called, and stands in the folder of a family."""
    for place in CHECKS:
        module, _, function = place.partition(":")
        assert callable(getattr(import_module(f"fretloom.rules.families.{module}"), function))
        assert module.partition(".")[0] in FAMILIES


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_metadata_make_sense(rule: object) -> None:
    """Names are words with hyphens, severities gravest first."""
    found = find_rule(rule.name)  # type: ignore[attr-defined]
    assert found is rule
    assert NAME.fullmatch(found.name)
    assert list(found.severities) == sorted(found.severities, key=lambda one: one.rank)
    assert found in rules_of(found.family)
    assert not (found.waivable and found.undefined)


def test_names_are_unique_and_families_known() -> None:
    """No name stands twice."""
    names = [rule.name for rule in RULES]
    assert len(names) == len(set(names))
    assert {rule.family for rule in RULES} <= set(FAMILIES)


def test_a_name_that_only_looks_like_another_is_said_to_be_that() -> None:
    """`did you mean C?` would help nobody who sees a C (Cyrillic, here)."""
    text = "voicings\n  C  x32010\npatterns\n  one  p , - , - , -\nsection a  using one\n  С\n"
    (found,) = [one for one in check(loads(text)) if one.rule == "unknown-voicing"]
    assert found.hint == "this С is a Cyrillic letter: type a plain C"
