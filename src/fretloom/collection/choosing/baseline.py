"""A baseline: findings that were there before, so that only what is new is reported.

A finding is known by its file, its rule and the words of its line, not by the number of the line, so
it stays known when lines above it come and go. One that is made in several places is known by each of
them, and is new when one is added. Of findings that are alike, as many as before are known.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from attrs import field

from fretloom.api import Diagnostic
from fretloom.collection.results import Checked
from fretloom.diagnostics import AS_WELL
from fretloom.errors import FretloomError
from fretloom.files import write_atomically
from fretloom.text import counted, for_machines, shown_name
from fretloom.values import evolve, frozen

FORMAT, VERSION = "fretloom-baseline", 1
_MOST_BYTES = 100_000_000
Known = tuple[str, str, str]


@frozen
class Baseline:
    """Findings that were there before, by file, rule and words of the line, and how many of each.

    `left` are those that were not found again so far.
    """

    file: Path
    left: Counter[Known] = field(factory=Counter)

    def without_known(self, checked: Checked) -> Checked:
        """Return a result without the findings that are known."""
        folder = os.path.realpath(self.file.parent)
        fresh: list[Diagnostic] = []
        for one in checked.findings:
            keys = Counter(known_by(one, folder))
            if keys <= self.left:
                self.left.subtract(keys)
            else:
                fresh.append(one)
        return evolve(checked, findings=tuple(fresh))

    def mended(self, names: Iterable[str]) -> int:
        """Return how many of the known findings were not found again in these files."""
        folder = os.path.realpath(self.file.parent)
        files = {_from(folder, name) for name in names}
        return sum(number for (file, *_), number in self.left.items() if file in files)


def known_by(found: Diagnostic, folder: str) -> tuple[Known, ...]:
    """Return what a finding is known by, place by place; files are named from the folder of the baseline."""
    others = (one.span for one in found.related if one.message == AS_WELL)
    return tuple(
        (
            _from(folder, span.source.name),
            found.rule,
            " ".join(span.source.line_text(span.line).split()),
        )
        for span in (found.span, *others)
    )


def read_baseline(file: Path) -> Baseline:
    """Read a baseline.

    Raises:
        FretloomError: it is not there, or is none.
    """
    shown = shown_name(file)
    try:
        with file.open("rb") as opened:
            data = opened.read(_MOST_BYTES)
    except FileNotFoundError:
        raise FretloomError(f"there is no baseline {shown}: make one with --write-baseline") from None  # fmt: skip
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise FretloomError(f"the baseline {shown} cannot be read: {why}") from None
    try:
        content = json.loads(data)
        if content["format"] != FORMAT or content["version"] != VERSION:
            raise ValueError
        left = Counter[Known]()
        for one in content["findings"]:
            left[str(one["file"]), str(one["rule"]), str(one["line"])] += int(one["count"])
    except (ValueError, KeyError, TypeError, RecursionError):
        why = "is not a baseline: remove it, and make it anew with --write-baseline"
        raise FretloomError(f"{shown} {why}") from None
    return Baseline(file, left)


def refuse_another(file: Path) -> None:
    """Refuse to write a baseline over a file that is none.

    Raises:
        FretloomError: as said.
    """
    if not os.path.lexists(file):
        return
    try:
        read_baseline(file)
    except FretloomError:
        shown = shown_name(file)
        raise FretloomError(
            f"{shown} is not a baseline, and none is written over it: remove it, or name another file"
        ) from None


def write_baseline(file: Path, findings: Iterable[Diagnostic]) -> str:
    """Write findings as a baseline, in a stable order; returns a sentence that says so.

    Raises:
        NotWritten: it could not be written.
        FretloomError: there is something else by that name.
    """
    refuse_another(file)
    folder = os.path.realpath(file.parent)
    found = list(findings)
    numbers = Counter(key for one in found for key in known_by(one, folder))
    rows = [
        {"file": name, "rule": rule, "line": line, "count": numbers[name, rule, line]}
        for name, rule, line in sorted(numbers)
    ]
    content = {"format": FORMAT, "version": VERSION, "findings": rows}
    text = for_machines(json.dumps(content, ensure_ascii=False, indent=1)) + "\n"
    write_atomically(file, text)
    return f"wrote {shown_name(file)}, with {counted(len(found), 'finding')}"


def _from(folder: str, name: str) -> str:
    """Return the path of a file from a folder, with `/` between folders."""
    place = os.path.realpath(name)
    with contextlib.suppress(ValueError):  # It is on another drive.
        place = os.path.relpath(place, folder)
    return place.replace(os.sep, "/")
