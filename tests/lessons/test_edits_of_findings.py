"""What edits promise: the finding goes away, no new fault comes, and the rest of the text stays.

Tried on the slips, on the wrong lesson of every rule's page, and on the examples with one slip each,
made by chance (always the same ones).
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import places
import pytest
from test_slips import LESSON, SLIPS

from fretloom import api
from fretloom.diagnostics import Diagnostic
from fretloom.edits import apply_edits
from fretloom.rule_facts import RULES, Severity
from fretloom.rules.pages import page

#: Rules of which a finding carries edits somewhere among the slips, the pages and the few lines below.
MENDED = {
    "not-understood", "unknown-word", "not-indented", "indented-block", "unclosed-quote",
    "unclosed-bracket", "curly-quote", "hidden-character", "bad-value", "bad-name", "bad-pluck",
    "bad-count", "bad-frets", "unreadable-chord-name", "file-not-found", "use-cycle",
    "unknown-voicing", "unknown-pattern", "unknown-section", "doubled-name", "section-length",
    "unknown-rule", "waiver-not-needed", "cannot-be-waived", "name-does-not-sound",
}  # fmt: skip
#: More slips in the lesson, for rules whose other examples leave two ways open.
MORE = (
    ("but last bar: B7 x2", "but bars 6-5: B7"),
    ("  B7     x21202", "  A/e  002220  fingers ..123.\n  B7     x21202"),
    ("  close\n", "  closse\n"),
    ("  E7     like E  lift 3", "  E7     like E  lift 3  # allow stretsh: a large hand"),
    ("  E7     like E  lift 3", "  E7     like E  lift 3  # allow stretch: a large hand"),
    ("  E7     like E  lift 3", "  E7     like E  lift 3  # allow split-beats: it does not matter"),
)
EXAMPLES = [path.read_text(encoding="utf-8") for path in sorted(places.EXAMPLES.glob("*.lesson"))]
SIGNS = [
    ('"', "“"), ("|", "-"), (",", ";"), ("#", "♯"), (" ", "\u200b"), (":", ""), ("x", "×"),
    ("@", "-"), ("1", "l"), ("0", "O"), ('"', "'"), ("-", "–"),
]  # fmt: skip


def findings(text: str) -> list[Diagnostic]:
    """Check a text that lies among the examples."""
    return api.check(api.loads(text, root=places.EXAMPLES))


def said(found: Diagnostic) -> tuple[str, str]:
    """Return rule and message, without the count of other places."""
    return found.rule, re.sub(r" \(and in \d+ more places?\)", "", found.message)


def errors(found: list[Diagnostic]) -> set[tuple[str, str]]:
    """Return what is wrong, without warnings and advice."""
    return {said(one) for one in found if one.severity is Severity.ERROR}


def keep_their_promise(text: str, before: list[Diagnostic]) -> None:
    """Try the edits of each finding by themselves."""
    for one in before:
        if not one.edits:
            continue
        spans = sorted((edit.span.start, edit.span.end) for edit in one.edits)
        assert all(end <= start for (_, end), (start, _) in pairwise(spans))
        assert all(edit.title and edit.title[0].islower() for edit in one.edits)
        after = findings(apply_edits(text, one.edits))
        assert said(one) not in {said(other) for other in after}, (text, one)
        assert errors(after) <= errors(before), (text, one)


def slip_texts() -> Iterator[str]:
    """Yield the lesson with each slip."""
    for slip in SLIPS:
        yield LESSON.replace(slip["for"], slip["write"], 1)
    for right, wrong in MORE:
        assert right in LESSON
        yield LESSON.replace(right, wrong, 1)


@pytest.mark.parametrize("text", list(slip_texts()), ids=lambda _: "slip")
def test_edits_of_slips(text: str) -> None:
    """Each keeps its promise."""
    keep_their_promise(text, findings(text))


@pytest.mark.parametrize("name", [rule.name for rule in RULES])
def test_edits_of_rule_pages(name: str, tmp_path: Path) -> None:
    """The edits of a page's wrong lesson keep their promise, in its own folder."""
    text, found = of_page(name, tmp_path)
    for one in found:
        if not one.edits or one.span.source.text != text:
            continue
        (tmp_path / "example.lesson").write_text(apply_edits(text, one.edits), encoding="utf-8")
        after = api.check(api.load(tmp_path / "example.lesson"))
        assert said(one) not in {said(other) for other in after}
        assert errors(after) <= errors(found)


