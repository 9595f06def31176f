"""A name is found in all files in which it means the same thing, and in no other."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from fretloom.collection.naming.names import Names
from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.limits import LIMITS

OPEN = (
    "voicings\n  E  022100\n  E7  like E  lift 3\n  A  x02220\n\npatterns\n  plain  p , p , p , p\n"
)
SONG = """\
lesson "Song"

use "open.lesson"

section verse using plain
  E | E7 | A | E
"""


def _collection(folder: Path, files: Mapping[str, str]) -> Names:
    for name, text in files.items():
        place = folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(text, encoding="utf-8", newline="")
    return Names(folder)


def _places(names: Names, path: Path, kind: str, name: str) -> dict[str, list[int]]:
    """Return the lines on which a name stands, by file."""
    found: dict[str, list[int]] = {}
    for one in names.everywhere(path, kind, name):  # type: ignore[arg-type]
        assert one.span.text == one.name == name
        found.setdefault(one.path.relative_to(names.texts.root).as_posix(), []).append(
            one.span.line
        )
    return found


def test_from_a_lesson_to_the_file_it_uses_and_to_all_that_use_it(tmp_path: Path) -> None:
    """It does not matter from which of them one looks."""
    other = SONG.replace('"open', '"../open').replace("E |", "A |")
    names = _collection(
        tmp_path,
        {"open.lesson": OPEN, "song.lesson": SONG, "more/b.lesson": other, "c.lesson": OPEN},
    )
    found = {"more/b.lesson": [6], "open.lesson": [2, 3], "song.lesson": [6, 6]}
    for file in found:
        assert _places(names, tmp_path / file, "voicing", "E") == found
    assert _places(names, tmp_path / "c.lesson", "voicing", "E") == {"c.lesson": [2, 3]}
    assert _places(names, tmp_path / "song.lesson", "pattern", "plain") == {
        "more/b.lesson": [5], "open.lesson": [7], "song.lesson": [5],
    }  # fmt: skip


def test_a_lesson_with_a_voicing_of_its_own_is_left_out(tmp_path: Path) -> None:
    """What it says of E is about its own, as long as it takes nothing from the file that is like E."""
    own = SONG.replace("section", "voicings\n  E  x76x70\n\nsection").replace("E7 |", "A |")
    names = _collection(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG, "own.lesson": own})
    assert _places(names, tmp_path / "song.lesson", "voicing", "E").keys() == {"open.lesson", "song.lesson"}  # fmt: skip
    assert _places(names, tmp_path / "own.lesson", "voicing", "E") == {"own.lesson": [6, 9, 9]}
    assert names.definition(tmp_path / "own.lesson", "voicing", "E").path.name == "own.lesson"  # type: ignore[union-attr]


def test_a_shared_voicing_that_is_like_a_lessons_own_binds_both(tmp_path: Path) -> None:
    """E7 of the file is like the lesson's own E in this lesson, so both are called the same or E7 sounds otherwise."""
    own = SONG.replace("section", "voicings\n  E  x76x70\n\nsection")
    names = _collection(tmp_path, {"open.lesson": OPEN, "own.lesson": own})
    assert _places(names, tmp_path / "open.lesson", "voicing", "E") == {
        "open.lesson": [2, 3], "own.lesson": [6, 9, 9],
    }  # fmt: skip


def test_what_nobody_plays_counts_as_well(tmp_path: Path) -> None:
    """A voicing of one's own that is like a shared one, and one in place of another: they would be another thing otherwise."""
    like = 'lesson "Like"\n\nuse "open.lesson"\n\nvoicings\n  Em  like E  lift 1\n'
    spare = 'lesson "Spare"\n\nvoicings\n  D  xx0232\n'
    anew = 'lesson "Anew"\n  based on "spare.lesson"\n\nvoicings\n  D  xx0230\n'
    files = {"open.lesson": OPEN, "like.lesson": like, "spare.lesson": spare, "anew.lesson": anew}
    names = _collection(tmp_path, files)
    assert _places(names, tmp_path / "open.lesson", "voicing", "E") == {
        "like.lesson": [6], "open.lesson": [2, 3],
    }  # fmt: skip
    assert _places(names, tmp_path / "spare.lesson", "voicing", "D") == {
        "anew.lesson": [5], "spare.lesson": [4],
    }  # fmt: skip


