"""Rules about the fretting hand in time: changes and hops that come too fast, notes without a free finger."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.performance.events import TimedNote
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.hands.holds import BarHold, HandWalk, Moment, Stop
from fretloom.performance.hands.pressed import pressed, times_of_change
from fretloom.performance.place_words import bar_words
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.text import told_apart
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.moving.haste import TOO_FAST, Haste
from fretloom.trade.playability.moving.hops import HopVerdict, StoppedNote, hops
from fretloom.trade.playability.moving.skills import ADVANCED, SKILLS, Skill
from fretloom.trade.wording import finger_word
from fretloom.values import evolve

#: A tempo that is advised leaves so much of the time for deciding and for unevenness (assumption).
LEAVES = 0.8
#: A change is an error when an advanced player needs so much more time than there is, who may let the notes of
#: the last `GRACE` seconds go early as players do.
HOPELESS, GRACE = 1.5, 0.25
#: A slower tempo than this is no advice to give.
SLOWEST = 40
#: A hop is an error when an advanced player needs so much more than there is.
NO_HOP = 1.25
#: A hop is mentioned when it takes so much of the time there is.
TIGHT = 0.8
#: Decimals of the seconds in a message.
_PLACES = 2


def changes(reading: Reading) -> Iterator[Diagnostic]:
    """Find changes and hops too fast for the lesson's tempo and level, and notes without a finger."""
    if not reading.sound:  # With a bar missing, its neighbours would seem to follow one another.
        return
    timeline = reading.timeline
    neck, hand = neck_of_settings(timeline.settings), hand_of_settings(timeline.settings)
    judge = _Judge(neck, SKILLS[timeline.settings.level])
    moments = list(HandWalk(timeline, neck, hand).moments())
    following: list[Moment | None] = [*moments[1:], None]
    done: set[tuple[BarHold, float, BarHold | None, float]] = set()
    for before, after in zip(moments, following, strict=False):
        later = (after.hold, after.beat) if after else (None, 0.0)
        key = (before.hold, before.beat, *later)
        if key in done:
            continue
        done.add(key)
        yield from judge.untaken(before)
        yield from judge.hops(before, after)
        if after is not None:
            yield from judge.change(before, after)


class _Judge:
    """Judges each hold and each pair of holds once."""

    def __init__(self, neck: Neck, skill: Skill) -> None:
        self.neck, self.skill = neck, skill
        self._changes: dict[
            tuple[BarHold, BarHold, float, float], tuple[Haste, Severity] | None
        ] = {}
        self._hops: dict[
            tuple[BarHold, BarHold | None, float], tuple[tuple[HopVerdict, TimedNote], ...]
        ] = {}
        self._untaken: set[BarHold] = set()
        self._said: set[tuple[object, ...]] = set()

    def untaken(self, moment: Moment) -> Iterator[Diagnostic]:
        """Yield findings for notes without a free finger."""
        hold = moment.hold
        if hold in self._untaken or not hold.voicing.fingers:
            return
        self._untaken.add(hold)
        for stop in hold.stops:
            span = stop.note.pluck_span or stop.note.bar_span
            if not stop.finger and span is not None:
                fret = stop.fret - self.neck.capo.on(stop.string)
                message = (
                    f"{bar_words(moment.played)}: {hold.voicing.name} leaves no finger free "
                    f"that reaches string {stop.string} at fret {fret}"
                )
                hint = "choose a note nearer to the voicing, or a voicing that holds it"
                yield _finding("no-finger-free", Severity.ERROR, message, hint, stop.note)

    def change(self, before: Moment, after: Moment) -> Iterator[Diagnostic]:
        """Yield a finding if the change between two holds is too fast."""
        one, other = before.hold, after.hold
        names = (one.voicing.name, other.voicing.name)
        if (
            one.voicing is other.voicing
            or one.voicing == other.voicing
            or not (one.voicing.fingers and other.voicing.fingers)
        ):
            return
        key = (one, other, before.beat, after.beat)
        if key not in self._changes:
            self._changes[key] = self._judge_change(before, after)
        judged = self._changes[key]
        span = after.played.bar.span
        said = ("change", *names, judged)
        if judged is None or span is None or said in self._said:
            return
        self._said.add(said)
        yield _change_finding(judged, names, after, self.skill)

    def _judge_change(self, before: Moment, after: Moment) -> tuple[Haste, Severity] | None:
        found = pressed(self.neck, self.skill, before, after, times_of_change(before, after))
        if found is None or found.pressure <= TOO_FAST[self.skill.name]:
            return None
        kept = tuple(_before_the_last(before.hold, before.beat))
        early = evolve(before, hold=evolve(before.hold, stops=kept))
        # Nobody is refused for how often the hand changes, only for what cannot be reached in time.
        times = evolve(times_of_change(early, after), share=float("inf"))
        best = pressed(self.neck, ADVANCED, before, after, times)
        hopeless = best is not None and best.ratio > HOPELESS
        return found, Severity.ERROR if hopeless else Severity.WARNING

    def hops(self, moment: Moment, after: Moment | None) -> Iterator[Diagnostic]:
        """Yield the hops of a hold, and those into the next one of the same voicing, that are too fast."""
        hold = moment.hold
        goes_on = after is not None and after.hold.voicing is hold.voicing
        following = after.hold if goes_on and after is not None else None
        key = (hold, following, moment.beat)
        if key not in self._hops:
            self._hops[key] = tuple(self._judge_hops(moment, following))
        for hop, note in self._hops[key]:
            places = (hop.first.string, hop.first.fret, hop.second.string, hop.second.fret)
            said = (hop.rule, hold.voicing.name, moment.played.bar.pattern, *places)
            if said not in self._said and (note.bar_span or note.pluck_span):
                self._said.add(said)
                yield _hop_finding(hop, moment, note, self.neck)

    def _judge_hops(
        self, moment: Moment, following: BarHold | None
    ) -> Iterator[tuple[HopVerdict, TimedNote]]:
        own = [_stopped(stop, moment.beat, 0.0) for stop in moment.hold.stops if stop.finger]
        length = float(moment.played.bar.length) * moment.beat
        later = [
            _stopped(stop, moment.beat, length)
            for stop in (following.stops if following else ())
            if stop.finger
        ]
        places = {note: stop.note for note, stop in zip(own, _taken(moment.hold), strict=True)}
        for hop in hops(self.neck, (*own, *later), self.skill):
            reported = reported_hop(hop)
            if reported is not None and hop.first in places:
                yield reported, places[hop.first]


