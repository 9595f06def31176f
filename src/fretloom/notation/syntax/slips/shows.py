"""Why a line of a step that shows something cannot be read: words in another order, or missing."""

from __future__ import annotations

import re

from fretloom.notation.syntax.slips.slip import Slip

_BARS = r"(bars?\s+\d+(?:-\d+)?)"
_NAME = r"(?!(?:of|from|at|to|in|for)\b)([a-z]\S*)"
_CHORD = r"([A-H][^\s,\"]*)"
#: What is written, behind the word show, and what is meant.
_ORDERS = tuple(
    (re.compile(rf"show\s+{written}"), meant)
    for written, meant in (
        (r"changes?\s+from\s+(\S+)\s+to\s+(\S+)(.*)", "change {0} to {1}{2}"),
        (rf"changes?\s+(\S+)\s*(?:->|→|-+|–|and|>|,|/)\s*{_CHORD}(.*)", "change {0} to {1}{2}"),
        (r"(?:changes?|chords?|voicings?)\s+(\S+)\s+to\s+(\S+)(.*)", "change {0} to {1}{2}"),
        (
            rf"(?:patterns?|rhythms?)\s+(\S+)\s+(?:on|with|in|to)\s+{_CHORD}(.*)",
            "pattern {0} over {1}{2}",
        ),
        (rf"(?:sections?|parts?)\s+(\S+)\s+{_BARS}(.*)", "{1} of {0}{2}"),
        (rf"{_NAME}\s+{_BARS}(.*)", "{1} of {0}{2}"),
        (rf"{_BARS}\s+(?:(?:in|from|for)\s+)?{_NAME}(.*)", "{0} of {1}{2}"),
        (r"(.+?)\s+at\s+(?:tempo\s+)?(\d+)\s*(?:bpm|%)?$", "{0} at {1}"),
        (r"(.+?)\s+(?:tempo\s+)?(\d+)\s*bpm$", "{0} at {1}"),
        (r"(.+?)\s+tempo\s+(\d+)$", "{0} at {1}"),
        (r"(.+?)\s+(?:from|at)?\s*(\d+)\s*(?:-|–|to)\s*(\d+)$", "{0} from {1} to {2}"),
        (r"(?:the\s+)?(?:lesson|song|tune|form|everything|all|whole\s+\w+)\b(.*)", "form{0}"),
        (r"the\s+(.+)", "{0}"),
        (r"(voicing|section|pattern)s\s+(.+)", "{0} {1}"),
    )
)
#: What cannot be shown as it is written, why, and what to write.
_MISSING = tuple(
    (re.compile(rf"show\s+{written}"), message, hint)
    for written, message, hint in (
        (
            rf"(?:voicings?|chords?)\s+{_CHORD}[,\s]+(?:and\s+)?([A-H]\S*)$",
            "one line shows one voicing",
            "write two lines: show voicing {0} and show voicing {1}; or show change {0} to {1}",
        ),
        (
            r"(?:bars?\s+\d[\d\s-]*|(?:first|last)\s+bar\s*)$",
            "the line does not say whose bars it shows",
            "name the section: show bars 3-4 of verse",
        ),
        (
            r"(?:the\s+)?(?:first|last)\s+(?:\w+\s+)?bars?\s+of\s+(\S+)",
            "bars are shown by their numbers",
            "write the number of the bar: show bar 8 of {0}",
        ),
        (rf"{_CHORD}$", "the line does not say what {0} is", "write show voicing {0}"),
        (
            r"(?!(?:form|the|all|lesson|song|tune|everything|voicing|pattern|section|change)s?\b)([a-z][\w-]*)$",
            "the line does not say what {0} is",
            "write show section {0}, or show pattern {0}",
        ),
        (
            r"form\s+(?!at\b|from\b)([a-z]\S*)$",
            "a lesson has one form, which has no name",
            "write show form, or show section {0}",
        ),
        (
            r"(section|pattern|voicing)s?\s+\"([^\"]*)\"",
            "what is shown is named without quotes",
            "write the name that stands behind `section`, or in the patterns or voicings: show {0} verse",
        ),
    )
)


def of_a_show(text: str, blank: str) -> Slip | None:
    """Return why a line of a step that begins with show cannot be read, if that is known."""
    for pattern, message, hint in _MISSING:
        found = pattern.match(text)
        if found is not None:
            said = message.format(*found.groups()), hint.format(*found.groups())
            return Slip("not-understood", 0, len(text), *said)
    for pattern, order in _ORDERS:
        found = pattern.match(blank)
        meant = f"show {order.format(*(word or '' for word in found.groups()))}" if found else text
        if meant != text:
            message = "a line that shows something is written in another way"
            return Slip("not-understood", 0, len(text), message, f"write {meant}", meant=meant)
    return None
