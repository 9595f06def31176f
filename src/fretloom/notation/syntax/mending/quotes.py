"""Ways to mend quotation marks: printer's ones, missing ones, and brackets left open."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fretloom.notation.syntax.mending.ways import Case, Way, each, put
from fretloom.notation.syntax.slips.find import all_hidden

#: Lines that end with their one text in quotes.
_TITLED = re.compile(r"(lesson|use|step|by|rights|based on|section\s+[^\s\"]+)\s+(?=\S)")
_PRINTED = re.compile("[“”„‟«»″＂]")
_SINGLE = re.compile(r"(?<!\S)(?:''?|[‘’‚`´]+)(?=\S)|(?<=\S)(?:''?|[‘’‚`´]+)(?!\S)")
_OPTIONS = re.compile(r"\b(?:bars?|using|in\s+\d)")
_OPENERS, _CLOSERS = "([{", ")]}"
_AFTER_BEATS = re.compile(r"\||\s+x\d|\s+(?:using|with|without|early|release|stop|on)\b|\s*$")


def printed(case: Case) -> Iterator[Way]:
    """Write straight quotation marks for printer's ones and single ones."""
    bare = case.bare
    for pattern in (_PRINTED, _SINGLE):
        found = [(one.start(), one.end(), '"') for one in pattern.finditer(bare)]
        if not found:
            continue
        title = 'write " instead' if len(found) == 1 else 'write straight quotation marks: "'
        yield Way(title, tuple(found))
        if len(found) % 2 and _TITLED.match(case.statement):
            end = len(case.statement)
            yield Way(title, (*found, (end, end, '"')))


def hidden(case: Case) -> Iterator[Way]:
    """Leave out characters that cannot be seen, or write spaces for them."""
    if case.rule != "hidden-character":
        return
    places = all_hidden(case.statement)
    them = "it" if len(places) == 1 else "the invisible characters"
    yield Way(f"delete {them}", tuple((place, place + 1, "") for place in places))


def spaces(case: Case) -> Iterator[Way]:
    """Write a space for an invisible character between two words."""
    for change in hidden(case):
        pieces = tuple((start, end, " ") for start, end, _ in change.pieces)
        yield Way("write a space instead", pieces)


def missing(case: Case) -> Iterator[Way]:
    """Add the quotation mark, or both, of a text that ends its line."""
    head = _TITLED.match(case.statement)
    if head is None or _PRINTED.search(case.bare):
        return
    start, end = head.end(), len(case.statement)
    rest = case.statement[start:]
    if head[1].startswith("section") and _OPTIONS.search(rest):
        return
    marks = rest.count('"')
    if marks == 0 and rest[0].isalnum() and not head[1].startswith("section"):
        yield Way('put " around the text', ((start, start, '"'), (end, end, '"')))
    elif marks == 1 and rest.startswith('"'):
        yield put(case, end, end, '"', 'add a " at the end of the text')
    elif marks == 1 and rest.endswith('"') and rest[0].isalnum():
        yield put(case, start, start, '"', 'add a " where the text begins')


def brackets(case: Case) -> Iterator[Way]:
    """Close a bracket where there is one place for it, or with the sign that goes with it."""
    if case.rule != "unclosed-bracket" or case.word not in _OPENERS:
        return
    closer = _CLOSERS[_OPENERS.index(case.word)]
    rest = case.bare[case.end :]
    wrong = re.search(r"[)\]}]", rest)
    if wrong is not None and not re.search(r"[(\[{|]", rest[: wrong.start()]):
        at = case.end + wrong.start()
        yield put(case, at, at + 1, closer, f"write {closer} instead of {wrong[0]}")
    elif case.word == "{":
        found = _AFTER_BEATS.search(rest)
        at = case.end + (found.start() if found else len(rest))
        at = len(case.bare[:at].rstrip())
        yield put(case, at, at, " }", "add a } at the end of the beats")
    elif (two := re.match(r"\s*[^\s,|()\[\]{}+]+\s+[^\s,|()\[\]{}]+(?=\s*(?:[,|}]|$))", rest)) and (
        re.search(r"(?:^|[,|{]|\s:|\s{2})\s*$", case.bare[: case.start])
    ):
        at = case.end + two.end()
        yield put(case, at, at, closer, f"add a {closer} after {two[0].split()[-1]}")


def chords(case: Case) -> Iterator[Way]:
    """Close a bracket in the name of a chord."""
    opened = re.match(r"\([^\s()|]*", case.statement[case.at :])
    if opened is not None and case.statement[case.at - 1 : case.at].strip():
        at = case.at + opened.end()
        name = f"{re.split(r'[ |]', case.statement[:at])[-1]})"
        if case.block == "voicings" or name in case.elsewhere:
            yield put(case, at, at, ")", "add a ) at the end of the name")


_DASHES = re.compile("[–—−‐‑‒―－]")
_ALIKE = str.maketrans(
    {
        **dict(zip("－＃＋，：；｜（）［］｛｝＠／％．", "-#+,:;|()[]{}@/%.", strict=True)),
        **dict(zip("♯♭×✕¦│∣，", "#bxx|||,", strict=True)),
        **dict(zip("АВЕСМНОРТХаеорсхіρο", "ABECMHOPTXaeopcxipo", strict=True)),
        **dict(zip("０１２３４５６７８９", "0123456789", strict=True)),
    }
)
_ODD = re.compile("[^\x00-\x7f]")


def look_alikes(case: Case) -> Iterator[Way]:
    """Write the signs of the notation for others that look like them."""
    yield from each(case, _DASHES, lambda _: "-", "write - for the dash")
    yield from each(
        case,
        _ODD,
        lambda match: match[0].translate(_ALIKE),
        "write the plain sign for the one that only looks like it",
    )
