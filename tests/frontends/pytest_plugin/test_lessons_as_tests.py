"""Lessons as tests, by running pytest on a folder of them, in this process (docs.pytest.org, "pytester")."""

from __future__ import annotations

import tomllib
from importlib.metadata import EntryPoint

import pytest
from places import EXAMPLES, PROJECT

from fretloom.frontends.command.main import main
from fretloom.frontends.pytest_plugin import lesson_tests, plugin

pytest_plugins = ["pytester"]

RIGHT = (
    'lesson "Two cups"\n\nvoicings\n  C  x32010  fingers .32.1.  bass 5 4\n\n'
    "patterns\n  plain  p , p m , p i , p m\n\nsection tune  using plain\n  C\n"
)
WRONG = RIGHT.replace("p , p m , p i , p m", "p , p m , p i")
#: A voicing that nothing plays: a warning.
DOUBTFUL = RIGHT.replace("\n\npatterns", "\n  Am  x02210  fingers ..231.\n\npatterns")


class Folder:
    """A folder of lessons, and pytest as it runs there."""

    def __init__(self, pytester: pytest.Pytester) -> None:
        self.pytester = pytester
        # What is imported before a run in this process is not imported anew by it.
        main(["check", "--quiet", str(EXAMPLES / "rain-on-slate.lesson")])
        self.write("right", RIGHT)
        self.write("inner/wrong", WRONG)
        self.write("inner/doubtful", DOUBTFUL)

    def write(self, name: str, text: str) -> None:
        """Write a lesson, or the file of a name with an ending."""
        file = self.pytester.path / (name if "." in name else f"{name}.lesson")
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, encoding="utf-8")

    def run(self, *arguments: str) -> pytest.RunResult:
        """Run pytest with the plugin, once, whether it is installed or not."""
        ours = ("-p", "no:fretloom", "-p", plugin.__name__, "-p", "no:cacheprovider")
        return self.pytester.runpytest_inprocess(*ours, *arguments)


@pytest.fixture
def folder(pytester: pytest.Pytester) -> Folder:
    """A folder with a lesson that is right, one that is wrong and one with a warning."""
    return Folder(pytester)


def test_lessons_are_no_tests_unless_that_is_asked_for(folder: Folder) -> None:
    """Whoever installs fretloom finds his tests as they were."""
    folder.write("test_own.py", "def test_own():\n    pass\n")
    folder.run().assert_outcomes(passed=1)
    folder.run("--lessons").assert_outcomes(passed=3, failed=1)


def test_each_lesson_is_a_test(folder: Folder) -> None:
    """An error makes it fail, a warning does not; each is called by its path."""
    done = folder.run("--lessons", "-v")
    done.assert_outcomes(passed=2, failed=1)
    done.stdout.fnmatch_lines(
        [
            "inner/doubtful.lesson::check PASSED*",
            "inner/wrong.lesson::check FAILED*",
            "right.lesson::check PASSED*",
        ]
    )
    assert done.ret == pytest.ExitCode.TESTS_FAILED


