"""What is said of a change is so: every finger once, with what it does and where it ends."""

from __future__ import annotations

import tomllib
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from lesson_pool import LESSONS, Made
from reading_changes import Understood, read
from timeline_lessons import expanded

from fretloom.formats.students.telling.changes import caution_sentence, change_sentences
from fretloom.formats.students.telling.listener import Listener, listener_of
from fretloom.performance.events import TimedNote, Timeline
from fretloom.performance.showing.change_use import (
    ChangeUse,
    Need,
    UsedChange,
    changes_between,
    used_changes,
)
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import Count
from fretloom.trade.playability.moving.changes import FingerMove, change
from fretloom.trade.playability.shape import Fretted
from fretloom.trade.wording import CARE

TABLE = tomllib.loads(
    (Path(__file__).parents[3] / "data" / "changes.toml").read_text(encoding="utf-8")
)
#: What may be said of each kind of movement of the model.
ALLOWED = {
    "anchor": {"stay", "narrow", "home"},
    "guide": {"slide", "along"},
    "extend": {"lay"},
    "move": {"move", "lay"},
    "place": {"put", "lay"},
    "lift": {"lift"},
}


def voicing(name: str, written: str) -> Voicing:
    frets, _, fingers = written.partition(" ")
    return Voicing(
        name=name,
        symbol=name,
        frets=tuple(None if one == "x" else int(one) for one in frets),
        fingers=tuple(None if one == "." else one for one in fingers) if fingers else (),
    )


def said(
    before: str, after: str, use: ChangeUse | None = None, listener: Listener | None = None
) -> str:
    one, other = voicing("A", before), voicing("B", after)
    made = change(Neck(), _fretted(one), _fretted(other))
    return " ".join(change_sentences(one, other, made, use or ChangeUse(), listener or Listener()))


def _fretted(one: Voicing) -> Fretted:
    return Fretted(one.frets, one.fingers or (None,) * len(one.frets))


def check(one: UsedChange) -> None:
    """The sentences say of each finger what the model says, once, and nothing else."""
    sentences = change_sentences(one.before, one.after, one.change, one.use, Listener())
    moves = {move.finger: move for move in one.change.moves}
    found = read(sentences, tuple(moves))
    gone = [entry for entry in found if entry.does == "go"]
    named = [entry for entry in found if entry.does != "go"]
    assert Counter(entry.finger for entry in named).most_common(1) in (
        [],
        *[[(f, 1)] for f in moves],
    )
    missing = moves.keys() - {entry.finger for entry in named}
    assert not missing or (gone and all(moves[finger].after is None for finger in missing))
    for entry in named:
        _check_finger(entry, moves[entry.finger], one)


def _check_finger(entry: Understood, move: FingerMove, one: UsedChange) -> None:
    out = move.finger in one.use.away | one.use.unsteady or one.use.always
    if entry.does == "whole":
        assert move.kind in ("guide", "move")
        assert move.before is not None
        assert move.after is not None
        assert entry.far == move.after.fret - move.before.fret
        return
    if out and move.after is not None:
        assert entry.does in {"home", "put", "move", "lay", "slide", "along"}
    else:
        assert entry.does in ALLOWED[move.kind]
    if move.after is None:
        return
    string = move.after.strings[0]
    if entry.string is not None:
        assert entry.string == string
    if entry.fret is not None:
        assert entry.fret == one.after.fret(string)
    if entry.does == "slide":
        assert move.before is not None
        assert entry.far == move.after.fret - move.before.fret
    if entry.does == "lay":
        assert (entry.strings[0], entry.strings[-1]) == (string, move.after.strings[-1])


@pytest.mark.parametrize("pair", [pair for level in TABLE["changes"].values() for pair in level])
def test_the_changes_that_teachers_rank(pair: str) -> None:
    """All pairs of `tests/data/changes.toml`, there and back."""
    names = pair.split()
    for before, after in (names, names[::-1]):
        one, other = (voicing(name, TABLE["shapes"][name]) for name in (before, after))
        made = change(Neck(), _fretted(one), _fretted(other))
        check(UsedChange(one, other, made, ChangeUse()))


