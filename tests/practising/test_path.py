"""The teacher's steps and the path that is found without any."""

from __future__ import annotations

import pytest
from practice_lessons import STEPS, TUNE, example, path, reading

from fretloom.characters import unseen
from fretloom.errors import FretloomError
from fretloom.practising.derived import StepDraft
from fretloom.practising.hard import Hardness
from fretloom.practising.path import _labels, asked_by
from fretloom.practising.pieces import Repertory


def _titles(text: str, **wish: object) -> list[str]:
    return [step.title for step in path(text, **wish).steps]


def test_without_steps_new_things_come_one_at_a_time() -> None:
    """The thumb, the fingers, shapes from easy to hard, changes, the song slowly, sections, the song."""
    assert _titles(TUNE) == [
        "The thumb alone",
        "All the fingers",
        "A new shape: C",
        "A new shape: F",
        "Through the whole song with the thumb",
        "Another way to pick: Pinched",
        "Close",
        "Verse",
        "The whole song",
    ]


def test_the_thumb_alone_is_shown_as_such() -> None:
    """A page draws only its notes."""
    thumb, fingers = path(TUNE).steps[:2]
    assert [part.hands for part in thumb.parts] == ["both", "thumb"]
    assert [(show.kind, show.name, show.over) for show in thumb.shows] == [
        ("voicing", "Am", ""), ("pattern", "plain", "Am"),
    ]  # fmt: skip
    assert [part.hands for part in fingers.parts] == ["both"]
    assert [one.words for one in thumb.new] == [
        "Am",
        "the thumb",
        "a thumb that goes from string to string",
    ]
    assert [one.words for one in fingers.new] == ["the fingers", "plucks between the beats"]


def test_a_shape_comes_with_the_way_into_it() -> None:
    """The easiest change of the song from a shape that is known."""
    shape = path(TUNE).steps[2]
    assert [part.where for part in shape.parts] == ["Shape C", "Am to C"]
    assert shape.sentences[0].endswith("Then come to it from Am.")


def test_what_is_known_needs_no_step() -> None:
    """The sections and the song are left."""
    assert _titles(TUNE, known=(reading(TUNE),)) == ["Close", "Verse", "The whole song"]


def test_the_teachers_steps_are_kept_with_their_words_and_tempos() -> None:
    """Prose is one paragraph up to what is shown; `at 60` begins there and goes on to the lesson's tempo."""
    thumb, verse = path(TUNE + STEPS).steps[:2]
    assert thumb.written
    assert thumb.sentences == ("Count four. The thumb plays on every number. Listen.",)
    assert [int(one) for one in thumb.parts[0].tempos.ladder] == [60, 72, 84, 96]  # type: ignore[union-attr]
    assert [part.where for part in verse.parts] == ["Shape F", "C to F", "Verse, bars 1 to 2"]
    assert verse.parts[0].tempos is None
    assert [int(one) for one in verse.parts[2].tempos.ladder] == [50, 63, 77, 90]  # type: ignore[union-attr]


def test_what_the_teachers_steps_leave_out_comes_after_them() -> None:
    """The sections that none shows, and the whole song."""
    assert _titles(TUNE + STEPS) == ["The thumb alone", "Verse", "Close", "Verse", "The whole song"]


def test_a_section_full_of_news_is_not_left_to_the_whole_song() -> None:
    """Where the teacher's steps go on to the song at once, it comes before; one with little new does not."""
    whole = '\nstep "All"\n  show form at 80\n'
    steps = path(TUNE + whole).steps
    assert [(one.title, one.written) for one in steps] == [
        ("Close", False), ("Verse", False), ("All", True),
    ]  # fmt: skip
    assert [(one.number, one.label) for one in steps] == [(1, "a"), (2, "b"), (3, "1")]
    assert _titles(TUNE + STEPS + whole) == ["The thumb alone", "Verse", "All"]


def test_the_teachers_steps_are_counted_and_what_is_added_has_a_letter() -> None:
    """So "go back to step 2" means on every page what the teacher meant."""
    labels = [one.label for one in path(TUNE + STEPS).steps]
    written = [one.label for one in path(TUNE + STEPS).steps if one.written]
    assert written == [str(at) for at in range(1, len(written) + 1)]
    assert labels == ["1", "2", "2a", "2b", "2c"]
    found = path(TUNE).steps
    assert [one.label for one in found] == [str(one.number) for one in found]


def test_steps_of_another_lesson_do_not_go_beyond_this_ones_tempo() -> None:
    """The easy shuffle is slower than the one it is based on, whose steps climb to 96."""
    goals = {
        part.tempos.goal for step in example("kiln-lane-shuffle-easy").steps
        for part in step.parts if part.tempos
    }  # fmt: skip
    assert goals == {72}