def test_it_fails_with_what_check_says(
    folder: Folder, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The findings stand there as `fretloom check` writes them, and no traceback."""
    done = folder.run("--lessons", "inner/wrong.lesson")
    monkeypatch.chdir(folder.pytester.path)
    capsys.readouterr()
    assert main(["check", "inner/wrong.lesson"]) == 1
    said = capsys.readouterr().out.strip()
    assert "[pattern-beats]" in said
    assert said in done.stdout.str()
    assert "Traceback" not in done.stdout.str()
    assert f"{lesson_tests.__name__.rpartition('.')[2]}.py" not in done.stdout.str()


def test_strict_counts_warnings(folder: Folder) -> None:
    """By an option, or by the setting of the project, which an option overrules."""
    folder.run("--lessons-strict").assert_outcomes(passed=1, failed=2)
    folder.write("pytest.ini", "[pytest]\nlessons = strict\n")
    folder.run().assert_outcomes(passed=1, failed=2)
    folder.run("--lessons").assert_outcomes(passed=2, failed=1)
    folder.run("--no-lessons").assert_outcomes()


def test_what_is_only_doubtful_is_shown_on_request(folder: Folder) -> None:
    """A lesson that passes with a warning has it in its report."""
    done = folder.run("--lessons", "-rP", "inner/doubtful.lesson")
    done.assert_outcomes(passed=1)
    assert "[unused-voicing]" in done.stdout.str()


def test_a_setting_that_is_not_known_is_refused(folder: Folder) -> None:
    """With the words that there are."""
    folder.write("pytest.ini", "[pytest]\nlessons = all\n")
    done = folder.run()
    assert done.ret == pytest.ExitCode.USAGE_ERROR
    assert "lessons is off, check or strict, not 'all'" in done.stderr.str()


def test_the_configuration_of_the_collection_holds(folder: Folder) -> None:
    """Rules that are off find nothing, severities are as settled, and what is left out is skipped."""
    folder.write(
        "fretloom.toml", 'leave-out = ["inner/wrong*"]\n[rules]\nunused-voicing = "error"\n'
    )
    done = folder.run("--lessons", "-rs")
    done.assert_outcomes(passed=1, failed=1, skipped=1)
    assert "left out by inner/wrong*" in done.stdout.str()
    folder.write("fretloom.toml", '[rules]\nunused-voicing = "off"\n')
    folder.run("--lessons-strict").assert_outcomes(passed=2, failed=1)
    folder.write("fretloom.toml", "[house-style]\nsteps = true\n")
    assert folder.run("--lessons", "-rP").stdout.str().count("[without-steps]") == 3


def test_a_faulty_configuration_is_said_once(folder: Folder) -> None:
    """And without a traceback."""
    folder.write("fretloom.toml", '[rules]\nunused-voicing = "maybe"\n')
    done = folder.run("--lessons")
    done.assert_outcomes(errors=1)
    assert done.stdout.str().count("fretloom.toml:2") == 1
    assert "Traceback" not in done.stdout.str()


def test_tests_are_chosen_by_word_and_by_name(folder: Folder) -> None:
    """`-k`, node ids and `--collect-only` go as with any test."""
    folder.run("--lessons", "-k", "doubtful or right").assert_outcomes(passed=2, deselected=1)
    folder.run("--lessons", "right.lesson::check").assert_outcomes(passed=1)
    listed = folder.run("--lessons", "--collect-only", "-q")
    assert listed.outlines[:3] == [
        "inner/doubtful.lesson::check", "inner/wrong.lesson::check", "right.lesson::check",
    ]  # fmt: skip


def test_what_cannot_be_read_fails_with_a_sentence(folder: Folder) -> None:
    """A file that is no text, too."""
    (folder.pytester.path / "noise.lesson").write_bytes(b"\xff\xfe\x00lesson")
    done = folder.run("--lessons", "noise.lesson")
    done.assert_outcomes(failed=1)
    assert "noise.lesson" in done.stdout.str()
    assert "Traceback" not in done.stdout.str()


def test_the_root_is_that_of_the_configuration(folder: Folder) -> None:
    """A lesson may use files in the collection it lies in."""
    folder.write("fretloom.toml", "")
    folder.write("shared", 'lesson "Shared"\n\nvoicings\n  C  x32010  fingers .32.1.  bass 5 4\n')
    using = RIGHT.replace("voicings\n  C  x32010  fingers .32.1.  bass 5 4\n\n", "")
    folder.write("inner/using", f'use "../shared.lesson"\n{using}')
    folder.run("--lessons", "inner/using.lesson").assert_outcomes(passed=1)


@pytest.mark.process
def test_workers_share_lessons(folder: Folder) -> None:
    """With pytest-xdist each worker collects the same tests and checks some of them."""
    ours = ("-p", "no:fretloom", "-p", plugin.__name__, "-p", "no:cacheprovider")
    done = folder.pytester.runpytest_subprocess(*ours, "--lessons", "-n", "2", "-v")
    done.assert_outcomes(passed=2, failed=1)
    assert "[pattern-beats]" in done.stdout.str()


def test_pytest_finds_it_by_its_entry_point() -> None:
    """Under the name by which it can be switched off: `-p no:fretloom`."""
    project = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    ((name, place),) = project["entry-points"]["pytest11"].items()
    assert name == "fretloom"
    assert EntryPoint(name, place, "pytest11").load() is plugin
