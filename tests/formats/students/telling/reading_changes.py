"""Reads the sentences of a change back, as a student would: which finger does what, and where it ends."""

from __future__ import annotations

import re
from collections.abc import Iterator

from attrs import frozen

FINGERS = {"index": "1", "middle": "2", "ring": "3", "little": "4"}
NUMBERS = dict(zip(["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"], range(1, 13), strict=True))  # fmt: skip
WHO = r"(?P<who>(?:the thumb)?(?:,| and)? ?(?:the [a-z, ]+ fingers?)?)"
PLACE = r"string (?P<string>\d+), fret (?P<fret>\d+)"
FAR = r"(?P<far>\w+) frets? toward the (?P<way>head|body)"
OVER = r"(?P<over>\w+) strings? toward the (?P<side>floor|ceiling)"
ACROSS = r"(?P<strings>strings? [\d, and]+(?:to \d+)?)"

#: What is said, and what it means.
SAID = (
    ("rest", rf"only lift (?:the barre of )?{WHO}; the rest stays where it is"),
    ("stay", rf"leave (?:the barre of )?{WHO} where (?:it is|they are)"),
    ("narrow", rf"keep {WHO} at fret (?P<fret>\d+), but (?:shorten|lift) the barre.*"),
    ("home", rf"{WHO} belongs on {PLACE}, as before"),
    ("whole", rf"keep the whole hand in its shape and slide it {FAR}"),
    ("whole", rf"keep the whole hand in its shape and move it {OVER}(?: and {FAR})?: {WHO} lands on {PLACE}"),
    ("slide", rf"slide {WHO} (?:together )?{FAR}, on {ACROSS}"),
    ("slide", rf"{WHO} slides {FAR}, on {ACROSS}"),
    ("slide", rf"slide the barre of {WHO} {FAR}, to fret (?P<fret>\d+)"),
    ("slide", rf"move {WHO} together {FAR}, on {ACROSS}"),
    ("along", rf"move {WHO} along {ACROSS} to fret (?P<fret>\d+)"),
    ("lay", rf"move the barre of {WHO} to fret (?P<fret>\d+), across {ACROSS}"),
    ("lay", rf"move {WHO} to fret (?P<fret>\d+) and lay it across {ACROSS}"),
    ("lay", rf"lay {WHO} across {ACROSS} at fret (?P<fret>\d+)"),
    ("lay", rf"lay {WHO} down flat at fret (?P<fret>\d+), across {ACROSS}"),
    ("move", rf"lift the barre; the tip of {WHO} goes to {PLACE}"),
    ("pair", rf"move {WHO} together, (?:{OVER})?(?: and )?(?:{FAR})?, to {ACROSS}, fret (?P<fret>\d+)"),
    ("each", rf"move {WHO} together, (?:{OVER})?(?: and )?(?:{FAR})?: (?P<each>.*)"),
    ("move", rf"move {WHO} (?:across )?to {PLACE}"),
    ("move", rf"{WHO} (?:goes|crosses) to {PLACE}"),
    ("put", rf"put {WHO} on {PLACE}"),
    ("put", rf"{WHO} goes on {PLACE}"),
    ("put", rf"bring {WHO} over the neck to {PLACE}"),
    ("lift", rf"take {WHO} back behind the neck"),
    ("lift", rf"lift (?:the barre of )?{WHO}(?:: only open strings are left)?"),
    ("said", r"no finger stays|nothing moves: the hand stays as it is"),
    ("first", rf"{WHO} is needed on {PLACE} first"),
    ("when", r"(?:neither of these two|none of these) is needed before .*|their strings are not plucked here"),
    ("go", r"let go of the strings on .*"),
    ("when", r"at times the .*|change early, on .*"),
    ("caution", r"(?:the barre takes strength|this is a wide reach|a barre and a wide reach): .*"),
)  # fmt: skip
_LATE = re.compile(
    r"; (?:(?:it is|they are) not needed before|(?:it has|they have) until) (?P<when>.*)$"
    r"|; (?:its string is|their strings are|none of its strings is) (?:not )?plucked here$"
)


@frozen
class Understood:
    """What one sentence says of one finger."""

    finger: str
    does: str
    string: int | None = None
    fret: int | None = None
    far: int = 0
    strings: tuple[int, ...] = ()


def read(sentences: tuple[str, ...], known: tuple[str, ...] = ()) -> list[Understood]:
    """Return what sentences say of each finger; `known` are those of the two shapes, for "the rest"."""
    return [one for text in sentences for one in _read(text, known)]


def _read(text: str, known: tuple[str, ...]) -> Iterator[Understood]:
    assert text.endswith("."), text
    said = _LATE.sub("", text[:1].lower() + text[1:-1])
    for does, pattern in SAID:
        match = re.fullmatch(pattern, said)
        if match:
            yield from _meant(does, match, known)
            return
    raise AssertionError(f"not understood: {text}")


def _meant(does: str, match: re.Match[str], known: tuple[str, ...]) -> Iterator[Understood]:
    found = match.groupdict()
    if does in ("said", "when", "caution", "first"):
        return
    if does == "go":
        yield from (Understood(one, "go") for one in known)
        return
    who = fingers(found.get("who") or "")
    far = NUMBERS[found["far"]] * (1 if found["way"] == "body" else -1) if found.get("far") else 0
    if does == "whole":
        yield from (Understood(one, "whole", far=far) for one in known)
        return
    assert who, match[0]
    if does == "rest":
        yield from (Understood(one, "lift" if one in who else "stay") for one in known)
        return
    if does == "each":
        for part in re.split(r",(?= the)", found["each"]):
            one = re.fullmatch(rf" ?{WHO} (?:lands )?on {PLACE}", part)
            assert one, part
            yield Understood(
                *fingers(one["who"]), "move", int(one["string"]), int(one["fret"]), far
            )
        return
    strings = numbers(found.get("strings") or "")
    fret = int(found["fret"]) if found.get("fret") else None
    for at, finger in enumerate(who):
        string = int(found["string"]) if found.get("string") else None
        if does == "pair":
            string = strings[at]
        kind = "move" if does == "pair" else does
        yield Understood(finger, kind, string, fret, far, strings)


def fingers(text: str) -> tuple[str, ...]:
    """Return the figures of fingers by their names."""
    thumb = ["T"] if "the thumb" in text else []
    return (
        *thumb,
        *(FINGERS[one] for one in re.findall(r"\b(?:" + "|".join(FINGERS) + r")\b", text)),
    )


def numbers(text: str) -> tuple[int, ...]:
    """Return the strings that are named, a run by its ends filled in."""
    found = [int(one) for one in re.findall(r"\d+", text)]
    if " to " in text:
        first, last = found
        return tuple(range(first, last + (1 if last > first else -1), 1 if last > first else -1))
    return tuple(found)
