"""What is the same whenever a bar is played at one tempo: it is worked out once and shifted to each playing.

All positions here count from the bar's start.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fretloom.performance.events import TimedBar, TimedNote
from fretloom.performance.playback.laying import LaidBars
from fretloom.performance.playback.moving import midi_at_pluck
from fretloom.performance.playback.spreading import after_the_first, grace_steps
from fretloom.values import frozen


@frozen(kw_only=True, eq=False)
class NotePlan:
    """A pluck.

    Args:
        note: what is plucked. midi: the MIDI number at the pluck. quarter: seconds of a quarter note there.
        written: where it stands, with swing; it is plucked at `at`, which may be before the bar.
        slurs: where its slurred notes come.
        straight: where it ends as written; until: the same as played, None where a later bar says.
        damped: whether the strings are damped there, as far as this bar and the note say.
    """

    note: TimedNote
    midi: Fraction
    quarter: Fraction
    written: Fraction
    at: Fraction
    slurs: tuple[Fraction, ...]
    straight: Fraction
    until: Fraction | None
    damped: bool


@frozen(kw_only=True, eq=False)
class BarPlan:
    """A bar: its notes in their order, and the earliest of its plucks where that is before the bar, or 0."""

    notes: tuple[NotePlan, ...]
    earliest: Fraction


def plan_of(place: int, bar: TimedBar, laid: LaidBars, least: Fraction | None = None) -> BarPlan:
    """Plan a bar from one of its playings; nothing is plucked before `least`, if that is given."""
    notes = tuple(_planned(place, bar, laid, least))
    return BarPlan(notes=notes, earliest=min((one.at for one in notes), default=Fraction(0)))


def damped_at(bar: TimedBar, onset: Fraction) -> bool:
    """Whether a bar has the strings damped at an onset."""
    if bar.stop == onset or (bar.rest and not onset):
        return True
    return any(slap.place == "strings" and slap.onset == onset for slap in bar.slaps)


def _planned(
    place: int, bar: TimedBar, laid: LaidBars, least: Fraction | None
) -> Iterator[NotePlan]:
    last, start, swing = _last_places(bar), laid.starts[place], laid.swings[place]
    for note in bar.notes:
        written = swing.at(note.onset)
        quarter = 60 / laid.clock.span_at(start + written).quarters
        moved, slurs = grace_steps(note)
        later = moved + after_the_first(note, last.get(note.gesture, 0), quarter)
        at = written + later if later else written
        if least is not None:
            at = max(at, least)
        graced = bool(note.technique.grace)
        straight = note.onset + note.ring
        inside = straight < bar.length
        yield NotePlan(
            note=note,
            midi=midi_at_pluck(note),
            quarter=quarter,
            written=written,
            at=at,
            slurs=tuple(
                max(at, written + slur if graced else swing.at(note.onset + slur)) for slur in slurs
            ),
            straight=straight,
            until=max(at, swing.at(straight)) if inside else None,
            damped=note.dead
            or note.technique.lasting == "damped"
            or (inside and damped_at(bar, straight)),
        )


def _last_places(bar: TimedBar) -> dict[int | None, int]:
    """Return for each roll or brush of a bar the place of its last note."""
    last: dict[int | None, int] = {}
    for note in bar.notes:
        if note.order is not None:
            last[note.gesture] = max(note.order, last.get(note.gesture, 0))
    return last
