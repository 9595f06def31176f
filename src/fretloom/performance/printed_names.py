"""What a student reads for a voicing: its chord, and where it is played if there are several of it.

Tags are the teacher's (`G.bar`): a student reads "G at fret 3".
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence

from fretloom.notation.model.pattern import Pattern
from fretloom.trade.guitar.voicing import Voicing, split_name
from fretloom.values import frozen


def printed_names(voicings: Sequence[Voicing]) -> dict[str, str]:
    """Return what to print for each voicing, by its name in the lesson; no two are the same."""
    groups: dict[str, list[Voicing]] = {}
    for voicing in voicings:
        groups.setdefault(_base(voicing), []).append(voicing)
    names: dict[str, str] = {}
    for base, group in groups.items():
        ways = _told_apart(group) if len(group) > 1 else [""]
        names |= {one.name: f"{base} {way}".rstrip() for one, way in zip(group, ways, strict=True)}
    return names


@frozen
class PatternInPrint:
    """What a student reads for a pattern, "" for nothing, and how many bars it has."""

    name: str
    bars: int = 1


def pattern_in_print(pattern: Pattern) -> PatternInPrint:
    """Return what a student reads for a pattern: its title, or its name if that is a word."""
    word = re.fullmatch(r"[^\W\d_]{3,}(?:[-_][^\W\d_]+)*", pattern.name)
    name = re.sub("[-_]", " ", pattern.name) if word else ""
    return PatternInPrint(pattern.title or name, len(pattern.bars))


def in_print(text: str, names: Mapping[str, str]) -> str:
    """Return a lesson's own words with voicings called what is printed for them."""
    changed = [name for name, printed in names.items() if name != printed and name in text]
    if not changed:
        return text
    choice = "|".join(re.escape(name) for name in sorted(changed, key=len, reverse=True))
    # A stop behind a name may end the sentence; with a letter behind it, it belongs to another name.
    behind = r"""(?![^\s|:;,.!?)"']|[.]\w)"""
    return re.sub(rf"""(?<![^\s|:("'])(?:{choice}){behind}""", lambda one: names[one[0]], text)


def _base(voicing: Voicing) -> str:
    """Return the chord symbol, or a plain name without its tag."""
    tag = split_name(voicing.name)[1]
    return voicing.symbol or (voicing.name[: -len(tag) - 1] if tag else voicing.name)


def _told_apart(group: Sequence[Voicing]) -> list[str]:
    """Return words that tell the voicings of one chord apart; one of them may need none."""
    alone = [(one,) for one in _WAYS]
    with_fret = [(_lowest_fret, one) for one in _WAYS[2:]]
    for ways in (*alone, *with_fret, _WAYS[1:]):
        words = [" ".join(filter(None, (way(one) for way in ways))) for one in group]
        if len(set(words)) == len(words):
            return words
    seen: Counter[str] = Counter()
    words = []
    for voicing in group:
        place = _place(voicing)
        seen[place] += 1
        words.append(f"{place} ({seen[place]})".strip())
    return words


def _place(voicing: Voicing) -> str:
    """Return the lowest fret in words, nothing for a shape with open strings at the nut."""
    at_the_nut = 0 in voicing.frets and min(filter(None, voicing.frets), default=0) <= _NUT
    return "" if at_the_nut else _lowest_fret(voicing)


def _lowest_fret(voicing: Voicing) -> str:
    held = [fret for fret in voicing.frets if fret]
    return f"at fret {min(held)}" if held else "open"


#: Up to this fret a shape with open strings is the one that needs no words.
_NUT = 3


def _lowest_string(voicing: Voicing) -> str:
    count = len(voicing.frets)
    played = [count - place for place, fret in enumerate(voicing.frets) if fret is not None]
    return f"from string {max(played)}" if played else ""


def _how_many_strings(voicing: Voicing) -> str:
    return f"on {sum(fret is not None for fret in voicing.frets)} strings"


_WAYS: tuple[Callable[[Voicing], str], ...] = (
    *(_place, _lowest_fret),
    *(_lowest_string, _how_many_strings),
)