def test_a_name_is_the_same_with_its_accents_apart(tmp_path: Path) -> None:
    """Each file as its editor writes it."""
    other = SONG.replace("using plain", "using gru\u0308n")
    shared = OPEN.replace("plain", "gr\u00fcn")
    names = _collection(tmp_path, {"open.lesson": shared, "song.lesson": other})
    found = names.everywhere(tmp_path / "open.lesson", "pattern", "gr\u00fcn")
    assert [(one.path.name, one.span.text) for one in found] == [
        ("open.lesson", "gr\u00fcn"), ("song.lesson", "gru\u0308n"),
    ]  # fmt: skip


def test_what_is_defined_anew_is_what_the_other_lesson_means(tmp_path: Path) -> None:
    """An easier lesson has its own voicing for the bars of the one that it is based on, and all others too."""
    easier = 'lesson "Easier"\n  based on "song.lesson"\n\nvoicings\n  A  x02200\n'
    easiest = 'lesson "Easiest"\n  based on "easier.lesson"\n\nvoicings\n  A  x02000\n'
    names = _collection(
        tmp_path,
        {
            "open.lesson": OPEN, "song.lesson": SONG, "easier.lesson": easier, "easiest.lesson": easiest,
            "c.lesson": SONG,
        },
    )  # fmt: skip
    assert _places(names, tmp_path / "easiest.lesson", "voicing", "A") == {
        "c.lesson": [6], "easier.lesson": [5], "easiest.lesson": [5], "open.lesson": [4], "song.lesson": [6],
    }  # fmt: skip


def test_sections_are_found_in_the_form_of_a_lesson_that_is_based_on_theirs(tmp_path: Path) -> None:
    """And a section in its place is called as it is; a form that is replaced counts where it stands."""
    song = SONG + '\nform\n  verse\n\nstep "verse"\n  show bars 1-2 of verse\n'
    longer = 'lesson "Longer"\n  based on "song.lesson"\n\nform\n  verse x2\n'
    other = 'lesson "Other"\n  based on "song.lesson"\n\nsection verse\n  A\n'
    used = 'lesson "Used"\n\nuse "song.lesson"\n\nsection verse\n  A\n'
    files = {
        "open.lesson": OPEN,
        "song.lesson": song,
        "longer.lesson": longer,
        "other.lesson": other,
    }
    names = _collection(tmp_path, {**files, "used.lesson": used})
    assert _places(names, tmp_path / "song.lesson", "section", "verse") == {
        "longer.lesson": [5], "other.lesson": [4], "song.lesson": [5, 9, 12],
    }  # fmt: skip
    # Sections do not come by `use`.
    assert _places(names, tmp_path / "used.lesson", "section", "verse") == {"used.lesson": [5]}


def test_a_name_that_is_given_nowhere_is_found_where_it_is_used(tmp_path: Path) -> None:
    """All places that miss it are one thing."""
    names = _collection(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG.replace("A |", "B7 |")})
    assert _places(names, tmp_path / "song.lesson", "voicing", "B7") == {"song.lesson": [6]}
    assert names.definition(tmp_path / "song.lesson", "voicing", "B7") is None
    assert _places(names, tmp_path / "song.lesson", "voicing", "Bb") == {}