@LESSONS.law(most=120)
def test_the_changes_of_any_lesson(made: Made) -> None:
    """Whatever is played, early or with the hand let go, with hops and notes beside the shapes."""
    for one in used_changes(made.timeline):
        check(one)


@LESSONS.law(most=120)
def test_until_when_a_finger_may_come_late(made: Made) -> None:
    """Reckoned from the bars alone: no string of it is plucked before, and at one time one is plucked then."""
    met = _plucks_after_changes(made.timeline)
    for one in used_changes(made.timeline):
        for string, need in one.use.needs.items():
            times = [
                found[string] for found in met[one.before.name, one.after.name] if string in found
            ]
            assert need.counts == min(counts for *_, counts in times)
            if need.count is not None:
                assert (need.bars, need.count) == min(
                    ((bars, count) for bars, count, _ in times),
                    key=lambda each: (each[0], each[1].number, each[1].part),
                )
        unplucked = set(range(1, made.timeline.settings.tuning.strings + 1)) - one.use.needs.keys()
        assert not any(unplucked & found.keys() for found in met[one.before.name, one.after.name])


def _plucks_after_changes(
    timeline: Timeline,
) -> dict[tuple[str, str], list[dict[int, tuple[int, Count, int]]]]:
    """Return for each time of a change when each string is first plucked: bars later, the count, whole counts gone."""
    found: dict[tuple[str, str], list[dict[int, tuple[int, Count, int]]]] = {}
    start, since, where, held, silent = Fraction(0), Fraction(0), 0, "", True
    plucked: dict[int, tuple[int, Count, int]] = {}
    for played in timeline.bars:
        bar = played.bar
        taken = [(one.onset, 0, one.voicing) for one in bar.voicings]
        first = taken[0][0] if len(taken) == 1 else Fraction(0)
        notes = [(max(one.onset, first), 1, one) for one in bar.notes if taken]
        for at, _, one in sorted([*taken, *notes], key=lambda each: each[:2]):
            if isinstance(one, Voicing):
                silent = one.silent
                if silent or one.name == held:
                    continue
                plucked = {}
                found.setdefault((held, one.name), []).append(plucked)
                held, since, where = one.name, start + at, played.index
            elif isinstance(one, TimedNote) and held and not silent:
                gone = int((start + one.onset - since) / bar.meter.count_length)
                count = bar.meter.count_at(bar.start + one.onset)
                plucked.setdefault(one.string, (played.index - where, count, gone))
        start += bar.length
    return found


#: As a teacher would say them (common practice, no source); frets and fingers as in a lesson.
TWENTY = [
    ("022100 .231..", "x02210 ..231.", "Keep the whole hand in its shape and move it one string toward the floor: the index finger lands on string 2, fret 1."),
    ("x46454 .13121", "x24232 .13121", "Keep the whole hand in its shape and slide it two frets toward the head."),
    ("022100 .231..", "020100 .2.1..", "Only lift the ring finger; the rest stays where it is."),
    ("020100 .2.1..", "022100 .231..", "Leave the index and middle fingers where they are. Put the ring finger on string 4, fret 2."),
    ("x32010 .32.1.", "x02210 ..231.", "Leave the index and middle fingers where they are. Move the ring finger to string 3, fret 2."),
    ("002220 ..123.", "x21202 .213.4", "Slide the index finger one fret toward the head, on string 4. Move the middle finger across to string 5, fret 2. The ring finger crosses to string 3, fret 2. Put the little finger on string 1, fret 2."),
    ("xx0232 ...132", "x02220 ..123.", "Slide the ring finger one fret toward the head, on string 2. Move the index finger across to string 4, fret 2. The middle finger crosses to string 3, fret 2."),
    ("133211 134211", "133111 134111", "Only lift the middle finger; the rest stays where it is."),
    ("133211 134211", "x32010 .32.1.", "Leave the ring finger where it is. Keep the index finger at fret 1, but lift the barre to the fingertip: only string 2 now. Move the middle finger across to string 4, fret 2. Lift the little finger."),
    ("x32010 .32.1.", "133211 134211", "Leave the ring finger where it is. Lay the index finger down flat at fret 1, across strings 6 to 1. Put the little finger on string 4, fret 3. Move the middle finger across to string 3, fret 2."),
    ("x32010 .32.1.", "320003 32...4", "Move the middle and ring fingers together, one string toward the ceiling: the middle finger lands on string 5, fret 2, the ring finger on string 6, fret 3. Put the little finger on string 1, fret 3. Lift the index finger."),
    ("320003 21...3", "022000 .23...", "No finger stays. Move the middle finger to string 5, fret 2. The ring finger goes to string 4, fret 2. Lift the index finger."),
    ("000000", "x32010 .32.1.", "Put the ring finger on string 5, fret 3. The middle finger goes on string 4, fret 2. The index finger goes on string 2, fret 1."),
    ("x32010 .32.1.", "000000", "Lift the index, middle and ring fingers: only open strings are left."),
    ("000000", "000000", "Nothing moves: the hand stays as it is."),
    ("x02220 ..123.", "244222 T34111", "No finger stays. Move the index finger to fret 2 and lay it across strings 3 to 1. Bring the thumb over the neck to string 6, fret 2. Move the ring finger to string 5, fret 4. Put the little finger on string 4, fret 4. Lift the middle finger."),
    ("244222 T34111", "020100 .2.1..", "No finger stays. Lift the barre; the tip of the index finger goes to string 3, fret 1. Put the middle finger on string 5, fret 2. Take the thumb back behind the neck. Lift the ring and little fingers."),
    ("133211 134211", "355433 134211", "Keep the whole hand in its shape and slide it two frets toward the body."),
    ("320033 21..34", "x32033 .21.34", "Leave the ring and little fingers where they are. Move the index and middle fingers together, one string toward the floor: the index finger lands on string 4, fret 2, the middle finger on string 5, fret 3."),
    ("022000 .23...", "x02210 ..231.", "Move the middle and ring fingers together, one string toward the floor, to strings 4 and 3, fret 2."),
]  # fmt: skip


