"""What the fuzzer starts from: the examples, the lessons of the rule pages, lessons with a slip, and the notation's words."""

from __future__ import annotations

import re
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import fretloom
from fretloom.notation.syntax.parsing.grammar import grammar_text
from fretloom.rule_facts import RULES
from fretloom.rules.pages import page

PROJECT = Path(__file__).parents[2]
#: Longer seeds slow the fuzzer down more than they show it.
LONGEST = 4_000


def texts() -> Iterator[str]:
    """Yield lessons, right and wrong."""
    for file in sorted((PROJECT / "examples").rglob("*.lesson")):
        yield file.read_text(encoding="utf-8")
    for rule in RULES:
        found = page(rule.name)
        if found is not None:
            for section in ("Wrong", "Right"):
                yield from found.lessons(section).values()
    tune = (PROJECT / "tests/lessons/shuffle.lesson").read_text(encoding="utf-8")
    slips = tomllib.loads((PROJECT / "tests/lessons/slips.toml").read_text(encoding="utf-8"))
    for slip in slips["slip"]:
        yield tune.replace(slip["for"], slip["write"], 1)


def seeds(law: str) -> list[bytes]:
    """Return what a law starts from, without repeats."""
    found = [text for text in texts() if len(text) <= LONGEST]
    if law == "json":
        found = [fretloom.lesson_to_json(fretloom.loads(text)) for text in found]
        found = [text for text in found if len(text) <= 4 * LONGEST]
    return list(dict.fromkeys(text.encode("utf-8") for text in found))


def words() -> list[str]:
    """Return words and signs that the fuzzer puts in: those of the grammar, and some that are hard."""
    known = set(re.findall(r'"([^"\\\n]+)"', re.sub(r"//.*", "", grammar_text())))
    hard = ["x5000", "x2", "99999999999", "1/3", "-1", "\r\n", "\r", "\t", "\ufeff", "\u202e", "\u200b", "С", "３", "é",
            "𝄞", "# allow reach: a reason", '"', "“", "like", "E7#9/G#", "x02210", "(p i)", "[p i]", "p6-4", "@12*", "h3"]  # fmt: skip
    return sorted(known | set(hard))


def write(law: str, folder: Path) -> Path:
    """Write seeds into a folder, and the words beside it; return the file of words."""
    folder.mkdir(parents=True, exist_ok=True)
    for number, seed in enumerate(seeds(law)):
        (folder / f"seed-{number}").write_bytes(seed)
    listed = folder.parent / "words.dict"
    escaped = ("".join(f"\\x{byte:02x}" for byte in word.encode("utf-8")) for word in words())
    listed.write_text("".join(f'"{word}"\n' for word in escaped), encoding="ascii")
    return listed


if __name__ == "__main__":
    print(write(sys.argv[1], Path(sys.argv[2])))
