"""The programs in the documentation are whole: they run, and type checkers accept them."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import tomllib
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from places import SOURCE

import fretloom

HOWTO = Path(__file__).parents[2] / "docs" / "howto"
EXAMPLES = Path(__file__).parents[2] / "examples"
_FILE = re.compile(r"^`([\w./]+\.(?:py|toml))`:\n\n```\w+\n(.*?)^```$", re.M | re.S)


def files_of(page: str) -> dict[str, str]:
    """Return the files that a page shows, by name."""
    found = dict(_FILE.findall((HOWTO / page).read_text(encoding="utf-8")))
    assert found
    return found


def run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run Python in a folder, with the packages in it."""
    path = os.pathsep.join([str(folder), str(SOURCE.parent)])
    return subprocess.run(
        [sys.executable, *words],
        capture_output=True,
        text=True,
        cwd=folder,
        env=os.environ | {"PYTHONPATH": path},
        check=False,
    )


@pytest.fixture
def web() -> ModuleType:
    """The web application of the page."""
    made = ModuleType("web")
    exec(compile(files_of("web-service.md")["web.py"], "web.py", "exec"), made.__dict__)
    return made


class Endless(io.BytesIO):
    """A connection that stays open: who reads more than the request would wait for ever (PEP 3333, "Input and Error Streams")."""

    def read(self, size: int | None = -1, /) -> bytes:
        """Return so many bytes, which have to be there."""
        assert size is not None
        assert 0 <= size <= len(self.getbuffer())
        return super().read(size)


def sent(web: ModuleType, body: bytes) -> tuple[str, bytes]:
    """Return status and answer to a body, as they are sent (PEP 3333, "Specification Details")."""
    told: list[str] = []
    environ = {"CONTENT_LENGTH": str(len(body)), "wsgi.input": Endless(body)}
    pieces = web.application(environ, lambda status, headers: told.append(status))
    return told[0], b"".join(pieces)


def asked(web: ModuleType, body: bytes) -> tuple[str, dict[str, Any]]:
    """Return status and answer to a body."""
    status, answer = sent(web, body)
    return status, json.loads(answer)


def with_a_bad_file(folder: Path) -> Path:
    """Return a folder with the examples and a file among them that is no text."""
    shutil.copytree(EXAMPLES, folder)
    (folder / "not-a-text.lesson").write_bytes(b'lesson "Tea"\n\xff\n')
    return folder


def test_the_program_for_music21_prints_what_the_page_says(tmp_path: Path) -> None:
    """The range of the tune and the degrees of its chords."""
    (tmp_path / "analyse.py").write_text(files_of("analyse.md")["analyse.py"], encoding="utf-8")
    lesson = str(EXAMPLES / "kiln-lane-shuffle.lesson")
    done = run(tmp_path, "-W", "ignore", "analyse.py", lesson)
    shown = re.search(r"```text\n(.*?)```", (HOWTO / "analyse.md").read_text("utf-8"), re.S)
    assert shown is not None
    assert (done.stdout, done.stderr) == (shown[1], "")


def test_the_web_application_answers_with_findings_and_their_edits(web: ModuleType) -> None:
    """A curly quote is found, and the edit that is sent makes it a plain one."""
    text = 'lesson “Tea"\nvoicings\n  C  x32010\nsection a\n  C { p , p , p , p }\n'
    status, answer = asked(web, text.encode())
    assert status == "200 OK"
    (found,) = [one for one in answer["findings"] if one["rule"] == "curly-quote"]
    (edit,) = found["edits"]
    mended = text[: edit["start"]["offset"]] + edit["text"] + text[edit["end"]["offset"] :]
    assert mended == text.replace("“", '"')
    assert answer["not_sent"] == 0


@pytest.mark.parametrize(
    "text",
    [
        "voicings\n" + "  Cadd9  x32030  fingers .21.3.\n" * 2_500,
        f'lesson "{"x" * 50_000}"\n' + "voicings\n  C  x32010\n" * 3_000,
    ],
)
def test_an_answer_of_the_web_application_is_bounded(web: ModuleType, text: str) -> None:
    """However many findings a text has; it says how many are not sent."""
    status, answer = sent(web, text.encode())
    assert status == "200 OK"
    assert len(answer) <= web.MOST_CHARACTERS + 1_000
    told = json.loads(answer)
    assert 0 < len(told["findings"]) <= web.MOST_FINDINGS
    all_found = len(fretloom.check(fretloom.loads(text)))
    assert len(told["findings"]) + told["not_sent"] == all_found > web.MOST_FINDINGS