def test_a_lesson_without_named_patterns_begins_with_a_bar() -> None:
    text = TUNE.replace(" using plain", "").replace(" using pinched", "").replace(
        "Am | C | F | C", "Am { p, p i, p m, p i } | C { p, p i, p m, p i } | F { p, -, -, - } | C { p, -, -, - }"
    ).replace("  Am | Am\n", "  Am { p, -, -, - } | Am { p, -, -, - }\n")  # fmt: skip
    first = path(text).steps[0]
    assert (first.title, [part.where for part in first.parts]) == (
        "The thumb alone", ["Verse, bar 1, thumb alone"],
    )  # fmt: skip


def test_the_two_hardest_changes_are_drilled() -> None:
    """Each pair of shapes once, with the tempo at which it breaks."""
    found = path(TUNE)
    assert [drill.where for drill in found.drills] == ["C to F", "Am to C"]
    assert all(drill.breaks and drill.breaks > 96 for drill in found.drills)
    assert found.drills[0].rest


def test_barres_are_practised_in_short_turns() -> None:
    parts = {part.where: part.rest for step in path(TUNE).steps for part in step.parts}
    assert parts["Shape F"]
    assert not parts["Shape C"]


def test_all_that_the_song_asks_for_comes_up() -> None:
    for text in (TUNE, TUNE + STEPS):
        assert {*asked_by(reading(text))} == {*path(text).new}


def test_a_lesson_without_music_has_no_path() -> None:
    with pytest.raises(FretloomError, match="nothing is played"):
        path('lesson "Tea"\n')


def test_another_level_has_other_tempos() -> None:
    assert path(TUNE, level="beginner").level == "beginner"
    assert path(TUNE, level="beginner").steps != path(TUNE, level="advanced").steps


def test_words_of_a_lesson_hold_nothing_hidden() -> None:
    """Wherever they come in, so that every page can set them as they are."""
    text = TUNE.replace("Two cups", "Two\u202e cups").replace('"Verse"', '"Ver\u200bse"')
    text += STEPS.replace("Count four.", "Count\u202d four.").replace(
        '"The thumb', '"The\u2066 thumb'
    )
    found = path(text.replace("plain    p", 'plain "Pl\u2067ain":  p'))
    words = [found.title, *(one.words for one in found.new)]
    for step in found.steps:
        words += [step.title, *step.sentences, *(part.where + part.doing for part in step.parts)]
    words += [item.where + item.doing for one in found.sessions for item in one.items]
    assert found.title == "Two cups"
    assert "Verse, bars 1 to 2" in "".join(words)
    assert not any(unseen(one) for one in "".join(words))


def test_an_easy_change_is_not_drilled_beside_another() -> None:
    """Where all others are of the first level, one will do."""
    assert [drill.level for drill in example("rain-on-slate").drills] == [2]
    assert [drill.level for drill in example("clay-and-water").drills] == [1]


def test_a_whole_barre_tires_whatever_else_it_takes() -> None:
    assert all(drill.rest for drill in example("kiln-lane-shuffle").drills)
    assert not any(drill.rest for drill in example("seven-gates").drills)


def test_open_strings_are_no_shape_to_put_down() -> None:
    text = (
        TUNE.replace("x02210  fingers ..231.", "000000")
        .replace("Am ", "open ")
        .replace("Am\n", "open\n")
    )
    first = path(text).steps[0]
    assert [part.where for part in first.parts] == ["Plain over open, thumb alone"]
    assert first.sentences == ("Only the thumb plays. Count aloud, also where the thumb waits.",)


def test_the_way_into_a_shape_is_the_easiest_of_the_song() -> None:
    """F is come to from Am and from C, both known by then."""
    text = TUNE.replace("Am | C | F | C", "Am | F | C | F")
    changes = Hardness(Repertory(reading(text), "intermediate", 4)).changes
    [hard, easy] = [one for one in changes if one.after == "F"]
    assert (hard.level, hard.time) > (easy.level, easy.time)
    step = next(one for one in path(text).steps if one.title == "A new shape: F")
    assert step.parts[1].where == f"{easy.before} to F"


def test_what_is_new_in_two_bars_is_shown_alone_once() -> None:
    bar = "C { p, p m2@1h3, p i, p m }"
    text = TUNE.replace("Am | C | F | C", f"Am | {bar} | {bar} | C")
    verse = next(one for one in path(text).steps if one.title == "Verse")
    assert [part.where for part in verse.parts] == ["Verse, bar 2", "Verse"]


def test_steps_that_are_put_in_anywhere_are_called_by_the_one_before() -> None:
    """Letters begin again behind each of the teacher's, and go on after z."""
    drafts = [
        StepDraft(title="", sentences=(), pieces=(), written=one == "w")
        for one in "awaaw" + "a" * 27
    ]
    assert list(_labels(drafts)) == [
        *("a", "1", "1a", "1b", "2"), *(f"2{chr(ord('a') + at)}" for at in range(26)), "2aa",
    ]  # fmt: skip
