"""Rules about strain: barres without relief and tempo ladders that climb too far in one go.

The limits are assumptions without a source; both rules only advise, and their pages carry the
usual cautions.
"""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.step import Show
from fretloom.performance.events import PlayedBar
from fretloom.performance.place_words import bar_words
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.wording import CARE

#: Strings under one finger that make a barre tiring, and how many seconds of nothing else do.
WIDE_BARRE, LONG_SECONDS = 5, 40
#: How many times its first tempo a ladder may reach.
STEEP = 2


def barres_without_relief(reading: Reading) -> Iterator[Diagnostic]:
    """Find the first long run of bars in which the hand never leaves full barres."""
    if not reading.sound:
        return
    run: list[PlayedBar] = []
    seconds = 0.0
    for played in reading.timeline.bars:
        voicings = [timed.voicing for timed in played.bar.voicings]
        if not voicings or played.bar.rest or not all(map(_is_full_barre, voicings)):
            run, seconds = [], 0.0
            continue
        run.append(played)
        seconds += float(played.bar.length / played.tempo.quarters_per_minute) * 60
        span = run[0].bar.span
        if seconds > LONG_SECONDS and span is not None:
            yield Diagnostic(
                rule="barre-without-relief",
                severity=Severity.INFO,
                message=f"from {bar_words(run[0])} on, one full barre follows another "
                f"for more than {LONG_SECONDS} seconds",
                span=span,
                hint=f"put in a voicing with open strings or a bar of rest; {CARE}",
            )
            return


def _is_full_barre(voicing: Voicing) -> bool:
    held = voicing.strings_of("1")
    return bool(held) and held[0] - held[-1] + 1 >= WIDE_BARRE


def steep_ladders(reading: Reading) -> Iterator[Diagnostic]:
    """Find steps that climb to more than twice their first tempo in one go."""
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
