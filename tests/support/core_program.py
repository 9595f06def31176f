"""A program that uses the core and nothing else, to be run in places where little else can be had."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import places

LESSON = """\
lesson "Two cups & a <plate>"
  by "Kiln Lane"
  tempo 72

voicings
  C  x32010  fingers .32.1.  bass 5 4
  Am x02210  fingers ..231.  bass 5 4

patterns
  plain  p , p m , p i , p m

section verse  using plain
  C | Am
"""

#: Loads from text, checks, expands, writes all three texts, and prints their sums.
PROGRAM = f"""\
import hashlib
import fretloom
lesson = fretloom.loads({LESSON!r})
sums = [str(fretloom.check(lesson)), str(len(fretloom.expand(lesson).bars)), fretloom.dumps(lesson)]
sums += [fretloom.export_tab(lesson), fretloom.export_json(lesson), fretloom.lesson_to_json(lesson)]
sums += [fretloom.export_musicxml(lesson)]
print(*(hashlib.sha256(one if isinstance(one, bytes) else one.encode()).hexdigest() for one in sums))
"""


def run(
    code: str, folder: Path, path: Path | None = places.SOURCE.parent, **changes: str
) -> subprocess.CompletedProcess[str]:
    """Run code in a new interpreter that finds the package in `path`; `changes` are to the environment."""
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    if path is not None:
        environment["PYTHONPATH"] = str(path)
    return subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True, text=True, cwd=folder, env=environment | changes, check=False,
    )  # fmt: skip


def expected() -> str:
    """Return what the program prints, run here."""
    from contextlib import redirect_stdout
    from io import StringIO

    said = StringIO()
    with redirect_stdout(said):
        exec(PROGRAM, {})
    return said.getvalue()
