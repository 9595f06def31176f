"""Words that teachers write for something, and what it is called in a lesson.

A message names the right word; a lesson is never read as if the right word were there.
"""

from __future__ import annotations

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
}
