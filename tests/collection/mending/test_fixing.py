"""Sure changes are made in the file, and nothing else of it is touched."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from pathlib import Path

import pytest

from fretloom import api
from fretloom.api import Diagnostic, Edit, Span, apply_edits, check, load, loads
from fretloom.api.soundness import comments_of
from fretloom.collection.mending.fixing import Mended, fix_file, fixed_lesson
from fretloom.errors import NotWritten
from fretloom.rule_facts import RULES, Severity, find_rule
from fretloom.rules.pages import page
from fretloom.source import Source
from fretloom.values import evolve

GOOD = """lesson "Tea"   # for the evening group

voicings
  C  x32010   # low
  G  320003

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | G
"""
#: Two slips with one way out each, and one that has none.
FAULTY = GOOD.replace("using plain", "using plian").replace('"Tea"', "“Tea”").replace("C | G", "C | Zzz")  # fmt: skip


def everything(found: Iterable[Diagnostic]) -> Iterable[Diagnostic]:
    return found


def _fixed(folder: Path, text: str, *, data: bytes | None = None) -> tuple[Mended, bytes]:
    file = folder / "tea.lesson"
    file.write_bytes(text.encode() if data is None else data)
    return fix_file(str(file), str(folder), everything), file.read_bytes()


def test_what_is_sure_is_made_and_the_rest_stays(tmp_path: Path) -> None:
    mended, data = _fixed(tmp_path, FAULTY)
    assert data.decode() == GOOD.replace("C | G", "C | Zzz")
    assert mended.made == 2


def test_there_may_be_nothing_to_do(tmp_path: Path) -> None:
    """The file is not even written."""
    file = tmp_path / "tea.lesson"
    file.write_text(GOOD)
    file.chmod(0o444)
    assert fix_file(str(file), str(tmp_path), everything) == Mended(0)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_line_ends_and_mark_stay(tmp_path: Path, end: str, mark: bytes) -> None:
    _, data = _fixed(tmp_path, "", data=mark + FAULTY.replace("\n", end).encode())
    assert data == mark + GOOD.replace("C | G", "C | Zzz").replace("\n", end).encode()


def test_mixed_line_ends_stay_as_they_are(tmp_path: Path) -> None:
    """Only `format` makes them one."""
    text = FAULTY.replace("\n", "\r\n", 3)
    _, data = _fixed(tmp_path, "", data=text.encode())
    assert data == GOOD.replace("C | G", "C | Zzz").replace("\n", "\r\n", 3).encode()


def test_only_what_is_wanted_is_mended(tmp_path: Path) -> None:
    file = tmp_path / "tea.lesson"
    file.write_text(FAULTY)
    mended = fix_file(str(file), str(tmp_path), lambda found: (one for one in found if one.rule == "unknown-pattern"))  # fmt: skip
    assert mended.made == 1
    assert file.read_text() == FAULTY.replace("plian", "plain")


def test_a_file_that_another_lesson_names_stays(tmp_path: Path) -> None:
    """It is mended when it is checked itself."""
    (tmp_path / "shared.lesson").write_text(FAULTY)
    text = 'use "shared.lesson"\n' + GOOD
    mended, data = _fixed(tmp_path, text)
    assert (mended.made, data.decode()) == (0, text)
    assert (tmp_path / "shared.lesson").read_text() == FAULTY


def test_a_protected_file_stays_and_it_is_said(tmp_path: Path) -> None:
    file = tmp_path / "tea.lesson"
    file.write_text(FAULTY)
    os.link(file, tmp_path / "other")
    with pytest.raises(NotWritten, match="hard links"):
        fix_file(str(file), str(tmp_path), everything)
    assert file.read_text() == FAULTY


def _with_edit(find: str, put: str, rule: str = "unused-voicing") -> object:
    """Return what gives the findings of a rule an edit, right or wrong."""

    def wanted(found: Iterable[Diagnostic]) -> Iterable[Diagnostic]:
        for one in found:
            source = one.span.source
            at = source.text.find(find)
            if one.rule == rule and at >= 0:
                edit = Edit(span=Span(source, at, at + len(find)), text=put)
                yield evolve(one, edits=(edit,))

    return wanted


DOUBTFUL = GOOD.replace("  G  320003\n", "  G  320003\n  F  133211\n")


@pytest.mark.parametrize(
    ("find", "put"),
    [
        ("  F  133211\n\npatterns\n  plain  p ,", "\npatterns\n  plain  p5 ,"),
        ("  F  133211\n", "  F  133211\n"),
        ("  F  133211\n", "  D  xx0232\n"),
        ("  F  133211\n", "  F  133211  nonsense\n"),
        ("C  x32010   # low\n  G  320003\n  F  133211\n", "C  x32010\n  G  320033\n"),
    ],
)
def test_the_net_catches_an_edit_that_does_harm(tmp_path: Path, find: str, put: str) -> None:
    """Another note, nothing mended, a new finding, an error, other music with a comment less."""
    file = tmp_path / "tea.lesson"
    file.write_text(DOUBTFUL)
    mended = fix_file(str(file), str(tmp_path), _with_edit(find, put))  # type: ignore[arg-type]
    assert mended == Mended(0, refused=1)
    assert file.read_text() == DOUBTFUL


def test_the_net_catches_a_lost_comment(tmp_path: Path) -> None:
    """Read back, the text has to have each comment that no edit is about."""
    file = tmp_path / "tea.lesson"
    file.write_text(DOUBTFUL)
    lost = iter([DOUBTFUL.replace("  F  133211\n", "").replace("   # low", "")])
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(api, "apply_edits", lambda *_: next(lost))
        mended = fix_file(str(file), str(tmp_path), _with_edit("  F  133211\n", ""))  # type: ignore[arg-type]
    assert mended == Mended(0, refused=1)
    assert file.read_text() == DOUBTFUL


def test_a_right_edit_of_the_same_kind_is_made(tmp_path: Path) -> None:
    file = tmp_path / "tea.lesson"
    file.write_text(DOUBTFUL)
    assert fix_file(str(file), str(tmp_path), _with_edit("  F  133211\n", "")).made == 1  # type: ignore[arg-type]
    assert file.read_text() == GOOD


def test_of_edits_that_do_not_go_together_the_first_is_made(tmp_path: Path) -> None:
    """The others may be made in a later round, if they are still asked for."""
    file = tmp_path / "tea.lesson"
    file.write_text(DOUBTFUL)

    def wanted(found: Iterable[Diagnostic]) -> Iterable[Diagnostic]:
        for one in found:
            source = one.span.source
            at = source.text.find("  F  133211\n")
            if one.rule == "unused-voicing" and at >= 0:
                for put in ("", "# F\n"):
                    yield evolve(one, edits=(Edit(span=Span(source, at, at + 12), text=put),))

    assert fix_file(str(file), str(tmp_path), wanted) == Mended(1)
    assert file.read_text() == GOOD


def _wrong_lessons() -> list[str]:
    found = []
    for rule in RULES:
        told = page(rule.name)
        assert told is not None
        found += re.findall(r"^```lesson\n(.*?)^```", told.sections["Wrong"], re.M | re.S)
    return found


def test_no_wrong_lesson_of_the_pages_loses_anything(tmp_path: Path) -> None:
    """Fewer errors than before where something was made, the same text where nothing was; a second time changes nothing."""
    made = 0
    lessons = _wrong_lessons()
    assert len(lessons) > 80
    for text in lessons:
        before = check(loads(text, root=tmp_path))
        mended, data = _fixed(tmp_path, text)
        after = check(load(tmp_path / "tea.lesson"))
        made += mended.made
        assert (data.decode() == text) is (mended.made == 0)
        assert _errors(after) <= _errors(before)
        if not any((rule := find_rule(one.rule)) and rule.family == "waivers" for one in before):
            assert not comments_of(Source("", text)) - comments_of(Source("", data.decode()))
        if mended.made:
            again, same = _fixed(tmp_path, data.decode())
            assert (again.made, same) == (0, data)
    assert made > 10


def _errors(found: list[Diagnostic]) -> int:
    return sum(one.severity is Severity.ERROR for one in found)


def test_edits_are_made_as_the_library_makes_them(tmp_path: Path) -> None:
    """All at once, where they go together."""
    text = FAULTY.replace("C | Zzz", "C | G")
    found = check(loads(text))
    _, data = _fixed(tmp_path, text)
    edits = [edit for one in found for edit in one.edits]
    assert data.decode() == apply_edits(text, edits) == GOOD


def test_more_mistakes_than_are_read_at_once_are_mended(tmp_path: Path) -> None:
    """After the first hundred are mended more of the file is read, and so on."""
    slips = 'step "a"\n  shw form\n' * 350
    mended, data = _fixed(tmp_path, GOOD + "\nform\n  tune\n\n" + slips)
    assert mended.made == 350
    assert data.decode().count("  show form\n") == 350


def test_changes_that_do_harm_are_found_in_few_tries() -> None:
    """Among many that do none: a lesson is read so often as there are halves, not changes."""
    text = GOOD + "\nform\n  tune\n\n" + 'step "a"\n  shw form\n' * 64
    reads: list[str] = []

    harmful = text[: text.index("step")].count("\n") + 80

    def wanted(found: Iterable[Diagnostic]) -> Iterable[Diagnostic]:
        for one in found:
            if one.edits and one.span.line == harmful:
                put = "show )(\n  " * 70 + "show"
                yield evolve(one, edits=(evolve(one.edits[0], text=put),))
            elif one.edits:
                yield one

    def read(text: str) -> api.Lesson:
        reads.append(text)
        return loads(text)

    fixed, mended = fixed_lesson(api.examine(loads(text)), wanted, read)
    assert mended.refused == 1
    assert len(reads) < 40
    assert fixed.lesson.source is not None and fixed.lesson.source.text.count("show form") == 63
