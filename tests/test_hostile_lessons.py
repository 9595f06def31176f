"""Lessons made to take time, memory or a terminal: each gets a clear answer."""

from __future__ import annotations

from pathlib import Path

import pytest

import fretloom
from fretloom.frontends.command.main import main
from fretloom.limits import LIMITS
from fretloom.notation.syntax.lines import split
from fretloom.performance.expansion.voicings.book import VoicingBook
from fretloom.source import Source


def rules(text: str) -> set[str]:
    """Return the rules that find something in a text."""
    return {found.rule for found in fretloom.check(fretloom.loads(text))}


def test_thousands_of_comments_are_kept() -> None:
    """Comments are dealt out once each; looking each up among the others took minutes."""
    lesson = fretloom.loads('lesson "T"\nvoicings\n' + "  # c\n" * 30_000 + "# d\n" * 30_000)
    block = lesson.blocks[-1]
    assert len(block.tail) == 30_000
    assert len(lesson.tail) == 30_000


def test_a_comment_is_found_behind_thousands_of_texts() -> None:
    """A line is gone through once."""
    (line,) = split(Source("t", "lesson " + '"a # b" ' * 30_000 + "# c"))
    assert line.comment == "# c"


def test_thousands_of_unknown_names_get_one_finding_each() -> None:
    """Looking for a name that is alike stops where there are too many."""
    known = "".join(f"  v{number} 022100\n" for number in range(1500))
    bars = "".join(f"  w{number}\n" for number in range(1500))
    text = f'lesson "T"\nvoicings\n{known}patterns\n  t p , p , p , p\nsection s using t\n{bars}'
    found = [one for one in fretloom.check(fretloom.loads(text)) if one.rule == "unknown-voicing"]
    assert len(found) == 1500


def test_what_was_meant_is_looked_for_a_hundred_times(monkeypatch: pytest.MonkeyPatch) -> None:
    """Four thousand voicings like unknown ones, compared with all others, took minutes."""
    looked = 0

    def counting(*_: object) -> str:
        nonlocal looked
        looked += 1
        return ""

    monkeypatch.setattr(VoicingBook, "meant", counting)
    lines = "".join(f"  v{number} like w{number}\n" for number in range(3 * LIMITS.hinted))
    text = f'lesson "T"\nvoicings\n{lines}'
    found = [one for one in fretloom.check(fretloom.loads(text)) if one.rule == "unknown-voicing"]
    assert len(found) == 3 * LIMITS.hinted
    assert looked == LIMITS.hinted
    # Any of them may have been in a line that could not be read, so nothing is said of them.
    looked, unread = 0, "".join(f"  z{number} zzz\n" for number in range(30))
    fretloom.check(fretloom.loads(text + unread))
    assert looked == 0


def test_more_notes_than_a_day_holds_are_refused() -> None:
    """The limits on bars alone would let pass what needs gigabytes."""
    beats = " , ".join(["p i m a " * 12] * 4)
    text = f'lesson "T"\nvoicings\n  E 022100\npatterns\n  t {beats}\nsection s using t\n  E x5000\nform\n  s x4\n'
    assert "too-many-bars" in rules(text)


def test_a_bar_is_not_made_of_patches() -> None:
    """What is changed more than thirty times is written out."""
    patches = " ".join(f"with a@3 on 1+1/{share}" for share in range(2, 40))
    text = f'lesson "T"\nvoicings\n  E 022100\npatterns\n  t p , p , p , p\nsection s using t\n  E {patches}\n'
    assert "beat-too-full" in rules(text)


@pytest.mark.parametrize(
    "text", ['by "x" # c \x1b]0;t\x07', "# \x1b[2J", 'by "a\ufffeb"', 'by "a\uffffb"']
)
def test_what_a_terminal_or_xml_cannot_take_is_reported(text: str) -> None:
    """Control characters in comments, and code points that are no characters."""
    assert rules(f'lesson "T"\n  {text}\n') == {"hidden-character"}


def test_files_that_share_files_are_gathered_once_each(tmp_path: Path) -> None:
    """Fifteen levels of three files, each using all of the next level, are forty-five files."""
    for level in range(15):
        uses = "".join(f'use "f{level + 1}-{other}.lesson"\n' for other in range(3))
        for place in range(3):
            text = uses if level < 14 else f"voicings\n  E.v{place}  022100\n"
            (tmp_path / f"f{level}-{place}.lesson").write_text(text, encoding="utf-8")
    assert fretloom.check(fretloom.load(tmp_path / "f0-0.lesson")) == []


@pytest.mark.parametrize("path", ["../.env", "notes.txt", "a" * 300, "a" * 300 + ".lesson"])
def test_only_lesson_files_are_used(tmp_path: Path, path: str) -> None:
    """What is not a lesson is not opened, so nothing of it is ever shown."""
    (tmp_path / ".env").write_text("KEY=secret", encoding="utf-8")
    (tmp_path / "sub").mkdir()
    file = tmp_path / "sub" / "l.lesson"
    file.write_text(f'lesson "T"\nuse "{path}"\n', encoding="utf-8")
    (found,) = fretloom.check(fretloom.load(file, root=tmp_path))
    assert found.rule == "file-not-found"
    assert "secret" not in found.message


def test_a_link_to_itself_does_not_stop_the_check_of_a_folder(tmp_path: Path, capsys) -> None:
    """The other lessons are checked, and the link is reported."""
    (tmp_path / "loop.lesson").symlink_to("loop.lesson")
    (tmp_path / "ok.lesson").write_text("voicings\n  E  022100\n", encoding="utf-8")
    assert main(["check", str(tmp_path)]) == 2
    shown = capsys.readouterr()
    assert "loop.lesson could not be read" in shown.err
    assert "in 1 file" in shown.out


def test_lines_that_runners_would_obey_do_not_start_a_line(tmp_path: Path, capsys) -> None:
    """GitHub's runner obeys `::error ...` after any white space (from its documentation, from memory)."""
    file = tmp_path / "l.lesson"
    file.write_text('lesson "T"\n::error file=README.md::pwned\n', encoding="utf-8")
    assert main(["check", str(file)]) == 1
    assert not any(line.lstrip().startswith("::") for line in capsys.readouterr().out.splitlines())


@pytest.mark.parametrize("command", ["hands", "sounds"])
def test_reports_on_faulty_lessons_tell_their_faults(tmp_path: Path, capsys, command: str) -> None:
    """The report is printed as far as it goes, the faults go to stderr, and the exit code says so."""
    file = tmp_path / "l.lesson"
    file.write_text(
        'lesson "T"\nvoicings\n  E 022100\npatterns\n  t p , p , p , p\nsection s using t\n  E | D | rest\n',
        encoding="utf-8",
    )
    assert main([command, str(file)]) == 1
    assert "there is no voicing D" in capsys.readouterr().err
