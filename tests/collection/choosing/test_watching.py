"""A check is made again when something changes, and only then, until the keyboard stops it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path

import pytest

from fretloom.collection.choosing.watching import Stamps, stamps, watch
from fretloom.frontends.command.main import main

GOOD = 'lesson "Tea"\n\nvoicings\n  C  x32010\n\nsection tune\n  C { p , p , p , p }\n'
FAULTY = GOOD.replace("  C {", "  D {")

Captured = pytest.CaptureFixture[str]


def _in_turn(steps: Iterator[Callable[[], object]]) -> Callable[[], None]:
    """Return a pause in which the next step happens; after the last one the keyboard interrupts."""

    def pause() -> None:
        step = next(steps, None)
        if step is None:
            raise KeyboardInterrupt
        step()

    return pause


def test_it_is_done_once_and_after_each_change() -> None:
    done: list[Stamps] = []
    state: Stamps = {"a": (0,)}
    steps = iter([dict, lambda: state.update(a=(1,)), dict, lambda: state.pop("a")])
    watch(lambda: done.append(dict(state)), lambda: dict(state), _in_turn(steps))
    assert done == [{"a": (0,)}, {"a": (1,)}, {}]


def test_what_changes_while_it_is_done_is_seen() -> None:
    """But not what it has found out to depend on."""
    state: Stamps = {"a": (0,)}
    done: list[Stamps] = []

    def once() -> None:
        done.append(dict(state))
        state.setdefault("found", (7,))
        if len(done) == 1:
            state["a"] = (1,)

    watch(once, lambda: dict(state), _in_turn(iter([lambda: state.update(found=(8,))])))
    assert done == [{"a": (0,)}, {"a": (1,), "found": (7,)}, {"a": (1,), "found": (8,)}]


def test_an_interruption_at_work_stops_it_too() -> None:
    def once() -> None:
        raise KeyboardInterrupt

    watch(once, dict)


def test_files_that_change_come_or_go_are_told_apart(tmp_path: Path) -> None:
    file = tmp_path / "a"
    seen = [stamps([str(file)])]
    file.write_text("a")
    seen.append(stamps([str(file)]))
    file.write_text("ab")
    seen.append(stamps([str(file)]))
    other = tmp_path / "b"
    other.write_text("xy")
    other.replace(file)
    seen.append(stamps([str(file)]))
    assert all(one != other for one, other in pairwise(seen))
    assert stamps([str(file)]) == seen[-1]
    assert stamps(["\0"]) == {"\0": ()}


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "shared.lesson").write_text("voicings\n  C  x32010\n")
    (tmp_path / "tunes").mkdir()
    (tmp_path / "tunes" / "tea.lesson").write_text(f'use "../shared.lesson"\n{GOOD.replace("voicings", "").replace("  C  x32010", "")}')  # fmt: skip
    return tmp_path


def _watched(monkeypatch: pytest.MonkeyPatch, capsys: Captured, words: list[str], *steps: Callable[[], object]) -> list[str]:  # fmt: skip
    """Run a check that watches; returns what it shows at first and after each step, the waiting left out."""
    shown: list[str] = []

    def note(step: Callable[[], object]) -> Callable[[], object]:
        def noted() -> None:
            shown.append("".join(capsys.readouterr()))
            step()

        return noted

    monkeypatch.setattr("time.sleep", lambda _: pause())
    pause = _in_turn(map(note, steps))
    assert main(["check", "--watch", *words]) == 0
    shown.append("".join(capsys.readouterr()))
    return [one.replace("fretloom: waiting for a change; stop with Ctrl-C\n", "") for one in shown]


def test_a_check_is_made_again_after_each_change(here: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured) -> None:  # fmt: skip
    """Of the lesson, of a file that it uses, of the configuration, of a new file in the folder."""
    tea, shared = here / "tunes" / "tea.lesson", here / "shared.lesson"
    first, faulty, mended, broken, other, settled, wrong = _watched(
        monkeypatch,
        capsys,
        ["tunes"],
        lambda: tea.write_text(tea.read_text().replace("  C {", "  D {")),
        lambda: tea.write_text(tea.read_text().replace("  D {", "  C {")),
        lambda: shared.write_text("voicings\n  C  x3201\n"),
        lambda: (here / "tunes" / "new.lesson").write_text(GOOD),
        lambda: (here / "fretloom.toml").write_text('leave-out = ["tunes/tea.lesson"]\n'),
        lambda: (here / "fretloom.toml").write_text("x = 1\n"),
    )
    assert first == mended == "no errors in 1 file\n"
    assert "[unknown-voicing]" in faulty
    assert "shared.lesson:2:6: error" in broken
    assert other.endswith("1 error in 2 files\n")
    assert settled == "no errors in 1 file\n"
    assert wrong.startswith("fretloom: ")
    assert "there is no setting x" in wrong


def test_it_goes_on_when_all_files_are_gone(here: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured) -> None:  # fmt: skip
    tea = here / "tunes" / "tea.lesson"
    text = tea.read_text()
    shown = _watched(monkeypatch, capsys, ["tunes", "-q"], tea.unlink, lambda: tea.write_text(text))
    assert shown == ["", "fretloom: there are no .lesson files in tunes\n", ""]
