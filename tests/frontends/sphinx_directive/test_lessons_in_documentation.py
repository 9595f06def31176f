"""Documentation with lessons in it, built by Sphinx in this process (sphinx-doc.org, "Testing")."""

from __future__ import annotations

import io
import os
import re
import sys
from pathlib import Path

import pytest
from html5lib import parse
from sphinx.testing.util import SphinxTestApp

import fretloom.sphinx

LESSON = (
    'lesson "Two cups"\n\nvoicings\n  C  x32010  fingers .32.1.  bass 5 4\n  Am  x02210  fingers ..231.  bass 5 4\n\n'
    "patterns\n  plain  p , p m , p i , p m\n\nsection tune  using plain\n  C | Am\n"
)
USING = (
    'use "shared.lesson"\nlesson "With a friend"\n\nsection tune  using plain\n  C | Am | C | Am\n'
)


def directive(options: str = "", text: str = "", name: str = "") -> str:
    """Write the directive as reStructuredText."""
    lines = [f".. lesson:: {name}", *options.splitlines(), "", *text.splitlines()]
    return "\n   ".join(lines) + "\n\n"


PAGES = {
    "index.rst": "Lessons\n=======\n\n.. toctree::\n\n   wrong\n   other\n\n"
    + directive(":section: tune\n:bars: 2", name="inner/using.lesson")
    + directive(":show: source, tab", LESSON)
    + directive(":show: shapes\n:alt: Two shapes\n:class: wide", LESSON),
    "wrong.rst": "Wrong\n=====\n\n"
    + directive("", LESSON.replace("p m , p i", "p t , p i"))
    + directive("", "", "inner/none.lesson")
    + directive(":section: cellar", "", "inner/using.lesson")
    + directive(":bars: 2", "", "inner/using.lesson")
    + directive("", LESSON, "inner/using.lesson")
    + directive(":show: pies", LESSON)
    + directive(":show:", LESSON)
    + directive(":section: tune\n:bars:", LESSON)
    + directive("", "", "inner/wrong.lesson")
    + directive(":show: source", "", "inner/wrong.lesson")
    + directive("", "", "inner/one.lesson")
    + directive("", "", "inner/two.lesson"),
    "other.md": "# Other\n\n```{lesson}\n:show: tab\n"
    + LESSON.replace("C | Am", "C | Bm")
    + "```\n\n```{lesson}\n:show:\n"
    + LESSON
    + "```\n",
}


