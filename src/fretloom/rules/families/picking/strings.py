"""Rules about the picking hand: the thumb off its bass strings, fingers off theirs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.pattern import PatternBar, Pluck, Roll, Stroke
from fretloom.notation.model.section import With
from fretloom.notation.model.walking.places import WrittenPlace
from fretloom.notation.model.walking.walk import every
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.rules.families.picking.picking_hand import (
    PickingHand,
    PluckedBar,
    hand_of,
    plucked_bars,
)
from fretloom.source import Span
from fretloom.text import agreeing, listed
from fretloom.trade.wording import fingers_words, strings_words
from fretloom.values import evolve

#: The order of the fingers across the hand, from the thumb's side.
_ACROSS = "imac"


def plucked_strings(reading: Reading) -> Iterator[Diagnostic]:
    """Find fingers on strings that are not theirs, and one finger on two strings at once.

    All of these rules share one pass over the plucks of a lesson.
    """
    hand = hand_of(reading)
    added = tuple(_added(reading.lesson))
    yield from _thumb_walks_off(hand, reading.lesson)
    shifted: dict[WrittenPlace, list[tuple[WrittenPlace, Pluck]]] = {}
    for bar in plucked_bars(reading.lesson):
        for _, together in bar.strokes:
            for pluck in together:
                yield from _thumb_on(hand, pluck, bar.place)
        for ordinary, pluck in _off_in_bar(hand, bar):
            if ordinary:
                shifted.setdefault(_whole(bar.place), []).append((bar.place, pluck))
            elif pluck.span is not None:
                yield _finger_off(hand, pluck, pluck.span, bar.place, ordinary)
        yield from _doubled_in(hand, bar)
    for place, plucks in shifted.items():
        yield from _hand_off(hand, plucks, place)
    for place, pluck in added:
        yield from _thumb_on(hand, pluck, place)
        if pluck.finger != "p" and _is_off(hand, pluck) and pluck.span is not None:
            ordinary = not _far_into_bass(hand, pluck)
            yield _finger_off(hand, pluck, pluck.span, place, ordinary)
    yield from _doubled_by_additions(reading, added)


def _added(lesson: Lesson) -> Iterator[tuple[WrittenPlace, Pluck]]:
    """Yield the plucks that `with` adds to single bars."""
    for place, patch in every(lesson, With, (PatternBar,)):
        if isinstance(patch.pluck, Pluck):
            yield place, patch.pluck


def _thumb_walks_off(hand: PickingHand, lesson: Lesson) -> Iterator[Diagnostic]:
    """Find bass orders that take the thumb to a string that is not its own."""
    for entry in lesson.voicings:
        span = entry.bass_span or entry.span
        for string in dict.fromkeys(entry.bass):
            if span is not None and not hand.is_home("p", string) and string <= hand.strings:
                message = f"the bass order of {entry.name} leads the thumb to string {string}"
                yield _thumb(Severity.INFO, message, span, hand)


def _thumb_on(hand: PickingHand, pluck: Pluck, place: WrittenPlace) -> Iterator[Diagnostic]:
    string = pluck.string
    if pluck.finger != "p" or string is None or pluck.span is None:
        return
    if hand.is_home("p", string) or not 1 <= string <= hand.strings:
        return
    severity = Severity.ERROR if string in hand.highest else Severity.INFO
    message = f"the thumb (p) plucks string {string} in {place}, which is not a bass string"
    yield _thumb(severity, message, pluck.span, hand)


def _thumb(severity: Severity, message: str, span: Span, hand: PickingHand) -> Diagnostic:
    own = " ".join(map(str, hand.plan.strings_of("p")))
    hint = f"name one of the thumb's strings ({own}) or another finger"
    if severity is Severity.INFO:
        hint = f"the thumb's own strings are {own}; if you mean this, leave it as it is"
    return Diagnostic(
        rule="thumb-off-bass", severity=severity, message=message, span=span, hint=hint
    )


def _whole(place: WrittenPlace) -> WrittenPlace:
    """Return the pattern that a bar of plucks belongs to, or the bar itself elsewhere."""
    return evolve(place, bar=None) if place.kind == "pattern" else place


def _off_in_bar(hand: PickingHand, bar: PluckedBar) -> Iterator[tuple[bool, Pluck]]:
    """Find i, m, a and c on strings that are not theirs, once for each finger and string of a bar.

    Fingers that are all on neighbouring strings, in order, are usual: `True` stands before them.
    """
    row = [together for _, together in bar.strokes]
    worst: dict[tuple[str, int], tuple[bool, Pluck]] = {}
    for index, together in enumerate(row):
        for pluck in together:
            if pluck.finger == "p" or pluck.string is None or not _is_off(hand, pluck):
                continue
            ordinary = not _far_into_bass(hand, pluck) and _in_order(hand, row, index, pluck)
            before = worst.get((pluck.finger, pluck.string))
            if before is None or (before[0] and not ordinary):
                worst[pluck.finger, pluck.string] = (ordinary, pluck)
    yield from worst.values()


def _hand_off(
    hand: PickingHand, plucks: Sequence[tuple[WrittenPlace, Pluck]], whole: WrittenPlace
) -> Iterator[Diagnostic]:
    """Say once for a whole pattern that the hand is set on other strings than its own."""
    first: dict[tuple[str, int | None], tuple[WrittenPlace, Pluck]] = {}
    for place, pluck in plucks:
        first.setdefault((pluck.finger, pluck.string), (place, pluck))
    place, pluck = next(iter(first.values()))
    if pluck.span is None:
        return
    found = _finger_off(hand, pluck, pluck.span, place, ordinary=True)
    if len(first) > 1:
        fingers = list(dict.fromkeys(finger for finger, _ in first))
        strings = list(dict.fromkeys(string for _, string in first if string))
        verb = agreeing(len(fingers), "plucks", "pluck")
        home = agreeing(len(fingers), "its home", "their homes")
        message = (
            f"{fingers_words(fingers)} {verb} {strings_words(strings)} in {whole}, away from {home}"
        )
        found = evolve(found, message=message)
    yield found


def _is_off(hand: PickingHand, pluck: Pluck) -> bool:
    homes = hand.plan.strings_of(pluck.finger)
    string = pluck.string
    return bool(homes) and string is not None and string not in homes and string <= hand.strings


def _far_into_bass(hand: PickingHand, pluck: Pluck) -> bool:
    """Whether a finger has left its home by more than one string for one that only the thumb plays."""
    homes = hand.plan.strings_of(pluck.finger)
    string = pluck.string or 0
    fingers = {home for finger in _ACROSS for home in hand.plan.strings_of(finger)}
    return string not in fingers and min(abs(string - home) for home in homes) > 1


def _in_order(
    hand: PickingHand, row: Sequence[tuple[Pluck, ...]], index: int, pluck: Pluck
) -> bool:
    """Whether the fingers keep their order across the strings where this one plays.

    It is compared with the plucks of the other fingers that are nearest in time.
    """
    for other in _ACROSS:
        if other == pluck.finger:
            continue
        near = _nearest(row, index, other)
        string = hand.string_of(near) if near else None
        if string is None or pluck.string is None:
            continue
        lower = _ACROSS.index(pluck.finger) < _ACROSS.index(other)
        if pluck.string < string if lower else pluck.string > string:
            return False
    return True


def _nearest(row: Sequence[tuple[Pluck, ...]], index: int, finger: str) -> Pluck | None:
    for place in sorted(range(len(row)), key=lambda one: abs(one - index)):
        for pluck in row[place]:
            if pluck.finger == finger:
                return pluck
    return None


def _finger_off(
    hand: PickingHand, pluck: Pluck, span: Span, where: WrittenPlace, ordinary: bool
) -> Diagnostic:
    homes = listed(hand.plan.strings_of(pluck.finger), "or")
    message = f"finger {pluck.finger} plucks string {pluck.string} in {where}; its home is {homes}"
    hint = f"write {pluck.finger} for its home string, or name the finger that is at home there"
    if ordinary:
        hint = "leave it as it is, or write a `picking` block that makes these strings their home"
    severity = Severity.INFO if ordinary else Severity.WARNING
    return Diagnostic(
        rule="finger-off-strings", severity=severity, message=message, span=span, hint=hint
    )


def _doubled_in(hand: PickingHand, bar: PluckedBar) -> Iterator[Diagnostic]:
    """Find one finger that plucks two strings at once without a brush."""
    for stroke, together in bar.strokes:
        if len(together) < 2:
            continue
        seen: dict[str, Pluck] = {}
        for pluck in _at_once(stroke):
            first = seen.setdefault(pluck.finger, pluck)
            strings = hand.string_of(first), hand.string_of(pluck)
            # The same string twice is another fault, found where the music is laid out.
            if first is not pluck and pluck.span and (None in strings or strings[0] != strings[1]):
                yield _two_strings(pluck.finger, strings, bar.place, pluck.span)


def _at_once(stroke: Stroke) -> Iterator[Pluck]:
    for part in stroke.parts:
        if isinstance(part, Pluck):
            yield part
        elif isinstance(part, Roll):
            # A roll goes from string to string, so only its first use of a finger counts.
            firsts = {one.finger: one for one in reversed(part.parts) if isinstance(one, Pluck)}
            yield from firsts.values()


def _doubled_by_additions(
    reading: Reading, plucks: Sequence[tuple[WrittenPlace, Pluck]]
) -> Iterator[Diagnostic]:
    """Find a finger that plucks another string at the same time as one that a `with` adds."""
    added = {pluck.span: where for where, pluck in plucks if pluck.span}
    for played, _ in reading.timeline.distinct_bars() if added else ():
        notes = [note for note in played.bar.notes if not note.brush and note.pluck_span]
        for note in notes:
            if note.pluck_span not in added:
                continue
            for other in notes:
                same = (other.onset, other.finger) == (note.onset, note.finger)
                if same and other.string != note.string:
                    strings = (other.string, note.string)
                    yield _two_strings(
                        note.finger, strings, added[note.pluck_span], note.pluck_span
                    )
                    break


def _two_strings(
    finger: str, strings: tuple[int | None, int | None], where: WrittenPlace, span: Span
) -> Diagnostic:
    named = [string for string in strings if string is not None]
    which = strings_words(named) if len(named) == 2 else "two strings"
    example = f"{finger}{named[0]}-{named[1]}" if len(named) == 2 else f"{finger}6-4"
    return Diagnostic(
        rule="finger-on-two-strings",
        severity=Severity.ERROR,
        message=f"finger {finger} would pluck {which} at once in {where}",
        span=span,
        hint=f"give one of them to another finger, or write a brush such as {example}",
    )
