"""How long checking takes: `python tests/benchmarks/check_speed.py`. A command, never a test.

Prints medians of one run: the command on one example against a bare Python, a folder of 1,000
copies of a 60-bar lesson with one process and with two, reading lessons whose bars all write
another pattern out, and reading, expanding and checking one long lesson, to see that both grow with
the bars.
"""

from __future__ import annotations

import os
import re
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
BEATS = ("p", "p m", "p i", "p+m", "- a", "p a", "p+a", "p -", "- i", "p i m")
LINE = "  C | Am | F with a@3 on 4& | G using pinched\n"


def long_lesson(bars: int) -> str:
    """Return a lesson of so many written bars, no two lines quite alike."""
    lines = [LINE.replace("C |", f'"{number}" C |', 1) for number in range(bars // 4)]
    return HEAD + "".join(lines)


def written_out(bars: int, fingers: bool = True) -> str:
    """Return a lesson of so many bars that all write another pattern in { }, four on a line.

    Without `fingers` the voicings leave their fingers out.
    """
    names = ("C", "Am", "F", "G")
    written = []
    for number in range(bars):
        beats = (BEATS[number // 10**place % 10] for place in range(4))
        written.append(f"{names[number % 4]} {{ {', '.join(beats)} }}")
    head = HEAD if fingers else re.sub(r"fingers \S+", "", HEAD)
    lines = (" | ".join(written[first : first + 4]) for first in range(0, bars, 4))
    return head + "".join(f"  {line}\n" for line in lines)


def median(
    run: Callable[[], object], times: int, clock: Callable[[], float] = time.perf_counter
) -> float:
    """Return the median of how long something takes, in milliseconds."""
    spent = []
    for _ in range(times):
        start = clock()
        run()
        spent.append((clock() - start) * 1000)
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
    start = "import sys; from fretloom.frontends.command.main import main; sys.exit(main())"
    check = command("-c", start, "check", str(EXAMPLE))
    check()
    bare = median(command("-c", "pass"), 15)
    checked = median(check, 15)
    print(
        f"one example: {checked:.0f} ms, bare Python {bare:.0f} ms, difference {checked - bare:.0f} ms (aim 100)"
    )
    print(
        f"import fretloom: {median(command('-c', 'import fretloom'), 15) - bare:.0f} ms over bare Python"
    )


MEMORY = """import resource, sys, fretloom
fretloom.check(fretloom.load(sys.argv[1]))
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)"""


def many_patterns() -> None:
    """Read and check lessons whose bars all differ, and see what memory a check takes (Linux only).

    Processor time: it hangs less on what else the machine does.
    """
    import fretloom

    fretloom.check(fretloom.loads(written_out(4)))
    for fingers, what in ((True, "written"), (False, "left out")):
        for bars in (1000, 4000):
            text = written_out(bars, fingers)
            lesson = fretloom.loads(text)
            took = median(lambda text=text: fretloom.loads(text), 7, time.process_time)
            checked = median(lambda one=lesson: fretloom.check(one), 1, time.process_time)
            print(
                f"{bars} bars in {{ }}, fingers {what}: {len(text) / 1000:.0f} kB read in {took:.0f} ms, "
                f"{len(text) / took:.0f} kB/s; checked in {checked / 1000:.1f} s"
            )
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "long.lesson"
            path.write_text(text, encoding="utf-8")
            done = subprocess.run(
                [sys.executable, "-c", MEMORY, path], capture_output=True, text=True, check=True
            )
        print(f"memory for the whole check: {done.stdout.strip()} MB")


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
    many_patterns()
    one_long_lesson()
    a_folder()
