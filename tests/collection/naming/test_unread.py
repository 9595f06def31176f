"""Nothing is renamed where the name may stand in what nobody could read."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from fretloom.api import LessonFaulty
from fretloom.collection.naming.names import Names
from fretloom.collection.naming.renaming import renaming
from fretloom.errors import FretloomError

SHARED = "voicings\n  E  022100  fingers .231..  bass 6 4\n  A  x02220  fingers ..123.  bass 5 4\n"
GOOD = 'use "o.lesson"\n\nsection a\n  E | A\n'


def _put(folder: Path, files: Mapping[str, str]) -> Path:
    for name, text in {"o.lesson": SHARED, "g.lesson": GOOD, **files}.items():
        (folder / name).write_text(text)
    return folder


@pytest.mark.parametrize(
    "line", ['E | A | "x', "E { p | A", "E with | A", "E: | A", "Ex2 | A with", "A | E8 with"]
)
def test_another_lesson_may_have_the_name_in_a_line_with_a_fault(tmp_path: Path, line: str) -> None:
    """Whichever lesson one asks from: it would still say the name that is gone."""
    _put(tmp_path, {"b.lesson": f'use "o.lesson"\n\nsection b\n  {line}\n'})
    for asked in ("o", "g"):
        with pytest.raises(LessonFaulty, match=r"b\.lesson could not be read completely"):
            renaming(Names(tmp_path), tmp_path / f"{asked}.lesson", "E", "E.low")
    # Another name changes all the same, where the faulty text does not say it.
    (tmp_path / "b.lesson").write_text('use "o.lesson"\n\nsection b\n  E | with\n')
    found = renaming(Names(tmp_path), tmp_path / "g.lesson", "A", "A.barred")
    assert [one.path.name for one in found.files] == ["g.lesson", "o.lesson"]


@pytest.mark.parametrize(
    "link",
    [
        "use o.lesson",
        'use "o.lesson',
        "use “o.lesson”",
        "use 'o.lesson'  # ours",
        'use: "o.lesson"',
    ],
)
def test_the_line_that_names_the_shared_file_may_be_the_fault(tmp_path: Path, link: str) -> None:
    """What it means is plain to whoever mends it."""
    _put(tmp_path, {"b.lesson": f"{link}\n\nsection b\n  E\n"})
    with pytest.raises(LessonFaulty, match=r"b\.lesson could not be read completely"):
        renaming(Names(tmp_path), tmp_path / "g.lesson", "E", "E.low")


def test_a_file_beside_the_shared_one_may_have_the_name_in_a_fault(tmp_path: Path) -> None:
    """It does not use the shared file; a lesson that uses both brings them together."""
    _put(tmp_path, {
        "more.lesson": "voicings\n  E7  like E lift\n",
        "g.lesson": f'use "more.lesson"\n{GOOD}  E7\n',
        "apart.lesson": "section x\n  E with\n",
    })  # fmt: skip
    with pytest.raises(LessonFaulty, match=r"more\.lesson could not be read completely"):
        renaming(Names(tmp_path), tmp_path / "o.lesson", "E", "E.low")
    (tmp_path / "more.lesson").write_text("voicings\n  E7  like E lift 3\n")
    found = renaming(Names(tmp_path), tmp_path / "o.lesson", "E", "E.low")
    assert [one.path.name for one in found.files] == ["g.lesson", "more.lesson", "o.lesson"]


def test_a_file_that_cannot_be_read_at_all_may_have_the_name(tmp_path: Path) -> None:
    """One that is not there does not."""
    _put(tmp_path, {"g.lesson": f'use "old.lesson"\n{GOOD}'})
    assert len(renaming(Names(tmp_path), tmp_path / "o.lesson", "E", "E.low").files) == 2
    (tmp_path / "old.lesson").write_bytes(b"voicings\n  caf\xe9  022100\n")
    with pytest.raises(FretloomError, match=r"old\.lesson.*; nothing was renamed"):
        renaming(Names(tmp_path), tmp_path / "o.lesson", "E", "E.low")


HALF = f"{GOOD}# \ud83d\n"
LARGE = f"{GOOD}# {'x' * 2_400_000}\n"


@pytest.mark.parametrize("typed", [HALF, LARGE], ids=["half of a character", "too large"])
@pytest.mark.parametrize("asked", ["g", "o"])
def test_what_the_disk_has_is_not_taken_for_an_open_text(
    tmp_path: Path, typed: str, asked: str
) -> None:
    """Of a text that no lesson can be no place is known: nothing is renamed, and no place is shown in it."""
    _put(tmp_path, {"b.lesson": f"# one line more\n{GOOD}"})
    names = Names(tmp_path, {tmp_path / "b.lesson": typed})
    with pytest.raises(FretloomError, match=r"b\.lesson .*; nothing was renamed"):
        renaming(names, tmp_path / f"{asked}.lesson", "E", "E.low")
    found = names.everywhere(tmp_path / f"{asked}.lesson", "voicing", "E")
    assert [one.path.name for one in found] == ["g.lesson", "o.lesson"]


def test_a_shared_text_that_no_lesson_can_be_gives_no_place(tmp_path: Path) -> None:
    """Names that it gave when it was saved are still known, but not where."""
    _put(tmp_path, {})
    names = Names(tmp_path, {tmp_path / "o.lesson": f"\n\n{SHARED}# \ud83d"})
    assert names.definition(tmp_path / "g.lesson", "voicing", "E") is None
    found = names.everywhere(tmp_path / "g.lesson", "voicing", "E")
    assert {one.path.name for one in found} == {"g.lesson"}
    with pytest.raises(FretloomError, match=r"o\.lesson .*; nothing was renamed"):
        renaming(names, tmp_path / "g.lesson", "E", "E.low")
