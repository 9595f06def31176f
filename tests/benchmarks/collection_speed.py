"""How long a check of a whole collection takes. Run it by itself: `python tests/benchmarks/collection_speed.py`.

Makes 3,000 lessons of 20 written bars (36 played) that all use one file of voicings, and prints the
processor time of the command: with nothing kept, with all results kept, and with one lesson
changed. A command, never a test.
"""

from __future__ import annotations

import argparse
import random
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

SHARED = """voicings
  C   x32010  fingers .32.1.  bass 5 4
  G   320003  fingers 21...3  bass 6 4
  Am  x02210  fingers ..231.  bass 5 4
  Em  022000  fingers .23...  bass 6 4
  D   xx0232  fingers ...132  bass 4 5
  E7  020100  fingers .2.1..  bass 6 4
"""
PATTERNS = (
    "p , p m , p i , p m", "p m , p , p i m , p", "p , i m , p , i m",
    "p i , m i , p i , m i", "p a , p i , p m , p i", "p , p i , p m , p a",
)  # fmt: skip
LESSON = """lesson "Evening {number}"
  by "Kiln Lane guitar group"
  tempo {tempo}
  plays in C

use "../shared/open.lesson"

patterns
  walk  {walk}
  lift  {lift}

section verse "Verse"  using walk
{verse}

section chorus "Chorus"  using lift
{chorus}

section end "End"  using walk
{end}

form
  verse
  chorus
  verse
  chorus
  end
"""


def collection(folder: Path, lessons: int) -> None:
    """Write the lessons, always the same ones."""
    chance = random.Random(7)

    def bar() -> str:
        one, other = (chance.choice(("C", "G", "Am", "Em", "D", "E7")) for _ in range(2))
        return f"{one}:2 {other}:2" if chance.random() < 0.2 else one

    def lines(bars: int) -> str:
        return "\n".join("  " + " | ".join(bar() for _ in range(4)) for _ in range(bars // 4))

    (folder / "fretloom.toml").write_text("")
    (folder / "shared").mkdir()
    (folder / "shared" / "open.lesson").write_text(SHARED)
    for number in range(lessons):
        file = folder / f"week-{number // 50:02}" / f"evening-{number:04}.lesson"
        file.parent.mkdir(exist_ok=True)
        file.write_text(
            LESSON.format(
                number=number,
                tempo=chance.choice((72, 80, 88, 96)),
                walk=chance.choice(PATTERNS),
                lift=chance.choice(PATTERNS),
                verse=lines(8),
                chorus=lines(8),
                end=lines(4),
            )
        )


def seconds(folder: Path, *words: str) -> float:
    """Return the processor time of a check of the folder, in all its processes."""
    command = [sys.executable, "-m", "fretloom", "check", str(folder), "-q", *words]
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, check=False, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Make the collection and print the figures."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--lessons", type=int, default=3000)
    lessons = options.parse_args().lessons
    with tempfile.TemporaryDirectory() as made:
        top, kept = Path(made, "lessons"), ("--cache", str(Path(made, "kept")))
        top.mkdir()
        collection(top, lessons)
        print(
            f"{lessons:,} lessons, one process: {seconds(top, '--jobs', '1', '--no-cache'):.1f} s"
        )
        print(f"two processes together: {seconds(top, '--jobs', '2', '--no-cache'):.1f} s")
        print(f"and keeping the results: {seconds(top, '--jobs', '1', *kept):.1f} s")
        print(f"again, nothing changed: {seconds(top, '--jobs', '1', *kept):.2f} s")
        one = top / "week-00" / "evening-0000.lesson"
        one.write_text(f"# changed\n{one.read_text()}")
        print(f"again, one lesson changed: {seconds(top, '--jobs', '1', *kept):.2f} s")


if __name__ == "__main__":
    main()
