"""A name is changed wherever it means the same, and nothing else is."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from expanding import expand
from lesson_pool import LESSONS, Made

from fretloom.api import LessonFaulty
from fretloom.collection.naming.names import Names
from fretloom.collection.naming.renaming import Renaming, renaming
from fretloom.errors import FretloomError, LessonUnreadable, NotWritten
from fretloom.notation.model.lesson import Lesson, PatternBlock, PickingBlock, Use, VoicingBlock
from fretloom.notation.model.walking.names import NamePlace, named
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source

HERE = Path(__file__).resolve().parent
OPEN = """\
# What all of us know: E, A
voicings
  E   022100  fingers .231..  bass 6 4   # E as in the book
  E7  like E  lift 3
  A   x02220  fingers ..123.  bass 5 4

patterns
  plain  p , p m , p i , p m
"""
SONG = """\
lesson "E and A"

use "open.lesson"

section verse  using plain  "E"
  "E" E | E7:2   E:2 | A { p, p, p, p } | E using plain
  words: "E" | "plain" | - | "verse"

step "E"
  E is the home of the verse.
  show change E to A
  show section verse
"""


def _put(folder: Path, files: Mapping[str, str]) -> Names:
    for name, text in files.items():
        (folder / name).write_bytes(text.encode())
    return Names(folder)


def _texts(found: Renaming) -> dict[str, str]:
    return {one.path.name: one.new for one in found.files}


def _renamed(folder: Path, file: str, old: str, new: str, **more: object) -> Renaming:
    return renaming(Names(folder), folder / file, old, new, **more)  # type: ignore[arg-type]


def test_the_name_changes_and_nothing_else(tmp_path: Path) -> None:
    """Comments, cues, words, titles, prose and spaces stay; so does a longer name that begins alike."""
    names = _put(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    found = renaming(names, tmp_path / "song.lesson", "E", "E.low")
    assert _texts(found) == {
        "open.lesson": OPEN.replace("  E   ", "  E.low   ").replace("like E ", "like E.low "),
        "song.lesson": SONG.replace('"E" E |', '"E" E.low |').replace("E:2", "E.low:2")
        .replace("| E using", "| E.low using").replace("change E to", "change E.low to"),
    }  # fmt: skip
    assert [one.places for one in found.files] == [2, 4]
    assert (tmp_path / "song.lesson").read_text() == SONG
    found.write()
    assert (tmp_path / "song.lesson").read_text() == _texts(found)["song.lesson"]
    back = _renamed(tmp_path, "open.lesson", "E.low", "E")
    assert _texts(back) == {"open.lesson": OPEN, "song.lesson": SONG}


def test_a_file_in_canonical_form_stays_in_it(tmp_path: Path) -> None:
    """Its tables are aligned under the new name; a file in a form of its own keeps that."""
    canonical = format_lesson(read(Source("t.lesson", OPEN)))
    _put(tmp_path, {"canonical.lesson": canonical, "own.lesson": OPEN})
    for name, expected in (
        ("canonical", format_lesson(read(Source("t.lesson", OPEN.replace("  A ", "  A.barred "))))),
        ("own", OPEN.replace("  A ", "  A.barred ")),
    ):
        (found,) = _renamed(tmp_path, f"{name}.lesson", "A", "A.barred").files
        assert found.new == expected
    assert "  A.barred  x02220" in format_lesson(read(Source("t.lesson", found.new)))


def test_line_ends_marks_and_accents_stay_as_they_are(tmp_path: Path) -> None:
    """Whatever the editor writes; a name with its accent apart is the name, and the new one is written composed."""
    text = "\ufeff" + SONG.replace("verse", "gru\u0308n").replace("\n", "\r\n") + "\t# Ende  "
    _put(tmp_path, {"open.lesson": OPEN, "song.lesson": text})
    _renamed(tmp_path, "song.lesson", "gr\u00fcn", "scho\u0308n").write()
    places = ("section gru\u0308n", "section gru\u0308n\r\n")
    expected = text
    for place in places:
        expected = expected.replace(place, place.replace("gru\u0308n", "sch\u00f6n"))
    assert (tmp_path / "song.lesson").read_bytes() == expected.encode()


def _chosen(made: Made, lesson: Lesson) -> tuple[NamePlace, str] | None:
    """Choose one name that the lesson gives, and another for it that says the same of what the thumb plays."""
    given = [one for one in named(lesson) if one.defines]
    if not given:
        return None
    one = made.chance.choice(given)
    plain = one.kind != "voicing" or one.name[0].islower()
    tail = "" if "." in one.name else ".zz"
    return one, "zz" if plain else f"{one.name}{tail or 'zz'}"


@LESSONS.law(most=48)  # Each is read several times.
def test_there_and_back_is_the_text_as_it_was(made: Made) -> None:
    """And the same is played and found in between."""
    lesson, root = made.read, HERE
    chosen = _chosen(made, lesson)
    if chosen is None:
        return
    one, new = chosen
    file = root / "a.lesson"
    there = renaming(Names(root, {file: made.text}), file, one.name, new, one.kind)
    (changed,) = there.files
    assert there.gone == ()
    assert changed.new != made.text
    back = renaming(Names(root, {file: changed.new}), file, new, one.name, one.kind)
    assert [again.new for again in back.files] == [made.text]
    other = read(Source("a.lesson", changed.new))
    bars = [
        [(bar.bar.notes, bar.bar.slaps, bar.tempo, bar.bar.length) for bar in expand(which).timeline.bars]
        for which in (lesson, other)
    ]  # fmt: skip
    assert bars[0] == bars[1]


@LESSONS.law(most=80)
def test_a_lesson_in_several_files_stays_whole(made: Made) -> None:
    """Its shapes in a file that it uses, and a second lesson based on it: each name is one through all of them."""
    naming = made.lesson.heading and made.lesson.heading.setting("names")
    if naming is not None:
        return  # A file of voicings has no heading that would say how chords are called.
    apart = (VoicingBlock, PatternBlock)
    shapes = Lesson(blocks=tuple(one for one in made.lesson.blocks if isinstance(one, apart)))
    rest = [one for one in made.lesson.blocks if not isinstance(one, apart)]
    place = 1 if rest and not isinstance(rest[0], Use | PickingBlock) else 0
    song = Lesson(blocks=(*rest[:place], Use(path="shapes.lesson"), *rest[place:]))
    root = HERE
    texts = {
        root / "shapes.lesson": format_lesson(shapes),
        root / "song.lesson": format_lesson(song),
        root / "other.lesson": 'lesson "Other"\n  based on "song.lesson"\n',
    }
    lesson = read(Source("a.lesson", format_lesson(made.lesson)))
    chosen = _chosen(made, lesson)
    if chosen is None:
        return
    one, new = chosen
    start = root / "other.lesson"
    there = renaming(Names(root, texts), start, one.name, new, one.kind)
    changed = texts | {again.path: again.new for again in there.files}
    alone = sum((again.kind, again.name) == (one.kind, one.name) for again in named(lesson))
    assert sum(again.places for again in there.files) == alone
    back = renaming(Names(root, changed), start, new, one.name, one.kind)
    assert changed | {again.path: again.new for again in back.files} == texts


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("E", "A", r"A is a name of a voicing already: \S*open\.lesson, line 5; choose another"),
        ("E", "E7", r"E7 is a name of a voicing already: \S*open\.lesson, line 4"),
        ("E", "E", "it is called E already"),
        ("D", "E", r"there is no voicing, pattern or section D in \S*song\.lesson, nor in what it names"),
        ("vers", "E", "did you mean verse"),
        ("E", "with", "a voicing cannot be called with: the word means something in a line of bars"),
        ("E", "x2", "a voicing cannot be called x2: in a bar it means that the bar is played so often"),
        ("E", "N.C.", "a voicing cannot be called N.C."),
        ("E", "H7", "a voicing cannot be called H7"),
        ("E", "a b", "a voicing cannot be called a b: a name begins with a letter"),
        ("E", "", "a voicing cannot be called : a name begins with a letter"),
        ("E", "e(", "a voicing cannot be called e"),
        ("E", "q" * 121, "a name has 120 characters at most"),
        ("plain", "p,p", "a pattern cannot be called p,p: a name begins with a letter"),
        ("verse", "but", "a section cannot be called but"),
        ("verse", "form", "a section cannot be called form"),
        ("verse", "8va", "a section cannot be called 8va: a name begins with a letter"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said(old: str, new: str, said: str, tmp_path: Path) -> None:
    """Before anything is written: no such name, one that is there, one that nothing can be called."""
    _put(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    with pytest.raises(FretloomError, match=said):
        _renamed(tmp_path, "song.lesson", old, new)


def test_a_name_of_two_kinds_has_to_be_told_apart(tmp_path: Path) -> None:
    """Voicings, patterns and sections may be called alike; where they stand says which is meant."""
    song = SONG.replace("verse", "plain")
    _put(tmp_path, {"open.lesson": OPEN, "song.lesson": song})
    with pytest.raises(FretloomError, match="plain is a pattern and a section: say --kind pattern or --kind section"):  # fmt: skip
        _renamed(tmp_path, "song.lesson", "plain", "steady")
    found = _renamed(tmp_path, "song.lesson", "plain", "steady", kind="section")
    assert _texts(found) == {
        "song.lesson": song.replace("section plain", "section steady"),
    }
    with pytest.raises(FretloomError, match="there is no voicing plain in"):
        _renamed(tmp_path, "song.lesson", "plain", "steady", kind="voicing")
    # Another kind may have the new name already.
    assert _renamed(tmp_path, "song.lesson", "E", "plain").asked.kind == "voicing"


def test_a_name_that_is_used_and_given_nowhere_is_not_renamed(tmp_path: Path) -> None:
    """It is a fault of the lesson, and not sure what it is the name of."""
    _put(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG.replace("A {", "B7 {")})
    with pytest.raises(FretloomError, match=r"B7 is used in \S*song\.lesson \(line 6\), but no voicing is called so"):  # fmt: skip
        _renamed(tmp_path, "song.lesson", "B7", "B7.low")


def test_a_name_that_somebody_else_has_or_misses_is_taken(tmp_path: Path) -> None:
    """A lesson that would see both: by its own voicing, or by a bar that waits for one."""
    own = SONG.replace("section", "voicings\n  E.low  022100\n\nsection", 1)
    _put(tmp_path, {"open.lesson": OPEN, "own.lesson": own})
    with pytest.raises(
        FretloomError, match=r"E\.low is a name of a voicing already: \S*own\.lesson, line 6"
    ):
        _renamed(tmp_path, "open.lesson", "E", "E.low")
    _put(tmp_path, {"own.lesson": SONG.replace("A {", "E.low {")})
    with pytest.raises(
        FretloomError, match=r"E\.low is a name of a voicing already: \S*own\.lesson, line 6"
    ):
        _renamed(tmp_path, "open.lesson", "E", "E.low")
    # In a lesson that never sees the old one it is another thing.
    _put(tmp_path, {"own.lesson": own.replace('use "open.lesson"', "")})
    assert _texts(_renamed(tmp_path, "open.lesson", "E", "E.low")).keys() == {"open.lesson"}


def test_a_pattern_is_not_called_like_a_voicing_that_is_missed(tmp_path: Path) -> None:
    """What is said of that bar would be another thing; a voicing that is there is no matter."""
    _put(
        tmp_path,
        {"open.lesson": OPEN, "song.lesson": SONG, "b.lesson": SONG.replace("A {", "walk {")},
    )
    with pytest.raises(
        FretloomError, match=r"walk is missed as a voicing: \S*b\.lesson, line 6; choose another"
    ):
        _renamed(tmp_path, "song.lesson", "plain", "walk")
    assert _renamed(tmp_path, "song.lesson", "plain", "a").files


def test_a_lesson_with_its_own_does_not_keep_others_from_the_name(tmp_path: Path) -> None:
    """It never meant the shared one, so it is the same before, in between and afterwards."""
    own = SONG.replace("section", "voicings\n  E  x76x70  bass 5 4\n\nsection", 1).replace(
        "E7:2 ", "A:2 "
    )
    files = {"open.lesson": OPEN, "song.lesson": SONG, "own.lesson": own}
    _put(tmp_path, files)
    there = _renamed(tmp_path, "song.lesson", "E", "E.low")
    assert _texts(there).keys() == {"open.lesson", "song.lesson"}
    there.write()
    back = _renamed(tmp_path, "song.lesson", "E.low", "E")
    assert _texts(back) == {name: files[name] for name in ("open.lesson", "song.lesson")}
    # From there, where both would be seen, it cannot be asked for.
    with pytest.raises(
        FretloomError, match=r"E is a name of a voicing already: \S*own\.lesson, line 6"
    ):
        _renamed(tmp_path, "own.lesson", "E.low", "E")
    # As soon as it takes something that is like the shared one, its own would be taken for that.
    (tmp_path / "own.lesson").write_text(own.replace("A:2 ", "E7:2 "))
    with pytest.raises(
        FretloomError, match=r"E is a name of a voicing already: \S*own\.lesson, line 6"
    ):
        _renamed(tmp_path, "song.lesson", "E.low", "E")


def test_a_text_that_was_not_read_completely_keeps_all_as_they_are(tmp_path: Path) -> None:
    """The name may stand in the line that nobody understands."""
    _put(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG + "\nsection b\n  E E with\n"})
    with pytest.raises(LessonFaulty, match=r"song\.lesson could not be read completely") as caught:
        _renamed(tmp_path, "open.lesson", "E", "E.low")
    assert {one.span.line for one in caught.value.diagnostics} == {15}


def test_new_findings_keep_all_as_they_are_unless_one_says_so(tmp_path: Path) -> None:
    """A chord that does not sound what it is called would be an error; the music has to stay in any case."""
    _put(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    with pytest.raises(LessonFaulty, match="after renaming there would be 1 finding") as caught:
        _renamed(tmp_path, "open.lesson", "A", "Am")
    assert [one.rule for one in caught.value.diagnostics] == ["name-does-not-sound"]
    found = _renamed(tmp_path, "open.lesson", "A", "Am", despite_findings=True)
    assert found.gone == ()
    found.write()
    # A name that was wrong can be put right.
    right = _renamed(tmp_path, "open.lesson", "Am", "A")
    assert [one.rule for one in right.gone] == ["name-does-not-sound"]
    assert _texts(right)["open.lesson"] == OPEN


def test_a_bass_that_follows_from_the_name_keeps_the_name(tmp_path: Path) -> None:
    """Without `bass` the thumb begins on the root that the name gives; another name would be other music."""
    text = OPEN.replace("  bass 5 4", "")
    _put(tmp_path, {"open.lesson": text, "song.lesson": SONG})
    for despite in (False, True):
        with pytest.raises(FretloomError, match=r"would not sound the same: .* write the bass of A first"):  # fmt: skip
            _renamed(tmp_path, "song.lesson", "A", "A/E", despite_findings=despite)
    assert _renamed(tmp_path, "song.lesson", "A", "A.low").files


def test_findings_are_the_same_though_they_stand_elsewhere(tmp_path: Path) -> None:
    """What stands behind a name, in its line or below it, moves with its length; inside a name it is the name's."""
    text = OPEN.replace("plain  p", "spare  p") + "  other  p , p\n"
    song = SONG.replace("using plain", "using spare").replace("E:2 |", "E:2 | Q E |")
    _put(tmp_path, {"open.lesson": text, "song.lesson": song})
    for old, new in (("E", "E.low-as-can-be"), ("E.low-as-can-be", "E")):
        found = _renamed(tmp_path, "song.lesson", old, new)
        assert found.gone == ()
        found.write()
    assert (tmp_path / "song.lesson").read_text() == song