def test_texts_stand_in_place_of_files(tmp_path: Path) -> None:
    """An editor's texts count as they are there, and files that are not saved yet."""
    _collection(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    moved = "\n\n" + OPEN.replace("E7 ", "D7 ")
    texts = {tmp_path / "open.lesson": moved, str(tmp_path / "new.lesson"): "\ufeff" + SONG}
    names = Names(tmp_path, texts)
    assert _places(names, tmp_path / "song.lesson", "voicing", "E") == {
        "new.lesson": [6, 6], "open.lesson": [4, 5], "song.lesson": [6, 6],
    }  # fmt: skip
    with pytest.raises(LessonUnreadable, match="half of a character"):
        Names(tmp_path, {tmp_path / "open.lesson": "\ud800"}).in_file(tmp_path / "open.lesson")


def test_the_name_at_a_place(tmp_path: Path) -> None:
    """Its end counts too, as the cursor of an editor stands there; between names there is none."""
    names = _collection(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    song = tmp_path / "song.lesson"
    start = SONG.index("E7")
    for offset in range(start, start + 3):
        found = names.at(song, offset)
        assert found is not None
        assert (found.kind, found.name, found.defines, found.path) == ("voicing", "E7", False, song.resolve())  # fmt: skip
    assert names.at(song, start + 3) is None
    meant = names.definition(song, "voicing", "E7")
    assert meant is not None
    assert (meant.path.name, meant.span.line, meant.span.column, meant.defines) == ("open.lesson", 3, 3, True)  # fmt: skip


def test_names_that_can_be_used_are_those_that_count(tmp_path: Path) -> None:
    """Of a voicing that the lesson defines anew the file's is not there; sections of used files are not."""
    own = SONG.replace("section", "voicings\n  E  x76x70\n\nsection")
    names = _collection(tmp_path, {"open.lesson": OPEN + "\nsection a\n  E\n", "own.lesson": own})
    found = [(one.kind, one.name, one.path.name) for one in names.in_scope(tmp_path / "own.lesson")]
    assert sorted(found) == [
        ("pattern", "plain", "open.lesson"),
        ("section", "verse", "own.lesson"),
        ("voicing", "A", "open.lesson"),
        ("voicing", "E", "own.lesson"),
        ("voicing", "E7", "open.lesson"),
    ]


def test_files_that_name_one_another_in_a_circle_are_gone_through_once(tmp_path: Path) -> None:
    """It is a fault of the lessons, and no reason not to answer."""
    first = SONG.replace("open", "second")
    second = SONG.replace("open", "first") + "\nvoicings\n  E  022100\n"
    names = _collection(tmp_path, {"first.lesson": first, "second.lesson": second})
    assert _places(names, tmp_path / "first.lesson", "voicing", "E") == {
        "first.lesson": [6, 6], "second.lesson": [6, 6, 9],
    }  # fmt: skip


def test_nothing_outside_the_root_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A lesson that names a file above the root does not get at it, not even at the files that this would name."""
    read: list[Path] = []

    def noted(path: Path) -> str:
        read.append(path)
        return path.read_text("utf-8")

    monkeypatch.setattr("fretloom.collection.naming.texts.read_text", noted)
    root = tmp_path / "root"
    names = _collection(root, {"song.lesson": SONG.replace("open", "../open")})
    (tmp_path / "open.lesson").write_text(OPEN)
    assert _places(names, root / "song.lesson", "voicing", "E") == {"song.lesson": [6, 6]}
    assert {one.name for one in read} == {"song.lesson"}


def test_a_file_is_known_by_where_it_lies(tmp_path: Path) -> None:
    """A link to a file in the root is another way to it."""
    names = _collection(tmp_path, {"a/open.lesson": OPEN, "song.lesson": SONG})
    (tmp_path / "open.lesson").symlink_to(tmp_path / "a" / "open.lesson")
    assert _places(names, tmp_path / "song.lesson", "voicing", "E") == {
        "a/open.lesson": [2, 3], "song.lesson": [6, 6],
    }  # fmt: skip


def test_a_file_that_cannot_be_read_is_refused_and_others_are_passed_over(tmp_path: Path) -> None:
    """Who asks about a file has to hear that it is not there; a broken one beside it is no reason to stop."""
    names = _collection(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    (tmp_path / "broken.lesson").write_bytes(b"\xff\xfe")
    assert _places(names, tmp_path / "song.lesson", "voicing", "A").keys() == {"open.lesson", "song.lesson"}  # fmt: skip
    with pytest.raises(LessonUnreadable, match="there is no file"):
        names.everywhere(tmp_path / "nowhere.lesson", "voicing", "A")


def test_a_root_with_too_many_lessons_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Somebody's whole home is not gone through."""
    names = _collection(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    monkeypatch.setattr("fretloom.collection.naming.texts.LIMITS", type(LIMITS)(lessons_named=1))
    with pytest.raises(FretloomError, match="more than 1 lessons below"):
        names.everywhere(tmp_path / "song.lesson", "voicing", "A")


def test_a_root_with_too_many_folders_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where there is hardly a lesson in them."""
    names = _collection(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    for number in range(4):
        (tmp_path / f"folder{number}").mkdir()
    monkeypatch.setattr("fretloom.collection.naming.texts.LIMITS", type(LIMITS)(folders_named=4))
    with pytest.raises(FretloomError, match="more than 4 folders below"):
        names.everywhere(tmp_path / "song.lesson", "voicing", "A")


def test_who_looks_through_many_files_is_asked_between_them_whether_to_go_on(
    tmp_path: Path,
) -> None:
    """At each folder, and at each file at least once; what is raised there ends it."""
    _collection(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    for number in range(30):
        (tmp_path / f"more{number}.lesson").write_text('use "open.lesson"\n')
        (tmp_path / f"empty{number}").mkdir()
    asked: list[int] = []
    names = Names(tmp_path, between=lambda: asked.append(1))
    names.everywhere(tmp_path / "song.lesson", "voicing", "A")
    assert len(asked) >= 63

    def ends() -> None:
        asked.append(1)
        if len(asked) == 5:
            raise KeyboardInterrupt

    asked.clear()
    with pytest.raises(KeyboardInterrupt):
        Names(tmp_path, between=ends).everywhere(tmp_path / "song.lesson", "voicing", "A")
    assert len(asked) == 5
