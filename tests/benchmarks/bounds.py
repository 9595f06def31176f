"""What hostile lessons cost: `python tests/benchmarks/bounds.py`. A command, never a test.

Every generator of `hostile.py` is written with 100 kB, and each operation is run on it from the text
on, in a process of its own. Printed is what took the most processor time and memory, against the
promise of `docs/reference/limits.md`. `--lines` tries every line of the notation filled with every
sign and word, in one process; `--grow` writes half as much and twice as much as well, to see that the time grows
with the text. What would be played too long is written shorter as well, as long as it may just be, since a refusal
costs little. `--only 'bars: *'` takes some generators, `--all` prints every operation.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import resource
import signal
import sys
import time
from collections.abc import Callable, Iterator
from fnmatch import fnmatch

from hostile import MAKERS, swept

import fretloom
from fretloom import api
from fretloom.errors import FretloomError

SIZE, SECONDS, MEGABYTES = 100_000, 2.0, 300
OPERATIONS: dict[str, Callable[[api.Lesson], object]] = {
    "load": lambda lesson: lesson,
    "check": lambda lesson: [api.finding_as_text(one) for one in api.check(lesson)],
    "format": api.dumps,
    "tab": lambda lesson: api.export(lesson, to="tab", despite_errors=True),
    "json": lambda lesson: api.export(lesson, to="json", despite_errors=True),
    "musicxml": lambda lesson: api.export(lesson, to="musicxml", despite_errors=True),
    "mxl": lambda lesson: api.export(lesson, to="mxl", despite_errors=True),
    "shapes": lambda lesson: api.export(lesson, to="shapes", despite_errors=True),
    "shapes-text": lambda lesson: api.export(lesson, to="shapes-text", despite_errors=True),
    "handout": lambda lesson: api.export(lesson, to="handout", despite_errors=True),
    "words": lambda lesson: api.export(lesson, to="words", despite_errors=True),
    "script": lambda lesson: api.export(lesson, to="script", despite_errors=True),
    "drawn-tab": lambda lesson: api.export(lesson, to="drawn-tab", despite_errors=True),
    "changes": lambda lesson: api.export(lesson, to="changes", despite_errors=True),
    "midi": lambda lesson: api.export(lesson, to="midi", despite_errors=True),
    "playback": lambda lesson: api.export(lesson, to="playback", despite_errors=True),
    "captions": lambda lesson: api.export(lesson, to="captions", despite_errors=True),
    "hands": lambda lesson: api.as_text(api.hands(lesson)),
    "practice": lambda lesson: api.as_text(api.practice(lesson, despite_errors=True)),
    "sounds": lambda lesson: api.as_text(api.sounds(lesson)),
    "suggest capo": lambda lesson: api.as_text(api.suggest_capos(lesson)),
    "suggest voicings": lambda lesson: api.suggest_voicings("C7", lesson),
}


def measured(text: str, operation: str) -> tuple[float, int, str]:
    """Return processor seconds, the most memory in MB, and how an operation on a text ended."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        os.close(reading)
        resource.setrlimit(resource.RLIMIT_CPU, (20, 21))
        resource.setrlimit(resource.RLIMIT_AS, (3 << 30, 3 << 30))
        start, ended = time.process_time(), "done"
        try:
            OPERATIONS[operation](fretloom.loads(text))
        except FretloomError:
            ended = "refused"
        except BaseException as error:
            ended = f"FAILED: {type(error).__name__}"
        os.write(writing, f"{time.process_time() - start} {ended}".encode())
        os._exit(0)
    os.close(writing)
    said = os.read(reading, 1000).decode() or "20 STOPPED"
    os.close(reading)
    _, _, usage = os.wait4(child, 0)
    seconds, _, ended = said.partition(" ")
    return float(seconds), usage.ru_maxrss // 1024, ended


def too_long(text: str) -> bool:
    """Whether a lesson has too many bars or notes."""
    return any(one.rule == "too-many-bars" for one in api.check(fretloom.loads(text)))


