"""Rules about the fretting hand and single voicings: what it cannot hold, or only with a wide stretch."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.source import Span
from fretloom.text import counted
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.voicing import Voicing, fingers_text
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import (
    Fingers,
    Verdict,
    is_wide,
    judge,
    over_five_frets,
    refused,
)
from fretloom.trade.playability.solver import fingerings
from fretloom.trade.wording import CARE, hand_words, say

#: What the report tells and a check does not: ordinary things that need no mending.
_UNSAID = frozenset({"thumb-used", "high-fret", "barre-arch", "no-fret"})


def voicings(reading: Reading) -> Iterator[Diagnostic]:
    """Find voicings that a hand like the lesson's cannot hold, and very wide stretches."""
    settings = reading.timeline.settings
    neck, hand = neck_of_settings(settings), hand_of_settings(settings)
    shown = _first_bars(reading)
    for name, voicing in reading.timeline.voicings.items():
        span = _place(reading, name) or shown.get(name)
        if span is not None:
            yield from _voicing(voicing, neck, hand, span, hand_words(settings.hand))


def _place(reading: Reading, name: str) -> Span | None:
    """Return where the lesson itself writes a voicing; None for one from a file that it only uses."""
    if name not in reading.material.own_voicings:
        return None
    entry = reading.material.voicings[name]
    span = entry.fingers_span or entry.frets_span or entry.span
    source = reading.lesson.source
    return span if span is None or source is None or span.source is source else None


def _first_bars(reading: Reading) -> dict[str, Span]:
    """Return where each voicing is first played."""
    found: dict[str, Span] = {}
    for played in reading.timeline.bars:
        for timed in played.bar.voicings:
            if timed.span is not None:
                found.setdefault(timed.voicing.name, timed.span)
    return found


def _voicing(
    voicing: Voicing, neck: Neck, hand: Hand, span: Span, whose: str
) -> Iterator[Diagnostic]:
    if not any(voicing.frets):
        return
    if not voicing.fingers:
        yield _none_found(voicing, neck, hand, span, whose)
        return
    verdicts = judge(neck, hand, voicing.frets, voicing.fingers)
    own = not voicing.fingers_given or voicing.fingers == _found(voicing, neck, hand)
    hint = _way_out(voicing, neck, hand) if refused(verdicts) else ""
    for verdict in verdicts:
        severity = _severity(verdict, hand)
        # What the tool would choose itself is no fault of the fingers.
        if own and severity is not Severity.ERROR and not over_five_frets(verdict):
            continue
        if severity is not None:
            message = f"{voicing.name}: {say(verdict, whose)}"
            yield Diagnostic(
                rule=verdict.rule,
                severity=severity,
                message=message,
                span=span,
                hint=hint or _ease(verdict),
            )


def _found(voicing: Voicing, neck: Neck, hand: Hand) -> Fingers:
    """Return the fingers that would be found for a voicing alone."""
    found = fingerings(voicing.frets, neck, hand, limit=1)
    return found[0].fingers if found else ()


def _severity(verdict: Verdict, hand: Hand) -> Severity | None:
    """Return how serious a verdict is for a lesson; None if only the report mentions it."""
    if verdict.rule in _UNSAID:
        return None
    if verdict.rule == "stretch":
        # Anything less is left to the report.
        return Severity.WARNING if is_wide(verdict, hand) else None
    # Some teachers finger A as 2 1 3: a way of its own, not a fault.
    return Severity.INFO if verdict.rule == "finger-reversed" else Severity(verdict.severity)


def _none_found(voicing: Voicing, neck: Neck, hand: Hand, span: Span, whose: str) -> Diagnostic:
    """Return the finding that a voicing cannot be held, and what would help."""
    thumb = fingerings(voicing.frets, neck, hand, thumb=True, limit=1)
    if thumb:
        hint = _with_thumb(thumb[0].fingers)
    else:
        hint = "leave a string out (x), move it up the neck, or choose an easier voicing"
    stopped = [fret for fret in voicing.frets if fret]
    count = len(voicing.frets)
    strings = [count - at for at, fret in enumerate(voicing.frets) if fret]
    places = zip(strings, stopped, strict=True)
    far = [neck.stopped(string, fret) for string, fret in places]
    apart = neck.span(min(far), max(far))
    message = (
        f"{voicing.name} ({voicing.frets_text}): no fingers of {whose} can hold it: "
        f"{counted(len(stopped), 'string')} stopped at {counted(len(set(stopped)), 'fret')}, "
        f"{apart:.0f} mm from first to last"
    )
    return Diagnostic(
        rule="no-fingering", severity=Severity.ERROR, message=message, span=span, hint=hint
    )


def _way_out(voicing: Voicing, neck: Neck, hand: Hand) -> str:
    """Return the smallest change that would make a voicing playable."""
    back = voicing.fingers[::-1]
    if back != voicing.fingers and back == _found(voicing, neck, hand):
        ends = f"from string {len(back)} to string 1"
        return (
            f"the other way round? Fingers are written {ends}: write `fingers {fingers_text(back)}`"
        )
    other = fingerings(voicing.frets, neck, hand, limit=1)
    if other:
        return f"write `fingers {fingers_text(other[0].fingers)}`, which can hold these frets"
    thumb = fingerings(voicing.frets, neck, hand, thumb=True, limit=1)
    if thumb:
        return _with_thumb(thumb[0].fingers)
    return "leave a string out (x), move it up the neck, or choose an easier voicing"


def _with_thumb(fingers: Fingers) -> str:
    written = fingers_text(fingers)
    return f"write `fingers {written}`, with the thumb over the neck"


def _ease(verdict: Verdict) -> str:
    """Return the hint for what is possible but hard."""
    if verdict.rule == "stretch":
        return f"use a capo or a place higher on the neck, where the frets are closer; {CARE}"
    if verdict.rule == "barre-large":
        return "try fewer strings: more than three are hard to press with this finger"
    if verdict.rule == "finger-reversed":
        return "put the lower finger on the lower string, as is usual"
    return "choose an easier voicing"
