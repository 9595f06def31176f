"""Rules about strain: barres without relief and tempo ladders that climb too far in one go.

The limits are assumptions without a source; both rules only advise, and their pages carry the
usual cautions.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.step import Show
from fretloom.performance.events import PlayedBar
from fretloom.performance.place_words import bar_words
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.playability.moving.skills import BEGINNER
from fretloom.trade.playability.shape import THUMB
from fretloom.trade.wording import CARE

#: Strings under one finger that make a barre tiring, or pressed down without an open string beside
#: them, and how many seconds of nothing else do.
WIDE_BARRE, CLOSED_GRIP, LONG_SECONDS = 5, 4, 40
#: How many times its first tempo a ladder may reach.
STEEP = Fraction(7, 4)


def barres_without_relief(reading: Reading) -> Iterator[Diagnostic]:
    """Find the first long run of bars in which the hand never rests from grips that tire it."""
    if not reading.sound:
        return
    run: list[PlayedBar] = []
    seconds = 0.0
    for played in reading.timeline.bars:
        voicings = [timed.voicing for timed in played.bar.voicings]
        if not voicings or played.bar.rest or not all(map(_tires, voicings)):
            run, seconds = [], 0.0
            continue
        run.append(played)
        seconds += float(played.bar.length / played.tempo.quarters_per_minute) * 60
        span = run[0].bar.span
        if seconds > LONG_SECONDS and span is not None:
            yield Diagnostic(
                rule="barre-without-relief",
                severity=Severity.INFO,
                message=f"from {bar_words(run[0])} on, {_grips(run)} follow one another "
                f"for more than {LONG_SECONDS} seconds",
                span=span,
                hint=f"put in a voicing with open strings or a bar of rest; {CARE}",
            )
            return


def _tires(voicing: Voicing) -> bool:
    """Whether the hand presses all the time: a full barre, the thumb over the neck, four strings or more."""
    return (
        is_full_barre(voicing)
        or bool(voicing.strings_of(THUMB))
        or (0 not in voicing.frets and sum(map(bool, voicing.frets)) >= CLOSED_GRIP)
    )


def is_full_barre(voicing: Voicing) -> bool:
    """Whether the first finger lies over five strings or more, which takes the whole hand."""
    held = voicing.strings_of("1")
    return bool(held) and held[0] - held[-1] + 1 >= WIDE_BARRE


def _grips(run: list[PlayedBar]) -> str:
    voicings = [timed.voicing for played in run for timed in played.bar.voicings]
    if all(map(is_full_barre, voicings)):
        return "full barres"
    if all(voicing.strings_of(THUMB) for voicing in voicings):
        return "voicings with the thumb over the neck"
    return "voicings that press four strings or more"


def first_barre(reading: Reading) -> Iterator[Diagnostic]:
    """Find the first full barre, or thumb over the neck, of a lesson for beginners."""
    if reading.timeline.settings.level != BEGINNER.name:
        return
    for played in reading.timeline.bars:
        for timed in played.bar.voicings:
            voicing, span = timed.voicing, timed.span or played.bar.span
            what = ""
            if is_full_barre(voicing):
                what = "is a full barre"
            elif voicing.strings_of(THUMB):
                what = "takes the thumb over the neck"
            if what and span is not None:
                yield Diagnostic(
                    rule="beginner-barre",
                    severity=Severity.INFO,
                    message=f"{voicing.name} {what}, the first in a lesson for beginners",
                    span=span,
                    hint="offer an easier form of it first, with fewer strings, and hold it only for "
                    f"short turns; {CARE}",
                )
                return


def steep_ladders(reading: Reading) -> Iterator[Diagnostic]:
    """Find steps that climb to more than 1.75 times their first tempo in one go."""
    for step in reading.lesson.steps:
        for line in step.lines:
            if (
                not isinstance(line, Show)
                or line.goal is None
                or line.start is None
                or line.span is None
            ):
                continue
            if line.goal > STEEP * line.start:
                yield Diagnostic(
                    rule="steep-ladder",
                    severity=Severity.INFO,
                    message=f"the step {step.title} climbs from {float(line.start):g} to {float(line.goal):g} "
                    "quarter notes a minute in one go",
                    span=line.span,
                    hint="stop halfway, and go on another day in a step of its own",
                )