def of_page(name: str, folder: Path) -> tuple[str, list[Diagnostic]]:
    """Return the wrong lesson of a rule's page, and what is found in it."""
    about = page(name)
    assert about is not None
    files = about.lessons("Wrong")
    for file, text in files.items():
        (folder / file).parent.mkdir(parents=True, exist_ok=True)
        (folder / file).write_text(text, encoding="utf-8")
    return files["example.lesson"], api.check(api.load(folder / "example.lesson"))


def test_the_rules_that_carry_edits_are_known(tmp_path: Path) -> None:
    """The list above is neither too long nor too short; the changelog tells how many there are."""
    carry = {one.rule for text in slip_texts() for one in findings(text) if one.edits}
    for rule in RULES:
        folder = tmp_path / rule.name
        folder.mkdir()
        carry |= {one.rule for one in of_page(rule.name, folder)[1] if one.edits}
    own = tmp_path / "own.lesson"
    own.write_text(f'{LESSON}\nuse "own.lesson"\n', encoding="utf-8")
    carry |= {one.rule for one in api.check(api.load(own)) if one.edits}
    assert carry == MENDED
    changelog = (places.PROJECT / "docs" / "changelog.md").read_text(encoding="utf-8")
    assert f"of {len(MENDED)} rules" in changelog


def spoiled(text: str, chance: random.Random) -> str:
    """Return a text with one slip, as fingers and word processors make them."""
    at, lines = chance.randrange(len(text) - 1), text.split("\n")
    row = chance.randrange(len(lines))
    words = lines[row].split(" ")
    word = chance.randrange(len(words))
    kind = chance.randrange(9)
    if kind < 4:
        put = ("", text[at] * 2, text[at].swapcase(), chance.choice("abcx01|,:(){}\"'#-. "))[kind]
        return text[:at] + put + text[at + 1 :]
    if kind == 4:
        return text[:at] + text[at + 1] + text[at] + text[at + 2 :]
    if kind == 5:
        lines.insert(row, lines[row])
    elif kind == 6:
        lines[row] = lines[row].replace(*chance.choice(SIGNS))
    elif kind == 7:
        lines[row] = " ".join((*words[:word], *words[word + 1 :]))
    else:
        lines[row] = " ".join((*words[:word], words[word], *words[word:]))
    return "\n".join(lines)


@pytest.mark.parametrize("seed", range(8))
def test_edits_of_spoiled_examples(seed: int) -> None:
    """Whatever slipped, edits keep their promise; most of them give back the lesson as it was."""
    chance, tried, restored = random.Random(seed), 0, 0
    for _ in range(60):
        right = chance.choice([*EXAMPLES, LESSON])
        text = spoiled(right, chance)
        found = findings(text)
        keep_their_promise(text, found)
        carrying = [one for one in found if one.edits]
        tried += len(carrying)
        restored += sum(apply_edits(text, one.edits) == right for one in carrying)
    assert tried >= 5
    assert restored * 10 >= tried * 7


@pytest.mark.parametrize(
    "slip", [one for one in SLIPS if "mend" in one], ids=lambda slip: slip["name"].replace(" ", "-")
)
def test_line_ends_make_no_difference(slip: dict[str, Any]) -> None:
    """With CRLF the same is mended, and the line ends stay."""
    text = LESSON.replace(slip["for"], slip["write"], 1)
    with_crlf = text.replace("\n", "\r\n")
    (one,), (other,) = ([f for f in findings(t) if f.edits] for t in (text, with_crlf))
    mended = apply_edits(text, one.edits)
    assert apply_edits(with_crlf, other.edits) == mended.replace("\n", "\r\n")


def test_a_name_with_a_blank_in_it_is_closed() -> None:
    """Not written whole before the rest, which would stand there still."""
    text = """lesson "A"

voicings
  C  x32010

patterns
  plain  p , i , p , i

section verse  using plai n
  C
"""
    (found,) = [one for one in findings(text) if one.rule == "unknown-pattern"]
    assert apply_edits(text, found.edits) == text.replace("plai n", "plain")
