"""Handouts of many lessons: stable names, only what changed is written, and nobody's own files are."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fretloom import api
from fretloom.api import HandoutOptions
from fretloom.collection.handouts import (
    HandoutTask,
    hand_out,
    hand_out_all,
    put_if_changed,
    tasks_for,
    write_index,
)
from fretloom.collection.lessons import lessons_in
from fretloom.errors import FretloomError, NotWritten
from fretloom.formats.students.handout.parts.all_parts import Parts

LESSON = """lesson "{title}"
  meter 4/4

voicings
  C  x32010
  G  320003

patterns
  plain  p , i , p , i

section verse  using plain
  C | G
"""
CARD = (HandoutOptions(sheet="wall-card"),)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "lessons" / "waltzes").mkdir(parents=True)
    (tmp_path / "lessons" / "kettle.lesson").write_text(LESSON.format(title="Slow Kettle"))
    (tmp_path / "lessons" / "waltzes" / "kiln & weir.lesson").write_text(
        LESSON.format(title="Kiln Waltz")
    )
    return tmp_path


def _tasks(folder: Path, **more) -> list[HandoutTask]:
    lessons = str(folder / "lessons")
    found = list(lessons_in([lessons], None))
    return list(tasks_for(found, [lessons], str(folder / "out"), CARD, **more))


def test_pages_lie_as_their_lessons_do(folder: Path) -> None:
    made = list(hand_out_all(_tasks(folder)))
    assert [one.refused for one in made] == ["", ""]
    names = sorted(str(one.relative_to(folder / "out")) for one in (folder / "out").rglob("*.html"))
    assert names == ["kettle.wall-card.html", "waltzes/kiln & weir.wall-card.html"]
    assert made[1].entry is not None
    assert made[1].entry.files == (("wall card", "waltzes/kiln%20%26%20weir.wall-card.html"),)


def test_a_second_run_writes_only_what_changed(folder: Path) -> None:
    list(hand_out_all(_tasks(folder)))
    before = {one: one.stat().st_mtime_ns for one in (folder / "out").rglob("*.html")}
    (folder / "lessons" / "kettle.lesson").write_text(LESSON.format(title="Slow Kettle Blues"))
    kettle, weir = hand_out_all(_tasks(folder))
    assert [Path(one).name for one in kettle.written] == ["kettle.wall-card.html"]
    assert weir.written == ()
    assert [Path(one).name for one in weir.kept] == ["kiln & weir.wall-card.html"]
    kept = folder / "out" / "waltzes" / "kiln & weir.wall-card.html"
    assert kept.stat().st_mtime_ns == before[kept]


def test_a_faulty_lesson_leaves_nothing_and_the_others_go_on(folder: Path) -> None:
    faulty = LESSON.format(title="Slow Kettle").replace("C | G", "C | H9")
    (folder / "lessons" / "kettle.lesson").write_text(faulty)
    kettle, weir = hand_out_all(_tasks(folder))
    assert kettle.refused
    assert len(kettle.complaints) == 1
    assert "H9" in kettle.complaints[0]
    assert kettle.entry is None
    assert weir.written
    assert not (folder / "out" / "kettle.wall-card.html").exists()


def test_voicings_to_share_are_passed_over_in_a_folder_and_refused_by_name(folder: Path) -> None:
    shared = folder / "lessons" / "kettle.lesson"
    shared.write_text('lesson "Open shapes"\n\nvoicings\n  C  x32010\n')
    found = hand_out(_tasks(folder)[0])
    assert (found.written, found.entry, found.refused) == ((), None, "")
    named = tasks_for([(shared, folder)], [], str(folder / "out"), CARD)
    assert "nothing to hand out" in hand_out(next(iter(named))).refused


def test_a_lesson_that_cannot_be_read_is_refused(folder: Path) -> None:
    task = HandoutTask(
        name=str(folder / "none.lesson"),
        root=str(folder),
        folder=str(folder / "out"),
        below=".",
        options=CARD,
    )
    assert "none.lesson" in hand_out(task).refused


def test_a_pdf_is_made_of_each_page(folder: Path) -> None:
    pytest.importorskip(
        "weasyprint", exc_type=ImportError, reason="the extra `paper` is not installed"
    )
    made = hand_out(_tasks(folder, pdf=True)[0])
    assert [Path(one).suffix for one in made.written] == [".html", ".pdf"]
    assert Path(made.written[1]).read_bytes().startswith(b"%PDF")
    assert hand_out(_tasks(folder, pdf=True)[0]).written == ()


def test_a_page_is_made_once_for_both_files(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted where parts are put together."""
    pytest.importorskip(
        "weasyprint", exc_type=ImportError, reason="the extra `paper` is not installed"
    )
    made, usual = list[tuple[str, ...]](), Parts.made
    monkeypatch.setattr(Parts, "made", lambda self, names: made.append(names) or usual(self, names))
    assert len(hand_out(_tasks(folder, pdf=True)[0]).written) == 2
    assert len(made) == 1


