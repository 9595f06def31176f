"""Why lines of the heading, the voicings, the form and the steps cannot be read: words in another order."""

from __future__ import annotations

import re

from fretloom.notation.syntax.slips.slip import Slip, instead

_USING = re.compile(r"\b(?:using\s+(?:the\s+)?pattern|pattern|with|use|uses)\s+(?=[a-z][\w-]*)")
_STATED = re.compile(
    r"\bbars\s+(\d{1,3})(?!\S)|(?<!\S)(\d{1,3})[- ]?(?:bars?|measures?|takte?|mesures?)(?!\S)"
    r"|\(\s*(\d{1,3})\s+bars?\s*\)",
    re.I,
)
_STATED_BARE = re.compile(r"^(section\s+[^\W\d_]\S*\s+)(\d{1,3})(?=\s+(?:using|in\s)|\s+\"|\s*$)")
_QUOTED_NAME = re.compile(r'^section\s+"([^\W\d_][\w-]*)"')
_QUOTED_PATTERN = re.compile(r'\busing\s+"([^\W\d_][\w-]*)"')
_COMMAS = re.compile(r"\s*,")
_TWO_WORDS = re.compile(
    r"^section\s+([^\W\d_][\w-]*)\s+(\d{1,2}(?=\s+\d+\s+bars?)|[1-3]|one|two|three|four|[A-Z])"
    r"(?=\s+\d+\s+bars?|\s+using|\s+in\s|\s+\"|\s*$)"
)
_METER = re.compile(r"(?<!\S)(?:meter\s+|time\s+)?(\d{1,2}/\d{1,2})(?!\S)")
_PLAYED = re.compile(r"^(?:section|play|the|then|repeat)\s+(?=[a-z])", re.I)
_NUMBERED = re.compile(r"^\(?\d{1,2}[.):]?\s+(?=[^\W\d_])")
_TIMES_WORD = re.compile(r"^[xX×*]?\d{0,3}[x×]?$|^(?:once|twice|thrice|times)$", re.I)
_SEVERAL = re.compile(
    r"^[^\W\d_][\w-]*(?:\s+x\d{1,2})?(?:(?:\s*[,|>→-]+\s*|\s+)[^\W\d_][\w-]*(?:\s+x\d{1,2})?)+$"
)
_SECTION_SEPARATOR = re.compile(r"\s*[,|>→]+\s*|\s+-+\s+|\s+(?!x\d)")
_EXCEPT = re.compile(r"^(?:except|only|with|and|change|:)\s+(?=(?:last|first|bars?|from)\b)")
_THE = re.compile(r"\b(?:the|in|on)\s+(?=(?:last|first|bars?)\b)")
_BACKWARDS = re.compile(r"^but\s+(using\s+\S+|tempo\s+\d+)\s+in\s+(bars?\s+[\d-]+)$")
_SPEED = re.compile(r"^but\s+(faster|slower|fast|slow|quicker)\b")
_LAST = re.compile(r"^but\s+(?:final|last)\s+bars\b|^but\s+final\s+bar\b")
_SEVERAL_BARS = re.compile(
    r"^(but\s+(?:without\s+)?)bars?\s+(\d{1,3})\s*(?:,|and|&|\+|–|/|-)\s*(\d{1,3})"
)
_ONE_BARS = re.compile(r"^(but\s+(?:without\s+)?)bars\s+(\d{1,3})(?=\s*:|\s*$)")
_NO_CHORD_NAMED = re.compile(r"^but\s+([^:]+):?\s+(?=(?:with|without|using|early|release|stop)\b)")
_SAID_AGAIN = re.compile(r"^but\s*[,:]\s*")
_PLACE = re.compile(r"^(but\s+)(\d{1,3})(?:st|nd|rd|th)?\s+bar\b")
_OPTION = re.compile(
    r"^((?!but\b)[^\W\d_][\w-]*(?:\s+x\d{1,2})?)\s+((?:but\s+)?(?:using\s+\S+|(?:tempo|at)\s+\d+.*"
    r"|without\s+bars?\s.*|bars?\s+\d.*)|but\s+.*)$"
)


def of_an_opening(text: str, blank: str) -> Slip | None:
    """Return why the opening line of a section cannot be read, if that is known."""
    if not blank.startswith("section"):
        return None
    for look in (_names, _options, _lengths):
        if (found := look(text, blank)) is not None:
            return found
    return None


def _names(text: str, blank: str) -> Slip | None:
    quoted = _QUOTED_NAME.match(text)
    if quoted is not None:
        meant, start = quoted[1].lower(), quoted.start(1) - 1
        message = "a section is named without quotes: a title in quotes can follow"
        return instead(start, quoted.end(), message, meant)
    two = _TWO_WORDS.match(blank)
    if two is not None:
        meant = (
            f"{two[1]}-{two[2]}".lower()
            if two[2].isalpha() and len(two[2]) > 1
            else f"{two[1]}-{two[2]}"
        )
        message = "the name of a section is one word"
        hint = f"write section {meant}, and {meant} in the form"
        return Slip("not-understood", two.start(1), two.end(2), message, hint)
    if "," in blank:
        return instead(
            0,
            len(text),
            "the parts of this line have no commas between them",
            _COMMAS.sub("", text),
        )
    return None


