"""Why a pattern cannot be read: fingers, strings and separators as others write them."""

from __future__ import annotations

import re

from fretloom.notation.syntax.parsing.odd_plucks import NAME_A_FINGER, odd_pluck
from fretloom.notation.syntax.parsing.plucks import plain_pluck, pluck_maker, split_words
from fretloom.notation.syntax.slips.slip import Slip
from fretloom.text import listed

#: Letters and words for picking fingers elsewhere; common practice, no source.
FINGERS = {
    "t": "p", "th": "p", "thumb": "p", "d": "p", "daumen": "p", "pouce": "p", "bass": "p",
    "index": "i", "z": "i", "zeigefinger": "i",
    "middle": "m", "mittelfinger": "m", "majeur": "m", "mid": "m",
    "r": "a", "ring": "a", "ringfinger": "a", "annulaire": "a",
    "e": "c", "ch": "c", "little": "c", "pinky": "c", "pinkie": "c",
}  # fmt: skip
_CALLED = {
    "p": "the thumb", "i": "the index finger", "m": "the middle finger", "a": "the ring finger",
    "c": "the little finger",
}  # fmt: skip
_HEAD = re.compile(r"^\S+\s*(?:\"[^\"]*\"\s*)?(?:in\s+\S+\s*)?:?\s+(?=\S)")
_QUOTED = re.compile(r'"([a-z][\w-]*)"(?=\s)')
_WORD = re.compile(r"[^\s,+()\[\]{}|:;]+")
_LETTERS = re.compile(r"([A-Za-z]+)(\d{0,2}(?:@\d+)?[!>*]*)")
_NUMBERED = re.compile(r"(?<![^\s,|])(\d)(?:&|e|\+)?[.:]?\s+(?=[pimac(\[-])")
_SWAPPED = re.compile(r"(?<![^\s,+|(\[])([1-9])([pimac])(?![^\s,+|)\]])")
_STRING = re.compile(
    r"(?<![^\s,+|(\[])([pimac])(?:\(([1-9]\d?)\)|[-/:.=]([1-9]\d?))(?![^\s,+|)\]])"
)
_SEPARATOR = re.compile(r"\s*;\s*|\s+[/.·•]\s+|\s*\|\|?\s*")
_WHOLE_ROUND = re.compile(r"^[\[({]\s*([^\[\](){}]*,[^\[\](){}]*?)\s*[\])}]$")
_BESIDE = re.compile(r"(?<![^\s,|+])([pimac]\d?)\s*(?:&|and|und|et|/)\s*([pimac]\d?)(?![^\s,|+])")
_ACCENT = re.compile(r"(?<=[pimac\d])[\^'´`](?=[\s,+|)\]]|$)")
_BEFORE = re.compile(r"(?<![^\s,|+])([!>*])([pimac]\d?(?:@\d+)?)(?![^\s,|+])")
_REST = re.compile(r"(?<![^\s,|])(?:rest|_+|\.+|--+|~|\(-\)|–|—|0|pause)(?![^\s,|])")
_JOINED = re.compile(r"(?<![^\s,|+])[pimac]{2,5}(?![^\s,|+])")
_NAMED = re.compile(r"^(?P<a>\S+)\s+(?P<b>=|(?:[a-z]{3,}[\w-]*|one|two)(?=\s))\s*(?=[pimac(\[])")
NAMELESS = re.compile(r"[pimac]\d?\s*(?:[,+]|\s[pimac]\d?\s*,)")


def of_a_pattern(text: str, blank: str) -> Slip | None:
    """Return why a line of the patterns block cannot be read, if that is known."""
    if NAMELESS.match(blank):
        message = "this pattern has no name"
        hint = f"write a name before the beats: plain {text[:40]}"
        return Slip("not-understood", 0, 1, message, hint)
    two = _NAMED.match(blank)
    if two is not None and two["b"] not in FINGERS:
        return _two_names(two)
    if blank != text and (quoted := _QUOTED.match(text)) is not None:
        message = "a pattern is named without quotes: a title in quotes can follow"
        return Slip(
            "not-understood", 0, quoted.end(), message, f"write {quoted[1]}", meant=quoted[1]
        )
    head = _HEAD.match(blank)
    return of_beats(blank, head.end(), len(blank)) if head else None


def _two_names(two: re.Match[str]) -> Slip:
    first, second = two["a"], two["b"]
    if second == "=" or first in ("pattern", "rhythm"):
        gone = second if second == "=" else first
        start, end = two.span("b" if second == "=" else "a")
        hint = f"leave {gone} out"
        return Slip(
            "not-understood", start, end, f"a pattern begins with its name, without {gone}", hint
        )
    meant = f"{first}-{second}"
    message = "the name of a pattern is one word"
    return Slip("not-understood", 0, two.end("b"), message, f"write {meant} wherever it is named")


def of_beats(blank: str, start: int, stop: int) -> Slip | None:
    """Return why the beats between two offsets cannot be read, if that is known."""
    start += len(blank[start:stop]) - len(blank[start:stop].lstrip())
    beats = blank[start:stop].rstrip()
    for look in _LOOKS:
        found = look(beats)
        if found is not None:
            message, meant, hint = found
            end = start + len(beats)
            first = next((one for one in _WORD.finditer(beats) if not _right(one[0])), None)
            if not meant and first is not None:
                start += first.start()
            return Slip("bad-pluck", start, end, message, hint or f"write {meant}", meant=meant)
    return None


#: What is wrong, what is meant if that is sure, and what to do if not just to write that.
_Found = tuple[str, str, str] | None


