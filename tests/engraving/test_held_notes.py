"""Notes that are held for a time, in the voice of their hand or in one beside it."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve
from timelines import bar, note

from fretloom.engraving.voices import Voice, held_over, voices_of
from fretloom.performance.manner import NoteTechnique, TimedSlap


def held(onset: str | int, string: int, finger: str, length: str | int, **fields: object):
    """A note that is to be held for a length."""
    lasts = Fraction(length)
    return note(onset, string, 0, finger, ring=lasts, technique=NoteTechnique(held=lasts), **fields)


def shown(voice: Voice) -> list[tuple[Fraction, tuple[int, ...], bool]]:
    """Where each chord begins, its strings, and whether it is a gap out of sight."""
    return [
        (one.start, tuple(head.string for head in one.heads), one.hidden) for one in voice.chords
    ]


def test_a_held_note_that_ends_before_the_next_leaves_a_rest():
    """Nothing else is in its voice meanwhile."""
    [voice] = voices_of(bar("4/4", held(0, 1, "a", 2), note(3, 1, 0, "a"))).voices
    assert shown(voice) == [(0, (1,), False), (2, (), False), (3, (1,), False)]


def test_a_note_held_across_another_goes_into_a_voice_beside():
    """Each of the two voices has a gap where only the other has a note."""
    notes = (held(0, 1, "a", 3), note(1, 3, 0, "i"), note(2, 2, 0, "m"))
    found = voices_of(bar("4/4", *notes))
    assert [(voice.thumb, voice.beside) for voice in found.voices] == [
        (False, False),
        (False, True),
    ]
    assert shown(found.voices[0]) == [(0, (), True), (1, (3,), False), (2, (2,), False)]
    assert shown(found.voices[1]) == [(0, (1,), False), (3, (), True)]
    assert not found.cut_short


def test_two_strings_held_equally_long_share_the_voice_beside():
    """They are one chord."""
    notes = (held(0, 2, "m", 2), held(0, 1, "a", 2), note(1, 3, 0, "i"))
    found = voices_of(bar("4/4", *notes))
    assert shown(found.voices[1]) == [(0, (2, 1), False), (2, (), True)]


def test_of_two_strings_held_for_different_times_one_goes_beside():
    """The other ends with a rest in its own voice."""
    notes = (held(0, 2, "m", 1), held(0, 1, "a", 2))
    found = voices_of(bar("4/4", *notes))
    assert shown(found.voices[0]) == [(0, (1,), False), (2, (), False)]
    assert shown(found.voices[1]) == [(0, (2,), False), (1, (), True)]


def test_a_third_voice_of_a_hand_is_not_made():
    """The note that would need it is cut short, which is said."""
    notes = (held(0, 1, "a", 3), held(1, 2, "m", 2), note(2, 3, 0, "i"))
    found = voices_of(bar("4/4", *notes))
    assert found.cut_short
    assert shown(found.voices[0]) == [(0, (), True), (1, (2,), False), (2, (3,), False)]


def test_a_held_note_goes_on_into_the_next_bar():
    """What is left of it there, without its finger; nothing goes on where no bar follows."""
    last = bar("4/4", held(2, 1, "a", 5))
    [(thumb, head)] = held_over(voices_of(last, goes_on=True).voices)
    assert (thumb, head.string, head.finger, head.until) == (False, 1, "", 3)
    assert not list(held_over(voices_of(last).voices))
    [voice] = voices_of(bar("4/4", note(3, 1, 0, "a")), [(thumb, head)]).voices
    assert shown(voice) == [(0, (1,), False), (3, (1,), False)]
    assert [one.tied_from for one in voice.chords[0].heads] == [True]


def test_what_one_hand_holds_over_a_bar_line_ends_together():
    """As the shortest does, so that every tie has its other end."""
    first = bar("4/4", held(0, 2, "m", 6), held(0, 1, "a", 7))
    over = list(held_over(voices_of(first, goes_on=True).voices))
    assert [head.until for _, head in over] == [2, 3]
    found = voices_of(bar("4/4"), over)
    assert found.cut_short
    assert [shown(voice) for voice in found.voices] == [[(0, (2, 1), False), (2, (), False)]]


def test_a_slap_on_the_strings_ends_what_sounds():
    """A rest begins there in each voice; none where a string is plucked at once."""
    slapped = bar("4/4", note(0, 5, 0, "p"), note(0, 1, 0, "a"), note(2, 1, 0, "a"))
    slaps = (TimedSlap(onset=Fraction(2), length=Fraction(1)),)
    fingers, thumb = voices_of(evolve(slapped, slaps=slaps)).voices
    assert shown(fingers) == [(0, (1,), False), (2, (1,), False)]
    assert shown(thumb) == [(0, (5,), False), (2, (), False)]


def test_strings_held_for_different_times_across_another_cannot_share():
    """The second of them is cut short."""
    notes = (held(0, 2, "m", 2), held(0, 1, "a", 3), note(1, 3, 0, "i"))
    assert voices_of(bar("4/4", *notes)).cut_short


def test_the_voice_beside_takes_one_held_note_after_the_other():
    """The second begins where the first ends."""
    notes = (held(0, 1, "a", 2), note(1, 3, 0, "i"), held(2, 1, "a", 2), note(3, 3, 0, "i"))
    found = voices_of(bar("4/4", *notes))
    assert not found.cut_short
    assert shown(found.voices[1]) == [(0, (1,), False), (2, (1,), False)]


def test_a_note_held_to_the_end_of_its_bar_is_not_tied_on():
    """It ends with the bar line."""
    assert not list(held_over(voices_of(bar("4/4", held(0, 1, "a", 4)), goes_on=True).voices))


def test_a_damped_note_in_a_chord_stays_with_it():
    """Only its sign tells it from the others."""
    short = note(0, 2, 0, "m", technique=NoteTechnique(lasting="damped"))
    [voice] = voices_of(bar("4/4", short, note(0, 1, 0, "a"))).voices
    assert shown(voice) == [(0, (2, 1), False)]