def reported_hop(hop: HopVerdict) -> HopVerdict | None:
    """Return what is reported of a hop: less than the figures say, as they are estimates."""
    ratio = hop.needed / hop.available if hop.available > 0 else float("inf")
    if hop.rule == "hop-too-fast" and ratio <= NO_HOP:
        return evolve(hop, rule="hop-tight", severity="warning")
    if hop.rule == "hop-tight" and ratio <= TIGHT:
        return None
    return hop if hop.rule in ("hop-too-fast", "hop-tight") else None


def _before_the_last(hold: BarHold, beat: float) -> Iterator[Stop]:
    """Yield the stops that a player would not let go early for the change that follows."""
    return (stop for stop in hold.stops if (float(hold.end) - stop.beat) * beat > GRACE)


def _taken(hold: BarHold) -> list[Stop]:
    return [stop for stop in hold.stops if stop.finger]


def _stopped(stop: Stop, beat: float, later: float) -> StoppedNote:
    time = later + stop.beat * beat
    return StoppedNote(time, time, stop.finger, stop.string, stop.fret, stop.slid, stop.home)


def _tempo(moment: Moment, ratio: float) -> int:
    """Return the tempo at which there is enough time, as the lesson counts it."""
    tempo = moment.played.tempo
    return int(float(tempo.per_minute) * LEAVES / ratio)


def _change_finding(
    judged: tuple[Haste, Severity],
    names: tuple[str, str],
    after: Moment,
    skill: Skill,
) -> Diagnostic:
    pressed, severity = judged
    one, other = names
    who = finger_word(pressed.finger) if pressed.finger else "the whole hand"
    there, wanted = told_apart(max(0.0, pressed.available), pressed.needed, _PLACES)
    message = (
        f"{bar_words(after.played)}: from {one} to {other} {who} has {there} s "
        f"and needs {wanted} s ({skill.name})"
    )
    let_go = "let go before the change (`release on 4&`), or write fingers that have less far to go"
    if pressed.ratio < float("inf"):
        tempo = _tempo(after, pressed.ratio)
        hint = f"slow down to {tempo} or less, {let_go}" if tempo >= SLOWEST else let_go
    else:
        hint = "let go earlier (`release on 4&`), or pluck that string later"
    assert after.played.bar.span is not None
    return Diagnostic(
        rule="change-too-fast",
        severity=severity,
        message=message,
        span=after.played.bar.span,
        hint=hint,
    )


def _hop_finding(hop: HopVerdict, moment: Moment, note: TimedNote, neck: Neck) -> Diagnostic:
    first, second = hop.first, hop.second
    there, wanted = told_apart(hop.available, hop.needed, _PLACES)
    message = (
        f"{bar_words(moment.played)}: {finger_word(first.finger)} goes from string {first.string} "
        f"fret {first.fret - neck.capo.on(first.string)} to string {second.string} "
        f"fret {second.fret - neck.capo.on(second.string)} in {there} s "
        f"and needs {wanted} s"
    )
    hint = "hold both with a fuller fingering, or pluck them further apart in time"
    if hop.available > 0:
        hint += f"; or slow down to {_tempo(moment, 2 * hop.needed / hop.available)} or less"
    return _finding(hop.rule, Severity(hop.severity), message, hint, note)


def _finding(rule: str, severity: Severity, message: str, hint: str, note: TimedNote) -> Diagnostic:
    span = note.bar_span or note.pluck_span
    assert span is not None
    return Diagnostic(rule=rule, severity=severity, message=message, span=span, hint=hint)
