"""How the language server keeps up with somebody who types: `python tests/benchmarks/editor_speed.py`. A command, never a test.

It starts the server as an editor does and drives it over standard input and output:

* an example is typed sign by sign, and after each sign hover, completion and hints are asked for;
* one sign is changed in lessons of 200 bars, and it is measured until the findings are there;
* random edits, counted in UTF-16, are compared with the whole text;
* the largest text that is read at all, and a text of nothing but faults, are typed in.

Times are in milliseconds on a clock, with the way through the client, which is Python too.
"""

from __future__ import annotations

import os
import random
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from lsprotocol import types

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from check_speed import EXAMPLE, long_lesson, written_out
from editing import Editor

from fretloom import check, loads
from fretloom.limits import LIMITS
from fretloom.source import Source, Span


def said(what: str, spent: list[float]) -> None:
    """Print what a list of times comes to."""
    ordered = sorted(spent)
    high = ordered[min(len(ordered) * 95 // 100, len(ordered) - 1)]
    print(
        f"{what}: {len(spent)} times, median {statistics.median(spent):.0f} ms, "
        f"95 of 100 within {high:.0f}, at most {ordered[-1]:.0f}"
    )


def timed(run: Callable[[], object]) -> float:
    """Return how long something takes."""
    start = time.perf_counter()
    run()
    return (time.perf_counter() - start) * 1000


def processor_time(editor: Editor) -> float:
    """Return the milliseconds of processor time that the server has taken so far (Linux only)."""
    assert editor._server is not None
    fields = Path(f"/proc/{editor._server.pid}/stat").read_text("utf-8").rpartition(")")[2].split()
    return sum(map(int, fields[11:13])) * 1000 / os.sysconf("SC_CLK_TCK")


def typed_sign_by_sign(editor: Editor, folder: Path) -> None:
    """Type an example from its first sign to its last, and ask at each."""
    uri = editor.open(folder / "typed.lesson", "")
    found: list[float] = []
    asked: dict[str, list[float]] = {"hover": [], "completion": [], "hints": []}
    text = EXAMPLE.read_text("utf-8")
    at = types.TextDocumentIdentifier(uri)
    for sign in text:
        found.append(timed(lambda sign=sign: (editor.type_out(uri, sign), editor.findings(uri))))
        lines = editor.texts[uri].split("\n")
        place = types.Position(len(lines) - 1, len(lines[-1]))
        for name, method, params in (
            ("hover", types.TEXT_DOCUMENT_HOVER, types.HoverParams(at, place)),
            ("completion", types.TEXT_DOCUMENT_COMPLETION, types.CompletionParams(at, place)),
            (
                "hints",
                types.TEXT_DOCUMENT_INLAY_HINT,
                types.InlayHintParams(at, types.Range(types.Position(0, 0), place)),
            ),
        ):
            asked[name].append(timed(lambda one=method, given=params: editor.ask(one, given)))
    wrong = [one.message for one in editor.findings(uri)]
    print(f"an example typed sign by sign: {len(text)} signs, {len(wrong)} findings in the end")
    said("  findings", found)
    for name, spent in asked.items():
        said(f"  {name}", spent)
    editor.close(uri)


def one_sign_changed(editor: Editor, folder: Path, what: str, text: str) -> None:
    """Change one sign of a lesson here and there, and wait for the findings each time."""
    uri = editor.open(folder / "long.lesson", text)
    editor.findings(uri)
    chance, spent = random.Random(1), list[float]()
    before = processor_time(editor)
    lines = text.split("\n")
    bars = [number for number, line in enumerate(lines) if "|" in line]
    for _ in range(60):
        number = chance.choice(bars)
        column = len(lines[number])
        place = types.Position(number, column)
        for put, last in (("x", place), ("", types.Position(number, column + 1))):
            spent.append(
                timed(
                    lambda put=put, last=last, place=place: (
                        editor.change(uri, place, last, put),
                        editor.findings(uri),
                    )
                )
            )
    said(f"one sign changed in {what}", spent)
    took = (processor_time(editor) - before) / len(spent)
    print(f"  of it processor time of the server: {took:.0f} ms each time, on average")
    editor.close(uri)


def pieces_and_whole(editor: Editor, folder: Path, times: int) -> None:
    """Compare random edits of pieces with the whole text."""
    chance, text = random.Random(7), EXAMPLE.read_text("utf-8")
    signs = (
        "\U0001f3b8",
        "\u2028",
        "\x0c",
        "\r\n",
        "\n",
        "\r",
        "E",
        " | ",
        "\t",
        "\u00e4",
        "#",
        '"',
        "",
    )
    uri = editor.open(folder / "pieces.lesson", text)
    differ = 0
    for _ in range(times):
        source = Source("", text)
        first = chance.randrange(len(text) + 1)
        last = min(first + chance.choice((0, 1, 2, 30)), len(text))
        if "\r\n" in (text[max(first - 1, 0) : first + 1], text[max(last - 1, 0) : last + 1]):
            continue
        start, end = Span(source, first, last).utf16
        put = chance.choice(signs)
        text = text[:first] + put + text[last:]
        editor.change(uri, types.Position(*start), types.Position(*end), put)
        expected = [one.rule for one in check(loads(text, path=folder / "pieces.lesson"))]
        differ += editor.codes(uri) != expected
    print(f"random edits of pieces: {times}, findings other than those of the whole text: {differ}")
    editor.close(uri)


def hostile(editor: Editor, folder: Path) -> None:
    """Type into texts that nobody writes."""
    nested = "section a\n  C { " + "[" * 9_000 + "\n"
    faults = "section a\n" + "  C )( | " * 2_000 + "\n" + "nonsense\n" * 20_000
    names = "voicings\n" + "".join(f"  n{one}  x32010\n" for one in range(4_000))
    largest = "lesson\n" + "  # so be it\n" * 90_000
    largest += "#" * (LIMITS.characters - len(largest) - 2) + "\n"
    for what, text in (
        ("brackets", nested),
        ("faults", faults),
        ("4,000 voicings", names),
        ("2,000,000 signs", largest),
    ):
        uri = editor.open(folder / "hostile.lesson", text)
        first = timed(lambda uri=uri: editor.findings(uri))
        top = types.Position(0, 0)
        edit = timed(
            lambda uri=uri, top=top: (editor.change(uri, top, top, "#"), editor.findings(uri))
        )
        at = types.TextDocumentIdentifier(uri)
        end = types.Position(1, 5)
        asked = timed(
            lambda at=at, end=end: editor.ask(
                types.TEXT_DOCUMENT_COMPLETION, types.CompletionParams(at, end)
            )
        )
        print(
            f"{what}: findings after {first:.0f} ms, after an edit {edit:.0f}, completion {asked:.0f}"
        )
        editor.close(uri)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        here = Path(name).resolve()
        one = Editor()
        one.start(here)
        typed_sign_by_sign(one, here)
        bars = 200
        for what, text in (
            (f"{bars} bars of four voicings", long_lesson(bars)),
            (f"{bars} bars that all write another pattern", written_out(bars)),
            ("the same with fingers left out", written_out(bars, False)),
        ):
            one_sign_changed(one, here, what, text)
        pieces_and_whole(one, here, 500)
        hostile(one, here)
        code, errors = one.end()
        print(
            f"the server ended with {code}; {len(errors)} bytes of errors, {len(one.said)} messages, {len(one.wrong)} misfits"
        )
        print("\n".join(one.said))