@pytest.mark.parametrize(("before", "after", "words"), TWENTY)
def test_twenty_changes(before: str, after: str, words: str) -> None:
    assert said(before, after).startswith(words)


def in_lesson(body: str, names: tuple[str, str], listener: Listener | None = None) -> str:
    """Say a change of a lesson with the usual shapes and patterns."""
    found = expanded(body).timeline
    one = changes_between(found, [names])[names]
    return " ".join(
        change_sentences(
            one.before, one.after, one.change, one.use, listener or listener_of(found.settings)
        )
    )


def test_who_may_come_late_is_said_last_and_until_which_count() -> None:
    """In `plain` the thumb plays strings 5 and 4 of B7, the index finger string 3, the middle finger string 2."""
    assert in_lesson("section verse using plain\n  A | B7\n", ("A", "B7")) == (
        "Move the middle finger across to string 5, fret 2. "
        "Slide the index finger one fret toward the head, on string 4; it is not needed before count 2. "
        "Move the ring finger across to string 3, fret 2; it has until the and of 3. "
        "Put the little finger on string 1, fret 2; its string is not plucked here."
    )


def test_the_soonest_time_counts() -> None:
    """Where the change comes once with a pinch on string 3, the ring finger has no time there."""
    body = "section verse using plain\n  A | B7 | A | B7 { p+i, p, p, p }\n"
    words = in_lesson(body, ("A", "B7"))
    assert "The ring finger crosses to string 3, fret 2. " in words
    assert "until" not in words


def test_a_change_on_different_counts_says_how_many_go_by() -> None:
    body = "section verse using bassline\n  A | B7 | A:2 B7:2\n"
    assert "on string 4; it is not needed before one count has gone by" in in_lesson(
        body, ("A", "B7")
    )


def test_what_is_needed_in_the_next_bar_only() -> None:
    body = "section verse\n  A { p, -, -, - } | B7 { p, -, -, - } | B7 { p, i, -, - }\n"
    assert "string 3, fret 2; it is not needed before count 2 of the next bar" in in_lesson(
        body, ("A", "B7")
    )
    body = "section verse\n  A { p, -, -, - } | B7 { p, -, -, - } x2 | B7 { p, i, -, - }\n"
    assert "it is not needed before two bars have gone by" in in_lesson(body, ("A", "B7"))