def sizes(make: Callable[[int], str], grow: bool) -> Iterator[int]:
    """Yield the sizes to write a lesson with; at last the largest that is played, if another one is."""
    yield from (SIZE // 2, SIZE, 2 * SIZE) if grow else (SIZE,)
    if not too_long(make(SIZE)):
        return
    least, most = 0, SIZE
    while most - least > SIZE // 100:
        middle = (least + most) // 2
        least, most = (least, middle) if too_long(make(middle)) else (middle, most)
    if least:
        yield least


def generators(only: str, grow: bool, every: bool) -> int:
    """Run all operations on all generators; return how many broke the promise."""
    warm = MAKERS["bars: changing"](2_000)
    for run in OPERATIONS.values():
        with contextlib.suppress(FretloomError):
            run(fretloom.loads(warm))
    broken = 0
    worst = dict.fromkeys(OPERATIONS, (0.0, ""))
    print(f"{'generator':52} {'kB':>5} {'seconds':>8}  {'slowest':16} {'MB':>5}  largest")
    for name, make in MAKERS.items():
        if not fnmatch(name, only):
            continue
        for size in sizes(make, grow):
            text = make(size)
            costs = {operation: measured(text, operation) for operation in OPERATIONS}
            if size <= SIZE:
                for one, cost in costs.items():
                    worst[one] = max(worst[one], (cost[0], name))
            slowest = max(costs, key=lambda one: costs[one][0])
            largest = max(costs, key=lambda one: costs[one][1])
            odd = [f"{one} {cost[2]}" for one, cost in costs.items() if cost[2][0].isupper()]
            beyond = costs[slowest][0] > SECONDS or costs[largest][1] > MEGABYTES or odd
            broken += bool(beyond and size <= SIZE)
            print(
                f"{name:52} {len(text) / 1000:5.0f} {costs[slowest][0]:8.2f}  {slowest:16} "
                f"{costs[largest][1]:5}  {largest} {'BEYOND ' if beyond else ''}{' '.join(odd)}".rstrip(),
                flush=True,
            )
            if every:
                shown = (f"{one} {cost[0]:.2f} s {cost[1]} MB" for one, cost in costs.items())
                print("    " + ", ".join(shown))
    for one, (seconds, name) in worst.items():
        print(f"{one:20} {seconds:5.2f} s at most: {name}")
    print(f"{broken} of them broke the promise")
    return broken


class _Late(BaseException):
    """A line took longer than it may."""


def _late(*_: object) -> None:
    raise _Late


def filled_lines() -> int:
    """Load, check and format each line filled with each sign; return how many took too long."""
    signal.signal(signal.SIGVTALRM, _late)
    slow = tried = 0
    longest = 0.0
    for name, text in swept(19_500):
        tried += 1
        start = time.process_time()
        signal.setitimer(signal.ITIMER_VIRTUAL, SECONDS)
        try:
            lesson = fretloom.loads(text)
            for one in api.check(lesson):
                api.finding_as_text(one)
            with contextlib.suppress(FretloomError):
                api.dumps(lesson)
        except _Late:
            slow += 1
            print(f"BEYOND {name}", flush=True)
        finally:
            signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        longest = max(longest, time.process_time() - start)
    print(f"{tried} lines, {slow} of them too slow, the slowest {longest:.2f} s")
    return slow


def main() -> int:
    """Measure what is asked for; 1 if something broke the promise."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", default="*", help="generators with names like this")
    parser.add_argument("--grow", action="store_true", help="with three sizes")
    parser.add_argument("--all", action="store_true", help="print every operation")
    parser.add_argument("--lines", action="store_true", help="lines filled with signs instead")
    chosen = parser.parse_args()
    return bool(
        filled_lines() if chosen.lines else generators(chosen.only, chosen.grow, chosen.all)
    )


if __name__ == "__main__":
    sys.exit(main())
