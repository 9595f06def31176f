"""WebVTT as text: cues with their times, escaped words.

Source: W3C, "WebVTT: The Web Video Text Tracks Format" (Candidate Recommendation).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction

from fretloom.characters import nothing_hidden
from fretloom.values import frozen

#: What ends a line, or what nobody sees and some readers take for the end of one.
_UNSEEN = re.compile(r"[\x00-\x20\x7f-\xa0\u2028\u2029\ufeff\ud800-\udfff]+")


@frozen
class Cue:
    """What is shown from `start` to `end`, in milliseconds; `lines` are written as they are, none of them empty."""

    start: int
    end: int
    lines: tuple[str, ...]


def milliseconds(seconds: Fraction) -> int:
    """Return seconds as milliseconds, to the nearest."""
    return round(seconds * 1000)


def timestamp(value: int) -> str:
    """Return milliseconds as hours, minutes, seconds and thousandths."""
    seconds, thousandths = divmod(value, 1000)
    minutes, seconds = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02}:{minutes:02}:{seconds:02}.{thousandths:03}"


def words(text: str) -> str:
    """Return words as one line without markup: whatever is not seen becomes a blank."""
    plain = nothing_hidden(_UNSEEN.sub(" ", text)).strip()
    return plain.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def webvtt(title: str, cues: Iterable[Cue]) -> str:
    """Return a file of cues, which come in order of time; those that would last no time are left out."""
    blocks = ["WEBVTT", *_note(title)]
    shown = [cue for cue in cues if cue.end > cue.start >= 0 and cue.lines]
    for number, cue in enumerate(shown, start=1):
        times = f"{timestamp(cue.start)} --> {timestamp(cue.end)}"
        blocks.append("\n".join((str(number), times, *cue.lines)))
    return "\n\n".join(blocks) + "\n"


def _note(title: str) -> Iterator[str]:
    # A comment has no escapes, and may have anything but an arrow.
    plain = nothing_hidden(_UNSEEN.sub(" ", title)).replace("-->", "→").strip()
    if plain:
        yield f"NOTE {plain}"
