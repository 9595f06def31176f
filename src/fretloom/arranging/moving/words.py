"""Words of a lesson's steps that name a chord or a fret of the old key."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.step import Prose, Step
from fretloom.notation.model.walking.places import WrittenPlace
from fretloom.notation.model.walking.walk import walk

#: What stands for a word with the signs that chord names have inside.
_WORD = re.compile(r"[A-Za-zÀ-ÿ][\w#♯♭+°()/-]*(?:\.[a-z][\w-]*)?")
_NUMBER = r"(?:\d+(?:st|nd|rd|th)?|first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|twelfth)"
_FRET = re.compile(rf"\b{_NUMBER}\s+frets?\b|\bfrets?\s+(?:no\.?\s*)?{_NUMBER}\b", re.IGNORECASE)
#: The names that are words of a sentence too, at its beginning.
_ALSO_WORDS = frozenset({"A", "Am", "Do", "La", "Si", "Mi", "Sol", "Re", "Fa"})
_END = re.compile(r"(?:[.!?:]\s+|[\"“(])$")
#: How many characters before a word are looked at.
_BEFORE = 12
_AFTER_CHORD = re.compile(r"\s*(?:chords?|shapes?|major|minor|to|and|or|,|-|–|→|$)(?:\W|$)")


def named_in_words(
    lesson: Lesson, chords: Collection[str]
) -> Iterator[tuple[WrittenPlace, tuple[str, ...]]]:
    """Yield each step whose words name one of the chords, or a fret, with what they name."""
    found: dict[WrittenPlace, dict[str, None]] = {}
    for place, node in walk(lesson):
        texts = (node.title,) if isinstance(node, Step) else ()
        if isinstance(node, Prose):
            texts = (node.text,)
        for text in texts:
            for name in (*_chords(text, chords), *(one[0] for one in _FRET.finditer(text))):
                found.setdefault(place, {})[name] = None
    yield from ((place, tuple(names)) for place, names in found.items())


def _chords(text: str, chords: Collection[str]) -> Iterator[str]:
    for match in _WORD.finditer(text):
        word = match[0].rstrip(".-")
        whole = next((one for one in (word, word.rstrip(")/")) if one in chords), "")
        for name in (whole,) if whole else re.split(r"[-/]", word):
            if name in chords and not _is_a_word(text, match.start(), match.end(), name):
                yield name


def _is_a_word(text: str, start: int, end: int, name: str) -> bool:
    """Whether a name is only a word of the sentence, as A at its beginning."""
    if name not in _ALSO_WORDS or text[start:end] != name:
        return False
    before = text[max(0, start - _BEFORE) : start]
    begins = start <= _BEFORE and not before.strip()
    return (begins or bool(_END.search(before))) and not _AFTER_CHORD.match(text, end)
