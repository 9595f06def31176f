"""An easier lesson based on another."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from places import EXAMPLES
from playable_lessons import PLAYABLE, Playable

import fretloom
from fretloom.diagnostics import LessonFaulty
from fretloom.performance.hands.hardest import Hands
from fretloom.rule_facts import Severity

LESSONS = sorted(EXAMPLES.glob("*.lesson"))
TUNE = """lesson "Two cups"
  tempo {tempo}
  level advanced

voicings
  C  x32010
  G  320003
  F  133211

patterns
  plain  p , p m , p i , p m

section verse  using plain
  C | G without m on 4&
  tempo 120
  F | C {{ p, p a@3, p i, p m }}

form
  verse
    but tempo 100

step "Verse"
  Press the F well.
  show section verse from 50 to 90
  show pattern plain over C at 60
"""


@cache
def eased(path: Path) -> fretloom.Eased:
    """Return an example for beginners."""
    return fretloom.ease(fretloom.load(path), level="beginner")


def easier(tempo: int = 120) -> tuple[fretloom.Eased, str]:
    """Return what comes of easing a small lesson for beginners, and its text."""
    found = fretloom.ease(fretloom.loads(TUNE.format(tempo=tempo)), based_on="first.lesson")
    assert found.lesson is not None
    return found, fretloom.dumps(found.lesson)


@pytest.mark.parametrize("path", LESSONS, ids=lambda one: one.stem)
def test_an_easier_example_is_the_same_song(path: Path) -> None:
    """The same bars in the same form, and a check finds neither an error nor a new warning."""
    lesson, found = fretloom.load(path), eased(path)
    if found.lesson is None:
        assert found.left.fits
        return
    old, new = fretloom.expand(lesson), fretloom.expand(found.lesson)
    assert [one.section for one in old.bars] == [one.section for one in new.bars]
    assert [one.bar.length for one in old.bars] == [one.bar.length for one in new.bars]
    assert [(one.section, one.times) for one in old.form] == [
        (one.section, one.times) for one in new.form
    ]
    warned = {one.rule for one in fretloom.check(lesson)}
    assert [
        one
        for one in fretloom.check(found.lesson)
        if one.severity is not Severity.INFO and one.rule not in warned
    ] == []
    assert new.settings.level == "beginner"


@pytest.mark.parametrize("path", LESSONS, ids=lambda one: one.stem)
def test_an_easier_example_reads_as_it_is_written(path: Path, tmp_path: Path) -> None:
    """In a file beside the first one."""
    found = eased(path)
    if found.lesson is not None:
        (tmp_path / path.name).write_text(path.read_text("utf-8"), "utf-8")
        for file in (EXAMPLES / "voicings").glob("*"):
            (tmp_path / "voicings").mkdir(exist_ok=True)
            (tmp_path / "voicings" / file.name).write_text(file.read_text("utf-8"), "utf-8")
        (tmp_path / "easy.lesson").write_text(fretloom.dumps(found.lesson), "utf-8")
        read = fretloom.load(tmp_path / "easy.lesson", root=tmp_path)
        assert fretloom.expand(read).bars == fretloom.expand(found.lesson).bars


def _hardest(found: Hands) -> float:
    return max((one.pressed.pressure for one in found.changes if one.pressed), default=0.0)


def _never_harder(first: fretloom.Lesson, found: fretloom.Eased) -> None:
    assert found.lesson is not None
    for one in found.shapes:
        assert one.effort_after.points <= one.effort_before.points + 1e-9
    limit = {"beginner": 1.7}.get(found.level, 2.0)
    assert (
        _hardest(fretloom.hands(found.lesson)) <= max(limit, _hardest(fretloom.hands(first))) + 1e-6
    )
    before, after = fretloom.expand(first), fretloom.expand(found.lesson)
    assert sum(len(one.bar.notes) for one in after.bars) <= sum(
        len(one.bar.notes) for one in before.bars
    )
    assert after.settings.tempo.per_minute <= before.settings.tempo.per_minute


@pytest.mark.parametrize("path", LESSONS, ids=lambda one: one.stem)
def test_an_easier_example_is_nowhere_harder(path: Path) -> None:
    """Neither a voicing nor the tightest change; no note more, no faster tempo."""
    if eased(path).lesson is not None:
        _never_harder(fretloom.load(path), eased(path))


@pytest.mark.parametrize("path", LESSONS, ids=lambda one: one.stem)
def test_an_easier_example_has_nothing_that_could_be_easier(path: Path) -> None:
    """Easing it again changes nothing."""
    found = eased(path)
    if found.lesson is not None:
        again = fretloom.ease(found.lesson, level="beginner", based_on="second.lesson")
        assert again.lesson is None
        assert again.left == found.left


CHANGES = """lesson "Two cups"
  tempo {tempo}
  level beginner

voicings
  C      x32010
  F.bar  133211  fingers 134211

patterns
  plain  p , p m , p i , p m

section verse  using plain
  {bar}