@pytest.mark.parametrize("body", [b"\xff", b"#" * 400_001])
def test_the_web_application_refuses_what_is_no_text(web: ModuleType, body: bytes) -> None:
    """With a sentence, not with a fault of its own."""
    status, answer = asked(web, body)
    assert status == "400 Bad Request"
    assert answer["message"]


def test_the_web_application_reads_no_files(web: ModuleType) -> None:
    """A text from outside names a file that is there: it is not looked up."""
    status, answer = asked(web, b'use "shared/open-chords.lesson"\n')
    assert status == "200 OK"
    assert answer["findings"][0]["rule"] == "file-not-found"


def test_the_web_application_sends_no_long_findings(web: ModuleType) -> None:
    """The bound is one of characters as well: few findings can be long."""
    web.MOST_CHARACTERS = 1_500
    _, answer = sent(web, b"voicings\n" + b"  C  x32010\n" * 9)
    assert len(answer) <= 1_500 + 200
    assert json.loads(answer)["not_sent"] > 0


@pytest.mark.process
def test_the_folder_is_published_beside_a_file_that_is_no_text(tmp_path: Path) -> None:
    """A sentence about the file, and the other lessons are there."""
    with_a_bad_file(tmp_path / "examples")
    (tmp_path / "publish.py").write_text(
        files_of("export-a-folder.md")["publish.py"], encoding="utf-8"
    )
    done = run(tmp_path, "publish.py")
    assert done.stderr == ""
    (told,) = [line for line in done.stdout.splitlines() if "not-a-text.lesson" in line]
    assert "is not saved as UTF-8" in told
    assert (tmp_path / "published" / "twelve-panes.txt").exists()