def test_a_page_that_is_not_ours_stays(tmp_path: Path) -> None:
    file = tmp_path / "index.html"
    file.write_text("<!DOCTYPE html><title>My own page</title>")
    with pytest.raises(FretloomError, match="was not made by fretloom, so it stays as it is"):
        write_index(str(tmp_path), [], "Lessons")
    assert "My own page" in file.read_text()


def test_a_pdf_that_is_not_ours_stays(tmp_path: Path) -> None:
    file = tmp_path / "a.handout.pdf"
    file.write_bytes(b"%PDF-1.7 my own invoice")
    with pytest.raises(FretloomError, match="was not made by fretloom"):
        put_if_changed(file, b"%PDF-1.7 /ID [(fretloom...)]")
    assert b"invoice" in file.read_bytes()


def test_what_is_no_file_is_not_opened(tmp_path: Path) -> None:
    (tmp_path / "a.handout.html").mkdir()
    with pytest.raises(FretloomError, match="is there and is not a file"):
        put_if_changed(tmp_path / "a.handout.html", b"x")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no named pipes here")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "a.handout.html")
    with pytest.raises(FretloomError, match="is not a file"):
        put_if_changed(tmp_path / "a.handout.html", b"x")


def test_the_same_written_by_another_run_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.handout.html"

    def other_run(place: Path, content: bytes) -> None:
        Path(place).write_bytes(content)
        raise NotWritten("it was changed meanwhile")

    monkeypatch.setattr(api, "write", other_run)
    assert put_if_changed(file, b"same") is False
    monkeypatch.setattr(api, "write", lambda *_: other_run(file, b"other"))
    file.unlink()
    with pytest.raises(NotWritten):
        put_if_changed(file, b"mine")


def test_a_name_that_is_not_utf8_can_be_led_to(folder: Path) -> None:
    odd = os.fsdecode(os.fsencode(folder / "lessons") + b"/\xff.lesson")
    try:
        Path(odd).write_text(LESSON.format(title="Odd"))
    except OSError:
        pytest.skip("this system has no such names")
    made = [one for one in hand_out_all(_tasks(folder)) if one.name == odd]
    assert made[0].entry is not None
    assert made[0].entry.files[0][1] == "%FF.wall-card.html"


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(FretloomError, match=r"out.* cannot be"):
        put_if_changed(tmp_path / "out" / "in" / "a.html", b"x")


def test_the_index_leads_to_the_pages(folder: Path) -> None:
    made = hand_out_all(_tasks(folder))
    entries = [one.entry for one in made if one.entry is not None]
    name, written = write_index(str(folder / "out"), entries, "Tuesday group")
    assert written
    page = Path(name).read_text(encoding="utf-8")
    assert 'href="kettle.wall-card.html"' in page
    assert 'href="waltzes/kiln%20%26%20weir.wall-card.html"' in page
    assert write_index(str(folder / "out"), entries, "Tuesday group") == (name, False)


def test_an_entry_needs_a_file() -> None:
    with pytest.raises(ValueError, match="name the handout at least"):
        api.handout_entry(api.loads(LESSON.format(title="A")), [])


def test_an_easier_lesson_is_handed_out_under_its_level(folder: Path) -> None:
    hard = (
        LESSON.format(title="Slow Kettle")
        .replace("G  320003", "F  133211")
        .replace("C | G", "C | F")
    )
    (folder / "lessons" / "kettle.lesson").write_text(hard)
    kettle, weir = hand_out_all(_tasks(folder, eased="beginner"))
    assert [Path(one).name for one in kettle.written] == ["kettle-beginner.wall-card.html"]
    assert (
        "beginner"
        in Path(kettle.written[0])
        .read_text(encoding="utf-8")
        .partition("</h1>")[0]
        .rpartition("<h1>")[2]
    )
    assert [Path(one).name for one in weir.written] == ["kiln & weir-beginner.wall-card.html"]
