"""The legend: each sign that a page uses, and only those, in words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from fretloom.formats.tab.layout import Picture
from fretloom.formats.tab.systems import Drawn
from fretloom.formats.tab.text import hang
from fretloom.trade.guitar.voicing import Voicing

_FINGERS = {
    "p": "thumb",
    "i": "index finger",
    "m": "middle finger",
    "a": "ring finger",
    "c": "little finger",
}
#: Signs on the strings: a pattern for the line, how the sign is shown, and what it says.
_ON_STRINGS = (
    (r"\dh\d", "h", "hammer-on: a finger comes down, the string is not plucked again"),
    (r"\dp\d", "p", "pull-off: the finger plucks the string as it leaves"),
    (r"/\d", "/", "slide up to the fret"),
    (r"\\\d", "\\", "slide down to the fret"),
    (r"<\d", "<12>", "natural harmonic: touch the string over the fret, do not press"),
    (r"x", "x", "on a line: dead note, the string is damped"),
    (r"\(\d", "(2)", "still ringing from the bar before, not plucked again"),
    (r"\{", "{", "rolled: the strings one quickly after the other"),
    (r"%", "%", "the bar before once more"),
)
_NUMBERS = ("0 1 2", "frets, 0 the open string; the top line is string 1")
_FRETTING = {
    "1": "index finger",
    "2": "middle finger",
    "3": "ring finger",
    "4": "little finger",
    "T": "thumb over the neck",
}
_ON_COUNTS = (
    (("&",), "&", "half way to the next number: say 'and'"),
    (("e", "a"), "e & a", "the quarters between two numbers: say '1 e and a'"),
    (("trip", "let"), "trip let", "the thirds between two numbers: say '1 trip let'"),
    (
        (".",),
        ".",
        "a further equal share: all signs from one number to the next are equally far apart",
    ),
)
_ON_CHORDS = (
    (r"\(open\)", "(open)", "from here on the fretting hand has let go: open strings"),
    (r"\(stop\)", "(stop)", "all strings are damped"),
    (r"^rest$", "rest", "silence: all strings are damped"),
)


def legend(drawn: Iterable[Drawn], voicings: Sequence[Voicing], width: int) -> list[str]:
    """Return the signs that the bars and the table of voicings use, each with its meaning."""
    bars = list({id(bar.picture): bar for bar in drawn}.values())
    pictures = [bar.picture for bar in bars]
    entries = [*_on_strings(pictures, bars), *_on_counts(pictures), *_on_chords(pictures)]
    entries += [*_fingers(pictures), *_fretting(voicings)]
    if pictures:
        entries.insert(0, _NUMBERS)
    if not entries:
        return []
    indent = max(len(sign) for sign, _ in entries) + 4
    lines = ["Signs", "-----"]
    for sign, meaning in entries:
        lines += hang(f"  {sign}", meaning, width, indent)
    return lines


_Entries = list[tuple[str, str]]


def _on_strings(pictures: Sequence[Picture], bars: Sequence[Drawn]) -> _Entries:
    lines = "\n".join(line.replace("-", "") for shown in pictures for line in shown.strings)
    found = [(sign, words) for look, sign, words in _ON_STRINGS if re.search(look, lines)]
    if any(bar.opens or bar.closes for bar in bars):
        found.append(("|: :|", "repeat what stands between, twice in all if no number says more"))
    return found


def _on_counts(pictures: Sequence[Picture]) -> _Entries:
    counts = {word for shown in pictures for _, word in shown.counts}
    found = [(sign, words) for signs, sign, words in _ON_COUNTS if counts & set(signs)]
    # With quarters in the count the `&` is explained along with them.
    return [one for one in found if one[0] != "&" or not counts & {"e", "a"}]


def _on_chords(pictures: Sequence[Picture]) -> _Entries:
    chords = "\n".join(word for shown in pictures for _, word in shown.chords)
    return [(s, words) for look, s, words in _ON_CHORDS if re.search(look, chords, re.MULTILINE)]


def _fretting(voicings: Sequence[Voicing]) -> _Entries:
    held = {finger for voicing in voicings for finger in voicing.fingers}
    used = [finger for finger in _FRETTING if finger in held]
    named = ", ".join(f"{finger} {_FRETTING[finger]}" for finger in used)
    found = [(" ".join(used), f"fretting fingers: {named}")] if used else []
    if any(None in voicing.frets for voicing in voicings):
        found.append(("x", "in the table of voicings: the string is not played"))
    return found


def _fingers(pictures: Sequence[Picture]) -> _Entries:
    words = [
        word for shown in pictures for line in (shown.thumbs, *shown.fingers) for _, word in line
    ]
    together = " ".join(words)
    used = [finger for finger in _FINGERS if finger in together]
    named = ", ".join(f"{finger} {_FINGERS[finger]}" for finger in used)
    found = [(" ".join(used), f"picking fingers: {named}")] if used else []
    if "{" in together:
        found.append(("{...}", "the fingers of a roll in the order in which they play"))
    brush = re.search(r"[pimac]\d+-\d+", together)
    if brush:
        found.append(
            (brush[0], "a brush: one finger across the strings, from the first to the last")
        )
    if ">" in together:
        found.append((">", "after a finger: accent, play it louder"))
    return found