def test_a_file_of_voicings_alone_has_no_name_twice(tmp_path: Path) -> None:
    """Though nobody plays either."""
    _put(tmp_path, {"open.lesson": "voicings\n  E  022100\n  A  x02220\n"})
    with pytest.raises(
        FretloomError, match=r"A is a name of a voicing already: \S*open\.lesson, line 3"
    ):
        _renamed(tmp_path, "open.lesson", "E", "A")


def test_chords_are_called_as_the_lesson_calls_them(tmp_path: Path) -> None:
    """With German names a B is a B flat, and H is there."""
    german = 'lesson "Lied"\n  names german\n\nvoicings\n  H7  x21202  bass 5 4\n\nsection a\n  H7 { p, p, p, p }\n'
    _put(tmp_path, {"lied.lesson": german})
    found = _renamed(tmp_path, "lied.lesson", "H7", "H7.tief")
    assert _texts(found) == {"lied.lesson": german.replace("H7", "H7.tief")}


def test_a_name_that_would_be_read_as_something_else_is_refused_at_last(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Should it have been let pass before."""
    _put(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG + "\nform\n  verse\n"})
    monkeypatch.setattr("fretloom.collection.naming.asked._refuse", lambda *_: None)
    with pytest.raises(
        FretloomError, match=r"form would be read as something else in \S*song\.lesson"
    ):
        _renamed(tmp_path, "song.lesson", "verse", "form")


def test_a_file_that_is_saved_meanwhile_keeps_all_as_they_are(tmp_path: Path) -> None:
    """Also those that come before it."""
    _put(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    found = _renamed(tmp_path, "song.lesson", "E", "E.low")
    (tmp_path / "song.lesson").write_text(SONG + "\n")
    with pytest.raises(NotWritten, match=r"song\.lesson was changed"):
        found.write()
    assert (tmp_path / "open.lesson").read_text() == OPEN


def test_who_renames_in_many_files_is_asked_between_them_whether_to_go_on(tmp_path: Path) -> None:
    """Also while it is proved: each file is read again as it was and as it would be."""
    (tmp_path / "o.lesson").write_text("voicings\n  E  022100\n")
    for number in range(9):
        text = f'use "o.lesson"\n\nsection a{number}\n  E\n'
        (tmp_path / f"l{number}.lesson").write_text(text)
    asked: list[int] = []
    names = Names(tmp_path, between=lambda: asked.append(1))
    names.everywhere(tmp_path / "o.lesson", "voicing", "E")
    looked = len(asked)
    renaming(names, tmp_path / "o.lesson", "E", "E.low", despite_findings=True)
    assert len(asked) - looked >= 2 * 10 + 10


def test_a_file_that_is_not_there_is_said(tmp_path: Path) -> None:
    """The first thing that is looked at."""
    with pytest.raises(LessonUnreadable, match="there is no file"):
        _renamed(tmp_path, "song.lesson", "E", "A")


def test_a_file_that_is_no_text_keeps_all_as_they_are(tmp_path: Path) -> None:
    """It uses the file in which the name changes, so the name may stand in it."""
    _put(tmp_path, {"open.lesson": OPEN, "song.lesson": SONG})
    latin = 'use "open.lesson"\nlesson "\xe9"\n\nsection a\n  E\n'.encode("latin-1")
    (tmp_path / "latin.lesson").write_bytes(latin)
    with pytest.raises(FretloomError, match=r"latin.lesson.* UTF-8.*; nothing was renamed"):
        _renamed(tmp_path, "song.lesson", "E", "E.low")
    (tmp_path / "latin.lesson").write_bytes(latin.replace(b"open.lesson", b"other.lesson"))
    assert _renamed(tmp_path, "song.lesson", "E", "E.low").files
