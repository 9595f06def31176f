"""Words that teachers write for something, and what it is called in a lesson.

A message names the right word; a lesson is never read as if the right word were there.
"""

from __future__ import annotations

import re

from fretloom.notation.syntax.fields import table

#: For the word that opens a block.
BLOCKS = {
    "chords": "voicings",
    "chord": "voicings",
    "shapes": "voicings",
    "fingerpicking": "patterns",
    "rhythm": "patterns",
    "rhythms": "patterns",
    "song": "lesson",
    "title": "lesson",
    "part": "section",
    "verse": "section",
    "chorus": "section",
    "order": "form",
    "structure": "form",
    "sequence": "form",
    "fingers": "picking",
    "exercise": "step",
    "practice": "step",
    "include": "use",
    "import": "use",
}
#: What people write in a bar for what has a word there, if no voicing is called so.
UNKNOWN_IN_BARS = {
    "tacet": "rest", "rests": "rest", "pause": "rest", "silent": "rest", "nothing": "rest", "r": "rest",
    "n/c": "N.C.", "none": "N.C.", "no-chord": "N.C.", "nochord": "N.C.", "kein": "N.C.",
    "ditto": "%", "repeat": "%", "simile": "%", "sim.": "%", "again": "%",
    "pushed": "early on 4&", "push": "early on 4&", "anticipated": "early on 4&",
}  # fmt: skip
#: For the first word of a line of the heading.
FIELDS = {word: field.name for field in table.FIELDS.values() for word in field.synonyms}
#: Where the words of a bar should stand; they are not names of voicings.
BARS = {
    "use": "using",
    "uses": "using",
    "used": "using",
    "x": "x2, without a space",
    "times": "x2",
    "twice": "x2",
    "silence": "rest",
    "pause": "fermata on 4",
    "hold": "-, inside { }",
    "pattern": "using",
}


def said_in_bars(word: str) -> str:
    """Return what a lesson writes in a bar for a word in small letters that is not a name, "" if not known."""
    times = re.fullmatch(r"x(\d{1,3}|two|three|four)", word)
    if times is not None:
        return f"x{_NUMBERS.get(times[1], times[1])}"
    return "rest" if word == "rest" else UNKNOWN_IN_BARS.get(word, "")


_NUMBERS = {"two": "2", "three": "3", "four": "4"}
