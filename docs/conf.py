"""Builds the documentation; the pages of the rules are written from the rules themselves."""

from __future__ import annotations

from importlib.metadata import version as version_of
from pathlib import Path

from sphinx.application import Sphinx

from fretloom.api import HandoutOptions
from fretloom.collection.handouts import hand_out_all, tasks_for, write_index
from fretloom.frontends.highlighting.pygments_lexer import LessonLexer
from fretloom.rule_facts import FAMILIES, rules_of
from fretloom.rules.pages import SECTIONS, page

project = "fretloom"
author = "The fretloom developers"
project_copyright = author
version = release = version_of("fretloom")

extensions = ["fretloom.sphinx", "myst_parser", "sphinx.ext.autodoc", "sphinx.ext.napoleon"]
source_suffix = {".md": "markdown"}
exclude_patterns = ["_build", "_handouts", "editors/*"]
myst_heading_anchors = 3
# Readable on a phone, light and dark, and kept up (chosen for that: see DEVELOPERS.md).
html_theme = "furo"
html_title = "fretloom"
html_static_path = ["_static"]
html_extra_path = ["_handouts"]
html_css_files = ["print.css", "gallery.css"]
_COLOURS = {"color-brand-primary": "#93330F", "color-brand-content": "#93330F"}
_COLOURS_IN_THE_DARK = {"color-brand-primary": "#F2A27C", "color-brand-content": "#F2A27C"}
html_theme_options = {"light_css_variables": _COLOURS, "dark_css_variables": _COLOURS_IN_THE_DARK}
autodoc_member_order = "bysource"
autodoc_typehints = "description"
nitpicky = False

_HANDOUTS = Path(__file__).parent / "_handouts"
_HANDOUTS.mkdir(exist_ok=True)  # Sphinx looks for it before anything is written.
_GENERATED = Path(__file__).parent / "reference" / "generated"


def write_rule_pages(_: Sphinx | None = None) -> None:
    """Write a page for each family of rules, and the list of all."""
    _GENERATED.mkdir(exist_ok=True)
    wanted = {}
    for family, title in FAMILIES.items():
        if rules_of(family):
            wanted[f"{family}.md"] = _family_page(family, title)
    wanted["rules.md"] = _list_of_rules()
    for old in _GENERATED.glob("*.md"):
        if old.name not in wanted:
            old.unlink()
    for name, text in wanted.items():
        file = _GENERATED / name
        if not file.exists() or file.read_text(encoding="utf-8") != text:
            file.write_text(text, encoding="utf-8")


def _family_page(family: str, title: str) -> str:
    parts = [f"# Rules: {title[0].lower()}{title[1:]}\n"]
    for rule in rules_of(family):
        found = page(rule.name)
        assert found is not None
        severities = " or ".join(severity.value for severity in rule.severities)
        waiver = f"`# allow {rule.name}: the reason`" if rule.waivable else "not possible"
        parts.append(
            f"({rule.name})=\n## {rule.name}\n\nReported as {severities}. Waiver: {waiver}.\n"
        )
        parts += [f"**{name}**\n\n{found.sections[name]}\n" for name in SECTIONS]
    return "\n".join(parts)


def _list_of_rules() -> str:
    lines = [
        "# Rules",
        "",
        "Every finding has the name of a rule. `fretloom explain NAME` shows the same page in the terminal.",
        "",
        "```{toctree}",
        ":hidden:",
        *(family for family in FAMILIES if rules_of(family)),
        "```",
    ]
    for family, title in FAMILIES.items():
        rules = rules_of(family)
        if rules:
            lines += [
                "",
                f"## {title}",
                "",
                "| rule | reported as | what it checks |",
                "| --- | --- | --- |",
            ]
        for rule in rules:
            found = page(rule.name)
            assert found is not None
            severities = " or ".join(severity.value for severity in rule.severities)
            lines.append(f"| [{rule.name}](#{rule.name}) | {severities} | {found.summary} |")
    return "\n".join(lines) + "\n"


def write_handouts(_: Sphinx | None = None) -> None:
    """Write the handouts of the examples, which the pages lead to; only those that changed."""
    examples = Path(__file__).parent.parent / "examples"
    found = [str(file) for file in sorted(examples.glob("*.lesson"))]
    output = str(_HANDOUTS / "handouts")
    tasks = list(
        tasks_for([(Path(one), examples) for one in found], [], output, (HandoutOptions(),))
    )
    made = list(hand_out_all(tasks, jobs=1))
    refused = [f"{one.name}: {one.refused}" for one in made if one.refused]
    if refused:
        raise RuntimeError(f"an example has no handout: {refused}")
    write_index(output, [one.entry for one in made if one.entry is not None], "Kiln Lane examples")


def setup(app: Sphinx) -> None:
    """Name the language of lessons, and write the rule pages before anything is read."""
    app.add_lexer("lesson", LessonLexer)
    app.add_lexer("lesson-part", LessonLexer)
    app.connect("builder-inited", write_rule_pages)
    app.connect("builder-inited", write_handouts)