def test_a_finger_that_is_elsewhere_is_not_said_to_stay() -> None:
    """In B7 the middle finger hops on count 3, and the bar ends before it is back."""
    body = "section verse\n  B7 { p, -, p6, - } | E using plain\n"
    words = in_lesson(body, ("B7", "E"))
    assert words.startswith("The middle finger belongs on string 5, fret 2, as before.")


def test_where_a_finger_goes_first() -> None:
    """A hop on the first count comes before its place in the shape."""
    body = "section verse\n  A { p, -, -, - } | B7 { p6, p5, -, - }\n"
    assert "The middle finger is needed on string 6, fret 2 first." in in_lesson(body, ("A", "B7"))


def test_an_early_change_is_called_so() -> None:
    body = "section verse using plain\n  A | E early on 4&\n"
    assert in_lesson(body, ("A", "E")).startswith(
        "Change early, on the and of 4, before the bar line."
    )


def test_a_hand_that_lets_go_puts_all_fingers_down_anew() -> None:
    body = "section verse using plain\n  E release on 4& | Am\n"
    words = in_lesson(body, ("E", "Am"))
    assert words.startswith(
        "Let go of the strings on the and of 4; they ring open while the hand changes. Put"
    )
    assert "Lift" not in words
    body = "section verse using plain\n  E release on 4& | Am | E | Am\n"
    words = in_lesson(body, ("E", "Am"))
    assert words.startswith("Keep the whole hand in its shape")
    assert words.endswith(
        "At times the hand lets go before it changes, on the and of 4, and the strings ring open."
    )


def test_what_strains_a_hand_has_its_caution() -> None:
    """A barre over four strings or more, a reach beyond what is comfortable; never more than the usual advice."""
    barre = ChangeUse(strains=("barre",))
    assert said("022100 .231..", "133211 134211", barre).endswith(
        f"strength: {CARE}; ask a teacher or clinician."
    )
    assert caution_sentence(ChangeUse(strains=("stretch",))).startswith("This is a wide reach: ")
    assert caution_sentence(ChangeUse(strains=("barre", "stretch"))).startswith(
        "A barre and a wide reach: "
    )
    assert caution_sentence(ChangeUse()) == ""


def test_strings_by_name_and_fingers_by_figure() -> None:
    found = expanded("section verse using plain\n  A | B7\n").timeline
    by_name = listener_of(found.settings, strings="names", fingers="figures")
    words = in_lesson("section verse using plain\n  A | B7\n", ("A", "B7"), by_name)
    assert words.startswith(
        "Move finger 2 across to the A string, fret 2. Slide finger 1 one fret toward the head, on the D string"
    )
    words = in_lesson("section verse using plain\n  E | Am\n", ("E", "Am"), by_name)
    assert words.startswith(
        "Keep the whole hand in its shape and move it one string toward the floor: finger 1 lands on the B string, fret 1"
    )


def test_a_long_way_along_a_string_is_no_slide() -> None:
    """The change model calls a finger guided up to five frets."""
    assert (
        said("000100 ...1..", "000600 ...1..")
        == "Slide the index finger five frets toward the body, on string 3."
    )
    assert (
        said("000100 ...1..", "000700 ...1..") == "Move the index finger along string 3 to fret 7."
    )


def test_fingers_that_are_late_together_are_said_so_once() -> None:
    need = Need(0, 1, Count(2))
    three = ChangeUse(times=1, needs={4: need, 3: need, 2: need})
    assert said("022000 .23...", "x02210 ..231.", three).endswith(
        "None of these is needed before count 2."
    )
    two = ChangeUse(times=1, needs={4: need, 3: need, 2: Need(0, 0, Count(1))})
    assert "fret 2; they are not needed before count 2." in said(
        "022000 .23...", "x02210 ..231.", two
    )


def test_strings_that_share_a_name_go_by_number() -> None:
    """Three D in this tuning; the two A are told apart as low and high."""
    found = expanded("section verse using plain\n  E\n", "tuning DADGAD").timeline
    listener = listener_of(found.settings, strings="names")
    assert [listener.string(one) for one in (6, 5, 4, 3, 2, 1)] == [
        *(
            "string 6",
            "the low A string",
            "string 4",
            "the G string",
            "the high A string",
            "string 1",
        ),
    ]
    assert listener.strings((6, 5)) == "strings 6 and 5"