"""
EVERY_HALF_BEAT = "C:0.5 F.bar:0.5 C:0.5 F.bar:0.5 C:0.5 F.bar:0.5 C:0.5 F.bar:0.5"


@pytest.mark.parametrize("level", ["beginner", "advanced"])
def test_a_lesson_is_eased_though_a_check_finds_a_change_too_fast(level: str) -> None:
    """That error is what easing is for: a slower tempo, as far as it goes, and what stays is said."""
    lesson = fretloom.loads(CHANGES.format(tempo=200, bar=EVERY_HALF_BEAT))
    errors = {one.rule for one in fretloom.check(lesson) if one.severity is Severity.ERROR}
    assert errors == {"change-too-fast"}
    found = fretloom.ease(lesson, level=level, based_on="first.lesson")
    assert found.lesson is not None
    assert found.tempo is not None
    assert 40 <= found.tempo.after.per_minute < 200
    assert {(one.before, one.after) for one in found.left.changes} <= {
        ("C", "F.bar"),
        ("F.bar", "C"),
    }


def test_where_no_tempo_would_do_nothing_is_written_and_all_is_said() -> None:
    """At 40 the change is still too quick for this level, and its shapes are not beyond it: no refusal."""
    lesson = fretloom.loads(CHANGES.format(tempo=200, bar=EVERY_HALF_BEAT))
    found = fretloom.ease(lesson, level="intermediate", based_on="first.lesson")
    assert found.lesson is None
    assert [(one.before, one.after) for one in found.left.changes] == [("C", "F.bar")]


def test_what_no_tempo_mends_is_left_and_said() -> None:
    """A barre every half beat is too quick for a beginner at 40, too; the shapes and the tempo are eased as far as they go."""
    found = fretloom.ease(
        fretloom.loads(CHANGES.format(tempo=300, bar=EVERY_HALF_BEAT)), based_on="first.lesson"
    )
    assert found.lesson is not None
    assert found.left.changes
    assert "still beyond beginners" in fretloom.as_text(found)


@PLAYABLE.law(most=12)
def test_easier_lessons_obey_the_laws(made: Playable) -> None:
    """They check without an error, have the same bars, are nowhere harder, and easing them again changes nothing."""
    for level in ("beginner", "intermediate"):
        try:
            found = fretloom.ease(made.lesson, level=level, based_on="first.lesson")
        except LessonFaulty:
            assert any(one.severity is Severity.ERROR for one in fretloom.check(made.lesson))
            return
        if found.lesson is None:
            continue
        assert not any(one.severity is Severity.ERROR for one in fretloom.check(found.lesson))
        old, new = fretloom.expand(made.lesson), fretloom.expand(found.lesson)
        assert [one.bar.length for one in old.bars] == [one.bar.length for one in new.bars]
        _never_harder(made.lesson, found)
        again = fretloom.ease(found.lesson, level=level, based_on="second.lesson")
        assert again.lesson is None


def test_only_what_is_different_stands_in_the_easier_lesson() -> None:
    """The rest comes from the first one, and a correction there is in both."""
    found = eased(EXAMPLES / "kiln-lane-shuffle.lesson")
    assert found.lesson is not None
    assert [one.name for one in found.lesson.voicings] == ["Bm7", "C#m7", "B7"]
    assert [one.name for one in found.lesson.patterns] == ["plain", "pinched"]
    assert (found.lesson.sections, found.lesson.form, found.lesson.steps) == ((), None, ())
    assert found.lesson.title == "Kiln Lane Shuffle, for beginners"


def test_a_pluck_that_is_gone_is_not_left_out_again() -> None:
    """`without m on 4&` would find nothing there."""
    _, text = easier()
    assert "without" not in text
    assert "G\n" in text


def test_a_bar_written_out_is_eased_where_it_stands() -> None:
    """Its melody stays."""
    _, text = easier()
    assert "p a@3, p i, p }" in text


def test_a_slower_song_is_slower_everywhere() -> None:
    """Tempos of sections and of the form keep their share; steps show nothing faster than the song."""
    found, text = easier(200)
    assert found.tempo is not None
    share = found.tempo.after.per_minute / found.tempo.before.per_minute
    assert f"but tempo {int(100 * share)}" in text
    assert f"\n  tempo {int(120 * share)}\n" in text
    assert found.tempo.after.per_minute < found.tempo.before.per_minute == Fraction(200)
    assert "from 50 to 90" not in text  # No step is faster than the song, so none is said anew.


def test_steps_whose_words_speak_of_a_shape_that_is_another_now_are_listed() -> None:
    """Nobody but the teacher can say them anew."""
    found, _ = easier()
    assert [(str(one.place), one.names) for one in found.words] == [("the step Verse", ("F",))]


def test_nothing_is_written_where_nothing_is_beyond_the_level() -> None:
    """The first lesson is for them."""
    found = fretloom.ease(fretloom.load(EXAMPLES / "clay-and-water.lesson"))
    assert found.lesson is None
    assert found.left.fits


def test_a_lesson_with_errors_is_refused() -> None:
    """It has to be mended first."""
    with pytest.raises(LessonFaulty, match="has 2 errors"):
        fretloom.ease(
            fretloom.loads(TUNE.format(tempo=80) + "section x\n  Q\n"), based_on="a.lesson"
        )


def test_hostile_titles_are_only_titles() -> None:
    """Braces in them are filled with nothing."""
    text = TUNE.format(tempo=80).replace("Two cups", "{title} {0} <b>x</b> ")
    found = fretloom.ease(fretloom.loads(text), based_on="first.lesson")
    assert found.lesson is not None
    assert found.lesson.title == "{title} {0} <b>x</b> , for beginners"


def test_very_many_voicings_are_tried_so_often_and_no_more() -> None:
    """The number of lessons that are tried has a limit."""
    from fretloom.api.reading import examine
    from fretloom.arranging.easing import ease as module

    voicings = "".join(f"  F.n{number}  133211\n" for number in range(30))
    bars = " | ".join(f"F.n{number}" for number in range(30))
    text = f'lesson "Many"\nvoicings\n{voicings}section a\n  {bars.replace(" | ", " x2 | ")}\n'
    tried: list[int] = []
    examined = examine(fretloom.loads(text))
    module.ease(
        examined.reading,
        "beginner",
        "a.lesson",
        "t",
        lambda new: frozenset(tried.append(1) or ["x"]),
    )
    assert 0 < len(tried) <= module._TRIES + 2