def _options(text: str, blank: str) -> Slip | None:
    found = _QUOTED_PATTERN.search(text)
    if found is not None:
        return instead(*found.span(), "a pattern is named without quotes", f"using {found[1]}")
    found = _USING.search(blank)
    if found is not None:
        name = re.match(r"[\w-]+", blank[found.end() :])
        meant = f"using {name[0] if name else ''}"
        end = found.end() + (name.end() if name else 0)
        return instead(
            found.start(), end, "the pattern of a section is named behind `using`", meant
        )
    found = _METER.search(blank)
    if found is not None and not re.search(r"\bin\s+$", blank[: found.start()]):
        return instead(*found.span(), "the meter of a section stands behind `in`", f"in {found[1]}")
    return None


def _lengths(text: str, blank: str) -> Slip | None:
    found = _STATED.search(blank)
    if found is not None:
        meant = f"{found[1] or found[2] or found[3]} bars"
        if found[0] in (meant, f"{found[2]} bar"):
            return None
        return instead(
            *found.span(), "the length of a section is a number and the word bars", meant
        )
    bare = _STATED_BARE.match(blank)
    if bare is not None:
        meant = f"{bare[2]} bars"
        return instead(
            *bare.span(2), "the length of a section is a number and the word bars", meant
        )
    return None


def of_a_form(text: str, blank: str) -> Slip | None:
    """Return why a line of the form cannot be read, if that is known."""
    for look in (_changes, _entries):
        if (found := look(text, blank)) is not None:
            return found
    return None


def _changes(text: str, blank: str) -> Slip | None:
    bare = re.match(r"^(?:bars?|from|without|last bar|first bar)\b", blank)
    if bare is not None and ":" not in blank and re.search(r"\d|last|first", blank):
        message = (
            "bars are not played by themselves in the form: a change to a playing begins with `but`"
        )
        hint = "write the section on a line, and what is other below it: but without bars 5-8; but bar 3: E"
        return Slip("not-understood", 0, len(text), message, hint)
    found = _EXCEPT.match(blank)
    if found is not None:
        return instead(
            *found.span(), "a change to a playing begins with `but`", "but ", "write but"
        )
    if not blank.startswith("but"):
        return None
    found = _THE.search(blank)
    if found is not None:
        said = f"write {text[: found.start()]}{text[found.end() :]}"
        return Slip(
            "not-understood", *found.span(), f"`{found[0].strip()}` is not written here", said
        )
    found = _BACKWARDS.match(blank)
    if found is not None:
        message = "the bars come first, then what is other in them"
        return instead(0, len(text), message, f"but {found[2]}: same {found[1]}")
    for look in (_bar_numbers, _bar_words):
        if (slip := look(text, blank)) is not None:
            return slip
    found = _PLACE.match(blank)
    if found is not None:
        return instead(
            *found.span(), "a bar is named by the word and its number", f"but bar {found[2]}"
        )
    return None


def _bar_numbers(text: str, blank: str) -> Slip | None:
    found = _SEVERAL_BARS.match(blank)
    if found is not None:
        meant = f"{found[1]}bars {found[2]}-{found[3]}"
        if found[0] != meant:
            return instead(
                0, found.end(), "several bars are named by the first and the last", meant
            )
    found = _ONE_BARS.match(blank)
    if found is not None:
        return instead(0, found.end(), "one bar is called bar", f"{found[1]}bar {found[2]}")
    return None


def _bar_words(text: str, blank: str) -> Slip | None:
    found = _SAID_AGAIN.match(blank)
    if found is not None:
        return instead(
            0,
            found.end(),
            "nothing stands between `but` and the bars",
            "but ",
            "write but, then the bars",
        )
    found = _SPEED.match(blank)
    if found is not None:
        message = f"`{found[1]}` does not say how fast"
        return Slip("not-understood", *found.span(1), message, "write the tempo: but tempo 72")
    found = _LAST.match(blank)
    if found is not None:
        return instead(
            0, found.end(), "the last bar of a playing is called last bar", "but last bar"
        )
    found = _NO_CHORD_NAMED.match(blank)
    if found is not None and "same" not in found[1]:
        message = "the bar says what is other, but not what is held"
        start = found.end()
        meant = f"but {found[1].strip()}: same {text[start:]}"
        return instead(0, len(text), message, meant)
    return None


def _entries(text: str, blank: str) -> Slip | None:
    found = _PLAYED.match(blank)
    if found is not None:
        message = f"the form names sections alone: `{found[0].strip()}` is not written here"
        return instead(0, len(text), message, text[found.end() :])
    found = _NUMBERED.match(blank)
    if found is not None:
        message = "the lines of the form have no numbers: they are played as they stand"
        return instead(0, len(text), message, text[found.end() :])
    found = _OPTION.match(blank)
    if found is not None:
        what = found[2].removeprefix("but").strip().replace("at ", "tempo ")
        if what.startswith("bar") and ":" not in what:
            what = "without bars 5-8, if these are not played"
        what = f"but {what}"
        message = "what is other in one playing stands on a line of its own below the section"
        return Slip(
            "not-understood",
            found.start(2),
            len(text),
            message,
            f"write it on the next line: {what}",
        )
    if _SEVERAL.match(blank) and not blank.startswith("but"):
        names = [one for one in _SECTION_SEPARATOR.split(blank) if one]
        if any(_TIMES_WORD.match(one) for one in names):
            return None
        message = "each section of the form stands on a line of its own"
        return Slip(
            "not-understood", 0, len(text), message, f"write {len(names)} lines: {', '.join(names)}"
        )
    return None