def _round(beats: str) -> _Found:
    found = _WHOLE_ROUND.match(beats)
    return (
        ("the beats of a pattern stand without brackets around them", found[1], "")
        if found
        else None
    )


def _separators(beats: str) -> _Found:
    if "," in beats or not _SEPARATOR.search(beats):
        return None
    pieces = _SEPARATOR.split(beats)
    if not all(_plain(one) for one in pieces if one):
        return None
    return ("beats are separated by commas", " , ".join(one.strip() for one in pieces if one), "")


def _semicolons(beats: str) -> _Found:
    if ";" not in beats:
        return None
    meant = re.sub(r"\s*;", " ,", beats)
    return ("beats are separated by commas", meant, "") if _plain(meant) else None


def _counts(beats: str) -> _Found:
    if len(_NUMBERED.findall(beats)) < 2:
        return None
    return (
        "the beats of a pattern are counted by their commas, not by numbers",
        _NUMBERED.sub("", beats),
        "",
    )


def _strings_first(beats: str) -> _Found:
    if not _SWAPPED.search(beats):
        return None
    return ("a finger stands before its string", _SWAPPED.sub(r"\2\1", beats), "")


def _strings(beats: str) -> _Found:
    if not _STRING.search(beats):
        return None
    meant = _STRING.sub(lambda one: f"{one[1]}{one[2] or one[3]}", beats)
    return ("the string stands right behind its finger", meant, "")


def _numbers(beats: str) -> _Found:
    words = _WORD.findall(beats)
    digits = [word for word in words if word.isdigit()]
    if len(digits) < 2:
        return None
    message = f"{listed(dict.fromkeys(map(_quoted, digits)))} name no finger"
    hint = f"name the finger before the string: p{digits[0]} is the thumb on string {digits[0]}"
    return message, "", hint


def _quoted(word: str) -> str:
    return f"`{word}`"


def _accents(beats: str) -> _Found:
    if _ACCENT.search(beats):
        return "an accent is written ! or > behind its pluck", _ACCENT.sub("!", beats), ""
    if _BEFORE.search(beats):
        return "a mark stands behind its pluck", _BEFORE.sub(r"\2\1", beats), ""
    return None


def _at_once(beats: str) -> _Found:
    if not _BESIDE.search(beats):
        return None
    return "fingers that pluck at once have a + between them", _BESIDE.sub(r"\1+\2", beats), ""


def _rests(beats: str) -> _Found:
    if not _REST.search(beats):
        return None
    return "a place where nothing is plucked is written -", _REST.sub("-", beats), ""


def _strums(beats: str) -> _Found:
    words = {word.lower() for word in _WORD.findall(beats)}
    strums = words & {"down", "up", "u", "↓", "↑", "dn", "du"}
    if not strums or words - strums - {"d", "-"}:
        return None
    message = "strokes down and up are written by the strings that a finger brushes"
    return (
        message,
        "",
        "write p6-4 for a stroke down over strings 6 to 4, i1-3 for one up over strings 1 to 3",
    )


def _letters(beats: str) -> _Found:
    odd: dict[str, str] = {}
    meant, grown = beats, 0
    for word in _WORD.finditer(beats):
        if _right(word[0]):
            continue
        parts = _LETTERS.fullmatch(word[0])
        finger = FINGERS.get(parts[1].lower(), "") if parts else ""
        if parts is None or not finger:
            return None
        odd[parts[1]] = finger
        new = f"{finger}{parts[2]}"
        meant = f"{meant[: word.start() + grown]}{new}{meant[word.end() + grown :]}"
        grown += len(new) - len(word[0])
    if not odd:
        return None
    words, letters = listed(map(_quoted, odd)), dict.fromkeys(odd.values())
    called = listed([f"{_CALLED[finger]} is {finger}" for finger in letters])
    return f"{words} {'is not a pluck' if len(odd) == 1 else 'are not plucks'}: {called}", meant, ""


def _several_joined(beats: str) -> _Found:
    words = list(dict.fromkeys(_JOINED.findall(beats)))
    if len(words) < 2 or not all(
        _right(one) or _JOINED.fullmatch(one) for one in _WORD.findall(beats)
    ):
        return None
    word = words[0]
    apart, at_once = " ".join(word), "+".join(word)
    message = f"{listed(map(_quoted, words))} are not plucks: fingers are written apart"
    return message, "", f"write {apart} one after the other, {at_once} at once, or ({apart}) rolled"


def _several_odd(beats: str) -> _Found:
    odd = [one for one in _WORD.findall(beats) if not _right(one)]
    different = list(dict.fromkeys(odd))
    if len(odd) < 2:
        return None
    of_technique = [bool(words and plain_pluck(plain)) for plain, words in map(split_words, odd)]
    if all(of_technique):
        return None  # Each word of technique has a finding of its own.
    if of_technique[0]:  # What follows a word of technique may belong to it.
        message, hint = odd_pluck(odd[0])
        return message, "", hint
    message = f"{listed(map(_quoted, different[:6]))} {'is not a pluck' if len(different) == 1 else 'are not plucks'}"
    return message, "", NAME_A_FINGER


def _right(word: str) -> bool:
    """Whether a word can stand among beats as it is."""
    return word in ("-", "slow") or pluck_maker(word) is not None


def _plain(text: str) -> bool:
    return all(_right(word) for word in _WORD.findall(text))


_LOOKS = (
    _round,
    _separators,
    _semicolons,
    _counts,
    _strings_first,
    _strings,
    _numbers,
    _accents,
    _at_once,
    _strums,
    _letters,
    _rests,
    _several_joined,
    _several_odd,
)
