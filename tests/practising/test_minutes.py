"""Items of a session: which give way to larger ones, and who gets the minutes that are left."""

from __future__ import annotations

from practice_lessons import TUNE, path

from fretloom.practising.minutes import Begun, TimeSlot, longest, spend, turns
from fretloom.practising.plan import PathPart


def _parts() -> dict[str, PathPart]:
    return {part.where: part for step in path(TUNE).steps for part in step.parts}


def _begun(where: str, order: int = 0) -> Begun:
    return Begun(1, _parts()[where], order)


def test_a_section_covers_what_it_has_in_it() -> None:
    verse, change = _begun("Verse"), _begun("Am to C")
    assert verse.covers(change)
    assert verse.covers(_begun("Plain over Am"))
    assert not verse.covers(_begun("Pinched over Am"))
    assert not change.covers(verse)


def test_a_change_covers_its_shapes() -> None:
    """And nothing but them; two changes or two shapes never cover each other."""
    change = _begun("Am to C")
    assert change.covers(_begun("Shape C"))
    assert not change.covers(_begun("Shape F"))
    assert not change.covers(change)
    assert not _begun("Shape C").covers(_begun("Shape C"))


def test_a_small_piece_is_done_when_it_has_arrived() -> None:
    """After as many days as its ladder has tempos; a shape after three; a section never."""
    shape, change, verse = _begun("Shape C"), _begun("Am to C"), _begun("Verse")
    for one, days in ((shape, 3), (change, 4)):
        one.days = set(range(1, days))
        assert not one.done
        one.days = set(range(days))
        assert one.done
    verse.days = set(range(30))
    assert not verse.done
    shape.days, shape.covered = set(), True
    assert shape.done


def test_minutes_that_are_left_go_round() -> None:
    """Up to the most of each, then to what does not tire the hand."""
    parts = [_begun("Shape F"), _begun("Plain over Am")]
    slots = [TimeSlot("new", 2, longest(one), one) for one in parts]
    spend(slots, 3)
    assert [slot.minutes for slot in slots] == [2, 5]
    spend(slots, 2)
    assert [slot.minutes for slot in slots] == [2, 7]


def test_pieces_take_turns_where_one_would_get_long() -> None:
    parts = [_begun("Am to C"), _begun("Plain over Am")]
    slots = [TimeSlot("new", 2, longest(one), one) for one in parts]
    again = [slot.task.part.where for slot in turns(slots, 10) if slot.task]
    assert again == ["Am to C", "Plain over Am", "Am to C"]
    assert turns(slots[:1], 10) == []
