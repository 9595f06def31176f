"""How long checking takes: `python tests/benchmarks/check_speed.py`. A command, never a test.

Prints medians of one run: the command on one example against a bare Python, a folder of 1,000
copies of a 60-bar lesson with one process and with two, and reading, expanding and checking one
long lesson, to see that it grows with the bars.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

EXAMPLE = Path(__file__).parents[2] / "examples" / "kiln-lane-shuffle.lesson"
HEAD = """lesson "Long"
  plays in C
  meter 4/4
  tempo 80

voicings
  C   x32010  fingers .32.1.  bass 5 4 5 4
  Am  x02210  fingers ..231.  bass 5 4 5 4
  F   xx3211  fingers ..3211  bass 4 3 4 3
  G   320003  fingers 32...4  bass 6 4 5 4

patterns
  plain    p , p m , p i , p m
  pinched  p+m , p i , p+m , p i

section tune  using plain
"""
LINE = "  C | Am | F with a@3 on 4& | G using pinched\n"


def long_lesson(bars: int) -> str:
    """Return a lesson of so many written bars, no two lines quite alike."""
    lines = [LINE.replace("C |", f'"{number}" C |', 1) for number in range(bars // 4)]
    return HEAD + "".join(lines)


def median(run: Callable[[], object], times: int) -> float:
    """Return the median of how long something takes, in milliseconds."""
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        spent.append((time.perf_counter() - start) * 1000)
    return statistics.median(spent)


def command(*arguments: str) -> Callable[[], object]:
    """Return a function that runs Python with bytecode cached, as it is once installed."""
    settings = {
        name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"
    }
    return lambda: subprocess.run(
        [sys.executable, *arguments],
        env=settings,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        check=False,
    )


def one_example() -> None:
    """Compare `fretloom check` of one example with a Python that does nothing."""
    check = command("-m", "fretloom.frontends.command.main", "check", str(EXAMPLE))
    check()
    bare = median(command("-c", "pass"), 15)
    checked = median(check, 15)
    print(
        f"one example: {checked:.0f} ms, bare Python {bare:.0f} ms, difference {checked - bare:.0f} ms (aim 120)"
    )
    print(
        f"import fretloom: {median(command('-c', 'import fretloom'), 15) - bare:.0f} ms over bare Python"
    )


def a_folder() -> None:
    """Check 1,000 copies of a 60-bar lesson."""
    with tempfile.TemporaryDirectory() as folder:
        for number in range(1000):
            (Path(folder) / f"{number}.lesson").write_text(long_lesson(60), encoding="utf-8")
        for jobs in ("1", "2"):
            check = command(
                "-m", "fretloom.frontends.command.main", "check", "--jobs", jobs, folder
            )
            print(f"1,000 lessons of 60 bars, {jobs} process(es): {median(check, 1) / 1000:.1f} s")


def one_long_lesson() -> None:
    """Read, expand and check lessons of growing length."""
    import fretloom

    fretloom.check(fretloom.loads(long_lesson(4)))
    for bars in (500, 1000, 2000, 4000):
        text = long_lesson(bars)
        took = median(lambda text=text: fretloom.check(fretloom.loads(text)), 3)
        print(
            f"{bars} bars read, expanded and checked: {took:.0f} ms, {took / bars * 1000:.0f} us a bar"
        )


if __name__ == "__main__":
    one_example()
    one_long_lesson()
    a_folder()
