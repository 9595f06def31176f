"""What may follow at a place: words by the grammar, names that there are, values, shapes, rules, files."""

from __future__ import annotations

from pathlib import Path

import pytest
from typed_lessons import typed

from fretloom.collection.while_typing.completing.following import offers_at
from fretloom.collection.while_typing.opened import SettledHere, settled_here
from fretloom.limits import LIMITS

HEAD = "voicings\n  C  x32010  fingers .32.1.\n  Am  x02210  fingers ..231.\npatterns\n  plain  p , p m , p i , p m\n"


def _texts(marked: str, file: Path | str = "typed.lesson") -> list[str]:
    return [one.text for one in offers_at(*typed(marked, file)).offers]


def test_column_one_has_the_words_that_open_blocks() -> None:
    """A lesson has one heading and one form, so these are not offered twice; the edition is named first of all."""
    assert _texts("") == [
        "form", "lesson", "notation", "patterns", "picking", "section", "step", "use", "voicings",
    ]  # fmt: skip
    assert _texts('lesson "A"\nform\nsec^') == [
        "patterns", "picking", "section", "step", "use", "voicings",
    ]  # fmt: skip
    assert "notation" in _texts("# Tuesday\n\nno^")
    assert "notation" not in _texts("notation 1\n^")


@pytest.mark.parametrize(
    ("line", "some"),
    [
        ("", {"capo", "plays in", "based on", "tuning"}),
        ("level ", {"beginner", "intermediate", "advanced"}),
        ("names ", {"english", "german", "romance"}),
        ("tuning dr", {"drop D", "DADGAD"}),
        ("instrument ", {"classical", "12-string"}),
        ("plays in ", {"E", "F#m"}),
        ("plays ", {"in"}),
        ("meter ", {"4/4", "6/8"}),
        ("scale 650 ", {"mm"}),
        ("capo 2 ", {"on"}),
    ],
)
def test_the_heading_has_its_lines_and_their_values(line: str, some: set[str]) -> None:
    """A value that takes several words replaces what is there of all of them."""
    assert some <= set(_texts(f'lesson "A"\n  {line}^'))


def test_keys_are_written_as_the_lesson_names_notes() -> None:
    """H is B, and B is Bb."""
    assert {"H", "B"} <= set(_texts('lesson "A"\n  names german\n  plays in ^'))
    assert "Bb" not in _texts('lesson "A"\n  names german\n  plays in ^')


def test_what_there_is_of_a_word_is_replaced() -> None:
    """The range begins where the word, name or value begins."""
    lesson, at = typed('lesson "A"\n  tuning drop^')
    assert offers_at(lesson, at).span.text == "drop"
    lesson, at = typed(HEAD + "section a\n  C | A^")
    assert offers_at(lesson, at).span.text == "A"


def test_bars_have_the_voicings_and_the_words_of_bars() -> None:
    """After `using` stand patterns and nothing else; a faulty bar before does not matter."""
    assert _texts(HEAD + "section a\n  C using ^") == ["plain"]
    assert _texts(HEAD + "section a  using ^") == ["plain"]
    first = _texts(HEAD + "section a\n  ^")
    assert first[:2] == ["Am", "C"]
    assert {"dynamic", "pickup", "repeat", "crescendo", "a tempo"} <= set(first)
    later = _texts(HEAD + "section a\n  C ))) | ^")
    assert later[:2] == ["Am", "C"]
    assert {"rest", "%"} <= set(later)
    assert {"fermata", "early"} <= set(_texts(HEAD + "section a\n  C ))) | C ^"))
    assert "pickup" not in later
    assert _texts(HEAD + "section a\n  C early ^") == ["on"]
    assert _texts(HEAD + "section a\n  dynamic ^")[:2] == ["f", "ff"]


def test_names_of_other_files_can_follow(tmp_path: Path) -> None:
    """Those that `use` brings in."""
    (tmp_path / "shared.lesson").write_text("voicings\n  Dm  xx0231\n")
    marked = 'use "shared.lesson"\nsection a\n  ^'
    assert _texts(marked, tmp_path / "a.lesson")[:1] == ["Dm"]


