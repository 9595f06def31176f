"""Threads may use the library at once: what they get is what one thread gets."""

from __future__ import annotations

import hashlib
import re
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier

import core_program
import places
import pytest

import fretloom
from fretloom import source
from fretloom.performance.expansion.timing import ticks
from fretloom.source import Source, Span

THREADS = 8
NAMES = ("clay-and-water", "kiln-lane-shuffle-easy", "seven-gates", "teapot-two-step")
STEPS: tuple[Callable[[fretloom.Lesson], object], ...] = (
    fretloom.check,
    fretloom.expand,
    fretloom.export_tab,
    fretloom.export_json,
    fretloom.export_musicxml,
    fretloom.lesson_to_json,
    fretloom.dumps,
)

#: Threads that begin at once in a new interpreter: each imports, fills caches and describes classes first.
RACE = f"""\
import sys, threading
sys.setswitchinterval(1e-6)
PROGRAM = {core_program.PROGRAM!r}
barrier, said = threading.Barrier({THREADS}), [None] * {THREADS}
def work(number):
    names = {{"print": lambda *sums: said.__setitem__(number, " ".join(sums))}}
    barrier.wait()
    exec(PROGRAM, names)
threads = [threading.Thread(target=work, args=(number,)) for number in range({THREADS})]
for one in threads:
    one.start()
for one in threads:
    one.join()
print(*map(str, said), sep="\\n")
"""


@pytest.fixture
def hasty() -> Iterator[None]:
    """Threads take turns as often as Python lets them."""
    usual = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    yield
    sys.setswitchinterval(usual)


def _done(lesson: fretloom.Lesson, first: int) -> dict[str, str]:
    """Do all steps with a lesson, beginning with one of them; return what each gave."""
    steps = STEPS[first:] + STEPS[:first]
    found = {step.__name__: step(lesson) for step in steps}
    return {name: hashlib.sha256(repr(one).encode()).hexdigest() for name, one in found.items()}


def _load(name: str) -> fretloom.Lesson:
    return fretloom.load(places.EXAMPLES / f"{name}.lesson", root=places.EXAMPLES)


@pytest.mark.usefixtures("hasty")
def test_threads_with_lessons_of_their_own_and_shared_ones() -> None:
    """Each thread loads some anew and takes some that all have, and goes through the steps in another order."""
    expected = {name: _done(_load(name), 0) for name in NAMES}
    shared = {name: _load(name) for name in NAMES}
    barrier = Barrier(THREADS)

    def work(number: int) -> list[tuple[str, dict[str, str]]]:
        barrier.wait(60)
        turns = NAMES[number % len(NAMES) :] + NAMES[: number % len(NAMES)]
        loads = (shared.__getitem__, _load)
        return [(name, _done(loads[number % 2](name), number % len(STEPS))) for name in turns]

    with ThreadPoolExecutor(THREADS) as pool:
        for answer in pool.map(work, range(THREADS)):
            assert dict(answer) == expected


@pytest.mark.process
def test_the_first_use_may_be_by_all_at_once(tmp_path: Path) -> None:
    """Nothing half imported or half made is seen."""
    done = core_program.run(RACE, tmp_path)
    assert done.stderr == ""
    assert set(done.stdout.splitlines()) == {core_program.expected().strip()}


def test_line_starts_are_never_seen_half_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """Another thread asks for a place while they are looked for."""
    text = Source("<text>", "one\ntwo\nthree\n")
    seen: list[int] = []

    class Watched:
        """Finds line ends, and asks for a line after each one found, as another thread may."""

        def finditer(self, given: str) -> Iterator[re.Match[str]]:
            for found in re.finditer("\n", given):
                monkeypatch.setattr(source, "_LINE_END", re.compile("\n"))
                seen.append(Span(text, 9, 10).line)
                yield found

    monkeypatch.setattr(source, "_LINE_END", Watched())
    assert text.line_starts() == [0, 4, 8, 14]
    assert seen == [3, 3, 3]


def test_equal_times_stay_one_object(monkeypatch: pytest.MonkeyPatch) -> None:
    """Also if another thread works the same one out in the meantime."""
    table = ticks.Quarters(4)
    real, theirs = ticks.Fraction, []

    def slow(*given: int) -> object:
        monkeypatch.setattr(ticks, "Fraction", real)
        theirs.append(table[3])
        return real(*given)

    monkeypatch.setattr(ticks, "Fraction", slow)
    assert table[3] is theirs[0] is table[3]