def test_the_application_says_why_a_file_is_no_lesson(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One line, and the exit code of what cannot be done."""
    made = ModuleType("app")
    exec(compile(files_of("freeze.md")["app.py"], "app.py", "exec"), made.__dict__)
    file = tmp_path / "tea.lesson"
    file.write_bytes(b"\xff")
    assert made.main([str(file)]) == 2
    assert "is not saved as UTF-8" in capsys.readouterr().out


@pytest.mark.process
def test_the_folder_of_handouts_has_a_page_that_leads_to_each(tmp_path: Path) -> None:
    """A lesson with a blank in its name, one without bars, and a file that is no text."""
    examples = tmp_path / "examples"
    examples.mkdir()
    shutil.copy(EXAMPLES / "kiln-lane-shuffle.lesson", examples / "kiln lane.lesson")
    (examples / "empty.lesson").write_text('lesson "Empty"\n', encoding="utf-8")
    (examples / "not-a-text.lesson").write_bytes(b"\xff")
    (tmp_path / "handouts.py").write_text(
        files_of("export-a-folder.md")["handouts.py"], encoding="utf-8"
    )
    done = run(tmp_path, "handouts.py")
    assert done.stderr == ""
    assert done.stdout.startswith("empty.lesson: no bar is played")
    assert "\nnot-a-text.lesson: " in done.stdout
    made = tmp_path / "handed-out"
    assert {one.name for one in made.iterdir()} == {"index.html", "kiln lane.handout.html"}
    assert 'href="kiln%20lane.handout.html"' in (made / "index.html").read_text(encoding="utf-8")


def test_the_notebook_makes_its_table_and_its_picture(tmp_path: Path) -> None:
    """A row for each lesson without errors, a line on a file that is no text, a rectangle for each note of four bars."""
    (tmp_path / "notebook.py").write_text(
        files_of("notes-as-a-table.md")["notebook.py"], encoding="utf-8"
    )
    with_a_bad_file(tmp_path / "examples")
    (tmp_path / "examples" / "faulty.lesson").write_text("section a\n  C\n")
    done = run(tmp_path, "notebook.py")
    assert done.stderr == ""
    rows = [line for line in done.stdout.splitlines() if "hardest change" in line]
    assert len(rows) == len(list(EXAMPLES.glob("*.lesson")))
    assert "not-a-text.lesson: " in done.stdout
    assert "Kiln Lane Shuffle            capo 3" in done.stdout
    picture = (tmp_path / "shuffle.svg").read_text(encoding="utf-8")
    assert picture.count("<rect") > 20


@pytest.mark.process
def test_the_script_builds_a_lesson_and_changes_it(tmp_path: Path) -> None:
    """What it saves checks clean, with the voicing and the bars that it changed."""
    (tmp_path / "build.py").write_text(files_of("build-a-lesson.md")["build.py"], encoding="utf-8")
    done = run(tmp_path, "build.py")
    assert (done.stderr, done.stdout) == ("", "\n")
    text = (tmp_path / "rain.lesson").read_text(encoding="utf-8")
    assert "  Am7  x02010  fingers ..2.1.  bass 5 4\n" in text
    assert "  C | Em:2 Am7:2 | G:3 C:1 | C x2\n" in text
    assert fretloom.dumps(fretloom.loads(text)) == text


@pytest.mark.process
def test_a_folder_is_checked_in_several_processes(tmp_path: Path) -> None:
    """A line for each lesson, in their order, with the number of its findings."""
    (tmp_path / "many.py").write_text(
        files_of("threads-and-processes.md")["many.py"], encoding="utf-8"
    )
    files = sorted(EXAMPLES.glob("*.lesson"))
    done = run(tmp_path, "many.py", str(with_a_bad_file(tmp_path / "examples")))
    assert done.stderr == ""
    shown = [f"{one.name} {len(fretloom.check(fretloom.load(one)))}" for one in files]
    assert done.stdout.splitlines() == sorted([*shown, "not-a-text.lesson 1"])


def test_the_guard_ends_what_takes_too_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """An answer that never comes is ended by the alarm, one without memory is one sentence, and the alarm is off after."""
    made = ModuleType("guard")
    exec(compile(files_of("web-service.md")["guard.py"], "guard.py", "exec"), made.__dict__)
    seconds: list[float] = []

    def clock(which: int, time: float) -> None:
        seconds.append(time)
        if time:
            signal.raise_signal(signal.SIGALRM)

    monkeypatch.setattr(signal, "setitimer", clock)
    statuses: list[str] = []
    answer = made.guarded(lambda environ, start: [b"never"], seconds=7)
    assert list(answer({}, lambda status, headers: statuses.append(status))) == [
        b"this took too long"
    ]
    assert (statuses, seconds) == (["503 Service Unavailable"], [7, 0])
    assert signal.getsignal(signal.SIGALRM) is signal.SIG_DFL


def test_the_configuration_of_a_collection_is_taken(tmp_path: Path) -> None:
    """The program finds what the command does: root and rules of the collection, wherever one stands."""
    made = ModuleType("settled")
    exec(compile(files_of("embed.md")["settled.py"], "settled.py", "exec"), made.__dict__)
    (tmp_path / "tunes").mkdir()
    (tmp_path / "shared.lesson").write_text("voicings\n  C  x32010\n  G  320003\n")
    lesson = tmp_path / "tunes" / "tea.lesson"
    lesson.write_text(
        'lesson "Tea"\nuse "../shared.lesson"\npatterns\n  spare  p , p , p , p\n'
        "section a\n  C { p , p , p , p }\n"
    )
    (tmp_path / "fretloom.toml").write_text('[rules]\nunused-pattern = "error"\n')
    (found,) = made.findings(lesson)
    assert (found.rule, found.severity) == ("unused-pattern", fretloom.Severity.ERROR)
    configuration = tmp_path / "fretloom.toml"
    configuration.write_text(f'leave-out = ["tunes/drafts"]\n{configuration.read_text()}')
    assert len(made.findings(lesson)) == 1
    (tmp_path / "tunes" / "drafts").mkdir()
    draft = shutil.copy(lesson, tmp_path / "tunes" / "drafts" / "tea.lesson")
    assert made.findings(Path(draft)) == []


@pytest.fixture
def kiln_lane(tmp_path: Path) -> Path:
    """A folder with the package of the page, as an installer leaves it, and a lesson."""
    files = files_of("own-rules-and-formats.md")
    project = tomllib.loads(files.pop("pyproject.toml"))["project"]
    for name, code in files.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(code, encoding="utf-8")
    described = tmp_path / f"{project['name']}-{project['version']}.dist-info"
    described.mkdir()
    head = f"Metadata-Version: 2.1\nName: {project['name']}\nVersion: {project['version']}\n"
    (described / "METADATA").write_text(head)
    points = [
        f"[{group}]\n" + "".join(f"{name} = {place}\n" for name, place in named.items())
        for group, named in project["entry-points"].items()
    ]
    (described / "entry_points.txt").write_text("\n".join(points))
    (tmp_path / "tune.lesson").write_text(
        'lesson "Tea"\n  level beginner\n  tempo 120\nvoicings\n  C  x32010  fingers .32.1.\n'
        "section a\n  C { p , p , p , p }\n"
    )
    return tmp_path


COMMAND = ("-m", "fretloom")


@pytest.mark.process
def test_the_rule_of_the_page_is_checked(kiln_lane: Path) -> None:
    """It finds what it says, and nothing below its limit."""
    done = run(kiln_lane, *COMMAND, "check", "tune.lesson")
    assert "tune.lesson:3:3: warning: this is fast for a first evening" in done.stdout
    assert "[kilnlane-slow-start]" in done.stdout
    lesson = kiln_lane / "tune.lesson"
    lesson.write_text(lesson.read_text().replace("tempo 120", "tempo 90"))
    assert "slow-start" not in run(kiln_lane, *COMMAND, "check", "tune.lesson").stdout


@pytest.mark.process
def test_the_format_of_the_page_is_written(kiln_lane: Path) -> None:
    """With its options, by the command and by the library."""
    words = ("export", "tune.lesson", "--to", "kilnlane-cards")
    assert run(kiln_lane, *COMMAND, *words).stdout == "C  x32010  .32.1.\n"
    assert run(kiln_lane, *COMMAND, *words, "--frets-only").stdout == "C  x32010\n"
    code = (
        "import fretloom; from kilnlane.cards import CardOptions; one = fretloom.load('tune.lesson');"
        "print(fretloom.export(one, 'kilnlane-cards', CardOptions(frets_only=True))[0].text)"
    )
    assert run(kiln_lane, "-c", code).stdout == "C  x32010\n\n"


@pytest.fixture(scope="module")
def types_of(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What a strict type checker says of all programs, and of one with slips in it."""
    folder = tmp_path_factory.mktemp("programs")
    pages = ("embed", "build-a-lesson", "web-service", "notes-as-a-table", "export-a-folder")
    more = ("threads-and-processes", "freeze", "own-rules-and-formats")
    programs = {
        name: text for page in (*pages, *more) for name, text in files_of(f"{page}.md").items()
    }
    programs["slips.py"] = SLIPS
    names = [name for name in programs if name.endswith(".py")]
    for name in names:
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(programs[name], encoding="utf-8")
    (folder / "kilnlane" / "__init__.py").touch()
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--cache-dir", str(SOURCE.parents[1] / ".mypy_cache"), *names],
        capture_output=True, text=True, cwd=folder, env=os.environ | {"MYPYPATH": str(SOURCE.parent)}, check=False,
    )  # fmt: skip
    return done.stdout


SLIPS = """import fretloom

lesson = fretloom.lod("tune.lesson")
fretloom.export_tab(fretloom.load("tune.lesson"), fretloom.ScoreOptions())
fretloom.TabOptions(widht=60)
fretloom.TabOptions(width="60")
fretloom.ScoreOptions(layout="sideways")
fretloom.transpose(fretloom.load("tune.lesson"), capo="3")
for found in fretloom.check(fretloom.load("tune.lesson")):
    print(found.line)
"""


def test_types_accept_the_programs_and_catch_slips(types_of: str) -> None:
    """`mypy --strict` has nothing to say about them; a name, an option, a value or a field that is not there is found."""
    others = (line for line in types_of.splitlines() if "slips.py" not in line)
    assert [line for line in others if "error:" in line] == []
    lines = set(map(int, re.findall(r"^slips\.py:(\d+): error:", types_of, re.M)))
    assert lines == {3, 4, 5, 6, 7, 8, 10}