def test_a_name_that_is_used_is_offered_where_it_would_be_given() -> None:
    """So that nobody types it twice."""
    used = "section a  using plain\n  C | Gm7 | C\nform\n  a\n  refrain\n"
    assert _texts(f"voicings\n  C  x32010\n  ^\n{used}") == ["Gm7"]
    assert _texts(f"patterns\n  ^\n{used}") == ["plain"]
    assert _texts(f"{used}section ^") == ["refrain"]


def test_a_chord_gets_shapes_that_can_be_played() -> None:
    """The first of them is the one that teachers show (common practice, no source); a plain name has none."""
    lesson, at = typed("voicings\n  Am7 ^")
    first = offers_at(lesson, at).offers[0]
    assert (first.text, first.kind) == ("x02010  fingers ..2.1.  bass 5 4 5 4", "shape")
    assert first.detail.startswith("difficulty 1")
    assert _texts("voicings\n  Am7.high ^")[0] == first.text
    assert _texts("voicings\n  walk ^") == ["like"]
    assert _texts("voicings\n  C  x32010\n  C7  like ^")[0] == "C"
    assert _texts("voicings\n  C  x32010\n  C7  like C ^") == [
        "add", "bass", "down", "fingers", "hop", "lift", "move", "mute", "up",
    ]  # fmt: skip


def test_form_and_steps_have_the_names_that_they_can_name() -> None:
    """Sections in the form; behind `show` what was said to be shown."""
    rest = HEAD + "section verse\n  C\n"
    assert _texts(rest + "form\n  ^") == ["verse", "but"]
    assert {"last", "bars", "without", "tempo"} <= set(_texts(rest + "form\n  verse\n    but ^"))
    assert _texts(rest + 'step "S"\n  ^') == ["show"]
    assert _texts(rest + 'step "S"\n  Now play ^') == []
    assert _texts(rest + 'step "S"\n  show section ^') == ["verse"]
    assert _texts(rest + 'step "S"\n  show change C to ^') == ["Am", "C"]
    assert _texts(rest + 'step "S"\n  show pattern plain over ^') == ["Am", "C"]


def test_behind_a_pluck_stand_words_of_technique() -> None:
    """After its dot, in patterns and in bars; a line that begins with a bar line goes on with the pattern."""
    for marked in ("patterns\n  a  p , m2@3.^", "section a\n  C { p , m2@3.vib^ }"):
        assert {"vibrato", "bend-half", "grace"} <= set(_texts(marked))
    assert "slap" in _texts("patterns\n  a  p , p\n     | p , ^")


def test_a_comment_can_allow_what_is_found_there() -> None:
    """Rules that are broken on the line come first; those that may not be allowed are not offered."""
    marked = HEAD + "  other  p , p , p , p  # allow ^\nsection a  using plain\n  C | Am\n"
    found = _texts(marked)
    assert found[0] == "unused-pattern"
    assert "not-understood" not in found
    assert _texts("# al^") == ["allow "]
    assert _texts("# all is well^") == []


def test_a_file_is_named_from_the_folder_of_the_lesson(tmp_path: Path) -> None:
    """Those nearby come first; neither itself nor what is hidden is offered."""
    for name in (
        "songs/a.lesson",
        "songs/b.lesson",
        "shapes/open.lesson",
        ".kept/c.lesson",
        "d.txt",
    ):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("")
    (tmp_path / "fretloom.toml").write_text("")
    file = tmp_path / "songs" / "a.lesson"
    lesson, at = typed('use "^', file, settled=settled_here(file, ()))
    found = offers_at(lesson, at)
    assert [one.text for one in found.offers] == ["b.lesson", "../shapes/open.lesson"]


def test_files_nearby_are_found_in_a_collection_of_any_size(tmp_path: Path) -> None:
    """Folders are looked into from that of the lesson outwards, and no more than some of them."""
    songs = tmp_path / "songs"
    for number in range(250):
        (tmp_path / "a" / str(number)).mkdir(parents=True)
    songs.mkdir()
    (songs / "b.lesson").write_text("")
    (tmp_path / "c.lesson").write_text("")
    for root in (tmp_path, Path("/")):
        offers = offers_at(*typed('use "^', songs / "a.lesson", settled=SettledHere(root))).offers
        assert [one.text for one in offers[:2]] == ["../c.lesson", "b.lesson"][::-1]


def test_a_line_beyond_any_length_is_left_alone() -> None:
    """So that no text makes an editor wait."""
    assert _texts("section a\n  " + "C | " * LIMITS.line) == []
