"""Plants small faults in the code, one at a time, and lists those that no test notices.

    python tests/mutation/run.py --sample 400 --seed 7
    python tests/mutation/run.py --sample 50 --only trade/harmony --only rules

mutmut makes the faults and, for each, runs the tests that call the function it is in. This program
draws the sample, so that two runs with one seed try the same faults of the same code, and writes the
report. Set-up and limits are in `[tool.mutmut]` of pyproject.toml; DEVELOPERS.md says what is not tried.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from random import Random
from time import monotonic

PROJECT = Path(__file__).parents[2]
WORK = PROJECT / "mutants"
#: What mutmut's exit codes of a mutant mean.
OUTCOMES = {0: "survived", 1: "killed", 3: "killed", 33: "not called by any test", 36: "timeout", -24: "timeout"}  # fmt: skip
#: Tried first, for mutmut to make all faults and to see which tests call what.
FIRST = "fretloom.trade.music.pitch.x_fifths_of__mutmut_1"


def main() -> int:
    """Run a sample and return 0, whatever survives: what that means is for people to say."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--sample", type=int, default=400, help="how many faults")
    parser.add_argument("--seed", type=int, default=7, help="which of them")
    parser.add_argument(
        "--only", action="append", default=[], metavar="ROOM", help="such as trade/harmony"
    )
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--report", type=Path, default=WORK / "survivors.diff")
    given = parser.parse_args()
    began = monotonic()
    shutil.rmtree(WORK / "tests", ignore_errors=True)  # Tests that are gone must not run.
    mutmut("run", "--max-children", str(given.workers), FIRST)
    tried = drawn(sorted(outcomes()), given.sample, given.seed, given.only)
    print(
        f"{len(tried)} of {len(outcomes())} faults, after {monotonic() - began:.0f} s", flush=True
    )
    mutmut("run", "--max-children", str(given.workers), *tried)
    found = {name: code for name, code in outcomes().items() if name in tried}
    print(summary(found, monotonic() - began))
    given.report.write_text(survivors(found), encoding="utf-8")
    print(f"what survived: {given.report}")
    return 0


def mutmut(*arguments: str) -> str:
    """Run mutmut from the project's folder and return what it says."""
    command = [sys.executable, "-m", "mutmut", *arguments]
    done = subprocess.run(command, cwd=PROJECT, capture_output=True, text=True, check=False)
    if done.returncode:
        sys.exit(f"{done.stdout[-4000:]}\n{done.stderr[-4000:]}")
    return done.stdout


def outcomes() -> dict[str, int | None]:
    """Return the exit code of every mutant, None for those not tried."""
    found: dict[str, int | None] = {}
    for path in WORK.rglob("*.py.meta"):
        found |= json.loads(path.read_text(encoding="utf-8"))["exit_code_by_key"]
    return found


def drawn(names: list[str], count: int, seed: int, rooms: Iterable[str]) -> list[str]:
    """Draw a sample of the mutants, of some rooms or of all."""
    wanted = tuple(f"fretloom.{room.strip('/').replace('/', '.')}." for room in rooms)
    kept = [name for name in names if not wanted or name.startswith(wanted)]
    return sorted(Random(seed).sample(kept, min(count, len(kept))))


def outcome(code: int | None) -> str:
    """Return what became of a mutant; one whose process died otherwise is odd."""
    return "not tried" if code is None else OUTCOMES.get(code, "odd")


def room_of(name: str) -> str:
    """Return the room of a mutant: `trade`, `rules`, ..."""
    return name.split(".")[1]


def summary(found: dict[str, int | None], seconds: float) -> str:
    """Return how many of the sample survived, by room."""
    counts = Counter((room_of(name), outcome(code)) for name, code in found.items())
    rooms = sorted({room for room, _ in counts})
    lines = [
        f"{room:14}" + ", ".join(f"{counts[room, one]} {one}" for one in dict.fromkeys((*OUTCOMES.values(), "odd", "not tried")) if counts[room, one])
        for room in rooms
    ]  # fmt: skip
    caught = sum(1 for code in found.values() if outcome(code) in ("killed", "timeout"))
    lines.append(f"{caught} of {len(found)} noticed in {seconds:.0f} s")
    return "\n".join(lines)


def survivors(found: dict[str, int | None]) -> str:
    """Return the difference that each unnoticed fault makes."""
    unnoticed = [name for name, code in found.items() if outcome(code) not in ("killed", "timeout")]  # fmt: skip
    return "\n".join(mutmut("show", name) for name in sorted(unnoticed))


if __name__ == "__main__":
    sys.exit(main())