class Built:
    """A folder of documentation, and what Sphinx makes of it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        (folder / "inner").mkdir()
        (folder / "conf.py").write_text('extensions = ["fretloom.sphinx", "myst_parser"]\n')
        (folder / "inner/shared.lesson").write_text(LESSON)
        (folder / "inner/using.lesson").write_text(USING)
        (folder / "inner/wrong.lesson").write_text(USING.replace("C | Am |", "C | G |", 1))
        (folder / "inner/faulty.lesson").write_text(LESSON.replace("p m", "p t", 1))
        for name in ("one", "two"):
            (folder / f"inner/{name}.lesson").write_text(USING.replace("shared", "faulty"))
        for name, text in PAGES.items():
            (folder / name).write_text(text)

    def build(self, builder: str, processes: int = 1, **settings: object) -> tuple[str, list[str]]:
        """Build with one of Sphinx's builders; returns the warnings, and the pages that were read."""
        said = io.StringIO()
        app = SphinxTestApp(
            builder, self.folder, warning=said, confoverrides=dict(settings), parallel=processes
        )
        read: list[str] = []
        try:
            app.connect("env-before-read-docs", lambda _, __, names: read.extend(names))
            app.build()
        finally:
            app.cleanup()
        return re.sub(r"\x1b\[[\d;]*m", "", said.getvalue()), read

    def page(self, builder: str, name: str) -> str:
        """Return a page that was built."""
        return (self.folder / "_build" / builder / name).read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The documentation of `PAGES`."""
    return Built(tmp_path_factory.mktemp("documentation"))


@pytest.fixture(scope="module")
def warnings(built: Built) -> list[str]:
    """What is said when it is built as HTML by two processes; the folder is left out."""
    said, _ = built.build("html", processes=2)
    return [line.replace(f"{built.folder}{os.sep}", "") for line in said.splitlines()]


def _line(page: str, of: str, after: int = 0) -> int:
    """Return the 1-based line of a page on which something stands."""
    lines = PAGES[page].splitlines()
    return next(n for n, line in enumerate(lines, 1) if of in line and n > after)


def test_what_is_wrong_is_a_warning_with_its_place(warnings: list[str]) -> None:
    """So that a build with -W fails: the line of the page, or of the file that is shown."""
    places = [line.partition(": WARNING: ")[0] for line in warnings]
    assert f"wrong.rst:{_line('wrong.rst', 'p t , p i')}" in places
    assert f"other.md:{_line('other.md', 'C | Bm')}" in places
    assert f"inner{os.sep}wrong.lesson:5" in places
    said = "\n".join(warnings)
    assert "`t` is not a pluck" in said and "[fretloom.bad-pluck]" in said
    assert "there is no file" in said
    assert "there is no section cellar" in said
    assert "name it with `section` too" in said
    assert "name the file of a lesson, or write one" in said
    assert (
        "'pies' cannot be shown: give some of source, tab, drawn-tab, shapes, changes, score"
        in said
    )
    assert said.count("`show` says nothing: give some of source, tab,") == 2
    assert "bars are written like 3 or 3-6" in said
    assert len([line for line in warnings if "WARNING" in line or "ERROR" in line]) == 12
    assert "index.rst" not in said


def test_a_fault_of_a_shared_file_is_said_once_and_where_it_is(warnings: list[str]) -> None:
    """Not at each of the lessons that use the file, and not for each time that a lesson is shown."""
    (linked,) = [line for line in warnings if "linked-file-faulty" in line]
    place = f"inner{os.sep}faulty.lesson:{LESSON.splitlines().index('patterns') + 2}"
    assert linked.startswith(f"{place}: WARNING: ")
    assert len([line for line in warnings if line.startswith(f"inner{os.sep}wrong.lesson")]) == 1


def test_drawings_are_images_with_words(built: Built, warnings: list[str]) -> None:
    """Each is a file that is there, with words for who does not see it, its own or those that were given."""
    assert warnings
    page = parse(built.page("html", "index.html"), namespaceHTMLElements=False)
    images = [one for one in page.iter("img") if "lesson-" in one.get("src", "")]
    shapes, tab, own = images
    assert (built.folder / "_build/html" / shapes.get("src")).read_bytes().startswith(b"<svg")
    assert "Shape Am" in shapes.get("alt") and "Shape C." not in shapes.get("alt")
    assert tab.get("alt").startswith("With a friend. Bar 2, Am.")
    assert own.get("alt") == "Two shapes"
    classes = [one.get("class", "") for one in page.iter("div")]
    assert any("lesson-picture" in one and "wide" in one for one in classes)


def test_texts_are_coloured_as_lessons(built: Built, warnings: list[str]) -> None:
    """The source of a lesson is a code block in the colours of the notation."""
    assert warnings
    assert '<span class="kd">voicings</span>' in built.page("html", "index.html")


def test_a_lesson_with_errors_is_shown_as_it_is_written(built: Built, warnings: list[str]) -> None:
    """Nothing is drawn that nobody can play."""
    assert warnings
    page = built.page("html", "wrong.html")
    assert "x32010" in page
    assert "<img" not in page.partition("<article")[2]


def test_pages_are_built_anew_when_a_file_changes(built: Built, warnings: list[str]) -> None:
    """Those that show the lesson or a file that it uses; a page that was not there is waited for."""
    assert warnings
    said, read = built.build("html")
    assert sorted(read) == [
        "other",
        "wrong",
    ]  # Something is wrong with them, and that is said again.
    assert "other.md" in said and "[fretloom.linked-file-faulty]" in said
    shared = built.folder / "inner/shared.lesson"
    shared.write_text(LESSON.replace("bass 5 4", "bass 4 5", 1))
    later = shared.stat().st_mtime + 10
    os.utime(shared, (later, later))
    said, read = built.build("html")
    assert sorted(read) == ["index", "other", "wrong"]
    assert said.count("[fretloom.linked-file-faulty]") == 1


@pytest.mark.parametrize(("builder", "name"), [("text", "index.txt"), ("latex", "projectnamenotset.tex")])  # fmt: skip
def test_where_there_are_no_drawings_texts_stand(built: Built, builder: str, name: str) -> None:
    """In plain text and on paper the shapes and the tab are those of plain text."""
    built.build(builder)
    page = built.page(builder, name)
    assert "o is an open string" in page
    assert "plain, over Am" in page
    assert "<svg" not in page


def test_warnings_of_lessons_count_where_that_is_asked_for(tmp_path: Path) -> None:
    """A voicing that nothing plays is a warning of the build with `fretloom_strict`."""
    built = Built(tmp_path)
    for page in PAGES:
        (tmp_path / page).unlink()
    doubtful = LESSON.replace("C | Am", "C | C")
    (tmp_path / "index.rst").write_text("Lessons\n=======\n\n" + directive(":show: tab", doubtful))
    assert built.build("dummy")[0] == ""
    assert "[fretloom.unused-voicing]" in built.build("dummy", fretloom_strict=True)[0]


def test_the_configuration_of_the_collection_holds(tmp_path: Path) -> None:
    """What it switches on or asks for is an error of the build; when it comes, changes or goes, the page is read."""
    built = Built(tmp_path)
    for page in PAGES:
        (tmp_path / page).unlink()
    settled = tmp_path / "fretloom.toml"
    doubtful = directive(":show: tab", LESSON.replace("C | Am", "C | C"))
    (tmp_path / "index.rst").write_text(f"Lessons\n=======\n\n{doubtful}{doubtful}")
    assert built.build("html") == ("", ["index"])
    assert built.build("html") == ("", [])
    settled.write_text('[rules]\nunused-voicing = "error"\n')
    said, _ = built.build("html")
    assert (
        said.count("[fretloom.unused-voicing]") == 2
    )  # The lessons are alike, and each has its place.
    settled.write_text('[rules]\nunused-voicings = "off"\n')
    assert built.build("html")[0].count("did you mean unused-voicing?") == 1
    settled.write_text(
        '[rules]\nstyle = "error"\nunused-voicing = "off"\n[house-style]\nsteps = true\n'
    )
    assert "[fretloom.without-steps]" in built.build("html")[0]
    settled.write_text('[rules]\nunused-voicing = "off"\n')
    later = settled.stat().st_mtime + 10
    os.utime(settled, (later, later))
    assert built.build("html") == ("", ["index"])
    settled.unlink()
    assert built.build("html") == ("", ["index"])
    assert built.build("html") == ("", [])


def test_what_cannot_be_shown_leaves_the_rest(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without the extra for pictures there is no score, which is a warning with what to install."""
    built = Built(tmp_path)
    for page in PAGES:
        (tmp_path / page).unlink()
    shown = directive(":show: score, source", LESSON)
    (tmp_path / "index.rst").write_text(f"Lessons\n=======\n\n{shown}")
    monkeypatch.setitem(sys.modules, "verovio", None)
    said, _ = built.build("text")
    assert "index.rst:4: WARNING" in said and "pip install" in said
    assert "x32010" in built.page("text", "index.txt")


def test_it_may_be_read_in_parallel() -> None:
    """What the extension says of itself (sphinx-doc.org, "Extension metadata")."""

    class App:
        def __getattr__(self, name: str) -> object:
            return lambda *_: None

    found = fretloom.sphinx.setup(App())  # type: ignore[arg-type]
    assert found["parallel_read_safe"] and found["parallel_write_safe"]
